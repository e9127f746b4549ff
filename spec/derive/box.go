package derive

import (
	"ownerguide/spec"
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// Statements of the line on boxes, ramps, legs, props and other things an owner handles.
// Figures are printed as their makers state them.

// Boxes: the load limit of each kind. The least of them, for the card, is
// box.load_limit.
var (
	_ = boxLimit("front")
	_ = boxLimit("underbody")
)

func boxLimit(kind string) Key[quantity.Mass] {
	return declare(Decl{
		Name: "box.load_limit." + kind, When: when(kind + "-box"), Round: statedMost,
		Formula: "load limit of the box at box-" + kind, Source: fromLine,
	}, func(e *Eval) quantity.Mass {
		p, ok := firstWhere(e, func(b *product.Box) bool { return b.Kind.Value == kind })
		if !ok {
			e.Absent("no box is of the kind %s", kind)
		}
		return Read(e, p.Data.LoadLimit)
	})
}

var (
	_ = ofPart(Decl{Name: "ramps.width", When: when("ramps"), Round: wholeDown, Formula: "width of a ramp", Source: fromLine},
		func(r *product.Ramp) source.Given[quantity.Length] { return r.Width })
	_             = textOfPart(Decl{Name: "ramps.stow", Aside: true, When: when("ramps"), Formula: "how the ramps travel", Source: fromLine}, func(r *product.Ramp) source.Given[string] { return r.Stow })
	_             = ofPart(Decl{Name: "stabilizers.count", When: when("stabilizers"), Formula: "rear supports fitted", Source: fromLine}, func(s *product.Support) source.Given[int] { return s.Count })
	supportRating = ofPart(Decl{Name: "stabilizers.rating", When: when("stabilizers"), Round: statedMost, Formula: "load one rear support is rated for", Source: fromLine},
		func(s *product.Support) source.Given[quantity.Mass] { return s.Rating })

	_ = ofPart(Decl{Name: "rack.height", When: when("headache-rack"), Formula: "height of the rack above the deck", Source: fromLine},
		func(r *product.Rack) source.Given[quantity.Length] { return r.Height })

	_ = textOfPart(Decl{Name: "tarp.kind", Aside: true, When: when("tarp"), Formula: "how the tarp is worked", Source: fromLine}, func(t *product.Tarp) source.Given[string] { return t.Kind })

	_ = textOfPart(Decl{Name: "gate.kind", Aside: true, When: when("gate-barn or gate-spreader"), Formula: "the kind of rear gate", Source: fromLine},
		func(g *product.Gate) source.Given[string] { return g.Kind })
	spreadAngle = ofPart(Decl{Name: "gate.spread_angle", When: when("gate-spreader"), Round: wholeDown, Formula: "greatest angle of the box at which the maker allows the unit to creep forward while it spreads", Source: fromLine},
		func(g *product.Gate) source.Given[quantity.Angle] { return spreading(g).Angle })
	_ = ofPart(Decl{Name: "gate.spread_speed", When: when("gate-spreader"), Round: wholeDown, Formula: "greatest speed while spreading", Source: fromLine},
		func(g *product.Gate) source.Given[quantity.Speed] { return spreading(g).Speed })

	_ = ofPart(Decl{Name: "dump.box_length", When: when("dump"), Round: wholeDown, Formula: "inside length of the box", Source: fromLine},
		func(d *product.DumpBox) source.Given[quantity.Length] { return d.Long })
	_ = ofPart(Decl{Name: "dump.box_width", When: when("dump"), Round: wholeDown, Formula: "inside width of the box", Source: fromLine},
		func(d *product.DumpBox) source.Given[quantity.Length] { return d.Wide })
	_ = ofPart(Decl{Name: "dump.side_height", When: when("dump"), Round: wholeDown, Formula: "height of the sides, inside", Source: fromLine},
		func(d *product.DumpBox) source.Given[quantity.Length] { return d.Tall })
)

// spreading returns the limits for spreading. They are empty, which makes the values absent, if
// the maker does not allow it.
func spreading(g *product.Gate) product.SpreadLimits {
	if g.Spread == nil {
		return product.SpreadLimits{}
	}
	return *g.Spread
}

var (
	propRating = ofPart(Decl{Name: "prop.rating", When: when("body-prop"), Round: statedMost, Formula: "load one body prop is rated for", Source: fromLine},
		func(p *product.Prop) source.Given[quantity.Mass] { return p.Rating })
	propCount = ofPart(Decl{Name: "prop.count", When: when("body-prop"), Formula: "body props fitted", Source: fromLine}, func(p *product.Prop) source.Given[int] { return p.Count })
	propAngle = ofPart(Decl{Name: "prop.angle", When: when("body-prop"), Round: asStated, Formula: "how far deck or box is raised when the body prop swings up", Source: fromLine},
		func(p *product.Prop) source.Given[quantity.Angle] { return p.Angle })
)

// frontEdge returns the height above level ground of the lower front edge of what rises, at
// an angle about the hinge.
func frontEdge(e *Eval, at quantity.Angle) quantity.Length {
	hinge, body := e.Build.Model.Hinge, readRising(e)
	z := Read(e, hinge.Z)
	return z + quantity.Inches(spot{float64(Read(e, hinge.X) - body.front), float64(body.low - z)}.turned(at).up)
}

// Heights that a person can measure instead of an angle: the least height for the prop, and
// the greatest height for driving while spreading.
var (
	_ = declare(Decl{
		Name: "prop.height", When: when("body-prop"), Round: wholeUp,
		Formula: "height of the lower front edge of deck or box above level ground at prop.angle",
		Source:  Source{Arithmetic, "rotation about the hinge"},
	}, func(e *Eval) quantity.Length { return frontEdge(e, Get(e, propAngle)) })
	_ = declare(Decl{
		Name: "gate.spread_height", When: when("gate-spreader"), Round: wholeDown,
		Formula: "height of the lower front edge of the box above level ground at gate.spread_angle",
		Source:  Source{Arithmetic, "rotation about the hinge"},
	}, func(e *Eval) quantity.Length { return frontEdge(e, Get(e, spreadAngle)) })
)

// propLoad is the load on one prop when the empty deck or box rests on it. The share of the
// hinge or of a second prop is not subtracted; a prop nearer to the hinge than the body's
// center carries more than the weight.
var propLoad = declare(Decl{
	Name: "prop.load", When: when("body-prop"), Engineer: true, Round: quantity.Rounding{Side: quantity.Up, Step: 10, MetricStep: 5},
	Formula: "weight of the empty deck or box and of the options bolted to it; where the prop's place is given, at least that weight × distance of its center from the hinge ÷ distance of the prop from the hinge",
	Source:  Source{Arithmetic, "lever about the hinge"},
}, func(e *Eval) quantity.Mass {
	weight, moment := raisedEmpty(e)
	p, _ := first[product.Prop](e)
	if p.Fitting.At == nil {
		return weight
	}
	arm := Read(e, e.Build.Model.Hinge.X) - Read(e, p.Fitting.At.X)
	if arm <= 0 {
		e.Absent("the body prop stands behind the hinge")
	}
	return max(weight, quantity.Mass(moment/float64(arm)))
})

// tiltHoist is a rating for a hoist at the front of a deck that no cylinder raises: it lifts less,
// since the hinge bears a share.
var _ = declare(Decl{
	Name: "tilt.hoist", When: when("gravity-tilt and body-prop"), Round: quantity.Rounding{Side: quantity.Up, Step: 100, MetricStep: 50},
	Formula: "prop.load, the share of the hinge not subtracted",
	Source:  Source{Judgement, "as if the hinge bore nothing"},
}, func(e *Eval) quantity.Mass { return Get(e, propLoad) })

var _ = declare(Decl{
	Name: "tilt.tail_push", When: when("gravity-tilt"), Round: quantity.Rounding{Side: quantity.Up, Step: 10, MetricStep: 5},
	Formula: "weight of the empty deck and of the options bolted to it × distance of its center ahead of the hinge ÷ distance of the rear edge behind it",
	Source:  Source{Arithmetic, "lever about the hinge"},
}, func(e *Eval) quantity.Mass {
	_, moment := raisedEmpty(e)
	behind := readTilting(e).rear - Read(e, e.Build.Model.Hinge.X)
	if moment <= 0 || behind <= 0 {
		e.Absent("the empty deck does not lie on its front by itself")
	}
	return quantity.Mass(moment / float64(behind))
})

// raisedBody returns the empty weight of what rises, and the x of its center.
func raisedBody(e *Eval) (quantity.Mass, quantity.Length) {
	if e.Has("dump") {
		box := fitted[product.DumpBox](e)
		return Read(e, box.Empty), Read(e, box.Center)
	}
	deck := fitted[product.Deck](e)
	return Read(e, deck.TiltWeight), Read(e, deck.TiltCenter)
}

// boxDensity is that of tools and chains packed as tightly as possible, in pounds per cubic foot. Judgement.
const boxDensity = 200

var _ = limit(Limit{ID: "box-limit", Convex: true, MaxReserve: 200, When: when("front-box or underbody-box"),
	Protects: "boxes that may be filled with more than unit or coupler carry overload both, and nobody weighs tools",
	Check: func(e *Eval) {
		center, onCoupler := Get(e, axleCenter), of(e, couplerEmpty)
		sum := Get(e, couplerEmpty)
		for _, p := range all[product.Box](e) {
			limit := entry(e, p.Data.LoadLimit)
			e.require(limit, AtMost, of(e, cargoCapacity), p.Fitting.Place+" may be filled with %s; the unit carries %s")
			if p.Fitting.Size != nil {
				s := p.Fitting.Size
				room := float64(Read(e, s.Long)*Read(e, s.Wide)*Read(e, s.High)) / 1728
				most := e.calculated("the room of the box × 200 lb/ft³, by judgement: steel parts, packed", quantity.Pounds(room*boxDensity), wholeDown, entry(e, s.Long), entry(e, s.Wide), entry(e, s.High))
				e.require(limit, AtMost, most, p.Fitting.Place+" may be filled with %s; packed with steel it holds %s")
			}
			if p.Fitting.At != nil {
				sum += lever(p.Data.LoadLimit.Value, Read(e, p.Fitting.At.X), center)
				onCoupler.from = append(limit.sources(), onCoupler.sources()...)
			}
		}
		onCoupler = e.calculated("coupler weight, empty but for full boxes", sum, wholeUp, onCoupler)
		e.require(onCoupler, AtMost, of(e, verticalRating), "with full boxes the coupler of the empty unit bears %s; it is rated for %s")
	}})

var _ = limit(Limit{ID: "prop-missing", NoMargin: true, When: when("tilting or dump"),
	Protects: "whoever works under a raised deck or box held by fluid alone is crushed when it leaks",
	Check: func(e *Eval) {
		if hinge := e.Build.Model.Hinge.X; !hasPart[product.Prop](e) {
			e.report(wrong(e, hinge, "a body that rises about a hinge at %s is fitted without a body prop", hinge.Text))
		}
	}})

var _ = limit(Limit{ID: "prop-rating", When: when("body-prop"),
	Protects: "a prop weaker than the empty body folds on whoever works under it",
	Check:    atLeast(propRating, propLoad, "the body prop is rated for %s; the empty body rests on it with %s")})

var _ = limit(Limit{ID: "prop-reach", When: when("body-prop"),
	Protects: "a prop that needs more room than deck or box ever gives is never set, and someone goes under without it",
	Check: func(e *Eval) {
		if fitted[product.Prop](e).Angle.Set {
			e.require(of(e, propAngle), AtMost, of(e, risingAngle(e)), "the body prop swings up at %s; what it holds rises by %s only")
		}
	}})

// outward returns how far a place reaches from the center line.
func outward(e *Eval, p *spec.Fitting) quantity.Length {
	y := Read(e, p.At.Y)
	return max(-y, y+Read(e, p.Size.Wide))
}

var _ = limit(Limit{ID: "prop-handle", MaxReserve: 40, When: when("body-prop"),
	Protects: "who reaches under a deck or box for a short handle does so while only fluid or a hoist holds it",
	Check: func(e *Eval) {
		p, _ := first[product.Prop](e)
		if p.Fitting.At == nil || p.Fitting.Size == nil {
			return
		}
		for _, body := range e.Build.PartsAs(func(f *spec.Fitting) bool {
			return (f.Kind == "deck" || f.Kind == "dump-box") && f.At != nil && f.Size != nil
		}, placeAndSize) {
			inside := max(0, outward(e, body)-outward(e, p.Fitting))
			e.require(entry(e, p.Data.Handle), AtLeast,
				e.calculated("from the body prop to the side of deck or box", inside, wholeUp, entry(e, p.Fitting.At.Y), entry(e, body.At.Y)),
				"the handle of the body prop reaches %s; the side of what it holds lies %s farther out")
		}
	}})

var _ = limit(Limit{ID: "disconnect-missing", NoMargin: true, When: when("hydraulics and body-prop"),
	Protects: "where nothing cuts the pump off, whoever presses the button lowers deck or box onto whoever sets the prop",
	Check: func(e *Eval) {
		u := fitted[product.PowerUnit](e)
		if !u.Disconnect.Value {
			e.report(wrong(e, u.Disconnect, "the pump has no master disconnect, which is turned off before anybody sets the body prop"))
		}
	}})

// A deck under power is held down by its cylinder as long as a valve keeps the fluid in; any
// other tilting deck needs a latch or a lock.
var _ = limit(Limit{ID: "deck-lock-missing", NoMargin: true, When: when("tilting"),
	Protects: "a tilting deck that nothing holds down rises on the road",
	Check: func(e *Eval) {
		if hasPart[product.Lock](e) {
			return
		}
		hinge := e.Build.Model.Hinge.X
		unit, pump := first[product.PowerUnit](e)
		if pump && unit.Data.Acting.Value == "double" && opensByPressure(unit.Data) {
			return
		}
		if pump {
			e.report(wrong(e, unit.Data.Holding, "neither a lock nor a double-acting cylinder with a holding valve keeps the deck down").WithRelated(hinge.At, "the hinge"))
			return
		}
		e.report(wrong(e, hinge, "the deck tilts about a hinge at %s and has no latch", hinge.Text))
	}})
