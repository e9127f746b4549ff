package derive

import (
	"math"

	"ownerguide/spec"
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
)

const (
	// clearanceLeast is the minimum height of everything above level ground on the road,
	// except jacks, which are cranked up. Judgement: a curb is 6 in high.
	clearanceLeast quantity.Length = 6
	// angleLeast is the least change of slope that a unit must pass without scraping.
	// Judgement: the apron of a driveway rises by a tenth, 5.7 degrees.
	angleLeast quantity.Angle = 6
	// overhang is the distance of the rear axle of a tow vehicle ahead of its ball; a gooseneck's
	// ball is above the axle. Common practice, no source.
	overhang quantity.Length = 50
	// bedRail and bedReach are the bed of a usual pickup: the height of its sides, and the
	// distance of its rear corner from the ball, which swings under the neck in a turn.
	// Common practice, no source.
	bedRail  quantity.Length = 58
	bedReach quantity.Length = 60
)

// underside is a lower edge of a part across the unit.
type underside struct {
	x, z quantity.Length
}

// undersides returns the lower edges, front and rear, of a part with a place and a size.
// Jacks are left out, and a deck ends at its tail.
func undersides(p *spec.Fitting) []underside {
	if p.At == nil || p.Size == nil || p.Kind == "jack" {
		return nil
	}
	front, rear := p.At.X.Value, p.At.X.Value+p.Size.Long.Value
	tail := p.At.Z.Value
	if d, ok := p.Data.(*product.Deck); ok && d.DovetailDrop.Set {
		tail -= d.DovetailDrop.Value
	}
	return []underside{{front, p.At.Z.Value}, {rear, tail}}
}

// leastUnder returns the least figure of the lower edges of the parts. All of them are recorded as inputs;
// if there is none the value is absent.
func leastUnder[T ~float64](e *Eval, figure func(underside) (T, bool)) T {
	e.Build.TraceDetached(func() { // the dependency on the least one is recorded below
		for _, p := range e.Build.PartsWhere(func(p *spec.Fitting) bool { return undersides(p) != nil }) {
			Read(e, p.At.X)
			Read(e, p.At.Z)
			Read(e, p.Size.Long)
			if d, ok := p.Data.(*product.Deck); ok && d.DovetailDrop.Set {
				Read(e, d.DovetailDrop)
			}
		}
	})
	least, any := e.Build.Largest(func(p *spec.Fitting) (most float64, any bool) {
		most = math.Inf(-1)
		for _, u := range undersides(p) {
			if x, ok := figure(u); ok {
				most, any = max(most, -float64(x)), true
			}
		}
		return most, any
	})
	if !any {
		e.Absent("the line gives no part there a place and a size")
	}
	return T(-least)
}

// axlesAt returns the x of the first and the last axle.
func axlesAt(e *Eval) (first, last quantity.Length) {
	for i, a := range allAs[product.Axle](e, placeAndSize) {
		if a.Fitting.At == nil {
			e.Absent("the line does not say where %s stands", a.Fitting.Place)
		}
		x := Read(e, a.Fitting.At.X)
		if i == 0 {
			first, last = x, x
		}
		first, last = min(first, x), max(last, x)
	}
	return first, last
}

// breakoverAngle returns the change of slope at which a point between two wheels touches a
// crest, from its height and its distance to each. Source: two right triangles.
func breakoverAngle(high, behind, ahead quantity.Length) quantity.Angle {
	return slopeOf(high, behind) + slopeOf(high, ahead)
}

var _ = declare(Decl{
	Name: "clearance.ground", Engineer: true, Round: wholeDown,
	Formula: "the least height of the underside of a part that the line gives place and size, jacks left out",
	Source:  fromLine,
}, func(e *Eval) quantity.Length {
	return leastUnder(e, func(u underside) (quantity.Length, bool) { return u.z, true })
})

var departureAngle = declare(Decl{
	Name: "clearance.departure_angle", Engineer: true, Round: tenthDown,
	Formula: "the least angle whose tangent is the height of an underside over its distance behind the rear axle",
	Source:  Source{Arithmetic, "right triangle"},
}, func(e *Eval) quantity.Angle {
	_, last := axlesAt(e)
	return leastUnder(e, func(u underside) (quantity.Angle, bool) { return slopeOf(u.z, u.x-last), u.x > last })
})

