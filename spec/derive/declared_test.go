package derive

import (
	"testing"

	"ownerguide/spec"
	"ownerguide/spec/logic"
)

// Figures and limits turn on features of the trade only: a maker's own is not
// among them, so an option that brings nothing else changes no figure.
func TestFiguresTurnOnTheTrade(t *testing.T) {
	trade := spec.DerivedFeatures()
	check := func(what string, when logic.Condition) {
		for _, name := range when.Facts() {
			if trade[name] == "" {
				t.Errorf("%s turns on %q, which no unit has", what, name)
			}
		}
	}
	for _, d := range Declared() {
		check(d.Name, d.When)
	}
	for _, l := range limits {
		check(l.ID, l.When)
	}
}
