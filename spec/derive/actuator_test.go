package derive

import (
	"strings"
	"testing"

	"ownerguide/spec/quantity"
)

func init() {
	kinds["surge.tow"] = numeric(1, func(x []float64) float64 { return surgeTow(quantity.Pounds(x[0])).Base() })
}

// ordered is an edit of a project's sheet that orders an option.
func ordered(option string) slip {
	return slip{from: "revision: A", to: "revision: A\noptions: [" + option + "]"}
}

var (
	light, heavy = ordered("surge-brakes"), ordered("surge-brakes")
	pump         = slip{from: "[fixed-deck]", to: "[fixed-deck, disc-brakes]"}
)

// brakeSlips are the limits of hydraulic brakes at the limit and one unit beside
// it. Each stands on a sheet of the project that orders such brakes.
var brakeSlips = []struct {
	unit  string
	sheet slip
	line  slip
	code  string // none when the line is sound
	says  string
}{
	{"0118", light, slip{}, "", ""},
	{"0124", heavy, slip{}, "", ""},
	{"0155", pump, slip{}, "", ""},
	{"0118", light, slip{coupling, "gross: 3500 lb\n    vertical: 525 lb\n    coupler_share_low", "gross: 2990 lb\n    vertical: 525 lb\n    coupler_share_low"}, "", ""},
	{"0118", light, slip{coupling, "gross: 3500 lb\n    vertical: 525 lb\n    coupler_share_low", "gross: 2989 lb\n    vertical: 525 lb\n    coupler_share_low"}, "actuator-gross", "rated for 2989 lb"},
	// 15 % of 7,000 lb is 1,050 lb.
	{"0124", heavy, slip{coupling, "vertical: 1050 lb\n    coupler_share_low", "vertical: 1049 lb\n    coupler_share_low"}, "actuator-vertical", "up to 1,050 lb"},
	{"0124", heavy, slip{coupling, "vertical: 1050 lb\n    coupler_share_low: 5 percent", "vertical: 1050 lb\n    coupler_share_low: 10 percent"}, "", ""},
	{"0124", heavy, slip{coupling, "vertical: 1050 lb\n    coupler_share_low: 5 percent", "vertical: 1050 lb\n    coupler_share_low: 11 percent"}, "actuator-light", "wants 11"},
	{"0118", light, slip{coupling, "kind: five-flat", "kind: four-flat"}, "", ""}, // the contact counts, not the name
	{"0118", light, slip{"models/utility-12.yaml", "connector: { use: connector-five }", "connector: { use: connector-four }"}, "reverse-lockout", "no contact for reverse"},
	{"0124", heavy, slip{coupling, "reverse: pin", "reverse: free-backing"}, "reverse-lockout", "do not say free_backing"},
	{"0124", heavy, slip{"models/car-20.yaml", "axle-2: { use: axle-35-hydraulic }", "axle-2: { use: axle-35-torsion }"}, "brakes-mixed", "electric drum brakes stand beside hydraulic drum"},
	{"0124", heavy, slip{coupling, "brakes: drum", "brakes: disc"}, "brake-actuator", "made for disc brakes"},
	{"0124", heavy, slip{"models/car-20.yaml", "      actuator: { use: actuator-surge, at: { x: 8 in, y: -3 in, z: 15 in }, size: { long: 14 in, wide: 6 in, high: 7 in } }\n", ""}, "brake-actuator", "no actuator is fitted"},
	{"0124", heavy, slip{"models/car-20.yaml", "      axle-1: { use: axle-35-hydraulic }\n      axle-2: { use: axle-35-hydraulic }\n", ""}, "brake-actuator", "no axle has hydraulic brakes"},
	{"0124", heavy, slip{"models/car-20.yaml", "    without: [breakaway, circuit-brakes]\n", ""}, "breakaway-idle", "no brakes to work"},
	{"0155", pump, slip{coupling, "holding_current: 12 A", "holding_current: 21 A"}, "", ""},
	// 20 h x (0.8 x 12 Ah / (I x 20 h))^1.15 falls below 15 min above 21.66 A (by hand).
	{"0155", pump, slip{coupling, "holding_current: 12 A", "holding_current: 22 A"}, "breakaway-hold", "the law wants 15 min"},
	{"0155", pump, slip{coupling, "current: 24 A", "current: 41 A"}, "wire-load", "41"},
	{"0155", pump, slip{"models/deck-28.yaml", "  breakaway: { use: breakaway-12, at: { x: 70 in, y: 14 in, z: 50 in }, size: { long: 10 in, wide: 6 in, high: 8 in }, on: left }\n", ""}, "breakaway-missing", "no breakaway set"},
	{"0124", heavy, slip{"models/car-20.yaml", "gvwr: 7000 lb", "gvwr: 20001 lb"}, "surge-heavy", "lawful below 20,001 lb"},
	{"0118", light, slip{coupling, "    reverse_current: 3 A\n", ""}, "reverse-lockout", "what it draws"},
	{"0118", light, slip{"models/utility-12.yaml", "      circuit-reverse: { use: reverse-feed }\n", ""}, "feed-missing", "no circuit feeds the reverse"},
	{"0118", light, slip{coupling, "reverse_current: 3 A", "reverse_current: 16 A"}, "wire-load", "15 A"},
	{"0142", slip{}, roundPlug("7", "brake"), "connector-auxiliary-live", "pin 7"},
}

func TestLimitsOfHydraulicBrakes(t *testing.T) {
	for _, test := range brakeSlips {
		t.Run(test.unit+" "+test.code+" "+test.line.to, func(t *testing.T) {
			var said []string
			for _, f := range slipped(t, test.unit, test.sheet, test.line) {
				said = append(said, f.Message+" ["+f.Code+"]")
				if test.code == "" && f.Severity.String() == "error" {
					t.Errorf("%s: %s [%s]", f.Pos, f.Message, f.Code)
				}
				if f.Code == test.code && strings.Contains(f.Message, test.says) {
					return
				}
			}
			if test.code != "" {
				t.Errorf("no %s that says %q: %v", test.code, test.says, said)
			}
		})
	}
}

// Surge brakes are lawful below 20,001 lb (49 CFR 393.48(d)(1)), which no model
// of the embedded line reaches with them.
func TestSurgeBrakesHaveAGreatestWeight(t *testing.T) {
	for rated, lawful := range map[string]bool{"20000 lb": true, "20001 lb": false} {
		found := slipped(t, "0124", ordered("surge-brakes"), slip{"models/car-20.yaml", "gvwr: 7000 lb", "gvwr: " + rated})
		refused := false
		for _, f := range found {
			refused = refused || f.Code == "surge-heavy"
		}
		if refused == lawful {
			t.Errorf("%s: refused %t", rated, refused)
		}
	}
}
