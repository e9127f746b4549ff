package derive

import (
	"slices"
	"strings"
	"testing"

	"ownerguide/spec/source"
)

// rated lists the codes of ratings, weights, coupling, load place, tie-downs,
// tires, wheels, axles and lamps, each with the unit that breaks it and nothing
// else, and a part of what it then says.
var rated = []struct {
	code, says string
	unit
}{
	{"rating-gvwr-coverage", "good for 15,570 lb", unit{"hand-20", "", [][2]string{{"gvwr: 15400 lb", "gvwr: 15700 lb"}}}},
	{"rating-axle-count", "3 axle ratings; the unit has 4 axles", unit{}}, // out of reach of a line that loads; see TestAxleCount
	{"label-conflict", "labels the gvwr", unit{"hand-20", "options: [front-box, heavy-duty]\n", [][2]string{{"front-box: { weighs", "front-box: { gvwr: 15500 lb, weighs"}}}},
	{"rating-axle-label", "its springs carry only 6900 lb", unit{"hand-20", "", [][2]string{{"spring: 7600 lb", "spring: 6900 lb"}}}},
	{"rating-axle-label", "its brakes carry only 6900 lb", unit{"hand-20", "", [][2]string{{"rating: 7800 lb", "rating: 6900 lb"}}}},
	{"rating-axle-label", "the gawr of axle 2 is 7,500 lb", unit{"hand-20", "options: [heavy-duty]\n", [][2]string{{"beam: 7500 lb", "beam: 7400 lb"}}}},
	{"hub-play", "expected a rising range", unit{"one-12", "", [][2]string{{"low: 0.001 in", "low: 0.006 in"}}}},
	{"rating-cargo", "nothing is left for cargo", unit{"box-16", "", [][2]string{{"empty_weight: 6400 lb", "empty_weight: 20900 lb"}, {"coupler_weight: 900 lb", "coupler_weight: 2200 lb"}}}},
	{"weight-measured-far", "more than 5 % away", unit{"hand-20", "measured: { empty_weight: 5600 lb }\n", nil}},
	{"weight-measured-wrong", "weighed at 2300 lb", unit{"hand-20", "measured: { empty_weight: 2300 lb }\n", nil}},
	{"coupler-measured-far", "more than 10.0 % away", unit{"hand-20", "measured: { empty_weight: 5980 lb, tongue_weight: 750 lb }\n", nil}},
	{"coupler-measured-wrong", "more than 25.0 % away", unit{"hand-20", "measured: { empty_weight: 5980 lb, tongue_weight: 1200 lb }\n", nil}},
	{"weight-coupler", "expected a part of it", unit{"hand-20", "options: [front-box]\n", [][2]string{{"weighs: 160 lb, center: 40 in", "weighs: 1600 lb, center: 400 in"}}}},
	{"label-weight-change", "above 100 lb", unit{"hand-20", "delivered: 2026-11-30\nadded: [{ option: front-box, date: 2027-01-05 }]\n", nil}},
	{"rating-coupler", "rated 15,000 lb", unit{"hand-20", "", [][2]string{{"gross: 16000 lb", "gross: 15000 lb"}}}},
	{"rating-coupler-vertical", "it may carry 2,310 lb", unit{"hand-20", "", [][2]string{{"vertical: 2500 lb", "vertical: 2300 lb"}}}},
	{"ball-size", "it must be at least 2 in", unit{"one-12", "", [][2]string{{"ball: 2.3125 in, gross: 7000 lb", "ball: 1.875 in, gross: 7000 lb"}}}},
	{"rating-chains", "breaks at 15,000 lb", unit{"hand-20", "", [][2]string{{"3/8 in, breaking: 26400 lb", "3/8 in, breaking: 15000 lb"}}}},
	{"chains-count", "has 1 safety chain; expected 2", unit{"neck-28", "", [][2]string{{"count: 2, grade: 70", "count: 1, grade: 70"}}}},
	{"brakes-required", "axle 1 has no brakes; above 3,000 lb", unit{"one-12", "", [][2]string{{"gvwr: 2990 lb", "gvwr: 3001 lb"}}}},
	{"brakes-required", "axle 2 has no brakes", unit{"hand-20", "", [][2]string{{"axle-2: { use: axle-70", "axle-2: { use: axle-100"}, {"    brake: { kind: electric, rating: 10000 lb, magnets: 2, resistance: 3.2 ohm, lining_limit: 0.0625 in }\n", ""}}}},
	{"rating-chain-hook", "hook breaks at 15,000 lb", unit{"hand-20", "", [][2]string{{"hook_breaking: 26400 lb", "hook_breaking: 15000 lb"}}}},
	{"rating-chain-tab", "weld tab breaks at 15,000 lb", unit{"hand-20", "", [][2]string{{"tab_breaking: 26400 lb", "tab_breaking: 15000 lb"}}}},
	{"chain-table", "good for 16,362 lb", unit{"hand-20", "", [][2]string{{"grade: 70, size: 3/8 in, breaking: 26400 lb", "grade: 43, size: 3/8 in, breaking: 26400 lb"}}}},
	{"chain-unlisted", "no grade 70 chain", unit{"hand-20", "", [][2]string{{"size: 3/8 in, breaking", "size: 9/16 in, breaking"}}}},
	{"rating-jack", "lifts 2,300 lb", unit{"hand-20", "", [][2]string{{"lift: 12000 lb", "lift: 2300 lb"}}}},
	{"rating-jack", "lifts 5,666 lb", unit{"neck-28", "", [][2]string{{"lift: 10000 lb", "lift: 3400 lb"}}}}, // 2 x 3,400 would do; one leg at 60 % does not
	{"jack-static", "holds 2,300 lb (1,043 kg) standing", unit{"hand-20", "", [][2]string{{"lift: 12000 lb", "lift: 2310 lb, static: 2300 lb"}}}},
	{"jack-static", "what it lifts it holds", unit{"hand-20", "", [][2]string{{"lift: 12000 lb", "lift: 12000 lb, static: 8000 lb"}}}},
	{"axle-spacing", "stand 30 in (762 mm) apart; their tires need 32 in", unit{"hand-20", "", [][2]string{{"at: { x: 205 in", "at: { x: 207 in"}, {"at: { x: 239 in", "at: { x: 237 in"}}}},
	{"plate-heights", "expected a rising range", kingpinNeck("kingpin: 2 in, gross: 25000 lb, vertical: 6250 lb, plate_height_low: 49 in, plate_height_high: 48 in", false)},
	{"axle-group", "from first to last, are labeled for 21,000 lb", heavyPair("11000")},
	{"ball-heights", "expected a rising range", unit{"hand-20", "", [][2]string{{"ball_height_low: 20 in", "ball_height_low: 25 in"}}}},
	{"ring-heights", "expected a rising range", unit{"hand-20", "", [][2]string{ringCoupler("ring: 3 in, ring_section: 1.625 in, gross: 16000 lb, vertical: 2500 lb, ring_height_low: 25 in, ring_height_high: 24 in")}}},
	{"coupler-ball", "one for a ball of 2 in (50.8 mm) is good for 10,000 lb", unit{"hand-20", "", [][2]string{{"ball: 2.3125 in, gross: 16000 lb", "ball: 2 in, gross: 16000 lb"}}}},
	{"bed-clearance", "the neck stands 60 in above", unit{"neck-28", "", [][2]string{{"neck_low: 66 in", "neck_low: 60 in"}}}},
	{"bed-clearance", "swings out to 60 in", unit{"neck-28", "", [][2]string{{"neck_end: 64 in", "neck_end: 50 in"}}}},
	{"bed-clearance", "nothing says how high", unit{"neck-28", "", [][2]string{{"neck_low: 66 in\n", ""}}}},
	{"bed-clearance", "breakaway hangs 50 in above the road", unit{"neck-28", "", [][2]string{{"use: breakaway }", "use: breakaway, at: { x: 50 in, z: 50 in }, size: { long: 10 in, wide: 6 in, high: 8 in } }"}}}},
	{"box-limit", "box-front may be filled with 20000 lb", unit{"hand-20", "options: [front-box]\n", [][2]string{{"load_limit: 300 lb", "load_limit: 20000 lb"}}}},
	{"box-limit", "bears 2,782 lb", unit{"hand-20", "options: [front-box]\n", [][2]string{{"load_limit: 300 lb", "load_limit: 2000 lb"}, {"parts: { box-front: { use: box-front } }", "parts: { box-front: { use: box-front, at: { x: 30 in, z: 30 in } } }"}}}},
	{"ground-angle", "the tail scrapes where the slope changes by 5.1°", unit{"hand-20", "", [][2]string{{"at: { x: 76 in, z: 24 in }", "at: { x: 76 in, z: 7 in }"}}}}, // 7 in over 77
	{"ground-clearance", "deck hangs 5 in above the road", unit{"hand-20", "", [][2]string{{"at: { x: 76 in, z: 24 in }", "at: { x: 76 in, z: 5 in }"}}}},
	{"lamp-height", "stand 12 in (305 mm) above the road; expected at least 15 in", unit{"hand-20", "", [][2]string{{"use: lamps-wide }", "use: lamps-wide, at: { x: 300 in, z: 10 in }, size: { long: 2 in, wide: 82 in, high: 4 in } }"}}}},
	{"lamp-height", "expected at most 72 in", unit{"hand-20", "", [][2]string{{"use: lamps-wide }", "use: lamps-wide, at: { x: 300 in, z: 72 in }, size: { long: 2 in, wide: 82 in, high: 4 in } }"}, {"wide: 102 in, high: 40 in", "wide: 102 in, high: 80 in"}}}},
	{"tire-tread", "the law asks for 2/32 in", unit{"hand-20", "", [][2]string{{"least_tread: 0.0625 in", "least_tread: 0.05 in"}}}},
	{"rear-guard-place", "it must reach over 74 in", unit{"hand-20", "", [][2]string{{"rear-guard: { use: low }", "rear-guard: { use: low, at: { x: 300 in, z: 20 in }, size: { long: 3 in, wide: 70 in, high: 6 in } }"}}}},
	{"cg-band-empty", "25 %", unit{"box-16", "measured: { empty_weight: 6400 lb, tongue_weight: 2600 lb }\n", nil}},
	{"cg-band-narrow", "too little play", unit{"one-12", "", [][2]string{{"coupler_share_high: 17", "coupler_share_high: 15"}}}},
	{"cg-uniform-load", "has its center outside the band", unit{"hand-20", "", [][2]string{{"at: { x: 76 in", "at: { x: 60 in"}}}},
	{"ramps-rating", "rated 9,000 lb", unit{"neck-28", "", [][2]string{{"pair_rating: 16000 lb", "pair_rating: 9000 lb"}}}},
	{"loading-angle", "a load climbs a slope of 25°", unit{"car-18", "", [][2]string{{"length: 66 in, pair", "length: 57 in, pair"}}}},
	{"ramps-short", "the deck's rear edge stands 24 in", unit{"car-18", "", [][2]string{{"length: 66 in, pair", "length: 23 in, pair"}}}},
	{"stabilizers-rating", "at the rear edge puts", unit{"neck-28", "options: [legs]\n", [][2]string{{"count: 2, rating: 8000 lb", "count: 2, rating: 5000 lb"}}}},
	{"width-limit", "the law allows 102 in", unit{"neck-28", "", [][2]string{{"long: 408 in, wide: 102 in", "long: 408 in, wide: 102.5 in"}}}},
	{"tiedown-anchors", "more of them than there are", unit{"car-18", "", [][2]string{{"working_load: 6000 lb", "working_load: 1100 lb"}, {"count: 8, working_load: 1100", "count: 4, working_load: 1100"}}}},
	{"rating-tires", "the tires of axle 1 carry 6,900 lb", unit{"hand-20", "", [][2]string{{"single: 4080 lb, cold_pressure: 110 psi, load_index: 129", "single: 3450 lb, cold_pressure: 110 psi"}}}},
	// 8,160 lb of passenger-car tires count as 7,418 lb: enough for 7,000, too little for 7,500.
	{"rating-tires", "carry 7,418 lb", unit{"hand-20", "options: [heavy-duty]\n", [][2]string{{"age_limit_years: 6, kind: special-trailer, least_tread: 0.0625 in }\n  tire-h", "age_limit_years: 6, kind: passenger, least_tread: 0.0625 in }\n  tire-h"}}}},
	{"tire-index", "stands for 1900 kg", unit{"hand-20", "", [][2]string{{"load_index: 129", "load_index: 130"}}}},
	{"tire-index", "expected 80 to 160", unit{"hand-20", "", [][2]string{{"load_index: 129", "load_index: 180"}}}},
	{"tire-date-code", "2025 has 52 full weeks", unit{"one-12", "fitted: { tires: [{ place: left, dot: \"3426\" }, { place: right, dot: \"5325\" }] }\n", nil}},
	{"tire-age", "more than a year before", unit{"one-12", "fitted: { tires: [{ place: left, dot: \"3426\" }, { place: right, dot: \"3425\" }] }\n", nil}},
	{"part-above-overall", "its deck stands 27 in", unit{"hand-20", "", [][2]string{{"wide: 102 in, high: 40 in", "wide: 102 in, high: 26 in"}}}},
	{"dual-fitment", "no dual rating", unit{"neck-28", "options: [dual-wheels]\n", [][2]string{{"single: 3520 lb, dual: 3080 lb", "single: 3520 lb"}}}},
	{"dual-spare", "the spare is for single wheels", unit{"neck-28", "options: [dual-wheels, spare]\n", nil}},
	{"part-ignored", "in the place jack-2", unit{"hand-20", "", [][2]string{{"  jack: { use: jack-12 }\n", "  jack: { use: jack-12 }\n  jack-2: { use: jack-12 }\n"}}}},
	{"dual-width", "stand 103 in", unit{"neck-28", "options: [dual-wheels]\n", [][2]string{{"width: 24 in", "width: 33 in"}}}},
	{"torque-range", "run from 90 to 140 lb-ft", unit{"hand-20", "", [][2]string{{"torque: 130 lb-ft, stages: [25 lb-ft, 60 lb-ft, 130 lb-ft]", "torque: 160 lb-ft, stages: [25 lb-ft, 60 lb-ft, 160 lb-ft]"}}}},
	{"torque-stages", "has 1 torque stages", unit{"hand-20", "", [][2]string{{"stages: [25 lb-ft, 60 lb-ft, 130 lb-ft]", "stages: [130 lb-ft]"}}}},
	{"wheel-studs", "axle 1 has 5 studs 1/2-20", unit{"one-12", "", [][2]string{{"max_pressure: 65 psi, studs: 5", "max_pressure: 65 psi, studs: 6"}}}},
	{"rating-rim-load", "the wheels of axle 1 carry 6,800 lb", unit{"hand-20", "", [][2]string{{"wheel-8: { load: 4080 lb", "wheel-8: { load: 3400 lb"}}}},
	{"rating-rim-pressure", "the wheel is rated for 100 psi", unit{"hand-20", "", [][2]string{{"load: 4080 lb, max_pressure: 110 psi", "load: 4080 lb, max_pressure: 100 psi"}}}},
	{"lamps-missing", "identification, red: 2 fitted", unit{"hand-20", "", [][2]string{{"duty: identification, color: red, count: 3", "duty: identification, color: red, count: 2"}}}},
	{"lamps-missing", "plate, white: 0 fitted", unit{"hand-20", "", [][2]string{{"duty: plate, color: white", "duty: plate, color: amber"}}}},
	{"conspicuity-missing", "on each side: 150 in", unit{"hand-20", "", [][2]string{{"tape_side: 165 in", "tape_side: 150 in"}}}},
	{"conspicuity-missing", "at the rear: none", unit{"hand-20", "", [][2]string{{"    tape_rear: 96 in\n", ""}}}},
	{"rear-guard-missing", "from 10,000 lb (4,536 kg) on", unit{"hand-20", "", [][2]string{{"  rear-guard: { use: low }\n", ""}}}},
	{"rear-guard-place", "expected at most 22 in", unit{"hand-20", "", [][2]string{{"height: 20 in, forward", "height: 23 in, forward"}}}},
	{"rear-guard-place", "is not given", unit{"hand-20", "", [][2]string{{", forward: 4 in", ""}}}},
	{"rear-guard-place", "as guard it may stand at most 12 in", unit{"hand-20", "", [][2]string{{"kind: low-chassis", "kind: wheels-back"}}}},
	{"tire-too-old", "to be replaced by 2026-01-05", unit{"one-12", "fitted: { tires: [{ place: left, dot: \"0120\" }] }\n", nil}},
}

