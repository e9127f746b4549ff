package derive

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"ownerguide/spec/quantity"
)

func amount(t *rapid.T, name string, low, high float64) float64 {
	return rapid.Float64Range(low, high).Draw(t, name)
}

// A battery holds shorter the more current is drawn, longer the greater it is,
// and never gives more than its rated capacity.
func TestPeukertProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, i := amount(t, "Ah", 1, 300), amount(t, "A", 0.1, 400)
		more := amount(t, "more", 1.01, 5)
		k := quantity.Count(amount(t, "k", 1, 1.6))
		hold := peukert(quantity.Charge(c), quantity.Current(i), k)
		if peukert(quantity.Charge(c), quantity.Current(i*more), k) >= hold {
			t.Error("more current, and the battery holds no shorter")
		}
		if peukert(quantity.Charge(c*more), quantity.Current(i), k) <= hold {
			t.Error("a greater battery, and it holds no longer")
		}
		if given := float64(hold) / 60 * i; given > c*(1+1e-9) {
			t.Errorf("a battery of %v Ah gives %v Ah", c, given)
		}
	})
}

// Twice the length is twice the resistance; three gauges more are half the
// copper (92^(6/39) = 2.005), as every wireman knows.
func TestWireProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		gauge := rapid.IntRange(-3, 37).Draw(t, "gauge")
		long := quantity.Inches(amount(t, "in", 1, 1000))
		r := wireResistance(gauge, long)
		if twice := wireResistance(gauge, 2*long); math.Abs(float64(twice/r)-2) > 1e-9 {
			t.Errorf("twice the length is %v times the resistance", twice/r)
		}
		if thin := wireResistance(gauge+3, long); math.Abs(float64(thin/r)-2.005) > 0.001 {
			t.Errorf("three gauges thinner is %v times the resistance", thin/r)
		}
	})
}

// hoists draws a triangle that works, with a cylinder that uses part of it.
func hoists(t *rapid.T) hoist {
	h := hoist{
		foot: spot{amount(t, "foot fore", 20, 150), amount(t, "foot up", -30, -6)},
		head: spot{amount(t, "head fore", 20, 150), amount(t, "head up", 0, 20)},
	}
	h.retracted = h.down()
	reach := h.footArm() + h.headArm() - float64(h.retracted)
	h.extended = h.retracted + quantity.Inches(reach*amount(t, "stroke", 0.05, 0.6))
	return h
}

// Going up and back down the stroke ends where it began, and the lever is the
// rate at which the cylinder lengthens as the body turns.
func TestHoistProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := hoists(t)
		if fault := h.fault(); fault != "" {
			t.Skip(fault)
		}
		length := h.retracted + (h.extended-h.retracted)*quantity.Length(amount(t, "at", 0.02, 0.98))
		angle := h.raised(length)
		if back := h.lengthAt(angle); math.Abs(float64(back-length)) > 1e-6 {
			t.Errorf("length %v raises by %v, which is length %v", length, angle, back)
		}
		if got := turnUntil(h.foot, h.head, float64(length)); angle < 79 && math.Abs(got-float64(angle)) > 1e-6 {
			t.Errorf("length %v raises by %v; turning the head takes %v", length, angle, got)
		}
		const small = 1e-4 // degrees
		slope := float64(h.lengthAt(angle+small)-h.lengthAt(angle-small)) / (2 * radians(small))
		if got := h.lever(length); math.Abs(got-slope) > 1e-4*max(1, got) {
			t.Errorf("lever %v, but the cylinder lengthens by %v per radian", got, slope)
		}
	})
}

// The balance of moments agrees with the work done: on every small piece of
// the stroke the cylinders' work, with losses counted, lifts body and the
// greatest cargo, and at the worst place nothing is left over.
func TestLiftProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := liftCase{
			hoist: hoists(t), force: quantity.Pounds(amount(t, "lb", 10000, 90000)), body: quantity.Pounds(amount(t, "body", 500, 4000)),
			bodyX: amount(t, "body x", 1, 120), cargo: amount(t, "cargo x", 1, 120),
		}
		if l.fault() != "" {
			t.Skip(l.fault())
		}
		l.top = min(l.raised(l.extended), 80)
		least, at, _ := l.capacity()
		end := min(l.extended, l.lengthAt(l.top))
		spare := math.Inf(1)
		for i := range 201 {
			a := l.retracted + (end-l.retracted)*quantity.Length(i)/200
			b := a + 1e-5 // a small piece of the stroke, in inches
			rise := func(fore float64) float64 {
				return spot{fore: fore}.turned(l.raised(b)).up - spot{fore: fore}.turned(l.raised(a)).up
			}
			work := liftShare * float64(l.force) * float64(b-a)
			left := work - float64(l.body)*rise(l.bodyX) - float64(least)*rise(l.cargo)
			spare = min(spare, left/max(work, 1))
		}
		if least > 0 && math.Abs(spare) > 0.005 {
			t.Errorf("with %v lb, least at %v°, the work left over at the worst place is %v of all", least, at, spare)
		}
		if need := l.need(least); least > 0 && float64(need) > float64(l.force)*(liftShare+1e-9) {
			t.Errorf("lifting %v needs %v of %v", least, need, l.force)
		}
		// More pressure never lifts less; cargo farther ahead is never easier.
		stronger, farther := l, l
		stronger.force *= 1.1
		farther.cargo *= 1.1
		if w, _, _ := stronger.capacity(); w < least {
			t.Error("a stronger lift lifts less")
		}
		if w, _, _ := farther.capacity(); w > least {
			t.Error("cargo farther ahead is easier to lift")
		}
	})
}

