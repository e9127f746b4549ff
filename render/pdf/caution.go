package pdf

import (
	"fmt"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/fonts"
)

// signal is how the bar of a safety panel looks. Colours are those of ANSI Z535 as printers mix them (from memory); the word, the
// symbol and the weight of the frame say the same without colour. Contrast of word to bar is 4.9 to 1 at least (WCAG 2 formula).
type signal struct {
	bar    colour
	word   look
	frame  float64 // weight of the frame, points
	symbol bool    // the safety alert symbol
	inner  colour  // of the exclamation mark
}

const (
	signalSize   = 12.5
	barHeight    = 19.0
	panelPad     = 9
	panelGap     = 4.5 // above and below what a panel says
	panelLeading = 13.5

	columnsFrom = 340  // width from which a panel may have two columns
	hazardShare = 0.37 // of the width for the left of them

	briefSignalSize = 10.5
	briefField      = 92.0 // width of the field with the signal word: one for all English words
)

// signalOf gives the looks of a signal word; false for a word that is none.
func signalOf(w doc.Word) (signal, bool) {
	red, orange := colour{0xC8, 0x10, 0x2E}, colour{0xFF, 0x82, 0x00}
	yellow, blue := colour{0xFF, 0xD1, 0x00}, colour{0x00, 0x72, 0xCE}
	switch w {
	case doc.Danger:
		return signal{red, look{fonts.Bold, signalSize, white}, 2.5, true, red}, true
	case doc.Warning:
		return signal{orange, look{fonts.Bold, signalSize, black}, 1.75, true, orange}, true
	case doc.Care:
		return signal{yellow, look{fonts.Bold, signalSize, black}, 1.1, true, yellow}, true
	case doc.Notice:
		return signal{blue, look{fonts.BoldItalic, signalSize, white}, 0.6, false, blue}, true
	}
	return signal{}, false
}

// caution sets a safety panel as one slab. A full one has a bar with the signal word across its top, and below it the hazard in bold,
// the consequence, and how to avoid it. A brief one has the signal word at its left.
func (l *layout) caution(n *doc.Caution, s setting) ([]*slab, error) {
	sig, ok := signalOf(n.Word)
	if !ok {
		return nil, fmt.Errorf("%s: caution %s has the signal word %q, expected danger, warning, caution or notice", s.where(), n.Name, n.Word)
	}
	s = s.under(&finish.Element{Role: finish.RoleDiv, Title: n.Signal})
	s.outer = false
	out := &slab{above: 6, below: 7, name: fmt.Sprintf("caution %s at %s", n.Name, s.where())}
	if len(s.next) > 0 {
		switch s.next[0].(type) {
		case *doc.Caution, *doc.Section:
		default:
			out.after = wrong // it stands before the step it protects
		}
	}
	if n.Brief { // the full panel stands elsewhere
		sig.word.size = briefSignalSize
	}
	word := s.element(finish.RoleP)
	x := float64(panelPad)
	if sig.symbol {
		x += alertHeight*alertWide + 6
	}
	lines := l.set([]piece{{text: l.clean(n.Signal, s.origin), look: sig.word}}, s.width-panelPad-x, textStyle{leading: barHeight, element: word})
	long := 0.0
	for _, ln := range lines {
		long = max(long, ln.width)
	}
	field := finish.Box{X: s.left, W: s.width, H: barHeight * float64(max(len(lines), 1))}
	text := finish.Box{X: s.left + panelPad, Y: field.H + panelGap, W: max(s.width-2*panelPad, leastWidth/2)}
	beside := n.Brief && x+long+panelPad < s.width/3
	if beside {
		field.W = max(briefField, x+long+panelPad)
		text = finish.Box{X: s.left + field.W + panelPad, Y: panelGap, W: s.width - field.W - 2*panelPad}
	}

	body, height, err := l.cautionBody(n, s, text)
	if err != nil {
		return nil, err
	}
	out.height = text.Y + height + panelGap
	edge := rule(tag{}, s.left, field.H, s.left+s.width, field.H, min(sig.frame, 1), black)
	if beside {
		field.H = max(field.H, out.height)
		out.height = field.H
		edge = rule(tag{}, s.left+field.W, 0, s.left+field.W, field.H, min(sig.frame, 1), black)
	}
	out.items = append(out.items, rectangle(tag{}, field.X, 0, field.W, field.H, sig.bar))
	if sig.symbol {
		out.items = append(out.items, alert(s.left+panelPad, (barHeight-alertHeight)/2, sig.word.ink, sig.inner)...)
	}
	for i, ln := range lines {
		out.items = append(out.items, shift(ln.items, s.left+x, float64(i)*barHeight)...)
	}
	out.items = append(out.items, body...)
	out.items = append(out.items, edge,
		outlined(tag{}, s.left+sig.frame/2, sig.frame/2, s.width-sig.frame, out.height-sig.frame, sig.frame, black))
	return []*slab{out}, nil
}

// cautionBody sets what a panel says into a field; its first paragraph, the hazard, in bold. A list at its end, which tells how to
// avoid the hazard, stands in a column of its own on the right, if there is room: panels are lower by that, and read at two glances.
func (l *layout) cautionBody(n *doc.Caution, s setting, field finish.Box) ([]item, float64, error) {
	s.left, s.width, s.below, s.leading = field.X, field.W, 3, panelLeading
	beside := !n.Brief && s.width >= columnsFrom
	left, right := s, s
	if beside {
		left.width = s.width * hazardShare
		right.left += left.width + columnGutter
		right.width -= left.width + columnGutter
	}
	var stack, column []*slab
	list := n.Blocks()
	for i, c := range list {
		set := left
		last := beside && i == len(list)-1
		if last {
			set = right
		}
		if i == 0 {
			set.text = set.text.bold()
			set.below = 1
		}
		set.next = list[i+1:]
		slabs, err := l.anchored(c, set)
		if err != nil {
			return nil, 0, err
		}
		if last {
			column = slabs
		} else {
			stack = append(stack, slabs...)
		}
	}
	items, height := pile(stack)
	more, other := pile(column)
	return shift(append(items, more...), 0, field.Y), max(height, other), nil
}

// Size of the safety alert symbol.
const (
	alertHeight = 14
	alertWide   = 1.12 // width by height
)

// alert draws the safety alert symbol, an exclamation mark in a triangle with rounded corners. It is an artifact: the signal word says it.
func alert(x, y float64, triangle, mark colour) []item {
	h := float64(alertHeight)
	w := h * alertWide
	mid := x + w/2
	body := &shape{
		steps: []step{to('m', mid, y+1), to('l', x+w-1, y+h-1), to('l', x+1, y+h-1), {verb: 'h'}},
		fill:  &triangle, line: &triangle, width: 2, round: true,
	}
	stroke := &shape{
		steps: []step{
			to('m', mid-1.35, y+h*0.32), to('l', mid+1.35, y+h*0.32),
			to('l', mid+0.8, y+h*0.68), to('l', mid-0.8, y+h*0.68), {verb: 'h'},
		},
		fill: &mark,
	}
	return []item{body, stroke, disc(tag{}, mid, y+h*0.82, 1.25, &mark, nil, 0)}
}