// together are codes that one slip may bring beside the one it is about.
var together = map[string][]string{
	"brakes-required":  {"wheel-studs"},
	"ground-clearance": {"ground-angle"},
	"ball-size":        {"coupler-ball"},
	"tire-too-old":     {"tire-age"}, // a tire past its life was old when fitted, too
	"weight-coupler":   {"cg-band-empty", "cg-band-narrow", "cg-uniform-load"},
	"cg-band-empty":    {"cg-band-narrow", "cg-uniform-load", "coupler-measured-wrong"},
}

func ratedCodes() (codes []string) {
	for _, r := range rated {
		codes = append(codes, r.code)
	}
	return codes
}

// ofRated keeps the findings this test answers for; other systems are checked
// by their own.
func ofRated(findings source.Findings) (out source.Findings) {
	for _, f := range findings {
		if slices.Contains(ratedCodes(), f.Code) {
			out = append(out, f)
		}
	}
	return out
}

// As it stands the small line keeps every limit, with and without options.
func TestRatedLineIsSound(t *testing.T) {
	for _, u := range []unit{{model: "hand-20"}, {model: "hand-20", more: "options: [front-box, heavy-duty, spare]\n"}, {model: "neck-28"},
		{model: "neck-28", more: "options: [dual-wheels]\n"}, {model: "one-12"}, {model: "car-18"}, {model: "box-16"}} {
		_, findings := u.evaluated(t)
		for _, f := range ofRated(findings) {
			t.Errorf("%s%s: %s: %s [%s]", u.model, u.more, f.Pos, f.Message, f.Code)
		}
	}
}

