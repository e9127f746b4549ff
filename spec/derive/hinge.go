package derive

import (
	"math"

	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
)

// holdingShare is the least ratio of the setting of a counterbalance valve to the pressure
// under load: with less, it opens under the load by itself on a hot day or a rough road.
// Common practice.
const holdingShare = 1.3

// hingeForce returns the force on a hinge in lb, from a weight on it and a push in the direction
// (fore, up), in any unit of length. Source: the sum of two forces.
func hingeForce(push, fore, up, weight float64) float64 {
	long := math.Hypot(fore, up)
	return math.Hypot(push*fore/long, weight-push*up/long)
}

var hingeLoad = declare(Decl{
	Name: "hinge.load", When: when("tilting or dump"), Engineer: true, Round: quantity.Rounding{Side: quantity.Up, Step: 10, MetricStep: 10},
	Formula: "weight of the empty deck or box, of the options bolted to it and of weights.cargo_capacity, all of it standing over the hinge; with lift cylinders, where it is more, what their push at relief leaves to the hinge of the weight, empty or loaded, over the whole stroke: under a load that sticks or a lock left shut",
	Source:  Source{Arithmetic, "balance of forces on what rises"},
}, func(e *Eval) quantity.Mass {
	empty, _ := raisedEmpty(e)
	loaded := empty + Get(e, cargoCapacity)
	if !e.Has("power-tilt") && !e.Has("dump") {
		return loaded
	}
	l := readLift(e)
	most := float64(loaded)
	for _, s := range l.stroke() {
		head := l.head.turned(s.angle)
		for _, weight := range []quantity.Mass{empty, loaded} {
			most = max(most, hingeForce(float64(l.force), head.fore-l.foot.fore, head.up-l.foot.up, float64(weight)))
		}
	}
	return quantity.Mass(most)
})

var holdingLeast = declare(Decl{
	Name: "hydraulics.holding_least", When: when("power-tilt or dump"), Engineer: true, Round: wholeUp,
	Formula: "cylinder.pressure_at_load × 1.3: least setting of a counterbalance valve",
	Source:  Source{Practice, "a counterbalance valve is set some 30 % above what the heaviest load presses with"},
}, func(e *Eval) quantity.Pressure {
	if Read(e, fitted[product.PowerUnit](e).Holding) != "counterbalance" {
		e.Absent("no counterbalance valve holds the load")
	}
	return holdingShare * Get(e, pressureAtLoad)
})

// The maximum of forces that are affine in the weight is convex in it.
var _ = limit(Limit{ID: "hinge-load", Convex: true, When: when("tilting or dump"),
	Protects: "a hinge that shears lets deck or box slide off the frame with the load on it",
	Check: func(e *Eval) {
		m := e.Build.Model
		if !m.HingeRating.Set {
			e.report(wrong(e, m.Hinge.X, "deck or box turns about a hinge, and nothing says what the hinge bears").
				WithHint("give hinge_rating, from whoever designed the hinge"))
			return
		}
		e.require(entry(e, m.HingeRating), AtLeast, of(e, hingeLoad), "the hinge is rated for %s; load, deck or box and cylinders press on it with %s")
	}})

// hingeMost is how many times what can press on a hinge it is rated for at most: the push of
// the cylinders and the whole unit, which no load brings together. Judgement.
const hingeMost = 1.5

var _ = limit(Limit{ID: "hinge-rating", MaxReserve: 100, When: when("power-tilt or dump"),
	Protects: "a rating of the hinge in kilograms taken for pounds, or a digit too many, hides a hinge that shears",
	Check: func(e *Eval) {
		m := e.Build.Model
		if !m.HingeRating.Set {
			return // hinge-load tells
		}
		most := e.calculated("1.5 × the push at relief and the gvwr together, by judgement", hingeMost*(Get(e, cylinderForce)+Get(e, gvwr)), wholeDown, of(e, cylinderForce), of(e, gvwr))
		e.require(entry(e, m.HingeRating), AtMost, most, "the hinge is said to bear %s; cylinders and unit together never ask more than %s of one")
	}})

var _ = limit(Limit{ID: "holding-setting", MaxReserve: 3, When: when("power-tilt or dump"),
	Protects: "a counterbalance valve set too low lets the load come down by itself; set too high, it holds back more than hose and cylinder bear",
	Ways: func(e *Eval) []bool {
		u := fitted[product.PowerUnit](e)
		count, area, setting := quantity.Mass(Get(e, cylinderCount)), Get(e, cylinderArea), Read(e, u.HoldingSetting)
		return liftWays(e, func(l liftCase, cargo quantity.Mass) bool {
			return u.Holding.Value != "counterbalance" || !short(setting, holdingShare*pressureFor(l.need(cargo)/count, area))
		})
	}, Check: func(e *Eval) {
		p, ok := first[product.PowerUnit](e)
		if !ok || Read(e, p.Data.Holding) != "counterbalance" {
			return
		}
		setting := p.Data.HoldingSetting
		if !setting.Set {
			e.report(wrong(e, p.Data.Holding, "a counterbalance valve holds the load, and nothing says what it is set to").
				WithHint("give holding_setting, from whoever sets the valve"))
			return
		}
		e.require(entry(e, setting), AtLeast, of(e, holdingLeast), "the counterbalance valve opens at %s; above the heaviest load it must be set to at least %s")
		e.require(entry(e, setting), AtMost, of(e, hydraulicsWeakest), "the counterbalance valve opens at %s; the weakest part is rated for %s")
	}})

