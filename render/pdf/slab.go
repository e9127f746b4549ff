package pdf

import (
	"fmt"
	"slices"
)

// penalty says how bad a page end after a slab would be. A page ends at the last place with the least penalty it has.
type penalty uint8

const (
	free   penalty = iota
	slight         // one item of a list alone, the last line of a section alone
	uneasy         // a table's first or last row alone, a short table parted
	ugly           // one line of a paragraph alone, a list without the sentence that introduces it
	wrong          // a heading, a table's head or a caution without what follows
	worst  = wrong
)

// fuller is the share of a page that must be filled before it may end there although a later place is only slight or uneasy.
var fuller = [...]float64{slight: 0.92, uneasy: 0.55}

// slab is what is never parted by a page end. Its items count from the left edge of the text area and its own top.
type slab struct {
	items        []item
	height       float64
	above, below float64 // space wanted; of two neighbours the greater counts, and at the top of a page none
	after        penalty
	name         string // kind and place, for error messages

	head  *tableHead                           // repeated if a page begins with this slab
	fresh bool                                 // it begins a page
	opens *chapter                             // this slab begins a chapter
	cut   func(room float64) (top, rest *slab) // parts what is taller than a page, the top at least one line; nil: never parted
	lone  bool                                 // a paragraph of one line
	float bool                                 // a picture: text that follows may go before it
	bound bool                                 // no picture goes behind it: a heading, a step

	section bool // the heading of a section

	smaller *slab // items and height of a picture set smaller, for where it does not fit; nil: it does not give way
}

// put sets an item before the others.
func (s *slab) put(it item) {
	s.items = append([]item{it}, s.items...)
	if s.smaller != nil {
		s.smaller.put(it)
	}
}

// shrunk is the picture set smaller.
func (s *slab) shrunk() *slab {
	c := *s
	c.items, c.height, c.smaller = s.smaller.items, s.smaller.height, nil
	return &c
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
	alone  bool // it shares no page with another chapter
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
	head     *tableHead // repeated at the top; may be nil
	slabs    []*slab
	tops     []float64
	full     float64    // where the last slab ends
	chapters []*chapter // the one the page begins in, and those that begin further down
}

// opening tells whether the page begins with a chapter.
func (p placed) opening() bool { return p.slabs[0].opens != nil }

// runOn is the share of a page up to which a chapter may fill it so that the next chapter begins on it.
const runOn = 0.7

// worthIt is the share of such a page that the two chapters must fill, or the later one looks stranded on it.
const worthIt = 0.75

// leastBegun is the share of such a page that the later one must fill.
const leastBegun = 0.2

// A chapter whose last page would hold next to nothing is set a little tighter, if that saves the page.
const (
	nearlyEmpty = 0.3  // share of the page
	longer      = 12.0 // the page, in points; the foot stands clear even so
)

// tighter are the ways to do it, the one that shows least first.
var tighter = []press{{loose: 0.85}, {loose: 0.7}, {loose: 0.7, small: true}}

// paginate shares slabs out to pages of a room, chapter by chapter. A chapter begins a page, unless that before it left half of one empty.
// A slab taller than a page is parted if it can be, else it is an error.
func paginate(slabs []*slab, room float64) ([]placed, error) {
	var pages []placed
	for len(slabs) > 0 {
		n := 1
		for n < len(slabs) && slabs[n].opens == nil {
			n++
		}
		if joined, part := runsOn(pages, slabs[:n], room); joined {
			pages, slabs = append(pages, part...), slabs[n:]
			continue
		}
		part, err := thrifty(room, press.share, slabs[:n])
		if err != nil {
			return nil, err
		}
		named(part, slabs[0].opens)
		pages = append(pages, part...)
		slabs = slabs[n:]
	}
	return pages, nil
}

// named notes the chapter that pages lie in.
func named(pages []placed, c *chapter) {
	for i := range pages {
		if c != nil {
			pages[i].chapters = []*chapter{c}
		}
	}
}

