package paginate

const maxInOne = 300 // blocks in one column: enough for any page of text, and a bound where heights are 0

// column gives how tall a column is that begins with a block, with none of the blocks from there on, with one, two and so on, up to the
// block at which all columns end or the last that a page holds.
func (s *search) column(first int32) []Length {
	if s.columns[first] != nil {
		return s.columns[first]
	}
	heights := append(s.scratch[:0], 0)
	for k := first; k < s.stop[first] && k-first < maxInOne && !s.blocks[first].Span; k++ {
		b, y := &s.blocks[k], heights[k-first]
		switch {
		case k > first:
			if y += gap(&s.blocks[k-1], b); b.Snap {
				y = s.grid.snapped(y)
			}
		case s.repeats(b):
			y = b.Repeat
		}
		if y+b.Height > s.grid.Height {
			break
		}
		s.steps++
		heights = append(heights, y+b.Height)
	}
	s.scratch = heights
	s.columns[first] = s.stored(heights)
	return s.columns[first]
}

// stored copies heights to where they stay, many columns in one piece of memory.
func (s *search) stored(heights []Length) []Length {
	if cap(s.room)-len(s.room) < len(heights) {
		s.room = make([]Length, 0, max(8192, len(heights)))
	}
	from := len(s.room)
	s.room = append(s.room, heights...)
	return s.room[from:len(s.room):len(s.room)]
}

// repeats tells whether what a block repeats is set above it: not if the page has no room for both.
func (s *search) repeats(b *Block) bool { return b.Repeat > 0 && b.Repeat+b.Height <= s.grid.Height }

// band is one way to balance all columns above a spanning block, or above the end of what is filled without a break.
type band struct {
	height      Length
	cost        Penalty
	left, right int32 // blocks in each column
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
	for n, height := range s.column(first) {
		middle := first + int32(n)
		switch {
		case n == 0:
		case s.grid.Columns == 1:
			if middle == stop {
				add(band{height, 0, int32(n), 0})
			}
		case middle == stop: // the right column stays empty
			add(band{height, imbalance(height, ends), int32(n), 0})
		default:
			beside := s.column(middle)
			if r := len(beside) - 1; r > 0 && middle+int32(r) == stop {
				s.steps++
				add(band{max(height, beside[r]), s.blocks[middle].Break.Column + imbalance(height-beside[r], ends), int32(n), int32(r)})
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
func (s *search) ends(stop int32) bool { return int(stop) == len(s.blocks) || s.blocks[stop].NewPage }
