package derive

import (
	"math"
	"strings"
	"testing"

	"ownerguide/spec"
	"ownerguide/spec/quantity"
)

// Figures of the tilting unit of the small line, each worked out by hand or by
// another way than the package takes.
func TestRisingValues(t *testing.T) {
	tilt, _ := Evaluate(rising(t, tiltSheet))
	box, _ := Evaluate(rising(t, boxSheet))
	near, _ := Evaluate(rising(t, boxSheet, edit{"prop: { use: prop, at: { x: 110 in", "prop: { use: prop, at: { x: 150 in"}))
	tests := []struct {
		vs         *Values
		name, want string
	}{
		{tilt, "brakes.count", "4"},
		{tilt, "brakes.magnets", "4"},
		{tilt, "brakes.current", "15.0 A"},                // 4 × 12 / 3.2
		{tilt, "brakes.magnet_resistance", "3.2 Ω"},       // as the axle maker states it
		{tilt, "brakes.lining_limit", "2/32 in (1.6 mm)"}, // as the axle maker states it
		{tilt, "breakaway.battery", "12 Ah"},
		{tilt, "breakaway.hold_least", "15 min"},
		{tilt, "breakaway.hold_time", "22.9 min"},           // 1200 min × (9.6/300)^1.15
		{tilt, "breakaway.hold_time.new", "29.6 min"},       // 1200 × (12/300)^1.15
		{tilt, "breakaway.hold_time.aged_cold", "16.4 min"}, // 1200 × (7.2/300)^1.15 = 16.46, down
		{tilt, "breakaway.flat_within", "60 min"},           // 12 Ah / 15 A = 48 min, up to half hours
		{tilt, "breakaway.replace_by", "2029-01-10"},
		{tilt, "connector.kind", "seven-blade"},
		{tilt, "connector.pin.3.function", "brake"},
		{tilt, "connector.pin.3.place", "5 o'clock"},
		{tilt, "wiring.brake_drop", "7.5 %"},
		{tilt, "electrical.fuse.lamps", "10 A"},
		{tilt, "hydraulics.fluid", "ISO VG 32"},
		{tilt, "hydraulics.volume", "0.56 gal (2.2 L)"},           // 2 × 7.0686 × 9 / 231 = 0.5508, up
		{tilt, "hydraulics.reservoir_fall", "0.14 gal (0.6 L)"},   // two rods of 1.767 in² × 9 in
		{tilt, "hydraulics.reservoir_needed", "0.18 gal (0.7 L)"}, // 0.1377 / 0.8
		{tilt, "hydraulics.start_limit", "17 °F (−8 °C)"},         // 35.2 mm²/s at 40 °C, 5.4 at 100: 1,000 at −8.59 °C
		{tilt, "hydraulics.rod_side_pressure", "2,934 psi (20,230 kPa)"},
		{tilt, "hydraulics.hose_replace_by", "2032-01-10"},
		{tilt, "tilt.ground_angle", "16.4° (16.4°)"},
		{tilt, "battery.state.50.voltage", "12.24 V"},
		{tilt, "battery.state.50.freezing", "−5 °F (−20 °C)"},
		{tilt, "battery.state.0.freezing", "20 °F (−5 °C)"},
		{tilt, "battery.recharge_time", "12 h"},     // 50 / 5 / 0.85 = 11.8
		{tilt, "battery.recharge_flat", "24 h"},     // 100 / 5 / 0.85 = 23.5
		{tilt, "brakes.current_charging", "17.5 A"}, // 4 × 14 / 3.2
		{tilt, "tiedown.attachment_rings", "4"},     // eight rings less one at each corner
		// (4,000 lb × 65 in − 2,000 lb × 15 in) ÷ (2 × 5.301 in² × 43.49 in), the arm by
		// turning the head of the cylinder about the hinge in steps, as vectors.
		{tilt, "prop.pump_pressure", "498 psi (3,433 kPa)"},
		{tilt, "lines.clearance", "10 ft (3.048 m)"},
		{tilt, "stabilizers.rating", "4,000 lb (1,814 kg)"},
		{box, "battery.state.50.voltage", "12.3 V"},
		{box, "dump.side_height", "24 in (609 mm)"},
		// Cargo 9,262 lb (4,600 lb + 3 % off 14,000) over 105 lb/ft³ and 72 ft² is 14.7 in.
		{box, "dump.fill_depth.gravel", "14 in (350 mm)"},
		{box, "dump.fill_depth.top_soil", "19 in (480 mm)"},
		// A prop 80 in from the hinge, beyond the centre of the body at 68 in,
		// bears no more than its weight; one at 40 in bears 68/40 of it.
		{box, "prop.load", "2,000 lb (910 kg)"},
		{near, "prop.load", "3,400 lb (1,545 kg)"},
	}
	for _, test := range tests {
		if got := printed(t, test.vs, test.name); got != test.want && got+" ("+got+")" != test.want {
			t.Errorf("%s is %s, want %s", test.name, got, test.want)
		}
	}
	if v, ok := box.Lookup("battery.state.0.voltage"); ok {
		t.Errorf("an AGM battery has a rest voltage for empty, %v, which nobody publishes", v.Exact)
	}
	if _, ok := box.Lookup("battery.state.50.freezing"); ok {
		t.Error("an AGM battery has a freezing point, though no specific gravity is published for it")
	}
}

