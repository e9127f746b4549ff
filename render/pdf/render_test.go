package pdf

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"

	"ownerguide/render/doc"
	"ownerguide/spec/source"
	"ownerguide/spec/testenv"
)

// Every one of these would be a guide with a hole in it; the error names the place where the author must look.
func TestWhatCannotBeSetIsAnError(t *testing.T) {
	here := source.Pos{File: "brakes.md", Line: 7, Column: 3}
	marked := func(n doc.Block) doc.Block { n.Attr().Origin = here; return n }
	drawing := func(s doc.Shape) doc.Block {
		return marked(&doc.Figure{Name: "side", Alt: "x", Drawing: &doc.Drawing{Width: 100, Height: 50, Shapes: []doc.Shape{s}}})
	}
	for _, c := range []struct {
		name  string
		block doc.Block
		want  string
	}{
		{"section in an item", list(false, false, []any{blocks(marked(sec(2, doc.RolePlain, "", "Inner")))}), "type *doc.Section"},
		{"signal word", marked(&doc.Caution{Name: "c", Word: "attention"}), `the signal word "attention"`},
		{"dead link", marked(p(linkTo("#nowhere", "there"))), `no part of this guide has that id`},
		{"link without words", marked(p(&doc.Link{To: "#chapter"})), "has no words"},
		{"dead contents", marked(&doc.Contents{Entries: []doc.Entry{{Level: 1, Title: "X", ID: "gone"}}}), `the contents list "gone"`},
		{"no drawing", marked(&doc.Figure{Name: "side", Alt: "x"}), "no drawing"},
		{"logo without picture", marked(&doc.Logo{Alt: "x", Width: 9, Height: 9}), "the logo has no size, no picture or no words"},
		{"logo without words", marked(&doc.Logo{Drawing: sideView()}), "the logo has no size, no picture or no words"},
		{"endless logo", marked(&doc.Logo{Alt: "x", Drawing: &doc.Drawing{Width: 9, Height: 9, Shapes: []doc.Shape{&doc.Circle{Radius: math.NaN()}}}}), "not finite"},
		{"no words", marked(&doc.Figure{Name: "side", Drawing: sideView()}), "no words for who cannot see it"},
		{"endless line", drawing(&doc.Path{Segments: []doc.Segment{{To: doc.Point{X: math.NaN()}}}}), "not finite"},
		{"endless circle", drawing(&doc.Circle{Radius: math.Inf(1)}), "not finite"},
		{"endless label", drawing(&doc.Label{Text: "x", Size: math.NaN()}), "not finite"},
		{"unknown shape", drawing(nil), "shape of type"},
		{"tall caution", marked(caution(doc.Danger, "tall", "A.", strings.Repeat("word ", 3000), "B.")), "points tall, but a page holds"},
	} {
		_, _, err := Render(testGuide(sec(1, doc.RoleChapter, "1", "Chapter", c.block)), Options{})
		if err == nil || !strings.Contains(err.Error(), c.want) || !strings.Contains(err.Error(), "brakes.md:7:3") {
			t.Errorf("%s: error is %v, expected %q and the place brakes.md:7:3", c.name, err, c.want)
		}
	}
	bad := testGuide()
	if _, _, err := Render(bad, Options{}); err == nil || !strings.Contains(err.Error(), "empty") {
		t.Errorf("an empty guide: %v", err)
	}
	if _, _, err := Render(wholeGuide(), Options{Paper: "a7"}); err == nil || !strings.Contains(err.Error(), `"a7"`) {
		t.Errorf("an unknown paper: %v", err)
	}
	bad = wholeGuide()
	bad.Issued = "yesterday"
	if _, _, err := Render(bad, Options{}); err == nil || !strings.Contains(err.Error(), `"yesterday"`) {
		t.Errorf("a bad day: %v", err)
	}
	bad = wholeGuide()
	delete(bad.Words, "page-of")
	if _, _, err := Render(bad, Options{}); err == nil || !strings.Contains(err.Error(), `"page-of"`) {
		t.Errorf("a missing word: %v", err)
	}
}

// The library would print a gap: "≤ 65 psi" would lose its sign. What is lacking is told with its place, once.
func TestMissingCharactersAreReported(t *testing.T) {
	para := p("Keep 漢 at ≤ ≥ ° × ½ – ’ ñ á ¿ ¡ 漢 and \u00adsoft\tspace")
	para.Origin = source.Pos{File: "tires.md", Line: 3, Column: 1}
	g := testGuide(sec(1, doc.RoleChapter, "1", "Chapter", para))
	g.Notice = "Notice ☂"
	out, report, err := Render(g, Options{})
	if err != nil || len(out) == 0 {
		t.Fatal(err)
	}
	want := []Missing{{Rune: '漢', Origin: source.Pos{File: "tires.md", Line: 3, Column: 1}}, {Rune: '☂'}}
	if fmt.Sprint(report.Missing) != fmt.Sprint(want) {
		t.Errorf("missing are %v, expected %v", report.Missing, want)
	}
	if text := strings.Join(report.Words, " "); !strings.Contains(text, "Keep ? at ≤ ≥ ° × ½ – ’ ñ á ¿ ¡ ? and soft") {
		t.Errorf("the text is %q", text)
	}
}

