package derive

// edges are limits at their figure and one unit past it, on the small line of
// ratings: the text swapped in, or the sheet's, has a place for the figure.
var edges = []struct {
	code, model, more string
	from, to          string
	kept, broken      string
}{
	{"brakes-required", "one-12", "", "gvwr: 2990 lb", "gvwr: %s lb", "3000", "3001"},         // 49 CFR 393.42(b)(3): 3,000 lb or less
	{"loading-angle", "car-18", "", "length: 66 in, pair", "length: %s in, pair", "62", "61"}, // 24 in high: asin 24/62 is 22.8°, asin 24/61 23.2°
	{"ramps-short", "car-18", "", "length: 66 in, pair", "length: %s in, pair", "24.1", "24"},
	// 890 lb by the line; 10 % and 25 % of it either way.
	{"coupler-measured-far", "hand-20", "measured: { empty_weight: 5980 lb, tongue_weight: %s lb }", "", "", "979", "980"},
	{"coupler-measured-far", "hand-20", "measured: { empty_weight: 5980 lb, tongue_weight: %s lb }", "", "", "801", "800"},
	{"coupler-measured-wrong", "hand-20", "measured: { empty_weight: 5980 lb, tongue_weight: %s lb }", "", "", "1112", "1113"},
	{"coupler-measured-wrong", "hand-20", "measured: { empty_weight: 5980 lb, tongue_weight: %s lb }", "", "", "668", "667"},
	{"jack-static", "hand-20", "", "lift: 12000 lb", "lift: 2310 lb, static: %s lb", "2310", "2309"}, // 15 % of 15,400 lb
	{"axle-spacing", "hand-20", "", "at: { x: 239 in", "at: { x: %s in", "236.8", "236.7"},           // 205 + 30.8 + 1
	{"ball-heights", "hand-20", "", "ball_height_low: 20 in, ball_height_high: 24 in, latch: lever", "ball_height_low: %s in, ball_height_high: 24 in, latch: lever", "24", "24.1"},
	{"ring-heights", "hand-20", "", "kind: ball, ball: 2.3125 in, gross: 16000 lb, vertical: 2500 lb, ball_height_low: 20 in, ball_height_high: 24 in, latch: lever-and-pin }", "kind: pintle-ring, ring: 3 in, ring_section: 1.625 in, gross: 16000 lb, vertical: 2500 lb, ring_height_low: %s in, ring_height_high: 24 in }", "24", "24.1"},
	{"coupler-ball", "hand-20", "", "ball: 2.3125 in, gross: 16000 lb", "ball: 2.3125 in, gross: %s lb", "30000", "30001"},
	{"bed-clearance", "neck-28", "", "neck_low: 66 in", "neck_low: %s in", "64", "63.9"}, // 58 + 6
	{"bed-clearance", "neck-28", "", "neck_end: 64 in", "neck_end: %s in", "60", "59.9"},
	{"box-limit", "hand-20", "options: [front-box]\nmeasured: { empty_weight: 5980 lb, tongue_weight: 890 lb }\n", "load_limit: 300 lb", "load_limit: %s lb", "9420", "9421"}, // 15,400 - 5,980
	{"ground-angle", "hand-20", "", "at: { x: 76 in, z: 24 in }", "at: { x: 76 in, z: %s in }", "8.1", "8"},                                                                   // tan 6° x 77 in is 8.09 in
	{"ground-clearance", "hand-20", "", "at: { x: 76 in, z: 24 in }", "at: { x: 76 in, z: %s in }", "6", "5.9"},
	{"lamp-height", "hand-20", "", "use: lamps-wide }", "use: lamps-wide, at: { x: 300 in, z: %s in }, size: { long: 2 in, wide: 82 in, high: 4 in } }", "13", "12.9"}, // middle at 15 in
	{"lamp-height", "hand-20", "", "use: lamps-wide }", "use: lamps-wide, at: { x: 300 in, z: %s in }, size: { long: 2 in, wide: 82 in, high: 4 in } }", "70", "70.1"},
	// Nuts on 1/2 in: 0.65 to 0.9 in.
	{"socket-size", "one-12", "", "socket: 0.8125 in", "socket: %s in", "0.65", "0.649"},
	{"socket-size", "one-12", "", "socket: 0.8125 in", "socket: %s in", "0.9", "0.901"},
	{"conspicuity-missing", "hand-20", "", "tape_rear: 96 in\n", "tape_rear: %s in\n", "102", "103"}, // the unit's width
	{"tire-tread", "hand-20", "", "least_tread: 0.0625 in", "least_tread: %s in", "0.0625", "0.0624"},
	// 16 in and twice 80 % of 235 mm are 30.803 in, 235 mm are 9.252 in.
	{"tire-size", "hand-20", "", "speed_limit: 75 mph, diameter: 30.8 in, width: 9.3 in, age_limit_years: 6", "speed_limit: 75 mph, diameter: %s in, width: 9.3 in, age_limit_years: 6", "31.7", "31.8"},
	{"tire-size", "hand-20", "", "speed_limit: 75 mph, diameter: 30.8 in, width: 9.3 in, age_limit_years: 6", "speed_limit: 75 mph, diameter: %s in, width: 9.3 in, age_limit_years: 6", "29.9", "29.8"},
	{"tire-size", "hand-20", "", "speed_limit: 75 mph, diameter: 30.8 in, width: 9.3 in, age_limit_years: 6", "speed_limit: 75 mph, diameter: 30.8 in, width: %s in, age_limit_years: 6", "10.1", "10.2"},
	{"tire-size", "hand-20", "", "speed_limit: 75 mph, diameter: 30.8 in, width: 9.3 in, age_limit_years: 6", "speed_limit: 75 mph, diameter: 30.8 in, width: %s in, age_limit_years: 6", "8.4", "8.3"},
	{"tire-load-range", "hand-20", "", "cold_pressure: 110 psi, load_index: 129", "cold_pressure: %s psi, load_index: 129", "103", "102"},
	{"tire-load-range", "hand-20", "", "cold_pressure: 110 psi, load_index: 129", "cold_pressure: %s psi, load_index: 129", "122", "123"},
	// 110 psi x 9.3 in x 30.8 in are 31,508.4 lb.
	{"tire-load", "hand-20", "", "single: 4080 lb, cold_pressure: 110 psi, load_index: 129", "single: %s lb, cold_pressure: 110 psi", "3466", "3465"},
	{"tire-load", "hand-20", "", "single: 4080 lb, cold_pressure: 110 psi, load_index: 129", "single: %s lb, cold_pressure: 110 psi", "6301", "6302"},
	{"tire-index", "hand-20", "", "single: 4080 lb", "single: %s lb", "4083", "4084"}, // 1,850 kg are 4,078.6 lb
	{"rear-guard-place", "hand-20", "", "rear-guard: { use: low }", "rear-guard: { use: low, at: { x: 300 in, z: 20 in }, size: { long: 3 in, wide: %s in, high: 6 in } }", "74", "73"},
	{"conspicuity-missing", "hand-20", "", "tape_rear: 96 in\n", "tape_rear: %s in\n", "82", "81"},
	// 15,400 lb less 5,980 lb leave 9,420 lb; a tenth less is 8,478 lb.
	{"placard-cargo", "hand-20", "measured: { empty_weight: 5980 lb }\nplacard_cargo: %s lb\n", "", "", "9420", "9421"},
	{"placard-cargo-low", "hand-20", "measured: { empty_weight: 5980 lb }\nplacard_cargo: %s lb\n", "", "", "8478", "8477"},
	{"placard-cargo", "hand-20", "placard_cargo: %s lb\n", "", "", "9420", "9421"}, // nothing is added to what was not weighed
	// 10 % of 1,648 lb x 280 in / 15,172 lb are 3.041 in; 280 x (share x 23,000 - 3,498) / 15,172 is twice that at 16.6417 %.
	{"cg-tolerance", "neck-28", "", "coupler_share_high: 25 percent", "coupler_share_high: %s percent", "16.642", "16.641"},
	{"stabilizers-missing", "car-18", "measured: { empty_weight: 2200 lb, tongue_weight: %s lb }", "", "", "1538", "1537"}, // 4,800 lb x 92 / 174 less 1,000 lb
	{"chains-count", "hand-20", "", "count: 2, grade: 70", "count: %s, grade: 70", "2", "1"},
	{"rating-coupler", "hand-20", "", "gross: 16000 lb", "gross: %s lb", "15400", "15399"},
	{"rating-coupler-vertical", "hand-20", "", "vertical: 2500 lb", "vertical: %s lb", "2310", "2309"}, // 15 % of 15,400 lb
	{"rating-chains", "hand-20", "", "3/8 in, breaking: 26400 lb", "3/8 in, breaking: %s lb", "15400", "15399"},
	{"rating-chain-hook", "hand-20", "", "hook_breaking: 26400 lb", "hook_breaking: %s lb", "15400", "15399"},
	{"rating-chain-tab", "hand-20", "", "tab_breaking: 26400 lb", "tab_breaking: %s lb", "15400", "15399"},
	{"chain-table", "hand-20", "", "3/8 in, breaking: 26400 lb", "3/8 in, breaking: %s lb", "26664", "26665"}, // 1.01 x 4 x 6,600 lb
	{"rating-jack", "hand-20", "", "lift: 12000 lb", "lift: %s lb", "2310", "2309"},
	{"rating-gvwr-coverage", "hand-20", "", "gvwr: 15400 lb", "gvwr: %s lb", "15555", "15556"}, // 14,000 lb / 0.9
	{"rating-axle-label", "hand-20", "", "spring: 7600 lb", "spring: %s lb", "7000", "6999"},
	{"coupler-empty", "hand-20", "measured: { empty_weight: 5980 lb, tongue_weight: %s lb }", "", "", "299", "298"}, // half of 10 %
	{"hub-play", "one-12", "", "end_play: { low: 0.001 in", "end_play: { low: %s in", "0.004", "0.005"},
	{"rating-cargo", "hand-20", "measured: { empty_weight: %s lb }\n", "", "", "15399", "15400"},
	// 5,980 lb by the line: 5,980 / 1.05 and / 0.95, then half of it and twice.
	{"weight-measured-far", "hand-20", "measured: { empty_weight: %s lb }\n", "", "", "5696", "5695"},
	{"weight-measured-far", "hand-20", "measured: { empty_weight: %s lb }\n", "", "", "6294", "6295"},
	{"weight-measured-wrong", "hand-20", "measured: { empty_weight: %s lb }\n", "", "", "2990", "2989"},
	{"weight-measured-wrong", "hand-20", "measured: { empty_weight: %s lb }\n", "", "", "11960", "11961"},
	{"label-weight-change", "hand-20", "delivered: 2026-11-30\nadded: [{ option: front-box, date: 2027-01-05 }]\n", "front-box: { weighs: 160 lb", "front-box: { weighs: %s lb", "100", "101"}, // 49 CFR 571.110 S10
	// 890 lb + 1,000 lb x (222 - x) / 222 come to nothing at 419.58 in.
	{"weight-coupler", "hand-20", "options: [front-box]\n", "weighs: 160 lb, center: 40 in", "weighs: 1000 lb, center: %s in", "419", "420"},
	// 980 lb and 3 % leave 1,980.6 lb: 130 in x (2,990 x share - 123.6 - 299 + 120) / 1,980.6 is 12 in at 16.235 %.
	{"cg-band-narrow", "one-12", "", "coupler_share_high: 17 percent", "coupler_share_high: %s percent", "16.24", "16.23"},
	{"ramps-rating", "neck-28", "", "pair_rating: 16000 lb", "pair_rating: %s lb", "15172", "15171"},          // 23,000 - 1.03 x 7,600
	{"ramps-weak", "neck-28", "", "pair_rating: 16000 lb", "pair_rating: %s lb", "7586", "7585"},              // half of it
	{"height-limit", "neck-28", "", "wide: 102 in, high: 60 in", "wide: 102 in, high: %s in", "162", "162.1"}, // 13 ft 6 in
	{"width-limit", "neck-28", "", "long: 408 in, wide: 102 in", "long: 408 in, wide: %s in", "102", "102.1"},
	{"rating-tires", "hand-20", "", "single: 4080 lb, cold_pressure: 110 psi, load_index: 129", "single: %s lb, cold_pressure: 110 psi", "3500", "3499"},
	{"rating-rim-load", "hand-20", "", "wheel-8: { load: 4080 lb", "wheel-8: { load: %s lb", "3500", "3499"},
	{"rating-rim-pressure", "hand-20", "", "load: 4080 lb, max_pressure: 110 psi", "load: 4080 lb, max_pressure: %s psi", "110", "109"},
	{"tiedown-anchors", "car-18", "", "count: 8, working_load: 6000 lb", "count: 4, working_load: %s lb", "1184", "1183"}, // 7,000 - 1.03 x 2,200 = 4,734 lb over four
	{"dual-width", "neck-28", "options: [dual-wheels]\n", "width: 24 in", "width: %s in", "32", "32.1"},                   // 102 - 70
	{"torque-range", "hand-20", "", "torque: 130 lb-ft, stages: [25 lb-ft, 60 lb-ft, 130 lb-ft]", "torque: %[1]s lb-ft, stages: [25 lb-ft, 60 lb-ft, %[1]s lb-ft]", "140", "141"},
	{"torque-range", "hand-20", "", "torque: 130 lb-ft, stages: [25 lb-ft, 60 lb-ft, 130 lb-ft]", "torque: %[1]s lb-ft, stages: [25 lb-ft, 60 lb-ft, %[1]s lb-ft]", "90", "89"},
	{"lamps-missing", "hand-20", "", "duty: identification, color: red, count: 3", "duty: identification, color: red, count: %s", "3", "2"},
	{"part-above-overall", "hand-20", "", "wide: 102 in, high: 40 in", "wide: 102 in, high: %s in", "27", "26.9"}, // 24 + 3
	{"tire-date-code", "one-12", "fitted: { tires: [{ place: left, dot: \"%s25\" }] }\n", "", "", "52", "53"},     // weeks begin on Sunday, and 2025 has 52
	{"tire-age", "one-12", "fitted: { tires: [{ place: left, dot: \"%s25\" }] }\n", "", "", "46", "45"},           // built 2026-11-12, a year after weeks that began on 16 and 9 November
	{"tire-too-old", "one-12", "fitted: { tires: [{ place: left, dot: \"%s20\" }] }\n", "", "", "47", "46"},       // issued 2026-11-20, six years after 22 and 15 November
	{"magnet-range", "hand-20", "", "rating: 7800 lb, magnets: 2, resistance: 3.2 ohm", "rating: 7800 lb, magnets: 2, resistance: 3.2 ohm, resistance_high: %s ohm", "3.3", "3.2"},
	// (15,110.2 lb x 128 in - 1,576.4 lb x 280 in) / 120 in, and 60 % of it on one leg.
	{"stabilizers-rating", "neck-28", "options: [legs]\n", "count: 2, rating: 8000 lb", "count: 2, rating: %s lb", "7464", "7463"},
}

