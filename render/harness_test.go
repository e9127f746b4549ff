package render

import (
	"flag"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"

	"ownerguide/spec"
	"ownerguide/spec/derive"
	"ownerguide/spec/line"
	"ownerguide/spec/source"
	"ownerguide/spec/vin"
	"ownerguide/templates"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// embeddedFiles loads the product line and the templates that come with the
// program, once for all tests; neither is changed afterwards.
var embeddedFiles = sync.OnceValue(func() (e struct {
	line      *spec.Line
	templates *Templates
	findings  source.Findings
}) {
	e.line, e.findings = spec.LoadLine(line.Files, "line")
	var more source.Findings
	e.templates, more = LoadTemplates(Layer{Name: "templates", Files: templates.Files})
	e.findings.Add(more...)
	if !e.findings.HasErrors() {
		e.findings.Add(e.templates.CheckAgainst(e.line, nil)...)
	}
	return e
})

func embedded(t testing.TB) (*spec.Line, *Templates) {
	t.Helper()
	e := embeddedFiles()
	if len(e.findings) > 0 {
		t.Fatal(written(e.findings))
	}
	return e.line, e.templates
}

// written gives findings as a person sees them.
func written(findings source.Findings) string {
	var b strings.Builder
	if err := findings.WriteText(&b); err != nil {
		return err.Error()
	}
	return b.String()
}

// order is one valid choice of options of a model.
type order struct {
	model   *spec.Model
	options []string
}

func (o order) String() string { return o.model.ID + " " + fmt.Sprint(o.options) }

// orders lists every unit of the line that can be ordered.
var orders = sync.OnceValue(func() (all []order) {
	l := embeddedFiles().line
	for _, m := range l.Models {
		l.Problem(m).Each(-1, func(options []string) bool {
			all = append(all, order{m, options})
			return true
		})
	}
	return all
})

// sheetOf gives a sound build sheet of an order; number, buyer and dealer are
// invented. The bare one says only what it must, the full one all that changes
// the text: of the options the last was fitted later.
func sheetOf(t testing.TB, l *spec.Line, o order, full bool) *spec.Sheet {
	t.Helper()
	number := l.Maker.WMI.Value + o.model.VINCode.Value + "0VM" + l.Maker.Small.Value + "901"
	digit, err := vin.CheckDigit(number)
	if err != nil {
		t.Fatal(err)
	}
	options, added, revision := slices.Clone(o.options), "", "A"
	if n := len(options); full && n > 0 {
		added, revision = fmt.Sprintf("added:\n- { option: %s, date: 2027-03-01 }\n", options[n-1]), "B"
		options = options[:n-1]
	}
	text := fmt.Sprintf("serial: ALL-1\nvin: %s\nmodel: %s\nmodel_year: 2027\nbuilt: 2026-11-12\nissued: 2027-03-20\nrevision: %s\noptions: [%s]\n%s",
		number[:8]+string(digit)+number[9:], o.model.ID, revision, strings.Join(options, ", "), added)
	if full {
		text += `delivered: 2026-11-30
use: { distance_per_month: 900 mi, loads_per_week: 6, driven_already: 410 mi }
buyer: { name: Pat Example, town: Exampleton, region: Exampleshire, phone: 555-0177, email: pat@example.com }
dealer: { name: Example Trailer Sales, town: Exampleton, phone: 555-0118, email: sales@example.com }
notes: Spare key is in the box.
`
	}
	sheet, findings := spec.ReadSheet("sheet.yaml", []byte(text))
	if findings != nil {
		t.Fatalf("%s: %s", o, written(findings))
	}
	return sheet
}

// unit takes a sheet to its figures; it has to be a sound one.
func unit(t testing.TB, l *spec.Line, sheet *spec.Sheet) (*spec.Build, *derive.Values, derive.Plan) {
	t.Helper()
	b, findings := l.Build(sheet)
	if b == nil || findings.HasErrors() {
		t.Fatal(written(findings))
	}
	vs, findings := derive.Evaluate(b)
	if findings.HasErrors() {
		t.Fatal(written(findings))
	}
	return b, vs, derive.Schedule(b, vs)
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
