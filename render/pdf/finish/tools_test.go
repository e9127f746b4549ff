package finish

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/signintech/gopdf"

	"ownerguide/render/pdf/fonts"
	"ownerguide/spec/testenv"
)

// written puts the sample into a file for the outside programs.
func written(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "sample.pdf")
	p, doc := sample(t, 3)
	if err := os.WriteFile(path, p.finished(doc), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

func wantAll(t *testing.T, text string, parts ...string) {
	t.Helper()
	for _, part := range parts {
		if !strings.Contains(text, part) {
			t.Errorf("missing %q in:\n%s", part, text)
		}
	}
}

func TestQpdfFindsNothingWrong(t *testing.T) {
	testenv.Outside(t, "qpdf")
	out := testenv.Tool(t, "qpdf", "--check", written(t))
	if strings.Contains(strings.ToLower(out), "warning") {
		t.Error(out)
	}
	wantAll(t, out, "No syntax or stream encoding errors found")
}

func TestPdfinfoSeesTagsAndMetadata(t *testing.T) {
	testenv.Outside(t, "pdfinfo")
	path := written(t)
	wantAll(t, testenv.Tool(t, "pdfinfo", "-isodates", path), "Tagged:          yes", "Pages:           4", "Owner’s guide (sample)",
		"2026-03-04T05:06:07Z", "Metadata Stream: yes", "612 x 792")
	text := testenv.Tool(t, "pdfinfo", "-struct-text", path)
	if strings.Contains(text, "Error") || strings.Contains(text, "Warning") {
		t.Error(text)
	}
	wantAll(t, text, "TOCI", "Table", "THead", "/Scope /Column", "/Scope /Row", "LBody", "ListNumbering", "Figure", "“re-torque”",
		"Item 3", "65 psi ≤ limit")
	dests := testenv.Tool(t, "pdfinfo", "-dests", path)
	wantAll(t, dests, `"chapter-3"`, `"contents"`, "XYZ")
}

// A paragraph with a link in it must be read in the order it was written.
func TestPdfinfoReadsLinkInsideItsParagraph(t *testing.T) {
	testenv.Outside(t, "pdfinfo")
	text := testenv.Tool(t, "pdfinfo", "-struct-text", written(t))
	before, link, after := strings.Index(text, "Report defects at"), strings.Index(text, `"example.com"`), strings.Index(text, "as soon as you can")
	if before < 0 || link < before || after < link {
		t.Errorf("order %d, %d, %d in:\n%s", before, link, after, text)
	}
}

func TestPdftotextKeepsWordsApart(t *testing.T) {
	testenv.Outside(t, "pdftotext")
	text := testenv.Tool(t, "pdftotext", "-layout", written(t), "-")
	wantAll(t, text, "Contents", "check cold tire pressure, 65 psi ≤ limit, then “re-torque” the nuts → ½ turn × 2.", "Page 4", "• Item 1")
}

func TestPdffontsSeesSubsetsOnly(t *testing.T) {
	testenv.Outside(t, "pdffonts")
	lines := strings.Split(strings.TrimSpace(testenv.Tool(t, "pdffonts", written(t))), "\n")[2:]
	if len(lines) != 3 { // bold italic is not used
		t.Errorf("fonts: %q", lines)
	}
	for _, line := range lines {
		f := strings.Fields(line)
		// name, type (two words), encoding, embedded, subset, unicode
		if len(f) < 7 || len(f[0]) < 8 || f[0][6] != '+' || f[4] != "yes" || f[5] != "yes" || f[6] != "yes" {
			t.Errorf("font line %q", line)
		}
	}
}

func TestMutoolReadsItWithoutRepair(t *testing.T) {
	testenv.Outside(t, "mutool")
	path := written(t)
	out := testenv.Tool(t, "mutool", "info", path) + testenv.Tool(t, "mutool", "show", path, "outline")
	if strings.Contains(out, "warning") || strings.Contains(out, "error") || strings.Contains(out, "repair") {
		t.Error(out)
	}
	wantAll(t, out, "Chapters – all", "Chapter 3", "#page=4")
}

// The library that wrote the fonts puts the same words at the same places, but for the rounding of kerning, which adds up
// along a line: half a step at most for each pair, some up and some down.
func TestWordsLieWhereTheLibraryPutsThem(t *testing.T) {
	testenv.Outside(t, "pdftotext")
	p := newPainter(t)
	p.Page()
	pdf := func(text string, style fonts.Style, size float64) func(*gopdf.GoPdf) {
		y := p.y
		return func(pdf *gopdf.GoPdf) {
			if err := pdf.SetFont(names[style], "", size); err != nil {
				t.Fatal(err)
			}
			pdf.SetXY(72, y)
			if err := pdf.Text(text); err != nil {
				t.Fatal(err)
			}
		}
	}
	root := &Element{Role: RoleDocument}
	var same []func(*gopdf.GoPdf)
	for i, text := range []string{"To AV a Type: 65 psi ≤ limit, “re-torque” WAVE → ½ turn ", "Yes, Tall LTV 10°. ", "Two-way Ty. "} {
		size := 8.5 + float64(i)
		name := []string{"Regular", "Bold", "Italic"}[i]
		root.Children = append(root.Children, p.block(RoleP, name, size, text))
		same = append(same, pdf(text, family[i], size))
	}
	var pages []string
	for name, data := range map[string][]byte{"library": p.raw(same...), "ours": p.finished(Document{Lang: "en", Title: "t", Root: root})} {
		path := filepath.Join(t.TempDir(), name+".pdf")
		if err := os.WriteFile(path, data, 0o600); err != nil {
			t.Fatal(err)
		}
		pages = append(pages, testenv.Tool(t, "pdftotext", "-bbox", path, "-"))
	}
	place := regexp.MustCompile(`[0-9.]+"`)
	strip := func(s string) string { _, body, _ := strings.Cut(s, "<doc>"); return body }
	a, b := strip(pages[0]), strip(pages[1])
	places := place.FindAllString(b, -1)
	for i, p := range place.FindAllString(a, -1) {
		var x, y float64
		if _, err := fmt.Sscan(strings.Trim(p, `"`)+" "+strings.Trim(places[i], `"`), &x, &y); err != nil || math.Abs(x-y) > 1 {
			t.Errorf("a word lies at %v and %v", x, y)
		}
	}
	if !strings.Contains(a, "torque") || place.ReplaceAllString(a, "") != place.ReplaceAllString(b, "") {
		t.Errorf("the words differ:\n%s\n%s", a, b)
	}
}
