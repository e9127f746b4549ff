package paginate

import "slices"

const maxInOne = 300 // blocks in one column: enough for any page of text, and a limit if heights are 0

// column returns the heights of a column that begins with block first and has none, one, two and so on of the following blocks, up to the
// block at which all columns end or the last that fits on a page.
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

// stored copies heights to memory shared by many columns.
func (s *search) stored(heights []Length) []Length {
	if cap(s.room)-len(s.room) < len(heights) {
		s.room = make([]Length, 0, max(8192, len(heights)))
	}
	from := len(s.room)
	s.room = append(s.room, heights...)
	return s.room[from:len(s.room):len(s.room)]
}

// repeats reports whether the repeated part of a block is set above it, which is not so if both do not fit on a page.
func (s *search) repeats(b *Block) bool { return b.Repeat > 0 && b.Repeat+b.Height <= s.grid.Height }

// band is one way to balance all columns above a spanning block, or above a forced page end.
type band struct {
	height      Length
	cost        Penalty
	left, right int32 // blocks in each column
}

// bands returns the ways to set the blocks from first to the next spanning one in balanced columns; for each height only the
// cheapest, and none that leads to a state [search.dominated] by that of another one.
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
	kept := []band{}
	for _, b := range out {
		dominates := func(a band) bool { // Snap: the grid may move what follows down by that much more
			return a.height < b.height && a.cost+s.costOfUnused(b.height-a.height+s.grid.Snap)*Penalty(s.grid.Columns) <= b.cost
		}
		if !slices.ContainsFunc(out, dominates) {
			kept = append(kept, b)
		}
	}
	s.balanced[first] = kept
	return kept
}

// imbalance returns the cost of the difference between two columns. It is low if nothing more follows on the page.
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

// ends reports whether a page must end before a block: because the block must begin one or because there are no more blocks.
func (s *search) ends(stop int32) bool { return int(stop) == len(s.blocks) || s.blocks[stop].NewPage }
