package pdf

import (
	"fmt"

	"github.com/yuin/goldmark/ast"

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
	barHeight    = 20.0
	panelPad     = 9
	panelLeading = 14

	briefSignalSize = 10.5
	briefBarHeight  = 18.0 // still holds the alert symbol
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

// caution sets a safety panel as one slab: the bar with the signal word, the hazard in bold, the consequence, how to avoid it.
func (l *layout) caution(n *doc.Caution, s setting) ([]*slab, error) {
	sig, ok := signalOf(n.Word)
	if !ok {
		return nil, fmt.Errorf("%s: caution %s has the signal word %q, expected danger, warning, caution or notice", at(n), n.ID, n.Word)
	}
	s = s.under(&finish.Element{Role: finish.RoleDiv, Title: n.Signal})
	s.outer = false
	left, width := s.left, s.width
	out := &slab{above: 7, below: 10, name: fmt.Sprintf("caution %s at %s", n.ID, at(n))}
	if next := n.NextSibling(); next != nil && next.Kind() != doc.KindCaution && next.Kind() != doc.KindSection {
		out.after = wrong // it stands before the step it protects
	}

	barHeight, pad, word := barHeight, 7.0, s.element(finish.RoleP)
	if n.Brief { // the full panel stands earlier in the chapter
		barHeight, pad, sig.word.size = briefBarHeight, 4, briefSignalSize
	}
	x := left + panelPad
	if sig.symbol {
		x += alertHeight*alertWide + 7
	}
	signalWord := []piece{{text: l.clean(n.Signal, origin(n)), look: sig.word}}
	lines := l.set(signalWord, left+width-panelPad-x, textStyle{leading: barHeight, element: word})
	bar := barHeight * float64(max(len(lines), 1))
	out.items = append(out.items, rectangle(tag{}, left, 0, width, bar, sig.bar))
	if sig.symbol {
		out.items = append(out.items, alert(left+panelPad, (barHeight-alertHeight)/2, sig.word.ink, sig.inner)...)
	}
	for i, ln := range lines {
		out.items = append(out.items, shift(ln.items, x, float64(i)*barHeight)...)
	}

	inner := s
	inner.left, inner.width = left+panelPad, max(width-2*panelPad, leastWidth/2)
	inner.below = 4
	inner.leading = panelLeading
	slabs, err := l.cautionBody(n, inner)
	if err != nil {
		return nil, err
	}
	items, height := pile(slabs)
	out.items = append(out.items, shift(items, 0, bar+pad-2)...)
	out.height = bar + pad - 2 + height + pad
	out.items = append(out.items,
		outlined(tag{}, left+sig.frame/2, sig.frame/2, width-sig.frame, out.height-sig.frame, sig.frame, black),
		rule(tag{}, left, bar, left+width, bar, min(sig.frame, 1), black))
	return []*slab{out}, nil
}

// cautionBody sets what a panel says; its first paragraph, the hazard, in bold.
func (l *layout) cautionBody(n *doc.Caution, s setting) ([]*slab, error) {
	var out []*slab
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		set := s
		if c.PreviousSibling() == nil && c.Kind() == ast.KindParagraph {
			set.text = set.text.bold()
			set.below = 2
		}
		slabs, err := l.anchored(c, set)
		if err != nil {
			return nil, err
		}
		out = append(out, slabs...)
	}
	return out, nil
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
