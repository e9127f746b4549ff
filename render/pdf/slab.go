package pdf

import "fmt"

// penalty says how bad a page end after a slab would be. A page ends at the last place with the least penalty it has.
type penalty uint8

const (
	free   penalty = iota
	uneasy         // a table's first or last row alone, a short table parted
	ugly           // one line of a paragraph alone, a list without the sentence that introduces it
	wrong          // a heading, a table's head or a caution without what follows
	worst  = wrong
)

// fuller is the share of a page that must be filled before it may end at a free place although an uneasy one comes later.
const fuller = 0.55

// slab is what is never parted by a page end. Its items count from the left edge of the text area and its own top.
type slab struct {
	items        []item
	height       float64
	above, below float64 // space wanted; of two neighbours the greater counts, and at the top of a page none
	after        penalty
	name         string // kind and place, for error messages

	head  *tableHead                           // repeated if a page begins with this slab
	opens *chapter                             // this slab begins a chapter, and a page
	cut   func(room float64) (top, rest *slab) // parts what is taller than a page, the top at least one line; nil: never parted
	lone  bool                                 // a paragraph of one line
}

// tableHead is the head row of a table, as it is repeated.
type tableHead struct {
	items  []item
	height float64
}

// chapter is what running heads and tabs say.
type chapter struct {
	number string
	title  string
	index  int // among the numbered chapters, from 0
	cover  bool
}

// gap is the space between two slabs.
func gap(a, b *slab) float64 { return max(a.below, b.above) }

// pile puts slabs on top of each other as one group of items, for panels that are never parted.
func pile(slabs []*slab) (items []item, height float64) {
	for i, s := range slabs {
		if i > 0 {
			height += gap(slabs[i-1], s)
		}
		items = append(items, shift(s.items, 0, height)...)
		height += s.height
	}
	return items, height
}

// placed is the content of one page before running heads: which slabs, and at what height.
type placed struct {
	head    *tableHead // repeated at the top; may be nil
	slabs   []*slab
	tops    []float64
	chapter *chapter
}

// paginate shares slabs out to pages of a room. A slab taller than a page is parted if it can be, else it is an error.
func paginate(slabs []*slab, room float64) ([]placed, error) {
	var pages []placed
	var current *chapter
	for len(slabs) > 0 {
		first := slabs[0]
		if first.opens != nil {
			current = first.opens
		}
		p := placed{head: first.head, chapter: current}
		y := 0.0
		if p.head != nil {
			y = p.head.height
		}
		if y+first.height > room+slack {
			var top, rest *slab
			if first.cut != nil {
				top, rest = first.cut(room - y)
			}
			if top == nil {
				return nil, fmt.Errorf("%s is %.0f points tall, but a page holds %.0f", first.name, first.height, room-y)
			}
			p.slabs, p.tops = []*slab{top}, []float64{y}
			pages = append(pages, p)
			slabs = append([]*slab{rest}, slabs[1:]...)
			continue
		}
		n := p.fill(slabs, y, room)
		p.slabs, p.tops = slabs[:n], p.tops[:n]
		pages = append(pages, p)
		slabs = slabs[n:]
	}
	return pages, nil
}

// fill finds how many slabs go on a page, at least one, and notes their tops.
func (p *placed) fill(slabs []*slab, y, room float64) int {
	var last [worst + 1]int // number of slabs before the last page end of each penalty
	var full [worst + 1]float64
	for i, s := range slabs {
		top := y
		if i > 0 {
			if s.opens != nil {
				return i
			}
			top += gap(slabs[i-1], s)
		}
		if i > 0 && top+s.height > room+slack {
			return choose(last, full, room)
		}
		p.tops = append(p.tops, top)
		y = top + s.height
		last[s.after], full[s.after] = i+1, y
	}
	return len(slabs)
}

// choose takes the last page end with the least penalty; an uneasy one, if a free one would leave the page half empty.
func choose(last [worst + 1]int, full [worst + 1]float64, room float64) int {
	if last[uneasy] > last[free] && full[free] < fuller*room {
		return last[uneasy]
	}
	for _, n := range last {
		if n > 0 {
			return n
		}
	}
	return 1
}
