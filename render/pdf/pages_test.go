package pdf

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// laid lays a guide out on letter paper.
func laid(t testing.TB, g *doc.Guide) *book {
	t.Helper()
	sh, _ := Letter.sheet()
	b, err := lay(g, sh)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// dump prints pages for people: place, style and size, element, text; of shapes only those that fill or frame.
func dump(b *book) string {
	var out strings.Builder
	for _, p := range b.pages {
		fmt.Fprintf(&out, "page %d\n", p.number)
		for _, it := range p.items {
			switch it := it.(type) {
			case *run:
				fmt.Fprintf(&out, "  %6.1f %6.1f  %-6s %4.1f %-6s %q\n", it.x, it.y, [...]string{"", "bold", "italic", "both"}[it.look.style], it.look.size, role(it.element), it.text)
			case *area:
				fmt.Fprintf(&out, "  %6.1f %6.1f  link to %s: %q\n", it.box.X, it.box.Y, it.to, it.words)
			case *anchor:
				fmt.Fprintf(&out, "         %6.1f  anchor %s\n", it.y, it.name)
			case *frame:
				fmt.Fprintf(&out, "  %6.1f %6.1f  figure %.1f by %.1f\n", it.box.X, it.box.Y, it.box.W, it.box.H)
			}
		}
	}
	return out.String()
}

func role(e *finish.Element) string {
	if e == nil {
		return "-"
	}
	return string(e.Role)
}

func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		gl, wl := strings.Split(got, "\n"), strings.Split(string(want), "\n")
		for i := range max(len(gl), len(wl)) {
			if i >= len(gl) || i >= len(wl) || gl[i] != wl[i] {
				t.Fatalf("%s differs at line %d:\n got %s\nwant %s", path, i+1, slices.Concat(gl, []string{"(end)"})[min(i, len(gl))], slices.Concat(wl, []string{"(end)"})[min(i, len(wl))])
			}
		}
	}
}

// texts are the runs of a page that are read aloud, in order.
func texts(p *page) []*run {
	var out []*run
	for _, it := range p.items {
		if r, ok := it.(*run); ok && r.element != nil {
			out = append(out, r)
		}
	}
	return out
}

// lineTexts joins the runs of a page to lines.
func lineTexts(p *page) []string {
	var out []string
	last := -1.0
	for _, r := range texts(p) {
		if r.y == last {
			out[len(out)-1] += r.text
		} else {
			out = append(out, r.text)
		}
		last = r.y
	}
	return out
}

// heard is the text of the guide as a screen reader gets it: the tree in its own order, the text of each element between its children
// as it was painted.
func heard(b *book) string {
	type part struct {
		at   int
		text string
	}
	own := map[*finish.Element][]part{}
	n := 0
	for _, p := range b.pages {
		for _, r := range texts(p) {
			own[r.element] = append(own[r.element], part{n, r.text})
			n++
		}
	}
	var s strings.Builder
	var first func(e *finish.Element) int
	first = func(e *finish.Element) int {
		least := n
		if parts := own[e]; len(parts) > 0 {
			least = parts[0].at
		}
		for _, c := range e.Children {
			least = min(least, first(c))
		}
		return least
	}
	var read func(e *finish.Element)
	read = func(e *finish.Element) {
		parts := own[e]
		for _, c := range e.Children {
			for begin := first(c); begin < n && len(parts) > 0 && parts[0].at < begin; parts = parts[1:] {
				s.WriteString(parts[0].text)
			}
			read(c)
		}
		for _, p := range parts {
			s.WriteString(p.text)
		}
	}
	read(b.root)
	return s.String()
}

// checkInside holds every item against the page and the tree: nothing lies outside the paper, and what is read belongs to the tree.
func checkInside(t testing.TB, b *book, sh sheet) {
	t.Helper()
	known := map[*finish.Element]bool{}
	var walk func(e *finish.Element)
	walk = func(e *finish.Element) {
		known[e] = true
		for _, c := range e.Children {
			walk(c)
		}
	}
	walk(b.root)
	r := &ruler{known: map[measured]float64{}}
	for _, p := range b.pages {
		for _, it := range p.items {
			x, ok := it.(*run)
			if !ok {
				continue
			}
			if x.element != nil && !known[x.element] {
				t.Fatalf("page %d: %q belongs to no element of the tree", p.number, x.text)
			}
			if x.y < 0 || x.y > sh.height || x.x < 0 || x.turn == 0 && x.x+r.width(x.look, strings.TrimRight(x.text, " ")) > sh.width {
				t.Fatalf("page %d: %q (%s %.1f) lies outside the paper at %.1f, %.1f", p.number, x.text, role(x.element), x.look.size, x.x, x.y)
			}
			if x.element != nil && x.y > sh.height-sh.bottom+longer+1 {
				t.Fatalf("page %d: %q lies in the foot at %.1f", p.number, x.text, x.y)
			}
		}
	}
}

func TestWholeGuide(t *testing.T) {
	b := laid(t, wholeGuide())
	golden(t, "whole.txt", dump(b))
	sh, _ := Letter.sheet()
	checkInside(t, b, sh)
}

