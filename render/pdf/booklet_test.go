package pdf

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"ownerguide/render/doc"
	"ownerguide/spec/testenv"
)

// Worked out by folding paper and numbering it; 0 is a blank. For 44 pages there are two signatures, of six and of five sheets.
func TestImpositionOrder(t *testing.T) {
	for pages, want := range map[int]string{
		1:  "0-1 0-0",
		5:  "0-1 2-0 0-3 4-5",
		8:  "8-1 2-7 6-3 4-5",
		12: "12-1 2-11 10-3 4-9 8-5 6-7",
		44: "24-1 2-23 22-3 4-21 20-5 6-19 18-7 8-17 16-9 10-15 14-11 12-13" +
			" 44-25 26-43 42-27 28-41 40-29 30-39 38-31 32-37 36-33 34-35",
	} {
		var got []string
		for _, s := range impose(pages) {
			got = append(got, fmt.Sprintf("%d-%d", s.left, s.right))
		}
		if strings.Join(got, " ") != want {
			t.Errorf("%d pages: %s\nexpected %s", pages, strings.Join(got, " "), want)
		}
	}
}

// folded does what the hands do: sheets lie printed, front side down at the bottom of the pile turned over, each signature is folded in the
// middle, and the leaves are read from the front. A leaf of the right half has its front page before its back page; the back of a
// right half is the left half of the other side, since the sheet turns over its short edge.
func folded(sides []side) (read []int) {
	for i := 0; i < len(sides); {
		k := i
		for k < len(sides) && sides[k].signature == sides[i].signature {
			k += 2
		}
		sheets := sides[i:k]
		for s := 0; s < len(sheets); s += 2 { // first halves of the leaves, outside in
			read = append(read, sheets[s].right, sheets[s+1].left)
		}
		for s := len(sheets) - 2; s >= 0; s -= 2 { // second halves, inside out
			read = append(read, sheets[s+1].right, sheets[s].left)
		}
		i = k
	}
	return read
}

// Folded and laid on one another, the sheets read 1, 2, 3 … with the blanks at the end.
func TestFoldedSheetsReadInOrder(t *testing.T) {
	for pages := 1; pages <= 300; pages++ {
		sides := impose(pages)
		read := folded(sides)
		for i, page := range read {
			want := i + 1
			if want > pages {
				want = 0
			}
			if page != want {
				t.Fatalf("%d pages: leaf %d shows page %d", pages, i+1, page)
			}
		}
		if len(read) < pages || len(read) > pages+3 {
			t.Fatalf("%d pages on sheets for %d", pages, len(read))
		}
		most, least := 0, maxSheets
		for _, sheets := range signatures(pages) {
			most, least = max(most, sheets), min(least, sheets)
		}
		if most > maxSheets || most-least > 1 {
			t.Fatalf("%d pages: signatures of %v sheets", pages, signatures(pages))
		}
	}
}

// written puts a PDF where a program can read it.
func written(t *testing.T, data []byte) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "file.pdf")
	if err := os.WriteFile(name, data, 0o644); err != nil {
		t.Fatal(err)
	}
	return name
}

// The printed sheets, read back by a program from outside: two pages on each side, in the order for folding, inside the paper.
func TestBookletIsPrintedAsImposed(t *testing.T) {
	testenv.Outside(t, "qpdf", "pdfinfo", "pdftotext")
	for _, paper := range []Paper{Letter, A4} {
		data, folding, err := Booklet(wholeGuide(), Options{Paper: paper})
		if err != nil {
			t.Fatal(err)
		}
		file := written(t, data)
		if s := testenv.Tool(t, "qpdf", "--check", file); strings.Contains(strings.ToLower(s), "warning") {
			t.Error(s)
		}
		sides := impose(folding.Pages)
		size := map[Paper]string{Letter: "792 x 612", A4: "841.89 x 595.28"}[paper]
		if s := testenv.Tool(t, "pdfinfo", file); !strings.Contains(s, fmt.Sprintf("Pages:           %d\n", len(sides))) || !strings.Contains(s, size) || !strings.Contains(s, "Tagged:          no") {
			t.Errorf("%s: %s", paper, s)
		}
		half := map[Paper]int{Letter: 396, A4: 420}[paper]
		place := regexp.MustCompile(`page (\d+) of (\d+)`)
		for i, s := range sides {
			for k, number := range []int{s.left, s.right} {
				text := testenv.Tool(t, "pdftotext", "-f", fmt.Sprint(i+1), "-l", fmt.Sprint(i+1), "-x", fmt.Sprint(k*half), "-y", "0", "-W", fmt.Sprint(half-1), "-H", "620", file, "-")
				found := 0
				if m := place.FindStringSubmatch(text); m != nil {
					fmt.Sscan(m[1], &found)
					if m[2] != fmt.Sprint(folding.Pages) {
						t.Errorf("%s: side %d says %q", paper, i+1, m[0])
					}
				}
				if found != number {
					t.Errorf("%s: half %d of side %d shows page %d, expected %d", paper, k, i+1, found, number)
				}
			}
		}
	}
	if _, _, err := Booklet(wholeGuide(), Options{Paper: A5}); err == nil {
		t.Error("half a sheet was folded again")
	}
}

