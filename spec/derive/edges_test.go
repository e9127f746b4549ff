package derive

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"ownerguide/spec/testenv"
)

// edge is one limit at its figure and one unit past it.
type edge struct {
	code, kept, broken string
	with               func(t *testing.T, figure string) (*Values, []finding)
}

// allEdges are the rows of the three tables.
func allEdges() (all []edge) {
	for _, e := range edges {
		all = append(all, edge{e.code, e.kept, e.broken, func(t *testing.T, figure string) (*Values, []finding) {
			u := unit{e.model, strings.ReplaceAll(e.more, "%s", figure), nil}
			if e.from != "" {
				u.swap = [][2]string{{e.from, fmt.Sprintf(e.to, figure)}}
			}
			vs, findings := u.evaluated(t)
			return vs, findings
		}})
	}
	all = append(all, edge{"ball-size", "2000", "2001", func(t *testing.T, figure string) (*Values, []finding) { // SAE J684: 1-7/8 in up to 2,000 lb
		vs, findings := unit{"one-12", "", [][2]string{{"gvwr: 2990 lb", "gvwr: " + figure + " lb"}, {"ball: 2.3125 in, gross: 7000 lb", "ball: 1.875 in, gross: 7000 lb"}}}.evaluated(t)
		return vs, findings
	}})
	all = append(all, edge{"plate-heights", "48", "48.1", func(t *testing.T, figure string) (*Values, []finding) {
		vs, findings := kingpinNeck("kingpin: 2 in, gross: 25000 lb, vertical: 6250 lb, plate_height_low: "+figure+" in, plate_height_high: 48 in", false).evaluated(t)
		return vs, findings
	}})
	all = append(all, edge{"axle-group", "10000", "10001", func(t *testing.T, figure string) (*Values, []finding) { // 23 CFR 658.17: 20,000 lb within 40 in
		vs, findings := heavyPair(figure).evaluated(t)
		return vs, findings
	}})
	all = append(all, edge{"rating-chain-grade", "12600", "12601", func(t *testing.T, figure string) (*Values, []finding) { // 4 x 3,150 lb
		vs, findings := unit{"hand-20", "", [][2]string{{"gvwr: 15400 lb", "gvwr: " + figure + " lb"}, {"size: 3/8 in, breaking: 26400 lb", "size: 1/4 in, breaking: 26400 lb"}}}.evaluated(t)
		return vs, findings
	}})
	for _, e := range risingEdges {
		all = append(all, edge{e.code, e.kept, e.broken, func(t *testing.T, figure string) (*Values, []finding) {
			sheet := fmt.Sprintf("%soptions: [%s]\n", bareSheet("tilt-16"), e.options)
			switch e.options {
			case "box":
				sheet = boxSheet
			case "use":
				return Evaluate(rising(t, strings.Replace(bareSheet("tilt-16")+use, "loads_per_week: 6", "loads_per_week: "+figure, 1)))
			}
			vs, findings := Evaluate(rising(t, sheet, edit{e.from, fmt.Sprintf(e.to, figure)}))
			return vs, findings
		}})
	}
	for _, e := range embeddedEdges {
		all = append(all, edge{e.code, e.kept, e.broken, func(t *testing.T, figure string) (*Values, []finding) {
			vs, findings := slippedValues(t, e.unit, e.sheet, slip{e.file, e.from, fmt.Sprintf(e.to, figure)})
			return vs, findings
		}})
	}
	return all
}

// Each limit is kept at its figure and reported one unit past it, and what the
// calculations tell of it turns from kept to broken with the finding.
func TestLimitsAtTheirEdge(t *testing.T) {
	for _, e := range testenv.Sample(t, allEdges(), 30) {
		t.Run(e.code+"/"+e.broken, func(t *testing.T) {
			if !oneUnit(e.kept, e.broken) {
				t.Errorf("%s and %s are not one unit apart", e.kept, e.broken)
			}
			turned := 0
			for _, at := range []struct {
				figure string
				broken bool
			}{{e.kept, false}, {e.broken, true}} {
				vs, findings := e.with(t, at.figure)
				i := slices.IndexFunc(findings, func(f finding) bool { return f.Code == e.code })
				if (i >= 0) != at.broken {
					t.Errorf("with %s: reported is %t", at.figure, !at.broken)
				}
				if i >= 0 && findings[i].Pos.Line == 0 {
					t.Errorf("with %s: %s stands nowhere", at.figure, findings[i].Message)
				}
				if vs == nil {
					continue
				}
				for _, m := range vs.Margins() {
					if m.Code.ID != e.code {
						continue
					}
					for _, side := range []Input{m.Have.Input, m.Need.Input} {
						if d := declarations[cmp.Or(FamilyOf(side.Name), side.Name)]; d == nil && side.Path == "" || d != nil && (d.Formula == "" || d.Source.String() == "") {
							t.Errorf("%q has no formula with a source, and is no entry, rule or sum that says what it is", side.Text)
						}
					}
					if !m.Kept {
						turned++
						if !at.broken {
							t.Errorf("with %s: %s %s %s is told as broken", at.figure, m.Have.Text, m.Order, m.Need.Text)
						}
					}
				}
			}
			if i := slices.IndexFunc(limits, func(l *Limit) bool { return l.ID == e.code }); i >= 0 && !limits[i].NoMargin && turned == 0 {
				t.Errorf("with %s: the calculations tell nothing as broken", e.broken)
			}
		})
	}
}

// oneUnit tells whether two figures differ by one in the last place that either has.
func oneUnit(a, b string) bool {
	last := func(s string) int {
		_, decimals, _ := strings.Cut(s, ".")
		return len(decimals)
	}
	x, err := strconv.ParseFloat(a, 64)
	y, also := strconv.ParseFloat(b, 64)
	return err == nil && also == nil && math.Abs(math.Abs(x-y)*math.Pow10(max(last(a), last(b)))-1) < 1e-6
}

// A limit that holds two figures together has its edge among the tables above:
// one that was added and tried far beside its edge alone would not be noticed if
// it tripped a hundred pounds too late.
func TestEveryLimitHasItsEdge(t *testing.T) {
	tried := map[string]bool{}
	for _, e := range allEdges() {
		tried[e.code] = true
	}
	for _, l := range limits {
		if !l.NoMargin && !tried[l.ID] {
			t.Errorf("%s holds two figures together, and no row tries it at its edge", l.ID)
		}
	}
	for _, l := range limits {
		delete(tried, l.ID)
	}
	for code := range tried {
		t.Errorf("no limit is called %s", code)
	}
}

// Every limit says what it protects, and somebody's sheet or line breaks it: a row of
// the tables of this package's tests names its code.
func TestEveryLimitIsBroken(t *testing.T) {
	broken := ratedCodes()
	for _, e := range allEdges() {
		broken = append(broken, e.code)
	}
	for _, row := range risingBroken {
		broken = append(broken, row.code)
	}
	for _, row := range brakeSlips {
		broken = append(broken, row.code)
	}
	for _, row := range slips {
		broken = append(broken, row.code)
	}
	for _, l := range Codes() {
		if !slices.Contains(broken, l.ID) {
			t.Errorf("no row of a test breaks %s", l.ID)
		}
		if len(strings.Fields(l.Protects)) < 5 {
			t.Errorf("%s: %q says nothing to whoever reads the finding", l.ID, l.Protects)
		}
	}
}

// bareSheet gives the sheet of a model of the small line of lifts, without options.
func bareSheet(model string) string {
	if model == "tilt-16" {
		return tiltSheet[:len(tiltSheet)-len("options: [power-tilt]\n")]
	}
	return boxSheet
}