// Heights that a person measures in place of an angle, worked out by hand for
// units of the embedded line: the hinge's height, the distance of the front edge
// ahead of it times the sine, and its height above it times the cosine.
func TestFrontEdge(t *testing.T) {
	l, findings := embedded(t)
	if l == nil {
		t.Fatal(findings)
	}
	for _, test := range []struct {
		model, option, name string
		want                float64
	}{
		{"dump-14", "spreader-gate", "gate.spread_height", 98.94}, // 26 + 164 × 0.42262 + 4 × 0.90631
		{"dump-14", "spreader-gate", "prop.height", 111.46},       // 26 + 164 × 0.50000 + 4 × 0.86603
		{"deck-28", "power-tilt", "prop.height", 77.13},           // 33 + 221 × 0.19081 + 2 × 0.98163
	} {
		b, _ := spec.Resolve(l, orderable(t, l, l.Model(test.model), []string{test.option}))
		vs, _ := Evaluate(b)
		if got := float64(figureOf[quantity.Length](t, vs, test.name)); math.Abs(got-test.want) > 0.01 {
			t.Errorf("%s: %s is %v in, want %v in", test.model, test.name, got, test.want)
		}
	}
	driven, _ := Evaluate(rising(t, tiltSheet+strings.Replace(use, "loads_per_week: 6", "loads_per_week: 6, driven_already: 620 mi", 1)))
	if got := printed(t, driven, "use.driven_already"); got != "620 mi (998 km)" {
		t.Errorf("a sheet that says 620 mi prints %s", got)
	}
}

// Angles and heights against the same found by turning the head pin about the
// hinge until the pins are as far apart as the cylinder is long.
func TestRisingGeometry(t *testing.T) {
	tilt, _ := Evaluate(rising(t, tiltSheet))
	box, _ := Evaluate(rising(t, boxSheet))
	for _, test := range []struct {
		vs   *Values
		name string
		want float64
	}{
		{tilt, "tilt.cylinder_angle", turnUntil(spot{75, -14}, spot{50, 1}, 38)},
		{box, "dump.angle", turnUntil(spot{110, -10}, spot{60, 2}, 87)},
	} {
		if got := float64(figureOf[quantity.Angle](t, test.vs, test.name)); math.Abs(got-test.want) > 1e-6 {
			t.Errorf("%s is %v, want %v", test.name, got, test.want)
		}
	}
	up := figureOf[quantity.Angle](t, box, "dump.angle")
	corner := spot{140, 26}.turned(up)
	if got := float64(figureOf[quantity.Length](t, box, "raised.height")); math.Abs(got-(24+corner.up)) > 1e-6 {
		t.Errorf("raised.height is %v, want the box's front top corner at %v", got, 24+corner.up)
	}
	// A rolled tarp stands higher than the box and rises with it. By hand for a
	// dump-14 of the embedded line: its front top corner lies 164 in ahead of the
	// hinge and 38 in above it, the hinge 26 in above the ground, and the box
	// rises 45.0115°: 26 + 164 × sin + 38 × cos = 168.85 in.
	l, findings := embedded(t)
	if l == nil {
		t.Fatal(findings)
	}
	b, _ := spec.Resolve(l, orderable(t, l, l.Model("dump-14"), []string{"tarp"}))
	tarp, _ := Evaluate(b)
	if got := float64(figureOf[quantity.Length](t, tarp, "raised.height")); math.Abs(got-168.85) > 0.02 {
		t.Errorf("raised.height with a tarp is %v in, want 168.85 in", got)
	}
	// The front of the tilting deck, 107 in ahead of the hinge, with 3 in of deck
	// and 4 in of rail on a frame 24 in high.
	front := spot{107, 24 + 3 + 4 - 22}.turned(figureOf[quantity.Angle](t, tilt, "tilt.angle"))
	if got := float64(figureOf[quantity.Length](t, tilt, "raised.height")); math.Abs(got-(22+front.up)) > 1e-6 {
		t.Errorf("raised.height is %v, want the front of the rail at %v", got, 22+front.up)
	}
	// A dovetail reaches farther back and lower: 109 in behind the hinge and
	// 4 in below it.
	tail, _ := Evaluate(rising(t, tiltSheet, edit{"tilting: 192 in,", "tilting: 192 in, dovetail: 24 in, dovetail_drop: 6 in,"}))
	meets := figureOf[quantity.Angle](t, tail, "tilt.ground_angle")
	if edge := (spot{-109, -4}).turned(meets); math.Abs(edge.up+22) > 1e-6 {
		t.Errorf("at %v° the dovetail's edge stands %v below the hinge, not on the ground", meets, -edge.up)
	}
	// What stops the deck first governs.
	cylinder, ground := figureOf[quantity.Angle](t, tilt, "tilt.cylinder_angle"), figureOf[quantity.Angle](t, tilt, "tilt.ground_angle")
	if got := figureOf[quantity.Angle](t, tilt, "tilt.angle"); got != min(cylinder, ground) {
		t.Errorf("tilt.angle is %v of %v and %v", got, cylinder, ground)
	}
	gravity, _ := Evaluate(rising(t, strings.Replace(tiltSheet, "[power-tilt]", "[]", 1)))
	if got := figureOf[quantity.Angle](t, gravity, "tilt.angle"); got != ground {
		t.Errorf("a gravity deck stops at %v, not on the ground at %v", got, ground)
	}
}