// A type that is forgotten here could be a caution that is not printed.
func TestEveryTypeIsSet(t *testing.T) {
	met := map[reflect.Type]bool{}
	g := wholeGuide()
	for n := range doc.Walk(g.Sections) {
		met[reflect.TypeOf(n)] = true
	}
	for _, n := range doc.Types {
		if !met[reflect.TypeOf(n)] {
			t.Errorf("the test guide has no %T, so nothing shows that it is set", n)
		}
	}
	if _, _, err := Render(g, Options{}); err != nil {
		t.Error(err)
	}
}

// fillerLines is a paragraph of so many lines in the measure.
func fillerLines(n int) *doc.Paragraph {
	var parts []any
	for i := range n {
		if i > 0 {
			parts = append(parts, &doc.Break{})
		}
		parts = append(parts, fmt.Sprintf("filler line %d", i))
	}
	return p(parts...)
}

// A heading at the foot of a page names what the reader does not find below it.
func TestHeadingKeepsTwoLines(t *testing.T) {
	for n := 1; n < 60; n++ {
		b := laid(t, testGuide(sec(1, doc.RoleChapter, "1", "Chapter", fillerLines(n),
			sec(2, doc.RolePlain, "", "Jack", fillerLines(1), fillerLines(3)))))
		for _, pg := range b.pages {
			lines := lineTexts(pg)
			if i := slices.Index(lines, "Jack "); i >= 0 && len(lines) < i+3 {
				t.Errorf("%d lines before it: the heading stands with %q", n, lines[i:])
			}
		}
	}
}

// A caution torn in two says "An unchocked trailer can roll" on one page and what to do about it on the next.
func TestCautionIsNeverParted(t *testing.T) {
	want := []string{"WARNING ", "Chock the wheels. ", "Lower the jack. "}
	for n := 1; n < 60; n++ {
		b := laid(t, testGuide(sec(1, doc.RoleChapter, "1", "Chapter", fillerLines(n),
			caution(doc.Warning, "rolls", "An unchocked trailer can roll.", "It can crush anyone.", "Chock the wheels."),
			steps("Lower the jack."), fillerLines(4))))
		on := map[string]int{}
		for _, pg := range b.pages {
			for _, r := range texts(pg) {
				on[r.text] = pg.number
			}
		}
		for _, text := range want {
			if on[text] == 0 || on[text] != on[want[0]] {
				t.Errorf("%d lines before it: %q is on page %d, the signal word on page %d", n, text, on[text], on[want[0]])
			}
		}
	}
}

// A number without its text is a step nobody can follow.
func TestStepNumberStaysWithItsText(t *testing.T) {
	for n := 1; n < 60; n++ {
		b := laid(t, testGuide(sec(1, doc.RoleChapter, "1", "Chapter", fillerLines(n), steps("Chock.", "Uncouple.", "Lower."))))
		for _, pg := range b.pages {
			for i, r := range texts(pg) {
				if r.text == "2. " && texts(pg)[i+1].text != "Uncouple. " {
					t.Errorf("%d lines before it: step 2 reads %q", n, texts(pg)[i+1].text)
				}
			}
		}
	}
}

func TestNoLineOfAParagraphIsLeftAlone(t *testing.T) {
	for n := 1; n < 60; n++ {
		for _, length := range []int{2, 3, 4, 9} {
			long := fillerLines(length)
			b := laid(t, testGuide(sec(1, doc.RoleChapter, "1", "Chapter", p("one"), fillerLines(n), p("two"), long)))
			var per []int
			after := false
			for _, pg := range b.pages {
				count := 0
				for _, text := range lineTexts(pg) {
					if after {
						count++
					}
					after = after || text == "two "
				}
				per = append(per, count)
			}
			for _, c := range per {
				if c == 1 {
					t.Errorf("%d lines before it: a paragraph of %d lines is shared out as %v", n, length, per)
				}
			}
		}
	}
}

// On its second page a column of dates and figures without a head is a riddle.
func TestTableHeadIsRepeated(t *testing.T) {
	var rows [][]any
	for i := range 90 {
		rows = append(rows, cells(fmt.Sprintf("row %d", i), "x"))
	}
	b := laid(t, testGuide(sec(1, doc.RoleChapter, "1", "Chapter", table(doc.TableSchedule, cells("Due", "Job"), rows...))))
	if len(b.pages) < 3 {
		t.Fatalf("the table takes %d pages, expected three or more", len(b.pages))
	}
	for _, pg := range b.pages[1:] {
		var first *run
		for _, it := range pg.items {
			if r, ok := it.(*run); ok && first == nil {
				first = r
			}
		}
		if first.text != "Due " || first.element != nil {
			t.Errorf("page %d begins with %q of element %v, expected the head as an artifact", pg.number, first.text, first.element)
		}
	}
	if n := strings.Count(heard(b), "Due "); n != 1 {
		t.Errorf("the head is read aloud %d times", n)
	}
}