// Positions of a welded hinge: below what rotates about it, or between its sills. Common practice.
const (
	hingeBelow = quantity.Length(7) // under the lower edge of deck or box
	hingeAbove = quantity.Length(3) // over it
	angleOff   = quantity.Angle(1)  // tolerance between drawing and mechanism
	notHome    = quantity.Length(1.5)
)

var _ = limit(Limit{ID: "hinge-height", MaxReserve: 100, When: when("tilting or dump"),
	Protects: "a hinge drawn too low or too high makes angle, raised height and lift of the guide wrong",
	Check: func(e *Eval) {
		hinge := entry(e, e.Build.Model.Hinge.Z)
		low := readRising(e).low
		edge := e.calculated("the lower edge of deck or box", low, wholeUp, hinge)
		e.require(hinge, AtLeast, e.calculated("7 in under the lower edge of deck or box, common practice", low-hingeBelow, wholeUp, edge), "the hinge stands %s high; under what turns about it, it stands at %s or more")
		e.require(hinge, AtMost, e.calculated("3 in over the lower edge of deck or box, common practice", low+hingeAbove, wholeDown, edge), "the hinge stands %s high; in what turns about it, it stands at %s or less")
	}})

var _ = limit(Limit{ID: "hinge-place", MaxReserve: 100, When: when("tilting or dump"),
	Protects: "a deck drawn to begin behind its hinge is another deck: what it weighs, how far it rises and where its load goes are those of none",
	Check: func(e *Eval) {
		hinge := entry(e, e.Build.Model.Hinge.X)
		front := e.calculated("front edge of deck or box", readRising(e).front, wholeUp, hinge)
		e.require(hinge, Above, front, "the hinge stands %s behind the coupler; what turns about it begins at %s")
	}})

var _ = limit(Limit{ID: "raised-angle", MaxReserve: 100, When: when("power-tilt or dump"),
	Protects: "a hinge or a cylinder's pin drawn in another place than it is built in lifts another load by another angle than the guide says",
	Check: func(e *Eval) {
		m, h := e.Build.Model, readHoist(e)
		if !m.RaisedAngle.Set {
			e.report(wrong(e, m.Hinge.X, "a cylinder raises deck or box, and nothing says how far by its drawing").WithHint("give raised_angle, from the drawing"))
			return
		}
		drawn, by, rounding := entry(e, m.RaisedAngle), h.raised(h.extended), quantity.Rounding{Step: 0.1, MetricStep: 0.1}
		pins := []figure{entry(e, m.CylinderFoot.X), entry(e, m.CylinderHead.X), entry(e, fitted[product.Cylinder](e).Extended)}
		least := e.calculated("what hinge, pins and cylinder give, less 1°", by-angleOff, rounding, entry(e, m.Hinge.X), pins...)
		most := e.calculated("what hinge, pins and cylinder give, and 1°", by+angleOff, rounding, entry(e, m.Hinge.X), pins...)
		e.require(drawn, AtLeast, least, "by the drawing the cylinder raises deck or box by %s; hinge, pins and stroke give at least %s")
		e.require(drawn, AtMost, most, "by the drawing the cylinder raises deck or box by %s; hinge, pins and stroke give at most %s")
	}})

var _ = limit(Limit{ID: "cylinder-home", MaxReserve: 100, When: when("power-tilt or dump"),
	Protects: "a cylinder that is not nearly home with deck or box down is drawn between other pins than it is built between",
	Check: func(e *Eval) {
		h, c := anyHoist(e), fitted[product.Cylinder](e)
		if h.fault() != "" {
			return // hoist-geometry reports it
		}
		foot, head := e.Build.Model.CylinderFoot, e.Build.Model.CylinderHead
		apart := e.calculated("from pin to pin with deck or box down", h.down(), hundredthUp, entry(e, foot.X), entry(e, head.X))
		home := entry(e, c.Retracted)
		e.require(apart, AtMost, e.calculated("the length drawn in and 1.5 in, by judgement", h.retracted+notHome, hundredthDown, home),
			"with the body down the pins stand %s apart; the cylinder drawn in fits pins up to %s apart")
	}})