// risingEdges are the same on the small line of lifts.
var risingEdges = []struct {
	code         string
	options      string
	from, to     string
	kept, broken string
}{
	{"hinge-place", "power-tilt", "hinge: { x: 215 in, z: 22 in }", "hinge: { x: %s in, z: 22 in }", "109", "108"},   // 60 in and a fixed deck of 48 in
	{"hinge-height", "power-tilt", "hinge: { x: 215 in, z: 22 in }", "hinge: { x: 215 in, z: %s in }", "17", "16.9"}, // the deck's edge at 24 in less 7 in
	{"hinge-height", "power-tilt", "hinge: { x: 215 in, z: 22 in }", "hinge: { x: 215 in, z: %s in }", "27", "27.1"},
	{"raised-angle", "power-tilt", "raised_angle: 13.9 deg", "raised_angle: %s deg", "12.95", "12.94"}, // 13.949° by the law of cosines
	{"raised-angle", "power-tilt", "raised_angle: 13.9 deg", "raised_angle: %s deg", "14.94", "14.95"},
	{"cylinder-home", "power-tilt", "retracted: 29 in", "retracted: %s in", "27.66", "27.65"},                     // pins 25 in and 15 in apart: 29.155 in
	{"wire-gauge", "power-tilt", "one_way: 4 ft, ampacity: 200 A", "one_way: 4 ft, ampacity: %s A", "210", "211"}, // gauge 2, 33 CFR 183.425 table 5
	{"wire-gauge", "power-tilt, winch-plate, winch", "one_way: 6 ft, ampacity: 330 A", "one_way: 6 ft, ampacity: %s A", "330", "331"},
	{"winch-rope", "power-tilt, winch-plate, winch", "rope_breaking: 17000 lb", "rope_breaking: %s lb", "15000", "14999"},
	{"winch-rope", "power-tilt, winch-plate, winch", "hook_breaking: 18000 lb", "hook_breaking: %s lb", "15000", "14999"},
	{"winch-rope-table", "power-tilt, winch-plate, winch", "rope_breaking: 17000 lb", "rope_breaking: %s lb", "20000", "20001"},
	{"wire-load", "power-tilt", "motor_current: 180 A", "motor_current: %s A", "200", "201"},
	{"rod-buckling", "power-tilt", "bore: 3 in, rod: 1.5 in", "bore: 3 in, rod: %s in", "1.338", "1.337"},  // 9,729.7 x rod^4 against 2 x 15,551 lb
	{"cylinder-closed", "power-tilt", "retracted: 29 in", "retracted: %s in", "22", "21.9"},                // 38 - 22 + 2 x 3
	{"motor-power", "power-tilt", "motor_current: 180 A", "motor_current: %s A", "149", "148"},             // 1,244 W of 12 V x 70 %: 148.1 A
	{"motor-power", "power-tilt", "motor_current: 180 A", "motor_current: %s A", "345", "346"},             // of 12 V x 30 %: 345.6 A
	{"motor-duty", "power-tilt", "duty_on: 5 min", "duty_on: %s s", "26", "25"},                            // 2 x 7.069 x 9 / 231 / 1.3 gpm: 25.4 s
	{"winch-duty", "power-tilt, winch-plate, winch", "duty_rest: 10 min", "duty_rest: %s min", "9", "8.9"}, // 1 in 10
	// The props are at their rating at 498.78 psi, by vectors and in whole: 230,000 lb·in over 10.603 in² and an arm of 43.49 in.
	{"prop-pump", "power-tilt", "lowering_relief: 150 psi", "lowering_relief: %s psi", "498", "499"},
	// The hinge bears 30,121.64 lb and the load presses with 694.83 psi, by complex numbers outside this program; 1.3 times that is 903.28 psi.
	// 9,468 lb x 85 in less 2,000 lb x 15 in, over 145 in: 5,343.31 lb; the hinge stands at 215 in.
	{"lock-load", "", "kind: latch, rating: 20000 lb", "kind: latch, rating: %s lb", "5344", "5343"},
	{"lock-place", "", "latch, at: { x: 70 in", "latch, at: { x: %s in", "214", "215"},
	// 31,101.77 lb x 775 / 29.1548 in less 30,000 lb·in, over 145 in: 5,494.87 lb.
	{"lock-pump", "power-tilt, deck-lock", "kind: clamp, rating: 20000 lb", "kind: clamp, rating: %s lb", "5495", "5494"},
	{"hinge-load", "power-tilt", "hinge_rating: 40000 lb", "hinge_rating: %s lb", "30122", "30121"},
	{"holding-setting", "power-tilt", "holding_setting: 2400 psi", "holding_setting: %s psi", "904", "903"},
	{"holding-setting", "power-tilt", "holding_setting: 2400 psi", "holding_setting: %s psi", "3000", "3001"}, // what the cylinder is rated for
	{"tilt-balance", "", "tilting_center: 200 in", "tilting_center: %s in", "214", "215"},                     // the hinge
	{"fuse-load", "power-tilt, winch-plate, winch", "current: 300 A", "current: %s A", "300", "301"},
	{"fuse-small", "", "feeds: lamps, fuse: 10 A", "feeds: lamps, fuse: %s A", "1.5", "1.4"}, // half of 3 A
	{"brake-lining", "", "lining_limit: 0.0625 in", "lining_limit: %s in", "0.0625", "0.0624"},
	{"brake-drop", "", "feeds: brakes, wire_gauge: 10, one_way: 30 ft", "feeds: brakes, wire_gauge: 10, one_way: %s ft", "40.0", "40.1"},  // 1.2 V of 15 A over 0.999 ohm a 1,000 ft, there and back
	{"lamp-drop", "", "wire_gauge: 14, one_way: 30 ft", "wire_gauge: 14, one_way: %s ft", "39.5", "39.6"},                                 // 0.6 V of 3 A over 2.525 ohm a 1,000 ft
	{"motor-drop", "power-tilt", "wire_gauge: 2, one_way: 4 ft", "wire_gauge: 2, one_way: %s ft", "21.3", "21.4"},                         // 1.2 V of 180 A over 0.1563 ohm a 1,000 ft
	{"motor-drop", "power-tilt, winch-plate, winch", "wire_gauge: 2/0, one_way: 6 ft", "wire_gauge: 2/0, one_way: %s ft", "25.6", "25.7"}, // 1.2 V of 300 A over 0.0779 ohm a 1,000 ft
	{"fuse-wire", "", "feeds: lamps, fuse: 10 A", "feeds: lamps, fuse: %s A", "20", "21"},
	{"breakaway-hold", "", "battery: 12 Ah", "battery: %s Ah", "8.31", "8.30"},        // 15 A x 20 h x (0.25 / 20)^(1 / 1.15) is 6.641 Ah, / 0.8
	{"breakaway-hold-cold", "", "battery: 12 Ah", "battery: %s Ah", "11.07", "11.06"}, // / 0.6
	{"relief-cylinder", "power-tilt", "extended: 38 in, rating: 3000 psi", "extended: 38 in, rating: %s psi", "2200", "2199"},
	{"relief-hose", "power-tilt", "{ rating: 4000 psi", "{ rating: %s psi", "2200", "2199"},
	{"relief-hose", "power-tilt", "fitting_rating: 3500 psi", "fitting_rating: %s psi", "2200", "2199"},
	{"rod-side-pressure", "power-tilt", "relief: 2200 psi", "relief: %s psi", "2250", "2251"},                               // x 9 / (9 - 2.25) against 3,000 psi
	{"reservoir", "power-tilt", "reservoir: 3 gal", "reservoir: %s gal", "0.173", "0.172"},                                  // 2 rods of 1.767 sq in x 9 in / 231 / 0.8
	{"reservoir", "power-tilt", "reservoir: 3 gal", "reservoir: %s gal", "3.30", "3.31"},                                    // 6 x 2 x 7.069 sq in x 9 in / 231 in³
	{"fluid-cold", "power-tilt", "start_limit: 1000 mm²/s", "start_limit: %s mm²/s", "445", "444"},                          // 444.85 mm²/s at 32 °F, the line of log log through 35.2 at 40 °C and 5.4 at 100 °C
	{"plan-cycles", "power-tilt", "capacity: 100 Ah, plan_cycles: 3", "capacity: 100 Ah, plan_cycles: %s", "5", "6"},        // half of 477 s by Peukert's law at k 1.40, over 25.4 s up and 19.1 s down
	{"recharge-overnight", "power-tilt", "output: 5 A", "output: %s A", "4.21", "4.20"},                                     // 50 Ah / 0.85 / 14 h
	{"tilt-travel", "power-tilt", "retracted: 29 in, extended: 38 in", "retracted: 29 in, extended: %s in", "42.2", "42.3"}, // 19.34° by the law of cosines at 42.25 in
	{"prop-rating", "power-tilt", "rating: 4000 lb, count: 1", "rating: %s lb, count: 1", "2000", "1999"},                   // the deck; the lever gives 2,000 x 15 / 65
	{"prop-handle", "power-tilt", "handle: 16 in", "handle: %s in", "13", "12.9"},                                           // the deck reaches 41 in from the center line, the prop 28 in
	{"prop-reach", "power-tilt", "rating: 4000 lb, count: 1", "rating: 4000 lb, count: 1, angle: %s deg", "13.9", "14.0"},   // 13.949° by the law of cosines at 38 in
	{"winch-drum", "power-tilt, winch-plate, winch", "drum_width: 9 in", "drum_width: %s in", "2.625", "2.624"},             // 7 turns beside each other make 8 layers, 6 make 9
	{"winch-plate-pull", "power-tilt, winch-plate, winch", "rating: 12000 lb", "rating: %s lb", "10000", "9999"},
	// 2,000 lb x 68 in + 8,500 lb x 69.93 in on an arm of 15.947 in press with 1,822.4 psi, / 0.85.
	{"relief-load", "box", "relief: 2200 psi", "relief: %s psi", "1823", "1822"},
	{"lift-capacity", "box", "relief: 2200 psi", "relief: %s psi", "2145", "2144"},
	{"task-too-often", "use", "", "%s", "14", "15"}, // an interval of two loads comes round once a day at 14 a week
}

