package layout

import (
	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/page"
	"ownerguide/render/pdf/typeset"
)

// Dimensions of fields to fill in.
const (
	writingLine = 24  // distance of ruled lines
	labelShare  = 0.4 // fraction of the width: a longer label is above its line
)

// form sets a field: one line next to its label, or several lines below it.
func (s *setter) form(n *doc.Form, st setting) []*box {
	span := s.spanningForm(n, st)
	if span {
		st = st.spanning()
	}
	label := st.element(finish.RoleP)
	is := &name{"form", st.origin}
	left, width := st.left+st.indent, st.width-st.indent
	lines := s.Lines([]typeset.Piece{{Text: s.Clean(n.Label, st.origin), Look: st.caption}}, width, typeset.Style{Leading: st.leading, Element: label})
	field := st.element(finish.RoleP)
	blank := &finish.Element{Role: finish.RoleSpan, Alt: s.word("to-fill-in")}
	field.Children = []*finish.Element{blank}
	ruled := func(x float64) page.Item {
		r := page.Rule(x, writingLine-lightLine/2, left+width, writingLine-lightLine/2, lightLine)
		r.Element = blank
		return r
	}

	rules := max(n.Rules, 1)
	if rules == 1 && len(lines) == 1 && lines[0].Width < width*labelShare {
		b := &box{height: writingLine, before: blockSpace, name: is}
		b.items = append(typeset.Stacked(lines, left, writingLine-st.leading), ruled(left+lines[0].Width+6))
		return []*box{b}
	}
	out := lineBoxes(lines, left, ruleHead, is)
	keepTogether(out, ruleHead)
	if len(out) > 0 {
		out[0].before = 6
	}
	for i := range rules {
		b := &box{height: writingLine, name: is, free: true, items: []page.Item{ruled(left)}}
		switch {
		case i == 0:
			b.keep(ruleHead)
		case rules <= fewRules: // a few lines stay together
			b.keep(ruleSingle)
		}
		out = append(out, b)
	}
	out[len(out)-1].after = 6
	for _, b := range out {
		b.span = span
	}
	return out
}

// spanningForm reports whether a field is set across the page, which is so if it has several lines.
func (s *setter) spanningForm(n *doc.Form, st setting) bool {
	return s.format.Columns > 1 && st.outer && n.Rules > 1
}

// fewRules is the maximum number of lines that are kept together.
const fewRules = 6
