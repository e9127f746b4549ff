package derive

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"ownerguide/spec"
	"ownerguide/spec/quantity"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

// weighed is the hand-worked unit as it stood on the scale.
const weighed = "measured: { empty_weight: 5980 lb, tongue_weight: 890 lb }\n"

// The unit of the hand-worked band, from sheet and line to what the owner reads.
// The figures in the comments were worked on paper.
func TestHandWorkedUnit(t *testing.T) {
	vs, _ := unit{model: "hand-20", more: weighed}.evaluated(t)
	for _, c := range []struct{ name, want string }{
		{"weights.empty_basis", "measured"},
		{"weights.empty", "5,980 lb (2,713 kg)"},
		{"weights.cargo_capacity", "9,420 lb (4,272 kg)"}, // 15,400 - 5,980
		{"ratings.coverage", "15,540 lb (7,048 kg)"},      // 14,000 + 10 % of 15,400
		{"hitch.vertical_needed", "2,310 lb (1,048 kg)"},  // 15 % of 15,400
		{"hitch.tongue_range.full.low", "1,540 lb (699 kg)"},
		{"hitch.tongue_range.empty.high", "897 lb (406 kg)"}, // 15 % of 5,980
		{"hitch.ball", "2-5/16 in (58.7 mm)"},
		{"loading.cg_band.100.front", "113 in (2,871 mm)"}, // 188.54 behind the coupler, deck from 76
		{"loading.cg_band.100.rear", "130 in (3,302 mm)"},  // 206.68
		{"loading.cg_band.50.rear", "137 in (3,479 mm)"},   // 213.56
		{"loading.uplift", "−3,099 lb (−1,406 kg)"},        // 890 + 9,420 x (222 - 316)/222 = -3,098.65
		{"jack.margin", "419 %"},                           // 12,000 over 2,310
		{"tow_vehicle.licence_gvwr", "10,600 lb (4,808 kg)"},
		{"conspicuity.side_length", "161 in (4,090 mm)"},
		{"tires.margin", "16.5 %"}, // 8,160 over 7,000
		{"speed.limit", "75 mph (120 km/h)"},
		{"wheels.sequence", "1-5-3-7-2-6-4-8"},
		{"wheels.stage.2", "60 lb-ft (81 N·m)"},
		{"tires.tread_limit", "2/32 in (1.6 mm)"},
		{"law.placard", "571.120"},
		{"tiedown.full.each", "2,355 lb (1,069 kg)"}, // 9,420 / 4: at least, so 1,068.2 kg go up, though tiedown.quarter.weight is at most the same
	} {
		if got := shown(vs, c.name); got != c.want {
			t.Errorf("%s is %s, expected %s", c.name, got, c.want)
		}
	}
}

// What applies to some units only is absent elsewhere, and the reason is told.
func TestAbsentForOtherUnits(t *testing.T) {
	for _, c := range []struct{ model, name, why string }{
		{"one-12", "tow_vehicle.licence_gvwr", "not for this build"},
		{"one-12", "ratings.gawr.2", "not for this build"},
		{"one-12", "tow_vehicle.brakes", "not for this build"},
		{"box-16", "tiedown.full.count", "not for this build"},
		{"one-12", "tires.replace_by", "not for this build"},
		{"neck-28", "tow_vehicle.licence_gvwr", "no truck is rated as low"},
		{"hand-20", "tow_vehicle.licence_any", "light trucks are rated lower"},
		{"neck-28", "wheels.socket", "left out"},
		{"hand-20", "tiedown.machine.each", "no machine of 10000 lb"}, // it carries less
		{"box-16", "loading.even_load_off", "keeps the coupler weight right"},
	} {
		vs, _ := unit{model: c.model}.evaluated(t)
		if _, ok := vs.Lookup(c.name); ok || !strings.Contains(vs.WhyAbsent(c.name), c.why) {
			t.Errorf("%s: %s is %s", c.model, c.name, shown(vs, c.name))
		}
	}
}

// Dual wheels change tire rating, pressure, torque and the number of tires.
func TestDualWheels(t *testing.T) {
	vs, _ := unit{model: "neck-28", more: "options: [dual-wheels]\n"}.evaluated(t)
	for name, want := range map[string]string{
		"tires.capacity": "3,080 lb (1,397 kg)", "tires.per_axle": "4", "tires.capacity.axle": "12,320 lb (5,588 kg)",
		"tow_vehicle.licence_any": "27,000 lb (12,246 kg)", // 23,000 + 4,000; 12,246.99 kg, down
		"tires.cold_pressure":     "80 psi (552 kPa)", "wheels.torque": "200 lb-ft (271 N·m)", "wheels.capacity.axle": "13,200 lb (5,987 kg)",
	} {
		if got := shown(vs, name); got != want {
			t.Errorf("%s is %s, expected %s", name, got, want)
		}
	}
}

