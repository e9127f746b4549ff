package derive

import (
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// ventsLeast is the least number of vents of a closed body: fuel vapors are heavier than air
// and leave low, warm air leaves high, and there must be a draft. Judgement.
const ventsLeast = 2

var (
	bodyInside = ofPart(Decl{Name: "body.inside_height", When: when("enclosed"), Round: statedMost, Formula: "height inside", Source: fromLine},
		func(b *product.Body) source.Given[quantity.Length] { return b.Tall })

	closedWidth = ofPart(Decl{Name: "body.opening_width", When: when("enclosed"), Round: statedMost, Formula: "clear width of the rear opening", Source: fromLine},
		func(b *product.Body) source.Given[quantity.Length] { return b.Opening.Wide })

	bodyOpening = ofPart(Decl{Name: "body.opening_height", When: when("enclosed"), Round: statedMost, Formula: "clear height of the rear opening", Source: fromLine},
		func(b *product.Body) source.Given[quantity.Length] { return b.Opening.High })

	_ = ofPart(Decl{Name: "body.vents", When: when("enclosed"), Formula: "vents that cannot be shut", Source: fromLine}, func(b *product.Body) source.Given[int] { return b.Vents })

	bodyRoof = declare(Decl{Name: "body.roof_height", When: when("enclosed"), Engineer: true, Round: wholeUp, Formula: "height.deck plus body.inside_height: the lowest that the roof can stand", Source: arithmetic},
		func(e *Eval) quantity.Length { return Get(e, floorHeight) + Get(e, bodyInside) })

	_ = limit(Limit{ID: "body-height", When: when("enclosed"), MaxReserve: 10,
		Protects: "a height that is told too low takes the roof off below a bridge",
		Check:    atMost(bodyRoof, heightOverall, "floor and height inside make %s; the overall height is %s")})

	_ = limit(Limit{ID: "body-opening", When: when("enclosed"), MaxReserve: 10,
		Protects: "an opening said to be larger than the inside hits heads and loads, and one said to be half as large turns loads away that fit",
		Check:    func(e *Eval) { openingFits(e, bodyOpening, closedWidth, bodyInside) }})

	_ = limit(Limit{ID: "body-vents", When: when("enclosed"), MaxReserve: 10,
		Protects: "vapors of fuel gather in a body without vents until a spark meets them",
		Check: func(e *Eval) {
			b := fitted[product.Body](e)
			e.require(entry(e, b.Vents), AtLeast, e.fromRule(Source{Judgement, "one low and one high"}, quantity.Count(ventsLeast), quantity.Rounding{}), "the body has %s vents that cannot be shut; expected at least %s")
		}})

	_ = limit(Limit{ID: "body-release", NoMargin: true, When: when("enclosed"),
		Protects: "who is shut in a body that does not open from within dies of heat, cold or fumes",
		Check: func(e *Eval) {
			if b := fitted[product.Body](e); !b.Release.Value {
				e.report(wrong(e, b.Release, "a door of the body does not open from within").WithHint("fit a release that works without a key, and give inside_release: true"))
			}
			if r, ok := first[product.Ramp](e); ok && r.Data.Gate.Value && !r.Data.Release.Value {
				e.report(wrong(e, r.Data.Gate, "the ramp gate does not open from within").WithHint("fit a release that works without a key while the lock pins are in, and give inside_release: true"))
			}
		}})
)

// openingLeast is the least size of a rear opening as a fraction of the width or height
// inside: the openings of bodies are nearly as large. Common practice.
const openingLeast = 0.5

// openingFits compares the rear opening of a body with its inside.
func openingFits(e *Eval, high, wide, insideHigh Key[quantity.Length]) {
	for _, d := range []struct {
		is              string
		opening, inside figure
		size            quantity.Length
	}{
		{"high", of(e, high), of(e, insideHigh), Get(e, insideHigh)},
		{"wide", of(e, wide), entry(e, fitted[product.Deck](e).Inside), Read(e, fitted[product.Deck](e).Inside)},
	} {
		half := e.calculated("half of what it is inside, common practice", openingLeast*d.size, tenthUp, d.inside)
		e.require(d.opening, AtMost, d.inside, "the rear opening is %s "+d.is+"; inside it is %s")
		e.require(d.opening, AtLeast, half, "the rear opening is %s "+d.is+"; expected at least %s")
	}
}
