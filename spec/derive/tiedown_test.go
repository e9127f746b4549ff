package derive

import (
	"fmt"
	"slices"
	"testing"

	"ownerguide/spec"
	"ownerguide/spec/testenv"
)

// The table of chains and the sentences beside it agree on every unit: four at
// the corners, none weaker than the sentence about heavy machines asks for, and
// rings left for attachments only where there are more than four.
func TestChainsAgreeWithTheWords(t *testing.T) {
	l, _ := embedded(t)
	heavy := false
	for _, m := range l.Models {
		var orders [][]string
		l.Problem(m).Each(-1, func(options []string) bool { orders = append(orders, slices.Clone(options)); return true })
		for _, options := range testenv.Sample(t, orders, 12) {
			b, _ := spec.Resolve(l, orderable(t, l, m, options))
			vs, _ := Evaluate(b)
			number := func(name string) float64 {
				v, ok := vs.Lookup(name)
				if !ok {
					return 0
				}
				var x float64
				if _, err := fmt.Sscanf(fmt.Sprintf("%v", v.Exact), "%g", &x); err != nil {
					t.Fatalf("%s: %v", name, err)
				}
				return x
			}
			if _, tied := vs.Lookup("tiedown.chain_wll"); !tied {
				continue
			}
			each := number("tiedown.machine.each")
			heavy = heavy || each > 0
			for _, chain := range []string{"chain", "heavy_chain"} {
				if wll := number("tiedown." + chain + "_wll"); wll < max(each, 1) {
					t.Errorf("%s with %v: %ss of %g lb are in the table; a heavy machine takes %g lb each", m.ID, options, chain, wll, each)
				}
				for _, load := range tiedownLoads {
					if n := number("tiedown." + load + "." + chain + "_count"); n < 4 {
						t.Errorf("%s with %v: %g %ss hold a %s load, which has four corners", m.ID, options, n, chain, load)
					}
				}
			}
			if drawn := number("tiedown.full.each"); drawn < each {
				t.Errorf("%s with %v: the picture asks %g lb of each chain, the words %g lb", m.ID, options, drawn, each)
			}
			if left, rings := number("tiedown.attachment_rings"), number("anchors.d_ring.count"); left > max(0, rings-4) {
				t.Errorf("%s with %v: %g of %g rings are left for attachments", m.ID, options, left, rings)
			}
		}
	}
	if !heavy {
		t.Error("no unit carries a heavy machine")
	}
}
