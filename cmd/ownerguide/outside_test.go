package main

import (
	"bytes"
	"context"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/render/deliver"
	"ownerguide/render/pdf/pdftest"
	"ownerguide/spec/testenv"
)

// goodSheets are the project's own sheets, by path from this folder.
func goodSheets(t *testing.T) []string {
	t.Helper()
	names, err := filepath.Glob("../../testdata/sheets/*.yaml")
	if err != nil || len(names) < 10 {
		t.Fatalf("only %d good sheets: %v", len(names), err)
	}
	return names
}

// demoSheets are those that guides are made of for many tests: in the quick tier
// the first of each model.
var demoSheets = sync.OnceValue(func() []string {
	names, _ := filepath.Glob("../../testdata/sheets/*.yaml")
	met := map[string]bool{}
	return slices.DeleteFunc(names, func(name string) bool {
		data, err := os.ReadFile(name)
		model := regexp.MustCompile(`(?m)^model: .*$`).FindString(string(data))
		again := met[model] && err == nil && !testenv.IsHeavy()
		met[model] = true
		return again
	})
})

// program runs the command line in this process.
func program(t testing.TB, args ...string) (code int, stdout, stderr string) {
	t.Helper()
	var out, err bytes.Buffer
	code = run(context.Background(), args, strings.NewReader(""), terminal.New(&out, &err))
	return code, out.String(), err.String()
}

// writeAll writes guides of the sheets into a new folder.
func writeAll(t *testing.T, args ...string) (dir string) {
	t.Helper()
	dir = t.TempDir()
	if code, _, stderr := program(t, append([]string{"write", "--out", dir}, args...)...); code != exitClean {
		t.Fatalf("exit %d\n%s", code, stderr)
	}
	return dir
}

// kept is a folder of guides that tests read and leave as it is; made once,
// when the first of them asks, and cleared away at the end.
type kept struct {
	args func() []string
	once sync.Once
	dir  string
	said string
}

func (k *kept) write() {
	var err error
	if k.dir, err = os.MkdirTemp("", "ownerguide-test-"); err != nil {
		k.said = err.Error()
		return
	}
	args := k.args()
	if i := slices.Index(args, "--line"); i >= 0 {
		if err := takeAsProved(".", args[i:i+4]...); err != nil {
			k.said = err.Error()
			return
		}
	}
	var out, said bytes.Buffer
	if run(context.Background(), append([]string{"write", "--out", k.dir}, args...), strings.NewReader(""), terminal.New(&out, &said)) != exitClean {
		k.said = said.String()
	}
}

func (k *kept) guides(t *testing.T) string {
	t.Helper()
	if k.once.Do(k.write); k.said != "" {
		t.Fatal(k.said)
	}
	return k.dir
}

// The guides of the project's sheets, and those of the other maker on its own paper.
var (
	demo  = &kept{args: demoSheets}
	other = &kept{args: func() []string { return append([]string{"--paper", "a4"}, secondMaker...) }}
)

// Same inputs, same bytes: an owner, a dealer and a court must be able to make
// the very guide that was handed over.
func TestSameInputsSameBytes(t *testing.T) {
	first, sheets := demo.guides(t), slices.Clone(testenv.Sample(t, demoSheets(), 3))
	slices.Reverse(sheets)
	t.Setenv("TZ", "Pacific/Auckland")
	t.Setenv("LC_ALL", "tr_TR.UTF-8")
	second := writeAll(t, append([]string{"--workers", "1"}, sheets...)...)
	if testenv.IsHeavy() {
		t.Setenv("TZ", "America/Anchorage")
		first = writeAll(t, append([]string{"--workers", "3"}, demoSheets()...)...)
	}
	// Units of a run share what they have in common; one that is written by a process of its own has nothing to share.
	alone := filepath.Join(t.TempDir(), "out")
	name, err := built()
	must(t, err)
	if said, err := exec.Command(name, "write", "-o", alone, sheets[0]).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, said)
	}
	must(t, os.Remove(filepath.Join(alone, "index.html"))) // lists one unit, rightly
	files := 0
	for _, dir := range []string{second, alone} {
		files += compareFiles(t, first, dir)
	}
	if files < 2*len(sheets) {
		t.Errorf("%d files compared", files)
	}
}

// compareFiles holds the files of guides in a folder against those of the same units in another.
func compareFiles(t *testing.T, first, second string) (files int) {
	t.Helper()
	err := filepath.WalkDir(second, func(path string, d os.DirEntry, err error) error {
		if d != nil && d.Name() == deliver.DataFolder { // knows the files of its own disk by their stamps
			return fs.SkipDir
		}
		if err != nil || d.IsDir() {
			return err
		}
		if filepath.Dir(path) == second && !testenv.IsHeavy() { // lists all units
			return nil
		}
		rel, _ := filepath.Rel(second, path)
		a, errA := os.ReadFile(path)
		b, errB := os.ReadFile(filepath.Join(first, rel))
		if errA != nil || errB != nil || !bytes.Equal(a, b) {
			t.Errorf("%s differs (%v, %v)", rel, errA, errB)
		}
		files++
		return nil
	})
	must(t, err)
	return files
}