// thrifty shares slabs out to pages and tries tighter ways, if the last page would hold next to nothing.
func thrifty(room float64, share func(press, []*slab) ([]placed, error), slabs []*slab) ([]placed, error) {
	part, err := share(press{room: room, loose: 1}, slabs)
	if last := len(part) - 1; err == nil && last > 0 && part[last].full < nearlyEmpty*room {
		for _, ps := range tighter {
			ps.room = room + longer
			if again, err := share(ps, slabs); err == nil && len(again) <= last {
				return again, nil
			}
		}
		return whole(part, room), nil
	}
	return part, err
}

// whole lets the last section of a chapter begin on its last page rather than leave there a few lines of it, if that fits and the page
// before stays more than half full.
func whole(part []placed, room float64) []placed {
	last := len(part) - 1
	before := part[last-1]
	for k := len(before.slabs) - 1; k > 0 && before.tops[k] > room/2; k-- {
		if !before.slabs[k].section {
			continue
		}
		slabs := append(slices.Clone(before.slabs[k:]), part[last].slabs...)
		again, err := press{room: room, loose: 1}.share(slabs)
		if err != nil || len(again) > 1 {
			break
		}
		part[last-1].slabs, part[last-1].tops = before.slabs[:k], before.tops[:k]
		part[last-1].full = before.tops[k-1] + before.slabs[k-1].height
		part[last] = again[0]
		break
	}
	return part
}

// runsOn puts the beginning of a chapter below the end of that before it and returns the chapter's further pages. It does nothing if
// the last page is fuller than [runOn], if one of the two wants to be alone, or if no good page end comes late enough.
func runsOn(pages []placed, slabs []*slab, room float64) (joined bool, rest []placed) {
	if len(pages) == 0 || slabs[0].opens == nil || slabs[0].opens.alone {
		return false, nil
	}
	last := &pages[len(pages)-1]
	top := last.full + gap(last.slabs[len(last.slabs)-1], slabs[0])
	if before := last.chapters; last.full > runOn*room || len(before) == 0 || before[len(before)-1].alone || top+slabs[0].height > room {
		return false, nil
	}
	part, err := thrifty(room, func(ps press, slabs []*slab) ([]placed, error) { return ps.below(top, slabs) }, slabs)
	if err != nil || len(part) == 0 {
		return false, nil
	}
	begun := part[0]
	last.slabs, last.tops = append(last.slabs, begun.slabs...), append(last.tops, begun.tops...)
	last.full = begun.full
	last.chapters = append(last.chapters, slabs[0].opens)
	named(part[1:], slabs[0].opens)
	return true, part[1:]
}

// below puts the slabs of a chapter on a page from a height on and on further pages; no pages, if the first would not become it.
func (ps press) below(top float64, slabs []*slab) ([]placed, error) {
	begun := placed{full: top}
	slabs = ps.ready(slabs)
	n := ps.fill(&begun, slabs)
	begun.slabs, begun.tops = slabs[:n], begun.tops[:n]
	begun.full = begun.tops[n-1] + slabs[n-1].height
	if n < len(slabs) && (slabs[n-1].after >= ugly || begun.full < worthIt*ps.room || begun.full-top < leastBegun*ps.room) {
		return nil, nil
	}
	rest, err := ps.share(slabs[n:])
	return append([]placed{begun}, rest...), err
}

// press is how tightly pages are filled.
type press struct {
	room  float64 // height of the text area
	loose float64 // share of the space between blocks that is given
	small bool    // all pictures that can give way do
}

// ready is a copy of slabs to fill pages with.
func (ps press) ready(slabs []*slab) []*slab {
	slabs = slices.Clone(slabs)
	for i, s := range slabs {
		if ps.small && s.smaller != nil {
			slabs[i] = s.shrunk()
		}
	}
	return slabs
}

