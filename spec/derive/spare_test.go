package derive

import (
	"slices"
	"testing"

	"ownerguide/spec/source"
)

// A spare of another size has figures of its own; they are printed next to those of the tires.
func TestSmallSpare(t *testing.T) {
	vs, findings := slippedValues(t, "0124", smallSpare, slip{})
	if findings.HasErrors() {
		t.Fatal(findings)
	}
	for _, c := range []struct{ name, want string }{
		{"tires.size", "ST205/75R15"},
		{"spare.size", "ST205/75R14"},
		{"spare.cold_pressure", "50 psi (345 kPa)"},
		{"spare.torque", "100 lb-ft (136 N·m)"},
		{"spare.speed", "50 mph (80 km/h)"},
		{"spare.capacity.axle", "3,520 lb (1,596 kg)"}, // 2 x 1,760
		{"spare.diameter_off", "3.7 %"},                // 1 in of 27.1 in, upward
	} {
		if got := shown(vs, c.name); got != c.want {
			t.Errorf("%s is %s, expected %s", c.name, got, c.want)
		}
	}
}

// A spare like the others has their figures.
func TestSpareLikeTheOthers(t *testing.T) {
	vs, _ := slippedValues(t, "0205", slip{}, slip{})
	for _, name := range []string{"size", "load_range", "cold_pressure"} {
		if spare, tires := shown(vs, "spare."+name), shown(vs, "tires."+name); spare != tires || spare == "" {
			t.Errorf("the spare has %s %s, the tires %s", name, spare, tires)
		}
	}
	for _, name := range []string{"spare.torque", "spare.speed", "spare.capacity.axle"} {
		if _, ok := vs.Lookup(name); ok {
			t.Errorf("a spare like the others has %s", name)
		}
	}
}

// A mount of any name whose place is below the deck is reached from below.
func TestSpareBelowDeck(t *testing.T) {
	_, findings := slippedValues(t, "0163", slip{}, slip{body, "mount: under-deck, for_dual: true, hoist: 200 lb, weight: 130 lb", "mount: tail, for_dual: true, weight: 60 lb"})
	if !slices.ContainsFunc(findings, func(f source.Finding) bool { return f.Code == "spare-lift" }) {
		t.Errorf("nothing says that one person cannot lift 60 lb: %v", findings)
	}
}