// "900" at the end of a line and "mi" on the next reads as 900 of whatever came before.
func TestNumberAndUnitStayTogether(t *testing.T) {
	l := &layout{ruler: &ruler{known: map[measured]float64{}}}
	pieces := []piece{{text: "Do it every ", look: body}, {text: "900\u00a0mi", look: body.bold()}, {text: ", or after 2\u00a0months on a salted road.", look: body}}
	for width := 60.0; width < 400; width += 0.5 {
		all := ""
		for _, ln := range l.set(pieces, width, textStyle{leading: 14}) {
			for _, it := range ln.items {
				all += it.(*run).text
			}
			if ln.width > width+slack {
				t.Errorf("a line is %.2f wide, the measure is %.2f", ln.width, width)
			}
			all += "|"
		}
		if !strings.Contains(all, "900\u00a0mi") || !strings.Contains(all, "2\u00a0months") {
			t.Fatalf("at %.1f a number is parted from its unit: %s", width, all)
		}
	}
}

// The width of nothing must not hang the program: one character a line is the least.
func TestNarrowMeasuresEnd(t *testing.T) {
	l := &layout{ruler: &ruler{known: map[measured]float64{}}}
	for _, width := range []float64{-10, 0, 0.001, 3, 9} {
		for _, text := range []string{"", " ", "  \u200b ", "W", "Wheel nuts", "900\u00a0mi", "--", "\u00a0", "é½≤", "a\u200bb", strings.Repeat("x", 500)} {
			got := ""
			for _, ln := range l.set([]piece{{text: text, look: body}, {breaks: true}, {sign: ticked, look: body}}, width, textStyle{leading: 14}) {
				for _, it := range ln.items {
					if r, ok := it.(*run); ok {
						got += r.text
					}
				}
			}
			want := strings.ReplaceAll(text, "\u200b", "")
			if strings.ReplaceAll(got, " ", "") != strings.ReplaceAll(want, " ", "") {
				t.Errorf("width %g: %q became %q", width, text, got)
			}
		}
	}
}

func TestALongWordIsBrokenEverywhere(t *testing.T) {
	long := strings.Repeat("longword", 400)
	b := laid(t, testGuide(sec(1, doc.RoleChapter, "1", strings.Repeat("longword", 40), p(long), steps(long),
		table(doc.TablePlain, cells(long, "b"), cells("a", long)), table(doc.TableNumbers, nil, cells(strings.Repeat("longword", 40), "x")),
		caution(doc.Care, "x", "Short.", strings.Repeat("longword", 60), "Stop."), &doc.Form{Label: strings.Repeat("longword", 30), Rules: 2})))
	sh, _ := Letter.sheet()
	checkInside(t, b, sh)
	if got, want := strings.Count(heard(b), "longword"), 4*400+170; got != want {
		t.Errorf("the long word is heard %d times, expected %d", got, want)
	}
}

// A cell taller than a page is parted between its lines as a last resort: better than a guide that cannot be written.
func TestATallRowIsParted(t *testing.T) {
	var words []string
	for i := range 4000 {
		words = append(words, fmt.Sprintf("w%d", i))
	}
	b := laid(t, testGuide(sec(1, doc.RoleChapter, "1", "Chapter",
		table(doc.TablePlain, cells("A", "B"), cells("before", "x"), cells(strings.Join(words, " "), "beside"), cells("after", "y")))))
	if len(b.pages) < 3 {
		t.Errorf("the row takes %d pages", len(b.pages))
	}
	text := heard(b)
	last := 0
	for _, w := range words {
		i := strings.Index(text[last:], w+" ")
		if i < 0 {
			t.Fatalf("%s is lost or out of order", w)
		}
		last += i
	}
	sh, _ := Letter.sheet()
	checkInside(t, b, sh)
}

func TestDeepLists(t *testing.T) {
	item := blocks(p("bottom of the list, with some words that need more than a line in a narrow measure"))
	for i := range 40 {
		item = blocks(p(fmt.Sprintf("level %d", 40-i)), bullets(item))
	}
	b := laid(t, testGuide(sec(1, doc.RoleChapter, "1", "Chapter", steps(item))))
	sh, _ := Letter.sheet()
	checkInside(t, b, sh)
	if text := heard(b); !strings.Contains(text, "level 40 ") || !strings.Contains(text, "bottom of ") {
		t.Error("words of a deep list are lost")
	}
}

// What the contents promise must be where the chapter is.
func TestContentsTellTheTruth(t *testing.T) {
	var sections []*doc.Section
	var entries []doc.Entry
	for i := range 120 {
		title := fmt.Sprintf("Chapter number %d", i)
		entries = append(entries, doc.Entry{Level: 1, Number: fmt.Sprint(i), Title: title, ID: slug(title)})
		sections = append(sections, sec(1, doc.RoleChapter, fmt.Sprint(i), title, fillerLines(i%50),
			p("See ", linkTo("#chapter-number-"+fmt.Sprint((i*7)%120), "another chapter"), ".")))
	}
	g := testGuide(append([]*doc.Section{sec(1, doc.RoleContents, "", "Contents", &doc.Contents{Entries: entries})}, sections...)...)
	b := laid(t, g)
	on := map[string]string{}
	for _, pg := range b.pages {
		for _, it := range pg.items {
			if a, ok := it.(*anchor); ok {
				on["#"+a.name] = fmt.Sprint(pg.number)
			}
		}
	}
	links := 0
	for _, pg := range b.pages {
		for _, it := range pg.items {
			if a, ok := it.(*area); ok {
				links++
				if !strings.HasSuffix(a.words, ", page "+on[a.to]) {
					t.Errorf("page %d: a link to %s says %q, which is on page %s", pg.number, a.to, a.words, on[a.to])
				}
			}
		}
	}
	if links < 240 {
		t.Errorf("%d links, expected 240 or more", links)
	}
}

