package derive

import (
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// A pintle ring is loose in the hook of the tow vehicle, so both wear: the ring must be
// replaced when a fifth of its section is gone.

// ringLeft is the fraction of the new section below which a ring is replaced.
// Source: CVSA out-of-service criteria, from memory: no part of the eye reduced
// by more than 20 %.
const ringLeft = 0.8

var pintleSizes = Source{Stated, "the ring maker's figure; SAE J847 has rings and hooks, from memory"}

var (
	_ = ofPart(Decl{Name: "hitch.ring", When: when("pintle"), Round: perBall, Formula: "inside diameter of the ring", Source: pintleSizes},
		func(c *product.Coupler) source.Given[quantity.Length] { return c.Ring })

	ringSection = ofPart(Decl{Name: "hitch.ring_section", When: when("pintle"), Round: perBall, Formula: "how thick the metal of the ring is, new", Source: pintleSizes},
		func(c *product.Coupler) source.Given[quantity.Length] { return c.RingSection })

	_ = declare(Decl{Name: "hitch.ring_least", When: when("pintle"), Round: hundredthUp, Formula: "80 % of hitch.ring_section: a ring that is thinner anywhere is replaced",
		Source: Source{Memory, "CVSA out-of-service criteria: no part of the eye reduced by more than 20 %"}},
		func(e *Eval) quantity.Length { return ringLimit(Get(e, ringSection)) })

	_ = ofPart(Decl{Name: "hitch.ring_height_low", When: when("pintle"), Round: statedLeast, Formula: "least height of the ring's middle, unit level"},
		func(c *product.Coupler) source.Given[quantity.Length] { return c.RingHeightLow })

	_ = ofPart(Decl{Name: "hitch.ring_height_high", When: when("pintle"), Round: statedMost, Formula: "greatest height of the ring's middle, unit level"},
		func(c *product.Coupler) source.Given[quantity.Length] { return c.RingHeightHigh })
)

// ringLimit returns the least thickness in inches of a ring, from the thickness of its section
// when new.
func ringLimit(section quantity.Length) quantity.Length { return ringLeft * section }

var _ = limit(Limit{ID: "ring-heights", When: when("pintle"), MaxReserve: 10,
	Protects: "a range of heights that is upside down makes the owner tow nose up or nose down, and the trailer sways",
	Check: func(e *Eval) {
		c := fitted[product.Coupler](e)
		e.require(entry(e, c.RingHeightLow), AtMost, entry(e, c.RingHeightHigh), "the least height of the ring is %s, the greatest %s; expected a rising range")
	}})