// A unit that was weighed and then changed is no longer measured; what came on
// counts 3 % heavier, what came off 3 % lighter.
func TestChangesSinceWeighing(t *testing.T) {
	const delivered = "delivered: 2026-11-30\n"
	for _, c := range []struct {
		more          string
		empty, tongue float64
		basis         string
	}{
		{weighed, 5980, 890, "measured"},
		// 160 lb at 40 in: 160 x (222 - 40)/222 = 131.17 lb on the coupler, 3 % more is 135.10.
		{weighed + delivered + "added: [{ option: front-box, date: 2027-02-01 }]\n", 5980 + 164.8, 890 + 135.10, "calculated"},
		{weighed + delivered + "options: [front-box]\nremoved: [{ option: front-box, date: 2027-02-01 }]\n", 5980 - 155.2, 890 - 127.24, "calculated"},
		// Never weighed: 3 % on everything.
		{"options: [front-box]\n", 1.03 * 6140, 1.03 * (890 + 131.17), "calculated"},
		// Empty weight alone: the coupler's share of it as worked out.
		{"measured: { empty_weight: 6000 lb }\n", 6000, 890.0 / 5980 * 6000, "measured"},
	} {
		vs, _ := unit{model: "hand-20", more: c.more}.evaluated(t)
		if got := exact(t, vs, "weights.empty"); math.Abs(got-c.empty) > 0.01 {
			t.Errorf("%s: empty %.2f, expected %.2f", c.more, got, c.empty)
		}
		if got := exact(t, vs, "weights.coupler_empty"); math.Abs(got-c.tongue) > 0.01 {
			t.Errorf("%s: on the coupler %.2f, expected %.2f", c.more, got, c.tongue)
		}
		if got := shown(vs, "weights.empty_basis"); got != c.basis {
			t.Errorf("%s: %s", c.more, got)
		}
	}
}

// The oldest tire decides: code 3425 is the week of Sunday August 24, 2025 (the
// first Sunday of that year is January 5), and six years on the owner replaces it.
func TestReplaceBy(t *testing.T) {
	vs, _ := unit{model: "one-12", more: "fitted: { tires: [{ place: left, dot: \"3426\" }, { place: right, dot: \"U9AB CDEF 3425\" }] }\n"}.evaluated(t)
	if got := shown(vs, "tires.replace_by"); got != "2031-08-24" {
		t.Errorf("replace by %s", got)
	}
}

// The chain that is printed for the engineer ends at what a person wrote.
func TestCargoCapacityExplainsItself(t *testing.T) {
	vs, _ := unit{model: "hand-20", more: weighed}.evaluated(t)
	if got := chain(vs, "weights.cargo_capacity"); got != `weights.cargo_capacity
  ratings.gvwr
    gvwr 15400 lb rated/models/hand-20.yaml:5:7
  weights.empty
    measured.empty_weight 5980 lb sheet.yaml:8:27
` {
		t.Errorf("got\n%s", got)
	}
	vs, _ = unit{model: "hand-20", more: "options: [front-box, heavy-duty]\n"}.evaluated(t)
	if got := chain(vs, "weights.cargo_capacity"); got != `weights.cargo_capacity
  ratings.gvwr
    options.heavy-duty.gvwr 15800 lb rated/models/hand-20.yaml:30:23
  weights.empty
    weights.empty_calculated
      empty_weight 5980 lb rated/models/hand-20.yaml:7:15
      options.front-box.weighs 160 lb rated/models/hand-20.yaml:29:24
      options.heavy-duty.weighs 40 lb rated/models/hand-20.yaml:30:67
` {
		t.Errorf("got\n%s", got)
	}
}

// chain prints a value's inputs down to the entries.
func chain(vs *Values, name string) string {
	var b strings.Builder
	var walk func(name, indent string)
	walk = func(name, indent string) {
		b.WriteString(indent + name + "\n")
		v, _ := vs.Lookup(name)
		for _, in := range v.Inputs {
			if in.Name != "" {
				walk(in.Name, indent+"  ")
				continue
			}
			fmt.Fprintf(&b, "%s  %s %s %s\n", indent, in.Path, in.Text, in.At)
		}
	}
	walk(name, "")
	return b.String()
}

// A label with fewer ratings than axles cannot come out of a line that loads,
// but must not pass either.
func TestAxleCount(t *testing.T) {
	b := unit{model: "hand-20"}.built(t)
	m := *b.Model
	m.GAWR = m.GAWR[:1]
	b.Model = &m
	_, findings := Evaluate(b)
	if !slices.ContainsFunc(findings, func(f source.Finding) bool { return f.Code == "rating-axle-count" }) {
		t.Errorf("got %v", findings)
	}
}

