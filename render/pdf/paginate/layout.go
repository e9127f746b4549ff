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

// unused returns the fraction of all columns that a layout leaves white at their feet, except where a page must end.
func (l Layout) unused(blocks []Block, grid Grid) float64 {
	type foot struct {
		white  Length
		forced bool // it ends a page that must end, or the last page
	}
	feet := make([]foot, l.Pages*grid.Columns)
	for i := range feet {
		feet[i] = foot{grid.Height, i/grid.Columns+1 == l.Pages}
	}
	for i, p := range l.Places {
		room := grid.Height - p.Top - blocks[i].Height
		for c := range grid.Columns {
			at := &feet[(p.Page-1)*grid.Columns+c]
			if c == p.Column || blocks[i].Span {
				at.white = min(at.white, room)
			}
			if i+1 < len(blocks) && blocks[i+1].NewPage {
				at.forced = true
			}
		}
	}
	white := 0.0
	for _, f := range feet {
		if !f.forced {
			white += f.white.Points()
		}
	}
	return white / grid.Height.Points() / float64(len(feet))
}
