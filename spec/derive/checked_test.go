package derive

import (
	"cmp"
	"fmt"
	"math"
	"path"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"ownerguide/spec"
	"ownerguide/spec/line"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
	"ownerguide/spec/testenv"
)

// askedAlone names the kinds of published figures that ask a function of this package
// which is the whole arithmetic of a formula, by the values that have that formula; a
// star stands for anything. All other formulas are held by figures of whole units.
var askedAlone = map[string][]string{
	"spare.diameter_off":       {"spare.diameter_off"},
	"axles.uneven":             {"axles.uneven"},
	"battery.amp_hours":        {"battery.cycles_per_charge"},
	"battery.freezes":          {"battery.state.*.freezing"},
	"battery.hold":             {"breakaway.hold_time.*", "battery.cycles_per_charge"},
	"battery.recharge":         {"battery.recharge_flat", "battery.recharge_time"},
	"battery.voltage":          {"battery.state.*.voltage"},
	"boat.held":                {"boat.straps_counted"},
	"boat.pull":                {"boat.winch_needed"},
	"boat.shift":               {"boat.shift_most", "boat.shift_weight"},
	"brakes.charging":          {"brakes.current_charging"},
	"brakes.current":           {"brakes.current"},
	"brakes.unbraked_tow":      {"tow_vehicle.axles_unbraked"},
	"chain.wll":                {"chains.wll", "tiedown.chain_wll", "tiedown.heavy_chain_wll"},
	"charging.days":            {"solar.refill_days.*"},
	"charging.usable":          {"battery.usable"},
	"clearance.breakover":      {"clearance.breakover_angle"},
	"geometry.ground":          {"tilt.ground_angle"},
	"geometry.highest":         {"raised.height"},
	"hydraulics.area":          {"cylinder.area", "cylinder.rod_side_area"},
	"hydraulics.buckling":      {"cylinder.buckling_load"},
	"hydraulics.hinge":         {"hinge.load"},
	"hydraulics.lock":          {"lock.load", "lock.pump_load"},
	"loading.clear_above":      {"height.load"},
	"hydraulics.motor_share":   {"hydraulics.efficiency"},
	"hydraulics.prop_pressure": {"prop.pump_pressure"},
	"hydraulics.pull_pressure": {"cylinder.pressure_at_load"},
	"hydraulics.push":          {"cylinder.buckling_needed"},
	"hydraulics.shut":          {"hydraulics.rod_side_pressure", "cylinder.pressure_at_load"},
	"hydraulics.volume":        {"hydraulics.volume", "hydraulics.volume_lower"},
	"kingpin.least":            {"hitch.kingpin_least"},
	"lamps.required":           {"lamps.required"},
	"lamps.tape_side":          {"conspicuity.side_length"},
	"law.carrier":              {"law.carrier_gvwr"},
	"law.licence":              {"tow_vehicle.licence_any", "tow_vehicle.licence_gvwr"},
	"loading.slope":            {"clearance.departure_angle", "loading.dovetail_angle"},
	"loading.support_force":    {"stabilizers.load"},
	"ring.least":               {"hitch.ring_least"},
	"stock.heads":              {"stock.head.*"},
	"surge.tow":                {"tow_vehicle.gvwr_surge"},
	"tiedown.by_rule":          {"tiedown.*.rule_count"},
	"tiedown.by_strength":      {"tiedown.*.count", "tiedown.*.chain_count", "tiedown.*.heavy_chain_count", "tiedown.strap_counted"},
	"tire.diameter":            {"tires.diameter_by_size"},
	"tire.pressed":             {"tires.pressed_share"},
	"viscosity.temperature":    {"hydraulics.start_limit"},
	"viscosity.at":             {"hydraulics.start_limit"},
	"weight.band_front":        {"loading.cg_band.*.front"},
	"weight.band_rear":         {"loading.cg_band.*.rear"},
	"weight.jack":              {"jack.capacity", "jack.static"},
	"weight.at":                {"jack.load"},
	"weight.on_coupler":        {"loading.uplift"},
	"weight.ramp_angle":        {"loading.ramp_angle"},
	"winch.duty":               {"winch.duty_share"},
	"winch.layer_pull":         {"winch.pull_last"},
	"winch.slope_pull":         {"winch.load_up"},
	"wire.drop":                {"wiring.*_drop"},
}

// figureOfUnit works out a figure of a whole unit. In: a model of one of the small
// lines or of the embedded one, further entries of its sheet, the value, its unit;
// then texts of the line, each followed by what stands for it.
func figureOfUnit(t *testing.T, in []string) (string, error) {
	name, symbol := in[2], in[3]
	unit := strings.Join(slices.Concat(in[:2], in[4:]), "\n")
	if figuresOf[unit] == nil {
		figuresOf[unit] = valuesOfUnit(t, in[0], in[1], in[4:])
	}
	vs := figuresOf[unit]
	v, ok := vs.Lookup(name)
	if !ok {
		return none, nil
	}
	q, ok := v.Exact.(quantity.Quantity)
	if !ok {
		return fmt.Sprint(v.Exact), nil
	}
	one, ok := readAs(q, "1 "+symbol)
	if !ok {
		return "", fmt.Errorf("%s is not in %s", name, symbol)
	}
	return strconv.FormatFloat(q.Base()/one, 'g', -1, 64), nil
}

// figuresOf are the figures of units that were asked for before.
var figuresOf = map[string]*Values{}

