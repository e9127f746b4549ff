package paginate

// fill is one way to fill a column from its first block on. All ways of one column are kept in one slice, shorter ones first, so that a
// longer one names the one it goes on from.
type fill struct {
	end    int32  // the block after the last
	height Length // from the head of the column
	cost   Penalty
	from   int32 // index of the fill without the last block; -1 for the empty one
	form   int8  // of the last block: 0, or 1 and up for one of its alternatives
}

const (
	maxForms   = 8   // ways to fill a column to the same block that are kept: those that cost least
	maxInOne   = 300 // blocks in one column: enough for any page of text, and a bound where heights are 0
	emptyFill  = 0   // index of the way that puts nothing into the column
	noFillFrom = -1
)

// column gives the ways to fill a column that begins with a block, up to the block at which all columns end.
func (s *search) column(first int32) []fill {
	if s.columns[first] != nil {
		return s.columns[first]
	}
	fills := append(s.scratch[:0], fill{end: first, from: noFillFrom})
	forms := maxForms
	if s.steps > s.limit {
		forms = 1
	}
	begun := 0 // the first fill that ends before the block at hand
	for k := first; k < s.stop[first] && k-first < maxInOne && !s.blocks[first].Span; k++ {
		b, until := &s.blocks[k], len(fills)
		for f := begun; f < until; f++ {
			y := fills[f].height
			switch {
			case k > first:
				if y += gap(&s.blocks[k-1], b); b.Snap {
					y = s.grid.snapped(y)
				}
			case s.repeats(b):
				y = b.Repeat
			}
			for form := range len(b.Smaller) + 1 {
				h, cost := b.form(form)
				if y+h > s.grid.Height {
					continue
				}
				s.steps++
				fills = keep(fills, until, forms, fill{k + 1, y + h, fills[f].cost + cost, int32(f), int8(form)})
			}
		}
		if begun = until; begun == len(fills) {
			break
		}
	}
	s.scratch = fills
	s.columns[first] = s.stored(fills)
	return s.columns[first]
}

// stored copies fills to where they stay, many columns in one piece of memory.
func (s *search) stored(fills []fill) []fill {
	if cap(s.room)-len(s.room) < len(fills) {
		s.room = make([]fill, 0, max(8192, len(fills)))
	}
	from := len(s.room)
	s.room = append(s.room, fills...)
	return s.room[from:len(s.room):len(s.room)]
}

// keep adds a fill to those from an index on, which end at the same block, unless one of the same height costs less, or as many others do
// as are kept.
func keep(fills []fill, from, most int, f fill) []fill {
	worst := from
	for i := from; i < len(fills); i++ {
		if fills[i].height == f.height {
			if f.cost < fills[i].cost {
				fills[i] = f
			}
			return fills
		}
		if fills[i].cost > fills[worst].cost {
			worst = i
		}
	}
	switch {
	case len(fills)-from < most:
		return append(fills, f)
	case f.cost < fills[worst].cost:
		fills[worst] = f
	}
	return fills
}

// repeats tells whether what a block repeats is set above it: not if the page has no room for both.
func (s *search) repeats(b *Block) bool { return b.Repeat > 0 && b.Repeat+b.Height <= s.grid.Height }

// form gives height and cost of a block in one of its forms.
func (b *Block) form(n int) (Length, Penalty) {
	if n == 0 {
		return b.Height, 0
	}
	return b.Smaller[n-1].Height, b.Smaller[n-1].Cost
}

// band is one way to balance all columns above a spanning block, or above the end of what is filled without a break.
type band struct {
	height      Length
	cost        Penalty
	left, right int32 // fills; right is -1 where there is one column
	middle      int32 // the block that begins the right column
}

// bands gives the ways to set the blocks from one to the next spanning one in balanced columns; of those with one height the
// cheapest.
func (s *search) bands(first int32) []band {
	if s.balanced[first] != nil {
		return s.balanced[first]
	}
	out := s.options[:0]
	stop := s.stop[first]
	ends := s.ends(stop)
	add := func(b band) {
		for i := range out {
			if out[i].height == b.height {
				if b.cost < out[i].cost {
					out[i] = b
				}
				return
			}
		}
		out = append(out, b)
	}
	left := s.column(first)
	for l, a := range left {
		switch {
		case l == emptyFill:
		case s.grid.Columns == 1:
			if a.end == stop {
				add(band{a.height, a.cost, int32(l), noFillFrom, stop})
			}
		case a.end == stop: // the right column stays empty
			add(band{a.height, a.cost + imbalance(a.height, ends), int32(l), emptyFill, stop})
		default:
			right := s.column(a.end)
			for r := len(right) - 1; r > emptyFill && right[r].end == stop; r-- {
				s.steps++
				b := right[r]
				add(band{max(a.height, b.height), a.cost + b.cost + s.blocks[a.end].Break.Column + imbalance(a.height-b.height, ends), int32(l), int32(r), a.end})
			}
		}
	}
	s.options = out
	s.balanced[first] = append([]band{}, out...)
	return s.balanced[first]
}

// imbalance is the cost of the difference between two columns. Where no more follows on the page it matters little.
func imbalance(difference Length, ends bool) Penalty {
	cost := white(max(difference, -difference))
	switch {
	case ends:
		return cost / 10
	case max(difference, -difference) > Balance:
		return cost + Unbalanced
	}
	return cost
}

// ends tells whether pages end before a block by themselves, because it must begin one or because there is none.
func (s *search) ends(stop int32) bool {
	return int(stop) == len(s.blocks) || s.blocks[stop].Start != Anywhere
}
