package layout

import (
	"math"
	"testing"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/fonts"
	"ownerguide/render/pdf/page"
	"ownerguide/render/pdf/typeset"
)

// luminance is the relative luminance of a color, from 0 to 1. Source: WCAG 2.2, "relative luminance".
func luminance(c page.Color) float64 {
	channel := func(v uint8) float64 {
		if s := float64(v) / 255; s > 0.04045 {
			return math.Pow((s+0.055)/1.055, 2.4)
		} else {
			return s / 12.92
		}
	}
	return 0.2126*channel(c.R) + 0.7152*channel(c.G) + 0.0722*channel(c.B)
}

// contrast is the ratio of two colors' luminances by the formula of WCAG 2.2. It is what is left of two colors on a black-and-white
// printer, too.
func contrast(a, b page.Color) float64 {
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
			if c.Brief = brief; brief {
				c.Consequence = nil
			}
			last := g.Sections[len(g.Sections)-1]
			last.Blocks = append(last.Blocks, c)
		}
	}
	grounds := map[page.Color]int{}
	for _, pg := range laid(t, g).Pages {
		type field struct {
			x1, y1, x2, y2 float64
			fill           page.Color
		}
		var fields []field
		for it := range pg.All() {
			switch it := it.(type) {
			case *page.Shape:
				if it.Fill == nil {
					continue
				}
				f := field{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1), *it.Fill}
				for _, st := range it.Steps {
					if p := st.At[2]; st.Verb != 'h' {
						f.x1, f.y1, f.x2, f.y2 = min(f.x1, p.X), min(f.y1, p.Y), max(f.x2, p.X), max(f.y2, p.Y)
					}
				}
				fields = append(fields, f)
			case *page.Text:
				ground := page.White
				for _, f := range fields {
					if f.x1 <= it.X && it.X <= f.x2 && f.y1 <= it.Y && it.Y <= f.y2 {
						ground = f.fill
					}
				}
				grounds[ground]++
				least := 4.5
				if bold := it.Look.Style == fonts.Bold || it.Look.Style == fonts.BoldItalic; it.Look.Size >= 18 || bold && it.Look.Size >= 14 {
					least = 3
				}
				if ratio := contrast(it.Look.Ink, ground); ratio < least {
					t.Errorf("page %d: %q in %v on %v has a contrast of %.1f to 1, expected %.1f", pg.Number, it.Words, it.Look.Ink, ground, ratio, least)
				}
			}
		}
	}
	for _, w := range []doc.Word{doc.Danger, doc.Warning, doc.Care, doc.Notice} {
		if s, _ := signalOf(w); grounds[s.bar] < 2 {
			t.Errorf("the word %s was met %d times on its bar", w, grounds[s.bar])
		}
	}
	if grounds[page.White] < 200 || grounds[page.Black] == 0 {
		t.Errorf("text was met on these grounds: %v", grounds)
	}
}

// A signal word says its weight without color: by itself, by the frame of a danger, and by the safety alert symbol, which a notice lacks:
// that alone is in italics. On its bar it is read without color, too.
func TestSignalWordsDifferWithoutColour(t *testing.T) {
	danger, _ := signalOf(doc.Danger)
	for _, w := range []doc.Word{doc.Danger, doc.Warning, doc.Care, doc.Notice} {
		s, _ := signalOf(w)
		if w != doc.Danger && s.frame >= danger.frame {
			t.Errorf("%s: its frame is not lighter than that of a danger", w)
		}
		if s.symbol == (w == doc.Notice) || (s.style == fonts.BoldItalic) != (w == doc.Notice) {
			t.Errorf("%s: safety alert symbol is %v, style is %v", w, s.symbol, s.style)
		}
		if ratio := contrast(s.ink, s.bar); ratio < 5.8 { // what the trial pages had
			t.Errorf("%s: the word has a contrast of %.1f to 1", w, ratio)
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
		a, _ := typeset.ColorOf(c.a)
		b, _ := typeset.ColorOf(c.b)
		if ratio := contrast(a, b); ratio < c.least {
			t.Errorf("ink %d on %d has a contrast of %.1f to 1, expected %.1f", c.a, c.b, ratio, c.least)
		}
	}
}
