package layout

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/page"
	"ownerguide/render/pdf/paper"
	"ownerguide/render/pdf/typeset"
)

var cardPapers = []paper.Size{paper.HalfLetter, paper.A5}

// A long check list has two columns on a card, and is read down the first and then the second.
func TestLongListsHaveColumnsOnACard(t *testing.T) {
	var items []any
	var want []string
	for i := range 20 {
		want = append(want, fmt.Sprintf("Item%d", i))
		items = append(items, want[i]+strings.Repeat(" and more words", i%4))
	}
	side := sec(1, doc.RoleChapter, "", "Before", ticks(items...), p("After."))
	for _, size := range cardPapers {
		f, _ := size.Format()
		b := laidOn(t, testGuide(side), size)
		checkInside(t, b, f)
		starts := map[float64]int{}
		for _, r := range texts(b.Pages[0]) {
			if strings.HasPrefix(r.Words, "Item") {
				starts[r.X]++
			}
		}
		if len(starts) != 2 || len(b.Pages) != 1 {
			t.Errorf("%s: items begin at %v on %d pages", size, starts, len(b.Pages))
		}
		got := slices.DeleteFunc(strings.Fields(heard(b)), func(w string) bool { return !strings.HasPrefix(w, "Item") })
		if !slices.Equal(got, want) {
			t.Errorf("%s: heard %v", size, got)
		}
	}
}

// Even the notice of a maker with much to say stays on the paper: on the first page of a guide, and on a card.
func TestALongNoticeIsWrapped(t *testing.T) {
	for _, size := range []paper.Size{paper.Letter, paper.A4, paper.HalfLetter, paper.A5} {
		f, _ := size.Format()
		g := testGuide(sec(1, doc.RoleChapter, "", "Long", fillerLines(300)))
		g.Notice = strings.TrimSpace(strings.Repeat("all of this is invented ", 8))
		b := laidOn(t, g, size)
		checkInside(t, b, f)
		r := typeset.NewRuler(2)
		for _, pg := range b.Pages {
			var notice []string
			foot, lowest := 0.0, 0.0
			for it := range pg.All() {
				x, ok := it.(*page.Text)
				switch {
				case !ok:
				case x.Element == nil && strings.Contains(x.Words, "invented"):
					notice = append(notice, x.Words)
					if x.X < f.TextLeft(pg.Number)-0.01 || x.X+r.Width(x.Look, x.Words) > f.TextLeft(pg.Number)+f.TextWidth()+0.01 {
						t.Errorf("%s: %q leaves the text area", size, x.Words)
					}
					lowest = max(lowest, x.Y)
				case x.Element == nil && x.Y > f.Height/2 && strings.Contains(x.Words, "evision"):
					foot = x.Y
				}
			}
			want := g.Notice
			if pg.Number > 1 && !f.Card {
				want = ""
			}
			if got := strings.Join(notice, " "); got != want {
				t.Errorf("%s, page %d: the notice reads %q", size, pg.Number, got)
			}
			if foot < lowest+caption.Size || foot > f.Height-8 {
				t.Errorf("%s: the foot stands at %.1f, the notice ends at %.1f", size, foot, lowest)
			}
		}
	}
}

// Nothing on a card is smaller than what can be read at arm's length: its tables get longer, not smaller.
func TestACardStaysLarge(t *testing.T) {
	var rows [][]any
	for i := range 60 {
		rows = append(rows, cells(fmt.Sprintf("row %d of a table that goes on and on", i), "a long explanation of what is in it", "w0rd-that-is-long-and-does-not-break", "and one more column of words"))
	}
	for _, size := range cardPapers {
		f, _ := size.Format()
		b := laidOn(t, testGuide(sec(1, doc.RoleChapter, "", "Table", p("Text."), table(doc.TableNumbers, nil, cells("Torque", value("120\u00a0lb-ft (163\u00a0N·m)"))), table(doc.TablePlain, nil, rows...))), size)
		checkInside(t, b, f)
		figures := 0
		for _, pg := range b.Pages {
			for _, r := range texts(pg) {
				if r.Element != nil && r.Look.Size < cardLabel.Size {
					t.Fatalf("%s: %q is set in %g points", size, r.Words, r.Look.Size)
				}
				if strings.Contains(r.Words, "120") || strings.Contains(r.Words, "163") {
					figures++
					if r.Look.Size < 14 {
						t.Errorf("%s: the figure %q is set in %g points", size, r.Words, r.Look.Size)
					}
				}
			}
		}
		if figures != 2 {
			t.Errorf("%s: %d figures", size, figures)
		}
	}
}

// Heads over a card would only repeat its title.
func TestACardHasNoRunningHeads(t *testing.T) {
	for _, size := range cardPapers {
		f, _ := size.Format()
		b := laidOn(t, testGuide(sec(1, doc.RoleChapter, "", "Side", fillerLines(220))), size)
		if len(b.Pages) < 2 {
			t.Fatal("too few pages")
		}
		for _, pg := range b.Pages {
			for it := range pg.All() {
				if r, ok := it.(*page.Text); ok && r.Element == nil && r.Y < f.Height/2 {
					t.Errorf("%s, page %d: %q stands above the text", size, pg.Number, r.Words)
				}
			}
		}
	}
}
