package proof

import (
	"slices"
	"testing"

	"ownerguide/spec"
	"ownerguide/spec/line"
	"ownerguide/spec/logic"
)

// Whatever two options can be had, left out, or had one without the other among
// all orders there are, is so in one of the covering ones; and those are few.
func TestCoveringLeavesNothingOut(t *testing.T) {
	l, findings := spec.LoadLine(line.Files, "line")
	if l == nil {
		t.Fatal(findings)
	}
	for _, m := range l.Models {
		p := l.Problem(m)
		picked, _ := covering(p, logic.SolverSteps)
		all := [][]string{}
		p.Each(-1, func(chosen []string) bool { all = append(all, chosen); return true })
		for _, order := range picked {
			if broken := p.Violations(order); broken != nil {
				t.Errorf("%s: %v breaks %v", m.ID, order, broken[0].Rule.Because)
			}
		}
		for _, a := range p.Options {
			for _, b := range p.Options {
				for _, ways := range [][2]bool{{true, true}, {true, false}, {false, false}} {
					is := func(order []string) bool {
						return slices.Contains(order, a) == ways[0] && slices.Contains(order, b) == ways[1]
					}
					if slices.ContainsFunc(all, is) != slices.ContainsFunc(picked, is) {
						t.Errorf("%s: %s %t with %s %t can be ordered: %t, is covered: %t", m.ID, a, ways[0], b, ways[1],
							slices.ContainsFunc(all, is), slices.ContainsFunc(picked, is))
					}
				}
			}
		}
		t.Logf("%s: %d of %d orders", m.ID, len(picked), len(all))
		if len(picked) > 20 {
			t.Errorf("%s: %d orders are many for a covering set", m.ID, len(picked))
		}
	}
}
