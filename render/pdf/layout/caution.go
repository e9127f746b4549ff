package layout

import (
	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/fonts"
	"ownerguide/render/pdf/page"
	"ownerguide/render/pdf/paper"
	"ownerguide/render/pdf/typeset"
)

// signal is the appearance of a signal word. Colors are those of ANSI Z535 as printers mix them (from memory); the word, the symbol and
// the weight of the frame carry the same information without color. Contrast of word to bar is 4.9 to 1 at least (WCAG 2 formula).
type signal struct {
	bar    page.Color
	ink    page.Color // of the word
	style  fonts.Style
	frame  float64 // line width of a panel's frame
	symbol bool    // the safety alert symbol
}

// signalOf returns the appearance of a signal word; false if the word is unknown.
func signalOf(w doc.Word) (signal, bool) {
	red, orange := page.Color{R: 0xC8, G: 0x10, B: 0x2E}, page.Color{R: 0xFF, G: 0x82, B: 0x00}
	yellow, blue := page.Color{R: 0xFF, G: 0xD1, B: 0x00}, page.Color{R: 0x00, G: 0x66, B: 0xB8}
	switch w {
	case doc.Danger:
		return signal{red, page.White, fonts.Bold, 3, true}, true
	case doc.Warning:
		return signal{orange, page.Black, fonts.Bold, headLine, true}, true
	case doc.Care:
		return signal{yellow, page.Black, fonts.Bold, headLine, true}, true
	case doc.Notice:
		return signal{blue, page.White, fonts.BoldItalic, headLine, false}, true
	}
	return signal{}, false
}

// Dimensions of a panel.
const (
	barHeight  = 18
	panelTop   = 4 // above its text
	panelRight = 5
	panelFoot  = 6
	avoidSpace = 2 // between lines of how to avoid the hazard
)

// caution sets a safety panel.
func (s *setter) caution(n *doc.Caution, st setting) []*box {
	sig, ok := signalOf(n.Word)
	if !ok {
		s.fail("%s: caution %s has the signal word %q, expected danger, warning, caution or notice", where(st.origin), n.Name, n.Word)
		return nil
	}
	st = st.under(&finish.Element{Role: finish.RoleDiv, Title: n.Signal})
	if n.Brief {
		return s.reminder(n, sig, st)
	}
	return s.panel(n, sig, st)
}

// panel sets a full panel: a bar with the signal word, and below it the hazard in bold, the consequence, and how to avoid it, with the last
// line in bold. It is as wide as its column, also inside a list. A danger at the beginning of a chapter is as wide as the page, with how to
// avoid it in the right column.
func (s *setter) panel(n *doc.Caution, sig signal, st setting) []*box {
	b := &box{name: &name{"caution " + n.Name, st.origin}, before: 6, after: blockSpace}
	b.span = n.Word == doc.Danger && st.depth <= 1 && st.first && st.outer && s.format.Columns > 1 && !s.format.Card
	width := s.format.ColumnWidth
	if b.span {
		width = st.full
	}
	word := signalWord.Inked(sig.ink)
	word.Style = sig.style
	e := st.element(finish.RoleP)
	signals := s.Lines([]typeset.Piece{{Text: s.Clean(n.Signal, st.origin), Look: word}}, width-laneWidth-panelRight, typeset.Style{Leading: barHeight, Element: e})
	bar := barHeight * float64(max(len(signals), 1))
	b.items = append(b.items, page.Rectangle(0, 0, width, bar, sig.bar))
	if sig.symbol {
		b.items = append(b.items, page.Alert((laneWidth-alertWidth)/2+1, (barHeight-alertHeight)/2, alertHeight, sig.ink, sig.bar)...)
	}
	b.items = append(b.items, typeset.Stacked(signals, laneWidth, 0)...)

	in := st
	in.left, in.width, in.indent, in.outer = 0, s.format.ColumnWidth-panelRight, laneWidth, false
	in.text, in.leading = body, leading
	if s.format.Card {
		in.text, in.leading = cardText, cardLeading
	}
	beside := in
	hazard := textLook{in.text.Bold(), in.leading}
	if b.span {
		beside.left = s.format.ColumnWidth + paper.Gutter
		hazard = textLook{gravestText, gravestLeading}
	}
	said := s.panelText(n, in, hazard)
	avoid := s.panelAvoid(n, beside)
	var items []page.Item
	var height float64
	if b.span {
		left, high := stack(said)
		right, other := stack(avoid)
		items, height = append(left, right...), max(high, other)
	} else {
		items, height = stack(append(said, avoid...))
	}
	b.items = append(b.items, page.Shift(items, 0, bar+panelTop)...)
	b.height = bar + panelTop + height + panelFoot
	b.items = append(b.items, page.Rule(0, bar, width, bar, headLine),
		page.OutlinedRectangle(page.Tag{}, sig.frame/2, sig.frame/2, width-sig.frame, b.height-sig.frame, sig.frame))
	return []*box{b}
}

// textLook is a look with its leading.
type textLook struct {
	page.Look
	leading float64
}

