package derive

import (
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"ownerguide/spec"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
	"ownerguide/spec/testenv"
)

// Names of the embedded line's files that slips are made in.
const (
	running  = "components/running.yaml"
	coupling = "components/coupling.yaml"
	lift     = "components/lift.yaml"
	electric = "components/electrical.yaml"
	body     = "components/body.yaml"
	winches  = "components/winch.yaml"
	tilt20   = "models/tilt-20.yaml"
	dump14   = "models/dump-14.yaml"
	deck28   = "models/deck-28.yaml"
	deck32   = "models/deck-32.yaml"
	boats    = "components/boat.yaml"
	closed   = "components/closed.yaml"
	stock    = "components/stock.yaml"
)

// smallSpare fits the sheet of a car hauler with a spare of its own size.
var smallSpare = slip{"", "revision: A\n", "revision: A\noptions: [small-spare]\n"}

// towRelay adds a relay that charges the battery of a power tilt on the road.
var towRelay = slip{"", "options: [front-box, winch-plate]", "options: [front-box, winch-plate, power-tilt, charge-relay]"}

// slips are single mistakes of a kind people make, each in a sheet or line that
// is sound without it. Besides stands what must follow from the mistake too.
var slips = []struct {
	what    string
	unit    string // serial number of the project's sheet
	sheet   slip   // in the sheet, which names no file
	line    slip   // in the line
	code    string
	besides []string
}{
	{what: "kilograms written for pounds at the scale", unit: "0142", sheet: slip{"", "5,980 lb", "5,980 kg"}, code: "weight-measured-wrong",
		besides: []string{"cg-band-empty", "cg-uniform-load"}}, // a coupler weight that belongs to half the weight
	{what: "a dot for the comma of thousands at the scale", unit: "0142", sheet: slip{"", "empty_weight: 5,980 lb\n  tongue_weight: 890 lb", "empty_weight: 5.980 lb"}, code: "value-wrong"},
	{what: "a decimal point one place to the left at the scale", unit: "0142", sheet: slip{"", "empty_weight: 5,980 lb\n  tongue_weight: 890 lb", "empty_weight: 598.0 lb"}, code: "weight-measured-wrong"},
	{what: "a digit too many at the scale", unit: "0142", sheet: slip{"", "5,980 lb", "15,980 lb"}, code: "rating-cargo",
		besides: []string{"weight-measured-wrong", "box-limit"}},
	{what: "the coupler weight of another unit", unit: "0142", sheet: slip{"", "tongue_weight: 890 lb", "tongue_weight: 1,200 lb"}, code: "coupler-measured-wrong"},
	{what: "a coupler weighed with a load on the deck", unit: "0142", sheet: slip{"", "tongue_weight: 890 lb", "tongue_weight: 1,000 lb"}, code: "coupler-measured-far"},
	{what: "the two weights of the scale swapped", unit: "0142", sheet: slip{"", "empty_weight: 5,980 lb\n  tongue_weight: 890 lb", "empty_weight: 890 lb\n  tongue_weight: 5,980 lb"}, code: "measured-weights"},
	{what: "digits swapped in the identification number", unit: "0142", sheet: slip{"", "1B9TD202XVM000142", "1B9TD202XVM000124"}, code: "vin-check-digit"},
	{what: "the guide issued before the unit was built", unit: "0142", sheet: slip{"", "issued: 2026-11-20", "issued: 2026-10-20"}, code: "date-issued"},
	{what: "delivered in the wrong year", unit: "0142", sheet: slip{"", "delivered: 2026-11-30", "delivered: 2025-11-30"}, code: "date-delivered"},
	{what: "the wrong year in a tire's date code", unit: "0142", sheet: slip{"", `"3326"`, `"3323"`}, code: "tire-age"},
	{what: "a tire from an old stock", unit: "0142", sheet: slip{"", `"3326"`, `"3320"`}, code: "tire-too-old", besides: []string{"tire-age"}},
	{what: "an axle of the lighter class in front", unit: "0170", line: slip{deck28, "axle-1: { use: axle-100, at", "axle-1: { use: axle-70, at"}, code: "rating-axle-label",
		besides: []string{"wheel-studs"}},
	{what: "a tire of another trailer", unit: "0142", line: slip{tilt20, "tire: { use: tire-16-e }", "tire: { use: tire-15-c }"}, code: "rating-tires", besides: []string{"rim-size"}},
	{what: "a load index read off another tire", unit: "0142", line: slip{running, "load_index: 124", "load_index: 114"}, code: "tire-index"},
	{what: "a rim of another diameter", unit: "0142", line: slip{running, "socket: 0.8125 in\n    rim: 16 in", "socket: 0.8125 in\n    rim: 15 in"}, code: "rim-size"},
	{what: "a trailer tire with the letters of one for trucks", unit: "0118", line: slip{running, "size: ST205/75R14", "size: LT205/75R14"}, code: "tire-kind"},
	{what: "a load range of another tire", unit: "0142", line: slip{running, "load_range: E", "load_range: C"}, code: "tire-load-range"},
	{what: "a wire of one foot", unit: "0142", line: slip{electric, "feeds: brakes, wire_gauge: 10, one_way: 25 ft", "feeds: brakes, wire_gauge: 10, one_way: 1 ft"}, code: "wire-run"},
	{what: "battery cable written for the brakes", unit: "0142", line: slip{electric, "feeds: brakes, wire_gauge: 10", "feeds: brakes, wire_gauge: 2/0"}, code: "wire-stout"},
	{what: "a reservoir of ten times the size", unit: "0149", line: slip{lift, "reservoir: 2 gal", "reservoir: 20 gal"}, code: "reservoir"},
	{what: "a cylinder's foot beside its place", unit: "0136", line: slip{dump14, "cylinder_foot: { x: 138 in, z: 12 in }", "cylinder_foot: { x: 138 in, z: 9 in }"}, code: "raised-angle"},
	{what: "a rim for less pressure", unit: "0142", line: slip{running, "load: 4080 lb\n    max_pressure: 110 psi\n    studs: 8\n    stud_size: 1/2-20", "load: 4080 lb\n    max_pressure: 65 psi\n    studs: 8\n    stud_size: 1/2-20"}, code: "rating-rim-pressure"},
	{what: "a rim for less load", unit: "0142", line: slip{running, "load: 4080 lb\n    max_pressure: 110 psi\n    studs: 8\n    stud_size: 1/2-20", "load: 3080 lb\n    max_pressure: 110 psi\n    studs: 8\n    stud_size: 1/2-20"}, code: "rating-rim-load"},
	{what: "newton meters written as pound-feet", unit: "0142", line: slip{running, "torque: 120 lb-ft\n    stages: [25 lb-ft, 60 lb-ft, 120 lb-ft]", "torque: 163 lb-ft\n    stages: [25 lb-ft, 60 lb-ft, 163 lb-ft]"}, code: "torque-range"},
	{what: "pound-feet turned into newton meters twice on a large rim", unit: "0118", line: slip{running, "torque: 100 lb-ft\n    stages: [25 lb-ft, 60 lb-ft, 100 lb-ft]\n    socket: 0.8125 in\n    rim: 14 in", "torque: 74 lb-ft\n    stages: [25 lb-ft, 60 lb-ft, 74 lb-ft]\n    socket: 0.8125 in\n    rim: 14 in"}, code: "torque-range"},
	{what: "newton meters of cone nuts written as pound-feet", unit: "0163", line: slip{running, "torque: 200 lb-ft # cone nuts on the ring\n    clamping_ring: true\n    stages: [50 lb-ft, 100 lb-ft, 200 lb-ft]", "torque: 271 lb-ft # cone nuts on the ring\n    clamping_ring: true\n    stages: [50 lb-ft, 100 lb-ft, 271 lb-ft]"}, code: "torque-between"},
	{what: "newton meters of flanged nuts taken for pound-feet", unit: "0170", line: slip{running, "torque: 300 lb-ft # flanged nuts on a flat wheel\n    stages: [60 lb-ft, 150 lb-ft, 300 lb-ft]", "torque: 221 lb-ft # flanged nuts on a flat wheel\n    stages: [60 lb-ft, 150 lb-ft, 221 lb-ft]"}, code: "torque-between"},
	{what: "a wheel with other studs", unit: "0142", line: slip{tilt20, "wheel: { use: wheel-16 }", "wheel: { use: wheel-16-dump }"}, code: "wheel-studs"},
	{what: "dual wheels wider than the unit", unit: "0163", line: slip{running, "width: 21 in # of the pair", "width: 29 in # of the pair"}, code: "dual-width"},
	{what: "a spare that fits single wheels only", unit: "0163", line: slip{body, "for_dual: true", "for_dual: false"}, code: "dual-spare"},
	{what: "a small spare for other studs", unit: "0124", sheet: smallSpare, line: slip{body, "studs: 5, stud_size: 1/2-20, torque", "studs: 6, stud_size: 1/2-20, torque"}, code: "spare-studs"},
	{what: "a small spare of another load range", unit: "0124", sheet: smallSpare, line: slip{body, "load: 1760 lb, cold", "load: 1430 lb, cold"}, code: "spare-load"},
	{what: "a small spare that nobody is told to drive slowly on", unit: "0124", sheet: smallSpare, line: slip{body, ", speed_limit: 50 mph", ""}, code: "spare-size"},
	{what: "newton meters written as pound-feet on a spare", unit: "0124", sheet: smallSpare, line: slip{body, "torque: 100 lb-ft", "torque: 135 lb-ft"}, code: "spare-torque"},
	{what: "the winch of a lighter spare", unit: "0205", line: slip{body, "hoist: 200 lb", "hoist: 100 lb"}, code: "spare-hoist"},
	{what: "a wheel that is not made for pairs", unit: "0163", line: slip{running, "dual: true", "dual: false"}, code: "rating-rim-load",
		besides: []string{"rating-tires", "fitted-place", "rim-width"}}, // then there are half as many, and none are inner or outer
	{what: "the gross rating of the coupler below the label", unit: "0142", line: slip{coupling, "gross: 16000 lb", "gross: 15000 lb"}, code: "rating-coupler"},
	{what: "the vertical rating of the coupler too low", unit: "0142", line: slip{coupling, "vertical: 2400 lb", "vertical: 2200 lb"}, code: "rating-coupler-vertical"},
	{what: "a chain of a lower grade", unit: "0142", line: slip{coupling, "grade: 70\n    size: 3/8 in\n    breaking: 26400 lb", "grade: 30\n    size: 3/8 in\n    breaking: 10600 lb"}, code: "rating-chains", besides: []string{"rating-chain-grade"}},
	{what: "a strong chain on a weak tab", unit: "0142", line: slip{coupling, "tab_breaking: 28000 lb", "tab_breaking: 14000 lb"}, code: "rating-chain-tab"},
	{what: "a chain said to be stronger than its grade", unit: "0142", line: slip{coupling, "breaking: 26400 lb", "breaking: 36400 lb"}, code: "chain-table"},
	{what: "the strength of a better grade", unit: "0142", line: slip{coupling, "grade: 70\n    size: 3/8 in", "grade: 43\n    size: 3/8 in"}, code: "chain-table"},
	{what: "one leg where two are drawn", unit: "0163", line: slip{coupling, "count: 2\n    lift: 10000 lb", "count: 1\n    lift: 10000 lb"}, code: "pair-place"},
	{what: "a boat in kilograms", unit: "0176", line: slip{boats, "boat_weight: 2600 lb", "boat_weight: 2600 kg"}, code: "cradle-rating"},
	{what: "a rear gate of half its width", unit: "0201", line: slip{stock, "wide: 68 in, high: 72 in", "wide: 34 in, high: 72 in"}, code: "stock-opening"},
	{what: "a relay that loses half of what it draws", unit: "0142", sheet: towRelay, line: slip{electric, "input: 25 A\n    output: 25 A", "input: 25 A\n    output: 12.5 A"}, code: "charge-line-power", besides: []string{"weight-measured-far"}},
	{what: "latches of a tenth on a ramp gate", unit: "0181", line: slip{closed, "latch_rating: 2500 lb", "latch_rating: 250 lb"}, code: "ramp-latch"},
	{what: "latches of a tenth on a gate that spreads", unit: "0151", line: slip{body, "latch_rating: 6000 lb", "latch_rating: 600 lb"}, code: "gate-latch"},
	{what: "latches of a tenth on the gate of a livestock trailer", unit: "0201", line: slip{stock, "latch_rating: 2500 lb", "latch_rating: 250 lb"}, code: "stock-latch"},
	{what: "latches that nobody rated", unit: "0136", line: slip{body, "kind: barn, latch_rating: 5000 lb", "kind: barn"}, code: "latch-unrated"},
	{what: "latches of a livestock trailer that nobody rated", unit: "0201", line: slip{stock, "    latch_rating: 2500 lb\n", ""}, code: "latch-unrated"},
	{what: "latches of a ramp gate that nobody rated", unit: "0181", line: slip{closed, "    latch_rating: 2500 lb\n", ""}, code: "latch-unrated"},
	{what: "a jack of a lighter trailer", unit: "0142", line: slip{tilt20, "jack: { use: jack-drop-leg", "jack: { use: jack-post"}, code: "rating-jack"},
	{what: "the plug of an unbraked trailer", unit: "0142", line: slip{tilt20, "use: connector-seven", "use: connector-four"}, code: "brake-pin-missing", besides: []string{"contact-load"}},
	{what: "two wires swapped in the plug", unit: "0142", line: slip{coupling, "{ place: \"1 o'clock\", function: charge, color: black }\n      - { place: \"3 o'clock\", function: right, color: green }", "{ place: \"1 o'clock\", function: right, color: black }\n      - { place: \"3 o'clock\", function: charge, color: green }"}, code: "connector-layout"},
	{what: "a breakaway battery of the usual small kit", unit: "0142", line: slip{coupling, "battery: 12 Ah", "battery: 5 Ah"}, code: "breakaway-hold"},
	{what: "wire two sizes too thin", unit: "0142", line: slip{electric, "feeds: brakes, wire_gauge: 10", "feeds: brakes, wire_gauge: 14"}, code: "brake-drop"},
	{what: "a fuse above what the wire carries", unit: "0149", line: slip{electric, "feeds: pump, fuse: 200 A", "feeds: pump, fuse: 300 A"}, code: "fuse-wire"},
	{what: "a thin wire on the pump", unit: "0149", line: slip{electric, "fuse: 200 A, wire_gauge: 1/0", "fuse: 200 A, wire_gauge: 14"}, code: "wire-gauge", besides: []string{"motor-drop"}},
	{what: "the wire of the smaller winch on the larger", unit: "0149", line: slip{electric, "fuse: 300 A, wire_gauge: 2/0", "fuse: 300 A, wire_gauge: 1/0"}, code: "wire-gauge"},
	{what: "one chain on a gooseneck", unit: "0163", line: slip{coupling, "count: 2\n    grade: 70\n    size: 3/8 in\n    breaking: 26400 lb\n    hook_breaking: 26400 lb\n    tab_breaking: 28000 lb\n    length: 66 in", "count: 1\n    grade: 70\n    size: 3/8 in\n    breaking: 26400 lb\n    hook_breaking: 26400 lb\n    tab_breaking: 28000 lb\n    length: 66 in"}, code: "chains-count"},
	{what: "the label of the utility raised past the weight without brakes", unit: "0118", line: slip{"models/utility-12.yaml", "gvwr: 2990 lb", "gvwr: 3500 lb"}, code: "brakes-required", besides: []string{"cg-band-narrow"}},
	{what: "the rope of a lighter winch", unit: "0149", line: slip{winches, "rope_breaking: 14400 lb", "rope_breaking: 8520 lb"}, code: "winch-rope"},
	{what: "the legs of a lighter trailer", unit: "0170", line: slip{deck28, "use: supports-heavy", "use: supports-light"}, code: "stabilizers-rating"},
	{what: "ramps barely longer than the deck is high", unit: "0170", line: slip{body, "length: 66 in\n    pair_rating: 16000 lb\n    width: 20 in", "length: 25 in\n    pair_rating: 16000 lb\n    width: 40 in"}, code: "loading-angle", besides: []string{"part-size"}},
	{what: "a ramp gate of half its width", unit: "0181", line: slip{closed, "width: 78 in", "width: 39 in"}, code: "part-size"},
	{what: "a ramp of twice its width", unit: "0124", line: slip{body, "width: 14 in", "width: 33 in"}, code: "part-size"},
	{what: "the identification lamps left out", unit: "0142", line: slip{electric, "      - { duty: identification, color: red, count: 3 }\n", ""}, code: "lamps-missing"},
	{what: "reflective sheeting left out", unit: "0142", line: slip{electric, "    tape_side: 168 in\n", ""}, code: "conspicuity-missing"},
	{what: "millimeters of sheeting written as inches, the other way round", unit: "0142", line: slip{electric, "tape_side: 168 in", "tape_side: 168 mm"}, code: "conspicuity-missing"},
	{what: "the rear guard left out", unit: "0136", line: slip{dump14, "rear-guard: { use: guard-low-frame,", "holder-2: { use: holder,"}, code: "rear-guard-missing"},
	{what: "relief above what the hose takes", unit: "0136", line: slip{lift, "rating: 3500 psi", "rating: 2500 psi"}, code: "relief-hose"},
	{what: "a relief valve set above the cylinder's rating", unit: "0136", line: slip{lift, "relief: 2800 psi", "relief: 3200 psi"}, code: "relief-cylinder", besides: []string{"rod-buckling"}},
	{what: "a rod so thick that pressure builds up around it", unit: "0149", line: slip{lift, "bore: 4 in, rod: 2 in", "bore: 4 in, rod: 2.75 in"}, code: "rod-side-pressure"},
	{what: "the reservoir of the smaller pump", unit: "0136", line: slip{lift, "reservoir: 5 gal", "reservoir: 2 gal"}, code: "reservoir"},
	{what: "lift cylinders of a smaller bore", unit: "0136", line: slip{lift, "count: 2, bore: 3 in, rod: 2.625 in", "count: 2, bore: 2.5 in, rod: 2.4 in"}, code: "relief-load"},
	{what: "a relief valve set too low for the load the owner may lift", unit: "0136", line: slip{lift, "relief: 2800 psi", "relief: 2400 psi"}, code: "lift-capacity"},
	{what: "a rod too thin for its length", unit: "0136", line: slip{lift, "rod: 2.625 in", "rod: 1.75 in"}, code: "rod-buckling"},
	{what: "a motor current read off a smaller pump", unit: "0136", line: slip{lift, "motor_current: 237 A", "motor_current: 137 A"}, code: "motor-power"},
	{what: "the flow of a smaller pump", unit: "0136", line: slip{lift, "flow: 1.4 gpm", "flow: 1.1 gpm"}, code: "motor-duty", besides: []string{"plan-cycles"}},
	{what: "a jack that holds less than it lifts", unit: "0142", line: slip{coupling, "static: 9000 lb", "static: 900 lb"}, code: "jack-static"},
	{what: "a gooseneck drawn into the bed", unit: "0163", line: slip{deck28, "neck_low: 65 in", "neck_low: 50 in"}, code: "bed-clearance"},
	{what: "a box one inch above the road", unit: "0163", line: slip{deck28, "y: -48 in, z: 15 in", "y: -48 in, z: 1 in"}, code: "ground-clearance", besides: []string{"ground-angle"}},
	{what: "tandem axles closer than their tires", unit: "0142", line: slip{tilt20, "axle-2: { use: axle-70, at: { x: 239 in", "axle-2: { use: axle-70, at: { x: 230 in"}, code: "axle-spacing"},
	{what: "lithium batteries on the charger of lead ones", unit: "0195", line: slip{dump14, "      charger: { use: charger-20-lithium }\n", ""}, code: "charger-suits"},
	{what: "lithium batteries that take a charge in frost", unit: "0195", line: slip{electric, "    cold_cutoff: true\n", ""}, code: "battery-stated"},
	{what: "lithium batteries whose maker's currents were left out", unit: "0195", line: slip{electric, "    discharge_current: 150 A\n", ""}, code: "battery-stated"},
	{what: "a controller that is set to equalize", unit: "0195", line: slip{electric, "suits: both\n    voltage: 14.4 V\n    sun_hours: 4.5 h", "suits: both\n    voltage: 14.9 V\n    sun_hours: 4.5 h"}, code: "charge-voltage"},
	{what: "the controller of a smaller panel", unit: "0195", line: slip{electric, "controller_current: 10 A", "controller_current: 6 A"}, code: "solar-controller"},
	{what: "the power of the panel written as its current", unit: "0195", line: slip{electric, "output: 5.5 A", "output: 100 A"}, code: "solar-output", besides: []string{"charge-current"}},
	{what: "batteries that are charged faster than they may be", unit: "0195", line: slip{electric, "charge_current: 50 A", "charge_current: 15 A"}, code: "charge-current"},
	{what: "a management circuit for the lamps of a camper", unit: "0195", line: slip{electric, "discharge_current: 150 A", "discharge_current: 100 A"}, code: "discharge-current"},
	{what: "input and output of the converter swapped", unit: "0195", line: slip{electric, "input: 20 A\n    output: 15 A", "input: 15 A\n    output: 20 A"}, code: "charge-line-power"},
	{what: "a relay where the converter was", unit: "0195", line: slip{dump14, "charge-line: { use: converter-15", "charge-line: { use: relay-25"}, code: "charger-suits"},
	{what: "a relay said to suit lithium", unit: "0195", line: slip{electric, "kind: dc-dc", "kind: relay"}, code: "charge-line-kind", besides: []string{"charge-line-power"}},
	{what: "a panel on a trailer without a battery", unit: "0181", line: slip{"models/cargo-14.yaml", "  holder: {", "  solar: { use: solar-100, at: { x: 100 in, y: -20 in, z: 102 in }, size: { long: 42 in, wide: 22 in, high: 2 in } }\n  circuit-solar: { use: solar-feed }\n  holder: {"}, code: "charging-idle"},
	{what: "the line of the converter through a wire for lamps", unit: "0195", line: slip{electric, "feeds: charge-line, fuse: 25 A, wire_gauge: 10, one_way: 10 ft", "feeds: charge-line, fuse: 25 A, wire_gauge: 10, one_way: 40 ft"}, code: "charge-drop"},
	{what: "square feet of openings written as square inches", unit: "0201", line: slip{stock, "open_area: 4200 in²", "open_area: 29 in²"}, code: "stock-air"},
	{what: "a floor for sheep under bulls", unit: "0201", line: slip{stock, "hoof_load: 1000 lb", "hoof_load: 300 lb"}, code: "stock-floor"},
	{what: "a body that does not open from within", unit: "0201", line: slip{stock, "inside_release: true", "inside_release: false"}, code: "stock-release"},
	{what: "a center gate that is worked from within", unit: "0201", line: slip{stock, "    center_gate_reach: true\n", ""}, code: "stock-reach"},
	{what: "height and opening of the body swapped", unit: "0201", line: slip{stock, "inside_height: 76 in", "inside_height: 70 in"}, code: "stock-opening"},
	{what: "a body taller than the trailer", unit: "0201", line: slip{stock, "inside_height: 76 in", "inside_height: 86 in"}, code: "stock-height"},
	{what: "the ball of a lighter coupler", unit: "0142", line: slip{coupling, "ball: 2.3125 in # 2 5/16 in", "ball: 2 in"}, code: "coupler-ball"},
	{what: "the heights of the ring swapped", unit: "0193", line: slip{coupling, "ring_height_low: 20 in\n    ring_height_high: 27 in", "ring_height_low: 27 in\n    ring_height_high: 20 in"}, code: "ring-heights"},
	{what: "the heights of the ball swapped", unit: "0142", line: slip{coupling, "ball_height_low: 19 in\n    ball_height_high: 26 in", "ball_height_low: 26 in\n    ball_height_high: 19 in"}, code: "ball-heights"},
	{what: "a gravity deck that is heavier behind its hinge", unit: "0142", line: slip{body, "tilting_center: 223 in", "tilting_center: 263 in"}, code: "tilt-balance", besides: []string{"part-size"}},
	{what: "a winch that hardly rests", unit: "0149", line: slip{winches, "duty_rest: 14 min", "duty_rest: 4 min"}, code: "winch-duty"},
	{what: "a lowering screw behind a valve that only pressure opens", unit: "0149", line: slip{lift, "manual_lowering: hand-pump", "manual_lowering: screw"}, code: "manual-lowering"},
	{what: "a pump without holding valve", unit: "0149", line: slip{lift, "holding_valve: counterbalance", "holding_valve: none"}, code: "holding-valve"},
	{what: "a cylinder of too long a stroke", unit: "0149", line: slip{lift, "extended: 44.6 in", "extended: 48.6 in"}, code: "tilt-travel", besides: []string{"raised-angle"}},
	{what: "a prop drawn for a steeper box", unit: "0136", line: slip{lift, "angle: 30 deg", "angle: 60 deg"}, code: "prop-reach"},
	{what: "a heavy spare below the deck, lowered by hand", unit: "0163", line: slip{body, "for_dual: true, hoist: 200 lb, weight", "for_dual: true, weight"}, code: "spare-lift"},
	{what: "a spare that nobody has weighed", unit: "0149", line: slip{body, "mount: tongue, weight: 80 lb", "mount: tongue"}, code: "spare-lift"},
	{what: "the stages of a heavier wheel", unit: "0142", line: slip{running, "stages: [25 lb-ft, 60 lb-ft, 120 lb-ft]", "stages: [70 lb-ft, 100 lb-ft, 120 lb-ft]"}, code: "torque-stages"},
	{what: "a plug whose contacts nobody has rated", unit: "0142", line: slip{coupling, "    feed_rating: 30 A\n    lamp_rating: 15 A\n", ""}, code: "contact-load"},
	{what: "the plug of a trailer with lighter brakes", unit: "0205", line: slip{coupling, "feed_rating: 30 A", "feed_rating: 25 A"}, code: "contact-load"},
	{what: "a handle that ends below the deck", unit: "0142", line: slip{lift, "handle: 15 in", "handle: 12 in"}, code: "prop-handle"},
	{what: "the handle of the smaller deck's prop", unit: "0163", line: slip{lift, "handle: 30 in", "handle: 15 in"}, code: "prop-handle"},
	{what: "a prop for a lighter deck", unit: "0142", line: slip{lift, "BW-PR-0001, source: invented, rating: 4000 lb", "BW-PR-0001, source: invented, rating: 1500 lb"}, code: "prop-rating"},
	{what: "a battery for fewer lifts than promised", unit: "0149", line: slip{electric, "plan_cycles: 8", "plan_cycles: 18"}, code: "plan-cycles"},
	{what: "a winch plate too weak for the winch", unit: "0149", line: slip{winches, "rating: 12000 lb", "rating: 4000 lb"}, code: "winch-plate-pull"},
	{what: "two rings where eight are drawn", unit: "0142", line: slip{body, "kind: d-ring, count: 8", "kind: d-ring, count: 2"}, code: "tiedown-anchors"},
	{what: "two digits of the model's weight swapped", unit: "0142", line: slip{tilt20, "empty_weight: 5800 lb", "empty_weight: 8500 lb"}, code: "line-plausible"},
	{what: "a gross rating above axles and coupler", unit: "0142", line: slip{tilt20, "gvwr: 15400 lb", "gvwr: 15900 lb"}, code: "rating-gvwr-coverage",
		besides: []string{"cg-band-narrow", "cg-uniform-load"}}, // the axles leave the load no play
	{what: "axles drawn too far forward", unit: "0142", line: slip{tilt20, "axle-1: { use: axle-70, at: { x: 205 in, z: 14.9 in } }\n  axle-2: { use: axle-70, at: { x: 239 in, z: 14.9 in } }", "axle-1: { use: axle-70, at: { x: 165 in, z: 14.9 in } }\n  axle-2: { use: axle-70, at: { x: 199 in, z: 14.9 in } }"}, code: "cg-uniform-load"},
	{what: "a width that needs a permit", unit: "0142", line: slip{tilt20, "wide: 102 in", "wide: 104 in"}, code: "width-limit"},
	{what: "seven rings where eight are drawn", unit: "0142", line: slip{body, "kind: d-ring, count: 8", "kind: d-ring, count: 7"}, code: "anchors-uneven"},
	{what: "a pump that nothing cuts off", unit: "0136", line: slip{lift, "master_disconnect: true", "master_disconnect: false"}, code: "disconnect-missing"},
	{what: "a winch on a deck that its load tilts", unit: "0142", sheet: slip{"", "[front-box, winch-plate]", "[front-box, winch-plate, winch]"}, line: slip{tilt20, "option: power-tilt, because: winch-needs-cylinder", "option: front-box, because: winch-needs-cylinder"}, code: "winch-gravity"},
	{what: "a winch over the bare edge of a deck", unit: "0149", line: slip{body, "    edge_roller: true\n    tilting_weight: 1900 lb", "    tilting_weight: 1900 lb"}, code: "winch-edge"},
	{what: "limits of a magnet swapped", unit: "0142", line: slip{running, "resistance: 3.2 ohm, resistance_high: 4 ohm", "resistance: 4 ohm, resistance_high: 3.2 ohm"}, code: "magnet-range"},
	{what: "the hinge of a lighter deck", unit: "0163", line: slip{deck28, "hinge_rating: 60000 lb", "hinge_rating: 40000 lb"}, code: "hinge-load"},
	{what: "the latch of a lighter deck", unit: "0142", line: slip{lift, "kind: latch, rating: 15000 lb", "kind: latch, rating: 1200 lb"}, code: "lock-load"},
	{what: "a lock that the pump tears off", unit: "0163", line: slip{lift, "kind: clamp, rating: 15000 lb", "kind: clamp, rating: 7000 lb"}, code: "lock-pump"},
	{what: "a latch drawn behind its hinge", unit: "0142", line: slip{tilt20, "latch-tilt, at: { x: 127 in", "latch-tilt, at: { x: 227 in"}, code: "lock-place"},
	{what: "a hinge that nobody rated", unit: "0142", line: slip{tilt20, "hinge_rating: 40000 lb\n", ""}, code: "hinge-load"},
	{what: "a counterbalance valve set for a lighter load", unit: "0163", line: slip{lift, "holding_setting: 2400 psi", "holding_setting: 1400 psi"}, code: "holding-setting"},
	{what: "a counterbalance valve that nobody set", unit: "0149", line: slip{lift, "    holding_setting: 2400 psi\n", ""}, code: "holding-setting"},
	{what: "a loading label copied from a lighter unit", unit: "0142", sheet: slip{"", "measured:", "placard_cargo: 7,000 lb\nmeasured:"}, code: "placard-cargo-low"},
	{what: "a loading label made before the options", unit: "0142", sheet: slip{"", "measured:", "placard_cargo: 9,560 lb\nmeasured:"}, code: "placard-cargo"},
	{what: "loads of a month written as those of a week", unit: "0142", sheet: slip{"", "loads_per_week: 6", "loads_per_week: 120"}, code: "task-too-often"},
	{what: "a dump box without its gate", unit: "0136", line: slip{dump14, "  gate: { use: gate-barn, at: { x: 230 in, y: -42 in, z: 30 in }, size: { long: 4 in, wide: 84 in, high: 26 in } }\n", ""}, code: "gate-missing"},
	{what: "a deck without its rings", unit: "0142", line: slip{tilt20, "  rings: { use: rings-heavy, at: { x: 91 in, y: -38 in, z: 26 in }, size: { long: 222 in, wide: 76 in, high: 2 in } }\n", ""}, code: "anchors-missing"},
	{what: "ramps without the legs that go with them", unit: "0170", line: slip{deck28, "      supports: { use: supports-heavy, at: { x: 424 in, y: -38 in, z: 13 in }, size: { long: 6 in, wide: 76 in, high: 13 in } }\n", ""}, code: "stabilizers-missing"},
	{what: "ramps twice as long as they are drawn", unit: "0170", line: slip{body, "length: 66 in", "length: 132 in"}, code: "part-size"},
	{what: "the viscosity index of another fluid", unit: "0136", line: slip{lift, "fluid_index: 100", "fluid_index: 200"}, code: "fluid-index"},
	{what: "a cushion left on a deck with a pump", unit: "0149", line: slip{tilt20, "without: [latch, cushion]", "without: [latch]"}, code: "holding-valve"},
	{what: "a coupler as high as a truck's bed", unit: "0118", line: slip{coupling, "ball_height_low: 16 in\n    ball_height_high: 18 in", "ball_height_low: 26 in\n    ball_height_high: 28 in"}, code: "part-size"},
	{what: "a jack that moves farther than it is high", unit: "0136", line: slip{coupling, "travel: 15 in", "travel: 51 in"}, code: "part-size"},
	{what: "a guard whose height is not where it stands", unit: "0136", line: slip{body, "kind: low-chassis, height: 20 in", "kind: low-chassis, height: 2 in"}, code: "part-size"},
	{what: "a floor of a third of its width", unit: "0142", line: slip{body, "inside_width: 82 in", "inside_width: 28 in"}, code: "part-size"},
	{what: "the middle of a box at its tail", unit: "0136", line: slip{body, "center: 148 in", "center: 184 in"}, code: "part-size"},
	{what: "more openings than walls", unit: "0201", line: slip{stock, "open_area: 4200 in²", "open_area: 42000 in²"}, code: "part-size"},
	{what: "lamps at the coupler", unit: "0142", line: slip{tilt20, "use: lamps-wide-taped, at: { x: 319 in", "use: lamps-wide-taped, at: { x: 19 in"}, code: "lamp-height"},
	{what: "two wires of one color", unit: "0118", line: slip{coupling, "function: right, color: green", "function: right, color: yellow"}, code: "connector-pins"},
	{what: "left and right swapped in a flat plug", unit: "0118", line: slip{coupling, "{ place: \"3\", function: left, color: yellow }\n      - { place: \"4\", function: right, color: green }", "{ place: \"3\", function: right, color: green }\n      - { place: \"4\", function: left, color: yellow }"}, code: "connector-layout"},
	{what: "the load of a spare with its digits swapped", unit: "0124", sheet: smallSpare, line: slip{body, "load: 1760 lb, cold", "load: 7160 lb, cold"}, code: "spare-size"},
	{what: "the width of a box read off its drawing in halves", unit: "0136", line: slip{body, "inside_width: 80 in\n    side_height: 24 in", "inside_width: 40 in\n    side_height: 24 in"}, code: "part-size"},
	{what: "half the length of a unit on its data sheet", unit: "0118", line: slip{"models/utility-12.yaml", "overall: { long: 212 in, wide: 79 in, high: 36 in }", "overall: { long: 106 in, wide: 79 in, high: 36 in }"}, code: "overall-size", besides: []string{"wire-run"}},
	{what: "a box weighed half as far back as it stands", unit: "0142", line: slip{tilt20, "center: 30 in\n    overall: { long: 327 in, wide: 102 in, high: 44 in }", "center: 130 in\n    overall: { long: 327 in, wide: 102 in, high: 44 in }"}, code: "option-center",
		besides: []string{"coupler-measured-far"}},
	{what: "a deck that nothing leads onto", unit: "0170", line: slip{deck28, "    overall: { long: 450 in, wide: 100 in, high: 90 in } # ramps stood up\n    parts:\n      deck: { use: deck-gooseneck-fixed, at: { x: 102 in, y: -48 in, z: 35 in }, size: { long: 336 in, wide: 96 in, high: 3 in } }\n      ramps: { use: ramps-gooseneck, at: { x: 438 in, y: -40 in, z: 24 in }, size: { long: 5 in, wide: 80 in, high: 66 in } }\n", "    parts:\n      deck: { use: deck-gooseneck-fixed, at: { x: 102 in, y: -48 in, z: 35 in }, size: { long: 336 in, wide: 96 in, high: 3 in } }\n"}, code: "loading-way"},
	{what: "oil hubs without the name of their oil", unit: "0188", line: slip{running, "    hub_oil: SAE 90\n", ""}, code: "hub-oil"},
	{what: "a greased axle beside two in oil", unit: "0188", line: slip{deck32, "axle-2: { use: axle-80-oil", "axle-2: { use: axle-100-disc"}, code: "hub-oil", besides: []string{"wheel-studs"}},
	{what: "an actuator of drums on discs", unit: "0188", line: slip{coupling, "brakes: disc\n    pressure: 1600 psi\n    fluid: dot-3\n    current", "brakes: drum\n    pressure: 1600 psi\n    fluid: dot-3\n    current"}, code: "brake-actuator"},
	{what: "a breakaway battery that holds the pump too briefly", unit: "0188", line: slip{coupling, "holding_current: 12 A", "holding_current: 22 A"}, code: "breakaway-hold"},
	{what: "a handle without the way it turns", unit: "0142", line: slip{coupling, "drop_leg: true\n    raises: clockwise", "drop_leg: true"}, code: "jack-control"},
	{what: "a jack with a power unit and no word of its fluid", unit: "0188", line: slip{coupling, "    fluid: ISO VG 32\n", ""}, code: "jack-control"},
	{what: "a jack with a motor and a way to turn it", unit: "0188", line: slip{coupling, "    fluid: ISO VG 32\n", "    fluid: ISO VG 32\n    raises: clockwise\n"}, code: "jack-control"},
	{what: "a jack with a motor and no figure of its current", unit: "0188", line: slip{coupling, "    current: 150 A\n", ""}, code: "jack-control"},
	{what: "no fuse before the jack", unit: "0188", line: slip{electric, "feeds: jack, fuse: 175 A", "feeds: jack"}, code: "fuse-missing"},
	{what: "a fuse for another jack", unit: "0188", line: slip{electric, "feeds: jack, fuse: 175 A", "feeds: jack, fuse: 80 A"}, code: "fuse-load"},
	{what: "a powered jack without a battery", unit: "0188", line: slip{deck32, "      battery: { use: battery-agm, at: { x: 60 in, y: -24 in, z: 40 in }, size: { long: 14 in, wide: 8 in, high: 10 in }, on: right }\n", ""}, code: "jack-battery"},
	{what: "a powered jack without its feed", unit: "0188", line: slip{deck32, "      circuit-jack: { use: jack-feed-heavy }\n", ""}, code: "feed-missing"},
	{what: "two jacks with handles of their own at a tongue", unit: "0142", line: slip{coupling, "kind: side-crank\n    count: 1\n    lift: 7000 lb", "kind: side-crank\n    count: 2\n    apart: true\n    lift: 7000 lb"}, code: "jack-control", besides: []string{"pair-place"}},
	{what: "jacks run by one power unit, said to stand apart", unit: "0188", line: slip{coupling, "    fluid: ISO VG 32\n", "    fluid: ISO VG 32\n    apart: true\n"}, code: "jack-control"},
	{what: "legs that drop, with a way to turn them", unit: "0170", line: slip{body, "source: invented, count: 2, rating: 8000 lb", "source: invented, lowers: clockwise, count: 2, rating: 8000 lb"}, code: "stabilizers-control"},
	{what: "stabilizer jacks that nobody can turn", unit: "0170", line: slip{body, "source: invented, count: 2, rating: 8000 lb", "source: invented, jack: true, count: 2, rating: 8000 lb"}, code: "stabilizers-control"},
	{what: "bunks for a lighter boat", unit: "0176", line: slip{boats, "boat_weight: 2600 lb", "boat_weight: 2400 lb"}, code: "cradle-rating"},
	{what: "a hand winch that is too weak", unit: "0176", line: slip{boats, "pull: 1500 lb", "pull: 400 lb"}, code: "boat-winch"},
	{what: "a winch strap of the next smaller size", unit: "0176", line: slip{boats, "strap_breaking: 4000 lb", "strap_breaking: 2900 lb"}, code: "boat-winch-strap"},
	{what: "straps and chain for a canoe", unit: "0176", line: slip{boats, "strap_working_load: 1300 lb\n    chain_working_load: 1300 lb", "strap_working_load: 300 lb\n    chain_working_load: 300 lb"}, code: "boat-straps"},
	{what: "a winch stand that hardly moves", unit: "0176", line: slip{boats, "travel: 24 in", "travel: 14 in"}, code: "boat-stand-travel"},
	{what: "one transom strap", unit: "0176", line: slip{boats, "kind: transom-strap, count: 2", "kind: transom-strap, count: 1"}, code: "boat-holding"},
	{what: "the outer height written for the inner one", unit: "0181", line: slip{closed, "inside_height: 78 in", "inside_height: 104 in"}, code: "body-height"},
	{what: "an opening taller than the body", unit: "0181", line: slip{closed, "high: 74 in", "high: 80 in"}, code: "body-opening"},
	{what: "a body with one vent", unit: "0181", line: slip{closed, "vents: 4", "vents: 1"}, code: "body-vents"},
	{what: "a body that does not open from within", unit: "0181", line: slip{closed, "inside_release: true", "inside_release: false"}, code: "body-release"},
	{what: "a ramp gate that does not open from within", unit: "0181", line: slip{closed, "gate: true\n    # A handle within draws the keepers of both lock pins.\n    inside_release: true", "gate: true"}, code: "body-release"},
	{what: "an axle that says nothing about greasing", unit: "0142", line: slip{running, "      grease-hubs: { distance: 3000 mi, months: 3 }\n", ""}, code: "task-interval"},
}

