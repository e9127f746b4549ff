package derive

import (
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
)

var (
	locked     = when("tilt-latch or deck-lock")
	lockedPump = when("power-tilt and (tilt-latch or deck-lock)")
)

var lockRating = declare(Decl{
	Name: "lock.rating", When: locked, Engineer: true, Round: statedMost,
	Formula: "what one lock holds against a deck that wants to rise × their count", Source: fromLine,
}, func(e *Eval) quantity.Mass {
	lock := fitted[product.Lock](e)
	if !lock.Count.Set {
		return Read(e, lock.Rating)
	}
	return Read(e, lock.Rating) * quantity.Mass(Read(e, lock.Count))
})

// lockArm returns the distance of the center of the lock ahead of the hinge; ok is false if the
// lock has no place. The limit lock-place reports that, and a lock behind the hinge.
func lockArm(e *Eval) (arm quantity.Length, ok bool) {
	p, ok := first[product.Lock](e)
	if !ok || p.Fitting.At == nil {
		return 0, false
	}
	x := Read(e, p.Fitting.At.X)
	if p.Fitting.Size != nil {
		x += Read(e, p.Fitting.Size.Long) / 2
	}
	return Read(e, e.Build.Model.Hinge.X) - x, true
}

// aheadOfHinge is lockArm for figures that require a lock ahead of the hinge.
func aheadOfHinge(e *Eval) quantity.Length {
	arm, ok := lockArm(e)
	if !ok || arm <= 0 {
		e.Absent("the lock has no place ahead of the hinge")
	}
	return arm
}

// lockForce returns the force on a lock from a moment that lifts the deck, less the deck's own
// moment; arm is that of the lock, all about the hinge.
func lockForce(lifts, deck float64, arm quantity.Length) quantity.Mass {
	return quantity.Mass(max(0, (lifts-deck)/float64(arm)))
}

// lockLoad is the greater of two cases: a jolt that throws the empty deck up with its own
// weight, by judgement; and a full load at the rear edge with the lock closed, when
// somebody lifts it on there or drives it off too early.
var lockLoad = declare(Decl{
	Name: "lock.load", When: locked, Engineer: true, Round: quantity.Rounding{Side: quantity.Up, Step: 10, MetricStep: 5},
	Formula: "the greater of: weight of the empty deck and of the options bolted to it × its arm; weights.cargo_capacity × distance of the deck's rear edge behind the hinge − the same weight × its arm; ÷ arm of the lock, all arms about the hinge",
	Source:  Source{Judgement, "balance of moments; a jolt lifts the empty deck with its own weight, and a full load stands at the rear edge with the lock shut"},
}, func(e *Eval) quantity.Mass {
	arm := aheadOfHinge(e)
	_, deck := raisedEmpty(e)
	behind := max(0, readTilting(e).rear-Read(e, e.Build.Model.Hinge.X))
	return lockForce(max(2*deck, float64(Get(e, cargoCapacity))*float64(behind)), deck, arm)
})

var lockPump = declare(Decl{
	Name: "lock.pump_load", When: lockedPump, Engineer: true, Round: quantity.Rounding{Side: quantity.Up, Step: 10, MetricStep: 5},
	Formula: "(cylinder.force_at_relief × arm of the cylinders with the deck down − weight of the empty deck and of the options bolted to it × its arm) ÷ arm of the lock, all arms about the hinge: the pump started with the lock shut",
	Source:  Source{Arithmetic, "balance of moments about the hinge"},
}, func(e *Eval) quantity.Mass {
	arm, h := aheadOfHinge(e), readHoist(e)
	_, deck := raisedEmpty(e)
	return lockForce(float64(Get(e, cylinderForce))*h.lever(max(h.down(), h.retracted)), deck, arm)
})

var _ = limit(Limit{ID: "lock-place", NoMargin: true, When: locked,
	Protects: "what a lock has to hold follows from its place, and one beside or behind the hinge holds nothing down",
	Check: func(e *Eval) {
		arm, ok := lockArm(e)
		lock := fitted[product.Lock](e)
		if !ok {
			e.report(wrong(e, lock.Rating, "nothing says where the lock stands, so that nobody knows what it has to hold").
				WithHint("give at and size of the lock in the model"))
			return
		}
		if hinge := e.Build.Model.Hinge.X; arm <= 0 {
			e.report(wrong(e, lock.Rating, "the middle of the lock stands beside or behind the hinge at %s; expected it ahead of the hinge", hinge.Text).
				WithRelated(hinge.At, "the hinge"))
		}
	}})

// lockHolds returns the check that the deck lock bears a force.
func lockHolds(force Key[quantity.Mass], says string) func(*Eval) {
	bears := atLeast(lockRating, force, says)
	return func(e *Eval) {
		if arm, ok := lockArm(e); ok && arm > 0 { // otherwise lock-place reports it
			bears(e)
		}
	}
}

// The maximum of forces that are affine in the weights is convex in them.
var _ = limit(Limit{ID: "lock-load", Convex: true, MaxReserve: 6, When: locked,
	Protects: "a lock that breaks lets the deck fly up on the road, or under a machine at its rear edge",
	Check:    lockHolds(lockLoad, "what locks the deck is rated for %s; deck and load pull at it with %s")})

var _ = limit(Limit{ID: "lock-pump", Convex: true, MaxReserve: 6, When: lockedPump,
	Protects: "a pump started with the lock shut tears a weaker lock off, and the deck jumps up",
	Check:    lockHolds(lockPump, "what locks the deck is rated for %s; the pump, started with the lock shut, pulls at it with %s")})
