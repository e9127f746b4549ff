package product

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
	"ownerguide/spec/testenv"
)

const smallLine = "../../testdata/lines/small"

// derived are some of the features that package spec derives.
var derived = map[string]string{"over-10000-lb": "its GVWR is more than 10,000 lb", "decked": "it has a deck"}

// loadSmall loads the small invented line that the tests of this package use.
func loadSmall(t testing.TB) *Line {
	t.Helper()
	line, findings := Load(os.DirFS(smallLine), "small", derived, nil)
	for _, f := range findings {
		t.Errorf("%s: %s [%s]", f.Pos, f.Message, f.Code)
	}
	if line == nil {
		t.FailNow()
	}
	return line
}

// smallFiles returns the small line's files, to be edited.
func smallFiles() fstest.MapFS {
	return testenv.Files(os.DirFS(smallLine))
}

func TestLoad(t *testing.T) {
	line := loadSmall(t)
	var files []string
	for _, f := range line.Files {
		files = append(files, f.Shown())
	}
	want := []string{"base/tasks.yaml", "small/line.yaml", "small/components/running.yaml", "small/components/upper.yaml",
		"small/models/tilt-20.yaml", "small/models/deck-28.yaml", "small/text/en.yaml", "small/text/es.yaml"}
	if !slices.Equal(files, want) {
		t.Errorf("files in the order %v, want %v", files, want)
	}
	if len(line.Models) != 2 || line.Models[0].ID != "tilt-20" || line.Model("deck-28") != line.Models[1] || line.Model("deck") != nil {
		t.Errorf("models %v", line.Models)
	}
	if got := line.Models[0].At.String(); got != "small/models/tilt-20.yaml:1:1" {
		t.Errorf("the model stands at %s", got)
	}
	// The program's own come first, then the line's.
	if h := line.Tasks; h[len(h)-1].ID.Value != "example-task" || h[0].ID.At.File != "base/tasks.yaml" {
		t.Errorf("tasks %v", h)
	}
}

