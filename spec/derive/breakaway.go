package derive

import (
	"math"

	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// Assumptions about a breakaway battery for which the maker states nothing.
const (
	breakawayExponent = 1.15 // Peukert exponent, upper end of what is published for sealed batteries
	breakawayAged     = 0.80 // fraction of the rated capacity left when a battery counts as worn out
	breakawayCold     = 0.75 // further fraction left in the cold, by judgement
	peukertRate       = 20.0 // hours in which the rated capacity is measured
)

var breakawayBattery = ofPart(Decl{Name: "breakaway.battery", When: when("breakaway-battery"), Round: asStated, Formula: "rated capacity at the 20 h rate", Source: Source{Stated, "the battery maker's rating"}},
	func(b *product.Breakaway) source.Given[quantity.Charge] { return b.Battery })

var _ = ofPart(Decl{Name: "breakaway.battery_years", When: when("breakaway-battery"), Formula: "years after which the battery is replaced, whatever it still shows", Source: fromLine},
	func(b *product.Breakaway) source.Given[int] { return b.BatteryYears })

// breakaway.replace_by is also what the schedule takes for its date.
var _ = declare(Decl{
	Name: "breakaway.replace_by", When: when("breakaway-battery"),
	Formula: "date of manufacture, or of fitting where the brakes came later, + breakaway.battery_years",
	Source:  fromLine,
}, func(e *Eval) quantity.Date {
	p, _ := first[product.Breakaway](e)
	return yearsAfterFitting(e, p.Fitting, p.Data.BatteryYears)
})

// breakawayLeast is the legal minimum. The owner's guide has no other figure: how long a
// battery holds depends too much on its state and the temperature to print it.
var breakawayLeast = declare(Decl{
	Name: "breakaway.hold_least", When: when("breakaway-battery"), Round: asStated,
	Formula: "15 minutes from the moment of breaking away",
	Source:  Source{Published, "49 CFR 393.43(d); the same in D.C. Mun. Regs. 18-721 and South Dakota 32-18-17"},
}, func(*Eval) quantity.Duration { return quantity.Minutes(15) })

var (
	breakawayNew      = breakawayHold("new", 1, "a new battery")
	breakawayWorn     = breakawayHold("aged", breakawayAged, "an aged battery, at 80 % of rated capacity")
	breakawayWornCold = breakawayHold("aged_cold", breakawayAged*breakawayCold, "an aged battery in the cold, at 60 % of rated capacity")
	_                 = breakawayMargin("new", breakawayNew)
	_                 = breakawayMargin("aged", breakawayWorn)
	_                 = breakawayMargin("aged_cold", breakawayWornCold)
)

// breakawayGoverning is the figure compared with the law.
var breakawayGoverning = declare(Decl{
	Name: "breakaway.hold_time", When: when("breakaway-battery"), Engineer: true, Round: tenthDown,
	Formula: "breakaway.hold_time.aged: an aged battery governs",
	Source:  Source{Judgement, "a battery is replaced at 80 % of its capacity at the latest, so that is what must still hold"},
}, func(e *Eval) quantity.Duration { return Get(e, breakawayWorn) })

// breakaway.flat_within tells the owner how soon the battery is flat if the pin is left out.
// It ignores Peukert's effect, so the true time is shorter.
var _ = declare(Decl{
	Name: "breakaway.flat_within", When: when("breakaway-battery"), Round: quantity.Rounding{Side: quantity.Up, Step: 30, MetricStep: 30},
	Formula: "breakaway.battery ÷ breakaway.current, rounded up to half hours",
	Source:  Source{Arithmetic, "the longest a full battery can last"},
}, func(e *Eval) quantity.Duration {
	c, i := Get(e, breakawayBattery), Get(e, breakawayCurrent)
	return quantity.Duration(60 * float64(c) / float64(i))
})

func breakawayHold(state string, share float64, words string) Key[quantity.Duration] {
	return declare(Decl{
		Name: "breakaway.hold_time." + state, When: when("breakaway-battery"), Engineer: true,
		Round:   tenthDown,
		Formula: "t = 20 h × (C ÷ (I × 20 h))^k with C the capacity of " + words + ", I = breakaway.current, k the battery maker's exponent, at least 1.15 without one",
		Source:  Source{Published, "Peukert's law in the form for a capacity given at the H-hour rate; share of capacity and k = 1.15 by judgement"},
	}, func(e *Eval) quantity.Duration {
		k := quantity.Count(breakawayExponent)
		if given := fitted[product.Breakaway](e).Peukert; given.Set {
			k = Read(e, given)
		}
		rated, current := Get(e, breakawayBattery), Get(e, breakawayCurrent)
		return peukert(quantity.Charge(share)*rated, current, k)
	})
}

func breakawayMargin(state string, hold Key[quantity.Duration]) Key[quantity.Percent] {
	return declare(Decl{
		Name: "breakaway.margin." + state, When: when("breakaway-battery"), Engineer: true, Round: wholeDown,
		Formula: "(" + hold.Name() + " ÷ breakaway.hold_least − 1) × 100",
		Source:  arithmetic,
	}, func(e *Eval) quantity.Percent {
		return quantity.Percent(100 * (float64(Get(e, hold))/float64(Get(e, breakawayLeast)) - 1))
	})
}

// peukert returns how long a lead-acid battery can supply a constant current, in minutes,
// from its capacity at the 20 h rate. It holds for currents at or above that rate; below it
// the formula gives too long times, so the time is capped at capacity ÷ current. It is zero
// for currents or capacities that are not positive.
// Source: Peukert's law, t = H (C / (I H))^k.
func peukert(rated quantity.Charge, current quantity.Current, k quantity.Count) quantity.Duration {
	if rated <= 0 || current <= 0 {
		return 0
	}
	plain := float64(rated) / float64(current)
	hours := peukertRate * math.Pow(plain/peukertRate, float64(k))
	return quantity.Duration(60 * min(hours, plain))
}

var _ = limit(Limit{ID: "breakaway-missing", NoMargin: true, When: when("controlled-brakes"),
	Protects: "a braked trailer that comes off the tow vehicle would roll on without brakes",
	Check: func(e *Eval) {
		if hasPart[product.Breakaway](e) {
			return
		}
		f := e.at(e.Build.Sheet.Model.At, "the unit has brakes but no breakaway set")
		for _, axle := range brakesFitted(e) {
			f = f.WithRelated(axle.Brake.Kind.At, "brakes: %s", axle.Brake.Kind.Text)
		}
		e.report(f)
	},
})

var _ = limit(Limit{ID: "breakaway-idle", NoMargin: true, When: when("not breakaway-battery"),
	Protects: "an owner who trusts a breakaway set that works no brakes has none",
	Check: func(e *Eval) {
		p, ok := first[product.Breakaway](e)
		if !ok {
			return
		}
		f := wrong(e, p.Data.Battery, "a breakaway set is fitted, but its battery has no brakes to work")
		if a, surge := first[product.Actuator](e); surge {
			f = f.WithRelated(a.Data.Kind.At, "a surge actuator has a breakaway lever of its own").WithHint("take the place of the breakaway set out with `without`")
		}
		e.report(f)
	}})

var _ = limit(Limit{ID: "breakaway-hold", When: when("breakaway-battery"),
	Protects: "a trailer that broke away would let go of its brakes before 15 minutes are over",
	Check: func(e *Eval) {
		if !e.require(of(e, breakawayGoverning), AtLeast, of(e, breakawayLeast),
			"the aged breakaway battery holds the brakes for %s; the law wants %s") {
			e.hint("new it holds %s, aged %s, aged and cold %s: fit a battery of greater capacity",
				e.said(of(e, breakawayNew)), e.said(of(e, breakawayWorn)), e.said(of(e, breakawayWornCold)))
		}
	},
})

var _ = limit(Limit{ID: "breakaway-hold-cold", Severity: source.Warning, When: when("breakaway-battery"),
	Protects: "in the cold an aged breakaway battery would let go of the brakes before 15 minutes are over",
	Check: func(e *Eval) {
		if short(Get(e, breakawayGoverning), Get(e, breakawayLeast)) {
			return // breakaway-hold reports it
		}
		e.require(of(e, breakawayWornCold), AtLeast, of(e, breakawayLeast),
			"aged and cold, the breakaway battery holds the brakes for %s; the law wants %s")
	},
})
