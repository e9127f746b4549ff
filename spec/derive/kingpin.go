package derive

import (
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// kingpinWear is the greatest loss of a kingpin's diameter at any point. Source: SAE J2228, as
// quoted on public pages.
const kingpinWear quantity.Length = 1.0 / 8

var (
	kingpinSize = ofPart(Decl{Name: "hitch.kingpin", When: when("kingpin"), Round: perBall, Formula: "diameter of the kingpin, new",
		Source: Source{Stated, "the coupler maker's figure; SAE J700 has the kingpin of 2 in"}},
		func(c *product.Coupler) source.Given[quantity.Length] { return c.Pin })

	_ = declare(Decl{Name: "hitch.kingpin_least", When: when("kingpin"), Round: quantity.Rounding{Side: quantity.Up, Fraction: 16, Step: 0.01, MetricStep: 0.1},
		Formula: "hitch.kingpin less 1/8 in: a kingpin that is thinner anywhere is replaced",
		Source:  Source{Published, "SAE J2228, as quoted on public pages"}},
		func(e *Eval) quantity.Length { return kingpinLimit(Get(e, kingpinSize)) })

	_ = ofPart(Decl{Name: "hitch.plate_height_low", When: when("kingpin"), Round: statedLeast, Formula: "least height of the underside of the coupler's plate, unit level"},
		func(c *product.Coupler) source.Given[quantity.Length] { return c.PlateLow })

	_ = ofPart(Decl{Name: "hitch.plate_height_high", When: when("kingpin"), Round: statedMost, Formula: "greatest height of the underside of the coupler's plate, unit level"},
		func(c *product.Coupler) source.Given[quantity.Length] { return c.PlateHigh })
)

// kingpinLimit returns the least diameter in inches of a kingpin with a diameter of size when new.
func kingpinLimit(size quantity.Length) quantity.Length { return size - kingpinWear }

var _ = limit(Limit{ID: "plate-heights", When: when("kingpin"), MaxReserve: 10,
	Protects: "a range of heights that is upside down makes the owner tow nose up or nose down, and a plate that is too high slides over the jaws",
	Check: func(e *Eval) {
		c := fitted[product.Coupler](e)
		e.require(entry(e, c.PlateLow), AtMost, entry(e, c.PlateHigh), "the least height of the plate is %s, the greatest %s; expected a rising range")
	}})
