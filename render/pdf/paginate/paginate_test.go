package paginate

import (
	"testing"

	"pgregory.net/rapid"
)

// blocksOf draws blocks for pages of some hundred points.
func blocksOf(t *rapid.T, most int) []Block {
	penalty := rapid.SampledFrom([]Penalty{0, 0, 0, 0, 30, 300, Never, 10 * Never})
	out := make([]Block, rapid.IntRange(1, most).Draw(t, "blocks"))
	for i := range out {
		b := Block{
			Height: Points(float64(rapid.IntRange(1, 40).Draw(t, "height"))),
			Before: Points(float64(rapid.SampledFrom([]int{0, 0, 3, 12}).Draw(t, "before"))),
			After:  Points(float64(rapid.SampledFrom([]int{0, 0, 6}).Draw(t, "after"))),
			Snap:   rapid.Bool().Draw(t, "snap"),
			Span:   rapid.IntRange(0, 7).Draw(t, "span") == 0,
			Break:  Break{penalty.Draw(t, "column"), penalty.Draw(t, "opening"), penalty.Draw(t, "leaf")},
		}
		b.NewPage = rapid.IntRange(0, 12).Draw(t, "new page") == 0
		if rapid.IntRange(0, 5).Draw(t, "repeats") == 0 {
			b.Repeat = Points(10)
		}
		out[i] = b
	}
	return out
}

func gridOf(t *rapid.T) Grid {
	return Grid{Columns: rapid.IntRange(1, 2).Draw(t, "columns"), Height: Points(float64(rapid.IntRange(40, 120).Draw(t, "room"))), Snap: Points(6)}
}

// check checks the properties of every layout.
func check(t rapid.TB, blocks []Block, grid Grid, l Layout) {
	t.Helper()
	if len(l.Places) != len(blocks) {
		t.Fatalf("%d places for %d blocks", len(l.Places), len(blocks))
	}
	type corner struct{ page, column int }
	below := map[corner]Length{} // where each column is free from
	last := Place{Page: 1}
	for i, p := range l.Places {
		b := blocks[i]
		h, top := b.Height, p.Top
		if p.Repeated {
			top -= b.Repeat
			if b.Repeat == 0 || i > 0 && last.Page == p.Page && last.Column == p.Column && !blocks[i-1].Span {
				t.Fatalf("block %d: its head is repeated in the middle of a column", i)
			}
		}
		columns := []int{p.Column}
		if b.Span {
			columns = nil
			for c := range grid.Columns {
				columns = append(columns, c)
			}
		}
		if p.Page < last.Page || p.Page == last.Page && p.Column < last.Column && !blocks[i].Span && !blocks[i-1].Span && top < below[corner{p.Page, last.Column}] {
			t.Fatalf("block %d is at %+v, before %+v", i, p, last)
		}
		for _, c := range columns {
			if top < below[corner{p.Page, c}] {
				t.Fatalf("block %d at %+v lies over what ends at %v", i, p, below[corner{p.Page, c}])
			}
			below[corner{p.Page, c}] = p.Top + h
		}
		if p.Top < 0 || p.Top+h > grid.Height || p.Column < 0 || p.Column >= grid.Columns || p.Page > l.Pages {
			t.Fatalf("block %d of %v at %+v is outside the area", i, h, p)
		}
		if b.Snap && p.Top%grid.Snap != 0 && !p.Repeated {
			t.Fatalf("block %d at %+v is off the grid", i, p)
		}
		if b.NewPage && i > 0 && last.Page == p.Page {
			t.Fatalf("block %d at %+v does not begin as it must", i, p)
		}
		if i > 0 && !b.Span && !blocks[i-1].Span && last.Page == p.Page && last.Column == p.Column {
			if y := last.Top + blocks[i-1].Height; p.Top < y+gap(&blocks[i-1], &b) {
				t.Fatalf("block %d at %+v stands too close to what ends at %v", i, p, y)
			}
		}
		last = p
	}
	// Where two ways lead to the same places the search may have left out the cheaper one, if it is a little cheaper only.
	if got := worth(blocks, grid, l); got > l.Cost || got < l.Cost-l.Cost/100-10 {
		t.Fatalf("the cost is told as %d, the places cost %d", l.Cost, got)
	}
}

// worth works out what a layout costs from its places alone, by the words of the package's description.
func worth(blocks []Block, grid Grid, l Layout) Penalty {
	cost := Penalty(l.Pages) * CostOfPage
	for i := 0; i < len(blocks); {
		page := l.Places[i].Page
		if i > 0 && l.Places[i-1].Page != page && !blocks[i].NewPage {
			cost += blocks[i].Break.between(int32(page - 1))
		}
		if blocks[i].Span {
			bottom := l.Places[i].Top + blocks[i].Height
			i++
			if i < len(blocks) && l.Places[i].Page != page && !blocks[i].NewPage {
				cost += white(grid.Height-bottom) * Penalty(grid.Columns)
			}
			continue
		}
		// A band: columns side by side, from block i on.
		top, foot := l.Places[i].Top, make([]Length, grid.Columns)
		if l.Places[i].Repeated {
			top -= blocks[i].Repeat
		}
		for c := range foot {
			foot[c] = top
		}
		first := i
		for ; i < len(blocks) && l.Places[i].Page == page && !blocks[i].Span; i++ {
			c := l.Places[i].Column
			if i > first && c != l.Places[i-1].Column {
				cost += blocks[i].Break.Column
			}
			foot[c] = l.Places[i].Top + blocks[i].Height
		}
		room := grid.Height
		stays := i < len(blocks) && l.Places[i].Page == page
		balanced, open := Penalty(0), Penalty(0)
		if grid.Columns == 2 {
			balanced = imbalance(foot[0]-foot[1], i == len(blocks) || blocks[i].NewPage)
		}
		for _, f := range foot {
			open += white(room - f)
		}
		lowest := max(foot[0], foot[len(foot)-1])
		switch {
		case stays:
			cost += balanced
		case i == len(blocks) || blocks[i].NewPage:
			cost += min(balanced, open-white(room-foot[len(foot)-1]))
		case blocks[i].Span:
			cost += min(open, balanced+white(room-lowest)*Penalty(grid.Columns))
		default:
			cost += open
		}
	}
	return cost
}

func TestEveryLayoutKeepsItsPromises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		blocks, grid := blocksOf(t, 80), gridOf(t)
		l, err := Paginate(blocks, grid)
		if err != nil {
			t.Fatal(err)
		}
		check(t, blocks, grid, l)
	})
}
