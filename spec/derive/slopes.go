package derive

import (
	"math"

	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// steepest is the slope that machines on wheels and tracks of this trade can still climb; many
// manuals allow less, so the guide tells the owner to check.
const steepest quantity.Angle = 23

var steepestRule = Source{Practice, "23° is called near the upper end for small excavators; mowers stop at 15°"}

// tailSlope is the slope of a dovetail below the deck.
var tailSlope = declare(Decl{
	Name: "loading.dovetail_angle", When: when("dovetail"), Engineer: true, Round: tenthUp,
	Formula: "angle whose tangent is the drop of the dovetail over its length",
	Source:  Source{Arithmetic, "right triangle"},
}, func(e *Eval) quantity.Angle {
	d := fitted[product.Deck](e)
	drop := quantity.Length(0)
	if d.DovetailDrop.Set {
		drop = Read(e, d.DovetailDrop)
	}
	return slopeOf(drop, Read(e, d.Dovetail))
})

// slopeOf returns the angle of a rise over a horizontal run.
func slopeOf(rise, run quantity.Length) quantity.Angle {
	return degrees(math.Atan2(float64(rise), float64(run)))
}

// loadingAngle is the steepest slope a load climbs: on a tilted deck the slope of a dovetail is
// added.
var loadingAngle = declare(Decl{
	Name: "loading.angle", When: when("ramps or tilting"), Aside: true, Round: wholeUp,
	Formula: "the steepest slope on the way up: loading.ramp_angle, tilt.angle plus loading.dovetail_angle, or loading.dovetail_angle",
	Source:  Source{Arithmetic, "slopes one behind the other"},
}, func(e *Eval) (most quantity.Angle) {
	tail, _ := Try(e, tailSlope)
	most = tail
	if e.Has("ramps") {
		most = max(most, Get(e, rampSlope))
	}
	if e.Has("tilting") {
		most = max(most, Get(e, tiltAngle)+tail)
	}
	return most
})

// The crest angle is the change of slope that a low machine may touch.
var _ = declare(Decl{
	Name: "loading.crest_angle", When: when("ramps"), Round: wholeUp,
	Formula: "the greatest change of slope on the way up: from loading.ramp_angle to loading.dovetail_angle or to the deck, and from loading.dovetail_angle to the deck",
	Source:  Source{Arithmetic, "difference of slopes"},
}, func(e *Eval) quantity.Angle {
	tail, _ := Try(e, tailSlope)
	return max(tail, Get(e, rampSlope)-tail)
})

var _ = limit(Limit{ID: "loading-angle", When: when("ramps or tilting"),
	Protects: "on too steep a slope a machine slides, tips over backward or drags its belly",
	Check: func(e *Eval) {
		if _, ok := Try(e, loadingAngle); !ok {
			return // ramps-short reports it, or the deck does not come down to the ground
		}
		e.require(of(e, loadingAngle), AtMost, e.fromRule(steepestRule, steepest, wholeDown),
			"a load climbs a slope of %s; expected at most %s")
	}})

var _ = limit(Limit{ID: "ramps-short", MaxReserve: 100, When: when("ramps"),
	Protects: "ramps shorter than the deck is high lead nowhere",
	Check: func(e *Eval) {
		e.require(of(e, rampLength), Above, e.calculated("height of the deck's rear edge", rampRise(e), wholeUp, of(e, floorHeight)),
			"the ramps are %s long; the deck's rear edge stands %s high")
	}})

var _ = limit(Limit{ID: "loading-way", Severity: source.Warning, NoMargin: true, When: when("decked and (equipment-hauler or vehicle-hauler) and not (ramps or tilting)"),
	Protects: "a machine that nothing leads onto the deck climbs planks, and they slip",
	Check: func(e *Eval) {
		e.report(wrong(e, e.Build.Model.Hauls, "the model hauls %s and has neither ramps nor a deck that tilts", e.Build.Model.Hauls.Value))
	}})

// rampRise returns the height of the deck's rear edge.
func rampRise(e *Eval) quantity.Length {
	rise := Get(e, floorHeight)
	if p, ok := first[product.Deck](e); ok && p.Data.DovetailDrop.Set {
		rise -= Read(e, p.Data.DovetailDrop)
	}
	return rise
}