var breakover = declare(Decl{
	Name: "clearance.breakover_angle", Engineer: true, Round: tenthDown,
	Formula: "the least sum of two angles of an underside ahead of the front axle: its height over its distance to that axle, and over its distance to the rear axle of the tow vehicle, 50 in ahead of the ball or under a gooseneck's",
	Source:  Source{Practice, "50 in from ball to axle; the rest is two right triangles"},
}, func(e *Eval) quantity.Angle {
	first, _ := axlesAt(e)
	tow := -overhang
	if !e.Has("bumper-pull") {
		tow = 0
	}
	return leastUnder(e, func(u underside) (quantity.Angle, bool) {
		return breakoverAngle(u.z, first-u.x, u.x-tow), u.x > max(0, tow) && u.x < first
	})
})

var _ = limit(Limit{ID: "ground-clearance", MaxReserve: 20,
	Protects: "a box or leg that hangs too low is torn off by a curb and lies before the car behind",
	Check: func(e *Eval) {
		least := e.fromRule(Source{Judgement, "the height of a curb"}, clearanceLeast, wholeUp)
		e.eachPart(func(p *spec.Fitting) {
			if p.At != nil && p.Size != nil && p.Kind != "jack" {
				e.require(entry(e, p.At.Z), AtLeast, least, p.Place+" hangs %s above the road; expected at least %s")
			}
		})
	}})

var _ = limit(Limit{ID: "ground-angle", MaxReserve: 20,
	Protects: "a tail or belly that scrapes at every driveway is bent, and what is bolted under it comes loose",
	Check: func(e *Eval) {
		for _, c := range []struct {
			angle Key[quantity.Angle]
			says  string
		}{{departureAngle, "the tail scrapes where the slope changes by %s; expected at least %s"}, {breakover, "the belly scrapes on a crest of %s; expected at least %s"}} {
			if _, ok := Try(e, c.angle); ok {
				e.require(of(e, c.angle), AtLeast, e.fromRule(Source{Judgement, "the apron of a driveway"}, angleLeast, wholeUp), c.says)
			}
		}
	}})

// The coupler, its chains and the plug hang into the bed; everything else ahead of the deck
// swings over its sides.
var _ = limit(Limit{ID: "bed-clearance", MaxReserve: 20, When: when("not bumper-pull"),
	Protects: "a neck that meets the sides of the bed in a turn or a dip bends, and lifts the coupler off the ball",
	Check: func(e *Eval) {
		m := e.Build.Model
		if !m.NeckLow.Set || !m.NeckEnd.Set {
			e.report(e.at(m.At, "nothing says how high the neck stands above the bed of the tow vehicle").
				WithHint("give neck_low and neck_end: the height of its underside, and how far behind the ball it comes down"))
			return
		}
		high := e.calculated("the sides of a usual bed, and hitch.bed_gap", bedRail+Get(e, bedGap), wholeUp, of(e, bedGap))
		reach := e.fromRule(Source{Judgement, "from the ball to the corner of a usual bed"}, bedReach, wholeUp)
		e.require(entry(e, m.NeckLow), AtLeast, high, "the underside of the neck stands %s above the road; over the sides of a usual bed it needs %s")
		e.require(entry(e, m.NeckEnd), AtLeast, reach, "the neck comes down %s behind the ball; the corner of a usual bed swings out to %s")
		e.eachPart(func(p *spec.Fitting) {
			if overBed(p) {
				e.require(entry(e, p.At.Z), AtLeast, high, p.Place+" hangs %s above the road, where the bed of the tow vehicle swings; over its sides it needs %s")
			}
		})
	}})

func overBed(p *spec.Fitting) bool {
	return p.At != nil && p.Size != nil && p.Kind != "coupler" && p.Kind != "chain" && p.Kind != "connector" &&
		p.At.X.Value < bedReach && p.At.X.Value+p.Size.Long.Value > 0
}