// Each edit of the small line makes one thing wrong. Several findings stand in
// one string, in their order, "file:line:column code"; a line with an error is refused whole.
func TestLineChecks(t *testing.T) {
	const running, upper, tilt, deck, en = "components/running.yaml", "components/upper.yaml", "models/tilt-20.yaml", "models/deck-28.yaml", "text/en.yaml"
	tests := []struct{ name, file, old, new, want string }{
		{"no line.yaml", "line.yaml", "", "", "line.yaml line-read"},
		{"no model file", deck, "", "", "line.yaml:11:19 line-read"},
		{"model file not listed", "line.yaml", "models: [tilt-20, deck-28]", "models: [tilt-20]", "models/deck-28.yaml line-stray"},
		{"no models", "line.yaml", "models: [tilt-20, deck-28]", "models: []", "models/deck-28.yaml line-stray; models/tilt-20.yaml line-stray"},
		{"stray file", "notes.txt", "", "x", "notes.txt line-stray"},
		{"other ending", "models/tilt-20.yml", "", "x", "models/tilt-20.yml line-stray"},
		{"stray folder", "old/models/tilt-20.yaml", "", "x", "old/models/tilt-20.yaml line-stray"},
		{"hidden file", ".keep", "", "x", ""},
		{"hidden folder", ".git/config", "", "x", ""},
		{"the file that embeds", "embed.go", "", "x", ""},
		{"for readers", "README.md", "", "x", ""},
		{"broken YAML", en, "models:", "models: [", "text/en.yaml:1:1 yaml-syntax"},
		{"unknown key", running, "suspension: leaf", "suspensoin: leaf", "components/running.yaml:3:5 key-missing; components/running.yaml:9:5 key-unknown"},
		{"word outside the list", running, "suspension: leaf", "suspension: leaves", "components/running.yaml:9:17 value-wrong"},
		{"control character", en, "Braked axle", `"Braked\u0007"`, "text/en.yaml:15:12 text-control"},

		{"model id", "line.yaml", "deck-28]", "Deck_28]", "line.yaml:11:19 line-id; models/deck-28.yaml line-stray"},
		{"model twice", "line.yaml", "deck-28]", "deck-28, deck-28]", "line.yaml:11:28 line-repeated"},
		{"maker id", "line.yaml", "id: example-works", "id: Example", "line.yaml:2:5 line-id"},
		{"option id", tilt, "  spare: {", "  Spare: {", "models/tilt-20.yaml:35:3 line-id; models/tilt-20.yaml:35:3 line-text"},
		{"feature", tilt, "[open-rear,", "[open_rear,", "models/tilt-20.yaml:3:12 line-id; models/tilt-20.yaml:41:13 line-feature"},
		{"feature that is not for writing", tilt, "plain-nose]", "decked]", "models/tilt-20.yaml:3:23 line-feature"},
		{"feature twice", tilt, "[open-rear,", "[plain-nose,", "models/tilt-20.yaml:3:24 line-repeated; models/tilt-20.yaml:41:13 line-feature"},
		{"component id", upper, "  holder: {}", "  Holder: {}", "components/upper.yaml:28:3 line-id; components/upper.yaml:28:3 line-text; models/tilt-20.yaml:20:18 line-component; text/en.yaml:38:3 line-text"},
		{"component of two kinds", upper, "  holder: {}", "  holder: {}\n  plate: {}", "components/upper.yaml:29:3 line-repeated"},
		{"component in two files", upper, "couplers:", "tires:\n  tire-c: { size: A, load_range: C, single: 1 lb, cold_pressure: 50 psi, diameter: 1 in, width: 1 in, age_limit_years: 1, kind: passenger, least_tread: 1.6 mm }\ncouplers:",
			"components/upper.yaml:2:3 line-repeated"},

		{"extends what is not there", tilt, "vin_code: TD202", "vin_code: TD202\nextends: dekc-28", "models/tilt-20.yaml:2:10 line-extends"},
		{"longer than nothing", tilt, "vin_code: TD202", "vin_code: TD202\nlonger: { by: 1 in, behind: 1 in, empty_weight: 1 lb, coupler_weight: 1 lb }", "models/tilt-20.yaml:2:9 line-longer"},

		{"unknown component", tilt, "{ use: ball-2 }", "{ use: bal-2 }", "models/tilt-20.yaml:12:19 line-component"},
		{"no jack", tilt, "  jack: { use: jack-one }\n", "", "models/tilt-20.yaml:1:11 line-trailer"},
		{"unknown component of an option", tilt, "{ use: plate }", "{ use: plaet }", "models/tilt-20.yaml:26:34 line-component"},
		{"requires an unknown option", tilt, "option: front-box, because: plate-on-box", "option: frontbox, because: plate-on-box", "models/tilt-20.yaml:28:19 line-option"},
		{"excludes an unknown option", tilt, "option: front-box, because: same-room", "option: frontbox, because: same-room", "models/tilt-20.yaml:31:19 line-option"},
		{"requires one of unknown options", deck, "any_of: [power-tilt]", "any_of: [power-tlit]", "models/deck-28.yaml:23:20 line-option"},
		{"group with an unknown option", deck, "[power-tilt, fixed-deck]", "[power-tilt, fixed]", "models/deck-28.yaml:34:33 line-option"},
		{"group of one", deck, "[power-tilt, fixed-deck]", "[power-tilt]", "models/deck-28.yaml:34:43 line-rule"},
		{"group with one twice", deck, "[power-tilt, fixed-deck]", "[power-tilt, power-tilt]", "models/deck-28.yaml:34:33 line-repeated"},
		{"group of two kinds", deck, "exactly_one: [power-tilt, fixed-deck]", "exactly_one: [power-tilt, fixed-deck], at_most_one: [spare, fixed-deck]", "models/deck-28.yaml:34:89 line-rule"},
		{"group of no kind", deck, "exactly_one: [power-tilt, fixed-deck], ", "", "models/deck-28.yaml:34:16 line-rule"},
		{"demand of both kinds", deck, "any_of: [power-tilt]", "option: spare, any_of: [power-tilt]", "models/deck-28.yaml:23:57 line-rule"},
		{"demand of nothing", deck, "any_of: [power-tilt], ", "", "models/deck-28.yaml:23:20 line-rule"},
		{"option that needs itself", deck, "any_of: [power-tilt]", "any_of: [deck-lock]", "models/deck-28.yaml:23:20 line-rule"},
		{"unknown place", tilt, "without: [holder]", "without: [hodler]", "models/tilt-20.yaml:40:15 line-place"},
		{"drops what the model lacks", tilt, "drops: [open-rear]", "drops: [gooseneck]", "models/tilt-20.yaml:41:13 line-feature"},

		{"no English", en, "", "", "line.yaml:3:7 line-text"},
		{"no name of a model", en, "  deck-28: { name: Deck 28, summary: A tilting trailer for tests. }\n", "", "line.yaml:11:19 line-text"},
		{"no name of an option", en, "  deck-lock: { name: Deck lock, describe: A clamp for the deck. }\n", "", "models/deck-28.yaml:21:3 line-text"},
		{"no name of a component", en, "  holder: Document holder\n", "", "components/upper.yaml:28:3 line-text"},
		{"no reason", en, "  same-room: both take the room at the front\n", "", "models/tilt-20.yaml:31:39 line-text"},
		{"no name of a material", en, "materials:\n  gravel: Gravel\n", "", "line.yaml:13:3 line-text"},
		{"words for nothing", en, "  holder: Document holder\n", "  holder: Document holder\n  holdre: x\n", "text/en.yaml:39:3 line-text"},
		{"words for nothing in another language", "text/es.yaml", "tilt-20", "tlit-20", "text/es.yaml:2:3 line-text"},

		{"maker code", "line.yaml", "wmi: 1B9", "wmi: 1BO", "line.yaml:5:6 line-vin"},
		{"no small maker code", "line.yaml", "small_maker: \"000\"\n", "", "line.yaml:5:6 line-vin"},
		{"small maker code", "line.yaml", `small_maker: "000"`, `small_maker: "00A"`, "line.yaml:6:14 line-vin"},
		{"small maker code of a large maker", "line.yaml", "wmi: 1B9", "wmi: 1B8", "line.yaml:6:14 line-vin"},
		{"model code", deck, "vin_code: GD282", "vin_code: GD28", "models/deck-28.yaml:1:11 line-vin"},
		{"model code of another", deck, "vin_code: GD282", "vin_code: TD202", "models/deck-28.yaml:1:11 line-vin"},
		{"stages that fall", running, "[25 lb-ft, 60 lb-ft, 100 lb-ft]", "[60 lb-ft, 25 lb-ft, 100 lb-ft]", "components/running.yaml:34:118 line-stages"},
		{"stages that stand", running, "[25 lb-ft, 60 lb-ft, 100 lb-ft]", "[25 lb-ft, 100 lb-ft, 100 lb-ft]", "components/running.yaml:34:129 line-stages"},
		{"stages that end early", running, "[25 lb-ft, 60 lb-ft, 100 lb-ft]", "[25 lb-ft, 60 lb-ft, 90 lb-ft]", "components/running.yaml:34:88 line-stages"},
		{"no stages", running, "[25 lb-ft, 60 lb-ft, 100 lb-ft]", "[]", "components/running.yaml:34:88 line-stages"},
		{"shares the wrong way round", tilt, "coupler_share_low: 10 percent", "coupler_share_low: 15 percent", "models/tilt-20.yaml:8:20 line-share"},
		{"share beyond all", tilt, "coupler_share_high: 15 percent", "coupler_share_high: 101 percent", "models/tilt-20.yaml:8:20 line-share"},

		{"electric discs", running, "kind: electric,", "kind: electric, form: disc,", "components/running.yaml:8:36 line-kind"},
		{"hydraulic brakes without a form", running, "kind: electric,", "kind: hydraulic,", "components/running.yaml:8:20 line-kind; components/running.yaml:8:57 line-kind; components/running.yaml:8:72 line-kind"},
		{"rating of nothing", running, "beam: 3500 lb", "beam: 0 lb", "components/running.yaml:5:11 line-figure"},
		{"rating below nothing", tilt, "gvwr: 6900 lb", "gvwr: -6900 lb", "models/tilt-20.yaml:4:7 line-figure"},
		{"pressure of nothing", running, "cold_pressure: 50 psi", "cold_pressure: 0 psi", "components/running.yaml:31:79 line-figure"},
		{"pressure with its point one place to the left", running, "cold_pressure: 50 psi", "cold_pressure: 5.0 psi", "components/running.yaml:31:79 line-plausible"},
		{"pressure with a zero too many", running, "cold_pressure: 110 psi", "cold_pressure: 1100 psi", "components/running.yaml:32:94 line-plausible"},
		{"pressure in the wrong unit", running, "max_pressure: 65 psi", "max_pressure: 65 kPa", "components/running.yaml:34:43 line-plausible"},
		{"torque with a zero too many", running, "torque: 100 lb-ft, stages: [25 lb-ft, 60 lb-ft, 100 lb-ft]", "torque: 1000 lb-ft, stages: [25 lb-ft, 60 lb-ft, 1000 lb-ft]", "components/running.yaml:34:88 line-plausible"},
		{"ball of no size", upper, "ball: 2 in", "ball: 2.5 in", "components/upper.yaml:2:31 line-plausible"},
		{"ball of 50 mm", upper, "ball: 2 in", "ball: 50 mm", ""},
		{"ball below the road", upper, "ball_height_low: 17 in", "ball_height_low: 1.7 in", "components/upper.yaml:2:89 line-plausible"},
		{"ring without its size", upper, "kind: ball, ball: 2 in,", "kind: pintle-ring, ring_section: 1.5 in, ring_height_low: 18 in, ring_height_high: 20 in,", "components/upper.yaml:2:19 line-kind; components/upper.yaml:2:155 line-kind; components/upper.yaml:2:180 line-kind; components/upper.yaml:2:194 line-kind"},
		{"coupler without its ball", upper, "ball: 2 in, ", "", "components/upper.yaml:2:19 line-kind"},
		{"a coupler that bears a third of what it pulls", upper, "vertical: 1000 lb", "vertical: 2000 lb", "components/upper.yaml:2:63 line-plausible"},
		{"a gooseneck coupler that bears half of it", upper, "vertical: 6000 lb", "vertical: 12000 lb", "components/upper.yaml:3:80 line-plausible"},
		{"a winch plate of a tenth of its weight", tilt, "weighs: 30 lb", "weighs: 3 lb", "models/tilt-20.yaml:24:13 line-plausible"},
		{"a winch plate of ten times what is usual", tilt, "weighs: 30 lb", "weighs: 450 lb", "models/tilt-20.yaml:24:13 line-plausible"},
		{"a winch plate as light as may be", tilt, "weighs: 30 lb", "weighs: 11.25 lb", ""}, // 0.005 x 9,000 lb / 4
		{"a winch plate lighter than that", tilt, "weighs: 30 lb", "weighs: 11.24 lb", "models/tilt-20.yaml:24:13 line-plausible"},
		{"a winch plate as heavy as may be", tilt, "weighs: 30 lb", "weighs: 360 lb", ""}, // times 8
		{"a winch plate heavier than that", tilt, "weighs: 30 lb", "weighs: 360.1 lb", "models/tilt-20.yaml:24:13 line-plausible"},
		{"an axle of an option at a wheel of another size", tilt, "parts: { winch-plate: { use: plate } }", "parts: { winch-plate: { use: plate }, axle-1: { use: axle-35, at: { x: 140 in, z: 24 in } } }", "models/tilt-20.yaml:26:87 line-plausible"},
		{"a jack whose motor draws as much as may be", upper, "kind: top-crank, count: 1, lift: 2000 lb, raises: clockwise", "kind: electric, count: 1, lift: 2000 lb, current: 66.6 A", ""},
		{"a jack whose motor draws more", upper, "kind: top-crank, count: 1, lift: 2000 lb, raises: clockwise", "kind: electric, count: 1, lift: 2000 lb, current: 66.7 A", "components/upper.yaml:5:65 line-plausible"},
		{"a jack whose motor draws as little as may be", upper, "kind: top-crank, count: 1, lift: 2000 lb, raises: clockwise", "kind: electric, count: 1, lift: 2000 lb, current: 5 A", ""},
		{"a jack whose motor draws less", upper, "kind: top-crank, count: 1, lift: 2000 lb, raises: clockwise", "kind: electric, count: 1, lift: 2000 lb, current: 4.9 A", "components/upper.yaml:5:65 line-plausible"},
		{"tires replaced when they are as old as may be", running, "least_tread: 1.6 mm }\n  tire-g", "least_tread: 1.6 mm, service: { replace-tires: { months: 72 } } }\n  tire-g", ""},
		{"tires replaced a month later", running, "least_tread: 1.6 mm }\n  tire-g", "least_tread: 1.6 mm, service: { replace-tires: { months: 73 } } }\n  tire-g", "components/running.yaml:31:219 line-care"},
		{"anchors of kind e-track as strong as may be", upper, "others:\n  holder: {}", "anchors:\n  holder: { kind: e-track, count: 4, working_load: 2500 lb }", ""},
		{"anchors of kind e-track stronger than that", upper, "others:\n  holder: {}", "anchors:\n  holder: { kind: e-track, count: 4, working_load: 2501 lb }", "components/upper.yaml:28:52 line-plausible"},
		{"anchors of kind stake-pocket as strong as may be", upper, "others:\n  holder: {}", "anchors:\n  holder: { kind: stake-pocket, count: 4, working_load: 5000 lb }", ""},
		{"anchors of kind stake-pocket stronger than that", upper, "others:\n  holder: {}", "anchors:\n  holder: { kind: stake-pocket, count: 4, working_load: 5001 lb }", "components/upper.yaml:28:57 line-plausible"},
		{"anchors of kind rub-rail as strong as may be", upper, "others:\n  holder: {}", "anchors:\n  holder: { kind: rub-rail, count: 4, working_load: 5000 lb }", ""},
		{"anchors of kind rub-rail stronger than that", upper, "others:\n  holder: {}", "anchors:\n  holder: { kind: rub-rail, count: 4, working_load: 5001 lb }", "components/upper.yaml:28:53 line-plausible"},
		{"anchors of kind transom-strap as strong as may be", upper, "others:\n  holder: {}", "anchors:\n  holder: { kind: transom-strap, count: 4, working_load: 3500 lb }", ""},
		{"anchors of kind transom-strap stronger than that", upper, "others:\n  holder: {}", "anchors:\n  holder: { kind: transom-strap, count: 4, working_load: 3501 lb }", "components/upper.yaml:28:58 line-plausible"},
		{"a panel that charges with as little as may be", upper, "others:\n  holder: {}", "solar_chargers:\n  holder: { output: 6.5 A, short_circuit: 10 A, open_voltage: 22 V, controller_current: 20 A, controller_voltage: 50 V, suits: both, voltage: 14.4 V, sun_hours: 4 h, sun_hours_winter: 4 h }", ""},
		{"a panel that charges with less", upper, "others:\n  holder: {}", "solar_chargers:\n  holder: { output: 6.4 A, short_circuit: 10 A, open_voltage: 22 V, controller_current: 20 A, controller_voltage: 50 V, suits: both, voltage: 14.4 V, sun_hours: 4 h, sun_hours_winter: 4 h }", "components/upper.yaml:28:21 line-plausible"},
		{"a winter sunnier than the summer", upper, "others:\n  holder: {}", "solar_chargers:\n  holder: { output: 6.5 A, short_circuit: 10 A, open_voltage: 22 V, controller_current: 20 A, controller_voltage: 50 V, suits: both, voltage: 14.4 V, sun_hours: 4 h, sun_hours_winter: 4.1 h }", "components/upper.yaml:28:185 line-plausible"},
		{"bunks as long as the hull", upper, "others:\n  holder: {}", "cradles:\n  holder: { kind: bunks, length: 200 in, boat_weight: 2000 lb, hull_length: 200 in }", "models/tilt-20.yaml:2:8 line-trailer"},
		{"bunks longer than the hull", upper, "others:\n  holder: {}", "cradles:\n  holder: { kind: bunks, length: 201 in, boat_weight: 2000 lb, hull_length: 200 in }", "components/upper.yaml:28:34 line-plausible; models/tilt-20.yaml:2:8 line-trailer"},
		{"an actuator for as heavy a trailer as may be", upper, "others:\n  holder: {}", "actuators:\n  holder: { kind: surge, brakes: drum, pressure: 1000 psi, fluid: dot-3, gross: 20000 lb, vertical: 4000 lb, coupler_share_low: 5 percent, travel: 1 in, reverse: pin }", ""},
		{"an actuator for a heavier one", upper, "others:\n  holder: {}", "actuators:\n  holder: { kind: surge, brakes: drum, pressure: 1000 psi, fluid: dot-3, gross: 20001 lb, vertical: 4000 lb, coupler_share_low: 5 percent, travel: 1 in, reverse: pin }", "components/upper.yaml:28:81 line-plausible"},
		{"an actuator that bears more than a fifth", upper, "others:\n  holder: {}", "actuators:\n  holder: { kind: surge, brakes: drum, pressure: 1000 psi, fluid: dot-3, gross: 20000 lb, vertical: 4001 lb, coupler_share_low: 5 percent, travel: 1 in, reverse: pin }", "components/upper.yaml:28:101 line-plausible"},
		{"a load lifted as heavy as there is", tilt, "gvwr: 6900 lb", "lift_limit: 4900 lb\ngvwr: 6900 lb", ""},
		{"a load lifted heavier than there is", tilt, "gvwr: 6900 lb", "lift_limit: 4901 lb\ngvwr: 6900 lb", "models/tilt-20.yaml:4:13 line-plausible"},
		{"two parts of one number", upper, "winch_plates:\n  plate: { rating: 9000 lb }\nracks:\n  rack-tall: { height: 48 in }", "winch_plates:\n  plate: { part_number: A-1, rating: 9000 lb }\nracks:\n  rack-tall: { part_number: A-1, height: 48 in }", "components/upper.yaml:18:29 line-repeated"},
		{"bulk without a dump box", tilt, "hauls: cargo", "hauls: bulk", "models/tilt-20.yaml:2:8 line-trailer"},
		{"an option that keeps what it weighs to itself", tilt, "    weighs: 90 lb\n", "", "models/tilt-20.yaml:29:3 line-figure"},
		{"an option whose connector weighs nothing to speak of", tilt, "weighs: 60 lb, center: 30 in, parts: { spare: { use: spare-mount } }", "parts: { connector: { use: plug-7 } }", ""},
		{"an option that makes the unit shorter and takes nothing away", tilt, "    center: 45 in\n    parts: { winch", "    center: 45 in\n    overall: { long: 19.9 ft, wide: 84 in, high: 36 in }\n    parts: { winch", "models/tilt-20.yaml:26:22 line-plausible"},
		{"an option with the size of the model", tilt, "    center: 45 in\n    parts: { winch", "    center: 45 in\n    overall: { long: 20 ft, wide: 84 in, high: 36 in }\n    parts: { winch", ""},
		{"a box that makes the unit as long as may be", tilt, "{ use: box-front, on: right } }", "{ use: box-front, at: { x: 16 in, y: -40 in, z: 24 in }, size: { long: 20 in, wide: 40 in, high: 14 in } } }, overall: { long: 244 in, wide: 88 in, high: 42 in }", ""}, // 240 and 4, 84 and 4, 24 + 14 and 4
		{"a box that makes the unit longer than that", tilt, "{ use: box-front, on: right } }", "{ use: box-front, at: { x: 16 in, y: -40 in, z: 24 in }, size: { long: 20 in, wide: 40 in, high: 14 in } } }, overall: { long: 245 in, wide: 88 in, high: 42 in }", "models/tilt-20.yaml:22:194 line-plausible"},
		{"gravel as light as may be", "line.yaml", "gravel: { density: 100", "gravel: { density: 99.75", ""}, // 0.95 x 105
		{"gravel lighter than that", "line.yaml", "gravel: { density: 100", "gravel: { density: 99.74", "line.yaml:13:22 line-plausible"},
		{"gravel as heavy as may be", "line.yaml", "gravel: { density: 100", "gravel: { density: 136.5", ""}, // 1.3 x 105
		{"gravel heavier than that", "line.yaml", "gravel: { density: 100", "gravel: { density: 136.6", "line.yaml:13:22 line-plausible"},
		{"six batteries", upper, "plan_cycles: 10, count: 1", "plan_cycles: 10, count: 6", ""},
		{"seven batteries", upper, "plan_cycles: 10, count: 1", "plan_cycles: 10, count: 7", "components/upper.yaml:24:71 line-plausible"},
		{"charging voltages that are upside down", upper, "plan_cycles: 10, count: 1", "plan_cycles: 10, count: 1, charge_voltage_low: 14.7 V, charge_voltage_high: 14.2 V", "components/upper.yaml:24:94 line-plausible"},
		{"spare of a tenth", upper, "{ mount: tongue }", "{ mount: tongue, weight: 6 lb }", "components/upper.yaml:20:41 line-plausible"},
		{"count of nothing", upper, "count: 1, lift", "count: 0, lift", "components/upper.yaml:5:39 line-figure"},
		{"height below nothing", upper, "{ height: 48 in }", "{ height: -48 in }", "components/upper.yaml:18:24 line-figure"},
		{"size below nothing", tilt, "high: 2 in", "high: -2 in", "models/tilt-20.yaml:19:95 line-figure"},
		{"part on the other side", tilt, "{ use: jack-one }", "{ use: jack-one, at: { x: 8 in, y: -9 in, z: 3 in }, size: { long: 5 in, wide: 5 in, high: 32 in }, on: left }", "models/tilt-20.yaml:13:113 line-plausible"},
		{"part across the middle", tilt, "{ use: jack-one }", "{ use: jack-one, at: { x: 8 in, y: -2 in, z: 3 in }, size: { long: 5 in, wide: 5 in, high: 32 in }, on: left }", ""},
		{"colour that is none", "line.yaml", "version:", "colors: { cover: green }\nversion:", "line.yaml:10:18 line-color"},
		{"words nobody can read", "line.yaml", "version:", "colors: { cover: \"#dddddd\" }\nversion:", "line.yaml:10:18 line-contrast"},
		{"dark words on a light field", "line.yaml", "version:", "colors: { cover: \"#dddddd\", words: \"#222222\" }\nversion:", ""},
		{"logo that is not there", "line.yaml", "version:", "logo: logo.svg\nversion:", "line.yaml:10:7 line-read"},
		{"logo outside the line", "line.yaml", "version:", "logo: ../logo.svg\nversion:", "line.yaml:10:7 line-read"},
		{"logo from the root", "line.yaml", "version:", "logo: /etc/passwd\nversion:", "line.yaml:10:7 line-read"},
		{"logo nobody names", "logo.png", "", "dots", "logo.png line-stray"},
		{"density of nothing", "line.yaml", "density: 100", "density: 0", "line.yaml:13:22 line-figure"},
		{"place before the coupler", tilt, "x: 48 in", "x: -48 in", ""},
		{"option that takes weight off", tilt, "weighs: 60 lb", "weighs: -60 lb", ""},
		{"weight without its place", tilt, "    center: 45 in\n", "", "models/tilt-20.yaml:24:13 line-figure"},

		{"axle without a rating", tilt, "gawr: [3500 lb, 3500 lb]\nempty", "gawr: [3500 lb]\nempty", "models/tilt-20.yaml:4:7 line-axles; models/tilt-20.yaml:38:12 line-axles"},
		{"option with too few ratings", deck, "gawr: [10000 lb, 10000 lb]", "gawr: [20000 lb]", "models/deck-28.yaml:29:12 line-axles"},
		{"service of an unknown task", running, "example-task: { months: 12 }", "exmaple-task: { months: 12 }", "components/running.yaml:4:16 line-task"},
		{"service without interval", running, "example-task: { months: 12 }", "example-task: {}", "components/running.yaml:4:16 line-task"},
		{"care as seldom as may be", running, "example-task: { months: 12 }", "grease-hubs: { months: 12 }", ""},
		{"care ten times too seldom", running, "example-task: { months: 12 }", "grease-hubs: { distance: 30000 mi, months: 13 }", "components/running.yaml:4:41 line-care; components/running.yaml:4:59 line-care"},
		{"miles written for loads", upper, "height: 48 in }", "height: 48 in, service: { grease-hinge: { loads: 3000 } } }", "components/upper.yaml:18:65 line-care"},
		{"task with distances it does not use", running, "trigger: interval,", "trigger: interval, at: [10 mi],", "components/running.yaml:38:11 line-task"},
		{"first miles without distances", running, "trigger: interval,", "trigger: first-miles,", "components/running.yaml:38:11 line-task"},
		{"system of its own", running, "system: frame,", "system: crane,", ""}, // a section of the maker's words shows its jobs
		{"market that is not covered", "line.yaml", "version:", "market: mars\nversion:", "line.yaml:10:9 value-wrong"},
		{"task switched off", "line.yaml", "version:", "switched_off: [{ task: grease-hubs, reason: the hubs are sealed, by: R. Alder }]\nversion:", ""},
		{"task switched off without a reason", "line.yaml", "version:", "switched_off: [{ task: grease-hubs, reason: sealed, by: R. Alder }]\nversion:", "line.yaml:10:45 line-switched-off"},
		{"unknown task switched off", "line.yaml", "version:", "switched_off: [{ task: grease-hub, reason: the hubs are sealed, by: R. Alder }]\nversion:", "line.yaml:10:24 line-switched-off"},
		{"task switched off on an unknown feature", "line.yaml", "version:", "switched_off: [{ task: grease-hubs, when: seald, reason: the hubs are sealed, by: R. Alder }]\nversion:", "line.yaml:10:43 line-feature"},
		{"own task that asks for more", "tasks.yaml", "", "- { id: grease-coupler, system: coupling, trigger: interval, at_most: { months: 3 } }", ""},
		{"own task done more seldom", "tasks.yaml", "", "- { id: grease-coupler, system: coupling, trigger: interval, at_most: { months: 7 } }", "tasks.yaml:1:9 line-switched-off"},
		{"own task for fewer units", "tasks.yaml", "", "- { id: grease-coupler, system: coupling, trigger: interval, at_most: { months: 3 }, when: gooseneck }", "tasks.yaml:1:9 line-switched-off"},
		{"own task with another trigger", "tasks.yaml", "", "- { id: check-chains, system: chains, trigger: after-storage }", "tasks.yaml:1:9 line-switched-off"},
		{"own task first due later", "tasks.yaml", "", "- { id: lug-torque-first, system: wheels, trigger: first-miles, at: [10 mi, 50 mi, 90 mi], values: [wheels.torque] }", "tasks.yaml:1:9 line-switched-off"},
		{"own task without a trained person", "tasks.yaml", "", "- { id: brake-service, system: brakes, trigger: interval, at_most: { distance: 36000 mi, months: 36 }, when: braked }", "tasks.yaml:1:9 line-switched-off"},
		{"task over an unknown feature", running, "when: flat-deck }", "when: flatdeck }", "components/running.yaml:38:65 line-feature"},
	}
	var provoked []string
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			files := smallFiles()
			switch old := files[tt.file]; {
			case old == nil:
				files[tt.file] = &fstest.MapFile{Data: []byte(tt.new)}
			case tt.old == "":
				delete(files, tt.file)
			default:
				if !strings.Contains(string(old.Data), tt.old) {
					t.Fatalf("%s does not hold %q", tt.file, tt.old)
				}
				files[tt.file] = &fstest.MapFile{Data: []byte(strings.Replace(string(old.Data), tt.old, tt.new, 1))}
			}
			line, findings := Load(files, "", derived, nil)
			var got []string
			for _, f := range findings {
				got = append(got, f.Pos.String()+" "+f.Code)
				provoked = append(provoked, f.Code)
			}
			if strings.Join(got, "; ") != tt.want {
				t.Errorf("got  %s\nwant %s\n%v", strings.Join(got, "; "), tt.want, findings)
			}
			if (line == nil) != (tt.want != "") {
				t.Errorf("with findings %v the line is %v", got, line)
			}
		})
	}
	for _, c := range Codes() {
		if c.ID != codeTextFallback.ID && c.ID != codeMarket.ID && !slices.Contains(provoked, c.ID) { // TestWords and TestMarket provoke those
			t.Errorf("no case provokes %s", c.ID)
		}
	}
}