// Each limit is broken by one slip, and that slip breaks no other of them.
func TestRatedLimits(t *testing.T) {
	for _, r := range rated {
		if r.model == "" {
			continue
		}
		t.Run(r.code+"/"+r.says, func(t *testing.T) {
			_, findings := r.evaluated(t)
			found := false
			for _, f := range ofRated(findings) {
				switch {
				case f.Code == r.code && strings.Contains(f.Message, r.says):
					found = true
					if f.Pos.Line == 0 || f.Pos.File == "" {
						t.Errorf("no place: %s", f.Message)
					}
				case f.Code != r.code && !slices.Contains(together[r.code], f.Code):
					t.Errorf("beside it: %s: %s [%s]", f.Pos, f.Message, f.Code)
				}
			}
			if !found {
				t.Errorf("expected %q, got %v", r.says, ofRated(findings))
			}
		})
	}
}

// A clash stands where a person must edit and names where the other figure
// came from; without the second place an engineer would mend the wrong one.
func TestClashNamesBothPlaces(t *testing.T) {
	_, findings := unit{"hand-20", "", [][2]string{{"gross: 16000 lb", "gross: 15000 lb"}}}.evaluated(t)
	for _, f := range findings {
		if f.Code != "rating-coupler" {
			continue
		}
		if f.Message != "the coupler is rated 15,000 lb (6,803 kg); the gvwr is 15,400 lb (6,986 kg)" {
			t.Errorf("message %q", f.Message)
		}
		if got := f.Pos.String(); got != "rated/components/front.yaml:2:47" || f.Path != "couplers.ball.gross" {
			t.Errorf("stands at %s, path %s", got, f.Path)
		}
		if len(f.Related) != 1 || f.Related[0].Pos.String() != "rated/models/hand-20.yaml:5:7" || f.Related[0].Message != "gvwr is 15400 lb" {
			t.Errorf("related %v", f.Related)
		}
		return
	}
	t.Fatal("no rating-coupler")
}