func TestACoverIsOnePage(t *testing.T) {
	var numbers [][]any
	for i := range 15 {
		numbers = append(numbers, cells(fmt.Sprintf("Number %d", i), value("120\u00a0lb-ft (163\u00a0N·m)")))
	}
	tall := sideView()
	tall.Height = 400
	b := laid(t, testGuide(sec(1, doc.RoleCover, "", "Owner guide", &doc.Figure{Name: "side", Alt: "The trailer.", Drawing: tall, Wide: true},
		table(doc.TableNumbers, nil, numbers...)), sec(1, doc.RoleChapter, "1", "First", p("x"))))
	if len(b.pages) != 2 {
		t.Errorf("the guide has %d pages, expected the cover and one more", len(b.pages))
	}
}

// On the small page of a booklet the cover may be too long. The numbers you reach for then stand together behind it, and the picture
// keeps its size.
func TestNumbersStayTogether(t *testing.T) {
	var numbers [][]any
	for i := range 13 {
		numbers = append(numbers, cells(fmt.Sprintf("Number %d", i), value("120\u00a0lb-ft (163\u00a0N·m)")))
	}
	b, err := lay(testGuide(sec(1, doc.RoleCover, "", "Owner guide", &doc.Figure{Name: "side", Alt: "The trailer.", Drawing: sideView(), Wide: true},
		p("The numbers you reach for:"), table(doc.TableNumbers, nil, numbers...), p("Keep it."))),
		sheet{width: 460, height: 500, inside: 54, outside: 44, top: 60, bottom: 60})
	if err != nil {
		t.Fatal(err)
	}
	if lines := lineTexts(b.pages[1]); len(b.pages) != 2 || lines[0] != "The numbers you reach for: " || !strings.HasPrefix(lines[1], "Number 0") {
		t.Errorf("%d pages, the second reads %q", len(b.pages), lines)
	}
	for _, it := range b.pages[0].items {
		if f, ok := it.(*frame); ok && f.box.H < 110 {
			t.Errorf("the picture is %.0f points tall", f.box.H)
		}
	}
}

// A log is not begun for a row or two below another: its head row is as tall as four.
func TestALogIsNotBegunForFewRows(t *testing.T) {
	var rows [][]any
	for range 12 {
		rows = append(rows, cells("", "", ""))
	}
	for n := 20; n < 46; n++ {
		b := laid(t, testGuide(sec(1, doc.RoleForm, "1", "Log", fillerLines(n), table(doc.TableLog, cells("Date", "Torque", "By"), rows...))))
		for _, pg := range b.pages {
			headed, lines := false, 0
			for _, it := range pg.items {
				switch it := it.(type) {
				case *run:
					headed = headed || it.text == "Torque "
				case *shape:
					if it.line != nil && *it.line == middle && it.steps[0].at[2].y == it.steps[1].at[2].y {
						lines++
					}
				}
			}
			if pg.number == 1 && headed && lines > 0 && lines <= logRows {
				t.Errorf("%d lines before it: page %d has %d lines of the log", n, pg.number, lines)
			}
		}
	}
}

// Three lines on a page of their own make a guide thicker and no clearer.
func TestANearlyEmptyLastPageIsSaved(t *testing.T) {
	var many []doc.Block
	for range 12 {
		many = append(many, fillerLines(3))
	}
	for n := 1; n < 12; n++ {
		b := laid(t, testGuide(sec(1, doc.RoleChapter, "1", "Chapter", slices.Concat(many, []doc.Block{fillerLines(n)})...),
			sec(1, doc.RoleForm, "2", "Log", p("x"))))
		// 12 paragraphs of 3 lines and one of n, at 14 a line and 5 between, below a heading of 51 (11 of it space), on a page of 668. The
		// tightest way takes three tenths of the space.
		loose := 51 + 14*float64(36+n) + 5*12
		want := 3
		if loose <= 668 || loose-0.3*(5*12+11) <= 668+12 {
			want = 2
		}
		if len(b.pages) != want {
			t.Errorf("%d lines: %d pages, expected %d", n, len(b.pages), want)
		}
	}
}