// Every slip is caught, by the check that is meant for it, and draws no false
// alarm: whoever reads the findings is led to the mistake.
func TestDeliberateSlips(t *testing.T) {
	for _, s := range testenv.Sample(t, slips, 25) {
		t.Run(s.what, func(t *testing.T) {
			found := slipped(t, s.unit, s.sheet, s.line)
			var codes []string
			for _, f := range found {
				codes = append(codes, f.Code)
				if f.Code != s.code && !slices.Contains(s.besides, f.Code) {
					t.Errorf("beside %s: %s: %s [%s]", s.code, f.Pos, f.Message, f.Code)
				}
			}
			for _, want := range append([]string{s.code}, s.besides...) {
				if !slices.Contains(codes, want) {
					t.Errorf("no %s; found %v", want, codes)
				}
			}
		})
	}
}

// finding shortens what the tests of margins and slips look through.
type finding = source.Finding

// slipped returns the findings of a sheet of the project after a slip.
func slipped(t *testing.T, unit string, inSheet, inLine slip) source.Findings {
	t.Helper()
	_, findings := slippedValues(t, unit, inSheet, inLine)
	return findings.Sorted()
}

// afterSlip is what became of a sheet after a slip; several tests ask for the same,
// and none changes it.
type afterSlip struct {
	values   *Values
	findings source.Findings
}

