package layout

import (
	"slices"
	"testing"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/page"
	"ownerguide/render/pdf/paper"
)

// changed marks a part as different from the earlier revision.
func changed[N doc.Part](n N) N {
	n.Attr().Changed = true
	return n
}

// bar is one beside a column of a page.
type bar struct{ x, top, end float64 }

// barsOn are the bars of a page.
func barsOn(t *testing.T, pg *page.Page) (out []bar) {
	t.Helper()
	for it := range pg.All() {
		s, ok := it.(*page.Shape)
		if !ok || s.Element != nil || len(s.Steps) != 5 {
			continue
		}
		if a, c := s.Steps[0].At[2], s.Steps[2].At[2]; c.X-a.X == heavyLine && s.Fill != nil {
			out = append(out, bar{a.X, a.Y, c.Y})
		}
	}
	return out
}

// Who has read the earlier revision reads what has a bar; a line without one that should have it is not read.
func TestChangedLinesHaveABar(t *testing.T) {
	list := steps("Same step.", "New step.", "Same again.")
	changed(list.Items[1])
	rows := table(doc.TablePlain, cells("A", "B"), cells("Same row", "x"), cells("New row", "y"))
	changed(rows.Rows[1])
	inner := caution(doc.Warning, "c", "It rolls.", "It can crush you.", "Chock it.")
	values := table(doc.TableNumbers, nil, cells("Torque", "120"), cells("Pressure", "80"))
	changed(values)
	b := laid(t, testGuide(sec(1, doc.RoleChapter, "1", "Chapter", p("Same."), changed(p("New words.")), p("Same words."), list, rows, inner,
		changed(caution(doc.Danger, "d", "New danger.", "It can kill you.", "Keep out.")), p("Between."), values, p("After.")),
		changed(sec(1, doc.RoleForm, "2", "New", p("New paragraph."), p("Another."))),
		changed(sec(1, doc.RoleForm, "3", "Long", fillerLines(170)))))
	for _, pg := range b.Pages {
		bars := barsOn(t, pg)
		right := letter.TextLeft(pg.Number) + letter.ColumnWidth + paper.Gutter
		for _, r := range texts(pg) {
			want := pg.Number > 1 || slices.Contains([]string{"New words. ", "New step. ", "2 ", "New row ", "y ", "New danger. ", "DANGER ",
				"It can kill you. ", "Keep out. ", "Torque ", "120 ", "Pressure ", "80 "}, r.Words)
			beside := slices.ContainsFunc(bars, func(b bar) bool {
				// A bar left of the left column stands beside what spans, too; what stands in the right column beside it has none.
				left := b.x < right-barGap-heavyLine-1
				return b.top <= r.Y-2 && r.Y <= b.end && (left == (r.X < right) || left && want)
			})
			if beside != want && r.Words != "• " { // a bullet has no words of its own
				t.Errorf("page %d: %q has a bar: %t, expected %t (bars %v, line %.0f)", pg.Number, r.Words, beside, want, bars, r.Y)
			}
		}
	}
	if bars := barsOn(t, laid(t, wholeGuide()).Pages[0]); len(bars) > 0 {
		t.Errorf("a guide without changes has bars at %v", bars)
	}
}
