package typeset

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"ownerguide/render/pdf/fonts"
	"ownerguide/render/pdf/page"
)

var plain = page.Look{Style: fonts.Regular, Size: 10, Ink: page.Black}

// joined is what lines say, with a bar at the end of each.
func joined(lines []*Line) (out string) {
	res := &PageNumbers{Ruler: NewRuler(2)}
	for _, l := range lines {
		for _, it := range res.place(nil, l) {
			if w, ok := it.(*page.Text); ok {
				out += w.Words
			}
		}
		out += "|"
	}
	return out
}

// "900" at the end of a line and "mi" on the next reads as 900 of whatever came before.
func TestNumberAndUnitStayTogether(t *testing.T) {
	r := NewRuler(2)
	pieces := []Piece{{Text: "Do it every ", Look: plain}, {Text: "900\u00a0mi", Look: plain.Bold()}, {Text: ", or after 2\u00a0months on a salted road.", Look: plain}}
	for width := 60.0; width < 400; width += 0.5 {
		lines := r.Lines(pieces, width, Style{Leading: 12})
		for _, l := range lines {
			if l.Width > width+Slack {
				t.Errorf("a line is %.2f wide, the measure is %.2f", l.Width, width)
			}
		}
		if all := joined(lines); !strings.Contains(all, "900\u00a0mi") || !strings.Contains(all, "2\u00a0months") {
			t.Fatalf("at %.1f a number is parted from its unit: %s", width, all)
		}
	}
}

// The width of nothing must not hang the program: one character a line is the least.
func TestNarrowMeasuresEnd(t *testing.T) {
	r := NewRuler(2)
	for _, width := range []float64{-10, 0, 0.001, 3, 9} {
		for _, text := range []string{"", " ", "  \u200b ", "W", "Wheel nuts", "900\u00a0mi", "--", "\u00a0", "é½≤", "a\u200bb", strings.Repeat("x", 500)} {
			lines := r.Lines([]Piece{{Text: text, Look: plain}, {Breaks: true}, {Mark: Boxed, Look: plain}}, width, Style{Leading: 12})
			got := strings.NewReplacer(" ", "", "|", "").Replace(joined(lines))
			want := strings.NewReplacer(" ", "", "\u200b", "").Replace(text)
			if got != want {
				t.Errorf("width %g: %q became %q", width, text, got)
			}
		}
	}
}

// A heading of two lines reads better when they are of like length.
func TestHeadingsAreBalanced(t *testing.T) {
	r := NewRuler(2)
	lines := r.Lines([]Piece{{Text: "Before you let anybody else pull the trailer away", Look: plain}}, 200, Style{Leading: 12, Balanced: true})
	if len(lines) != 2 || min(lines[0].Width, lines[1].Width) < 0.75*max(lines[0].Width, lines[1].Width) {
		t.Errorf("%d lines, the first two %.0f and %.0f wide", len(lines), lines[0].Width, lines[len(lines)-1].Width)
	}
}

// Page numbers of as many figures as room was kept for never make a line longer than its measure.
func TestPageNumbersFit(t *testing.T) {
	r := NewRuler(2)
	rapid.Check(t, func(t *rapid.T) {
		number := rapid.IntRange(1, 99).Draw(t, "page")
		look := plain
		if rapid.Bool().Draw(t, "bold") {
			look = look.Bold()
		}
		pieces := []Piece{{Text: rapid.StringMatching(`[a-z]{1,9}( [a-z]{1,9}){0,12} `).Draw(t, "words"), Look: look}, {Text: "(page\u00a0" + Hole + ")", Look: look, Page: "x"}, {Text: ". And more.", Look: look}}
		width := float64(rapid.IntRange(80, 240).Draw(t, "width"))
		res := &PageNumbers{Of: map[string]int{"x": number}, Ruler: r}
		for _, l := range r.Lines(pieces, width, Style{Leading: 12}) {
			end := 0.0
			for _, it := range res.place(nil, l) {
				w := it.(*page.Text)
				end = math.Max(end, w.X+r.Width(w.Look, strings.TrimRight(w.Words, " ")))
			}
			if end > width+0.5 { // kerning across a space may differ
				t.Fatalf("page %d: a line ends at %.2f, the measure is %.0f", number, end, width)
			}
		}
	})
}