// together puts guides into one file on letter paper.
func together(guides ...*doc.Guide) ([]byte, Report, error) {
	all := NewTogether(Options{})
	for _, g := range guides {
		if err := all.Add(g); err != nil {
			return nil, Report{}, err
		}
	}
	return all.Finish()
}

// Guides with equal chapters go into one file, each with its own part of the structure tree.
func TestTogetherOfOneKind(t *testing.T) {
	one, other := wholeGuide(), wholeGuide()
	one.Serial, other.Serial = "BW-27-0001", "BW-27-0002"
	for _, g := range []*doc.Guide{one, other} { // its sections are in the cache now
		if _, _, err := Render(g, Options{}); err != nil {
			t.Fatal(err)
		}
	}
	if _, _, err := together(one, other); err != nil {
		t.Error(err)
	}
}

// The file for the print room is told from the guide of one unit, and from one
// that was changed: those two must not be written over.
func TestIsTogether(t *testing.T) {
	g := testGuide(sec(1, doc.RoleChapter, "1", "Only", p("Text.")))
	all, _, err := together(g)
	if err != nil {
		t.Fatal(err)
	}
	one, _, err := Render(g, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if !IsTogether(all) || IsTogether(one) || IsTogether(append(all, '%')) || IsTogether(nil) {
		t.Errorf("several guides %t, one guide %t, changed %t", IsTogether(all), IsTogether(one), IsTogether(append(all, '%')))
	}
}

// Three units for the print room: right-hand pages first, bookmarks by serial number, and every link inside its own guide.
func TestTogether(t *testing.T) {
	testenv.Outside(t, "qpdf", "pdfinfo", "pdftotext", "mutool")
	var guides []*doc.Guide
	pages := []int{}
	at := 1
	for i, serial := range []string{"BW-27-0001", "BW-27-0002", "BW-27-0003"} {
		g := wholeGuide()
		g.Serial = serial
		if i == 1 { // an odd number of pages, so that a blank follows
			g = testGuide(sec(1, doc.RoleChapter, "1", "Only", p("See ", linkTo("#only", "here"), ".")))
			g.Serial = serial
		}
		guides = append(guides, g)
		_, report, err := Render(g, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if at%2 == 0 {
			at++
		}
		pages = append(pages, at)
		at += report.Pages
	}
	data, report, err := together(guides...)
	if err != nil {
		t.Fatal(err)
	}
	if report.Pages != at-1 {
		t.Errorf("%d pages, expected %d", report.Pages, at-1)
	}
	file := written(t, data)
	if s := testenv.Tool(t, "qpdf", "--check", file); strings.Contains(strings.ToLower(s), "warning") {
		t.Error(s)
	}
	if s := testenv.Tool(t, "pdfinfo", file); !strings.Contains(s, "Tagged:          yes") || !strings.Contains(s, fmt.Sprintf("Pages:           %d\n", at-1)) {
		t.Error(s)
	}
	var bookmarks, want []string
	for _, m := range regexp.MustCompile(`(?m)^[|+-]\t"(BW[^"]*)"\t#page=(\d+)`).FindAllStringSubmatch(testenv.Tool(t, "mutool", "show", file, "outline"), -1) {
		bookmarks = append(bookmarks, m[1]+" on "+m[2])
	}
	for i, g := range guides {
		want = append(want, fmt.Sprintf("%s on %d", g.Serial, pages[i]))
	}
	if strings.Join(bookmarks, ", ") != strings.Join(want, ", ") {
		t.Errorf("bookmarks %q, expected %q", bookmarks, want)
	}
	if s := testenv.Tool(t, "mutool", "show", file, "outline"); !strings.Contains(s, "\t\t\"1 Only\"") || !strings.Contains(s, "\t\t\t\t\"Torque the lug nuts\"") {
		t.Errorf("the chapters are not nested below the units:\n%s", s)
	}
	if s := testenv.Tool(t, "pdfinfo", "-dests", file); !regexp.MustCompile(fmt.Sprintf(`(?m)^ *%d .*"BW-27-0002/only"`, pages[1])).MatchString(s) {
		t.Errorf("the section of the second unit is not on page %d:\n%s", pages[1], s)
	}
	for i, first := range pages {
		text := testenv.Tool(t, "pdftotext", "-f", fmt.Sprint(first), "-l", fmt.Sprint(first), file, "-")
		if first%2 != 1 || !strings.Contains(text, guides[i].Serial) || !strings.Contains(text, "page 1 of ") {
			t.Errorf("page %d does not begin %s:\n%s", first, guides[i].Serial, text)
		}
	}
	if _, _, err := together(guides[0], guides[0]); err == nil || !strings.Contains(err.Error(), "BW-27-0001") {
		t.Errorf("twice the same unit: %v", err)
	}
	if _, _, err := together(); err == nil {
		t.Error("nothing was put together")
	}
}
