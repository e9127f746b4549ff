package render

import (
	"slices"
	"strings"
	"testing"

	"ownerguide/render/doc"
	"ownerguide/spec/derive"
)

// toldIn says what a section has to hold in the guide of every unit that has these
// features or figures ("a+b" means both, "!a" that it has none): figures, panels,
// pictures, and links to where a step goes on. Words may change; a figure, a panel
// or a link that leaves its section is what an owner gets hurt for.
var toldIn = []struct{ when, section, what, why string }{
	// Props under what the pump pulls down.
	{"body-prop+double-acting", "set-body-prop", "panel prop-crushed-by-pump", "the pump folds a prop that it presses on"},
	{"body-prop+double-acting", "gravest", "panel prop-crushed-by-pump", "who reads the gravest dangers alone reads this"},
	{"body-prop+hand-pump", "set-body-prop", "link manual-lowering", "the last bit is lowered by hand"},
	{"body-prop", "set-body-prop", "picture raised-deck", "where the prop stands is seen, not read"},
	{"body-prop", "set-body-prop", "figure prop.rating", "it holds the empty deck and no more"},
	{"body-prop+gravity-tilt", "set-body-prop", "figure tilt.hoist", "a hoist for less lets the deck fall"},
	{"value:spare.weight", "stop-spare", "figure spare.weight", "who lifts alone hurts the back"},
	{"prop-pair", "set-body-prop", "figure prop.count", "one of two props bends"},
	// Loads that a winch holds.
	{"winch", "use-winch", "panel winched-load-runs-off", "a dead load on a slope rolls"},
	{"winch+power-tilt", "use-winch", "link power-tilt-raise", "the deck comes down before the rope is slack"},
	{"winch+power-tilt", "power-tilt-raise", "link use-winch", "what cannot brake leaves by the winch"},
	{"winch", "use-winch", "figure winch.load_up", "a load heavier than that stands still on the slope"},
	{"winch", "use-winch", "figure winch.pull_last", "a full drum pulls least"},
	{"winch", "use-winch", "figure winch.duty_on", "a motor that is not rested burns"},
	{"winch", "use-winch", "figure winch.duty_rest", "a motor that is not rested burns"},
	{"value:winch.stand_off", "use-winch", "figure winch.stand_off", "a rope that breaks reaches as far as it is long"},
	// Wheels, coupler, stands.
	{"gooseneck+coupler-adjustable", "coupler-height", "panel neck-drops", "the tube drops when its bolt comes out"},
	{"value:coupler.set_screw_torque", "coupler-height", "figure coupler.set_screw_torque", "a loose tube knocks until its bolt breaks"},
	{"coupler-adjustable", "coupler-height", "figure jack.stand", "a stand for less folds"},
	{"", "change-wheel", "figure ratings.lift", "a stand for less folds"},
	{"", "work-safely", "figure ratings.lift", "a stand for less folds"},
	{"", "stop-jacking-points", "figure ratings.lift", "a jack for less folds"},
	{"", "store", "figure ratings.lift", "a stand for less folds"},
	// What a delivery drive has made overdue.
	{"value:brakes.adjust_overdue", "first-miles", "figure brakes.adjust_first", "brakes that nobody set lose half of their pull"},
	{"value:brakes.adjust_overdue", "hand-over-delivery", "figure brakes.adjust_overdue", "brakes that nobody set lose half of their pull"},
	{"value:wheels.recheck_overdue", "first-miles", "figure wheels.recheck_overdue", "nuts that were not checked come off"},
	{"carrier-miles", "hand-over-delivery", "figure wheels.recheck.3", "nuts that were not checked come off"},
	{"drum-brakes+!value:brakes.adjust_overdue", "first-miles", "figure brakes.adjust_first", "brakes that nobody set lose half of their pull"},
	// Tie-downs.
	{"value:tiedown.machine.weight", "tie-down-table", "figure tiedown.machine.each", "a heavy machine takes heavy chains at each corner"},
	{"value:tiedown.attachment_rings", "tie-down-machine", "figure tiedown.attachment_rings", "who has no ring left has to be told so"},
	{"d-rings+decked+!value:tiedown.attachment_rings+!stake-pockets", "tie-down-machine", "figure anchors.d_ring.limit", "two chains on one ring add up"},
	{"d-rings+decked+!value:tiedown.attachment_rings+stake-pockets", "tie-down-machine", "figure anchors.stake_pocket.limit", "a pocket holds less than a ring"},
	// Current, batteries, plug.
	{"charger", "charge-battery", "figure battery.recharge_time", "who counts on a night finds it half full"},
	{"charger", "charge-battery", "figure battery.recharge_flat", "who counts on a night finds it half full"},
	{"electric-brakes", "brake-controller", "figure brakes.current", "a controller for less gives less"},
	{"electric-brakes", "brake-controller", "figure brakes.current_charging", "with the engine running the magnets draw more"},
	{"electric-brakes", "brake-linings", "figure brakes.magnet_resistance", "a burnt magnet brakes on one side"},
	{"electric-brakes+value:brakes.magnet_resistance_high", "brake-linings", "figure brakes.magnet_resistance_high", "a corroded joint takes the current"},
	{"", "care-connector", "picture connector-face", "contacts are numbered in more ways than one"},
	// Raised parts: down by hand, in the cold, stuck.
	{"hydraulics", "manual-lowering", "panel deck-drops-hose", "what comes down crushes"},
	{"value:hydraulics.start_limit", "hydraulics-cold", "figure hydraulics.start_limit", "a pump that draws no fluid seizes"},
	{"dump", "dump-before", "link hydraulics-cold", "a pump that draws no fluid seizes"},
	{"power-tilt", "power-tilt-before", "link hydraulics-cold", "a pump that draws no fluid seizes"},
	{"pendant-radio", "stop-pendant", "link manual-lowering", "a lost radio leaves the deck up"},
	{"dump", "dump-raise", "link dump-before", "the checks are done again after the trailer has moved"},
	{"dump", "load-box", "link where-the-load-goes", "nobody measures the middle of gravel"},
	{"value:dump.fill_depth.wet_sand", "load-box", "figure dump.fill_depth.wet_sand", "wet material is heavier"},
	{"value:dump.fill_depth.wet_gravel", "load-box", "figure dump.fill_depth.wet_gravel", "wet material is heavier"},
	{"value:dump.fill_depth.mixed_rubble", "load-box", "figure dump.fill_depth.mixed_rubble", "mixed material is heavier"},
	// Where and how many.
	{"", "check-heat", "figure hubs.hot_difference", "much hotter says nothing to who holds a thermometer"},
	{"value:tow_vehicle.heavy_pin", "tow-vehicle-check", "figure tow_vehicle.heavy_pin", "most pickups cannot carry such a pin"},
	{"stabilizers", "stop-stabilizers", "figure stabilizers.rating", "legs hold so much and no more"},
	{"value:stabilizers.load", "stop-stabilizers", "figure stabilizers.load", "legs hold so much and no more"},
	{"value:hydraulics.side+master-disconnect", "stop-master-disconnect", "figure hydraulics.side", "an emergency stop that is looked for is none"},
	{"value:hydraulics.side", "stop-power-unit", "figure hydraulics.side", "the lever is looked for in the dark"},
	{"over-10000-lb", "license-check", "figure law.class_a_combination", "the greater of the two sums makes the combination"},
	{"unbraked", "license-check", "figure tow_vehicle.axles_unbraked", "a light vehicle may not tow it"},
}

