package layout

import (
	"fmt"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/fonts"
)

// signal is how a signal word looks. Colours are those of ANSI Z535 as printers mix them (from memory); the word, the symbol and the
// weight of the frame say the same without colour. Contrast of word to bar is 4.9 to 1 at least (WCAG 2 formula).
type signal struct {
	bar    Colour
	ink    Colour // of the word
	style  fonts.Style
	frame  float64 // weight of a panel's frame
	symbol bool    // the safety alert symbol
}

// signalOf gives the looks of a signal word; false for a word that is none.
func signalOf(w doc.Word) (signal, bool) {
	red, orange := Colour{0xC8, 0x10, 0x2E}, Colour{0xFF, 0x82, 0x00}
	yellow, blue := Colour{0xFF, 0xD1, 0x00}, Colour{0x00, 0x66, 0xB8}
	switch w {
	case doc.Danger:
		return signal{red, white, fonts.Bold, 3, true}, true
	case doc.Warning:
		return signal{orange, black, fonts.Bold, headLine, true}, true
	case doc.Care:
		return signal{yellow, black, fonts.Bold, headLine, true}, true
	case doc.Notice:
		return signal{blue, white, fonts.BoldItalic, headLine, false}, true
	}
	return signal{}, false
}

// Measures of a panel.
const (
	barHeight  = 18
	panelTop   = 4 // above what it says
	panelRight = 5
	panelFoot  = 6
	avoidSpace = 2 // between lines of how to avoid the hazard
)

// caution sets a safety panel.
func (s *setter) caution(n *doc.Caution, st setting) ([]*box, error) {
	sig, ok := signalOf(n.Word)
	if !ok {
		return nil, fmt.Errorf("%s: caution %s has the signal word %q, expected danger, warning, caution or notice", where(st.origin), n.Name, n.Word)
	}
	st = st.under(&finish.Element{Role: finish.RoleDiv, Title: n.Signal})
	if n.Brief {
		return s.reminder(n, sig, st)
	}
	return s.panel(n, sig, st)
}

// panel sets a panel in full: a bar with the signal word, and below it the hazard in bold, what it can do, and how to avoid it, the last of
// that in bold. It is as wide as its column, inside a list too; a danger that a chapter begins with is as wide as the page, and says how to
// avoid it in the right column.
func (s *setter) panel(n *doc.Caution, sig signal, st setting) ([]*box, error) {
	b := &box{name: fmt.Sprintf("caution %s at %s", n.Name, where(st.origin)), before: 6, after: blockSpace}
	b.span = n.Word == doc.Danger && st.depth <= 1 && st.outer && s.format.columns > 1 && !s.format.card
	width := s.format.column
	if b.span {
		width = st.full
	}
	word := signalWord.inked(sig.ink)
	word.Style = sig.style
	e := st.element(finish.RoleP)
	signals := s.lines([]piece{{text: s.clean(n.Signal, st.origin), look: word}}, width-laneWidth-panelRight, textStyle{leading: barHeight, element: e})
	bar := barHeight * float64(max(len(signals), 1))
	b.items = append(b.items, rectangle(0, 0, width, bar, sig.bar))
	if sig.symbol {
		b.items = append(b.items, alert((laneWidth-alertWidth)/2+1, (barHeight-alertHeight)/2, alertHeight, sig.ink, sig.bar)...)
	}
	b.items = append(b.items, stacked(signals, laneWidth, 0)...)

	in := st
	in.left, in.width, in.indent, in.outer = 0, s.format.column-panelRight, laneWidth, false
	in.text, in.leading = body, leading
	if s.format.card {
		in.text, in.leading = cardText, cardLeading
	}
	beside := in
	hazard := textLook{in.text.bold(), in.leading}
	if b.span {
		beside.left = s.format.column + gutter
		hazard = textLook{gravestText, gravestLeading}
	}
	said, err := s.panelText(n, in, hazard)
	if err != nil {
		return nil, err
	}
	avoid, err := s.panelAvoid(n, beside)
	if err != nil {
		return nil, err
	}
	var items []Item
	var height float64
	if b.span {
		left, high := pile(said)
		right, other := pile(avoid)
		items, height = append(left, right...), max(high, other)
	} else {
		items, height = pile(append(said, avoid...))
	}
	b.items = append(b.items, shift(items, 0, bar+panelTop)...)
	b.height = bar + panelTop + height + panelFoot
	b.items = append(b.items, rule(0, bar, width, bar, headLine),
		outlined(Tag{}, sig.frame/2, sig.frame/2, width-sig.frame, b.height-sig.frame, sig.frame))
	return []*box{b}, nil
}

// textLook is a look with its leading.
type textLook struct {
	Look
	leading float64
}

// panelText sets what a panel says first: the hazard, and what it can do, in one paragraph if both have one leading.
func (s *setter) panelText(n *doc.Caution, st setting, hazard textLook) ([]*box, error) {
	e := st.element(finish.RoleP)
	pieces, err := s.inlines(n.Hazard, hazard.Look, e, st.origin)
	if err != nil {
		return nil, err
	}
	consequence := &finish.Element{Role: finish.RoleP}
	what, err := s.inlines(n.Consequence, st.text, consequence, st.origin)
	if err != nil {
		return nil, err
	}
	var out []*box
	add := func(pieces []piece, leading float64, e *finish.Element) {
		if lines := s.lines(pieces, st.width-st.indent, textStyle{leading: leading, element: e}); len(lines) > 0 {
			out = append(out, &box{items: stacked(lines, st.left+st.indent, 0), height: float64(len(lines)) * leading})
		}
	}
	if len(what) > 0 {
		st.parent.Children = append(st.parent.Children, consequence)
	}
	if hazard.leading != st.leading {
		add(pieces, hazard.leading, e)
		add(what, st.leading, consequence)
		return out, nil
	}
	if len(what) > 0 {
		for i := range what {
			if what[i].element == nil {
				what[i].element = consequence
			}
		}
		pieces = append(append(pieces, piece{text: " ", look: st.text}), what...)
	}
	add(pieces, st.leading, e)
	return out, nil
}

