package derive

import (
	"os"
	"slices"
	"testing"

	"ownerguide/spec"
	"ownerguide/spec/quantity"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
	"ownerguide/spec/testenv"
)

const risingLine = "../../testdata/lines/rising"

// Sheets for the small line of lifts. Their identification numbers are invented.
const (
	tiltSheet = `serial: T-1
vin: 1Z9TT1611TA998001
model: tilt-16
model_year: 2026
built: 2026-01-10
issued: 2026-01-12
revision: A
options: [power-tilt]
`
	boxSheet = `serial: B-1
vin: 1Z9BX1211TA998001
model: box-12
model_year: 2026
built: 2026-01-10
issued: 2026-01-12
revision: A
`
	use = `delivered: 2026-01-20
use: { distance_per_month: 900 mi, loads_per_week: 6 }
`
)

// edit replaces text that stands in a file of the line; it must be there.
type edit struct{ from, to string }

// rising builds a unit of the small line of lifts, after edits to the line.
func rising(t testing.TB, sheetText string, edits ...edit) *spec.Build {
	t.Helper()
	files := testenv.Files(os.DirFS(risingLine))
	for _, e := range edits {
		if !testenv.Replace(files, e.from, e.to) {
			t.Fatalf("the line does not hold %q", e.from)
		}
	}
	line, findings := spec.LoadLine(files, "rising")
	if line == nil {
		t.Fatalf("line: %v", findings)
	}
	s, findings := sheet.Read("sheet.yaml", []byte(sheetText))
	if findings.HasErrors() {
		t.Fatalf("sheet: %v", findings)
	}
	b, findings := spec.Resolve(line, s)
	if b == nil {
		t.Fatalf("build: %v", findings)
	}
	return b
}

// figureOf returns a value's exact figure.
func figureOf[T any](t testing.TB, vs *Values, name string) T {
	t.Helper()
	v, ok := vs.Lookup(name)
	if !ok {
		t.Fatalf("no value %s: %s", name, vs.WhyAbsent(name))
	}
	x, ok := v.Exact.(T)
	if !ok {
		t.Fatalf("%s is a %T", name, v.Exact)
	}
	return x
}

func printed(t testing.TB, vs *Values, name string) string {
	t.Helper()
	v, ok := vs.Lookup(name)
	if !ok {
		t.Fatalf("no value %s: %s", name, vs.WhyAbsent(name))
	}
	return v.Print(quantity.English)
}

// mine lists the codes of this test's systems.
var mine = []string{
	"brake-lining", "breakaway-missing", "breakaway-hold", "breakaway-hold-cold", "brake-pin-missing", "charge-pin-missing",
	"connector-pins", "connector-layout", "connector-auxiliary-live", "brake-drop", "lamp-drop", "motor-drop", "fuse-wire", "wire-load", "fuse-load", "wire-gauge", "feed-missing", "fuse-missing",
	"winch-plate-pull", "winch-anchor", "winch-rope", "winch-rope-table", "winch-drum", "relief-cylinder", "relief-hose", "rod-side-pressure", "reservoir", "fluid-cold", "plan-cycles",
	"recharge-overnight", "pump-battery", "hoist-geometry", "relief-load", "lift-capacity", "holding-valve", "manual-lowering", "prop-missing", "prop-handle", "prop-reach", "prop-rating", "prop-pump", "lock-place", "lock-load", "lock-pump",
	"deck-lock-missing", "tilt-travel", "rod-buckling", "cylinder-closed", "motor-power", "motor-duty", "winch-duty", "tilt-balance",
}

// ofMine keeps the findings this test answers for; the small line leaves out
// much that other systems ask for.
func ofMine(findings source.Findings) (out source.Findings) {
	for _, f := range findings {
		if slices.Contains(mine, f.Code) {
			out = append(out, f)
		}
	}
	return out
}