// toldWhere checks a guide against [toldIn] and notes which rows it meets.
func toldWhere(t *testing.T, g *doc.Guide, vs *derive.Values, has func(string) bool, used map[int]bool) {
	t.Helper()
	holds := map[string]bool{}
	for _, d := range documentsOf(g) {
		for n := range doc.Walk(d.Sections) {
			s, ok := n.(*doc.Section)
			if !ok {
				continue
			}
			for n := range doc.Walk(s.Blocks) {
				switch n := n.(type) {
				case *doc.Value:
					holds[s.ID+" figure "+n.Name] = true
				case *doc.Caution:
					holds[s.ID+" panel "+n.Name] = true
				case *doc.Figure:
					holds[s.ID+" picture "+n.Name] = true
				case *doc.Link:
					holds[s.ID+" link "+strings.TrimPrefix(n.To, "#")] = true
				}
			}
		}
	}
	meets := func(name string) bool {
		if figure, is := strings.CutPrefix(name, "value:"); is {
			_, there := vs.Lookup(figure)
			return there
		}
		return has(name)
	}
	for i, row := range toldIn {
		if row.when != "" && !holdsAll(row.when, meets) {
			continue
		}
		used[i] = true
		if !holds[row.section+" "+row.what] {
			t.Errorf("a unit with %q has no %s in %s: %s", row.when, row.what, row.section, row.why)
		}
	}
}

// toldIsUsed: a row that no unit meets looks after nothing, and two alike are one.
func toldIsUsed(t *testing.T, used map[int]bool) {
	t.Helper()
	for i, row := range toldIn {
		if !used[i] {
			t.Errorf("no unit has %q: take the row about %s out", row.when, row.what)
		}
		if slices.Index(toldIn, row) != i {
			t.Errorf("%q, %s, %s stands twice", row.when, row.section, row.what)
		}
	}
}
