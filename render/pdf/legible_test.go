package pdf

import (
	"math"
	"testing"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/fonts"
)

// luminance is the relative luminance of a colour, from 0 to 1. Source: WCAG 2.2, "relative luminance".
func luminance(c colour) float64 {
	channel := func(v uint8) float64 {
		if s := float64(v) / 255; s > 0.04045 {
			return math.Pow((s+0.055)/1.055, 2.4)
		} else {
			return s / 12.92
		}
	}
	return 0.2126*channel(c.r) + 0.7152*channel(c.g) + 0.0722*channel(c.b)
}

// contrast is the ratio of two colours' luminances by the formula of WCAG 2.2. It is what is left of two colours on a black-and-white
// printer, too.
func contrast(a, b colour) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

// Everything that is read stands out from what it stands on by lightness alone: 4.5 to 1, large type 3 to 1 (success criterion 1.4.3 of
// WCAG 2.2: large is 18 points, or 14 in bold).
func TestTextIsLegibleWithoutColour(t *testing.T) {
	g := wholeGuide()
	for _, w := range []doc.Word{doc.Danger, doc.Warning, doc.Care, doc.Notice} {
		for _, brief := range []bool{false, true} {
			c := caution(w, "c"+string(w), "It rolls.", "It can crush you.", "Chock it.")
			c.Brief = brief
			last := g.Sections[len(g.Sections)-1]
			last.Blocks = append(last.Blocks, c)
		}
	}
	grounds := map[colour]int{}
	for _, pg := range laid(t, g).pages {
		type field struct {
			x1, y1, x2, y2 float64
			fill           colour
		}
		var fields []field
		for _, it := range pg.items {
			switch it := it.(type) {
			case *shape:
				if it.fill == nil {
					continue
				}
				f := field{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1), *it.fill}
				for _, st := range it.steps {
					if p := st.at[2]; st.verb != 'h' {
						f.x1, f.y1, f.x2, f.y2 = min(f.x1, p.x), min(f.y1, p.y), max(f.x2, p.x), max(f.y2, p.y)
					}
				}
				fields = append(fields, f)
			case *run:
				ground := white
				for _, f := range fields {
					if f.x1 <= it.x && it.x <= f.x2 && f.y1 <= it.y && it.y <= f.y2 {
						ground = f.fill
					}
				}
				grounds[ground]++
				least := 4.5
				if bold := it.look.style == fonts.Bold || it.look.style == fonts.BoldItalic; it.look.size >= 18 || bold && it.look.size >= 14 {
					least = 3
				}
				if ratio := contrast(it.look.ink, ground); ratio < least {
					t.Errorf("page %d: %q in %v on %v has a contrast of %.1f to 1, expected %.1f", pg.number, it.text, it.look.ink, ground, ratio, least)
				}
			}
		}
	}
	for _, w := range []doc.Word{doc.Danger, doc.Warning, doc.Care, doc.Notice} {
		if s, _ := signalOf(w); grounds[s.bar] < 2 {
			t.Errorf("the word %s was met %d times on its bar", w, grounds[s.bar])
		}
	}
	if grounds[white] < 200 || grounds[tabFill] == 0 {
		t.Errorf("text was met on these grounds: %v", grounds)
	}
}

// A signal word says its weight without colour: by itself, by its frame and by the safety alert symbol, which a notice lacks.
func TestSignalWordsDifferWithoutColour(t *testing.T) {
	weight := math.Inf(1)
	for _, w := range []doc.Word{doc.Danger, doc.Warning, doc.Care, doc.Notice} {
		s, _ := signalOf(w)
		if s.frame >= weight {
			t.Errorf("%s: its frame is not lighter than that of the graver word", w)
		}
		weight = s.frame
		if s.symbol == (w == doc.Notice) {
			t.Errorf("%s: safety alert symbol is %v", w, s.symbol)
		}
		if s.symbol && contrast(s.word.ink, s.inner) < 3 { // WCAG 2.2, 1.4.11: what a graphic needs to be understood
			t.Errorf("%s: the mark in the symbol has a contrast of %.1f to 1", w, contrast(s.word.ink, s.inner))
		}
	}
}

// The inks of drawings are told apart on paper: outlines from every fill, and a signal from its ground.
func TestInksOfDrawingsAreToldApart(t *testing.T) {
	for _, c := range []struct {
		a, b  doc.Ink
		least float64
	}{
		{doc.Full, doc.Pale, 4.5}, {doc.Full, doc.Faint, 4.5}, {doc.Middle, doc.Paper, 4.5}, {doc.Signal, doc.Paper, 4.5}, {doc.Signal, doc.Pale, 4.5}, {doc.Full, doc.Middle, 3},
	} {
		a, _ := inkOf(c.a)
		b, _ := inkOf(c.b)
		if ratio := contrast(a, b); ratio < c.least {
			t.Errorf("ink %d on %d has a contrast of %.1f to 1, expected %.1f", c.a, c.b, ratio, c.least)
		}
	}
}