// The lift is reckoned for cargo where it is hardest to lift: at the forward
// edge of the band, or at the front of what tilts where the band reaches on to
// the fixed deck; only up to where the deck stops. What the cylinders
// can lift is told whole; the owner is never allowed more than the cargo capacity.
func TestRisingLift(t *testing.T) {
	b := rising(t, tiltSheet)
	vs, _ := Evaluate(b)
	if got, most := figureOf[quantity.Mass](t, vs, "lift.limit"), figureOf[quantity.Mass](t, vs, "weights.cargo_capacity"); got != most {
		t.Errorf("the guide promises %v, not the cargo capacity %v", got, most)
	}
	length := func(name string) float64 { return float64(figureOf[quantity.Length](t, vs, name)) }
	mass := func(name string) float64 { return float64(figureOf[quantity.Mass](t, vs, name)) }
	up := 0.85 * mass("cylinder.force_at_relief") * length("lift.cylinder_arm")
	down := mass("lift.body_weight")*length("lift.body_arm") + mass("lift.capacity")*length("lift.cargo_arm")
	if math.Abs(up-down) > 1e-6*up || mass("lift.capacity") <= mass("weights.cargo_capacity") {
		t.Errorf("two 3 in cylinders lift %v: moments %v up, %v down", mass("lift.capacity"), up, down)
	}
	lift := func(b *spec.Build) liftCase {
		return readLift(newRun(b).eval())
	}
	edge := 60 + float64(figureOf[quantity.Length](t, vs, "loading.cg_band.100.front"))
	if got := lift(b).cargo; math.Abs(got-(215-edge)) > 1e-9 {
		t.Errorf("cargo stands %v ahead of the hinge, the band begins %v ahead", got, 215-edge)
	}
	mostly := rising(t, tiltSheet, edit{"fixed: 48 in, tilting: 192 in", "fixed: 140 in, tilting: 100 in"})
	if got := lift(mostly).cargo; math.Abs(got-15) > 1e-9 {
		t.Errorf("cargo stands %v ahead of the hinge, the tilting deck begins 15 ahead", got)
	}
	stopped := lift(b)
	stopped.top, stopped.steps = 5, nil
	var last quantity.Angle
	for _, s := range stopped.stroke() {
		last = s.angle
	}
	if math.Abs(float64(last)-5) > 1e-6 {
		t.Errorf("a deck that stops at 5° is followed to %v°", last)
	}
}

// turnUntil turns the head about the hinge until it is a length from the foot.
func turnUntil(foot, head spot, length float64) float64 {
	low, high := quantity.Degrees(0), quantity.Degrees(80)
	for range 100 {
		middle := (low + high) / 2
		at := head.turned(middle)
		if math.Hypot(at.fore-foot.fore, at.up-foot.up) < length {
			low = middle
		} else {
			high = middle
		}
	}
	return float64(low)
}

// A printed figure never lies on the risky side of the exact one, in either
// system of units.
func TestRisingSafeSide(t *testing.T) {
	for _, sheet := range []string{tiltSheet + use, boxSheet + use} {
		vs, _ := Evaluate(rising(t, sheet))
		for _, v := range vs.All() {
			q, ok := v.Exact.(quantity.Quantity)
			if !ok {
				continue
			}
			for _, system := range []quantity.System{quantity.US, quantity.Metric} {
				p := quantity.Print{System: system}
				shown, unit := p.Rounded(q, v.Round)
				exact := quantity.In(q, unit)
				slack := 1e-6 * max(1, math.Abs(exact))
				if v.Round.Side == quantity.Down && shown > exact+slack || v.Round.Side == quantity.Up && shown < exact-slack {
					t.Errorf("%s is %v %s and prints %v", v.Name, exact, unit, shown)
				}
			}
		}
	}
}

// Every declaration of these systems has a formula and a source.
func TestRisingDeclared(t *testing.T) {
	for _, d := range Declared() {
		if d.Formula == "" || d.Source.String() == "" {
			t.Errorf("%s has formula %q and source %q", d.Name, d.Formula, d.Source)
		}
	}
	for _, name := range []string{
		"breakaway.hold_time", "breakaway.hold_time.new", "breakaway.hold_time.aged", "breakaway.hold_time.aged_cold",
		"wiring.brake_drop", "wiring.lamp_drop", "lift.capacity", "hydraulics.raise_time", "battery.cycles_per_charge",
	} {
		if !declarations[name].Engineer {
			t.Errorf("%s is too fragile for an owner to rely on, yet may be printed for one", name)
		}
	}
}