// panelText sets the hazard and the consequence, in one paragraph if they have the same leading.
func (s *setter) panelText(n *doc.Caution, st setting, hazard textLook) []*box {
	e := st.element(finish.RoleP)
	pieces := s.inlines(n.Hazard, hazard.Look, e, st.origin)
	consequence := &finish.Element{Role: finish.RoleP}
	what := s.inlines(n.Consequence, st.text, consequence, st.origin)
	var out []*box
	add := func(pieces []typeset.Piece, leading float64, e *finish.Element) {
		if lines := s.Lines(pieces, st.width-st.indent, typeset.Style{Leading: leading, Element: e}); len(lines) > 0 {
			out = append(out, &box{items: typeset.Stacked(lines, st.left+st.indent, 0), height: float64(len(lines)) * leading})
		}
	}
	if len(what) > 0 {
		st.parent.Children = append(st.parent.Children, consequence)
	}
	if hazard.leading != st.leading {
		add(pieces, hazard.leading, e)
		add(what, st.leading, consequence)
		return out
	}
	if len(what) > 0 {
		for i := range what {
			if what[i].Element == nil {
				what[i].Element = consequence
			}
		}
		pieces = append(append(pieces, typeset.Piece{Text: " ", Look: st.text}), what...)
	}
	add(pieces, st.leading, e)
	return out
}

// panelAvoid sets how to avoid the hazard of a panel, one box for each line.
func (s *setter) panelAvoid(n *doc.Caution, st setting) (out []*box) {
	list := st.under(&finish.Element{Role: finish.RoleL, Numbering: "Disc"})
	for i, line := range n.Avoid {
		look := st.text
		if i == len(n.Avoid)-1 {
			look = look.Bold()
		}
		item := list.under(&finish.Element{Role: finish.RoleLI})
		label, words := item.element(finish.RoleLbl), item.element(finish.RoleLBody)
		pieces := s.inlines(line, look, words, st.origin)
		lines := s.Lines(pieces, st.width-laneWidth, typeset.Style{Leading: st.leading, Element: words})
		b := &box{before: avoidSpace, height: float64(len(lines)) * st.leading}
		b.items = append([]page.Item{s.label("•", st.left+bulletAt, look, st.leading, label)}, typeset.Stacked(lines, st.left+laneWidth, 0)...)
		out = append(out, b)
	}
	return out
}

// reminder sets a reminder as a line of text: the signal word on its color, the hazard, and what never to do.
func (s *setter) reminder(n *doc.Caution, sig signal, st setting) []*box {
	e := st.element(finish.RoleP)
	word := chip.Inked(sig.ink)
	word.Style = sig.style
	pieces := []typeset.Piece{{Text: s.Clean(n.Signal, st.origin), Look: word, Mark: typeset.Signaled, Fill: sig.bar, Element: e}, {Text: " ", Look: st.text}}
	hazard := s.inlines(n.Hazard, st.text.Bold(), e, st.origin)
	pieces = append(pieces, hazard...)
	avoid := st.element(finish.RoleP)
	for _, line := range n.Avoid {
		words := s.inlines(line, st.text, avoid, st.origin)
		for i := range words {
			if words[i].Element == nil {
				words[i].Element = avoid
			}
		}
		pieces = append(append(pieces, typeset.Piece{Text: " ", Look: st.text}), words...)
	}
	if n.Full != "" {
		pieces = s.seePanel(n, pieces, avoid, st)
	}
	left := 0.0
	lines := s.Lines(pieces, s.format.ColumnWidth-laneWidth, typeset.Style{Leading: st.leading, Element: e})
	out := &box{before: blockSpace, after: blockSpace, height: float64(len(lines)) * st.leading, name: &name{"caution " + n.Name, st.origin}}
	out.items = typeset.Stacked(lines, left+laneWidth, 0)
	if sig.symbol {
		out.items = append(page.Alert(left+(laneWidth-reminderAlert*page.AlertWide)/2-2, (st.leading-reminderAlert)/2, reminderAlert, page.Black, page.White), out.items...)
	}
	return []*box{out}
}

// seePanel appends the page number of the full panel.
func (s *setter) seePanel(n *doc.Caution, pieces []typeset.Piece, e *finish.Element, st setting) []typeset.Piece {
	if !s.leads(n.Full) {
		s.fail("%s: caution %s leads to the panel %q, but no part of this guide has that id", where(st.origin), n.Name, n.Full)
	}
	link := &typeset.Reference{Element: &finish.Element{Role: finish.RoleLink}, To: "#" + n.Full, Words: s.word("link-page", "link", doc.PlainText(n.Hazard...), "n", typeset.Hole)}
	e.Children = append(e.Children, link.Element)
	return append(pieces, s.pageBehind(n.Full, len(n.Avoid) == 0, typeset.Piece{Look: st.text, Element: link.Element, Link: link})...)
}

// Size of the safety alert symbol.
const (
	alertHeight   = 12.4
	alertWidth    = alertHeight * page.AlertWide
	reminderAlert = 11
)
