package paginate

// layout reads the places from the chain of moves that ends in the best state.
func (s *search) layout() Layout {
	out := Layout{Places: make([]Place, len(s.blocks)), Steps: s.steps}
	end := &s.states[s.last]
	out.Pages, out.Cost, out.Violations = int(end.page), end.cost, int(end.cost/Never)
	for i := s.last; s.states[i].from >= 0; i = s.states[i].from {
		st := &s.states[i]
		before := &s.states[st.from]
		switch st.move {
		case spanned:
			out.Places[before.at] = Place{Page: int(before.page), Top: s.spanTop(before), Repeated: before.top == 0 && s.repeats(&s.blocks[before.at])}
		case filled, turned:
			s.placeColumn(&out, before, before.at, st.index, before.column, s.begin(before))
		case balance:
			b := s.bands(before.at)[st.index]
			s.placeColumn(&out, before, before.at, b.left, 0, s.begin(before))
			s.placeColumn(&out, before, before.at+b.left, b.right, 1, s.begin(before))
		}
	}
	return out
}

// placeColumn records the places of the blocks of one column.
func (s *search) placeColumn(out *Layout, st *state, first, blocks, column int32, top Length) {
	heights := s.column(first)
	for n := range blocks {
		b := &s.blocks[first+n]
		out.Places[first+n] = Place{Page: int(st.page), Column: int(column), Top: top + heights[n+1] - b.Height, Repeated: n == 0 && s.repeats(b)}
	}
}

// Foot is the unused space at the foot of a column.
type Foot struct {
	White  Length
	Forced bool // it ends a page that must end, or the last page
}

// Feet returns the space that a layout leaves at the foot of each column, including empty columns.
func (l Layout) Feet(blocks []Block, grid Grid) []Foot {
	feet := make([]Foot, l.Pages*grid.Columns)
	for i := range feet {
		page := i/grid.Columns + 1
		feet[i] = Foot{White: grid.Height, Forced: page == l.Pages}
	}
	for i, p := range l.Places {
		room := grid.Height - p.Top - blocks[i].Height
		for c := range grid.Columns {
			foot := &feet[(p.Page-1)*grid.Columns+c]
			if c == p.Column || blocks[i].Span {
				foot.White = min(foot.White, room)
			}
			if i+1 < len(blocks) && blocks[i+1].NewPage {
				foot.Forced = true
			}
		}
	}
	return feet
}
