package paginate

import (
	"errors"
	"fmt"
	"strings"
	"testing"
)

// text makes blocks of one line of 12 points each.
func text(n int) []Block {
	out := make([]Block, n)
	for i := range out {
		out[i].Height = Points(12)
	}
	return out
}

// told prints places as page, column and top in lines, so that expectations can be read.
func told(l Layout) string {
	var parts []string
	for _, p := range l.Places {
		s := fmt.Sprintf("%d%c%g", p.Page, 'a'+p.Column, p.Top.Points()/12)
		if p.Repeated {
			s += "again"
		}
		parts = append(parts, s)
	}
	return strings.Join(parts, " ")
}

func TestRules(t *testing.T) {
	four := Grid{Columns: 2, Height: Points(48), Snap: Points(6)}
	with := func(blocks []Block, change func(b []Block)) []Block { change(blocks); return blocks }
	span := func(height float64) Block { return Block{Height: Points(height), Span: true} }
	for _, c := range []struct {
		name   string
		blocks []Block
		want   string
	}{
		{"columns are filled in turn", text(9), "1a0 1a1 1a2 1a3 1b0 1b1 1b2 1b3 2a0"},
		{"the last page is balanced", text(6), "1a0 1a1 1a2 1b0 1b1 1b2"},
		{"a head stays with its text", with(text(16), func(b []Block) { b[4].Break = Everywhere(Never) }),
			"1a0 1a1 1a2 1b0 1b1 1b2 1b3 2a0 2a1 2a2 2a3 2b0 2b1 2b2 2b3 3a0"},
		{"space vanishes at the head of a column", with(text(8), func(b []Block) { b[4].Before = Points(24) }),
			"1a0 1a1 1a2 1a3 1b0 1b1 1b2 1b3"},
		{"of two spaces the greater counts", with(text(4), func(b []Block) { b[0].After, b[1].Before, b[2].Break = Points(12), Points(6), Everywhere(Never) }),
			"1a0 1a2 1a3 1b0"},
		{"a block snaps to the grid", with(text(4), func(b []Block) { b[0].Height, b[2].Height, b[3].Snap = Points(24), Points(7), true }),
			"1a0 1b0 1b1 1b2"},
		{"what spans divides the page", append(append(text(4), span(12)), text(3)...), "1a0 1a1 1b0 1b1 1a2 1a3 1b3 2a0"},
		{"a new page is balanced before", with(text(4), func(b []Block) { b[2].NewPage = true }), "1a0 1b0 2a0 2b0"},
		{"a table's head is repeated", with(text(9), func(b []Block) {
			for i := 1; i < 9; i++ {
				b[i].Repeat = Points(12)
			}
		}), "1a0 1a1 1a2 1a3 1b1again 1b2 1b3 2a1again 2b1again"},
		{"the leaf is not turned where it must not be", with(text(20), func(b []Block) { b[8].Break = Break{0, 0, Never} }),
			"1a0 1a1 1a2 1b0 1b1 1b2 1b3 2a0 2a1 2a2 2a3 2b0 2b1 2b2 2b3 3a0 3a1 3a2 3a3 3b0"},
		{"across the opening it may go on", with(text(20), func(b []Block) { b[16].Break = Break{0, 0, Never} }),
			"1a0 1a1 1a2 1a3 1b0 1b1 1b2 1b3 2a0 2a1 2a2 2a3 2b0 2b1 2b2 2b3 3a0 3a1 3b0 3b1"},
		{"the smaller rule gives way", with(text(9), func(b []Block) {
			for i := range b {
				b[i].Break = Everywhere(10 * Never)
			}
			b[3].Break, b[6].Break = Everywhere(Never), Everywhere(Never)
		}), "1a0 1a1 1a2 1b0 1b1 1b2 2a0 2a1 2a2"},
	} {
		l, err := Paginate(c.blocks, four)
		if err != nil {
			t.Fatal(err)
		}
		check(t, c.blocks, four, l)
		if got := told(l); got != c.want {
			t.Errorf("%s:\n got %s\nwant %s", c.name, got, c.want)
		}
	}
}

func TestWhatNoPageHoldsIsTold(t *testing.T) {
	blocks := text(3)
	blocks[1].Height = Points(50)
	_, err := Paginate(blocks, Grid{Columns: 2, Height: Points(48)})
	if tall := (TooTall{}); !errors.As(err, &tall) || tall.Block != 1 || err.Error() != "block 1 is 50 points tall, but a page holds 48" {
		t.Errorf("error is %v", err)
	}
	for _, g := range []Grid{{}, {Columns: 2}, {Height: 10}} {
		if _, err := Paginate(text(1), g); err == nil {
			t.Errorf("%+v holds something", g)
		}
	}
	if l, err := Paginate(nil, letter); err != nil || l.Pages != 0 {
		t.Errorf("nothing becomes %v, %v", l, err)
	}
}

// Blocks that are all alike and break every rule are the longest search there is. It ends, and what it finds by then is a layout.
func TestTheSearchEnds(t *testing.T) {
	for name, b := range map[string]Block{
		"without height": {Break: Everywhere(Never), Before: Points(0.01)},
		"spanning":       {Height: Points(1), Span: true, Break: Everywhere(Never)},
		"many in one":    {Height: Points(5), Break: Everywhere(Never)},
	} {
		blocks := make([]Block, 1000)
		for i := range blocks {
			blocks[i] = b
			blocks[i].Span = blocks[i].Span || i%300 == 299
		}
		s := newSearch(blocks, letter, false)
		s.limit = 10_000
		l := s.run()
		check(t, blocks, letter, l)
		if l.Steps > 3_000_000 {
			t.Errorf("%s: %d steps", name, l.Steps)
		}
	}
}
