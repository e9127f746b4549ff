package derive

import (
	"fmt"
	"io/fs"
	"os"

	"ownerguide/spec"
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
	"ownerguide/spec/testenv"
	"ownerguide/spec/vin"
)

const ratedLine = "../../testdata/lines/rated"

// failer is what a test and a property test have in common.
type failer interface {
	Helper()
	Fatal(args ...any)
	Fatalf(format string, args ...any)
}

// unit asks for one unit of the small line of ratings.
type unit struct {
	model string
	more  string      // further entries of the sheet
	swap  [][2]string // texts replaced in the line; each must be there
}

// ratedLines are the small lines that were loaded, by what was replaced in them.
var ratedLines = map[string]*product.Line{}

// built makes the unit; its vin is invented.
func (u unit) built(t failer) *spec.Build {
	t.Helper()
	line := ratedLines[fmt.Sprint(u.swap)]
	if line == nil {
		var findings source.Findings
		line, findings = spec.LoadLine(u.files(t), "rated")
		if line == nil || findings.HasErrors() {
			t.Fatalf("line: %v", findings)
		}
		ratedLines[fmt.Sprint(u.swap)] = line
	}
	s, findings := sheet.Read("sheet.yaml", []byte(u.sheet(t, line)))
	if findings.HasErrors() {
		t.Fatalf("sheet: %v", findings)
	}
	b, findings := spec.Resolve(line, s)
	if b == nil || findings.HasErrors() {
		t.Fatalf("build: %v", findings)
	}
	return b
}

func (u unit) files(t failer) fs.FS {
	t.Helper()
	files := testenv.Files(os.DirFS(ratedLine))
	for _, s := range u.swap {
		if !testenv.Replace(files, s[0], s[1]) {
			t.Fatalf("the line does not hold %q", s[0])
		}
	}
	return files
}

func (u unit) sheet(t failer, line *product.Line) string {
	t.Helper()
	code := ""
	for _, m := range line.Models {
		if m.ID == u.model {
			code = m.VINCode.Value
		}
	}
	number := "1Z9" + code + "0VA997001"
	digit, err := vin.CheckDigit(number)
	if err != nil {
		t.Fatal(err)
	}
	number = number[:8] + string(digit) + number[9:]
	return fmt.Sprintf("serial: R-1\nvin: %s\nmodel: %s\nmodel_year: 2027\nbuilt: 2026-11-12\nissued: 2026-11-20\nrevision: A\n%s", number, u.model, u.more)
}

// evaluated works the unit out.
func (u unit) evaluated(t failer) (*Values, source.Findings) {
	t.Helper()
	return Evaluate(u.built(t))
}

// exact returns a value's exact number in the unit it is printed in first.
func exact(t failer, vs *Values, name string) float64 {
	t.Helper()
	v, ok := vs.Lookup(name)
	if !ok {
		t.Fatalf("no value %s: %s", name, vs.WhyAbsent(name))
	}
	switch x := v.Exact.(type) {
	case quantity.Quantity:
		return x.Base()
	case int:
		return float64(x)
	}
	t.Fatalf("%s is %v", name, v.Exact)
	return 0
}

// shown returns a value as an owner reads it, or why there is none.
func shown(vs *Values, name string) string {
	if v, ok := vs.Lookup(name); ok {
		return v.Print(quantity.English)
	}
	return "absent: " + vs.WhyAbsent(name)
}