// A limit over a value that is absent is an error: a check that was not made
// must not look like one that was passed.
func TestUncheckedLimitIsAnError(t *testing.T) {
	b := unit{model: "hand-20"}.built(t)
	line := *b.Line
	line.Tasks = nil // the small line gives no intervals, which is an error of its own
	b.Line = &line
	b = b.WithParts(b.PartsWhere(func(p *spec.Fitting) bool { return p.Kind != "jack" }))
	_, findings := Evaluate(b)
	for _, f := range findings {
		if f.Code == "rating-jack" && f.Severity == source.Error && strings.Contains(f.Message, "the unit has no jack") {
			return
		}
	}
	t.Errorf("got %v", findings)
}

// The place in the band, put back into the lever law, keeps every constraint;
// just outside it breaks one.
func TestBandKeepsTheStatics(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		weight := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		s := statics{empty: weight("empty", 800, 9000), center: weight("center", 100, 330)}
		s.tongue = s.empty * weight("share", 0.08, 0.28)
		s.tongueLeast = s.tongue * weight("least", 0.95, 1)
		s.shareLow = weight("low", 0.05, 0.2)
		s.shareHigh = s.shareLow + weight("more", 0.02, 0.15)
		cargo := weight("cargo", 200, 16000)
		s.vertical = weight("vertical", 300, 7000)
		s.axles = weight("axles", 2000, 24000)
		s.front = weight("front", 30, 90)
		s.rear = s.front + weight("deck", 100, 340)
		front, rear, ok := s.band(cargo)
		if !ok {
			if front <= rear {
				t.Fatalf("no band, yet %g to %g", front, rear)
			}
			return
		}
		const slack = 1e-6
		keeps := func(x float64) bool {
			total, least := s.empty+cargo, s.onCoupler(cargo, x)
			most := least + s.tongue - s.tongueLeast
			return least >= s.shareLow*total-slack && most <= s.shareHigh*total+slack && most <= s.vertical+slack &&
				total-least <= s.axles+slack && s.front-slack <= x && x <= s.rear+slack && x <= s.center+slack
		}
		for _, x := range []float64{front, (front + rear) / 2, rear} {
			if !keeps(x) {
				t.Errorf("%+v with %g lb at %g in breaks a constraint", s, cargo, x)
			}
		}
		for _, x := range []float64{front - 0.01, rear + 0.01} {
			if keeps(x) {
				t.Errorf("%+v with %g lb at %g in keeps all, but lies outside %g to %g", s, cargo, x, front, rear)
			}
		}
	})
}

// Every stud once; from five on no stud after its neighbour; on an even circle
// each pair of the order is opposite.
func TestStarOrder(t *testing.T) {
	for n := 4; n <= 10; n++ {
		order := starOrder(n)
		sorted := slices.Sorted(slices.Values(order))
		for i, stud := range sorted {
			if stud != i+1 || len(sorted) != n {
				t.Fatalf("%d studs: %v", n, order)
			}
		}
		for i := 1; i < n && n >= 5; i++ {
			if apart := (order[i] - order[i-1] + n) % n; apart == 1 || apart == n-1 {
				t.Errorf("%d studs: %d follows its neighbour %d in %v", n, order[i], order[i-1], order)
			}
		}
		for i := 0; n%2 == 0 && i < n; i += 2 {
			if order[i+1]-order[i] != n/2 && order[i]-order[i+1] != n/2 {
				t.Errorf("%d studs: %d is not opposite %d", n, order[i+1], order[i])
			}
		}
	}
}

// Over random units a printed capacity is never above the exact figure, a
// printed demand never below it, and the printed band lies within the exact one.
func TestPrintedOnTheSafeSide(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		model := rapid.SampledFrom([]string{"hand-20", "neck-28", "one-12", "car-18", "box-16"}).Draw(t, "model")
		spread := map[string][2]float64{"hand-20": {5700, 6400}, "neck-28": {7000, 8200}, "one-12": {900, 1200}, "car-18": {2000, 2600}, "box-16": {6000, 7000}}[model]
		more := ""
		if rapid.Bool().Draw(t, "weighed") {
			empty := rapid.Float64Range(spread[0], spread[1]).Draw(t, "empty")
			more = fmt.Sprintf("measured: { empty_weight: %.2f lb, tongue_weight: %.2f lb }\n", empty, empty*rapid.Float64Range(0.1, 0.22).Draw(t, "tongue"))
		}
		vs, _ := unit{model: model, more: more}.evaluated(t)
		printedSafely(t, model, vs)
	})
}