// The same guide gives the same bytes, also when many are written at once.
func TestSameGuideSameBytes(t *testing.T) {
	first, report, err := Render(wholeGuide(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	if report.Pages < 6 || len(report.Sections) < 10 || report.Sections["owner-guide"] != 1 {
		t.Errorf("the report is %+v", report)
	}
	var wait sync.WaitGroup
	for range 6 {
		wait.Go(func() {
			again, _, err := Render(wholeGuide(), Options{})
			if err != nil || !bytes.Equal(first, again) {
				t.Errorf("a second rendering differs (%v)", err)
			}
		})
	}
	wait.Wait()
}

func TestOutsideToolsReadTheGuide(t *testing.T) {
	testenv.Outside(t, "qpdf", "pdfinfo", "pdftotext", "pdffonts", "mutool")
	g := wholeGuide()
	out, report, err := Render(g, Options{Paper: A4})
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "guide.pdf")
	if err := os.WriteFile(file, out, 0o644); err != nil {
		t.Fatal(err)
	}
	t.Run("well formed", func(t *testing.T) {
		if s := testenv.Tool(t, "qpdf", "--check", file); strings.Contains(s, "WARNING") {
			t.Error(s)
		}
	})
	t.Run("pages", func(t *testing.T) {
		s := testenv.Tool(t, "pdfinfo", file)
		for _, want := range []string{fmt.Sprintf("Pages:           %d", report.Pages), "Tagged:          yes", "(A4)", "Bramblewick Trailer Works"} {
			if !strings.Contains(s, want) {
				t.Errorf("no %q in\n%s", want, s)
			}
		}
	})
	t.Run("structure", func(t *testing.T) {
		// Outside quotation marks the tool prints roles and attributes; inside, the text of the elements.
		s := testenv.Tool(t, "pdfinfo", "-struct-text", file)
		if strings.Contains(s, "Syntax") {
			t.Errorf("complaints:\n%.2000s", s)
		}
		for _, role := range []string{"Document", "Sect", "H1", "H2", "H3", "P", "L", "LI", "Lbl", "LBody", "Table", "THead", "TBody", "TR", "TH", "TD", "Figure", "Caption", "TOC", "TOCI", "Link", "Div", "Span"} {
			if !regexp.MustCompile(`(?m)^ *` + role + `( |:|$)`).MatchString(s) {
				t.Errorf("no %s in the structure tree", role)
			}
		}
		checkOrder(t, quoted(s), g)
	})
	t.Run("text", func(t *testing.T) {
		s := strings.Join(strings.Fields(testenv.Tool(t, "pdftotext", "-raw", file, "-")), " ") // a link may go over a line end
		for _, want := range []string{"Torque the lug nuts (page", "An unchocked trailer can roll.", "80 psi (552 kPa)", "Signs: ≤ ≥ ° × ½ ¼ – — ’ “ ” ñ á ¿ ¡ · → ± µ", " · BW-27-0142 · Revision A"} {
			if !strings.Contains(strings.ReplaceAll(s, "\u00a0", " "), want) {
				t.Errorf("no %q in the text", want)
			}
		}
	})
	t.Run("fonts", func(t *testing.T) {
		for _, line := range strings.Split(strings.TrimSpace(testenv.Tool(t, "pdffonts", file)), "\n")[2:] {
			if f := strings.Fields(line); f[len(f)-5] != "yes" || f[len(f)-3] != "yes" {
				t.Errorf("not embedded or without characters: %s", line)
			}
		}
	})
	t.Run("second reader", func(t *testing.T) {
		s := testenv.Tool(t, "mutool", "draw", "-q", "-r", "20", "-o", filepath.Join(t.TempDir(), "p%d.png"), file)
		s = strings.ReplaceAll(s, "warning: ICC support is not available", "") // of the tool, not of the file
		if strings.Contains(s, "error") || strings.Contains(s, "warning") {
			t.Error(s)
		}
	})
}

// quoted takes what stands in quotation marks out of the structure listing.
func quoted(listing string) string {
	var b strings.Builder
	for _, line := range strings.Split(listing, "\n") {
		if s := strings.TrimSpace(line); len(s) > 1 && s[0] == '"' && s[len(s)-1] == '"' {
			b.WriteString(s[1:len(s)-1] + " ")
		}
	}
	return b.String()
}

// checkOrder holds that every paragraph of the guide is in a text, in order.
func checkOrder(t *testing.T, text string, g *doc.Guide) {
	t.Helper()
	plain := func(s string) string {
		return strings.Join(strings.Fields(strings.ReplaceAll(s, "\u00a0", " ")), "")
	}
	text = plain(text)
	from, found := 0, 0
	for tx := range doc.All[*doc.Text](g.Sections) {
		w := plain(tx.Content)
		i := strings.Index(text[from:], w)
		if i < 0 {
			t.Errorf("%q is missing or out of order", tx.Content)
			break
		}
		from, found = from+i+len(w), found+1
	}
	if found < 100 {
		t.Errorf("only %d texts compared", found)
	}
}

func BenchmarkRender(b *testing.B) {
	for b.Loop() {
		if _, _, err := Render(wholeGuide(), Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
