package pdf

import (
	"fmt"
	"slices"
	"testing"

	"ownerguide/render/doc"
)

// changed marks a part as different from the earlier revision.
func changed[N doc.Part](n N) N {
	n.Attr().Changed = true
	return n
}

// barsOn are the bars in the outer margin of a page: top and bottom edge.
func barsOn(t *testing.T, pg *page, sh sheet) (out [][2]float64) {
	t.Helper()
	x := sh.left(pg.number) - barGap - barWidth
	if odd(pg.number) {
		x = sh.left(pg.number) + sh.text() + barGap
	}
	for _, it := range pg.items {
		if _, left := it.(*bar); left {
			t.Fatalf("page %d: a bar has no place", pg.number)
		}
		if s, ok := it.(*shape); ok && s.element == nil && s.steps[0].at[2].x == x {
			out = append(out, [2]float64{s.steps[0].at[2].y, s.steps[2].at[2].y})
		}
	}
	return out
}

// Who has read the earlier revision reads what has a bar; a line without one that should have it is not read.
func TestChangedLinesHaveABar(t *testing.T) {
	sh, _ := Letter.sheet()
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
		changed(sec(1, doc.RoleForm, "3", "Long", fillerLines(70)))))
	for _, pg := range b.pages {
		bars := barsOn(t, pg, sh)
		for _, r := range texts(pg) {
			beside := slices.ContainsFunc(bars, func(b [2]float64) bool { return b[0] <= r.y-2 && r.y <= b[1] })
			want := pg.number > 1 || slices.Contains([]string{"New words. ", "New step. ", "2. ", "New row ", "y ", "New danger. ", "DANGER ",
				"It can kill you. ", "Keep out. ", "Torque ", "120 ", "Pressure ", "80 "}, r.text)
			if beside != want && r.text != "• " { // a bullet has no words of its own
				t.Errorf("page %d: %q has a bar: %t, expected %t (bars %v, line %.0f)", pg.number, r.text, beside, want, bars, r.y)
			}
		}
		if pg.number == 2 && len(bars) != 1 {
			t.Errorf("the bars beside neighbours are not joined: %v", bars)
		}
	}
	if plain := fmt.Sprint(barsOn(t, laid(t, wholeGuide()).pages[0], sh)); plain != "[]" {
		t.Errorf("a guide without changes has bars at %s", plain)
	}
}