// printedSafely compares every printed figure of a unit with the exact one.
func printedSafely(t interface{ Errorf(string, ...any) }, unit string, vs *Values) {
	for _, system := range []quantity.System{quantity.US, quantity.Metric} {
		for _, v := range vs.All() {
			x, ok := v.Exact.(quantity.Quantity)
			if !ok {
				continue
			}
			number, symbol := quantity.Print{System: system}.Rounded(x, v.Round)
			off := number - quantity.In(x, symbol)
			noise := 1e-6 * max(1, math.Abs(number))
			if v.Round.Side == quantity.Down && off > noise || v.Round.Side == quantity.Up && off < -noise {
				t.Errorf("%s %s: %g %s printed for %g", unit, v.Name, number, symbol, number-off)
			}
		}
	}
}

// The line that comes with the program keeps every limit of these systems, with
// each option it offers alone and with none.
func TestEmbeddedLineIsSound(t *testing.T) {
	line, findings := spec.LoadLine(os.DirFS("../line"), "line")
	if line == nil || findings.HasErrors() {
		t.Fatalf("line: %v", findings)
	}
	units := 0
	for _, m := range line.Models {
		for _, option := range append([]string{""}, m.Options.Names()...) {
			data := fmt.Sprintf("serial: E-1\nvin: 1B9%s0VM000142\nmodel: %s\nmodel_year: 2027\nbuilt: 2026-11-12\nissued: 2026-11-20\nrevision: A\noptions: [%s]\n", m.VINCode.Value, m.ID, option)
			s, _ := sheet.Read("sheet.yaml", []byte(data)) // its vin is short, which is another test's matter
			b, _ := spec.Resolve(line, s)
			if b == nil {
				continue // not an order by itself
			}
			units++
			vs, findings := Evaluate(b)
			printedSafely(t, m.ID+" "+option, vs)
			for _, f := range ofRated(findings) {
				if f.Severity == source.Error {
					t.Errorf("%s with %q: %s: %s [%s]", m.ID, option, f.Pos, f.Message, f.Code)
				}
			}
		}
	}
	if units < len(line.Models) {
		t.Errorf("only %d units could be built", units)
	}
}

// What is a capacity and what a demand is decided here a second time, from the
// names alone, and held against the declarations.
func TestSidesOfRounding(t *testing.T) {
	sides := map[quantity.Side][]string{
		quantity.Down: {"weights.cargo_capacity", "ratings.gawr.total", "hitch.tongue_range.full.high", "tires.capacity.axle", "tires.margin", "speed.limit",
			"ratings.gvwr", "ratings.gawr.1", "ratings.coupler", "tires.capacity", "chains.breaking", "jack.lift", "loading.cg_band.100.rear", "loading.uplift", "tow_vehicle.licence_gvwr", "tiedown.full.weight", "tiedown.chain_counted", "jack.capacity"},
		quantity.Up: {"weights.empty", "hitch.rating_needed", "hitch.vertical_needed", "hitch.tongue_range.full.low", "loading.cg_band.100.front", "loading.ramp_angle",
			"height.overall", "width.overall", "length.overall", "conspicuity.side_length", "tiedown.full.wll_needed", "tiedown.full.each"},
		quantity.Nearest: {"tires.cold_pressure", "wheels.torque"},
	}
	for side, names := range sides {
		for _, name := range names {
			d, ok := declarations[name]
			if !ok {
				t.Errorf("%s is not declared", name)
			} else if d.Round.Side != side {
				t.Errorf("%s is rounded %s, expected %s", name, d.Round.Side, side)
			}
		}
	}
	for _, name := range []string{"ratings.gvwr", "ratings.gawr.1", "ratings.coupler", "tires.cold_pressure", "tires.capacity", "wheels.torque", "chains.breaking", "jack.lift"} {
		if d := declarations[name]; !d.Round.Stated {
			t.Errorf("%s is rounded %s, expected as stated", name, d.Round.How())
		}
	}
}

// Every declared value says where it comes from, and in words how.
func TestDeclarationsAreComplete(t *testing.T) {
	for _, d := range Declared() {
		if d.Formula == "" || d.Source.String() == "" {
			t.Errorf("%s: formula %q, source %q", d.Name, d.Formula, d.Source)
		}
	}
}

// A value of the sheet at fault must never bring the program down.
func FuzzDateCode(f *testing.F) {
	for _, code := range []string{"3426", "0109", "5325", "U9AB CDEF 3425", "", "０１０９", "12\x0034"} {
		f.Add(code)
	}
	f.Fuzz(func(t *testing.T, code string) {
		day, err := dateCode(code)
		if err != nil {
			return
		}
		if day.Time().Weekday() != 0 || day.Year < 2000 || day.Year > 2099 {
			t.Errorf("%q is %s", code, day)
		}
	})
}
