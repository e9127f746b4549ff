package render

import (
	"maps"
	"math"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"ownerguide/render/doc"
	"ownerguide/spec/quantity"
	"ownerguide/spec/testenv"
)

// inTwoUnits finds a figure with its conversion, such as "15,400 lb (6,985 kg)".
var inTwoUnits = regexp.MustCompile(`(−?[0-9][0-9,.]*(?:[-/][0-9]+)*(?:/[0-9]+)?)[ \x{a0}]([a-zA-Z°³²·/-]+)[ \x{a0}]\((−?[0-9][0-9,.]*)[ \x{a0}]([^\s\x{a0})]+)\)`)

// spaces undoes how a dump shows spaces that do not break.
var spaces = strings.NewReplacer("␣", " ", `\u00a0`, " ")

// factors of the units a guide uses, by their definitions.
var factors = map[string]float64{
	"lb kg": 0.45359237, "in mm": 25.4, "ft m": 0.3048, "mi km": 1.609344, "psi kPa": 6.894757293168361, "gal L": 3.785411784,
	"lb-ft N·m": 1.3558179483314004, "gpm L/min": 3.785411784, "mph km/h": 1.609344, "in² cm²": 6.4516, "lb/ft³ kg/m³": 16.018463373960138,
}

// number reads a figure as it is printed: 1,234.5 or 2-5/16.
func number(t *testing.T, text string) float64 {
	t.Helper()
	sum := 0.0
	for part := range strings.SplitSeq(strings.NewReplacer(",", "", "−", "").Replace(text), "-") {
		above, below, broken := strings.Cut(part, "/")
		x, err := strconv.ParseFloat(above, 64)
		of := 1.0
		if broken && err == nil {
			of, err = strconv.ParseFloat(below, 64)
		}
		if err != nil {
			t.Fatalf("%q: %v", text, err)
		}
		sum += x / of
	}
	if strings.HasPrefix(text, "−") {
		return -sum
	}
	return sum
}

// converted returns what a figure is in the other unit.
func converted(t *testing.T, first, unit, other string) float64 {
	x := number(t, first)
	if unit == "°F" && other == "°C" {
		return (x - 32) / 1.8
	}
	if unit == "°C" && other == "°F" {
		return x*1.8 + 32
	}
	factor, known := factors[unit+" "+other]
	if back, is := factors[other+" "+unit]; is {
		factor, known = 1/back, true
	}
	if !known {
		t.Fatalf("%s is converted to %s, and the test knows no factor", unit, other)
	}
	return x * factor
}

// guideSheets returns the sheets of the sample units, and in the heavy tier those
// of the covering set too.
func guideSheets(t *testing.T) map[string][]byte {
	t.Helper()
	sheets := map[string][]byte{}
	for _, s := range samples(t) {
		sheets[filepath.Base(s.name)] = s.data
	}
	if testenv.IsHeavy() {
		for _, s := range covering() {
			sheets[s.Name] = s.Data
		}
	}
	return sheets
}

// In one guide a figure is converted in one way, follows from the first as
// printed, and keeps to its side: at most is never more in the second unit, at
// least never less, whatever stands beside it. Only what is both has two conversions.
// A figure that was stated in the second unit is printed as stated. The sides are those
// the values declare; the factors stand above. Each guide is read with either
// system first.
func TestOneFigureOneConversion(t *testing.T) {
	l, templates := embedded(t)
	sheets := guideSheets(t)
	for name, data := range maps.Clone(sheets) {
		sheets["metric "+name] = append(slices.Clone(data), "\nunits: metric\n"...)
	}
	found, sided := 0, 0
	for _, name := range slices.Sorted(maps.Keys(sheets)) {
		b, vs := unit(t, l, readSheet(t, name, sheets[name]))
		g, _ := templates.Assemble(b, vs, nil)
		if g == nil {
			t.Errorf("%s: no guide", name)
			continue
		}
		sides := map[string]map[quantity.Side]bool{}
		stated := map[string]bool{} // 10,000 lb and 10,001 lb of a law are both 4,536 kg
		print := templates.Print(b)
		for _, v := range vs.All() {
			if m := inTwoUnits.FindStringSubmatch(v.Print(print)); m != nil {
				first := m[1] + " " + m[2]
				if sides[first] == nil {
					sides[first] = map[quantity.Side]bool{}
				}
				sides[first][v.Round.Side] = true
				stated[first+" "+m[3]+" "+m[4]] = v.Round.Stated || stated[first+" "+m[3]+" "+m[4]]
			}
		}
		seconds := map[string]string{}
		for _, m := range inTwoUnits.FindAllStringSubmatch(spaces.Replace(dump(g.Sections...)), -1) {
			found++
			first, second := m[1]+" "+m[2], m[3]+" "+m[4]
			if known, met := seconds[first]; met && known != second && !(sides[first][quantity.Down] && sides[first][quantity.Up]) && !(stated[first+" "+known] && stated[first+" "+second]) {
				t.Errorf("%s: %s is %s and %s", name, first, known, second)
			}
			seconds[first] = second
		}
		for printed := range doc.All[*doc.Value](g.Sections) {
			v, _ := vs.Lookup(printed.Name)
			m := inTwoUnits.FindStringSubmatch(printed.Printed)
			if v == nil || m == nil {
				continue
			}
			exact, second := converted(t, m[1], m[2], m[4]), number(t, m[3])
			const noise = 1e-6
			itself := quantity.In(v.Exact.(quantity.Quantity), m[4])
			if math.IsNaN(itself) {
				itself = quantity.In(v.Exact.(quantity.Quantity), m[4]+" difference")
			}
			if math.IsNaN(itself) {
				t.Fatalf("%s: %s in %s", v.Name, printed.Printed, m[4])
			}
			switch {
			case v.Round.Side == quantity.Nearest:
			case v.Round.Side == quantity.Down && second > max(exact, itself)+noise, v.Round.Side == quantity.Up && second < min(exact, itself)-noise:
				t.Errorf("%s: %s is %s, on the unsafe side of %.3f", name, v.Name, printed.Printed, exact)
			default:
				sided++
			}
		}
	}
	if found < 100*len(sheets) || sided < 20*len(sheets) {
		t.Errorf("only %d figures in two units, %d of them with a side", found, sided)
	}
	t.Logf("%d units, %d figures in two units, %d of them with a side", len(sheets), found, sided)
}
