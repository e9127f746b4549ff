package layout

import (
	"math"
	"strings"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
)

// Measures of the numbers you reach for.
const (
	numberWidth   = 114 // of a field: a quarter of a letter page
	numberTop     = 4
	numberFoot    = 4
	numberLeading = 18
	cardFigureTop = 22 // leading of a figure on a card
)

// plainNumbers tells whether a table has the shape that fields need: label and value, no head.
func plainNumbers(n *doc.Table) bool {
	for _, r := range n.Rows {
		if len(r.Cells) != 2 {
			return false
		}
	}
	return n.Head == nil && len(n.Rows) > 0
}

// numbers sets the numbers you reach for as fields: across the page side by side, on a card below one another.
func (s *setter) numbers(n *doc.Table, st setting) ([]*box, error) {
	g, err := s.read(n, st, st.element(finish.RoleTable))
	if err != nil {
		return nil, err
	}
	if s.format.card {
		return s.cardNumbers(g), nil
	}
	width := st.full
	if !st.outer {
		width = st.width
	}
	columns := max(int(math.Round((width+gutter)/(numberWidth+gutter))), 1)
	field := (width - float64(columns-1)*gutter) / float64(columns)
	var out []*box
	for start := 0; start < len(g.rows); start += columns {
		b := &box{name: g.rows[start].name, span: st.outer, free: start > 0}
		for i := range g.rows[start:min(start+columns, len(g.rows))] {
			r := &g.rows[start+i]
			items, height := g.number(r, field)
			b.items = append(b.items, shift(items, st.left+float64(i)*(field+gutter), 0)...)
			b.height = max(b.height, height)
			if r.changed {
				b.items = append(b.items, &changeBar{0, height})
			}
		}
		out = append(out, b)
	}
	out[0].before, out[len(out)-1].after = blockSpace, 6
	keepTogether(out, ruleHead)
	return out, nil
}

// number sets one field: a line, the label, the figure in large type, and what stands in brackets below it.
func (g *grid) number(r *row, width float64) ([]Item, float64) {
	items := []Item{rule(0, lightLine/2, width, lightLine/2, lightLine)}
	y := float64(numberTop)
	add := func(pieces []piece, leading float64, c *cell) {
		for _, l := range g.lines(pieces, width, textStyle{leading: leading, element: c.element}) {
			items = append(items, l.moved(0, y))
			y += leading
		}
	}
	label, value := &r.cells[0], &r.cells[1]
	add(withLook(label.pieces, func(l Look) Look { return l.sized(caption.Size) }), leading, label)
	figure, rest := splitFigure(value.pieces)
	add(withLook(figure, func(l Look) Look { return coverFigure.inked(l.Ink) }), numberLeading, value)
	add(withLook(rest, func(l Look) Look { return tableText.inked(l.Ink) }), leading, value)
	return items, y + numberFoot
}

// cardNumbers sets a field of a card: the label, and the figure with what stands in brackets beside it.
func (s *setter) cardNumbers(g *grid) []*box {
	var out []*box
	for i := range g.rows {
		r := &g.rows[i]
		b := &box{name: r.name}
		b.items = append(b.items, rule(g.left, lightLine/2, g.left+g.width, lightLine/2, lightLine))
		b.height = 2
		label, value := &r.cells[0], &r.cells[1]
		for _, l := range s.lines(withLook(label.pieces, func(Look) Look { return cardLabel }), g.width, textStyle{leading: leading, element: label.element}) {
			b.items = append(b.items, l.moved(g.left, b.height))
			b.height += leading
		}
		figure, rest := splitFigure(value.pieces)
		pieces := withLook(figure, func(Look) Look { return cardFigure })
		if len(rest) > 0 {
			pieces = append(append(pieces, piece{text: " ", look: cardFigureSI}), withLook(rest, func(Look) Look { return cardFigureSI })...)
		}
		for _, l := range s.lines(pieces, g.width, textStyle{leading: cardFigureTop, element: value.element}) {
			b.items = append(b.items, l.moved(g.left, b.height))
			b.height += cardFigureTop
		}
		out = append(out, b)
	}
	return out
}

// splitFigure parts a figure from what stands in brackets behind it. Without brackets all of it is the figure.
func splitFigure(pieces []piece) (figure, rest []piece) {
	for i, p := range pieces {
		if p.mark != noMark || p.page != "" {
			continue
		}
		for _, space := range []string{" (", "\u00a0("} {
			if at := strings.Index(p.text, space); at >= 0 {
				before, behind := p, p
				before.text, behind.text = p.text[:at], p.text[at+len(space)-1:]
				return append(append([]piece{}, pieces[:i]...), before), append([]piece{behind}, pieces[i+1:]...)
			}
		}
	}
	return pieces, nil
}

// withLook copies pieces in other looks.
func withLook(pieces []piece, change func(Look) Look) []piece {
	out := make([]piece, len(pieces))
	for i, p := range pieces {
		p.look = change(p.look)
		out[i] = p
	}
	return out
}
