package layout

import (
	"fmt"
	"strings"
	"testing"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/page"
	"ownerguide/render/pdf/paginate"
	"ownerguide/render/pdf/typeset"
)

// tried lays a text out behind so many lines, so that whatever follows them meets the foot of a column at every height, and of each kind. The
// pages are low, so that few lines do.
func tried(t *testing.T, check func(n int, b *Book), blocks func(n int) []doc.Block) {
	t.Helper()
	low := letter
	low.TextHeight = 26 * leading
	for n := 1; n < 110; n++ {
		b, err := Lay(testGuide(sec(1, doc.RoleChapter, "1", "Chapter", blocks(n)...)), low)
		if err != nil {
			t.Fatal(err)
		}
		if b.Violations > 0 {
			t.Errorf("%d lines before it: %d rules gave way", n, b.Violations)
		}
		check(n, b)
	}
}

// A heading at the foot of a column names what the reader does not find below it.
func TestHeadingKeepsTwoLines(t *testing.T) {
	tried(t, func(n int, b *Book) {
		for _, c := range columns(b) {
			for i, l := range c {
				if l == "Jack " && len(c) < i+3 {
					t.Errorf("%d lines before it: the heading stands with %q", n, c[i:])
				}
			}
		}
	}, func(n int) []doc.Block {
		return []doc.Block{fillerLines(n), sec(2, doc.RolePlain, "", "Jack", fillerLines(1), fillerLines(3))}
	})
}

// A caution torn in two says "An unchocked trailer can roll" here and what to do about it there. Its steps stand with it, or begin the
// next column, and never behind the leaf: who turns it has begun with the panel in view.
func TestAPanelStandsBeforeItsSteps(t *testing.T) {
	tried(t, func(n int, b *Book) {
		on := map[string]int{} // page and column
		for i, c := range columns(b) {
			for _, l := range c {
				on[l] = i + 1
			}
		}
		panel, last := on["WARNING "], on["• Chock the wheels. "]
		first, end := on["1 Lower the jack. "], on["4 Look. "]
		if panel == 0 || panel != last || first < panel || end < first {
			t.Errorf("%d lines before it: %v", n, on)
		}
		page := func(column int) int { return (column + 1) / 2 }
		if second := on["2 Lift it. "]; page(panel)/2 != page(second)/2 {
			t.Errorf("%d lines before it: the panel is on page %d, the second step on page %d", n, page(panel), page(second))
		}
	}, func(n int) []doc.Block {
		return []doc.Block{fillerLines(n), caution(doc.Warning, "rolls", "An unchocked trailer can roll.", "It can crush anyone.", "Chock the wheels."),
			steps("Lower the jack.", "Lift it.", "Turn.", "Look."), fillerLines(4)}
	})
}

// A reminder, an introduction, a line of a job or a bold line at the foot of a column belongs to nothing.
func TestWhatAnnouncesStaysWithItsList(t *testing.T) {
	tried(t, func(n int, b *Book) {
		for _, c := range columns(b) {
			if len(c) == 0 {
				continue
			}
			last := c[len(c)-1]
			if last == "Look for these: " || last == "Unload " || strings.HasPrefix(last, "monthly") || strings.Contains(last, "Never stand behind it.") || last == "New grease first. " {
				t.Errorf("%d lines before it: %q ends a column", n, last)
			}
		}
	}, func(n int) []doc.Block {
		reminder := caution(doc.Warning, "rolls", "It rolls.", "", "Never stand behind it.")
		reminder.Brief, reminder.Consequence = true, nil
		return []doc.Block{fillerLines(n), p("Look for these:"), bullets("rust", "cracks", "loose nuts"), p(strong("Unload")), steps("Chock.", "Lower."), reminder, steps("Chock.", "Lift."),
			sec(2, doc.RoleTask, "", "Grease", &doc.JobLine{When: inlines([]any{"monthly"}), Tools: inlines([]any{"gun"})}, p("New grease first."), steps("Wipe.", "Press."))}
	})
}

// A limit behind the leaf is not read in time: the last steps turn over with it.
func TestALimitStaysWithItsSteps(t *testing.T) {
	tried(t, func(n int, b *Book) {
		last, limit := 0, 0 // pages
		for i, c := range columns(b) {
			for _, l := range c {
				switch {
				case l == "4 Turn. ":
					last = i/2 + 1
				case strings.HasPrefix(l, "Do not tow"):
					limit = i/2 + 1
				}
			}
		}
		if last == 0 || limit == 0 || last/2 != limit/2 {
			t.Errorf("%d lines before it: the step before the last is on page %d, the limit on page %d", n, last, limit)
		}
	}, func(n int) []doc.Block {
		return []doc.Block{fillerLines(n), steps("Chock.", "Lower.", "Look.", "Turn.", "Lift."), &doc.Limit{Inlines: []doc.Inline{strong("Do not tow"), words(" when it slips.")}}, fillerLines(9)}
	})
}

