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

// One person lifts 51 lb at most, two lift 102 lb: the load constant of the revised NIOSH
// lifting equation, DHHS (NIOSH) 94-110, from memory. Below a deck there is room for one.
func TestSpareIsLiftedByPeople(t *testing.T) {
	for _, c := range []struct {
		unit     string
		from, to string
		code     bool
	}{
		{"0163", "hoist: 200 lb, weight: 130 lb", "weight: 51 lb", false},
		{"0163", "hoist: 200 lb, weight: 130 lb", "weight: 52 lb", true},
		{"0163", "mount: under-deck, for_dual: true, hoist: 200 lb", "mount: gooseneck, for_dual: true", true}, // its place is below the deck
		{"0149", "mount: tongue, weight: 80 lb", "mount: tongue, weight: 102 lb", false},
		{"0149", "mount: tongue, weight: 80 lb", "mount: tongue, weight: 103 lb", true},
	} {
		_, findings := slippedValues(t, c.unit, slip{}, slip{body, c.from, c.to})
		if got := slices.ContainsFunc(findings, func(f source.Finding) bool { return f.Code == "spare-lift" }); got != c.code {
			t.Errorf("%s with %q: spare-lift is %t, expected %t: %v", c.unit, c.to, got, c.code, findings)
		}
	}
}