// Fluid only gets thinner as it warms, and asking back gives the temperature.
func TestViscosityProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v40 := amount(t, "at 40", 10, 150)
		v100 := amount(t, "at 100", 2.5, v40/2.5)
		w, ok := waltherThrough(quantity.Viscosity(v40), celsius(40), quantity.Viscosity(v100), celsius(100))
		if !ok {
			t.Fatal("no line")
		}
		warm := celsius(amount(t, "°C", -30, 90))
		if w.at(warm+1) >= w.at(warm) {
			t.Error("warmer and no thinner")
		}
		if v := w.at(warm); v > 2 {
			if back := w.temperature(v); math.Abs(float64(back-warm)) > 1e-6 {
				t.Errorf("%v gives %v, which gives %v", warm, v, back)
			}
		}
	})
}

// Weaker acid freezes sooner, and what is printed is on the warm side of the
// curve even where it bulges most: a curve that falls faster and faster lies
// below the lines through the two points before and the two after, carried on.
func TestFreezingProperty(t *testing.T) {
	carried := func(i int, g float64) float64 {
		a, b := electrolyte[i], electrolyte[i+1]
		return b.freezes + (b.freezes-a.freezes)/(b.gravity-a.gravity)*(g-b.gravity)
	}
	rapid.Check(t, func(t *rapid.T) {
		g := amount(t, "specific gravity", 1.0, 1.279)
		if acidFreezes(g+0.001) >= acidFreezes(g) {
			t.Error("stronger acid freezes no colder")
		}
		// States of charge from 0 to 75 % lie here.
		for i := 1; electrolyte[i+1].gravity <= 1.225; i++ {
			if g < electrolyte[i].gravity || g > electrolyte[i+1].gravity {
				continue
			}
			curve := min(carried(i-1, g), carried(i+1, g))
			if float64(acidFreezes(g))+freezingMargin < curve {
				t.Errorf("acid of %v: %v with margin, the curve may reach %v", g, float64(acidFreezes(g))+freezingMargin, curve)
			}
		}
	})
}

// A corner is never found higher than highest says.
func TestHighestProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := spot{amount(t, "fore", -100, 200), amount(t, "up", -30, 80)}
		to := quantity.Degrees(amount(t, "to", 0, 85))
		part := quantity.Angle(amount(t, "part", 0, 1))
		if got := s.turned(to * part).up; got > s.highest(to)+1e-9 {
			t.Errorf("%v stands at %v on the way, above %v", s, got, s.highest(to))
		}
	})
}

// A box filled to the printed depth never holds more than the cargo capacity.
func TestFillProperty(t *testing.T) {
	round := declarations["dump.fill_depth"].Round
	rapid.Check(t, func(t *rapid.T) {
		capacity, density := amount(t, "lb", 500, 20000), amount(t, "lb/ft³", 20, 140)
		long, wide := amount(t, "long", 60, 240), amount(t, "wide", 40, 96)
		depth := fillDepth(quantity.Pounds(capacity), quantity.Density(density), quantity.Inches(long), quantity.Inches(wide))
		for _, system := range []quantity.System{quantity.US, quantity.Metric} {
			shown, unit := quantity.Print{System: system}.Rounded(depth, round)
			feet := shown / 12
			if unit == "mm" {
				feet = shown / 304.8
			}
			if load := feet * long / 12 * wide / 12 * density; load > capacity*(1+1e-9) {
				t.Errorf("%v %s of it weigh %v, more than %v", shown, unit, load, capacity)
			}
		}
	})
}

// at returns the viscosity at a temperature.
func (w walther) at(t quantity.Temperature) quantity.Viscosity {
	return quantity.Viscosity(math.Pow(10, math.Pow(10, w.a-w.b*math.Log10(kelvin(t)))) - 0.7)
}
