package layout

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"ownerguide/render/pdf/fonts"
)

var plain = Look{Style: fonts.Regular, Size: 10, Ink: black}

// joined is what lines say, with a bar at the end of each.
func joined(lines []*setLine) (out string) {
	res := &pages{ruler: newRuler(2)}
	for _, l := range lines {
		for _, it := range res.place(l) {
			if w, ok := it.(*Text); ok {
				out += w.Words
			}
		}
		out += "|"
	}
	return out
}

// "900" at the end of a line and "mi" on the next reads as 900 of whatever came before.
func TestNumberAndUnitStayTogether(t *testing.T) {
	r := newRuler(2)
	pieces := []piece{{text: "Do it every ", look: plain}, {text: "900\u00a0mi", look: plain.bold()}, {text: ", or after 2\u00a0months on a salted road.", look: plain}}
	for width := 60.0; width < 400; width += 0.5 {
		lines := r.lines(pieces, width, textStyle{leading: 12})
		for _, l := range lines {
			if l.width > width+slack {
				t.Errorf("a line is %.2f wide, the measure is %.2f", l.width, width)
			}
		}
		if all := joined(lines); !strings.Contains(all, "900\u00a0mi") || !strings.Contains(all, "2\u00a0months") {
			t.Fatalf("at %.1f a number is parted from its unit: %s", width, all)
		}
	}
}

// The width of nothing must not hang the program: one character a line is the least.
func TestNarrowMeasuresEnd(t *testing.T) {
	r := newRuler(2)
	for _, width := range []float64{-10, 0, 0.001, 3, 9} {
		for _, text := range []string{"", " ", "  \u200b ", "W", "Wheel nuts", "900\u00a0mi", "--", "\u00a0", "é½≤", "a\u200bb", strings.Repeat("x", 500)} {
			lines := r.lines([]piece{{text: text, look: plain}, {breaks: true}, {mark: boxed, look: plain}}, width, textStyle{leading: 12})
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
	r := newRuler(2)
	lines := r.lines([]piece{{text: "Before you let anybody else pull the trailer away", look: plain}}, 200, textStyle{leading: 12, balanced: true})
	if len(lines) != 2 || min(lines[0].width, lines[1].width) < 0.75*max(lines[0].width, lines[1].width) {
		t.Errorf("%d lines, the first two %.0f and %.0f wide", len(lines), lines[0].width, lines[len(lines)-1].width)
	}
}

// Page numbers of as many figures as room was kept for never make a line longer than its measure.
func TestPageNumbersFit(t *testing.T) {
	r := newRuler(2)
	rapid.Check(t, func(t *rapid.T) {
		page := rapid.IntRange(1, 99).Draw(t, "page")
		look := plain
		if rapid.Bool().Draw(t, "bold") {
			look = look.bold()
		}
		pieces := []piece{{text: rapid.StringMatching(`[a-z]{1,9}( [a-z]{1,9}){0,12} `).Draw(t, "words"), look: look}, {text: "(page\u00a0" + hole + ")", look: look, page: "x"}, {text: ". And more.", look: look}}
		width := float64(rapid.IntRange(80, 240).Draw(t, "width"))
		res := &pages{of: map[string]int{"x": page}, ruler: r}
		for _, l := range r.lines(pieces, width, textStyle{leading: 12}) {
			end := 0.0
			for _, it := range res.place(l) {
				w := it.(*Text)
				end = math.Max(end, w.X+r.width(w.Look, strings.TrimRight(w.Words, " ")))
			}
			if end > width+0.5 { // kerning across a space may differ
				t.Fatalf("page %d: a line ends at %.2f, the measure is %.0f", page, end, width)
			}
		}
	})
}
