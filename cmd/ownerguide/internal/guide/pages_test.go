package guide_test

import (
	"slices"
	"strings"
	"testing"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/layout"
	"ownerguide/render/pdf/paper"
	"ownerguide/spec/testenv"
)

// Budgets of a printed guide. Those of pages are what the words of today take; they only go down.
const (
	mostPages = 66
	mostMean  = 54
	mostWhite = 0.11 // of the columns, at their feet: mean of all guides
)

// The pages of each sample, and in the heavy tier of each unit that covers what can be ordered, keep the rules of where columns end and
// of what stands where, on both papers.
func TestPagesOfGuides(t *testing.T) {
	sheets := samples(t)
	if testenv.IsHeavy() {
		sheets = append(sheets, covering(t)...)
	}
	sheets = testenv.Sample(t, sheets, 9)
	sums := map[paper.Size]*struct{ guides, pages, white float64 }{paper.Letter: {}, paper.A4: {}}
	var some []string
	for _, f := range testenv.Sample(t, sheets, 4) {
		some = append(some, f.Name)
	}
	for _, f := range sheets {
		name, u := f.Name, assembled(t, f)
		serial := u.Sheet.Serial.Value
		checkPanels(t, serial, u.Guide)
		for size, sum := range sums {
			if size != paper.Letter && !slices.Contains(some, name) {
				continue
			}
			format, _ := size.Format()
			b, err := layout.Lay(u.Guide, format)
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			if b.Violations > 0 {
				t.Errorf("%s on %s: %d rules of where columns end gave way", serial, size, b.Violations)
			}
			if len(b.Pages) > mostPages {
				t.Errorf("%s on %s: %d pages", serial, size, len(b.Pages))
			}
			sum.guides, sum.pages, sum.white = sum.guides+1, sum.pages+float64(len(b.Pages)), sum.white+b.White
			if !slices.Contains(some, name) {
				continue
			}
			if _, err := layout.Lay(u.Guide, format.Booklet()); err != nil {
				t.Errorf("%s as a booklet on %s: %v", serial, size, err)
			}
		}
	}
	for size, sum := range sums {
		pages, white := sum.pages/sum.guides, sum.white/sum.guides
		t.Logf("%s: %.0f guides, %.1f pages each, %.1f %% white at the feet of columns", size, sum.guides, pages, 100*white)
		if pages > mostMean || white > mostWhite {
			t.Errorf("%s: %.1f pages each, %.1f %% white", size, pages, 100*white)
		}
	}
}

// checkPanels holds that a hazard is told in full once, and that each reminder leads to a panel in full.
func checkPanels(t *testing.T, serial string, g *doc.Guide) {
	t.Helper()
	full := map[string]bool{} // by id
	var names []string
	for _, chapter := range g.Sections {
		for c := range doc.All[*doc.Caution]([]doc.Node{chapter}) {
			if !c.Brief {
				full[c.ID] = true
				if slices.Contains(names, c.Name) {
					t.Errorf("%s, %s: %s is told in full twice", serial, chapter.ID, c.Name)
				}
				names = append(names, c.Name)
			}
		}
	}
	for c := range doc.All[*doc.Caution](g.Sections) {
		if c.Brief && (!full[c.Full] || !strings.HasPrefix(c.Full, "caution-")) {
			t.Errorf("%s: the reminder of %s leads to %q", serial, c.Name, c.Full)
		}
	}
}
