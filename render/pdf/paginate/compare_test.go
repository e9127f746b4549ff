package paginate

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// tried finds the least cost by trying every way to set blocks on pages, without any of what the search remembers or leaves out.
type tried struct {
	blocks []Block
	grid   Grid
}

const endless = Penalty(math.MaxInt64 / 4)

// stack returns the bottom of a column of blocks; false if the page does not hold it.
func (t tried) stack(first, end int, head Length) (Length, bool) {
	y := head
	for i := first; i < end; i++ {
		b := t.blocks[i]
		switch {
		case i > first:
			y += max(t.blocks[i-1].After, b.Before)
			if b.Snap {
				y = t.grid.snapped(y)
			}
		case b.Repeat > 0 && b.Repeat+b.Height <= t.grid.Height:
			y += b.Repeat
		}
		if y += b.Height; y > t.grid.Height {
			return 0, false
		}
	}
	return y, true
}

// page begins a page with a block.
func (t tried) page(i, page int) Penalty {
	return CostOfPage + t.inside(i, page, 0)
}

// turn ends a page before a block, at a cost for the space below if no new page is asked for.
func (t tried) turn(i, page int, space Penalty) Penalty {
	switch {
	case i == len(t.blocks):
		return 0
	case t.blocks[i].NewPage:
		return t.page(i, page+1)
	case page%2 == 0:
		return space + t.blocks[i].Break.Opening + t.page(i, page+1)
	}
	return space + t.blocks[i].Break.Leaf + t.page(i, page+1)
}

// inside goes on below what ends at a height; 0 at the head of a page.
func (t tried) inside(i, page int, top Length) Penalty {
	if i == len(t.blocks) {
		return 0
	}
	b, columns := t.blocks[i], Penalty(t.grid.Columns)
	if top > 0 && b.NewPage {
		return t.page(i, page+1)
	}
	best := endless
	if top > 0 {
		best = t.turn(i, page, white(t.grid.Height-top)*columns)
	}
	if b.Span {
		y := Length(0)
		switch {
		case top > 0:
			if y = top + max(t.blocks[i-1].After, b.Before); b.Snap {
				y = t.grid.snapped(y)
			}
		case b.Repeat > 0 && b.Repeat+b.Height <= t.grid.Height:
			y = b.Repeat
		}
		if y+b.Height <= t.grid.Height {
			best = min(best, t.inside(i+1, page, y+b.Height))
		}
		return best
	}
	head := top
	if top > 0 {
		head = t.grid.snapped(top + t.blocks[i-1].After)
	}
	stop := i + 1
	for stop < len(t.blocks) && !t.blocks[stop].Span && !t.blocks[stop].NewPage {
		stop++
	}
	for middle := i + 1; middle <= stop; middle++ {
		left, fits := t.stack(i, middle, head)
		if !fits {
			break
		}
		if t.grid.Columns == 1 {
			best = min(best, t.turn(middle, page, white(t.grid.Height-left)))
			if middle == stop {
				best = min(best, t.inside(stop, page, left))
			}
			continue
		}
		for end := middle; end <= stop; end++ {
			right, fits := t.stack(middle, end, head)
			if !fits {
				break
			}
			more := Penalty(0)
			if end > middle {
				more = t.blocks[middle].Break.Column
			}
			space := white(t.grid.Height - left)
			best = min(best, more+space+t.turn(end, page, white(t.grid.Height-right)))
			if end == stop {
				best = min(best, more+imbalance(left-right, stop == len(t.blocks) || t.blocks[stop].NewPage)+t.inside(stop, page, max(left, right)))
			}
		}
	}
	return best
}

func TestSmallLayoutsAreTheBest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		blocks, grid := blocksOf(t, 9), gridOf(t)
		l, err := Paginate(blocks, grid)
		if err != nil {
			t.Fatal(err)
		}
		check(t, blocks, grid, l)
		if want := (tried{blocks, grid}).page(0, 1); l.Cost != want {
			t.Fatalf("the layout costs %d, the best %d\n%+v", l.Cost, want, l.Places)
		}
	})
}

