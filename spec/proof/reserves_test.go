package proof_test

import (
	"cmp"
	"slices"
	"testing"

	"ownerguide/spec/proof"
	"ownerguide/spec/source"
	"ownerguide/spec/testenv"
)

// Whether some order asks for much of a rating is seen at the extremes of weight as by listing every
// choice, wherever the bound lies: here just above and just below the least reserve of a rating.
func TestReservesAgreeWithListing(t *testing.T) {
	seeds, options, bounds := uint64(3), 4, 2
	if testenv.IsHeavy() {
		seeds, options, bounds = 40, 6, 6
	}
	_, ts := embedded()
	for seed := range seeds {
		s := proof.Subject{Line: weighing(seed*5+4, options, 5, []float64{20, 150, 600, 1500}[seed%4]), Texts: ts.Texts(), Limit: proof.DefaultLimit}
		listed := proof.LeastReserves(s)
		var places []source.Pos
		for at := range listed {
			places = append(places, at)
		}
		slices.SortFunc(places, func(a, b source.Pos) int { return cmp.Compare(a.String(), b.String()) })
		for i := range bounds {
			at := places[(i*7+int(seed))%len(places)]
			for _, off := range []float64{1e-6, -1e-6} {
				scale := listed[at] * (1 + off)
				roomy := proof.RoomyBySums(s, scale)
				for _, other := range places {
					if want := listed[other] >= scale; roomy[other] != want {
						t.Errorf("seed %d: %s with a bound at %g of its own: too large %t, by listing %t (%g)", seed, other, scale, roomy[other], want, listed[other])
					}
				}
			}
		}
	}
}
