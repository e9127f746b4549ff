package proof_test

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"ownerguide/spec"
	"ownerguide/spec/derive"
	"ownerguide/spec/proof"
	"ownerguide/spec/sheet"
	"ownerguide/spec/testenv"
)

// A build judged again with other weights is judged as it is from the start: the same figures from
// the same inputs, the same that is absent, margins, findings and verdicts, however far the weights
// are off.
func TestReweighedAsFromTheStart(t *testing.T) {
	seeds, tries := uint64(4), 1
	if testenv.IsHeavy() {
		seeds, tries = 10, 10
	}
	r := rand.New(rand.NewPCG(19, 2))
	failed, lost := 0, 0
	for seed := range seeds {
		l := weighing(seed, 4, 0, 50)
		if seed%2 == 1 {
			l, _ = embedded()
		}
		for _, m := range l.Models {
			var orders [][]string
			l.Problem(m).Each(-1, func(chosen []string) bool {
				orders = append(orders, chosen)
				return len(orders) < 500
			})
			order := orders[r.IntN(len(orders))]
			for _, full := range []bool{false, true} {
				read, findings := sheet.Read("sheet", proof.Sheet(l, m, order, full, 1))
				if read == nil {
					t.Fatal(findings)
				}
				b, _ := spec.Resolve(l, read)
				if b == nil {
					continue
				}
				base := derive.Assess(b)
				for range tries {
					moved := proof.Weighed(b, r.NormFloat64()*2500, r.NormFloat64()*400000)
					want, got := derive.Assess(moved), base.Reweigh(moved, nil)
					if a, b := said(want), said(got); !slices.Equal(a, b) {
						t.Errorf("%s %v:\n%v\nagain\n%v", m.ID, order, without(a, b), without(b, a))
					}
					if !reflect.DeepEqual(want.Values.Plan, got.Values.Plan) {
						t.Errorf("%s: another plan", m.ID)
					}
					if want.Findings.HasErrors() {
						failed++
					}
					if len(want.Values.All()) < len(base.Values.All()) {
						lost++
					}
				}
			}
		}
	}
	if failed < 10 || lost < 10 {
		t.Errorf("only %d builds fail, %d lose a value", failed, lost)
	}
}

// said tells all that was found of a build, each on a line.
func said(j *derive.Assessment) (lines []string) {
	for _, v := range j.Values.All() {
		lines = append(lines, fmt.Sprint("value ", v.Name, " ", v.Exact))
		for _, in := range v.Inputs {
			lines = append(lines, fmt.Sprint("input of ", v.Name, " ", in.Name, in.Path, in.At))
		}
	}
	for _, d := range derive.Declared() {
		lines = append(lines, "absent "+d.Name+" "+j.Values.WhyAbsent(d.Name))
	}
	for _, m := range j.Values.Margins() {
		lines = append(lines, fmt.Sprint("margin ", m.Code.ID, m.Have.Name, m.Need.Name, m.Order, m.Spare))
	}
	for at, room := range j.Values.Reserves(nil) {
		lines = append(lines, fmt.Sprint("room ", at, room.Path, room.Factor, room.Max))
	}
	for _, f := range j.Findings.Sorted() {
		lines = append(lines, fmt.Sprint("finding ", f.Code, f.Severity, f.Pos))
	}
	for _, v := range j.Verdicts {
		lines = append(lines, fmt.Sprint("verdict ", v.Code.ID, v.Sums, v.Ways))
	}
	slices.Sort(lines)
	return lines
}

// without gives the lines that are not among others.
func without(lines, others []string) (left []string) {
	is := maps.Collect(func(yield func(string, bool) bool) {
		for _, l := range others {
			yield(l, true)
		}
	})
	return slices.DeleteFunc(slices.Clone(lines), func(l string) bool { return is[l] })
}
