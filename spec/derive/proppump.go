package derive

import (
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
)

// A double-acting cylinder pulls the body down with the pump's pressure, against a body
// prop in its seat.
var pumpsOnProp = when("body-prop and double-acting")

var loweringPressure = declare(Decl{
	Name: "hydraulics.lowering_pressure", When: when("hydraulics and double-acting"), Engineer: true, Round: statedMost,
	Formula: "setting of the valve that limits the pump on the way down; hydraulics.relief where there is none",
	Source:  hydraulicsStated,
}, func(e *Eval) quantity.Pressure {
	u := fitted[product.PowerUnit](e)
	if u.LoweringRelief.Set {
		return Read(e, u.LoweringRelief)
	}
	return Get(e, hydraulicsRelief)
})

// propPressure is the pressure at which the pump, together with the empty body, loads the props
// to their rating.
var propPressure = declare(Decl{
	Name: "prop.pump_pressure", When: pumpsOnProp, Engineer: true, Round: wholeDown,
	Formula: "(prop.rating × prop.count × arm of the props − weight of the empty deck or box and of the options bolted to it × its arm) ÷ (cylinder.rod_side_area × cylinder.count × arm of the cylinders at prop.angle, or their longest where no angle is stated), all arms about the hinge. The props are taken to bear at the front end of their place; one that bears nearer the hinge reaches its rating at less. The body counts as if it lay level, where it weighs most on them",
	Source:  Source{Arithmetic, "balance of moments about the hinge"},
}, func(e *Eval) quantity.Pressure {
	h, area, count := readHoist(e), Get(e, cylinderRing), Get(e, cylinderCount)
	p := positioned[product.Prop](e, "the body prop has no place, so that nobody knows its arm about the hinge")
	arm := Read(e, e.Build.Model.Hinge.X) - Read(e, p.Fitting.At.X)
	hold := Get(e, propRating) * quantity.Mass(Get(e, propCount))
	_, moment := raisedEmpty(e)
	lever := h.longestLever()
	if angle, ok := Try(e, propAngle); ok {
		lever = h.lever(h.lengthAt(angle))
	}
	if arm <= 0 || lever <= 0 || area <= 0 || count < 1 {
		e.Absent("props and cylinders do not work against each other")
	}
	return propAtRating(hold, arm, moment, area*quantity.Area(count), lever)
})

// propAtRating returns the pressure on the rod side at which props with a rating, at a distance
// from the hinge, are fully loaded: their moment less that of the body, in inch-pounds,
// over area and arm of the cylinders.
func propAtRating(hold quantity.Mass, arm quantity.Length, body float64, area quantity.Area, lever float64) quantity.Pressure {
	return quantity.PSI(max(0, (float64(hold)*float64(arm)-body)/(float64(area)*lever)))
}

// longestLever returns the greatest arm during the stroke.
func (h hoist) longestLever() (most float64) {
	for i := range liftSteps + 1 {
		most = max(most, h.lever(h.retracted+(h.extended-h.retracted)*quantity.Length(i)/liftSteps))
	}
	return most
}

var _ = limit(Limit{ID: "prop-pump", When: pumpsOnProp,
	Protects: "a pump that pulls the deck down onto its props folds them over whoever set them",
	Check: func(e *Eval) {
		if short(Get(e, propRating), Get(e, propLoad)) {
			return // prop-rating reports it
		}
		e.require(of(e, loweringPressure), AtMost, of(e, propPressure),
			"the pump pulls the deck down with %s; the body props are at their rating at %s")
	}})
