package paginate

// layout reads the places off the chain of moves that ends in the best state.
func (s *search) layout() Layout {
	out := Layout{Places: make([]Place, len(s.blocks)), Steps: s.steps}
	end := &s.states[s.last]
	out.Pages, out.Cost, out.Given = int(end.page), end.cost, int(end.cost/Never)
	for i := s.last; s.states[i].from >= 0; i = s.states[i].from {
		st := &s.states[i]
		before := &s.states[st.from]
		switch st.move {
		case spanned:
			b := &s.blocks[before.at]
			out.Places[before.at] = Place{
				Page: int(before.page), Top: s.spanTop(before), Alternative: int(st.index), Repeated: before.top == 0 && s.repeats(b),
			}
		case filled, turned:
			s.placeColumn(&out, before, before.at, st.index, before.column, s.begin(before))
		case balance:
			b := s.bands(before.at)[st.index]
			s.placeColumn(&out, before, before.at, b.left, 0, s.begin(before))
			if b.right > emptyFill {
				s.placeColumn(&out, before, b.middle, b.right, 1, s.begin(before))
			}
		}
	}
	return out
}

// placeColumn notes the places of the blocks of one column.
func (s *search) placeColumn(out *Layout, st *state, first, index, column int32, top Length) {
	fills := s.column(first)
	for f := &fills[index]; f.from != noFillFrom; f = &fills[f.from] {
		b := f.end - 1
		h, _ := s.blocks[b].form(int(f.form))
		out.Places[b] = Place{
			Page: int(st.page), Column: int(column), Top: top + f.height - h, Alternative: int(f.form),
			Repeated: b == first && s.repeats(&s.blocks[b]),
		}
	}
}

// Foot is the unused space at the foot of a column.
type Foot struct {
	Page, Column int
	White        Length
	Forced       bool // a new page was asked for, or it is the last
}

// Feet measures the space that a layout leaves at the foot of each column, empty columns included.
func (l Layout) Feet(blocks []Block, grid Grid) []Foot {
	feet := make([]Foot, l.Pages*grid.Columns)
	for i := range feet {
		page := i/grid.Columns + 1
		feet[i] = Foot{Page: page, Column: i % grid.Columns, White: grid.Height, Forced: page == l.Pages}
	}
	for i, p := range l.Places {
		h, _ := blocks[i].form(p.Alternative)
		room := grid.Height - p.Top - h
		for c := range grid.Columns {
			foot := &feet[(p.Page-1)*grid.Columns+c]
			if c == p.Column || blocks[i].Span {
				foot.White = min(foot.White, room)
			}
			if i+1 < len(blocks) && blocks[i+1].Start != Anywhere {
				foot.Forced = true
			}
		}
	}
	return feet
}
