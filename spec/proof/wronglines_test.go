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
	{"a jack that moves an inch and a half", coupling, "travel: 15 in", "travel: 1.5 in"},
	{"an axle as wide as a cart's", running, "track: 66 in", "track: 66 cm"},
	{"fluid as thick as gear oil", lifting, "fluid_grade: 32\n", "fluid_grade: 320\n"},
	{"a pump that starts in tar", lifting, "start_limit: 1000 mm²/s", "start_limit: 100000 mm²/s"},
	{"a strap that may carry what it breaks at", "components/boat.yaml", "strap_working_load: 1300 lb", "strap_working_load: 4000 lb"},
	{"a bow chain for a dog", "components/boat.yaml", "chain_working_load: 1300 lb", "chain_working_load: 130 lb"},
	{"a hull as long as a ship's", "components/boat.yaml", "hull_length: 216 in", "hull_length: 2160 in"},
	{"a surge coupler that slides ten inches", coupling, "travel: 1 in\n    reverse: solenoid", "travel: 10 in\n    reverse: solenoid"},
	{"an axle above its wheels", tilt, "axle-1: { use: axle-70, at: { x: 205 in, z: 14.9 in } }", "axle-1: { use: axle-70, at: { x: 205 in, z: 24.9 in } }"},
	{"a prop said to be on the other side", tilt, "size: { long: 36 in, wide: 4 in, high: 4 in }, on: left }", "size: { long: 36 in, wide: 4 in, high: 4 in }, on: right }"},
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
	{"a hinge 8 in too low", tilt, "hinge: { x: 228 in, z: 20 in }", "hinge: { x: 228 in, z: 12 in }"},
	{"a hinge of the dump box 8 in too low", dump, "hinge: { x: 226 in, z: 26 in }", "hinge: { x: 226 in, z: 18 in }"},
	{"a cylinder's foot too far forward", dump, "cylinder_foot: { x: 138 in", "cylinder_foot: { x: 148 in"},
	{"a cylinder's foot on the road", dump, "cylinder_foot: { x: 138 in, z: 12 in }", "cylinder_foot: { x: 138 in, z: 8 in }"},
	{"a cylinder's head beside its place", neck, "cylinder_head: { x: 173 in", "cylinder_head: { x: 175 in"},
	{"a reservoir of ten times the size", lifting, "reservoir: 2 gal", "reservoir: 20 gal"},
	{"a reservoir of fifty gallons", lifting, "reservoir: 5 gal", "reservoir: 50 gal"},
	{"a motor that runs for half an hour", lifting, "master_disconnect: true\n    duty_on: 3 min", "master_disconnect: true\n    duty_on: 30 min"},
	{"a winch that pulls for ten minutes and rests for two hours", winches, "duty_on: 1 min\n    duty_rest: 14 min", "duty_on: 10 min\n    duty_rest: 140 min"},
	{"the pressure of a smaller tire", running, "load_index_dual: 120\n    cold_pressure: 80 psi", "load_index_dual: 120\n    cold_pressure: 50 psi"},
	{"the load range of a smaller tire", running, "load_range: E", "load_range: C"},
	{"load range and pressure of a stronger tire", running, "load_range: C\n    single: 1820 lb\n    load_index: 101\n    cold_pressure: 50 psi", "load_range: E\n    single: 1820 lb\n    load_index: 101\n    cold_pressure: 80 psi"},
	{"a load of another size", running, "single: 1820 lb\n    load_index: 101", "single: 2830 lb\n    load_index: 116"},
	{"a tire of half the diameter", running, "diameter: 27.1 in", "diameter: 17.1 in"},
	{"a tire two inches too high", running, "diameter: 30.8 in", "diameter: 32.8 in"},
	{"a rim of another diameter", running, "rim: 17.5 in", "rim: 16 in"},
	{"one magnet on an axle", running, "magnets: 2, resistance: 3.2 ohm", "magnets: 1, resistance: 3.2 ohm"},
	{"magnets of twice the resistance", running, "resistance: 3.2 ohm, resistance_high: 4 ohm", "resistance: 6.4 ohm, resistance_high: 8 ohm"},
	{"a beam of ten times the strength", running, "beam: 7000 lb", "beam: 70000 lb"},
	{"springs of ten times the strength", running, "spring: 3500 lb # the pair", "spring: 35000 lb # the pair"},
	{"coupler bolts made finger-tight", coupling, "bolt_torque: 180 lb-ft", "bolt_torque: 18 lb-ft"},
	{"set screws of ten times the torque", coupling, "set_screw_torque: 70 lb-ft", "set_screw_torque: 700 lb-ft"},
	{"battery cable to the brakes", electrical, "feeds: brakes, wire_gauge: 10", "feeds: brakes, wire_gauge: 2/0"},
	{"a brake wire of one foot", electrical, "feeds: brakes, wire_gauge: 10, one_way: 25 ft", "feeds: brakes, wire_gauge: 10, one_way: 1 ft"},
	{"a pump wire of one foot", electrical, "feeds: pump, fuse: 250 A, wire_gauge: 1/0, one_way: 5 ft", "feeds: pump, fuse: 250 A, wire_gauge: 1/0, one_way: 1 ft"},
	{"half the weight on the coupler", tilt, "coupler_weight: 700 lb", "coupler_weight: 350 lb"},
	{"half the weight on the ball of a gooseneck", neck, "coupler_weight: 1760 lb", "coupler_weight: 880 lb"},
	{"twice the weight on the coupler", tilt, "coupler_weight: 700 lb", "coupler_weight: 1400 lb"},
	{"an axle of an option above its wheels", neck, "axle-1: { use: axle-100-spread, at: { x: 244 in, z: 15.2 in } }", "axle-1: { use: axle-100-spread, at: { x: 244 in, z: 25.2 in } }"},
	{"a drum as narrow as two turns", winches, "drum_width: 9 in", "drum_width: 0.9 in"},
	{"a drum on which the rope piles up", winches, "drum_width: 9 in", "drum_width: 2.5 in"},
	{"a chain of a weaker grade and as strong", coupling, "grade: 70\n    size: 3/8 in", "grade: 43\n    size: 3/8 in"},
	{"a kingpin for heavy haul", coupling, "kingpin: 2 in", "kingpin: 3.5 in"},
	{"bunks for a boat in kilograms", "components/boat.yaml", "boat_weight: 2600 lb", "boat_weight: 2600 kg"},
	{"a power tilt of a hundredth of its weight", tilt, "weighs: 430 lb", "weighs: 4.3 lb"},
	{"a power tilt of ten times its weight", tilt, "weighs: 430 lb", "weighs: 4300 lb"},
	{"a ramp gate of cardboard", "components/closed.yaml", "weight: 150 lb", "weight: 15 lb"},
	{"one leg for a pair of jacks", coupling, "count: 2\n    lift: 10000 lb", "count: 1\n    lift: 10000 lb"},
	{"one leg for two stabilizers", bodies, "BW-ST-0020, source: invented, count: 2", "BW-ST-0020, source: invented, count: 1"},
	{"a brake pump that draws no more than it holds with", coupling, "current: 24 A", "current: 12 A"},
	{"a relay that passes on half", electrical, "input: 25 A\n    output: 25 A", "input: 25 A\n    output: 12.5 A"},
	{"a rear gate for sheep", "components/stock.yaml", "wide: 68 in, high: 72 in", "wide: 34 in, high: 72 in"},
	{"latches of a tenth on the gate of a dump box", bodies, "kind: barn, latch_rating: 5000 lb", "kind: barn, latch_rating: 500 lb"},
	{"latches of a tenth on a ramp gate", "components/closed.yaml", "latch_rating: 2500 lb", "latch_rating: 250 lb"},
	{"latches of a tenth before animals", "components/stock.yaml", "latch_rating: 2500 lb", "latch_rating: 250 lb"},
	{"charging voltages upside down", electrical, "charge_voltage_low: 14.2 V\n    charge_voltage_high: 14.7 V", "charge_voltage_low: 14.7 V\n    charge_voltage_high: 14.2 V"},
	{"spreading with the box nearly up", bodies, "spread: { angle: 25 deg", "spread: { angle: 40 deg"},
	{"twenty batteries", electrical, "plan_cycles: 5\n    count: 2", "plan_cycles: 5\n    count: 20"},
	{"what tilts and what stands swapped", bodies, "fixed: 4 ft\n    tilting: 16 ft", "fixed: 16 ft\n    tilting: 4 ft"},
	{"an animal lighter than its hoof", "components/stock.yaml", "heaviest_animal: 1600 lb\n    hoof_load: 1000 lb", "heaviest_animal: 1000 lb\n    hoof_load: 1600 lb"},
	{"eighty rings", bodies, "kind: d-ring, count: 8, working_load: 5400 lb", "kind: d-ring, count: 80, working_load: 5400 lb"},
	{"a winch stand that moves by the length of the trailer", "components/boat.yaml", "travel: 24 in", "travel: 24 ft"},
	{"a spare filled like a stronger tire", bodies, "load: 1760 lb, cold_pressure: 50 psi", "load: 1760 lb, cold_pressure: 80 psi"},
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
