package derive

import (
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// supportShare is the fraction of the load on a pair of legs that one of them carries: the ground
// is uneven, and a load drives on beside the centerline. Judgement.
const supportShare = 0.6

// supportForce returns the force on legs when a cargo at x would lift the coupler off the
// ball: the least force with which the coupler weight is not negative. Positions are in inches
// behind the coupler; legs must be behind the axles. It is zero if the cargo does not lift the
// coupler. Source: balance of moments about the axles.
func (s statics) supportForce(cargo, x, legs float64) float64 {
	return max(0, -s.onCoupler(cargo, x)*s.center/(legs-s.center))
}

var supportLoad = declare(Decl{
	Name: "stabilizers.load", When: when("stabilizers and not tilting"), Round: wholeUp,
	Formula: "(weights.cargo_capacity × (rear end of the deck − axles.center) − weights.coupler_least × axles.center) ÷ (place of the legs − axles.center), × 0.6 for the one that bears more: what one leg bears while the heaviest load stands at the rear edge and nothing rests on the coupler",
	Source:  Source{Arithmetic, "balance of moments about the axles; 60 % on one leg by judgement"},
}, func(e *Eval) quantity.Mass {
	p := positioned[product.Support](e, "the line does not say where the stabilizers stand")
	place := Read(e, p.Fitting.At.X)
	if p.Fitting.Size != nil {
		place += Read(e, p.Fitting.Size.Long) / 2
	}
	s := readStatics(e)
	if float64(place) <= s.center {
		e.Absent("the stabilizers stand ahead of the middle of the axles")
	}
	force := s.supportForce(float64(Get(e, cargoCapacity)), s.rear, float64(place))
	if Read(e, p.Data.Count) > 1 {
		force *= supportShare
	}
	return quantity.Pounds(force)
})

var _ = textOfPart(Decl{Name: "stabilizers.direction", When: when("stabilizer-jacks"), Formula: "way the handle of a stabilizer turns to press its foot down, as fitted"},
	func(s *product.Support) source.Given[string] { return s.Lowers })

var _ = limit(Limit{ID: "stabilizers-control", NoMargin: true, When: when("stabilizers"),
	Protects: "an owner who looks for a handle or a pin that is not there leaves the tail without its legs",
	Check: func(e *Eval) {
		s := fitted[product.Support](e)
		switch {
		case s.Jack.Value && !s.Lowers.Set:
			e.report(wrong(e, s.Jack, "each stabilizer is a jack with a handle, and lowers does not say which way it turns"))
		case !s.Jack.Value && s.Lowers.Set:
			e.report(wrong(e, s.Lowers, "lowers is the way a handle turns; the stabilizers are legs that drop").WithHint("say jack: true where each has a handle"))
		case s.Jack.Value && (e.Build.Has("tilting") || e.Build.Has("dump")):
			e.report(wrong(e, s.Jack, "stabilizer jacks stand below a deck that stays put; the steps of a deck or box that rises are told with legs that drop"))
		}
	}})

var _ = limit(Limit{ID: "stabilizers-rating", Convex: true, MaxReserve: 6, When: when("stabilizers and not tilting"),
	Protects: "a leg that folds under a machine on the tail drops the tail and throws the coupler up",
	Check:    atLeast(supportRating, supportLoad, "one stabilizer is rated for %s; the heaviest load at the rear edge puts %s on it")})

// upliftMost is the load that the rear axle of a tow vehicle may lose when a machine drives up: half of
// what an unloaded pickup carries there. Judgement.
const upliftMost = 1000 // lb

var _ = limit(Limit{ID: "stabilizers-missing", Convex: true, MaxReserve: 100, When: when("ramps and not stabilizers and not tilting"),
	Protects: "a machine on the ramps lifts the tow vehicle's rear wheels off the ground, and with them the brakes that hold it",
	Check: func(e *Eval) {
		s := readStatics(e)
		lifted := max(0, -s.onCoupler(float64(Get(e, cargoCapacity)), s.rear))
		e.require(e.calculated("lift at the coupler", quantity.Pounds(lifted), wholeUp, of(e, cargoCapacity), of(e, couplerEmpty)), AtMost,
			e.fromRule(Source{Judgement, "what a tow vehicle can lose"}, quantity.Pounds(upliftMost), wholeDown),
			"the heaviest load at the rear edge lifts the tow vehicle with %s, and no stabilizers stand below the tail; expected at most %s")
	}})

// pairApart is the least width of the place of two legs or props, one on each side; the place of
// a single one is narrower. Common practice.
const pairApart quantity.Length = 20

// inPairs compares the number of legs or props with the width of their place: if there is one
// where two are drawn, half of the load is not supported.
func inPairs[T any](e *Eval, what string, count func(*T) source.Given[int]) {
	p, ok := first[T](e)
	if !ok || p.Fitting.Size == nil {
		return
	}
	n, wide := count(p.Data), entry(e, p.Fitting.Size.Wide)
	apart := e.fromRule(Source{Practice, "two stand on either side of the frame"}, pairApart, wholeDown)
	if Read(e, n) > 1 {
		e.require(wide, AtLeast, apart, "the place of the "+what+" is %s wide; "+n.Text+" of them take at least %s")
	} else {
		e.require(wide, Below, apart, "the place of the "+what+" is %s wide; a single one takes less than %s")
	}
}

var _ = limit(Limit{ID: "pair-place", MaxReserve: 100,
	Protects: "one leg or prop where two are drawn has to bear what both were made for, and folds",
	Check: func(e *Eval) {
		inPairs(e, "jack", func(j *product.Jack) source.Given[int] { return j.Count })
		inPairs(e, "stabilizers", func(s *product.Support) source.Given[int] { return s.Count })
		inPairs(e, "body prop", func(p *product.Prop) source.Given[int] { return p.Count })
	}})