var afterSlips = map[[7]string]afterSlip{}

// slippedValues evaluates a sheet of the project after a slip; no values come
// of one that is refused before.
func slippedValues(t *testing.T, unit string, inSheet, inLine slip) (*Values, source.Findings) {
	t.Helper()
	key := [7]string{unit, inSheet.file, inSheet.from, inSheet.to, inLine.file, inLine.from, inLine.to}
	made, known := afterSlips[key]
	if !known {
		made.values, made.findings = evaluateSlipped(t, unit, inSheet, inLine)
		afterSlips[key] = made
	}
	return made.values, slices.Clone(made.findings)
}

func evaluateSlipped(t *testing.T, unit string, inSheet, inLine slip) (*Values, source.Findings) {
	t.Helper()
	name := "BW-27-" + unit + ".yaml"
	data, err := os.ReadFile("../../testdata/sheets/" + name)
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	if !strings.Contains(text, inSheet.from) {
		t.Fatalf("%s does not hold %q", name, inSheet.from)
	}
	if inSheet.from != "" {
		text = strings.ReplaceAll(text, inSheet.from, inSheet.to)
	}
	var edits []slip
	if inLine.file != "" {
		edits = append(edits, inLine)
	}
	l, findings := embedded(t, edits...)
	if l == nil {
		return nil, findings
	}
	s, more := sheet.Read(name, []byte(text))
	findings.Add(more...)
	if s == nil || more.HasErrors() {
		return nil, findings
	}
	b, more := spec.Resolve(l, s)
	findings.Add(more...)
	if b == nil {
		return nil, findings
	}
	vs, more := Evaluate(b)
	findings.Add(more...)
	return vs, findings
}

// What options bolt to the deck rises with it. A recalculation in exact fractions,
// outside this program, has 1,442 psi for the gooseneck with rack and lock, and
// 1,390 psi without the two.
func TestOptionsBoltedToTheDeckAreLifted(t *testing.T) {
	pressure := func(inLine slip) float64 {
		vs, _ := slippedValues(t, "0163", slip{}, inLine)
		return exact(t, vs, "cylinder.pressure_at_load")
	}
	with := pressure(slip{})
	if math.Abs(with-1442) > 1 {
		t.Errorf("%.1f psi, expected 1,442", with)
	}
	if onHinge := pressure(slip{deck28, "weighs: 210 lb\n    center: 104 in", "weighs: 210 lb\n    center: 323 in"}); onHinge >= with {
		t.Errorf("%.1f psi with the rack at the front, %.1f with its weight on the hinge", with, onHinge)
	}
}
