package proof_test

import (
	"strings"
	"testing"

	"ownerguide/spec/testenv"
)

// hostileLines are wrong lines of somebody who wants a wrong guide to be printed: figures
// in other units, ten times too large or small, parts of another trailer.
var hostileLines = []struct{ what, file, from, to string }{
	{"stages of the torque in newton meters", running, "stages: [25 lb-ft, 60 lb-ft, 120 lb-ft]", "stages: [25 N·m, 60 N·m, 120 N·m]"},
	{"a tire filled to kilopascals of the same number", running, "cold_pressure: 80 psi", "cold_pressure: 80 kPa"},
	{"the torque of a half-inch stud on one of five eighths", running, "torque: 300 lb-ft # flanged nuts on a flat wheel\n    stages: [60 lb-ft, 150 lb-ft, 300 lb-ft]", "torque: 120 lb-ft\n    stages: [25 lb-ft, 60 lb-ft, 120 lb-ft]"},
	{"a load index with its digits swapped", running, "load_index: 124", "load_index: 142"},
	{"a tire that carries ten times as much", running, "single: 3520 lb", "single: 35200 lb"},
	{"magnets of ten times the resistance", running, "resistance: 3.2 ohm, resistance_high: 4 ohm, lining_limit: 0.0625 in, drum_limit: 12.09 in", "resistance: 32 ohm, lining_limit: 0.0625 in, drum_limit: 12.09 in"},
	{"linings ten times as thick as they are", running, "lining_limit: 0.0625 in, drum_limit: 12.09 in", "lining_limit: 0.625 in, drum_limit: 12.09 in"},
	{"an axle whose hubs nobody greases", running, "      grease-hubs: { distance: 3000 mi, months: 3 }\n", ""},
	{"a wheel whose nuts nobody torques again", running, "    service: { lug-torque: { distance: 3000 mi, months: 1 } }\n", ""},
	{"a coupler that carries kilograms of the same number", coupling, "vertical: 2400 lb", "vertical: 2400 kg"},
	{"a ball of two inches below a gooseneck", coupling, "ball: 2.3125 in\n    gross: 25000 lb", "ball: 2 in\n    gross: 25000 lb"},
	{"a ball at a tenth of the height of a bed", coupling, "ball_height_low: 40 in", "ball_height_low: 4 in"},
	{"a chain of a smaller size that is said to be as strong", coupling, "grade: 70\n    size: 3/8 in\n    breaking: 26400 lb\n    hook_breaking: 26400 lb\n    tab_breaking: 28000 lb\n    length: 66 in", "grade: 70\n    size: 5/16 in\n    breaking: 26400 lb\n    hook_breaking: 26400 lb\n    tab_breaking: 28000 lb\n    length: 66 in"},
	{"a chain of a lower grade that is said to be as strong", coupling, "grade: 70\n    size: 3/8 in\n    breaking: 26400 lb\n    hook_breaking: 26400 lb\n    tab_breaking: 28000 lb\n    length: 54 in", "grade: 30\n    size: 3/8 in\n    breaking: 26400 lb\n    hook_breaking: 26400 lb\n    tab_breaking: 28000 lb\n    length: 54 in"},
	{"a jack that lifts a tenth", coupling, "lift: 7000 lb", "lift: 700 lb"},
	{"a jack that stands by pounds of the same number as tons", coupling, "static: 9000 lb", "static: 9000 kg"},
	{"ground and brake swapped in the plug", coupling, "\"5 o'clock\", function: brake, color: blue }\n      - { place: \"7 o'clock\", function: ground", "\"5 o'clock\", function: ground, color: blue }\n      - { place: \"7 o'clock\", function: brake"},
	{"a breakaway battery of ten times the size", coupling, "battery: 12 Ah", "battery: 120 Ah"},
	{"brakes that come on at a tenth of the pressure", coupling, "pressure: 1600 psi", "pressure: 160 psi"},
	{"the pump on the wire of the charger", dump, "circuit-pump: { use: pump-feed-dump }", "circuit-pump: { use: charger-feed }"},
	{"a fuse of the lamps on the pump", electrical, "feeds: pump, fuse: 200 A", "feeds: pump, fuse: 20 A"},
	{"a wire that carries ten times as much", electrical, "feeds: winch, fuse: 300 A, wire_gauge: 2/0, one_way: 6 ft, ampacity: 330 A", "feeds: winch, fuse: 300 A, wire_gauge: 2/0, one_way: 6 ft, ampacity: 3300 A"},
	{"a charger of ten times the current", electrical, "output: 15 A", "output: 150 A"},
	{"a battery of ten times the capacity", electrical, "capacity: 105 Ah\n    charge_voltage_low: 14.2 V\n    charge_voltage_high: 14.7 V\n    charge_current: 45 A\n    plan_cycles: 8", "capacity: 1050 Ah\n    charge_voltage_low: 14.2 V\n    charge_voltage_high: 14.7 V\n    charge_current: 45 A\n    plan_cycles: 80"},
	{"sheeting for a tenth of the side", electrical, "tape_side: 168 in", "tape_side: 16.8 in"},
	{"a relief valve at a tenth", lifting, "relief: 2800 psi", "relief: 280 psi"},
	{"a pump of ten times the flow", lifting, "flow: 1.3 gpm", "flow: 13 gpm"},
	{"a reservoir of a tenth", lifting, "reservoir: 5 gal", "reservoir: 0.5 gal"},
	{"cylinders rated for ten times the pressure", lifting, "rating: 3500 psi, no_care", "rating: 35000 psi, no_care"},
	{"a hose that bears bar of the same number", lifting, "rating: 4000 psi, fitting_rating: 4000 psi", "rating: 4000 bar, fitting_rating: 4000 bar"},
	{"a pump that may run for seconds", lifting, "duty_on: 3 min", "duty_on: 3 s"},
	{"a pump that presses on the prop as hard as it can", lifting, "    lowering_relief: 400 psi\n", ""},
	{"a box that spreads at thirty miles an hour", bodies, "speed: 3 mph", "speed: 30 mph"},
	{"a box that spreads nearly upright", bodies, "spread: { angle: 25 deg", "spread: { angle: 52 deg"},
	{"rings of a tenth", bodies, "kind: d-ring, count: 8, working_load: 5400 lb", "kind: d-ring, count: 8, working_load: 540 lb"},
	{"ramps of a tenth", bodies, "pair_rating: 16000 lb", "pair_rating: 1600 lb"},
	{"ramps of a third of their length", bodies, "length: 66 in\n    pair_rating", "length: 22 in\n    pair_rating"},
	{"a box for a load of lead", bodies, "kind: underbody, load_limit: 150 lb", "kind: underbody, load_limit: 3000 lb"},
	{"a guard far ahead of the rear", bodies, "kind: guard, height: 20 in, forward: 4 in", "kind: guard, height: 20 in, forward: 40 in"},
	{"a winch of ten times the pull", winches, "pull: 8000 lb", "pull: 80000 lb"},
	{"a winch that draws a tenth", winches, "current: 290 A", "current: 29 A"},
	{"a rope of a tenth of its length", winches, "rope_length: 85 ft", "rope_length: 8.5 ft"},
	{"a winch that hardly rests", winches, "duty_rest: 14 min", "duty_rest: 14 s"},
	{"a tenth of the weight on the coupler", tilt, "coupler_weight: 700 lb", "coupler_weight: 70 lb"},
	{"shares on the coupler that are swapped", tilt, "coupler_share_low: 10 percent\ncoupler_share_high: 15 percent", "coupler_share_low: 15 percent\ncoupler_share_high: 10 percent"},
	{"a tenth of what the axles carry", tilt, "gawr: [7000 lb, 7000 lb]", "gawr: [700 lb, 700 lb]"},
	{"a trailer as wide as its millimeters in inches", tilt, "overall: { long: 327 in, wide: 102 in, high: 40 in }", "overall: { long: 327 in, wide: 2591 in, high: 40 in }"},
	{"a trailer of a tenth of its height", dump, "overall: { long: 240 in, wide: 102 in, high: 58 in }", "overall: { long: 240 in, wide: 102 in, high: 5.8 in }"},
	{"the tires of a light trailer", neck, "tire: { use: tire-17-j }", "tire: { use: tire-16-e }"},
	{"the brakes of one axle left out", neck, "      axle-2: { use: axle-100-disc }\n", ""},
	{"the safety chains of a utility trailer", neck, "chains: { use: chains-gooseneck", "chains: { use: chains-light"},
	{"the lock of the deck sold without what it locks", "options/equipment.yaml", "  requires:\n    - { option: power-tilt, because: lock-holds-tilt }\n", ""},
	{"two decks on one frame", neck, "rules:\n  - { exactly_one: [power-tilt, fixed-deck], because: one-deck }", "rules: []"},
	{"arms of a tarp on sides that are too tall", dump, "    excludes:\n      - { option: tall-sides, because: arms-and-sides }\n", ""},
	{"dry sand written for wet", "line.yaml", "wet-sand: { density: 125 lb/ft³", "wet-sand: { density: 12.5 lb/ft³"},
}

