package derive

import (
	"strings"
	"testing"
)

// As it stands the small line keeps every limit.
func TestRisingLineIsSound(t *testing.T) {
	for _, sheet := range []string{tiltSheet, boxSheet, strings.Replace(tiltSheet, "[power-tilt]", "[]", 1)} {
		_, findings := Evaluate(rising(t, sheet))
		for _, f := range ofMine(findings).Sorted() {
			t.Errorf("%s: %s [%s]", f.Pos, f.Message, f.Code)
		}
	}
}

var (
	withWinch = strings.Replace(tiltSheet, "[power-tilt]", "[power-tilt, winch-plate, winch]", 1)
	gravity   = strings.Replace(tiltSheet, "[power-tilt]", "[]", 1)
)

// risingBroken are edits to the small line of lifts that break one limit each.
var risingBroken = []struct {
	code, sheet string
	edits       []edit
	says        string // part of the message
}{
	{"brake-lining", tiltSheet, []edit{{"lining_limit: 0.0625 in", "lining_limit: 0.05 in"}}, "2/32 in"},
	{"breakaway-missing", tiltSheet, []edit{{"  breakaway: { use: breakaway }\n", ""}}, "no breakaway set"},
	// A usual 5 Ah kit on four magnets of 3.2 ohm.
	{"breakaway-hold", tiltSheet, []edit{{"battery: 12 Ah", "battery: 5 Ah"}}, "15 min"},
	{"breakaway-hold", tiltSheet, []edit{{"battery: 12 Ah", "battery: 7 Ah"}}, "15 min"},
	{"breakaway-hold-cold", tiltSheet, []edit{{"battery: 12 Ah", "battery: 9 Ah"}}, "cold"},
	{"brake-pin-missing", tiltSheet, []edit{{"      - { place: \"5 o'clock\", function: brake, color: blue }\n", ""}}, "no brake pin"},
	{"charge-pin-missing", tiltSheet, []edit{{"      - { place: \"1 o'clock\", function: charge, color: black }\n", ""}}, "no charge pin"},
	{"connector-pins", tiltSheet, []edit{{"      - { place: \"11 o'clock\", function: tail, color: brown }\n", ""}}, "tail"},
	{"connector-pins", tiltSheet, []edit{{"{ place: center, function: reverse, color: purple }", "{ place: center, function: reverse, color: purple }\n      - { place: center, function: reverse, color: purple }"}}, "two contacts"},
	{"connector-layout", tiltSheet, []edit{{"\"9 o'clock\", function: left", "\"9 o'clock\", function: right"}, {"\"3 o'clock\", function: right", "\"3 o'clock\", function: left"}}, "SAE J2863"},
	{"connector-layout", tiltSheet, []edit{{"place: center", "place: top"}}, `no contact at "top"`},
	// 12 AWG over 30 ft at 15 A loses 11.9 % of 12 V.
	{"brake-drop", tiltSheet, []edit{{"feeds: brakes, wire_gauge: 10", "feeds: brakes, wire_gauge: 12"}}, "12.0 % of 12 V"},
	{"lamp-drop", tiltSheet, []edit{{"wire_gauge: 14, one_way: 30 ft", "wire_gauge: 18, one_way: 30 ft"}}, "lamps"},
	{"fuse-wire", tiltSheet, []edit{{"feeds: lamps, fuse: 10 A", "feeds: lamps, fuse: 25 A"}}, "20 A"},
	{"wire-load", tiltSheet, []edit{{"one_way: 30 ft, ampacity: 40 A", "one_way: 30 ft, ampacity: 14 A"}}, "15.0 A"},
	{"fuse-load", tiltSheet, []edit{{"feeds: lamps, fuse: 10 A", "feeds: lamps, fuse: 2 A"}}, "3 A"},
	// 180 A through 2 × 30 ft of gauge 2, 0.1563 ohm a 1,000 ft: 1.69 V of 12 V.
	{"motor-drop", tiltSheet, []edit{{"wire_gauge: 2, one_way: 4 ft", "wire_gauge: 2, one_way: 30 ft"}}, "14.1 % of 12 V"},
	{"wire-gauge", tiltSheet, []edit{{"wire_gauge: 2, one_way: 4 ft", "wire_gauge: 3, one_way: 4 ft"}}, "AWG 3 carries at most 180 A"},
	{"feed-missing", tiltSheet, []edit{{"feeds: pump, fuse: 200 A", "feeds: charger, fuse: 200 A"}}, "no circuit feeds the pump"},
	{"feed-missing", tiltSheet, []edit{{", load: 3 A", ""}}, "gives no load"},
	{"fuse-missing", tiltSheet, []edit{{"feeds: pump, fuse: 200 A", "feeds: pump"}}, "has no fuse"},
	{"winch-rope", withWinch, []edit{{"rope_breaking: 17000 lb", "rope_breaking: 14900 lb"}}, "the rope of the winch breaks at 14900 lb; for its stall pull it must hold 15,000 lb"},
	{"winch-rope", withWinch, []edit{{"hook_breaking: 18000 lb", "hook_breaking: 14900 lb"}}, "the hook of the winch"},
	{"winch-rope-table", withWinch, []edit{{"rope: synthetic", "rope: wire"}}, "15,100 lb"},
	{"winch-drum", withWinch, []edit{{"drum_width: 9 in", "drum_width: 2 in"}}, "the rope makes 10 layers"},
	{"winch-plate-pull", withWinch, []edit{{"rating: 12000 lb", "rating: 9000 lb"}}, "10,000 lb"},
	{"winch-anchor", strings.Replace(withWinch, "winch-plate, ", "", 1), nil, "without a winch plate"},
	{"relief-cylinder", tiltSheet, []edit{{"extended: 38 in, rating: 3000 psi", "extended: 38 in, rating: 2100 psi"}}, "2100 psi"},
	{"relief-cylinder", tiltSheet, []edit{{"extended: 38 in, rating: 3000 psi", "extended: 38 in, rating: 3000 psi, capacity: 15000 lb"}}, "15000 lb"},
	{"relief-hose", tiltSheet, []edit{{"{ rating: 4000 psi", "{ rating: 2000 psi"}}, "the hose is"},
	{"relief-hose", tiltSheet, []edit{{"fitting_rating: 3500 psi", "fitting_rating: 2000 psi"}}, "the hose fitting is"},
	{"rod-side-pressure", tiltSheet, []edit{{"relief: 2200 psi", "relief: 2500 psi"}}, "3,334 psi"},
	{"reservoir", tiltSheet, []edit{{"reservoir: 3 gal", "reservoir: 0.1 gal"}}, "0.1 gal"},
	{"fluid-cold", tiltSheet, []edit{{"fluid_grade: 32", "fluid_grade: 68"}, {"fluid_at_100c: 5.4", "fluid_at_100c: 8.7"}}, "too thick"},
	{"fluid-cold", tiltSheet, []edit{{"    fluid_at_100c: 5.4 mm²/s\n", ""}}, "nothing says how cold"},
	{"plan-cycles", tiltSheet, []edit{{"capacity: 100 Ah, plan_cycles: 3", "capacity: 100 Ah, plan_cycles: 12"}}, "12 lifts"},
	{"recharge-overnight", tiltSheet, []edit{{"output: 5 A", "output: 3 A"}}, "20 h"},
	{"pump-battery", tiltSheet, []edit{{"      battery: { use: wet }\n", ""}}, "battery of its own"},
	{"hoist-geometry", boxSheet, []edit{{"cylinder_head: { x: 130 in, z: 26 in }", "cylinder_head: { x: 130 in, z: 13 in }"}}, "below its foot"},
	{"hoist-geometry", boxSheet, []edit{{"retracted: 51.25 in", "retracted: 52 in"}}, "closer"},
	{"tilt-travel", tiltSheet, []edit{{"retracted: 29 in, extended: 38 in", "retracted: 29 in, extended: 43 in"}}, "off the ground"},
	{"relief-load", boxSheet, []edit{{"relief: 2200 psi", "relief: 1500 psi"}}, "1,500 psi"},
	{"lift-capacity", boxSheet, []edit{{"relief: 2200 psi", "relief: 2100 psi"}}, "8,500 lb"},
	{"holding-valve", strings.Replace(tiltSheet, "options: [power-tilt]\n", "options: [power-tilt]\n", 1), []edit{{"holding_valve: counterbalance", "holding_valve: none"}, {"without: [cushion, latch]", "without: [cushion]"}}, "no holding valve"},
	{"holding-valve", gravity, []edit{{"  cushion: { use: cushion }\n", ""}, {"without: [cushion, latch]", "without: [latch]"}}, "no cushion"},
	{"manual-lowering", tiltSheet, []edit{{"manual_lowering: hand-pump", "manual_lowering: screw"}}, "worked by a screw"},
	{"manual-lowering", tiltSheet, []edit{{"manual_lowering: hand-pump", "manual_lowering: lever"}, {"holding_valve: counterbalance", "holding_valve: pilot-check"}}, "pilot-check"},
	{"holding-valve", tiltSheet, []edit{{"holding_valve: counterbalance", "holding_valve: hose-break"}, {"without: [cushion, latch]", "without: [cushion]"}}, "no holding valve"},
	{"prop-missing", tiltSheet, []edit{{"  prop: { use: prop, at: { x: 150 in, y: 24 in, z: 18 in }, size: { long: 36 in, wide: 4 in, high: 4 in } }\n", ""}}, "without a body prop"},
	{"lock-place", gravity, []edit{{"latch, at: { x: 70 in, z: 20 in } }", "latch }"}}, "nothing says where the lock stands"},
	{"lock-load", gravity, []edit{{"kind: latch, rating: 20000 lb", "kind: latch, rating: 4000 lb"}}, "what locks the deck is rated for 4,000 lb"},
	{"lock-pump", strings.Replace(tiltSheet, "[power-tilt]", "[power-tilt, deck-lock]", 1), []edit{{"kind: clamp, rating: 20000 lb", "kind: clamp, rating: 5400 lb"}}, "started with the lock shut"},
	{"prop-pump", tiltSheet, []edit{{"    lowering_relief: 150 psi\n", ""}}, "2,200 psi"},
	{"prop-handle", tiltSheet, []edit{{"handle: 16 in", "handle: 12 in"}}, "13 in"},
	{"prop-reach", tiltSheet, []edit{{"rating: 4000 lb, count: 1", "rating: 4000 lb, count: 1, angle: 30 deg"}}, "30°"},
	{"prop-reach", boxSheet, []edit{{"rating: 4000 lb, count: 1", "rating: 4000 lb, count: 1, angle: 65 deg"}}, "65°"},
	{"prop-rating", tiltSheet, []edit{{"rating: 4000 lb, count: 1", "rating: 1900 lb, count: 1"}}, "1,900 lb"},
	{"rod-buckling", tiltSheet, []edit{{"bore: 3 in, rod: 1.5 in", "bore: 3 in, rod: 1.25 in"}}, "the rod of the cylinder bends away at 23,750 lb"},
	{"cylinder-closed", tiltSheet, []edit{{"retracted: 29 in", "retracted: 21 in"}, {"plan_cycles: 3", "plan_cycles: 1"}}, "at least 23 in"},
	{"motor-power", tiltSheet, []edit{{"motor_current: 180 A", "motor_current: 120 A"}}, "86.4 % of the motor's power"}, // 2200 x 1.3 / 1714 x 745.7 = 1,244 W of 1,440
	{"motor-power", tiltSheet, []edit{{"flow: 1.3 gpm", "flow: 0.5 gpm"}, {"plan_cycles: 3", "plan_cycles: 1"}}, "at least 30 %"},
	{"motor-duty", tiltSheet, []edit{{"duty_on: 5 min", "duty_on: 20 s"}}, "a full raise takes 26 s"},
	{"tilt-balance", gravity, []edit{{"tilting_center: 200 in", "tilting_center: 220 in"}}, "expected the center ahead of the hinge"},
	{"winch-duty", withWinch, []edit{{"duty_rest: 10 min", "duty_rest: 4 min"}}, "20.0 % of the time"},
	{"deck-lock-missing", gravity, []edit{{"  latch: { use: latch, at: { x: 70 in, z: 20 in } }\n", ""}, {"without: [cushion, latch]", "without: [cushion]"}}, "no latch"},
	{"deck-lock-missing", tiltSheet, []edit{{"acting: double", "acting: single"}}, "keeps the deck down"},
}

// Each limit is broken by one edit, and that edit breaks no other of them.
func TestRisingLimits(t *testing.T) {
	for _, test := range risingBroken {
		t.Run(test.code, func(t *testing.T) {
			_, findings := Evaluate(rising(t, test.sheet, test.edits...))
			said := false
			for _, f := range ofMine(findings).Sorted() {
				said = said || strings.Contains(f.Message, test.says)
				if f.Code != test.code || f.Pos.Line == 0 {
					t.Errorf("%s: %s [%s]", f.Pos, f.Message, f.Code)
				}
			}
			if !said {
				t.Errorf("no %s says %q", test.code, test.says)
			}
		})
	}
}
