package derive

import (
	"math"
	"slices"
	"strings"

	"ownerguide/spec"

	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// A spare is a wheel like those on the axles, or one with figures of its own, which are then used
// for the spare.

var (
	spareWeight = ofPart(Decl{Name: "spare.weight", When: when("spare"), Round: wholeUp, Formula: "the most that a spare wheel on this mount weighs, tire included", Source: fromLine},
		func(s *product.Spare) source.Given[quantity.Mass] { return s.Weight })
	_ = textOfPart(Decl{Name: "spare.mount", Aside: true, When: when("spare"), Formula: "where the spare wheel hangs", Source: fromLine},
		func(s *product.Spare) source.Given[string] { return s.Mount })
	spareHoist = ofPart(Decl{Name: "spare.hoist", Engineer: true, When: when("spare-hoist"), Round: statedMost, Formula: "what the winch of the spare is rated for"},
		func(s *product.Spare) source.Given[quantity.Mass] { return s.Hoist })

	_ = declare(Decl{Name: "spare.size", When: when("spare"), Formula: "as on the sidewall of the spare", Source: fromPart},
		func(e *Eval) Text {
			return Text(Read(e, spareEntry(e, func(w *product.SpareWheel) source.Given[string] { return w.Size }, func(t *product.Tire) source.Given[string] { return t.Size })))
		})
	_ = declare(Decl{Name: "spare.load_range", When: when("spare"), Formula: "as on the sidewall of the spare", Source: fromPart},
		func(e *Eval) Text {
			return Text(Read(e, spareEntry(e, func(w *product.SpareWheel) source.Given[string] { return w.LoadRange }, func(t *product.Tire) source.Given[string] { return t.LoadRange })))
		})
	_ = declare(Decl{Name: "spare.cold_pressure", When: when("spare"), Round: asStated, Formula: "as on the sidewall of the spare, for its full load rating", Source: fromPart},
		func(e *Eval) quantity.Pressure {
			return Read(e, spareEntry(e, func(w *product.SpareWheel) source.Given[quantity.Pressure] { return w.Cold }, func(t *product.Tire) source.Given[quantity.Pressure] { return t.Cold }))
		})
	_ = ofPart(Decl{Name: "spare.torque", When: when("spare-own"), Round: asStated, Formula: "final torque of the lug nuts of the spare, by its maker; never a default"},
		func(s *product.Spare) source.Given[quantity.Torque] { return s.Own.Torque })
	_ = declare(Decl{Name: "spare.speed", When: when("spare-slow"), Round: wholeDown, Formula: "least of the speed that the maker of the spare allows and speed.limit", Source: fromPart},
		func(e *Eval) quantity.Speed {
			return min(Read(e, fitted[product.Spare](e).Own.SpeedLimit), Get(e, speedLimit))
		})

	spareCapacity = declare(Decl{Name: "spare.capacity.axle", Engineer: true, When: when("spare-own"), Round: wholeDown,
		Formula: "what the spare carries times tires.per_axle: the axle as if all its wheels were like the one that carries least", Source: arithmetic},
		func(e *Eval) quantity.Mass {
			return Read(e, fitted[product.Spare](e).Own.Load) * quantity.Mass(Get(e, tiresPerAxle))
		})

	spareUnlike = declare(Decl{Name: "spare.diameter_off", Engineer: true, When: when("spare-own"), Round: tenthUp,
		Formula: "difference of the diameters of spare and fitted tire, as a share of the latter", Source: arithmetic},
		func(e *Eval) quantity.Percent {
			return diameterOff(Read(e, fitted[product.Spare](e).Own.Diameter), Read(e, fitted[product.Tire](e).Diameter))
		})
)

// spareEntry returns an entry of the spare's own wheel, or of the tires on the axles.
func spareEntry[T any](e *Eval, own func(*product.SpareWheel) source.Given[T], like func(*product.Tire) source.Given[T]) source.Given[T] {
	if w := fitted[product.Spare](e).Own; w != nil {
		return own(w)
	}
	return like(fitted[product.Tire](e))
}

// diameterOff returns the relative difference of a diameter from another one.
func diameterOff(spare, fitted quantity.Length) quantity.Percent {
	return quantity.Percent(100 * math.Abs(float64(spare-fitted)) / float64(fitted))
}

// Greatest differences of the diameter of a spare from that of the tire next to it. Tires of one
// size differ by the first; a spare for driving slowly to a tire shop may differ by the
// second. Judgement.
const (
	spareOff     quantity.Percent = 100 * diameterPlay
	slowSpareOff quantity.Percent = 10
)

// What one person and two people lift at most under the best conditions: load close, at knuckle height, now and then.
const (
	liftOne quantity.Mass = 51
	liftTwo               = 2 * liftOne
)

var liftRule = Source{Memory, "load constant of the revised NIOSH lifting equation, DHHS (NIOSH) 94-110"}

// hangsBelow reports whether a spare is reached from below: its mount says so, or a floor is above it.
func hangsBelow(e *Eval, spare spec.Placed[*product.Spare]) bool {
	if strings.Contains(Read(e, spare.Data.Mount), "under") {
		return true
	}
	at, size := spare.Fitting.At, spare.Fitting.Size
	if at == nil || size == nil {
		return false
	}
	above := e.Build.PartsAs(func(f *spec.Fitting) bool {
		return slices.Contains([]string{"deck", "dump-box", "body", "stock-body"}, f.Kind) && f.At != nil && f.Size != nil
	}, placeAndSize)
	return slices.ContainsFunc(above, func(f *spec.Fitting) bool {
		return Read(e, f.At.X) < Read(e, at.X)+Read(e, size.Long) && Read(e, at.X) < Read(e, f.At.X)+Read(e, f.Size.Long) &&
			Read(e, at.Z)+Read(e, size.High) <= Read(e, f.At.Z)
	})
}

var (
	_ = limit(Limit{ID: "dual-spare", NoMargin: true, When: when("dual-wheels and spare"),
		Protects: "a spare that does not fit the dual hubs leaves the owner at the roadside",
		Check: func(e *Eval) {
			s := fitted[product.Spare](e)
			if Read(e, s.Mount) != "" && s.ForDual.Value {
				return
			}
			e.report(wrong(e, s.Mount, "the spare is for single wheels; the unit has dual wheels").
				WithHint("give the spare of this unit for_dual: true and the wheel of the pair"))
		}})

	_ = limit(Limit{ID: "spare-studs", NoMargin: true, When: when("spare-own"),
		Protects: "a spare with other studs than the hub leaves the owner at the roadside, or seems to fit and comes off",
		Check: func(e *Eval) {
			own, w := fitted[product.Spare](e).Own, fitted[product.Wheel](e)
			if Read(e, own.Studs) == Read(e, w.Studs) && Read(e, own.StudSize) == Read(e, w.StudSize) {
				return
			}
			e.report(wrong(e, own.Studs, "the spare is for %d studs %s; the wheels have %d studs %s", own.Studs.Value, own.StudSize.Value, w.Studs.Value, w.StudSize.Value).
				WithRelated(w.Studs.At, "the studs of the wheels stand here"))
		}})

	_ = limit(Limit{ID: "spare-load", When: when("spare-own"),
		Protects: "a spare that carries less than its share of the axle bursts under a full load",
		Check: func(e *Eval) {
			for i := range axleCount(e) {
				e.require(of(e, spareCapacity), AtLeast, of(e, gawr[i]), "wheels like the spare carry %s; the gawr of an axle is %s")
			}
		}})

	_ = limit(Limit{ID: "spare-size", When: when("spare-own"),
		Protects: "a spare of another diameter leans the axle, runs hot beside its twin, and is driven as fast as the others",
		Check: func(e *Eval) {
			own := fitted[product.Spare](e).Own
			most, says := spareOff, "the diameter of the spare lies %s from that of the tires; expected at most %s, or a speed_limit of its maker on single wheels"
			if own.SpeedLimit.Set && !e.Has("dual-wheels") {
				most, says = slowSpareOff, "the diameter of the spare lies %s from that of the tires; expected at most %s"
			}
			e.require(of(e, spareUnlike), AtMost, e.fromRule(Source{Judgement, "tires on one axle"}, most, wholeDown), says)
			if s, ok := sizeOf(Read(e, own.Size)); ok {
				e.require(e.calculated("diameter of the spare against its size", diameterOff(Read(e, own.Diameter), s.diameter), tenthUp, entry(e, own.Diameter)), AtMost,
					e.fromRule(Source{Practice, "tires of one size"}, spareOff, wholeDown), "the diameter of the spare lies %s from what its size says; expected at most %s")
				pressed := pressedShare(Read(e, own.Load), Read(e, own.Cold), s.width, Read(e, own.Diameter))
				e.require(e.calculated("ground that the spare presses on", pressed, tenthUp, entry(e, own.Load), entry(e, own.Cold)), AtMost,
					e.fromRule(Source{Practice, "tires of one size"}, pressedMost, wholeDown), "by its load, pressure and size the spare presses on %s of the rectangle of its width and diameter; expected at most %s")
			}
		}})

	_ = limit(Limit{ID: "spare-torque", When: when("spare-own"),
		Protects: "nuts of the spare too loose let it go; too tight they break the studs",
		Check: func(e *Eval) {
			own := fitted[product.Spare](e).Own
			r, ok := studTorque(Read(e, own.StudSize), 0)
			if !ok {
				return // spare-studs reports a thread that differs from the wheels'
			}
			inUse := Source{Practice, "in use for the stud"}
			e.require(entry(e, own.Torque), AtLeast, e.fromRule(inUse, r.low, asStated), "the nuts of the spare are tightened to %s; figures in use for the stud begin at %s")
			e.require(entry(e, own.Torque), AtMost, e.fromRule(inUse, r.high, asStated), "the nuts of the spare are tightened to %s; figures in use for the stud end at %s")
			if s := fitted[product.Wheel](e).Stages; len(s) > 1 {
				e.require(entry(e, own.Torque), AtLeast, entry(e, s[len(s)-2]), "the nuts of the spare are tightened to %s; the round before the last of the wheels is %s, and the steps are the same")
			}
		}})

	_ = limit(Limit{ID: "spare-lift", MaxReserve: 10, When: when("spare"),
		Protects: "a wheel that is lifted by hand and too heavy for it falls on whoever lifts, who lies under it if it hangs below the deck",
		Check: func(e *Eval) {
			p, _ := first[product.Spare](e)
			if _, stated := Try(e, spareWeight); !stated {
				e.report(wrong(e, p.Data.Mount, "nothing says what the spare weighs, which people have to lift").WithHint("give its weight, tire included"))
				return
			}
			if p.Data.Hoist.Set {
				return // spare-hoist compares it
			}
			most, says := liftTwo, "the spare weighs up to %s and has no winch; two people lift at most %s"
			if hangsBelow(e, p) {
				most, says = liftOne, "the spare weighs up to %s and hangs below the unit without a winch, where one person at a time can reach it; one lifts at most %s"
			}
			if !e.require(of(e, spareWeight), AtMost, e.fromRule(liftRule, most, wholeDown), says) {
				e.hint("fit a mount that lowers it, and give its hoist")
			}
		}})

	_ = limit(Limit{ID: "spare-hoist", When: when("spare-hoist"),
		Protects: "a winch or cable too weak for the wheel drops it on whoever kneels beside it",
		Check:    atLeast(spareHoist, spareWeight, "the winch of the spare is rated for %s; the wheel weighs up to %s")})
)