// "Do this:" at the foot of a page sends the reader looking for what was meant.
func TestAnIntroductionStaysWithItsList(t *testing.T) {
	for n := 1; n < 60; n++ {
		b := laid(t, testGuide(sec(1, doc.RoleChapter, "1", "Chapter", fillerLines(n), p("Look for these:"), bullets("rust", "cracks", "loose nuts"),
			fillerLines(n), p(strong("Unload")), steps("Chock.", "Lower."),
			sec(2, doc.RoleTask, "", "Grease", table(doc.TableValues, nil, cells("When", "monthly"), cells("Tools", "gun")), steps("Wipe.", "Press.")))))
		for _, pg := range b.pages {
			lines := lineTexts(pg)
			if last := lines[len(lines)-1]; last == "Look for these: " || last == "Unload " || strings.HasPrefix(last, "Tools ") {
				t.Errorf("%d lines before it: %q ends the page", n, last)
			}
		}
	}
}

// One row of a table alone is easily missed.
func TestNoRowIsLeftAlone(t *testing.T) {
	var rows [][]any
	for i := range 12 {
		rows = append(rows, cells(fmt.Sprintf("row %d ", i), "x"))
	}
	for n := 1; n < 60; n++ {
		b := laid(t, testGuide(sec(1, doc.RoleChapter, "1", "Chapter", fillerLines(n), fillerLines(4), table(doc.TablePlain, cells("A", "B"), rows...))))
		for _, pg := range b.pages {
			count := 0
			for _, text := range lineTexts(pg) {
				if strings.HasPrefix(text, "row") {
					count++
				}
			}
			if count == 1 {
				t.Errorf("%d lines before it: one row stands alone on page %d", n, pg.number)
			}
		}
	}
}

// A short table is kept whole, and a long one is begun on a page that would else stay half empty.
func TestPagesEndAtTheBestPlace(t *testing.T) {
	s := func(height float64, after penalty) *slab { return &slab{height: height, after: after} }
	for _, c := range []struct {
		name  string
		slabs []*slab
		want  string
	}{
		{"all fit", []*slab{s(40, free), s(40, wrong)}, "[2]"},
		{"last free end", []*slab{s(30, free), s(30, free), s(30, free), s(30, free)}, "[3 1]"},
		{"free before uneasy", []*slab{s(60, free), s(20, uneasy), s(40, free)}, "[1 2]"},
		{"uneasy before half empty", []*slab{s(30, free), s(30, uneasy), s(60, free)}, "[2 1]"},
		{"uneasy before ugly", []*slab{s(60, uneasy), s(20, ugly), s(40, free)}, "[1 2]"},
		{"ugly before wrong", []*slab{s(60, ugly), s(20, wrong), s(40, free)}, "[1 2]"},
		{"wrong if need be", []*slab{s(60, wrong), s(20, wrong), s(40, free)}, "[2 1]"},
	} {
		pages, err := paginate(c.slabs, 100)
		if err != nil {
			t.Fatal(err)
		}
		var got []int
		for _, p := range pages {
			got = append(got, len(p.slabs))
		}
		if fmt.Sprint(got) != c.want {
			t.Errorf("%s: shared out as %v, expected %s", c.name, got, c.want)
		}
	}
}

func TestAShortFormStaysWhole(t *testing.T) {
	for n := 1; n < 60; n++ {
		b := laid(t, testGuide(sec(1, doc.RoleForm, "1", "Chapter", fillerLines(n), &doc.Form{Label: "Remarks", Rules: 4})))
		for _, pg := range b.pages {
			rules := 0
			for _, it := range pg.items {
				if s, ok := it.(*shape); ok && s.element != nil {
					rules++
				}
			}
			if rules != 0 && rules != 4 {
				t.Errorf("%d lines before it: %d of the 4 lines are on page %d", n, rules, pg.number)
			}
		}
	}
}

// A heading of two lines reads better when they are of like length.
func TestHeadingsAreBalanced(t *testing.T) {
	l := &layout{ruler: &ruler{known: map[measured]float64{}}}
	lines := l.set([]piece{{text: "Before you let anybody else pull the trailer away", look: body}}, 200, textStyle{leading: 14, balanced: true})
	if len(lines) != 2 || min(lines[0].width, lines[1].width) < 0.75*max(lines[0].width, lines[1].width) {
		t.Errorf("%d lines, the first two %.0f and %.0f wide", len(lines), lines[0].width, lines[len(lines)-1].width)
	}
}

// The bound edge is left on odd pages and right on even ones, and the tab lies at the other.
func TestPagesAreMirrored(t *testing.T) {
	sh, _ := Letter.sheet()
	b := laid(t, testGuide(sec(1, doc.RoleChapter, "1", "Chapter", fillerLines(100))))
	for _, pg := range b.pages {
		first := texts(pg)[len(texts(pg))-1]
		wantText, wantTab := hang+sh.inside, sh.width-tabWidth
		if pg.number%2 == 0 {
			wantText, wantTab = hang+sh.outside, 0
		}
		if first.x != wantText {
			t.Errorf("page %d: text begins at %.1f, expected %.1f", pg.number, first.x, wantText)
		}
		tab := false
		for _, it := range pg.items {
			if s, ok := it.(*shape); ok && s.fill != nil && *s.fill == tabFill && s.steps[0].at[2].x == wantTab {
				tab = true
			}
		}
		if !tab {
			t.Errorf("page %d has no tab at %.1f", pg.number, wantTab)
		}
	}
}