// panelAvoid sets how to avoid the hazard of a panel, a box for each line.
func (s *setter) panelAvoid(n *doc.Caution, st setting) (out []*box, err error) {
	list := st.under(&finish.Element{Role: finish.RoleL, Numbering: "Disc"})
	for i, line := range n.Avoid {
		look := st.text
		if i == len(n.Avoid)-1 {
			look = look.bold()
		}
		item := list.under(&finish.Element{Role: finish.RoleLI})
		label, words := item.element(finish.RoleLbl), item.under(&finish.Element{Role: finish.RoleLBody}).element(finish.RoleP)
		pieces, err := s.inlines(line, look, words, st.origin)
		if err != nil {
			return nil, err
		}
		lines := s.lines(pieces, st.width-laneWidth, textStyle{leading: st.leading, element: words})
		b := &box{before: avoidSpace, height: float64(len(lines)) * st.leading}
		b.items = append([]Item{s.label("•", st.left+bulletAt, look, st.leading, label)}, stacked(lines, st.left+laneWidth, 0)...)
		out = append(out, b)
	}
	return out, nil
}

// reminder sets a panel that stands in full elsewhere as a line of text: the signal word on its colour, the hazard, and what never to do.
func (s *setter) reminder(n *doc.Caution, sig signal, st setting) ([]*box, error) {
	e := st.element(finish.RoleP)
	word := chip.inked(sig.ink)
	word.Style = sig.style
	pieces := []piece{{text: s.clean(n.Signal, st.origin), look: word, mark: signaled, fill: sig.bar, element: e}, {text: " ", look: st.text}}
	hazard, err := s.inlines(n.Hazard, st.text.bold(), e, st.origin)
	if err != nil {
		return nil, err
	}
	pieces = append(pieces, hazard...)
	avoid := st.element(finish.RoleP)
	for _, line := range n.Avoid {
		words, err := s.inlines(line, st.text, avoid, st.origin)
		if err != nil {
			return nil, err
		}
		for i := range words {
			if words[i].element == nil {
				words[i].element = avoid
			}
		}
		pieces = append(append(pieces, piece{text: " ", look: st.text}), words...)
	}
	if n.Full != "" {
		if pieces, err = s.seePanel(n, pieces, avoid, st); err != nil {
			return nil, err
		}
	}
	left := 0.0
	lines := s.lines(pieces, s.format.column-laneWidth, textStyle{leading: st.leading, element: e})
	out := &box{before: blockSpace, after: blockSpace, height: float64(len(lines)) * st.leading, name: fmt.Sprintf("caution %s at %s", n.Name, where(st.origin))}
	out.items = stacked(lines, left+laneWidth, 0)
	if sig.symbol {
		out.items = append(alert(left+(laneWidth-reminderAlert*alertWide)/2-2, (st.leading-reminderAlert)/2, reminderAlert, black, white), out.items...)
	}
	return []*box{out}, nil
}

// seePanel adds the page of the panel in full.
func (s *setter) seePanel(n *doc.Caution, pieces []piece, e *finish.Element, st setting) ([]piece, error) {
	if !s.anchors[n.Full] {
		return nil, fmt.Errorf("%s: caution %s leads to the panel %q, but no part of this guide has that id", where(st.origin), n.Name, n.Full)
	}
	see := s.word("see-page", "n", hole)
	link := &reference{element: &finish.Element{Role: finish.RoleLink}, to: "#" + n.Full, words: doc.PlainText(n.Hazard...) + ", " + see}
	e.Children = append(e.Children, link.element)
	return append(pieces, piece{text: " ", look: st.text, element: e},
		piece{text: "(" + glued(see) + ")", look: st.text, page: n.Full, element: link.element, link: link}), nil
}

// Size of the safety alert symbol.
const (
	alertHeight   = 12.4
	alertWidth    = alertHeight * alertWide
	alertWide     = 13.5 / 12.4 // width by height
	reminderAlert = 11
)

// alert draws the safety alert symbol, an exclamation mark in a triangle. It is an artifact: the signal word says it.
func alert(x, y, h float64, triangle, mark Colour) []Item {
	w := h * alertWide
	mid := x + w/2
	body := &Shape{
		Steps: polygon(Point{mid, y + 0.07*h}, Point{x + 0.93*w, y + 0.93*h}, Point{x + 0.07*w, y + 0.93*h}),
		Fill:  &triangle, Line: &triangle, Width: 0.14 * h, Round: true,
	}
	stroke := &Shape{
		Steps: polygon(Point{mid - 0.095*h, y + 0.32*h}, Point{mid + 0.095*h, y + 0.32*h}, Point{mid + 0.057*h, y + 0.68*h}, Point{mid - 0.057*h, y + 0.68*h}),
		Fill:  &mark,
	}
	return []Item{body, stroke, disc(mid, y+0.82*h, 0.09*h, mark)}
}

// octagon draws the mark of a limit, as a filled octagon of a height.
func octagon(x, y, h float64) Item {
	c := h * 0.2929 // what an octagon's corner cuts off: 1 - 1/√2
	return &Shape{Steps: polygon(Point{x + c, y}, Point{x + h - c, y}, Point{x + h, y + c}, Point{x + h, y + h - c},
		Point{x + h - c, y + h}, Point{x + c, y + h}, Point{x, y + h - c}, Point{x, y + c}), Fill: &black}
}
