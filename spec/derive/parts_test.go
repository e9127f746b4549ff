package derive

import (
	"slices"
	"testing"

	"ownerguide/spec"
	"ownerguide/spec/testenv"
)

// Every part of the fullest units is put in a second place as well. Either the
// program works with each of a kind, or it says that it does not look at this one.
func TestASecondPartIsNeverIgnoredInSilence(t *testing.T) {
	// Kinds of which each one counts, or none has a figure.
	each := []string{"anchor", "axle", "cushion", "other"}
	l, _ := embedded(t)
	met := map[string]bool{}
	for _, m := range testenv.Sample(t, l.Models, 4) {
		var fullest []string
		l.Problem(m).Each(-1, func(options []string) bool {
			if len(options) > len(fullest) {
				fullest = slices.Clone(options)
			}
			return true
		})
		for _, options := range testenv.Sample(t, [][]string{fullest, nil}, 1) {
			b, _ := spec.Resolve(l, orderable(t, l, m, options))
			if b == nil {
				continue // this model needs an option
			}
			for _, p := range b.Parts() {
				again := *p
				again.Place = "second"
				_, findings := Evaluate(b.WithParts(append(b.Parts(), &again)))
				told := false
				for _, f := range findings {
					told = told || f.Code == partIgnoredCode.ID && f.Pos == again.From
				}
				if met[again.Kind] = true; told == slices.Contains(each, again.Kind) {
					t.Errorf("%s with %v: a second %s: told %t", m.ID, options, again.Kind, told)
				}
			}
		}
	}
	if len(met) < 25 {
		t.Errorf("only %d kinds were tried", len(met))
	}
}