// greedy fills column after column and ends each at the last place where no rule is broken, as a filler without foresight does.
func greedy(blocks []Block, grid Grid) Layout {
	l := Layout{Places: make([]Place, len(blocks)), Pages: 1}
	t := tried{blocks, grid}
	page, column := 1, 0
	for i := 0; i < len(blocks); {
		if i > 0 && blocks[i].NewPage && (column > 0 || l.Places[i-1].Page == page) {
			page, column = page+1, 0
		}
		end, good := i, -1
		for k := i + 1; k <= len(blocks); k++ {
			if _, fits := t.stack(i, k, 0); !fits {
				break
			}
			end = k
			if k == len(blocks) || blocks[k].NewPage {
				good = k
				break
			}
			kind := blocks[k].Break.Column
			if column == grid.Columns-1 {
				kind = blocks[k].Break.between(int32(page))
			}
			if kind < Never {
				good = k
			}
		}
		if good > 0 {
			end = good
		}
		for k := i; k < end; k++ {
			y, _ := t.stack(i, k+1, 0)
			l.Places[k] = Place{Page: page, Column: column, Top: y - blocks[k].Height}
			l.Places[k].Repeated = k == i && blocks[k].Repeat > 0 && l.Places[k].Top > 0
		}
		l.Pages = page
		i = end
		if column++; column == grid.Columns {
			page, column = page+1, 0
		}
	}
	return l
}

func TestNoLayoutIsWorseThanAGreedyOne(t *testing.T) {
	better, given := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		blocks, grid := blocksOf(t, 120), gridOf(t)
		for i := range blocks {
			blocks[i].Span = false
		}
		l, err := Paginate(blocks, grid)
		if err != nil {
			t.Fatal(err)
		}
		simple := worth(blocks, grid, greedy(blocks, grid))
		if l.Cost > simple {
			t.Fatalf("the layout costs %d, a greedy one %d", l.Cost, simple)
		}
		if l.Cost < simple {
			better++
		}
		if Penalty(l.Violations) < simple/Never {
			given++
		}
	})
	if better == 0 || given == 0 {
		t.Errorf("of all layouts %d were better than greedy ones and %d kept more rules", better, given)
	}
}

// guide makes blocks as those of a guide: chapters of sections with paragraphs, panels, lists and pictures, with their rules.
func guide(pages int) []Block {
	random := rand.New(rand.NewPCG(1, 2))
	var out []Block
	line := func(b Block, before float64, p Penalty) {
		b.Height, b.Before, b.Break = Points(12), Points(before), Everywhere(p)
		out = append(out, b)
	}
	paragraph := func(lines int, before float64, first Penalty) {
		for i := range lines {
			p := Penalty(20)
			if i == 0 {
				p = first
			} else if i == 1 || i == lines-1 {
				p = Never
			}
			line(Block{Snap: i == 0}, before, p)
			before = 0
		}
	}
	for height := 0; height < pages*2*57; {
		from := len(out)
		out = append(out, Block{Height: Points(36), Before: Points(12), After: Points(6), Snap: true, Span: true})
		for range 2 + random.IntN(5) {
			out = append(out, Block{Height: Points(24), Before: Points(12), Snap: true})
			paragraph(1+random.IntN(5), 0, 100*Never)
			for range random.IntN(4) {
				leaf := Penalty(0)
				switch random.IntN(4) {
				case 0:
					out = append(out, Block{Height: Points(float64(80 + random.IntN(80))), Before: Points(6), After: Points(6), Snap: true})
					leaf = 10 * Never
				case 1:
					out = append(out, Block{Height: Points(float64(60 + random.IntN(120))), Before: Points(6), After: Points(6), Snap: true, Span: random.IntN(4) == 0})
				}
				items := 2 + random.IntN(8)
				for i := range items {
					first := Penalty(0)
					if i == 1 || i == items-1 {
						first = Never
					}
					at := len(out)
					paragraph(1+random.IntN(3), 3, first)
					out[at].Break.Leaf = max(out[at].Break.Leaf, leaf)
				}
			}
		}
		for _, b := range out[from:] {
			height += int(b.Height+b.Before) / 1200
			if b.Span {
				height += int(b.Height) / 1200
			}
		}
	}
	return out
}

var letter = Grid{Columns: 2, Height: Points(684), Snap: Points(6)}

// A guide of fifty pages keeps every rule, and what the quick search leaves out is worth next to nothing.
func TestAGuideIsSetWell(t *testing.T) {
	blocks := guide(50)
	l, err := Paginate(blocks, letter)
	if err != nil {
		t.Fatal(err)
	}
	check(t, blocks, letter, l)
	if l.Violations > 0 {
		t.Errorf("%d rules gave way", l.Violations)
	}
	best := newSearch(blocks, letter, false).run()
	if float64(l.Cost) > 1.02*float64(best.Cost) {
		t.Errorf("the layout costs %d, that of the long search %d", l.Cost, best.Cost)
	}
	if l.Steps*3 > best.Steps {
		t.Errorf("the quick search took %d steps, the long one %d", l.Steps, best.Steps)
	}
}

func BenchmarkPaginate(b *testing.B) {
	for _, pages := range []int{10, 50, 500} {
		blocks := guide(pages)
		b.Run(fmt.Sprintf("%d pages", pages), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Paginate(blocks, letter)
			}
		})
	}
}
