package derive

import (
	"math"

	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// A boat is one piece whose center of gravity is unknown and moves with motor, fuel and gear.
// Its position is checked by the coupler weight, and adjusted by the winch stand.

// boatRamp is the slope of a steep boat ramp, 15 in 100, and boatFriction the resistance of a
// hull on wet bunks or rollers, as a fraction of its weight.
const boatRamp quantity.Angle = 8.53

var boatFriction = map[string]float64{"bunks": 0.30, "rollers": 0.05}

// boatPull returns the pull needed to move a boat up a ramp.
func boatPull(boat quantity.Mass, ramp quantity.Angle, friction float64) quantity.Mass {
	sin, cos := math.Sincos(radians(ramp))
	return boat * quantity.Mass(sin+friction*cos)
}

// boatShift returns the increase of the coupler weight when a boat is moved toward the
// coupler, by the lever law.
func boatShift(boat quantity.Mass, by, center quantity.Length) quantity.Mass {
	return boat * quantity.Mass(by/center)
}

// boatHeld returns the aggregate working load limit of straps and chain of a boat: each runs
// from the trailer to the boat, so half of its limit counts.
// Source: 49 CFR 393.106(d)(1).
func boatHeld(limits ...quantity.Mass) (sum quantity.Mass) {
	for _, w := range limits {
		sum += directCount * w
	}
	return sum
}

func winchStand(e *Eval) *product.WinchStand { return fitted[product.WinchStand](e) }

var (
	_ = ofPart(Decl{Name: "boat.hull_length", When: when("boat"), Round: statedMost, Formula: "longest hull that bunks or rollers support up to its transom", Source: fromLine},
		func(c *product.Cradle) source.Given[quantity.Length] { return c.Hull })

	standTravel = ofPart(Decl{Name: "boat.stand_travel", When: when("winch-stand"), Round: statedMost, Formula: "how far the winch stand can be moved along the tongue", Source: fromLine},
		func(w *product.WinchStand) source.Given[quantity.Length] { return w.Travel })

	_ = ofPart(Decl{Name: "boat.stand_torque", When: when("winch-stand"), Round: asStated, Formula: "torque of the bolts that clamp the winch stand", Source: fromLine},
		func(w *product.WinchStand) source.Given[quantity.Torque] { return w.BoltTorque })

	handWinch = ofPart(Decl{Name: "boat.winch_pull", When: when("winch-stand"), Round: statedMost, Formula: "pull of the hand winch", Source: fromLine},
		func(w *product.WinchStand) source.Given[quantity.Mass] { return w.Pull })

	strapCount = declare(Decl{Name: "boat.strap_count", When: when("transom-straps"), Formula: "transom straps", Source: fromLine},
		func(e *Eval) int { n, _ := anchors(e, "transom-strap"); return n })

	transomLimit = declare(Decl{Name: "boat.strap_limit", When: when("transom-straps"), Round: statedMost, Formula: "working load limit of one transom strap with its eye", Source: fromPart},
		func(e *Eval) quantity.Mass { _, least := anchors(e, "transom-strap"); return least })

	shiftStep = declare(Decl{Name: "boat.shift_step", When: when("boat"), Round: asStated, Formula: "a step by which a boat is moved to put its coupler weight right",
		Source: Source{Practice, "small enough to see its effect on a scale"}},
		func(*Eval) quantity.Length { return 2 })

	_ = declare(Decl{Name: "boat.shift_weight", When: when("boat"), Formula: "weights.cargo_capacity × boat.shift_step ÷ axles.center: what a boat of the full weight puts on the coupler, or takes off, when it is moved by that step",
		Source: Source{Arithmetic, "lever law"}},
		func(e *Eval) quantity.Mass {
			return boatShift(Get(e, cargoCapacity), Get(e, shiftStep), Get(e, axleCenter))
		})

	shiftMost = declare(Decl{Name: "boat.shift_most", When: when("boat and winch-stand"), Round: wholeDown, Engineer: true, Formula: "weights.cargo_capacity × boat.stand_travel ÷ axles.center: change of the coupler weight from one end of the winch stand's travel to the other",
		Source: Source{Arithmetic, "lever law"}},
		func(e *Eval) quantity.Mass {
			return boatShift(Get(e, cargoCapacity), Get(e, standTravel), Get(e, axleCenter))
		})

	winchNeeded = declare(Decl{Name: "boat.winch_needed", When: when("boat and winch-stand"), Round: wholeUp, Engineer: true, Formula: "weights.cargo_capacity × (sin + friction × cos of a ramp of 15 in 100): pull that brings a boat up without the help of the water; friction 0.30 on bunks, 0.05 on rollers",
		Source: Source{Practice, "boat ramps slope by 12 to 15 in 100; friction of carpet and of rollers"}},
		func(e *Eval) quantity.Mass {
			return boatPull(Get(e, cargoCapacity), boatRamp, boatFriction[Read(e, fitted[product.Cradle](e).Kind)])
		})

	boatCounted = declare(Decl{Name: "boat.straps_counted", When: when("boat and winch-stand and transom-straps"), Round: wholeDown, Engineer: true, Formula: "half the working load limits of all transom straps, the winch strap and the bow chain together", Source: countRule},
		func(e *Eval) quantity.Mass {
			s := winchStand(e)
			return boatHeld(quantity.Mass(Get(e, strapCount))*Get(e, transomLimit), Read(e, s.Strap), Read(e, s.Chain))
		})

	boatNeeded = declare(Decl{Name: "boat.straps_needed", When: when("boat"), Round: wholeUp, Engineer: true, Formula: "half of weights.cargo_capacity: working load limits of what holds the heaviest boat", Source: countRule},
		func(e *Eval) quantity.Mass { return aggregateShare * Get(e, cargoCapacity) })

	_ = declare(Decl{Name: "boat.cool_time", When: when("boat"), Round: asStated, Formula: "least time that hubs and brakes stand to cool before they go into the water",
		Source: Source{Practice, "hot hubs that are dipped draw water in past their seals"}},
		func(*Eval) quantity.Duration { return quantity.Minutes(15) })
)

// boatMost is the greatest ratio of the boat weight stated for the bunks to the weight of the
// whole trailer: they may be made for a larger trailer as well. Judgement.
const boatMost = 1.5

// strapFactor is the least ratio of a strap's breaking force to its winch's pull. Judgement.
const strapFactor = 2

var (
	_ = limit(Limit{ID: "cradle-rating", Convex: true, When: when("boat"),
		Protects: "bunks or rollers that the boat is too heavy for break on the road",
		Check: func(e *Eval) {
			boat := entry(e, fitted[product.Cradle](e).Boat)
			e.require(of(e, cargoCapacity), AtMost, boat, "the unit carries %s; its bunks or rollers carry a boat of %s")
			e.require(boat, AtMost, e.calculated("one and a half times ratings.gvwr, by judgement", boatMost*Get(e, gvwr), wholeDown, of(e, gvwr)), "bunks or rollers are said to carry a boat of %s; under a trailer of this size they carry %s at most")
		}})

	_ = limit(Limit{ID: "boat-winch", Convex: true, When: when("boat and winch-stand"),
		Protects: "a hand winch that is too weak for the boat lets go, and its handle breaks an arm",
		Check:    atLeast(handWinch, winchNeeded, "the hand winch pulls %s; the heaviest boat needs %s on a steep ramp")})

	_ = limit(Limit{ID: "boat-winch-strap", When: when("winch-stand"),
		Protects: "a winch strap near its limit breaks, and the boat runs back down the ramp",
		Check: func(e *Eval) {
			need := e.calculated("twice the pull of the hand winch, by judgement", strapFactor*Get(e, handWinch), wholeUp, of(e, handWinch))
			e.require(entry(e, winchStand(e).StrapBreak), AtLeast, need, "the winch strap breaks at %s; for its winch it must hold %s")
		}})

	_ = limit(Limit{ID: "boat-straps", Convex: true, When: when("boat and winch-stand and transom-straps"),
		Protects: "a boat that is held by too little leaves its trailer in a hard stop",
		Check:    atLeast(boatCounted, boatNeeded, "straps and bow chain count for %s; the heaviest boat needs %s")})

	_ = limit(Limit{ID: "boat-stand-travel", Severity: source.Warning, Convex: true, When: when("boat and winch-stand"),
		Protects: "a boat whose coupler weight cannot be put right sways",
		Check: func(e *Eval) {
			span := e.calculated("from hitch.tongue_range.low to hitch.tongue_range.high of ratings.gvwr", share(Get(e, shareHigh)-Get(e, shareLow), Get(e, gvwr)), wholeUp, of(e, gvwr))
			e.require(of(e, shiftMost), AtLeast, span, "the winch stand changes the coupler weight of the heaviest boat by %s; its range is %s wide")
		}})

	_ = limit(Limit{ID: "boat-holding", NoMargin: true, When: when("boat"),
		Protects: "a boat trailer without bow stop, winch and straps cannot hold its boat",
		Check: func(e *Eval) {
			if n, _ := anchors(e, "transom-strap"); n >= 2 && hasPart[product.WinchStand](e) {
				return
			}
			e.report(wrong(e, fitted[product.Cradle](e).Kind, "the unit carries a boat and lacks a winch stand, or two transom straps"))
		}})
)