// embeddedEdges are the same on sheets of the project and the line of the program.
var embeddedEdges = []struct {
	code, unit   string
	sheet        slip
	file         string
	from, to     string
	kept, broken string
}{
	// 229 in behind the plug, 6 in beside and 7.1 in below it: 229.19 in, 19.099 ft.
	{"wire-run", "0142", slip{}, electric, "feeds: brakes, wire_gauge: 10, one_way: 25 ft", "feeds: brakes, wire_gauge: 10, one_way: %s ft", "19.1", "19.0"},
	{"wire-run", "0142", slip{}, electric, "feeds: brakes, wire_gauge: 10, one_way: 25 ft", "feeds: brakes, wire_gauge: 10, one_way: %s in", "654", "655"},                                                        // twice 327 in
	{"wire-stout", "0142", slip{}, electric, "feeds: brakes, wire_gauge: 10, one_way: 25 ft, ampacity: 30 A", "feeds: brakes, wire_gauge: 10, one_way: 25 ft, ampacity: %s A", "21", "20"},                        // 0.35 x 60 A
	{"dual-width", "0170", slip{"", "options: [", "options: [dual-wheels, "}, running, "width: 21 in", "width: %s in", "18.6", "18.5"},                                                                            // 2 x 9.3 in
	{"spare-size", "0124", smallSpare, body, "load: 1760 lb, cold_pressure: 50 psi, diameter: 26.1 in", "load: %s lb, cold_pressure: 50 psi, diameter: 26.1 in", "2106", "2107"},                                  // 20 % of 50 psi x 8.071 in x 26.1 in
	{"part-above-overall", "0118", slip{}, body, "rail_height: 15 in", "rail_height: %s in", "16", "16.1"},                                                                                                        // 18 + 2 + 16 in
	{"rim-width", "0142", slip{}, running, "socket: 0.8125 in\n    rim: 16 in\n    material: steel\n    width: 6 in", "socket: 0.8125 in\n    rim: 16 in\n    material: steel\n    width: %s in", "5.09", "5.08"}, // 0.55 x 235 mm
	{"rim-width", "0142", slip{}, running, "socket: 0.8125 in\n    rim: 16 in\n    material: steel\n    width: 6 in", "socket: 0.8125 in\n    rim: 16 in\n    material: steel\n    width: %s in", "8.78", "8.79"}, // 0.95 x 235 mm
	{"tire-load-range", "0124", smallSpare, body, "load: 1760 lb, cold_pressure: 50 psi", "load: 1760 lb, cold_pressure: %s psi", "62", "63"},                                                                     // 12 psi above that of load range C
	{"spare-load", "0124", smallSpare, body, "load: 1760 lb, cold", "load: %s lb, cold", "1750", "1749"},                                                                                                          // half of 3,500 lb
	{"spare-size", "0124", smallSpare, body, "diameter: 26.1 in", "diameter: %s in", "26.88", "26.89"},                                                                                                            // 1.03 x 26.106 in, which ST205/75R14 says
	{"spare-torque", "0124", smallSpare, body, "torque: 100 lb-ft", "torque: %s lb-ft", "120", "121"},                                                                                                             // in use for 1/2-20
	{"spare-torque", "0124", smallSpare, body, "torque: 100 lb-ft", "torque: %s lb-ft", "60", "59"},                                                                                                               // second round of the wheels
	{"hinge-rating", "0136", slip{}, dump14, "hinge_rating: 60000 lb", "hinge_rating: %s lb", "80376", "80377"},                                                                                                   // 1.5 x (2 cylinders at relief and 14,000 lb)
	{"torque-range", "0118", slip{}, running, "torque: 100 lb-ft\n    stages: [25 lb-ft, 60 lb-ft, 100 lb-ft]\n    socket: 0.8125 in\n    rim: 14 in", "torque: %[1]s lb-ft\n    stages: [25 lb-ft, 60 lb-ft, %[1]s lb-ft]\n    socket: 0.8125 in\n    rim: 14 in", "90", "89"},
	{"torque-range", "0118", slip{}, running, "torque: 100 lb-ft\n    stages: [25 lb-ft, 60 lb-ft, 100 lb-ft]\n    socket: 0.8125 in\n    rim: 14 in", "torque: %[1]s lb-ft\n    stages: [25 lb-ft, 60 lb-ft, %[1]s lb-ft]\n    socket: 0.8125 in\n    rim: 13.9 in", "75", "76"},
	{"spare-hoist", "0205", slip{}, body, "hoist: 200 lb, weight: 110 lb", "hoist: %s lb, weight: 110 lb", "110", "109"}, // what the wheel weighs
	{"spare-lift", "0163", slip{}, body, "hoist: 200 lb, weight: 130 lb", "weight: %s lb", "51", "52"},                   // below the deck, where one person lifts
	{"spare-lift", "0149", slip{}, body, "mount: tongue, weight: 80 lb", "mount: tongue, weight: %s lb", "102", "103"},
	{"torque-stages", "0142", slip{}, running, "stages: [25 lb-ft, 60 lb-ft, 120 lb-ft]", "stages: [%s lb-ft, 80 lb-ft, 120 lb-ft]", "60", "61"},
	{"contact-load", "0142", slip{}, coupling, "feed_rating: 30 A", "feed_rating: %s A", "20", "19.9"}, // 15 A x 14 / 12 of the brakes, 2.5 A of the lamps
	{"contact-load", "0205", slip{}, coupling, "feed_rating: 30 A", "feed_rating: %s A", "27", "26.9"}, // 24 A of the pump of the brakes, 3 A of the lamps
	{"contact-load", "0142", slip{}, coupling, "feed_rating: 30 A\n    lamp_rating: 15 A", "feed_rating: 30 A\n    lamp_rating: %s A", "2.5", "2.4"},
	// 0.4 ohm of 14 AWG, 0.0082856 ohm a meter, lose 1.2 V at 3 A: 48.28 m out and back.
	{"reverse-drop", "0118", light, electric, "feeds: reverse, wire_gauge: 14, one_way: 4 ft", "feeds: reverse, wire_gauge: 14, one_way: %s ft", "79.1", "79.2"},
	// 25 % of 30,000 lb x 395 in / 302 in are 9,809.6 lb, which one of two jacks apart may come to carry alone.
	{"rating-jack", "0211", slip{"", "hydraulic-jacks", "four-jacks"}, coupling, "apart: true\n    lift: 12000 lb", "apart: true\n    lift: %s lb", "9810", "9809"},
	{"jack-static", "0211", slip{"", "hydraulic-jacks", "four-jacks"}, coupling, "apart: true\n    lift: 12000 lb\n    static: 15000 lb", "apart: true\n    lift: 9000 lb\n    static: %s lb", "9810", "9809"},
	{"actuator-gross", "0118", light, coupling, "gross: 3500 lb\n    vertical: 525 lb\n    coupler_share_low", "gross: %s lb\n    vertical: 525 lb\n    coupler_share_low", "2990", "2989"},
	{"actuator-vertical", "0124", heavy, coupling, "vertical: 1050 lb\n    coupler_share_low", "vertical: %s lb\n    coupler_share_low", "1050", "1049"}, // 15 % of 7,000 lb
	{"actuator-light", "0124", heavy, coupling, "vertical: 1050 lb\n    coupler_share_low: 5 percent", "vertical: 1050 lb\n    coupler_share_low: %s percent", "10", "11"},
	{"surge-heavy", "0124", heavy, "models/car-20.yaml", "gvwr: 7000 lb", "gvwr: %s lb", "20000", "20001"},
	{"cradle-rating", "0176", slip{}, boats, "boat_weight: 2600 lb", "boat_weight: %s lb", "2440", "2439"}, // 3,500 - 1.03 x 1,030
	{"cradle-rating", "0176", slip{}, boats, "boat_weight: 2600 lb", "boat_weight: %s lb", "5250", "5251"}, // 1.5 x 3,500 lb
	{"boat-winch", "0176", slip{}, boats, "pull: 1500 lb", "pull: %s lb", "483", "482"},                    // 2,439.1 x (sin + 0.05 cos) of atan 0.15
	{"boat-winch-strap", "0176", slip{}, boats, "strap_breaking: 4000 lb", "strap_breaking: %s lb", "3000", "2999"},
	// Half of 2 x 830 + 300 + 480 lb against half of 2,439.1 lb.
	{"boat-straps", "0176", slip{}, boats, "strap_working_load: 1300 lb\n    chain_working_load: 1300 lb", "strap_working_load: 300 lb\n    chain_working_load: %s lb", "480", "479"},
	{"boat-stand-travel", "0176", slip{}, boats, "travel: 24 in", "travel: %s in", "17.9", "17.8"},                                   // 7 % of 3,500 lb x 178 in / 2,439.1 lb is 17.88 in
	{"box-limit", "0163", slip{}, body, "kind: underbody, load_limit: 150 lb", "kind: underbody, load_limit: %s lb", "1800", "1801"}, // 48 x 18 x 18 in at 200 lb/ft³
	{"charge-voltage", "0195", slip{}, electric, "suits: lifepo4\n    voltage: 14.4 V", "suits: lifepo4\n    voltage: %s V", "14.2", "14.1"},
	{"charge-voltage", "0195", slip{}, electric, "suits: lifepo4\n    voltage: 14.4 V", "suits: lifepo4\n    voltage: %s V", "14.6", "14.7"},
	{"charge-voltage", "0195", slip{}, electric, "charge_voltage_high: 14.6 V", "charge_voltage_high: %s V", "14.6", "14.7"},
	{"charge-current", "0195", slip{}, electric, "charge_current: 50 A", "charge_current: %s A", "20.3", "20.2"},                      // 20 + 5.5 + 15 A on two
	{"discharge-current", "0195", slip{}, electric, "discharge_current: 150 A", "discharge_current: %s A", "118.5", "118.4"},          // 237 A from two
	{"solar-controller", "0195", slip{}, electric, "controller_current: 10 A", "controller_current: %s A", "7.7", "7.6"},              // 6.1 A x 1.25
	{"solar-controller", "0195", slip{}, electric, "controller_voltage: 50 V", "controller_voltage: %s V", "28.2", "28.1"},            // 22.5 V x 1.25
	{"solar-output", "0195", slip{}, electric, "output: 5.5 A", "output: %s A", "9.5", "9.6"},                                         // 6.1 A x 22.5 V / 14.4 V
	{"charge-line-power", "0195", slip{}, electric, "input: 20 A\n    output: 15 A", "input: %s A\n    output: 15 A", "19.0", "18.9"}, // 15 A x 14.4 V / 12 V / 0.95: 18.95 A
	{"charge-line-power", "0195", slip{}, electric, "input: 20 A\n    output: 15 A", "input: %s A\n    output: 15 A", "30", "31"},     // / 0.6
	{"charge-line-power", "0142", towRelay, electric, "input: 25 A\n    output: 25 A", "input: 25 A\n    output: %s A", "25", "26"},
	{"charge-line-power", "0142", towRelay, electric, "input: 25 A\n    output: 25 A", "input: 25 A\n    output: %s A", "25", "24"},
	{"pair-place", "0163", slip{}, deck28, "y: -44 in, z: 4 in }, size: { long: 6 in, wide: 88 in", "y: -44 in, z: 4 in }, size: { long: 6 in, wide: %s in", "20", "19"},
	{"pair-place", "0142", slip{}, tilt20, "y: -11 in, z: 3 in }, size: { long: 6 in, wide: 6 in", "y: -11 in, z: 3 in }, size: { long: 6 in, wide: %s in", "19", "20"},
	{"charge-drop", "0195", slip{}, electric, "wire_gauge: 10, one_way: 10 ft, ampacity: 30 A", "wire_gauge: 10, one_way: %s ft, ampacity: 30 A", "30.0", "30.1"}, // 1.2 V of 20 A over 0.999 ohm a 1,000 ft
	{"stock-height", "0201", slip{}, stock, "inside_height: 76 in", "inside_height: %s in", "80", "81"},
	{"stock-opening", "0201", slip{}, stock, "wide: 68 in, high: 72 in", "wide: %s in, high: 72 in", "72", "73"},
	{"stock-opening", "0201", slip{}, stock, "wide: 68 in, high: 72 in", "wide: 68 in, high: %s in", "38", "37"}, // half of 76 in
	{"stock-opening", "0201", slip{}, stock, "wide: 68 in, high: 72 in", "wide: %s in, high: 72 in", "36", "35"}, // half of 72 in
	{"stock-opening", "0201", slip{}, stock, "wide: 68 in, high: 72 in", "wide: 68 in, high: %s in", "76", "77"},
	{"stock-air", "0201", slip{}, stock, "open_area: 4200 in²", "open_area: %s in²", "1382.4", "1382.3"}, // a tenth of 192 x 72 in
	{"stock-floor", "0201", slip{}, stock, "hoof_load: 1000 lb", "hoof_load: %s lb", "800", "799"},
	{"stock-step", "0201", slip{}, "models/stock-16.yaml", "y: -37 in, z: 15 in", "y: -37 in, z: %s in", "18", "18.1"},
	// 0.00256 x 1.2 x 85² mph on 74 x 78 in, and half of 150 lb: 964.66 lb.
	{"ramp-latch", "0181", slip{}, closed, "latch_rating: 2500 lb", "latch_rating: %s lb", "965", "964"},
	{"gate-latch", "0136", slip{}, body, "kind: barn, latch_rating: 5000 lb", "kind: barn, latch_rating: %s lb", "2290", "2289"}, // a quarter of 14,000 - 1.03 x 4,700 lb
	{"stock-latch", "0201", slip{}, stock, "latch_rating: 2500 lb", "latch_rating: %s lb", "1020", "1019"},                       // a quarter of 4,078.92 lb
	{"body-height", "0181", slip{}, closed, "inside_height: 78 in", "inside_height: %s in", "82", "83"},
	{"body-opening", "0181", slip{}, closed, "wide: 78 in, high: 74 in", "wide: %s in, high: 74 in", "82", "83"},
	{"body-opening", "0181", slip{}, closed, "high: 74 in", "high: %s in", "39", "38"},                           // half of 78 in
	{"body-opening", "0181", slip{}, closed, "wide: 78 in, high: 74 in", "wide: %s in, high: 74 in", "41", "40"}, // half of 82 in
	{"body-opening", "0181", slip{}, closed, "high: 74 in", "high: %s in", "78", "79"},
	{"body-vents", "0181", slip{}, closed, "vents: 4", "vents: %s", "2", "1"},
}