func TestAChapterInTheContentsStaysWithItsFirstPart(t *testing.T) {
	for n := 1; n < 60; n++ {
		entries := []doc.Entry{}
		for i := range n {
			entries = append(entries, doc.Entry{Level: 2, Title: fmt.Sprintf("part %d", i), ID: "chapter"})
		}
		entries = append(entries, doc.Entry{Level: 1, Title: "Last", ID: "chapter"}, doc.Entry{Level: 2, Title: "its part", ID: "chapter"})
		b := laid(t, testGuide(sec(1, doc.RoleContents, "", "Contents", &doc.Contents{Entries: entries}), sec(1, doc.RoleChapter, "", "Chapter", p("x"))))
		for _, pg := range b.pages {
			if lines := lineTexts(pg); strings.HasPrefix(lines[len(lines)-1], "Last ") {
				t.Errorf("%d entries before it: the chapter's line ends page %d", n, pg.number)
			}
		}
	}
}

// In a narrow column the name of a value may be broken, its figure never.
func TestNamesBreakButNumbersDoNot(t *testing.T) {
	for text, want := range map[string]string{
		"hitch.tongue_range.full": "hitch.|tongue_|range.|full", "service@example.com": "service@|example.|com",
		"12.5": "12.5", "2-5/16": "2-5/16", "12,360\u00a0lb\u00a0(5,606\u00a0kg)": "12,360\u00a0lb\u00a0(5,606\u00a0kg)", "BW-27-0142": "BW-27-0142",
		"ISO\u00a032": "ISO\u00a032", "": "", "-x": "-x", "a--b": "a--|b",
	} {
		var parts []string
		for rest := text; rest != ""; {
			part := breakable(rest, false)
			parts, rest = append(parts, part), rest[len(part):]
		}
		if got := strings.Join(parts, "|"); got != want {
			t.Errorf("%q breaks as %q, expected %q", text, got, want)
		}
	}
	long := func() doc.Inline { return value("12,360\u00a0lb\u00a0(5,606\u00a0kg)") }
	sentence := strings.Repeat("arithmetic on figures that the product line gives ", 6)
	b := laid(t, testGuide(sec(1, doc.RoleChapter, "1", "Chapter", table(doc.TablePlain, cells("Value", "Figure", "How", "Source"),
		cells("hitch.tongue_range.full.high", long(), sentence, sentence), cells("tiedown.three_quarters.chain_wll_each", long(), sentence, sentence)))))
	if text := heard(b); strings.Count(text, "12,360\u00a0lb\u00a0(5,606\u00a0kg) ") != 2 {
		t.Errorf("a figure is parted: %q", text)
	}
	for _, r := range texts(b.pages[0]) {
		if strings.Contains(r.text, "arithmetic") && r.look.size != small.size {
			t.Errorf("the table is set in %.1f points because of a name", r.look.size)
		}
	}
}

// A long table of contents has two columns, read down the first and then down the second, page by page.
func TestLongContentsHaveColumns(t *testing.T) {
	for n := manyEntries + 1; n < 330; n += 3 {
		var entries []doc.Entry
		want := ""
		for i := range n {
			level := 2
			if i%7 == 0 {
				level = 1
			}
			entries = append(entries, doc.Entry{Level: level, Title: fmt.Sprintf("e%dx", i), ID: "chapter"})
			want += fmt.Sprintf("e%dx ", i)
		}
		b := laid(t, testGuide(sec(1, doc.RoleContents, "", "Contents", &doc.Contents{Entries: entries}), sec(1, doc.RoleChapter, "", "Chapter", p("x"))))
		got := ""
		for _, pg := range b.pages {
			lastX, lastY := 0.0, 0.0
			for _, r := range texts(pg) {
				if !strings.HasPrefix(r.text, "e") {
					continue
				}
				got += r.text
				column := r.x - b.left(pg)
				if wide := column > textWidth/2; wide == (lastX > textWidth/2) && r.y <= lastY {
					t.Fatalf("%d entries: on page %d %q stands above the one before", n, pg.number, r.text)
				}
				if column < textWidth/2 && lastX > textWidth/2 {
					t.Fatalf("%d entries: on page %d %q goes back to the first column", n, pg.number, r.text)
				}
				lastX, lastY = column, r.y
			}
		}
		if got != want {
			t.Fatalf("%d entries: read as %s", n, got)
		}
		if pages := (n+60)/115 + 2; len(b.pages) > pages {
			t.Errorf("%d entries take %d pages, expected %d at most", n, len(b.pages)-1, pages-1)
		}
	}
}

// left is where the text area of a letter page begins.
func (b *book) left(p *page) float64 {
	sh, _ := Letter.sheet()
	return sh.left(p.number)
}

