package proof_test

import (
	"strings"
	"testing"

	"ownerguide/spec/testenv"
)

const (
	running, coupling, electrical = "components/running.yaml", "components/coupling.yaml", "components/electrical.yaml"
	lifting, bodies, winches      = "components/lift.yaml", "components/body.yaml", "components/winch.yaml"
	tilt, dump, neck, carry       = "models/tilt-20.yaml", "models/dump-14.yaml", "models/deck-28.yaml", "models/car-20.yaml"
)

// wrongLines are trailers that must not be sold: each is one edit of an unpacked line, as somebody in a hurry makes it.
var wrongLines = []struct{ what, file, from, to string }{
	{"a tenth of the torque", running, "torque: 120 lb-ft\n    stages: [25 lb-ft, 60 lb-ft, 120 lb-ft]", "torque: 12 lb-ft\n    stages: [2.5 lb-ft, 6 lb-ft, 12 lb-ft]"},
	{"tires filled to a tenth", running, "cold_pressure: 80 psi", "cold_pressure: 8 psi"},
	{"tires that last sixty years", running, "age_limit_years: 6", "age_limit_years: 60"},
	{"tires for 620 mph", running, "speed_limit: 62 mph", "speed_limit: 620 mph"},
	{"an axle label above the axle", tilt, "gawr: [7000 lb, 7000 lb]", "gawr: [7000 lb, 8000 lb]"},
	{"ten thousand pounds too much on the label", tilt, "gvwr: 15400 lb", "gvwr: 25400 lb"},
	{"an axle whose brakes were forgotten", running, "    brake: { kind: electric, rating: 7000 lb, magnets: 2, resistance: 3.2 ohm, resistance_high: 4 ohm, lining_limit: 0.0625 in, drum_limit: 12.09 in }\n    suspension: leaf\n    bearings: ported\n    studs: 8\n    stud_size: 1/2-20", "    suspension: leaf\n    bearings: ported\n    studs: 8\n    stud_size: 1/2-20"},
	{"brakes without magnets", running, "magnets: 2, resistance: 3.2 ohm", "magnets: 0, resistance: 3.2 ohm"},
	{"drums worn to ten times their size", running, "drum_limit: 12.09 in", "drum_limit: 120.9 in"},
	{"rotors worn to paper", running, "rotor_limit: 0.4 in", "rotor_limit: 0.04 in"},
	{"bearings with half an inch of play", running, "end_play: { low: 0.001 in, high: 0.005 in }", "end_play: { low: 0.001 in, high: 0.5 in }"},
	{"U-bolts made finger-tight", running, "u_bolt_torque: 70 lb-ft", "u_bolt_torque: 7 lb-ft"},
	{"hubs greased in ten years", running, "repack-bearings: { distance: 12000 mi, months: 12 }", "repack-bearings: { distance: 120000 mi, months: 120 }"},
	{"a coupler for a tenth", coupling, "gross: 16000 lb", "gross: 1600 lb"},
	{"a coupler bolted on with ten times the torque", coupling, "bolt_torque: 180 lb-ft", "bolt_torque: 1800 lb-ft"},
	{"chains of a tenth", coupling, "breaking: 26400 lb\n    hook_breaking: 26400 lb", "breaking: 2640 lb\n    hook_breaking: 26400 lb"},
	{"a single chain", coupling, "count: 2\n    grade: 70", "count: 1\n    grade: 70"},
	{"a breakaway battery of a toy", coupling, "battery: 12 Ah", "battery: 1.2 Ah"},
	{"a breakaway battery for thirty years", coupling, "battery: 12 Ah\n    battery_years: 3", "battery: 12 Ah\n    battery_years: 30"},
	{"brake and charge swapped in the plug", coupling, "{ place: \"1 o'clock\", function: charge", "{ place: \"1 o'clock\", function: brake"},
	{"no brake wire", tilt, "  circuit-brakes: { use: brakes-medium }\n", ""},
	{"no breakaway set", tilt, "  breakaway: { use: breakaway-12", "  holder-2: { use: holder"},
	{"one percent on the coupler", tilt, "coupler_share_low: 10 percent", "coupler_share_low: 1 percent"},
	{"forty-five percent on the coupler", tilt, "coupler_share_high: 15 percent", "coupler_share_high: 45 percent"},
	{"a gooseneck with a tenth on the coupler", neck, "coupler_share_low: 15 percent", "coupler_share_low: 5 percent"},
	{"axles at the tail", tilt, "axle-1: { use: axle-70, at: { x: 205 in, z: 14.9 in } }\n  axle-2: { use: axle-70, at: { x: 239 in", "axle-1: { use: axle-70, at: { x: 265 in, z: 14.9 in } }\n  axle-2: { use: axle-70, at: { x: 299 in"},
	{"axles ahead of the load", tilt, "axle-1: { use: axle-70, at: { x: 205 in, z: 14.9 in } }\n  axle-2: { use: axle-70, at: { x: 239 in", "axle-1: { use: axle-70, at: { x: 125 in, z: 14.9 in } }\n  axle-2: { use: axle-70, at: { x: 159 in"},
	{"stop lamps that are amber", electrical, "{ duty: stop, color: red", "{ duty: stop, color: amber"},
	{"a pump on bell wire", electrical, "feeds: pump, fuse: 200 A, wire_gauge: 1/0", "feeds: pump, fuse: 200 A, wire_gauge: 16"},
	{"a fuse that never blows", electrical, "feeds: winch, fuse: 250 A", "feeds: winch, fuse: 2500 A"},
	{"a winch without fuse", electrical, "feeds: winch, fuse: 250 A, ", "feeds: winch, "},
	{"a relief valve at ten times the pressure", lifting, "relief: 2800 psi", "relief: 28000 psi"},
	{"a hose for a tenth of the pressure", lifting, "rating: 3500 psi", "rating: 350 psi"},
	{"hoses that last sixty years", lifting, "replace_years: 6", "replace_years: 60"},
	{"a prop for a tenth", lifting, "rating: 4000 lb, count: 1, empty_only: true, angle: 30 deg", "rating: 400 lb, count: 1, empty_only: true, angle: 30 deg"},
	{"a box without prop", dump, "  prop: { use: prop-dump", "  holder-2: { use: holder"},
	{"a deck that nothing holds down", tilt, "  latch: { use: latch-tilt", "  holder-2: { use: holder"},
	{"a deck that falls", tilt, "  cushion: { use: cushion-tilt", "  holder-2: { use: holder"},
	{"a pump without valve at the cylinder", lifting, "holding_valve: counterbalance\n    holding_setting: 2400 psi\n    control: corded-pendant", "holding_valve: none\n    control: corded-pendant"},
	{"a counterbalance set to a tenth", lifting, "holding_setting: 2400 psi", "holding_setting: 240 psi"},
	{"a lever that opens nothing", lifting, "manual_lowering: hand-pump", "manual_lowering: lever"},
	{"a pump that nothing cuts off", lifting, "master_disconnect: true", "master_disconnect: false"},
	{"a rod like a broomstick", lifting, "bore: 3 in, rod: 2.625 in", "bore: 3 in, rod: 0.75 in"},
	{"a hinge under the middle of the box", dump, "hinge: { x: 226 in", "hinge: { x: 140 in"},
	{"a hinge for a tenth", dump, "hinge_rating: 60000 lb", "hinge_rating: 6000 lb"},
	{"a deck that weighs nothing", bodies, "tilting_weight: 1900 lb", "tilting_weight: 190 lb"},
	{"a box that weighs nothing", bodies, "side_height: 24 in\n    empty_weight: 1900 lb", "side_height: 24 in\n    empty_weight: 190 lb"},
	{"rings for fifty thousand pounds", bodies, "kind: d-ring, count: 8, working_load: 5400 lb", "kind: d-ring, count: 8, working_load: 54000 lb"},
	{"legs of a tenth", bodies, "BW-ST-0080, source: invented, count: 2, rating: 8000 lb", "BW-ST-0080, source: invented, count: 2, rating: 800 lb"},
	{"a deck without rings", carry, "  rings: { use: rings-medium", "  holder-2: { use: holder"},
	{"a guard at the height of a head", bodies, "kind: guard, height: 20 in", "kind: guard, height: 60 in"},
	{"wet sand like snow", "line.yaml", "wet-sand: { density: 125 lb/ft³", "wet-sand: { density: 12.5 lb/ft³"},
	{"a winch rope like string", winches, "rope_breaking: 14400 lb", "rope_breaking: 1440 lb"},
	{"a winch on a plate of tin", winches, "rating: 12000 lb", "rating: 1200 lb"},
	{"a neck through the tailgate", neck, "neck_low: 65 in", "neck_low: 15 in"},
	{"as wide as a house", tilt, "wide: 102 in", "wide: 120 in"},
}

// Each is refused: an error keeps every guide of it from being written, or its line from being proved.
func TestWrongLinesAreRefused(t *testing.T) {
	testenv.Heavy(t, "tries some sixty lines")
	b := newBench(t)
	for _, w := range wrongLines {
		text := string(b.line[w.file].Data)
		if !strings.Contains(text, w.from) {
			t.Errorf("%s: %s does not hold %q", w.what, w.file, w.from)
			continue
		}
		if !b.refuses(fault{line: map[string]string{w.file: strings.ReplaceAll(text, w.from, w.to)}, figures: true}) {
			t.Errorf("%s passes", w.what)
		}
	}
}