// share puts the slabs of one chapter on pages.
func (ps press) share(slabs []*slab) ([]placed, error) {
	slabs = ps.ready(slabs)
	var pages []placed
	for len(slabs) > 0 {
		first := slabs[0]
		p := placed{head: first.head}
		if p.head != nil {
			p.full = p.head.height
		}
		if p.full+first.height > ps.room+slack {
			var top, rest *slab
			if first.cut != nil {
				top, rest = first.cut(ps.room - p.full)
			}
			if top == nil {
				return nil, fmt.Errorf("%s is %.0f points tall, but a page holds %.0f", first.name, first.height, ps.room-p.full)
			}
			p.slabs, p.tops, p.full = []*slab{top}, []float64{p.full}, p.full+top.height
			pages = append(pages, p)
			slabs = append([]*slab{rest}, slabs[1:]...)
			continue
		}
		top := p.full
		n := ps.fill(&p, slabs)
		if again := floated(slabs, n, ps.room-p.tops[n-1]-slabs[n-1].height); again != nil {
			p.tops, p.full, slabs = nil, top, again
			n = ps.fill(&p, slabs)
		}
		p.slabs, p.tops = slabs[:n], p.tops[:n]
		p.full = p.tops[n-1] + slabs[n-1].height
		pages = append(pages, p)
		slabs = slabs[n:]
	}
	return pages, nil
}

// leastFloat is the room, in points, for which a picture that does not fit is put behind text that does.
const leastFloat = 80

// floated lets the picture with which the next page would begin go behind text of its section that fits into the room left on this one.
// The picture then stands at the top of the next page, still right after its mention. It gives the slabs in their new
// order; nil to leave them. Steps are never set before the picture they go by.
func floated(slabs []*slab, n int, room float64) []*slab {
	if n >= len(slabs) || !slabs[n].float || slabs[n-1].after != free || room < leastFloat {
		return nil
	}
	k := n + 1
	before := slabs[n-1]
	for ; k < len(slabs) && !slabs[k].bound && !slabs[k].float && slabs[k].opens == nil; k++ {
		room -= gap(before, slabs[k]) + slabs[k].height
		if room < 0 {
			break
		}
		before = slabs[k]
	}
	// Not in the middle of what stays together, nor of a table, whose head would be missed below the picture.
	for k > n+1 && (slabs[k-1].after != free || k < len(slabs) && slabs[k].head != nil) {
		k--
	}
	if k == n+1 {
		return nil
	}
	out := append([]*slab(nil), slabs[:n]...)
	out = append(append(out, slabs[n+1:k]...), slabs[n])
	return append(out, slabs[k:]...)
}

// fill finds how many slabs go on a page, at least one, and notes their tops. A picture gives way, among the slabs too, if that
// brings it onto the page.
func (ps press) fill(p *placed, slabs []*slab) (n int) {
	var last [worst + 1]int // number of slabs before the last page end of each penalty
	var full [worst + 1]float64
	whole := map[int]*slab{}
	defer func() {
		for i, s := range whole {
			if i >= n {
				slabs[i] = s
			}
		}
	}()
	y := p.full
	for i, s := range slabs {
		top := y
		if i > 0 && s.fresh {
			return i
		}
		if i > 0 {
			top += ps.loose * gap(slabs[i-1], s)
			if top+s.height > ps.room+slack && s.smaller != nil {
				whole[i], slabs[i] = s, s.shrunk()
				s = slabs[i]
			}
			if top+s.height > ps.room+slack {
				return choose(last, full, ps.room)
			}
		}
		p.tops = append(p.tops, top)
		y = top + s.height
		last[s.after], full[s.after] = i+1, y
	}
	return len(slabs)
}

// choose takes the last page end with the least penalty, or a later one that is only slight or uneasy, if the page were too empty.
func choose(last [worst + 1]int, full [worst + 1]float64, room float64) int {
	best := free
	for p := slight; p <= uneasy; p++ {
		if last[p] > last[best] && full[best] < fuller[p]*room {
			best = p
		}
	}
	if last[best] > 0 {
		return last[best]
	}
	for _, n := range last {
		if n > 0 {
			return n
		}
	}
	return 1
}