// secondMaker are arguments that take the sheets, line and words of another
// invented maker.
var secondMaker = []string{"--line", "../../testdata/quillmere/line", "--templates", "../../testdata/quillmere/templates", "../../testdata/quillmere/sheets"}

// What is printed for another maker has no word of the embedded one, not even
// where nobody looks.
func TestAnotherMakersPaper(t *testing.T) {
	checkMaker(t, func(t *testing.T, name string) map[string]string {
		file := readPDF(t, name)
		texts := map[string]string{"properties": fmt.Sprint(file.Properties())}
		for _, p := range file.Pages() {
			texts["text"] += p.Text(nil)
		}
		var said chapterText
		readElement(&said, file.Structure(), false)
		texts["structure"] = said.text.String() + said.drawn.String()
		return texts
	})
}

func TestAnotherMakersPaperOutside(t *testing.T) {
	testenv.Outside(t, "pdfinfo", "pdftotext")
	checkMaker(t, func(t *testing.T, name string) map[string]string {
		return map[string]string{
			"text": testenv.Tool(t, "pdftotext", name, "-"), "properties": testenv.Tool(t, "pdfinfo", name), "structure": testenv.Tool(t, "pdfinfo", "-struct-text", name),
		}
	})
}

func checkMaker(t *testing.T, read func(*testing.T, string) map[string]string) {
	pdfs, _ := filepath.Glob(filepath.Join(other.guides(t), "*", "*.pdf"))
	if len(pdfs) < 8 {
		t.Fatalf("only %d PDFs were written", len(pdfs))
	}
	for _, pdf := range pdfs {
		for what, text := range read(t, pdf) {
			if i := strings.Index(strings.ToLower(text), "bramblewick"); i >= 0 {
				t.Errorf("%s: %s: …%s", filepath.Base(filepath.Dir(pdf)), what, text[max(0, i-40):min(len(text), i+40)])
			}
			if what == "text" && !strings.Contains(text, "Quillmere") {
				t.Errorf("%s: the maker is not named", pdf)
			}
		}
	}
}

// readPDF reads a file back with none of the code that wrote it.
func readPDF(t *testing.T, name string) *pdftest.File {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return pdftest.Read(t, data)
}

// Every PDF is well formed, embeds subsets of its fonts and nothing else, and has
// the bookmarks and the structure a reader needs.
func TestPDFsAreSound(t *testing.T) {
	checkPDFs(t, func(t *testing.T, name string) {
		file := readPDF(t, name)
		file.CheckReferences()
		file.CheckTags()
		file.CheckOutline()
		if !file.Tagged() {
			t.Error("not tagged")
		}
		fonts := file.Fonts()
		if len(fonts) == 0 {
			t.Error("no fonts")
		}
		for _, f := range fonts {
			if !f.Embedded || !f.Subset || !f.Readable {
				t.Errorf("font not embedded as a readable subset: %+v", f)
			}
		}
	})
}

func TestPDFsAreSoundOutside(t *testing.T) {
	testenv.Outside(t, "qpdf", "pdfinfo", "pdffonts", "mutool")
	checkPDFs(t, func(t *testing.T, name string) {
		if out := testenv.Tool(t, "qpdf", "--check", name); strings.Contains(strings.ToLower(out), "warning") {
			t.Errorf("qpdf: %s", out)
		}
		if info := testenv.Tool(t, "pdfinfo", name); !strings.Contains(info, "Tagged:          yes") {
			t.Errorf("not tagged:\n%s", info)
		}
		lines := strings.Split(strings.TrimSpace(testenv.Tool(t, "pdffonts", name)), "\n")
		if len(lines) < 3 {
			t.Error("no fonts")
		}
		for _, line := range lines[min(2, len(lines)):] {
			fields := strings.Fields(line)
			if embedded, subset := fields[len(fields)-5], fields[len(fields)-4]; embedded != "yes" || subset != "yes" {
				t.Errorf("font not embedded as a subset: %s", line)
			}
		}
		testenv.Tool(t, "mutool", "info", name)
	})
}

func checkPDFs(t *testing.T, check func(*testing.T, string)) {
	for _, dir := range []string{demo.guides(t), other.guides(t)} {
		pdfs, _ := filepath.Glob(filepath.Join(dir, "*", "*.pdf"))
		if len(pdfs) == 0 {
			t.Fatal("no PDF was written")
		}
		for _, pdf := range testenv.Sample(t, pdfs, 9) {
			t.Run(filepath.Base(filepath.Dir(pdf)), func(t *testing.T) { check(t, pdf) })
		}
	}
}