// "Too much weight on" and "it" are one cause, not two.
func TestEntriesOfACellStandApart(t *testing.T) {
	cell := &doc.Emphasis{Inlines: inlines([]any{"first entry that needs more than the one line it would like to have in this column", &doc.Break{}, "second entry"})}
	b := laid(t, testGuide(sec(1, doc.RoleChapter, "", "Chapter", table(doc.TablePlain, nil, cells(strings.Repeat("much to say here ", 30), cell)))))
	at := map[string]float64{}
	for _, r := range texts(b.pages[0]) {
		at[strings.Fields(r.text)[0]] = r.x
		if !strings.HasPrefix(r.text, "first") && r.look.style == body.italic().style && !strings.HasPrefix(r.text, "second") && r.x <= at["first"] {
			t.Errorf("%q does not stand in", r.text)
		}
	}
	if at["first"] != at["second"] {
		t.Errorf("the entries begin at %.1f and %.1f", at["first"], at["second"])
	}
}

// A chapter begins on the page that the one before leaves half empty, well below it, and both have their tab; what must stand alone does.
func TestAShortChapterLeavesRoomForTheNext(t *testing.T) {
	for _, c := range []struct {
		name  string
		lines int // of the first chapter
		role  doc.Role
		next  int // lines of the second
		pages int
	}{
		{"half a page is left", 20, doc.RoleChapter, 40, 2},
		{"all of the second fits", 20, doc.RoleChapter, 3, 1},
		{"too little is left", 30, doc.RoleChapter, 3, 2},
		{"a form stands alone", 20, doc.RoleForm, 3, 2},
	} {
		b := laid(t, testGuide(sec(1, doc.RoleChapter, "1", "First", fillerLines(c.lines)), sec(1, c.role, "2", "Second", fillerLines(c.next))))
		if len(b.pages) != c.pages {
			t.Errorf("%s: %d pages, expected %d", c.name, len(b.pages), c.pages)
		}
		tabs := map[string]int{} // pages by number in the tab
		second := 0
		for _, pg := range b.pages {
			for _, it := range pg.items {
				switch it := it.(type) {
				case *run:
					if it.element == nil && it.look.size == 13 {
						tabs[it.text] += pg.number
					}
				case *anchor:
					if it.name == "second" {
						second = pg.number
					}
				}
			}
		}
		if tabs["1"] != 1 || tabs["2"] < second || second == 1 && tabs["2"] != []int{0, 1, 3}[c.pages] {
			t.Errorf("%s: the second chapter begins on page %d, the tabs are %v", c.name, second, tabs)
		}
	}
}

// A heading at the foot of another chapter's page, with the picture it is about overleaf, looks lost: such a chapter begins a page.
func TestAChapterDoesNotBeginStranded(t *testing.T) {
	tall := sideView()
	tall.Height = 500
	b := laid(t, testGuide(sec(1, doc.RoleChapter, "1", "First", fillerLines(20)),
		sec(1, doc.RoleChapter, "2", "Second", p("Look."), &doc.Figure{Name: "side", Alt: "The trailer.", Drawing: tall, Wide: true})))
	if lines := lineTexts(b.pages[0]); slices.Contains(lines, "Look. ") {
		t.Errorf("the first page reads %q", lines)
	}
}

// A page is not left half empty for a picture that does not fit: text of the section goes before it, but no step, and who hears the page
// hears the picture where it belongs.
func TestTextGoesBeforeAPictureThatDoesNotFit(t *testing.T) {
	tall := sideView()
	tall.Height = 400
	for _, c := range []struct {
		name  string
		after doc.Block
		moved bool
	}{
		{"a paragraph", p("Check it now."), true},
		{"a list", bullets("Check it now."), true},
		{"steps", steps("Check it now."), false},
		{"a section", sec(2, doc.RolePlain, "", "Next", p("Check it now.")), false},
	} {
		b := laid(t, testGuide(sec(1, doc.RoleChapter, "1", "Chapter", fillerLines(20), p("As drawn."),
			&doc.Figure{Name: "side", Alt: "The trailer.", Caption: "The picture", Drawing: tall, Wide: true}, c.after, fillerLines(30))))
		moved := slices.ContainsFunc(texts(b.pages[0]), func(r *run) bool { return r.text == "Check it now. " })
		if moved != c.moved {
			t.Errorf("%s went before the picture: %t, expected %t", c.name, moved, c.moved)
		}
		if text := heard(b); strings.Index(text, "The picture") > strings.Index(text, "Check it now.") {
			t.Errorf("%s is heard before the picture", c.name)
		}
	}
}

// A picture that misses the page of its mention by a little gives way by a fifth, its caption keeps its size, and no other does.
func TestAPictureGivesWay(t *testing.T) {
	for _, c := range []struct {
		height, want float64
	}{{250, 250}, {300, 240}, {400, 400}} { // the heading takes 51, 21 lines 299 and the gap 8 of 668; the caption 16.5
		d := sideView()
		d.Height = c.height
		b := laid(t, testGuide(sec(1, doc.RoleChapter, "1", "Chapter", fillerLines(20), p("As drawn."),
			&doc.Figure{Name: "side", Alt: "The trailer.", Caption: "The picture", Drawing: d, Wide: true}, fillerLines(40))))
		var got []float64
		for _, pg := range b.pages {
			for _, it := range pg.items {
				switch it := it.(type) {
				case *frame:
					got = append(got, it.box.H)
					if (pg.number == 1) != (c.height < 400) {
						t.Errorf("%.0f points: the picture is on page %d", c.height, pg.number)
					}
				case *run:
					if it.text == "The picture" && it.look.size != note.size {
						t.Errorf("%.0f points: the caption is set at %.1f", c.height, it.look.size)
					}
				}
			}
		}
		if len(got) != 1 || got[0] != c.want {
			t.Errorf("%.0f points: figures %v points tall, expected one of %.0f", c.height, got, c.want)
		}
	}
}

