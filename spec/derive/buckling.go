package derive

import (
	"math"

	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
)

const (
	// steelModulus is Young's modulus of steel in psi. Source: handbooks of
	// materials, which give 29 to 30 million.
	steelModulus = 29e6
	// bucklingFactor is the least ratio of the buckling load of the rod to the push at relief,
	// by judgement: pins have friction, and no rod is quite straight.
	bucklingFactor = 2
	// closedBores is the least length of piston, gland and pin eyes in bores, in addition to
	// the stroke, by judgement: each is about half a bore long.
	closedBores = 2
)

// bucklingLoad returns the push in lb at which a round steel rod between two pins buckles. It
// holds for slender rods, longer than some 25 diameters; shorter ones yield first.
// Source: Euler's column formula, both ends pinned.
func bucklingLoad(rod, long quantity.Length) quantity.Mass {
	if long <= 0 {
		return quantity.Mass(math.Inf(1))
	}
	moment := math.Pi / 64 * math.Pow(float64(rod), 4)
	return quantity.Pounds(math.Pi * math.Pi * steelModulus * moment / float64(long*long))
}

var rodLoad = declare(Decl{
	Name: "cylinder.buckling_load", Engineer: true, When: hydraulicsOn, Round: quantity.Rounding{Side: quantity.Down, Step: 10, MetricStep: 10},
	Formula: "π² × 29,000,000 psi × π ÷ 64 × rod⁴ ÷ (length extended, pin to pin)²: push at which one rod bends away, counted as if it reached from pin to pin",
	Source:  Source{Published, "Euler's column formula, both ends pinned; the stiffer tube is not counted"},
}, func(e *Eval) quantity.Mass {
	c := fitted[product.Cylinder](e)
	return bucklingLoad(Read(e, c.Rod), Read(e, c.Extended))
})

var rodNeed = declare(Decl{
	Name: "cylinder.buckling_needed", Engineer: true, When: hydraulicsOn, Round: quantity.Rounding{Side: quantity.Up, Step: 10, MetricStep: 10},
	Formula: "2 × hydraulics.relief × cylinder.area: what one rod holds, fully out under a load that sticks",
	Source:  Source{Judgement, "twice the push at relief: pins rub, and no rod is quite straight"},
}, func(e *Eval) quantity.Mass {
	return bucklingFactor * pushForce(Get(e, hydraulicsRelief), Get(e, cylinderArea))
})

var _ = limit(Limit{ID: "rod-buckling", MaxReserve: 6, When: hydraulicsOn,
	Protects: "a rod too thin for its length bends away under a raised load, and the load falls",
	Check:    atLeast(rodLoad, rodNeed, "the rod of the cylinder bends away at %s; fully out it must hold %s")})

var _ = limit(Limit{ID: "cylinder-closed", MaxReserve: 6, When: hydraulicsOn,
	Protects: "a cylinder that cannot be so short for its stroke is another one, and every angle and height in the guide is wrong",
	Check: func(e *Eval) {
		c := fitted[product.Cylinder](e)
		if Read(e, c.Extended) <= Read(e, c.Retracted) {
			return // hoist-geometry reports it
		}
		bore, stroke := entry(e, c.Bore), of(e, cylinderStroke)
		need := e.calculated("cylinder.stroke and twice the bore", Get(e, cylinderStroke)+closedBores*c.Bore.Value, wholeUp, bore, stroke)
		e.require(entry(e, c.Retracted), AtLeast, need,
			"the cylinder is said to be %s long, drawn in; piston, gland and stroke take at least %s")
	}})
