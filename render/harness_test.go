package render

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"ownerguide/spec"
	"ownerguide/spec/derive"
	"ownerguide/spec/line"
	"ownerguide/spec/product"
	"ownerguide/spec/proof"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
	"ownerguide/templates"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// embeddedFiles loads the product line and the templates that come with the
// program, once for all tests; neither is changed afterwards.
var embeddedFiles = sync.OnceValue(func() (e struct {
	line      *product.Line
	templates *Templates
	findings  source.Findings
}) {
	e.line, e.findings = spec.LoadLine(line.Files, "line")
	var more source.Findings
	e.templates, more = LoadTemplates(source.Layer{Name: "templates", Files: templates.Files})
	e.findings.Add(more...)
	if !e.findings.HasErrors() {
		e.findings.Add(e.templates.CheckAgainst(e.line)...)
	}
	return e
})

func embedded(t testing.TB) (*product.Line, *Templates) {
	t.Helper()
	e := embeddedFiles()
	if len(e.findings) > 0 {
		t.Fatal(written(e.findings))
	}
	return e.line, e.templates
}

// written returns findings as a person sees them.
func written(findings source.Findings) string {
	var b strings.Builder
	if err := findings.WriteText(&b); err != nil {
		return err.Error()
	}
	return b.String()
}

// order is one valid choice of options of a model.
type order struct {
	model   *product.Model
	options []string
}

func (o order) String() string { return o.model.ID + " " + fmt.Sprint(o.options) }

// sheetOf returns a sound build sheet of an order, with all that changes the text
// or with only what a sheet must say.
func sheetOf(t testing.TB, l *product.Line, o order, full bool) *sheet.Sheet {
	t.Helper()
	return readSheet(t, "sheet.yaml", proof.Sheet(l, o.model, o.options, full, 901))
}

// readSheet reads a sheet that has to be a sound one.
func readSheet(t testing.TB, name string, data []byte) *sheet.Sheet {
	t.Helper()
	s, findings := sheet.Read(name, data)
	if findings != nil {
		t.Fatal(written(findings))
	}
	return s
}

// sample is a file of a sample unit.
type sample struct {
	name string
	data []byte
}

// samples reads the files of the sample units.
func samples(t testing.TB) (list []sample) {
	t.Helper()
	names, err := filepath.Glob("../testdata/sheets/*.yaml")
	if err != nil || len(names) == 0 {
		t.Fatalf("%d sheets, %v", len(names), err)
	}
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, sample{name, data})
	}
	return list
}

// unit takes a sheet to its figures; it has to be a sound one.
func unit(t testing.TB, l *product.Line, s *sheet.Sheet) (*spec.Build, *derive.Values) {
	t.Helper()
	b, findings := spec.Resolve(l, s)
	if b == nil || findings.HasErrors() {
		t.Fatal(written(findings))
	}
	vs, findings := derive.Evaluate(b)
	if findings.HasErrors() {
		t.Fatal(written(findings))
	}
	return b, vs
}

// tally gathers failures that many units share, so that each is reported once
// with how often it was met.
type tally struct {
	first map[string]string
	times map[string]int
}

func newTally() *tally { return &tally{map[string]string{}, map[string]int{}} }

func (c *tally) add(who fmt.Stringer, format string, args ...any) {
	what := fmt.Sprintf(format, args...)
	if c.times[what]++; c.times[what] == 1 {
		c.first[what] = who.String()
	}
}

func (c *tally) report(t testing.TB) {
	t.Helper()
	for _, what := range keys(c.times) {
		t.Errorf("%s (%d times, first %s)", what, c.times[what], c.first[what])
	}
}