func valuesOfUnit(t *testing.T, model, entries string, swaps []string) *Values {
	var swap [][2]string
	var edits []edit
	for pair := range slices.Chunk(swaps, 2) {
		swap, edits = append(swap, [2]string{pair[0], pair[1]}), append(edits, edit{pair[0], pair[1]})
	}
	var b *spec.Build
	switch model {
	case "hand-20", "neck-28", "one-12", "car-18", "box-16":
		b = unit{model, entries + "\n", swap}.built(t)
	case "tilt-16", "box-12":
		b = rising(t, bareSheet(model)+entries+"\n", edits...)
	default:
		l, _ := embedded(t)
		if len(swap) > 0 {
			files := testenv.Files(line.Files)
			for _, s := range swap {
				if !testenv.Replace(files, s[0], s[1]) {
					t.Fatalf("the line does not hold %q", s[0])
				}
			}
			var findings source.Findings
			if l, findings = spec.LoadLine(files, "line"); l == nil {
				t.Fatal(findings)
			}
		}
		options := strings.Trim(strings.TrimPrefix(entries, "options: "), "[]")
		b, _ = spec.Resolve(l, orderable(t, l, l.Model(model), strings.Fields(options)))
	}
	vs, _ := Evaluate(b)
	return vs
}

// plain tells whether a figure is no more than one of those it was worked out
// from, how many they are, their sum or their product; a word, whether it is made of
// theirs, or stands in a table that is from memory and says so.
func plain(vs *Values, v *Value) bool {
	own, number := baseOf(v.Exact)
	if !number {
		of := fmt.Sprint(v.Exact)
		return v.Source.Basis == Memory || !slices.ContainsFunc(v.Inputs, func(in Input) bool {
			words := in.Text
			if from, known := vs.Lookup(in.Name); known {
				words = from.Print(vs.run.build.Print())
			}
			return !strings.Contains(of, words)
		})
	}
	var sum, product, count float64 = 0, 1, 0
	equal := func(x float64) bool { return math.Abs(x-own) <= same*math.Abs(own) }
	for _, in := range v.Inputs {
		x, ok := 0.0, false
		if from, known := vs.Lookup(in.Name); known {
			x, ok = baseOf(from.Exact)
		} else {
			x, ok = readAs(v.Exact, in.Text)
		}
		if ok {
			sum, product, count = sum+x, product*x, count+1
			if equal(x) {
				return true
			}
		}
	}
	return equal(float64(len(v.Inputs))) || count > 0 && (equal(sum) || equal(product)) || len(v.Inputs) == 0
}

func baseOf(exact any) (float64, bool) {
	x, _ := figure{exact: exact}.number()
	return x, !math.IsNaN(x)
}

// readAs reads an entry as a figure of the kind another one is of, or as a plain number.
func readAs(like any, text string) (float64, bool) {
	if p, ok := reflect.New(reflect.TypeOf(like)).Interface().(interface {
		ParseScalar(string) error
		Base() float64
	}); ok && p.ParseScalar(text) == nil {
		return p.Base(), true
	}
	x, err := strconv.ParseFloat(text, 64)
	return x, err == nil
}

// alike are values that one function declares, whose formulas differ in a name or a share.
var alike = []string{"breakaway.margin.*", "tiedown.*.each", "tiedown.*.weight", "tiedown.*.wll_needed"}

// formulaOf tells values of one formula: by its words, or by what is alike.
func formulaOf(d Decl) string {
	for _, values := range alike {
		if ok, _ := path.Match(values, d.Name); ok {
			return values
		}
	}
	return d.Formula
}

// Each formula that is more than a copy, a sum or a product of what it rests on is
// held by two figures at least that this program did not make: published, or
// worked out by hand. What is merely remembered or usual does not count. Values
// whose formulas read alike have one formula.
func TestEachFormulaIsCheckedTwice(t *testing.T) {
	worked, names := map[string]bool{}, map[string][]string{} // by formula
	for _, d := range Declared() {
		names[formulaOf(d)] = append(names[formulaOf(d)], d.Name)
	}
	look := func(vs *Values) {
		for _, v := range vs.All() {
			formula := formulaOf(*v.Decl)
			worked[formula] = worked[formula] || !plain(vs, v)
		}
	}
	l, _ := embedded(t)
	for _, m := range l.Models {
		b, _ := spec.Resolve(l, orderable(t, l, m, anOrder(l.Problem(m).Each)))
		vs, _ := Evaluate(b)
		look(vs)
	}
	files, _ := filepath.Glob("../../testdata/sheets/*.yaml")
	for _, file := range files {
		vs, _ := slippedValues(t, strings.TrimSuffix(strings.TrimPrefix(filepath.Base(file), "BW-27-"), ".yaml"), slip{}, slip{})
		look(vs)
	}
	checks := map[string]int{} // by value or pattern of values
	for _, topic := range readPublished(t) {
		for _, c := range topic.Checks {
			switch {
			case c.Known != "read" && c.Known != "computed":
			case c.Kind == "figure":
				checks[cmp.Or(FamilyOf(c.In[2]), c.In[2])]++
			default:
				for _, value := range askedAlone[c.Kind] {
					checks[value]++
				}
			}
		}
	}
	for formula, names := range names {
		count := 0
		for value, n := range checks {
			if slices.ContainsFunc(names, func(name string) bool { ok, _ := path.Match(value, name); return ok }) {
				count += n
			}
		}
		if worked[formula] && count < 2 {
			t.Errorf("%s: %d figures from outside this program; expected at least 2 in testdata/published", strings.Join(names, ", "), count)
		}
	}
}

// What askedAlone names is there.
func TestAskedAlone(t *testing.T) {
	for kind, values := range askedAlone {
		if kinds[kind] == nil {
			t.Errorf("nothing answers the kind %s", kind)
		}
		for _, value := range values {
			if !slices.ContainsFunc(Declared(), func(d Decl) bool { ok, _ := path.Match(value, d.Name); return ok }) {
				t.Errorf("%s: no value is declared as %s", kind, value)
			}
		}
	}
}
