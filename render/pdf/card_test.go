package pdf

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"ownerguide/render/doc"
)

var cardPapers = []Paper{HalfLetter, A5}

// A long check list has two columns on a card, is read down the first and then
// the second, and is the same list in a guide.
func TestLongListsHaveColumnsOnACard(t *testing.T) {
	var items []any
	var want []string
	for i := range manyItems + 1 {
		want = append(want, fmt.Sprintf("Item%d", i))
		items = append(items, want[i]+strings.Repeat(" and more words", i%4))
	}
	side := sec(1, doc.RoleChapter, "", "Before", ticks(items...), p("After."))
	for _, paper := range append(slices.Clone(cardPapers), Letter) {
		sh, _ := paper.sheet()
		b, err := lay(testGuide(side), sh)
		if err != nil {
			t.Fatal(err)
		}
		checkInside(t, b, sh)
		starts, lowest, after := map[float64]int{}, 0.0, 0.0
		for _, r := range texts(b.pages[0]) {
			switch {
			case strings.HasPrefix(r.text, "Item"):
				starts[r.x]++
				lowest = max(lowest, r.y)
			case strings.HasPrefix(r.text, "After"):
				after = r.y
			}
		}
		if columns := len(starts); sh.card && columns != 2 || !sh.card && columns != 1 {
			t.Errorf("%s: items begin at %v", paper, starts)
		}
		if after <= lowest {
			t.Errorf("%s: the text after the list stands at %.1f, an item at %.1f", paper, after, lowest)
		}
		got := slices.DeleteFunc(strings.Fields(heard(b)), func(w string) bool { return !strings.HasPrefix(w, "Item") })
		if !slices.Equal(got, want) {
			t.Errorf("%s: heard %v", paper, got)
		}
	}
}

// Even the notice of a maker with much to say stays on the paper, and what
// stands above it makes room.
func TestALongNoticeIsWrapped(t *testing.T) {
	for _, paper := range []Paper{Letter, A4, HalfLetter, A5} {
		sh, _ := paper.sheet()
		g := testGuide(sec(1, doc.RoleChapter, "", "Long", fillerLines(200)))
		g.Notice = strings.TrimSpace(strings.Repeat("all of this is invented ", 16))
		b, err := lay(g, sh)
		if err != nil {
			t.Fatal(err)
		}
		checkInside(t, b, sh)
		r := &ruler{known: map[measured]float64{}}
		for _, page := range b.pages {
			var notice []string
			top, lowest := sh.height, 0.0
			for _, it := range page.items {
				x, ok := it.(*run)
				switch {
				case !ok:
				case x.look == smallest:
					notice = append(notice, x.text)
					if x.x < sh.left(page.number)-0.01 || x.x+r.width(x.look, x.text) > sh.left(page.number)+sh.text()+0.01 {
						t.Errorf("%s: %q leaves the text area", paper, x.text)
					}
				case x.element == nil && x.y > sh.height/2:
					top = min(top, x.y-x.look.size)
				case x.element != nil:
					lowest = max(lowest, x.y)
				}
			}
			if got := strings.Join(notice, " "); got != g.Notice {
				t.Errorf("%s: the notice reads %q", paper, got)
			}
			if lowest > top {
				t.Errorf("%s: text at %.1f runs into the foot at %.1f", paper, lowest, top)
			}
		}
	}
}

// Tables of a card keep their size, however much they hold: they get longer,
// not smaller.
func TestTablesOfACardStayLarge(t *testing.T) {
	var rows [][]any
	for i := range 60 {
		rows = append(rows, cells(fmt.Sprintf("row %d of a table that goes on and on", i), "a long explanation of what is in it", "w0rd-that-is-long-and-does-not-break", "and one more column of words"))
	}
	for _, paper := range cardPapers {
		sh, _ := paper.sheet()
		b, err := lay(testGuide(sec(1, doc.RoleChapter, "", "Table", table(doc.TablePlain, nil, rows...))), sh)
		if err != nil {
			t.Fatal(err)
		}
		checkInside(t, b, sh)
		for _, page := range b.pages {
			for _, r := range texts(page) {
				if r.element != nil && r.look.size < cardLeast {
					t.Fatalf("%s: %q is set in %g points", paper, r.text, r.look.size)
				}
			}
		}
	}
}

// Heads over a card would only repeat its title.
func TestACardHasNoRunningHeads(t *testing.T) {
	for _, paper := range cardPapers {
		sh, _ := paper.sheet()
		b, err := lay(testGuide(sec(1, doc.RoleChapter, "", "Side", fillerLines(120))), sh)
		if err != nil || len(b.pages) < 2 {
			t.Fatal(err)
		}
		for _, page := range b.pages {
			for _, it := range page.items {
				if r, ok := it.(*run); ok && r.element == nil && r.y < sh.height/2 {
					t.Errorf("%s, page %d: %q stands above the text", paper, page.number, r.text)
				}
			}
		}
	}
}