func TestNoLineOfAParagraphIsLeftAlone(t *testing.T) {
	for _, length := range []int{2, 3, 4, 9} {
		tried(t, func(n int, b *Book) {
			after, seen := false, []int{}
			for _, c := range columns(b) {
				count := 0
				for _, l := range c {
					if after {
						count++
					}
					after = after || l == "two "
				}
				seen = append(seen, count)
				if count == 1 {
					t.Errorf("%d lines before it: a paragraph of %d lines is shared out as %v", n, length, seen)
				}
			}
		}, func(n int) []doc.Block { return []doc.Block{p("one"), fillerLines(n), p("two"), fillerLines(length)} })
	}
}

// Of running text a line may stand alone beside the rest of it, where more than two lines would be white otherwise; never on another page, and
// never of a limit.
func TestALineAloneHasTheRestBesideIt(t *testing.T) {
	sh, err := newShared(testGuide(), letter)
	if err != nil {
		t.Fatal(err)
	}
	s := &setter{shared: sh, Ruler: typeset.NewRuler(2)}
	long := strings.Repeat("These words are set. ", 12)
	text := s.paragraph(p(long), s.outermost(&finish.Element{}))
	limit := s.limit(&doc.Limit{Inlines: []doc.Inline{words(long)}}, s.outermost(&finish.Element{}))
	if s.fault != nil || len(text) < 4 || len(limit) < 4 {
		t.Fatalf("%d and %d lines, %v", len(text), len(limit), s.fault)
	}
	for _, i := range []int{1, -1} {
		at := text[(i+len(text))%len(text)].ends
		if twoLines := paginate.Penalty(22); at.Column <= twoLines || at.Column >= ruleSingle || at.Opening < ruleSingle || at.Leaf < ruleSingle {
			t.Errorf("before line %d of a text a column ends at %v", i, at)
		}
		if at := limit[(i+len(limit))%len(limit)].ends; at.Column < ruleSingle {
			t.Errorf("before line %d of a limit a column ends at %v", i, at)
		}
	}
}

// The first or last short step alone in a column is passed over.
func TestNoItemOfAListIsLeftAlone(t *testing.T) {
	tried(t, func(n int, b *Book) {
		for _, c := range columns(b) {
			count := 0
			for _, l := range c {
				if strings.Contains(l, "item ") {
					count++
				}
			}
			if count == 1 && len(c) > 1 { // alone on a last page that is balanced it is not overlooked
				t.Errorf("%d lines before it: one item stands alone", n)
			}
		}
	}, func(n int) []doc.Block {
		return []doc.Block{fillerLines(n), steps("item one", "item two", "item three", "item four", "item five")}
	})
}

// A number without its text is a step nobody can follow.
func TestStepNumberStaysWithItsText(t *testing.T) {
	tried(t, func(n int, b *Book) {
		for _, pg := range b.Pages {
			for i, r := range texts(pg) {
				if r.Words == "2 " && texts(pg)[i+1].Words != "Uncouple. " {
					t.Errorf("%d lines before it: step 2 reads %q", n, texts(pg)[i+1].Words)
				}
			}
		}
	}, func(n int) []doc.Block { return []doc.Block{fillerLines(n), steps("Chock.", "Uncouple.", "Lower.")} })
}

// What is wrong, why and what to do is seen without turning the leaf, and the symptom never without its first remedy.
func TestATroubleStaysInSight(t *testing.T) {
	lines := func(texts ...string) (out [][]doc.Inline) {
		for _, s := range texts {
			out = append(out, []doc.Inline{words(s)})
		}
		return out
	}
	tried(t, func(n int, b *Book) {
		on := map[string]int{}
		for i, c := range columns(b) {
			for _, l := range c {
				on[l] = i + 1
			}
		}
		first, last := on["It drags. "], on["Stop at once. "]
		if leaf := func(column int) int { return (column + 1) / 2 / 2 }; first == 0 || first != on["Rust "] || leaf(first) != leaf(last) {
			t.Errorf("%d lines before it: it stands in the columns %v", n, on)
		}
	}, func(n int) []doc.Block {
		return []doc.Block{fillerLines(n), &doc.Trouble{Symptom: inlines([]any{"It drags."}), Causes: lines("Rust"), Remedies: lines("Wait.", "Turn.", "Look."),
			Limits: []*doc.Limit{{Inlines: inlines([]any{"Stop at once."})}}}, fillerLines(5)}
	})
}

