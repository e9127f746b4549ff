package derive

import (
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"ownerguide/spec"
	"ownerguide/spec/line"
	"ownerguide/spec/logic"
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
	"ownerguide/spec/testenv"
	"ownerguide/spec/vin"
)

// slip replaces text in a file of the embedded line, everywhere it stands; it
// must be there.
type slip struct{ file, from, to string }

// unchanged is the product line that comes with the program, loaded once.
var unchanged = sync.OnceValues(func() (*product.Line, source.Findings) { return spec.LoadLine(line.Files, "line") })

// embedded returns the product line that comes with the program, after slips.
func embedded(t testing.TB, slips ...slip) (*product.Line, source.Findings) {
	t.Helper()
	if len(slips) == 0 {
		l, findings := unchanged()
		return l, slices.Clone(findings)
	}
	files := testenv.Files(line.Files)
	for _, s := range slips {
		file := files[s.file]
		if file == nil || !strings.Contains(string(file.Data), s.from) {
			t.Fatalf("%s does not hold %q", s.file, s.from)
		}
		file.Data = []byte(strings.ReplaceAll(string(file.Data), s.from, s.to))
	}
	return spec.LoadLine(files, "line")
}

// orderable returns the sheet of a unit of the embedded line; its number is
// invented, its buyer drives and loads a good deal.
func orderable(t testing.TB, l *product.Line, m *product.Model, options []string) *sheet.Sheet {
	t.Helper()
	number := l.Maker.WMI.Value + m.VINCode.Value + "0VM" + l.Maker.Small.Value + "901"
	digit, err := vin.CheckDigit(number)
	if err != nil {
		t.Fatal(err)
	}
	number = number[:8] + string(digit) + number[9:]
	s, findings := sheet.Read("sheet.yaml", fmt.Appendf(nil, "serial: ALL-1\nvin: %s\nmodel: %s\nmodel_year: 2027\nbuilt: 2026-11-12\nissued: 2026-11-20\ndelivered: 2026-11-30\nrevision: A\noptions: [%s]\nuse: { distance_per_month: 900 mi, loads_per_week: 6 }\n",
		number, m.ID, strings.Join(options, ", ")))
	if findings != nil {
		t.Fatalf("%s with %v: %v", m.ID, options, findings)
	}
	return s
}

// Every unit of the embedded line that can be ordered keeps every limit. A
// dealer who ticks any valid set of options must get a guide. The quick tier tries
// a sample of each model.
func TestEveryOrderableUnitIsSound(t *testing.T) {
	l, findings := embedded(t)
	if len(findings) > 0 {
		t.Fatal(findings)
	}
	var mu sync.Mutex
	units, seen, least := 0, map[string]bool{}, map[string]float64{}
	t.Run("models", func(t *testing.T) {
		for _, m := range l.Models {
			t.Run(m.ID, func(t *testing.T) {
				t.Parallel()
				var orders [][]string
				l.Problem(m).Each(-1, func(options []string) bool { orders = append(orders, slices.Clone(options)); return true })
				if count := l.Problem(m).Count(logic.CountSteps).Least.Int64(); count != int64(len(orders)) {
					t.Errorf("%d orders are listed, %d are counted", len(orders), count)
				}
				for _, options := range testenv.Sample(t, orders, 24) {
					b, findings := spec.Resolve(l, orderable(t, l, m, options))
					if b == nil {
						t.Errorf("%s with %v: %v", m.ID, options, findings)
						continue
					}
					vs, more := Evaluate(b)
					for _, f := range append(findings, more...).Sorted() {
						t.Errorf("%s with %v: %s: %s [%s]", m.ID, options, f.Pos, f.Message, f.Code)
					}
					mu.Lock()
					units++
					for _, margin := range vs.Margins() {
						id := margin.Code.ID
						seen[id] = true
						if math.IsNaN(margin.Spare) && margin.Of != quantity.DimCount && margin.Of != quantity.DimTemperature {
							t.Errorf("%s with %v: %s: %s %s %s has no share to spare", m.ID, options, id, margin.Have.Text, margin.Order, margin.Need.Text)
						}
						if !margin.Kept || margin.Spare < 0 {
							t.Errorf("%s with %v: %s: %s %s %s, spare %g", m.ID, options, id, margin.Have.Text, margin.Order, margin.Need.Text, margin.Spare)
						}
						if known, ok := least[id]; !ok || margin.Spare < known {
							least[id] = margin.Spare
						}
					}
					mu.Unlock()
					if t.Failed() {
						return
					}
				}
			})
		}
	})
	if t.Failed() {
		return
	}
	if units < 100 || testenv.IsHeavy() && units < 1000 {
		t.Errorf("only %d units were looked at", units)
	}
	for _, id := range slices.Sorted(maps.Keys(least)) {
		t.Logf("%-24s least margin %.1f %%", id, least[id])
	}
	if !testenv.IsHeavy() {
		return // no sample has every limit
	}
	// Some limits hold figures that only a sheet brings.
	for _, folder := range []string{"", "bad/"} {
		files, err := filepath.Glob("../../testdata/sheets/" + folder + "*.yaml")
		if err != nil || len(files) == 0 {
			t.Fatal(folder, err)
		}
		for _, file := range files {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			s, _ := sheet.Read(file, data)
			if s == nil {
				continue
			}
			if b, _ := spec.Resolve(l, s); b != nil {
				vs, _ := Evaluate(b)
				for _, margin := range vs.Margins() {
					seen[margin.Code.ID] = true
				}
			}
		}
	}
	for _, limit := range limits {
		switch id := limit.ID; {
		case limit.NoMargin && seen[id]:
			t.Errorf("%s keeps a margin, and is said to have none", id)
		case !limit.NoMargin && !seen[id]:
			t.Errorf("no unit and no sheet of the project keeps a margin of %s", id)
		}
	}
}