// The first or last step alone on a page is passed over.
func TestNoItemOfAListIsLeftAlone(t *testing.T) {
	for n := 1; n < 60; n++ {
		b := laid(t, testGuide(sec(1, doc.RoleChapter, "1", "Chapter", fillerLines(n), steps("item one", "item two", "item three", "item four", "item five"))))
		for _, pg := range b.pages {
			count := 0
			for _, r := range texts(pg) {
				if strings.HasPrefix(r.text, "item") {
					count++
				}
			}
			if count == 1 {
				t.Errorf("%d lines before it: one item stands alone on page %d", n, pg.number)
			}
		}
	}
}

// Rows of a label and a short value have two columns, read down the left one first, if there are many and all are short.
func TestShortRowsHaveColumns(t *testing.T) {
	rows := func(n int, label string) (out [][]any) {
		for i := range n {
			out = append(out, cells(fmt.Sprintf("%s %d", label, i), value("2")))
		}
		return out
	}
	for name, c := range map[string]struct {
		table   doc.Block
		columns bool
	}{
		"many": {table(doc.TableValues, nil, rows(7, "lamps")...), true}, "few": {table(doc.TableValues, nil, rows(5, "lamps")...), false},
		"headed": {table(doc.TablePlain, cells("Lamp", "Count"), rows(8, "lamps")...), true},
		"long":   {table(doc.TableValues, nil, rows(8, "lamps of a kind with a name that takes half a line")...), false},
		"fine":   {table(doc.TableFine, cells("Lamp", "Count"), rows(8, "lamps")...), false},
	} {
		b := laid(t, testGuide(sec(1, doc.RoleChapter, "1", "Chapter", c.table)))
		var xs, ys []float64
		for _, r := range texts(b.pages[0]) {
			if strings.HasPrefix(r.text, "lamps") {
				xs, ys = append(xs, r.x), append(ys, r.y)
			}
		}
		if columns := xs[len(xs)-1] > xs[0]+100; columns != c.columns || columns && ys[(len(ys)+1)/2] != ys[0] {
			t.Errorf("%s: two columns: %t, expected %t; rows at %v", name, columns, c.columns, ys)
		}
		if text := heard(b); strings.Index(text, " 0") > strings.Index(text, " 4") {
			t.Errorf("%s: rows are heard out of order: %q", name, text)
		}
	}
}

// Tables that follow one another with the same head have columns that run through.
func TestTablesOfOneHeadAreInLine(t *testing.T) {
	at := func(second string) (xs []float64) {
		b := laid(t, testGuide(sec(1, doc.RoleChapter, "1", "Chapter",
			table(doc.TablePlain, cells("Cause", "Remedy", "Call"), cells("short", "do this", "x")),
			table(doc.TablePlain, cells("Cause", second, "Call"), cells("a cause of many words that wraps when it has not the whole line to itself", "do this and that", "x y z")))))
		for _, r := range texts(b.pages[0]) {
			if r.text == "Call " {
				xs = append(xs, r.x)
			}
		}
		return xs
	}
	if xs := at("Remedy"); len(xs) != 2 || xs[0] != xs[1] {
		t.Errorf("the last columns begin at %v", xs)
	}
	if xs := at("Other"); len(xs) != 2 || xs[0] == xs[1] {
		t.Errorf("tables of different heads begin their last columns at %v", xs)
	}
}

// A long list of short items has two columns, unless they are steps or sentences.
func TestShortItemsHaveColumns(t *testing.T) {
	items := func(text string) []any {
		var out []any
		for i := range 14 {
			out = append(out, fmt.Sprintf("%s %d", text, i))
		}
		return out
	}
	for name, c := range map[string]struct {
		list    doc.Block
		columns bool
	}{
		"short": {bullets(items("item")...), true}, "few": {bullets(items("item")[:12]...), false},
		"steps": {steps(items("item")...), false}, "sentences": {bullets(items("a sentence that takes more than the half of a line, as sentences do")...), false},
	} {
		b := laid(t, testGuide(sec(1, doc.RoleChapter, "1", "Chapter", c.list)))
		var xs []float64
		for _, r := range texts(b.pages[0]) {
			if strings.HasPrefix(r.text, "item") || strings.HasPrefix(r.text, "a sentence") {
				xs = append(xs, r.x)
			}
		}
		if columns := slices.Max(xs) > slices.Min(xs)+100; columns != c.columns {
			t.Errorf("%s: two columns: %t, expected %t", name, columns, c.columns)
		}
	}
}
