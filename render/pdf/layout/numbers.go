package layout

import (
	"math"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/page"
	"ownerguide/render/pdf/paper"
	"ownerguide/render/pdf/typeset"
)

// Dimensions of the key numbers.
const (
	numberWidth   = 114 // width of a field: a quarter of a letter page
	numberTop     = 4
	numberFoot    = 4
	numberLeading = 18
	cardFigureTop = 20 // leading of a figure on a card
)

// numbers sets the key numbers as fields: side by side across the page, or one below another on a card.
func (s *setter) numbers(n *doc.Table, st setting) []*box {
	g := s.readRows(n, st, st.element(finish.RoleTable))
	if s.format.Card {
		return s.cardNumbers(g)
	}
	width := st.full
	if !st.outer {
		width = st.width
	}
	columns := max(int(math.Round((width+paper.Gutter)/(numberWidth+paper.Gutter))), 1)
	field := (width - float64(columns-1)*paper.Gutter) / float64(columns)
	var out []*box
	for start := 0; start < len(g.rows); start += columns {
		b := &box{name: g.rows[start].name, span: st.outer, free: start > 0}
		for i := range g.rows[start:min(start+columns, len(g.rows))] {
			r := &g.rows[start+i]
			items, height := g.number(r, field)
			b.items = append(b.items, page.Shift(items, st.left+float64(i)*(field+paper.Gutter), 0)...)
			b.height = max(b.height, height)
			if r.changed {
				b.bar = max(b.bar, height)
			}
		}
		out = append(out, b)
	}
	out[0].before, out[len(out)-1].after = blockSpace, 6
	keepTogether(out, ruleHead)
	return out
}

// number sets one field: a line, the label, the figure in large type, and what is in parentheses below it.
func (g *grid) number(r *row, width float64) ([]page.Item, float64) {
	items := []page.Item{page.Rule(0, lightLine/2, width, lightLine/2, lightLine)}
	y := float64(numberTop)
	add := func(pieces []typeset.Piece, leading float64, c *cell) {
		for _, l := range g.Lines(pieces, width, typeset.Style{Leading: leading, Element: c.element}) {
			items = append(items, l.Moved(0, y))
			y += leading
		}
	}
	label, value := &r.cells[0], &r.cells[1]
	add(typeset.WithLook(label.pieces, func(l page.Look) page.Look { return l.Sized(caption.Size) }), leading, label)
	figure, rest := typeset.SplitFigure(value.pieces, g.firstUnit)
	add(typeset.WithLook(figure, func(l page.Look) page.Look { return coverFigure.Inked(l.Ink) }), numberLeading, value)
	add(typeset.WithLook(rest, func(l page.Look) page.Look { return tableText.Inked(l.Ink) }), leading, value)
	return items, y + numberFoot
}

// firstUnit separates a figure from its conversion.
func (s *setter) firstUnit(text string) (first, rest string) {
	return doc.FirstUnit(s.guide.Words[doc.BothUnits], text)
}

// cardNumbers sets the fields of a card: label, and figure with what is in parentheses next to it.
func (s *setter) cardNumbers(g *grid) []*box {
	var out []*box
	for i := range g.rows {
		r := &g.rows[i]
		b := &box{name: r.name}
		b.items = append(b.items, page.Rule(g.left, lightLine/2, g.left+g.width, lightLine/2, lightLine))
		b.height = 2
		label, value := &r.cells[0], &r.cells[1]
		for _, l := range s.Lines(typeset.WithLook(label.pieces, func(page.Look) page.Look { return cardLabel }), g.width, typeset.Style{Leading: leading, Element: label.element}) {
			b.items = append(b.items, l.Moved(g.left, b.height))
			b.height += leading
		}
		figure, rest := typeset.SplitFigure(value.pieces, g.firstUnit)
		pieces := typeset.WithLook(figure, func(page.Look) page.Look { return cardFigure })
		if len(rest) > 0 {
			pieces = append(append(pieces, typeset.Piece{Text: " ", Look: cardFigureSI}), typeset.WithLook(rest, func(page.Look) page.Look { return cardFigureSI })...)
		}
		for _, l := range s.Lines(pieces, g.width, typeset.Style{Leading: cardFigureTop, Element: value.element}) {
			b.items = append(b.items, l.Moved(g.left, b.height))
			b.height += cardFigureTop
		}
		out = append(out, b)
	}
	return out
}