// read returns a file of the small line.
func read(t *testing.T, name string) string { return string(smallFiles()[name].Data) }

func TestLineHints(t *testing.T) {
	files := smallFiles()
	files["models/tilt-20.yaml"].Data = []byte(strings.Replace(string(files["models/tilt-20.yaml"].Data), "ball-2", "bal-2", 1))
	_, findings := Load(files, "their/line/", derived, nil)
	if got, want := fmt.Sprint(findings[0].Pos, findings[0].Hints), `their/line/models/tilt-20.yaml:12:19 [did you mean "ball-2"?]`; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

func TestLineLimits(t *testing.T) {
	files := smallFiles()
	files["text/en.yaml"].Data = append(files["text/en.yaml"].Data, make([]byte, source.LineLimit)...)
	line, findings := Load(files, "small", derived, nil)
	if line != nil || len(findings) != 1 || findings[0].Code != "file-too-large" {
		t.Errorf("got %v, %v", line, findings)
	}
}

func TestWords(t *testing.T) {
	line := loadSmall(t)
	m, findings := line.ModelText("es", "tilt-20")
	if m.Name.Value != "Volquete 20" || findings != nil {
		t.Errorf("got %+v, %v", m, findings)
	}
	m, findings = line.ModelText("es", "deck-28")
	if m.Name.Value != "Deck 28" || len(findings) != 1 || findings[0].Code != "text-fallback" || findings[0].Severity != source.Error ||
		findings[0].Pos.String() != "small/text/en.yaml:3:3" {
		t.Errorf("got %+v, %v", m, findings)
	}
	o, findings := line.OptionText("fr", "spare")
	if o.Describe.Value != "A mount for a spare wheel." || len(findings) != 1 {
		t.Errorf("got %+v, %v", o, findings)
	}
	for name, got := range map[string]func() (string, source.Findings){
		"Front box":                             func() (string, source.Findings) { return line.ComponentName("en", "box-front") },
		"the plate bolts to the top of the box": func() (string, source.Findings) { return line.because("en", "plate-on-box") },
	} {
		if text, findings := got(); text != name || findings != nil {
			t.Errorf("got %q, %v; want %q", text, findings, name)
		}
	}
	if text, _ := line.ComponentName("fr", "spare"); text == "" || text != o.Name.Value {
		t.Errorf("a component with the id of an option is called %q; want %q", text, o.Name.Value)
	}
	if text, findings := line.because("en", "nobody-knows"); text != "" || findings != nil {
		t.Errorf("got %q, %v", text, findings)
	}
	if got := line.languages(); !slices.Equal(got, []string{"en", "es"}) {
		t.Errorf("languages %v", got)
	}
}

// Every task of the program that a component says how often is due has a longest interval.
func TestTasksHaveALongestInterval(t *testing.T) {
	line, _ := Load(smallFiles(), "", derived, nil)
	for _, task := range line.Tasks {
		if trigger := task.Trigger.Value; task.ID.At.File == "base/tasks.yaml" && (trigger == "interval" || trigger == "every-loads" || trigger == "age") && task.AtMost == nil {
			t.Errorf("%s: nothing says what is too seldom", task.ID.Value)
		}
	}
}

// A market that the program does not cover is told, and turns the units round.
func TestMarket(t *testing.T) {
	files := smallFiles()
	files["line.yaml"].Data = []byte(strings.Replace(string(files["line.yaml"].Data), "version:", "market: ca\nversion:", 1))
	l, findings := Load(files, "", derived, nil)
	if l == nil || len(findings) != 1 || findings[0].Code != codeMarket.ID || !strings.Contains(findings[0].Message, "Motor Vehicle Safety Regulations") {
		t.Fatalf("got %v", findings)
	}
	if l.Maker.Print().System != quantity.Metric || loadSmall(t).Maker.Print().System == quantity.Metric {
		t.Error("the units do not follow the market")
	}
}
