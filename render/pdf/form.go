package pdf

import (
	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
)

const (
	formRule  = 26 // between lines to write on
	formLabel = 0.4
)

// form sets a place to write on: one line beside its label, several below it.
func (l *layout) form(n *doc.Form, s setting) ([]*slab, error) {
	label := s.element(finish.RoleP)
	name := "form at " + s.where()
	lines := l.set([]piece{{text: l.clean(n.Label, s.origin), look: s.text}}, s.width, textStyle{leading: s.leading, element: label})
	field := s.element(finish.RoleP)
	blank := &finish.Element{Role: finish.RoleSpan, Alt: l.word("to-fill-in")}
	field.Children = []*finish.Element{blank}

	rules := max(n.Rules, 1)
	if rules == 1 && len(lines) == 1 && lines[0].width < s.width*formLabel {
		x := s.left + lines[0].width + 8
		out := &slab{height: formRule, below: 4, name: name}
		out.items = append(shift(lines[0].items, s.left, formRule-s.leading),
			rule(tag{element: blank}, x, formRule-3, s.left+s.width, formRule-3, 0.6, black))
		return []*slab{out}, nil
	}
	out := l.slabs(lines, s.left, s.leading, name)
	if len(out) > 0 {
		out[0].above = 10
	}
	for _, sl := range out {
		sl.after = wrong
	}
	for i := range rules {
		r := &slab{height: formRule, name: name}
		r.items = []item{rule(tag{element: blank}, s.left, formRule-3, s.left+s.width, formRule-3, 0.6, black)}
		if i == rules-1 {
			r.below = 8
		} else if rules <= 6 {
			r.after = ugly // a few lines stay together
		}
		out = append(out, r)
	}
	return out, nil
}
