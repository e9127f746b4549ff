package derive

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

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
	{"coupler-ball", "hand-20", "", "ball: 2.3125 in, gross: 16000 lb", "ball: 2.3125 in, gross: %s lb", "30000", "30001"},
	{"bed-clearance", "neck-28", "", "neck_low: 66 in", "neck_low: %s in", "64", "63.9"}, // 58 + 6
	{"bed-clearance", "neck-28", "", "neck_end: 64 in", "neck_end: %s in", "60", "59.9"},
	{"box-limit", "hand-20", "options: [front-box]\nmeasured: { empty_weight: 5980 lb, tongue_weight: 890 lb }\n", "load_limit: 300 lb", "load_limit: %s lb", "9420", "9421"}, // 15,400 - 5,980
	{"ground-angle", "hand-20", "", "at: { x: 76 in, z: 24 in }", "at: { x: 76 in, z: %s in }", "8.1", "8"},                                                                   // tan 6° x 77 in is 8.09 in
	{"ground-clearance", "hand-20", "", "at: { x: 76 in, z: 24 in }", "at: { x: 76 in, z: %s in }", "6", "5.9"},
	{"lamp-height", "hand-20", "", "use: lamps-wide }", "use: lamps-wide, at: { x: 300 in, z: %s in }, size: { long: 2 in, wide: 82 in, high: 4 in } }", "13", "12.9"}, // middle at 15 in
	{"lamp-height", "hand-20", "", "use: lamps-wide }", "use: lamps-wide, at: { x: 300 in, z: %s in }, size: { long: 2 in, wide: 82 in, high: 4 in } }", "70", "70.1"},
	{"tire-tread", "hand-20", "", "least_tread: 0.0625 in", "least_tread: %s in", "0.0625", "0.0624"},
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
}

// risingEdges are the same on the small line of lifts.
var risingEdges = []struct {
	code         string
	options      string
	from, to     string
	kept, broken string
}{
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
	{"hinge-load", "power-tilt", "hinge_rating: 40000 lb", "hinge_rating: %s lb", "30122", "30121"},
	{"holding-setting", "power-tilt", "holding_setting: 2400 psi", "holding_setting: %s psi", "904", "903"},
	{"holding-setting", "power-tilt", "holding_setting: 2400 psi", "holding_setting: %s psi", "3000", "3001"}, // what the cylinder is rated for
	{"tilt-balance", "", "tilting_center: 200 in", "tilting_center: %s in", "214", "215"},                     // the hinge
	{"fuse-load", "power-tilt, winch-plate, winch", "current: 300 A", "current: %s A", "300", "301"},
}

func TestLimitsAtTheirEdge(t *testing.T) {
	reported := func(findings []finding, code string) bool {
		return slices.ContainsFunc(findings, func(f finding) bool { return f.Code == code })
	}
	for _, edge := range edges {
		for figure, broken := range map[string]bool{edge.kept: false, edge.broken: true} {
			u := unit{edge.model, strings.ReplaceAll(edge.more, "%s", figure), nil}
			if edge.from != "" {
				u.swap = [][2]string{{edge.from, fmt.Sprintf(edge.to, figure)}}
			}
			_, findings := u.evaluated(t)
			if reported(findings, edge.code) != broken {
				t.Errorf("%s with %s: reported is %t", edge.code, figure, !broken)
			}
		}
	}
	for _, e := range risingEdges {
		for figure, broken := range map[string]bool{e.kept: false, e.broken: true} {
			sheet := fmt.Sprintf("%soptions: [%s]\n", bareSheet("tilt-16"), e.options)
			_, findings := Evaluate(rising(t, sheet, edit{e.from, fmt.Sprintf(e.to, figure)}))
			if reported(findings, e.code) != broken {
				t.Errorf("%s with %s: reported is %t", e.code, figure, !broken)
			}
		}
	}
}

// An interval of two loads comes round once a day at 14 loads a week, and more often at 15.
func TestCareOnceADay(t *testing.T) {
	for loads, broken := range map[int]bool{14: false, 15: true} {
		sheet := strings.Replace(bareSheet("tilt-16")+use, "loads_per_week: 6", fmt.Sprintf("loads_per_week: %d", loads), 1)
		_, findings := Evaluate(rising(t, sheet))
		if slices.ContainsFunc(findings, func(f finding) bool { return f.Code == "task-too-often" }) != broken {
			t.Errorf("at %d loads a week reported is %t", loads, !broken)
		}
	}
}

// bareSheet gives the sheet of a model of the small line of lifts, without options.
func bareSheet(model string) string {
	if model == "tilt-16" {
		return tiltSheet[:len(tiltSheet)-len("options: [power-tilt]\n")]
	}
	return boxSheet
}
