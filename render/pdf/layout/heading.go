package layout

import (
	"strconv"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/page"
	"ownerguide/render/pdf/typeset"
)

// headingRole returns the role of a heading by depth; the standard has six.
func headingRole(depth int) finish.Role {
	return [...]finish.Role{finish.RoleH1, finish.RoleH2, finish.RoleH3, finish.RoleH4, finish.RoleH5, finish.RoleH6}[min(max(depth, 1), 6)-1]
}

// headWords are the pieces of a heading.
type headWords struct {
	number []typeset.Piece // before the title, if it has one
	title  []typeset.Piece
	point  int // number of the point whose mark precedes it; 0 for none
	e      *finish.Element
}

// headPieces returns the pieces of a heading.
func (s *setter) headPieces(n *doc.Section, look page.Look, st setting) (h headWords) {
	h.e = st.element(headingRole(n.Level))
	list := n.Heading.Inlines
	if len(list) > 0 {
		if p, ok := list[0].(*doc.PointMark); ok {
			h.point, list = p.Number, list[1:]
		}
	}
	if n.Number != "" {
		number := look
		if n.Level > 1 {
			number = look.Regular()
		}
		h.number = []typeset.Piece{{Text: s.Clean(n.Number, st.origin), Look: number}}
	}
	h.title = s.inlines(list, look, h.e, st.at(n.Heading).origin)
	return h
}

// headLines sets a heading: its number, and the title next to it.
func (s *setter) headLines(h headWords, x, y, width, leading float64, balanced bool) (items []page.Item, height float64) {
	in := 0.0
	for _, l := range s.Lines(h.number, width, typeset.Style{Leading: leading, Element: h.e}) {
		items = append(items, l.Moved(x, y))
		in = l.Width + h.number[0].Look.Size*numberGap
	}
	lines := s.Lines(h.title, width-in, typeset.Style{Leading: leading, Balanced: balanced, Element: h.e})
	return append(items, typeset.Stacked(lines, x+in, y)...), float64(len(lines)) * leading
}

// numberGap is the space between the number of a heading and its title, as a fraction of the type size.
const numberGap = 0.5

// head sets the heading of a section; no box if it has no text.
func (s *setter) head(n *doc.Section, st setting) []*box {
	if n.Heading == nil {
		return nil
	}
	var b *box
	switch {
	case s.format.Card:
		b = s.cardHead(n, st)
	case n.Level <= 1:
		b = s.chapterHead(n, st)
	case n.Role == doc.RoleStop:
		b = s.plainHead(n, st, 9, 2)
	case n.Role == doc.RoleTask:
		b = s.jobHead(n, st)
	case n.Level == 2:
		b = s.sectionHead(n, st)
	default:
		b = s.plainHead(n, st, 6, 6)
	}
	if b == nil {
		return nil
	}
	b.name = &name{"heading", st.at(n.Heading).origin}
	return marked(n.Heading, []*box{b})
}

// chapterHead sets a heading below a heavy line across the page.
func (s *setter) chapterHead(n *doc.Section, st setting) *box {
	st = st.spanning()
	h := s.headPieces(n, chapterHead, st)
	const textTop, room = 6, 36 - chapterLeading // of the head's block
	items, height := s.headLines(h, 0, textTop, st.width, chapterLeading, true)
	if height == 0 {
		return nil
	}
	return &box{before: 12, span: true, height: room + height, items: append(items, page.Rule(0, heavyLine/2, st.width, heavyLine/2, heavyLine))}
}

// sectionHead sets a heading below a line across its column, or across the page if what follows is that wide.
func (s *setter) sectionHead(n *doc.Section, st setting) *box {
	span := len(n.Blocks) > 0 && s.acrossPage(n.Blocks[0])
	if span {
		st = st.spanning()
	}
	h := s.headPieces(n, sectionHead, st)
	const textTop, room = 4, 20 - sectionLeading
	in := 0.0
	if h.point > 0 {
		in = laneWidth
	}
	items, height := s.headLines(h, in, textTop, st.width-in, sectionLeading, true)
	if height == 0 {
		return nil
	}
	b := &box{before: 10, span: span, height: room + height, items: append(items, page.Rule(0, lightLine/2, st.width, lightLine/2, lightLine))}
	if h.point > 0 {
		b.prepend(&typeset.Disc{Number: strconv.Itoa(h.point), Element: h.e, Y: textTop + sectionLeading/2, Size: discSize})
	}
	return b
}

// plainHead sets a heading without lines: that of a point of the walk-around, with its disc, or of a part of a list of steps.
func (s *setter) plainHead(n *doc.Section, st setting, before, after float64) *box {
	h := s.headPieces(n, entryHead, st)
	in := 0.0
	if h.point > 0 {
		in = laneWidth
	}
	items, height := s.headLines(h, st.left+in, 0, st.width-in, leading, false)
	if height == 0 {
		return nil
	}
	b := &box{items: items, height: height, before: before, after: after}
	if h.point > 0 {
		b.prepend(&typeset.Disc{Number: strconv.Itoa(h.point), Element: h.e, X: st.left, Y: leading / 2, Size: discSize})
	}
	return b
}

// Space above and below the line between two jobs or two troubles.
const (
	overLine  = 6
	underLine = 4.65
)

// jobHead sets the heading of a maintenance job.
func (s *setter) jobHead(n *doc.Section, st setting) *box {
	b := s.plainHead(n, st, 0, 0)
	if b != nil {
		s.partLine(b, st)
		b.height++
	}
	return b
}

// partLine adds a thin line above a box, unless it is the first below a section's head.
func (s *setter) partLine(b *box, st setting) {
	if st.first {
		return
	}
	b.items = append(page.Shift(b.items, 0, thinLine+underLine), page.Rule(st.left, thinLine/2, st.left+st.width, thinLine/2, thinLine))
	b.height += thinLine + underLine
	b.before = overLine
}

// cardHead sets a heading on a card: with a line below the card's title, and above all others.
func (s *setter) cardHead(n *doc.Section, st setting) *box {
	look := entryHead
	if n.Level <= 1 {
		st, look = st.spanning(), sectionHead
	}
	h := s.headPieces(n, look, st)
	y := 4.0
	if n.Level <= 1 {
		y = 0
	}
	items, height := s.headLines(h, st.left, y, st.width, sectionLeading, true)
	if height == 0 {
		return nil
	}
	b := &box{height: height + 6, before: 6, after: 2, items: items}
	if n.Level <= 1 {
		b.span, b.newPage = true, true
		b.items = append(items, page.Rule(0, b.height-lightLine, st.width, b.height-lightLine, lightLine))
	} else {
		b.items = append(items, page.Rule(st.left, lightLine/2, st.left+st.width, lightLine/2, lightLine))
	}
	return b
}

// Diameters of the discs in an entry's head and in an item of a list.
const (
	discSize   = 15
	discInList = 12
)

// title returns the text of a section's heading.
func title(n *doc.Section) string {
	if n.Heading != nil {
		return doc.PlainText(n.Heading)
	}
	return n.Short
}
