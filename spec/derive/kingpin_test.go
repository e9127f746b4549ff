package derive

import (
	"slices"
	"strings"
	"testing"
)

const neckCoupler = "kind: gooseneck-ball, ball: 2.3125 in, gross: 30000 lb, vertical: 7500 lb, ball_height_low: 44 in, ball_height_high: 52 in, latch: spring-plunger, adjustable: true"

// unchained takes the chains off neck-28.
var unchained = [2]string{"  chains: { use: chains-12 }\n  jack: { use: jacks-10 }", "  jack: { use: jacks-10 }"}

// kingpinNeck turns the gooseneck of neck-28 into a kingpin, without chains unless told.
func kingpinNeck(entries string, chains bool) unit {
	u := unit{"neck-28", "", [][2]string{{neckCoupler, "kind: kingpin, " + entries}}}
	if !chains {
		u.swap = append(u.swap, unchained)
	}
	return u
}

const soundKingpin = "kingpin: 2 in, gross: 25000 lb, vertical: 6250 lb, plate_height_low: 45 in, plate_height_high: 48 in"

func TestKingpin(t *testing.T) {
	vs, _ := kingpinNeck(soundKingpin, false).evaluated(t)
	for _, c := range []struct{ name, want string }{
		{"hitch.kind", "kingpin"},
		{"hitch.kingpin", "2 in (50.8 mm)"},
		{"hitch.kingpin_least", "1-7/8 in (47.7 mm)"}, // 47.625 mm upward
		{"hitch.plate_height_low", "45 in (1,143 mm)"},
		{"hitch.plate_height_high", "48 in (1,219 mm)"},
		{"hitch.vertical_needed", "5,750 lb (2,609 kg)"}, // 25 % of 23,000, at least
		{"hitch.bed_gap", "6 in (153 mm)"},
	} {
		if got := shown(vs, c.name); got != c.want {
			t.Errorf("%s is %s, expected %s", c.name, got, c.want)
		}
	}
	for _, name := range []string{"hitch.ball", "coupler.latch", "chains.count", "chains.hook"} {
		if _, ok := vs.Lookup(name); ok {
			t.Errorf("a unit with a kingpin and no chains has %s", name)
		}
	}
	chained, _ := kingpinNeck(soundKingpin, true).evaluated(t)
	if got := shown(chained, "chains.count"); got != "2" {
		t.Errorf("chains beside a kingpin are counted %s", got)
	}
}

// Chains are left out beside a kingpin alone: a gooseneck without any is refused.
func TestNoChains(t *testing.T) {
	const chains = "  chains: { use: chains-gooseneck, at: { x: 8 in, y: -6 in, z: 46 in } }\n"
	found := slipped(t, "0163", slip{}, slip{"models/deck-28.yaml", chains, ""})
	if !slices.ContainsFunc(found, func(f finding) bool {
		return f.Code == "rating-chains" && strings.Contains(f.Message, "the unit has no chain")
	}) {
		t.Errorf("a gooseneck without chains: %v", found)
	}
	if found := slipped(t, "0211", slip{}, slip{}); found.HasErrors() {
		t.Errorf("a kingpin without chains: %v", found)
	}
}