// hostileWords are texts that say less than they did.
var hostileWords = []struct{ what, file, from, to string }{
	{"a lesser signal word", "cautions.yaml", "id: crush-under-deck, word: danger", "id: crush-under-deck, word: caution"},
	{"a grave danger out of the safety chapter", "cautions.yaml", "id: wheel-loss, word: warning, grave: true", "id: wheel-loss, word: warning"},
	{"a caution for the units without the hazard", "cautions.yaml", "id: brake-loss, word: warning, when: controlled-brakes", "id: brake-loss, word: warning, when: not controlled-brakes"},
	{"a way to avoid it left out", "en/cautions.yaml", "    - Set the prop under an empty deck only.\n", ""},
	{"a step left out", "en/sections/set-body-prop.md", "7. Step back, out of the marked zone.\n", ""},
	{"a condition turned round", "en/sections/set-body-prop.md", "{?double-acting and not hand-pump}", "{?double-acting and hand-pump}"},
	{"what must never be done, as what to do", "en/cautions.yaml", "Never go under a deck that only fluid", "Go under a deck that only fluid"},
	{"a figure written out", "en/sections/change-wheel.md", "then to {wheels.torque}", "then to 90 lb-ft"},
	{"another figure", "en/sections/change-wheel.md", "then to {wheels.torque}", "then to {wheels.stage.1}"},
	{"a caution taken from the work", "en/sections/change-wheel.md", "```caution wheel-loss\n```\n", ""},
	{"a chapter for other units", "outline.yaml", "id: manual-lowering, listed: true, when: hydraulics", "id: manual-lowering, listed: true, when: winch"},
	{"a wheel chocked after it is lifted", "en/sections/change-wheel.md", "2. {?not livestock and not boat} Leave the trailer coupled, with the parking brake set. Chock the wheels on the other side, ahead and behind. Take heavy loads off first, when the place is safe for it.\n2. {?boat} Leave the trailer coupled, with the parking brake set. Chock the wheels on the other side, ahead and behind.\n2. {?livestock} Leave the trailer coupled, with the parking brake set. Chock the wheels on the other side, ahead and behind. With animals on board, stop here and call for help with pens: their weight moves on a jack.\n3. Get a jack and a stand, each rated for at least {ratings.lift}. The jack at the front of the trailer is not for this.\n",
		"2. Get a jack and a stand, each rated for at least {ratings.lift}. The jack at the front of the trailer is not for this.\n3. {?not livestock and not boat} Leave the trailer coupled, with the parking brake set. Chock the wheels on the other side, ahead and behind. Take heavy loads off first, when the place is safe for it.\n3. {?boat} Leave the trailer coupled, with the parking brake set. Chock the wheels on the other side, ahead and behind.\n3. {?livestock} Leave the trailer coupled, with the parking brake set. Chock the wheels on the other side, ahead and behind. With animals on board, stop here and call for help with pens: their weight moves on a jack.\n"},
	{"a disconnect turned on for the arm that reaches in", "en/sections/power-tilt-raise.md", "1. {?master-disconnect} Turn the master disconnect off, so that", "1. {?master-disconnect} Turn the master disconnect on, so that"},
	{"wheels chocked on one side of them", "en/sections/load-deck.md", "Chock the trailer wheels on both sides, ahead and behind.", "Chock the trailer wheels on both sides, ahead."},
	{"one person where two are needed", "en/sections/change-wheel.md", "Take the spare off its mount with two people.", "Take the spare off its mount with one person."},
	{"nuts tightened on the stand and never again", "en/sections/change-wheel.md", "With the wheel still off the ground, tighten", "With the wheel still on the ground, tighten"},
	{"a caution behind the work that it warns of", "en/sections/power-tilt-raise.md",
		"```caution remote-by-another\n```\n\n### Tilt the deck\n\n1. Stand out to the side, where you see both sides of the hinge. Keep the hand control with you.\n2. Press the button that tilts the deck. Let go to stop, and at once when something sounds or looks wrong.\n3. Stop when the tail rests on the ground along its full width. Do not push on.\n\n",
		"### Tilt the deck\n\n1. Stand out to the side, where you see both sides of the hinge. Keep the hand control with you.\n2. Press the button that tilts the deck. Let go to stop, and at once when something sounds or looks wrong.\n3. Stop when the tail rests on the ground along its full width. Do not push on.\n\n```caution remote-by-another\n```\n\n"},
	{"a stand left out of a step that keeps its other words", "en/sections/change-wheel.md", "Set the stand under the frame beside the jack and lower the trailer onto it.", "Lower the trailer onto the jack."},
	{"where to go no further left out", "en/tasks/lug-torque-first.md", "\n> **Do not tow** when a nut turns at the third check, or when a wheel has moved on its studs. Have wheel and hub looked at by a trained person.\n", ""},
}

// Each is refused, or its line cannot be proved.
func TestHostileLinesAreRefused(t *testing.T) {
	testenv.Heavy(t, "tries some seventy lines and texts")
	b := newBench(t)
	b.refusesAll(t, hostileLines, b.line, func(w wrong) fault { return b.wrongLine(w.file, w.from, w.to) })
	b.refusesAll(t, hostileWords, b.words, func(w wrong) fault {
		return fault{words: map[string]string{w.file: strings.Replace(string(b.words[w.file].Data), w.from, w.to, 1)}}
	})
}
