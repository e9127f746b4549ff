package finish

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"ownerguide/spec/testenv"
)

// written puts the sample into a file for the outside programs.
func written(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "sample.pdf")
	pdf, marks, doc := sample(t, 3)
	if err := os.WriteFile(path, finished(t, pdf, marks, doc), 0o600); err != nil {
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

// Nothing may be lost on the way: the pages look the same before and after.
func TestPagesLookTheSame(t *testing.T) {
	testenv.Outside(t, "pdftotext")
	dir := t.TempDir()
	pdf, marks, doc := sample(t, 1)
	plain := raw(t, pdf)
	out, err := Finish(plain, marks, doc)
	if err != nil {
		t.Fatal(err)
	}
	var pages []string
	for name, data := range map[string][]byte{"before": plain, "after": out} {
		path := filepath.Join(dir, name+".pdf")
		if err := os.WriteFile(path, data, 0o600); err != nil {
			t.Fatal(err)
		}
		pages = append(pages, testenv.Tool(t, "pdftotext", "-bbox", path, "-"))
	}
	strip := func(s string) string { _, body, _ := strings.Cut(s, "<doc>"); return body }
	if a, b := strip(pages[0]), strip(pages[1]); a == "" || a != b {
		t.Error("text lies elsewhere after finishing")
	}
}
