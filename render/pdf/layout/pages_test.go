package layout

import (
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/page"
	"ownerguide/render/pdf/paper"
	"ownerguide/render/pdf/typeset"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// laid lays a guide out on letter paper.
func laid(t testing.TB, g *doc.Guide) *Book {
	t.Helper()
	return laidOn(t, g, paper.Letter)
}

func laidOn(t testing.TB, g *doc.Guide, p paper.Size) *Book {
	t.Helper()
	f, _ := p.Format()
	b, err := Lay(g, f)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// letter is the page of these tests.
var letter, _ = paper.Letter.Format()

// dump prints pages for people: place, style and size, element, text; of shapes only those that fill or frame.
func dump(b *Book) string {
	var out strings.Builder
	for _, p := range b.Pages {
		fmt.Fprintf(&out, "page %d\n", p.Number)
		for it := range p.All() {
			switch it := it.(type) {
			case *page.Text:
				fmt.Fprintf(&out, "  %6.1f %6.1f  %-6s %4.1f %-6s %q\n", it.X, it.Y, [...]string{"", "bold", "italic", "both"}[it.Look.Style], it.Look.Size, role(it.Element), it.Words)
			case *page.Link:
				fmt.Fprintf(&out, "  %6.1f %6.1f  link to %s: %q\n", it.Box.X, it.Box.Y, it.To, it.Words)
			case *page.Anchor:
				fmt.Fprintf(&out, "         %6.1f  anchor %s\n", it.Y, it.Name)
			case *page.Frame:
				fmt.Fprintf(&out, "  %6.1f %6.1f  figure %.1f by %.1f\n", it.Box.X, it.Box.Y, it.Box.W, it.Box.H)
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

// texts are the words of a page that are read aloud, in order.
func texts(p *page.Page) []*page.Text {
	var out []*page.Text
	for it := range p.All() {
		if r, ok := it.(*page.Text); ok && r.Element != nil {
			out = append(out, r)
		}
	}
	return out
}

// columns gives the lines of each column of a book in turn.
func columns(b *Book) (out [][]string) {
	for _, p := range b.Pages {
		middle := letter.TextLeft(p.Number) + letter.ColumnWidth + paper.Gutter/2
		halves, last := [2][]string{}, [2]float64{-1, -1}
		for _, r := range texts(p) {
			side := 0
			if r.X > middle {
				side = 1
			}
			if math.Abs(r.Y-last[side]) < 0.1 {
				halves[side][len(halves[side])-1] += r.Words
			} else {
				halves[side] = append(halves[side], r.Words)
			}
			last[side] = r.Y
		}
		out = append(out, halves[0], halves[1])
	}
	return out
}

// heard is the text of the guide as a screen reader gets it: the tree in its own order, the text of each element between its children
// as it was painted.
func heard(b *Book) string {
	type part struct {
		at   int
		text string
	}
	own := map[*finish.Element][]part{}
	n := 0
	for _, p := range b.Pages {
		for _, r := range texts(p) {
			own[r.Element] = append(own[r.Element], part{n, r.Words})
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
	read(b.Root)
	return s.String()
}

// checkInside checks every item against the page and the tree: nothing lies outside the paper, what is read belongs to the tree and lies
// inside the text area.
func checkInside(t testing.TB, b *Book, f paper.Format) {
	t.Helper()
	known := map[*finish.Element]bool{}
	var walk func(e *finish.Element)
	walk = func(e *finish.Element) {
		known[e] = true
		for _, c := range e.Children {
			walk(c)
		}
	}
	walk(b.Root)
	r := typeset.NewRuler(2)
	for _, p := range b.Pages {
		for it := range p.All() {
			x, ok := it.(*page.Text)
			if !ok {
				continue
			}
			if x.Element != nil && !known[x.Element] {
				t.Fatalf("page %d: %q belongs to no element of the tree", p.Number, x.Words)
			}
			end := x.X + r.Width(x.Look, strings.TrimRight(x.Words, " "))
			if x.Y < 0 || x.Y > f.Height || x.X < 0 || x.Turn == 0 && end > f.Width {
				t.Fatalf("page %d: %q (%s %.1f) lies outside the paper at %.1f, %.1f", p.Number, x.Words, role(x.Element), x.Look.Size, x.X, x.Y)
			}
			if x.Element != nil && (x.Y > f.Top+f.TextHeight+1 || x.Y < f.Top) {
				t.Fatalf("page %d: %q lies outside the text area at %.1f", p.Number, x.Words, x.Y)
			}
		}
	}
}

func TestWholeGuide(t *testing.T) {
	b := laid(t, wholeGuide())
	golden(t, "whole.txt", dump(b))
	checkInside(t, b, letter)
}

// A type that is forgotten here could be a caution that is not printed.
func TestEveryTypeIsSet(t *testing.T) {
	met := map[string]bool{}
	g := wholeGuide()
	for n := range doc.Walk(g.Sections) {
		met[fmt.Sprintf("%T", n)] = true
	}
	for _, n := range doc.Types {
		if !met[fmt.Sprintf("%T", n)] {
			t.Errorf("the test guide has no %T, so nothing shows that it is set", n)
		}
	}
	laid(t, g)
}

// fillerLines is a paragraph of so many lines.
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

// The bound edge is left on odd pages and right on even ones, and the tab lies at the other, its ink clear of the trimmed edge.
func TestPagesAreMirrored(t *testing.T) {
	b := laid(t, testGuide(sec(1, doc.RoleChapter, "12", "Chapter", fillerLines(500))))
	if len(b.Pages) < 4 {
		t.Fatal("too few pages")
	}
	r := typeset.NewRuler(2)
	for _, pg := range b.Pages {
		wantText, wantTab := letter.Inner, letter.Width-letter.TabWidth
		if pg.Number%2 == 0 {
			wantText, wantTab = letter.Outer, 0
		}
		left := letter.Width
		for _, x := range texts(pg) {
			left = min(left, x.X)
		}
		if left != wantText {
			t.Errorf("page %d: text begins at %.1f, expected %.1f", pg.Number, left, wantText)
		}
		tab := false
		for it := range pg.All() {
			switch it := it.(type) {
			case *page.Shape:
				tab = tab || it.Fill != nil && it.Steps[0].At[2].X == wantTab
			case *page.Text:
				if it.Words == "12" && it.Element == nil && it.Look.Size == tabNumber.Size {
					if end := it.X + r.Width(it.Look, it.Words); it.X < tabClear || end > letter.Width-tabClear {
						t.Errorf("page %d: the number in the tab stands at %.1f to %.1f", pg.Number, it.X, end)
					}
				}
			}
		}
		if !tab {
			t.Errorf("page %d has no tab at %.1f", pg.Number, wantTab)
		}
	}
}

// What the contents promise must be where the chapter is, also where numbers have three figures.
func TestContentsTellTheTruth(t *testing.T) {
	var sections []*doc.Section
	var entries []doc.Entry
	for i := range 120 {
		title := fmt.Sprintf("Chapter number %d", i)
		entries = append(entries, doc.Entry{Level: 1, Number: fmt.Sprint(i), Title: title, ID: slug(title)})
		sections = append(sections, sec(1, doc.RoleForm, fmt.Sprint(i), title, fillerLines(i%50),
			p("See ", linkTo("#chapter-number-"+fmt.Sprint((i*7)%120), "another chapter"), ".")))
	}
	g := testGuide(append([]*doc.Section{sec(1, doc.RoleContents, "", "Contents", &doc.Contents{Entries: entries})}, sections...)...)
	b := laid(t, g)
	on := map[string]string{}
	for _, pg := range b.Pages {
		for it := range pg.All() {
			if a, ok := it.(*page.Anchor); ok {
				on["#"+a.Name] = fmt.Sprint(pg.Number)
			}
		}
	}
	links := 0
	for _, pg := range b.Pages {
		said := heardOn(pg)
		for it := range pg.All() {
			if a, ok := it.(*page.Link); ok {
				links++
				if !strings.HasSuffix(a.Words, ", page "+on[a.To]) {
					t.Errorf("page %d: a link to %s says %q, which is on page %s", pg.Number, a.To, a.Words, on[a.To])
				}
				if !strings.Contains(said[a.Element], on[a.To]) {
					t.Errorf("page %d: a link to %s reads %q, which is on page %s", pg.Number, a.To, said[a.Element], on[a.To])
				}
			}
		}
	}
	if links < 240 || len(b.Pages) < 100 {
		t.Errorf("%d links on %d pages, expected 240 or more on 100", links, len(b.Pages))
	}
	checkInside(t, b, letter)
}

// heardOn is what each element says on a page.
func heardOn(p *page.Page) map[*finish.Element]string {
	out := map[*finish.Element]string{}
	for _, r := range texts(p) {
		out[r.Element] += r.Words
	}
	return out
}

func TestACoverIsOnePage(t *testing.T) {
	var numbers [][]any
	for i := range 15 {
		numbers = append(numbers, cells(fmt.Sprintf("Number %d", i), value("120\u00a0lb-ft (163\u00a0N·m)")))
	}
	tall := sideView()
	tall.Height = 480
	b := laid(t, testGuide(sec(1, doc.RoleCover, "", "Owner guide", &doc.Figure{Name: "side", Alt: "The trailer.", Drawing: tall, Wide: true},
		table(doc.TableNumbers, nil, numbers...)), sec(1, doc.RoleChapter, "1", "First", p("x"))))
	if len(b.Pages) != 2 {
		t.Errorf("the guide has %d pages, expected the cover and one more", len(b.Pages))
	}
}

// On the small page of a booklet the cover may be too long. The numbers you reach for then stand together behind it.
func TestNumbersStayTogether(t *testing.T) {
	var numbers [][]any
	for i := range 20 {
		numbers = append(numbers, cells(fmt.Sprintf("Number %d", i), value("120\u00a0lb-ft (163\u00a0N·m)")))
	}
	f := letter.Booklet()
	b, err := Lay(testGuide(sec(1, doc.RoleCover, "", "Owner guide", &doc.Figure{Name: "side", Alt: "The trailer.", Drawing: sideView(), Wide: true},
		p("The numbers you reach for:"), table(doc.TableNumbers, nil, numbers...), p("Keep it."))), f)
	if err != nil {
		t.Fatal(err)
	}
	on := map[string]int{}
	for _, pg := range b.Pages {
		for _, r := range texts(pg) {
			if strings.HasPrefix(r.Words, "Number ") {
				on[fmt.Sprint(pg.Number)]++
			}
		}
	}
	if len(on) != 1 {
		t.Errorf("the numbers stand on these pages: %v", on)
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
			part := typeset.Breakable(rest, false)
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
	for _, r := range texts(b.Pages[0]) {
		if strings.Contains(r.Words, "arithmetic") && r.Look.Size != tableText.Size {
			t.Errorf("the table is set in %.1f points because of a name", r.Look.Size)
		}
	}
}

// "Too much weight on" and "it" are one cause, not two.
func TestEntriesOfACellStandApart(t *testing.T) {
	cell := &doc.Emphasis{Inlines: inlines([]any{"first entry that needs more than the one line it would like to have in this column", &doc.Break{}, "second entry"})}
	b := laid(t, testGuide(sec(1, doc.RoleChapter, "", "Chapter", table(doc.TablePlain, nil, cells(strings.Repeat("much to say here ", 30), cell)))))
	at := map[string]float64{}
	for _, r := range texts(b.Pages[0]) {
		at[strings.Fields(r.Words)[0]] = r.X
		if !strings.HasPrefix(r.Words, "first") && r.Look.Style == body.Italic().Style && !strings.HasPrefix(r.Words, "second") && r.X <= at["first"] {
			t.Errorf("%q does not stand in", r.Words)
		}
	}
	if at["first"] != at["second"] || at["first"] == 0 {
		t.Errorf("the entries begin at %.1f and %.1f", at["first"], at["second"])
	}
}

// A chapter begins below the end of the one before, unless what it has there is next to nothing; a form begins a page, and so does what
// follows it. The tab and the head of a page are those of the last chapter that begins on it.
func TestChaptersRunOn(t *testing.T) {
	for _, c := range []struct {
		name  string
		lines int // of the first chapter
		role  doc.Role
		next  int // lines of the second
		on    int // page of the second
	}{
		{"half a page is left", 40, doc.RoleChapter, 40, 1},
		{"all of the second fits", 40, doc.RoleChapter, 6, 1},
		{"too little is left", 100, doc.RoleChapter, 60, 2},
		{"a form stands alone", 20, doc.RoleForm, 3, 2},
	} {
		b := laid(t, testGuide(sec(1, doc.RoleChapter, "1", "First", fillerLines(c.lines)), sec(1, c.role, "2", "Second", fillerLines(c.next))))
		tabs := map[int][]string{} // by page
		second := 0
		for _, pg := range b.Pages {
			for it := range pg.All() {
				switch it := it.(type) {
				case *page.Text:
					if it.Element == nil && it.Look.Size == tabNumber.Size {
						tabs[pg.Number] = append(tabs[pg.Number], it.Words)
					}
				case *page.Anchor:
					if it.Name == "second" {
						second = pg.Number
					}
				}
			}
		}
		want := []string{"1"}
		if second == 1 {
			want = []string{"1", "2"}
		}
		if second != c.on || !slices.Equal(tabs[1], want) || second == 2 && !slices.Equal(tabs[2], []string{"2"}) {
			t.Errorf("%s: the second chapter begins on page %d, the tabs are %v", c.name, second, tabs)
		}
	}
}

// Columns above what spans the page are about as long as each other, and nothing below it is read before what is above.
func TestColumnsAboveASpanAreBalanced(t *testing.T) {
	for n := 8; n < 40; n++ {
		b := laid(t, testGuide(sec(1, doc.RoleChapter, "1", "First", fillerLines(n)), sec(1, doc.RoleChapter, "2", "Second", fillerLines(6))))
		cs := columns(b)
		left, right := 0, 0
		for _, l := range cs[0] {
			if strings.HasPrefix(l, "filler") {
				left++
			}
		}
		for _, l := range cs[1] {
			if strings.HasPrefix(l, "filler") {
				right++
			}
		}
		if d := left - right; d < -2 || d > 2 {
			t.Errorf("%d lines stand as %d beside %d", n+6, left, right)
		}
		if text := heard(b); strings.Index(text, "Second") < strings.Index(text, fmt.Sprintf("filler line %d ", n-1)) {
			t.Errorf("%d lines: the second chapter is heard before the end of the first", n)
		}
	}
}