// In its next column a table of dates and figures without a head is a riddle.
func TestTableHeadIsRepeated(t *testing.T) {
	var rows [][]any
	for i := range 220 {
		rows = append(rows, cells(fmt.Sprintf("row %d", i), "x"))
	}
	b := laid(t, testGuide(sec(1, doc.RoleChapter, "1", "Chapter", table(doc.TableSchedule, cells("Due", "Job"), rows...))))
	if len(b.Pages) < 3 {
		t.Fatalf("the table takes %d pages, expected three or more", len(b.Pages))
	}
	heads, again := 0, 0
	for _, pg := range b.Pages {
		for it := range pg.All() {
			if r, ok := it.(*page.Text); ok && r.Words == "Due " {
				heads++
				if r.Element == nil {
					again++
				}
				if r.Y > letter.Top+60 {
					t.Errorf("page %d: a head stands at %.0f", pg.Number, r.Y)
				}
			}
		}
	}
	if n := strings.Count(heard(b), "Due "); n != 1 || again != heads-1 || heads < 5 {
		t.Errorf("the head stands %d times, is repeated %d times and read aloud %d times", heads, again, n)
	}
}

// One row of a table alone is easily missed.
func TestNoRowIsLeftAlone(t *testing.T) {
	var rows [][]any
	for i := range 12 {
		rows = append(rows, cells(fmt.Sprintf("row %d ", i), "x"))
	}
	tried(t, func(n int, b *Book) {
		for _, c := range columns(b) {
			count := 0
			for _, l := range c {
				if strings.HasPrefix(l, "row") {
					count++
				}
			}
			if count == 1 {
				t.Errorf("%d lines before it: one row stands alone", n)
			}
		}
	}, func(n int) []doc.Block {
		return []doc.Block{fillerLines(n), fillerLines(4), table(doc.TablePlain, cells("A", "B"), rows...)}
	})
}

// A few lines to write on stay together, with their label.
func TestAShortFormStaysWhole(t *testing.T) {
	tried(t, func(n int, b *Book) {
		places := map[string]int{}
		for _, pg := range b.Pages {
			for it := range pg.All() {
				if s, ok := it.(*page.Shape); ok && s.Element != nil {
					places[fmt.Sprint(pg.Number, s.Steps[0].At[2].X)]++
				}
			}
		}
		if len(places) != 1 {
			t.Errorf("%d lines before it: the lines are in %v", n, places)
		}
	}, func(n int) []doc.Block { return []doc.Block{fillerLines(n), &doc.Form{Label: "Remarks", Rules: 4}} })
}

// A cell taller than a page is parted between its lines as a last resort: better than a guide that cannot be written.
func TestATallRowIsParted(t *testing.T) {
	var all []string
	for i := range 4000 {
		all = append(all, fmt.Sprintf("w%d", i))
	}
	b := laid(t, testGuide(sec(1, doc.RoleChapter, "1", "Chapter",
		table(doc.TablePlain, cells("A", "B"), cells("before", "x"), cells(strings.Join(all, " "), "beside"), cells("after", "y")))))
	if len(b.Pages) < 3 {
		t.Errorf("the row takes %d pages", len(b.Pages))
	}
	text := heard(b)
	last := 0
	for _, w := range all {
		i := strings.Index(text[last:], w+" ")
		if i < 0 {
			t.Fatalf("%s is lost or out of order", w)
		}
		last += i
	}
	checkInside(t, b, letter)
}

func TestDeepLists(t *testing.T) {
	item := blocks(p("bottom of the list, with some words that need more than a line in a narrow measure"))
	for i := range 40 {
		item = blocks(p(fmt.Sprintf("level %d", 40-i)), bullets(item))
	}
	b := laid(t, testGuide(sec(1, doc.RoleChapter, "1", "Chapter", steps(item))))
	checkInside(t, b, letter)
	if text := heard(b); !strings.Contains(text, "level 40 ") || !strings.Contains(text, "bottom of ") {
		t.Error("words of a deep list are lost")
	}
}

func TestALongWordIsBrokenEverywhere(t *testing.T) {
	long := strings.Repeat("longword", 400)
	b := laid(t, testGuide(sec(1, doc.RoleChapter, "1", strings.Repeat("longword", 40), p(long), steps(long),
		table(doc.TablePlain, cells(long, "b"), cells("a", long)), table(doc.TableNumbers, nil, cells(strings.Repeat("longword", 40), "x")),
		caution(doc.Care, "x", "Short.", strings.Repeat("longword", 60), "Stop."), &doc.Form{Label: strings.Repeat("longword", 30), Rules: 2})))
	checkInside(t, b, letter)
	if got, want := strings.Count(heard(b), "longword"), 4*400+170; got != want {
		t.Errorf("the long word is heard %d times, expected %d", got, want)
	}
}
