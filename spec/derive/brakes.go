package derive

import (
	"fmt"

	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// nominal is the voltage assumed for 12 V equipment. A battery under load is at or below it,
// so a constant current at 12 V is on the safe side for hold times. It is also the usual
// assumption for controllers and fuses.
const nominal quantity.Voltage = 12

var _ = declare(Decl{
	Name: "brakes.count", When: when("braked"),
	Formula: "two for every axle with brakes",
	Source:  arithmetic,
}, countBrakes)

func countBrakes(e *Eval) (n int) {
	for _, axle := range brakesFitted(e) {
		Read(e, axle.Brake.Kind)
		n += 2
	}
	return n
}

var _ = declare(Decl{
	Name: "brakes.magnets", When: when("electric-brakes"),
	Formula: "the magnets of all axles together",
	Source:  arithmetic,
}, func(e *Eval) int {
	n := 0
	for _, axle := range brakesFitted(e) {
		n += Read(e, axle.Brake.Magnets)
	}
	return n
})

// brakesCurrent uses the lowest resistance allowed for a magnet, so it is the greatest current
// of the brakes at 12 V.
var brakesCurrent = declare(Decl{
	Name: "brakes.current", When: when("electric-brakes"), Round: tenthUp,
	Formula: "for every axle: magnets × 12 V ÷ lowest resistance of one magnet; added up",
	Source:  Source{Arithmetic, "Ohm's law; resistances as the axle maker states them"},
}, func(e *Eval) (sum quantity.Current) {
	for _, axle := range brakesFitted(e) {
		magnets, each := Read(e, axle.Brake.Magnets), Read(e, axle.Brake.Resistance)
		if each <= 0 {
			e.Absent("a brake magnet without resistance")
		}
		sum += brakesDraw(magnets, each)
	}
	return sum
})

// Service limits of the axle makers: the strictest of the fitted brakes.
var (
	_ = leastOfBrakes(Decl{Name: "brakes.magnet_resistance", When: when("electric-brakes"), Round: asStated, Formula: "the least of the fitted brakes' lowest resistances of one magnet", Source: serviceLimit},
		func(b *product.Brake) source.Given[quantity.Resistance] { return b.Resistance })
	_ = leastOfBrakes(Decl{Name: "brakes.magnet_resistance_high", When: when("electric-brakes"), Round: asStated, Formula: "the least of the fitted brakes' highest resistances of a sound magnet", Source: serviceLimit},
		func(b *product.Brake) source.Given[quantity.Resistance] { return b.ResistanceHigh })
	_ = leastOfBrakes(Decl{Name: "brakes.drum_limit", When: when("drum-brakes"), Round: quantity.Rounding{Side: quantity.Down, Stated: true, Step: 0.01, MetricStep: 0.1}, Formula: "the least of the fitted drums' greatest diameters", Source: serviceLimit},
		func(b *product.Brake) source.Given[quantity.Length] { return b.DrumLimit })
	brakesLining = mostOfBrakes(Decl{Name: "brakes.lining_limit", When: when("braked"), Round: quantity.Rounding{Side: quantity.Up, Stated: true, Step: 0.001, MetricStep: 0.1, Fraction: 32}, Formula: "the greatest of the fitted brakes' least lining thicknesses", Source: serviceLimit},
		func(b *product.Brake) source.Given[quantity.Length] { return b.LiningLimit })
	_ = mostOfBrakes(Decl{Name: "brakes.rotor_limit", When: when("disc-brakes"), Round: quantity.Rounding{Side: quantity.Up, Stated: true, Step: 0.001, MetricStep: 0.01}, Formula: "the greatest of the fitted rotors' least thicknesses",
		Source: Source{Stated, "the axle maker's service limit, also cast or stamped on the rotor"}},
		func(b *product.Brake) source.Given[quantity.Length] { return b.RotorLimit })
)

var serviceLimit = Source{Stated, "the axle maker's service limit"}

var _ = limit(Limit{ID: "magnet-range", MaxReserve: 10, When: when("electric-brakes"),
	Protects: "limits of a magnet that are upside down fail every sound brake and pass a burnt one",
	Check: func(e *Eval) {
		for _, axle := range brakesFitted(e) {
			if b := axle.Brake; b.ResistanceHigh.Set {
				e.require(entry(e, b.Resistance), Below, entry(e, b.ResistanceHigh), "the lowest resistance of a magnet is %s, the highest %s; expected a rising range")
			}
		}
	}})

// leastOfBrakes declares the least of the figures stated for the fitted brakes.
func leastOfBrakes[T ~float64](d Decl, stated func(*product.Brake) source.Given[T]) Key[T] {
	return declare(d, func(e *Eval) (least T) {
		for _, axle := range brakesFitted(e) {
			if x := Read(e, stated(axle.Brake)); least == 0 || x < least {
				least = x
			}
		}
		return least
	})
}

// mostOfBrakes declares the greatest of them.
func mostOfBrakes[T ~float64](d Decl, stated func(*product.Brake) source.Given[T]) Key[T] {
	return declare(d, func(e *Eval) (most T) {
		for _, axle := range brakesFitted(e) {
			most = max(most, Read(e, stated(axle.Brake)))
		}
		return most
	})
}

// chargingVolts is the voltage of a 12 V system while the engine runs.
const chargingVolts = 14

var brakesCharging = declare(Decl{
	Name: "brakes.current_charging", When: when("electric-brakes"), Round: tenthUp,
	Formula: "brakes.current × 14 ÷ 12: with the engine of the tow vehicle running",
	Source:  Source{Arithmetic, "Ohm's law; 14 V is common practice for a running engine"},
}, func(e *Eval) quantity.Current { return charging(Get(e, brakesCurrent)) })

// charging returns the current of a resistance while the engine runs, from its current at
// 12 V.
func charging(at12 quantity.Current) quantity.Current { return at12 * chargingVolts / 12 }

var _ = declare(Decl{
	Name: "brakes.adjust_overdue", When: when("drum-brakes and carrier-miles"), Aside: true, Round: statedMost,
	Formula: "brakes.adjust_first, where use.driven_already has reached it",
	Source:  arithmetic,
}, func(e *Eval) quantity.Distance {
	due, driven := Get(e, brakesAdjustFirst), Get(e, drivenAlready)
	if driven < due {
		e.Absent("the first adjustment is not due when it is handed over")
	}
	return due
})

var brakesAdjustFirst = declare(Decl{
	Name: "brakes.adjust_first", When: when("drum-brakes"), Round: statedMost,
	Formula: "the distance after which new linings have bedded in, as the first-time task states it",
	Source:  Source{Practice, "brakes are first adjusted after 200 miles"},
}, func(e *Eval) quantity.Distance {
	task := e.Build.Line.Task("adjust-brakes-first")
	if task == nil || len(task.At) == 0 {
		e.Absent("the line has no task adjust-brakes-first with a distance")
	}
	return Read(e, task.At[0])
})

var _ = declare(Decl{
	Name: "brakes.gain_speed", When: when("controlled-brakes"), Round: asStated,
	Formula: "speed at which the gain of the controller is set: fast enough to feel the brakes, slow enough to stop",
	Source:  Source{Practice, "controller makers set the gain at 20 to 25 mph"},
}, func(*Eval) quantity.Speed { return quantity.MilesPerHour(20) })

// brakesLeastLining is the legal minimum of the lining, whatever the axle maker says.
var brakesLeastLining = declare(Decl{
	Name: "brakes.lining_least", When: when("braked"), Engineer: true,
	Round:   quantity.Rounding{Side: quantity.Up, MetricStep: 0.1, Fraction: 32},
	Formula: "1/16 in at the center of the shoe",
	Source:  Source{Published, "49 CFR 396 appendix A, minimum periodic inspection: linings of 1/16 in or less are rejected"},
}, func(*Eval) quantity.Length { return quantity.Inches(1.0 / 16) })

var _ = limit(Limit{ID: "brake-lining", When: when("braked"),
	Protects: "linings worn below the legal limit fail the yearly inspection, then the brakes fail the driver",
	Check:    atLeast(brakesLining, brakesLeastLining, "linings are to be replaced at %s, but an inspector rejects them at %s or less"),
})

// unbrakedMost is the GVWR above which every axle must have brakes. The rule is for commercial
// combinations; states have similar rules, some with lower thresholds, so it is applied to
// a line whatever its units are used for.
// Source: 49 CFR 393.42(a) and (b)(3).
const unbrakedMost quantity.Mass = 3000

// unbrakedShare is the greatest ratio of the axle weights of a trailer without brakes to those
// of its tow vehicle. Source: 49 CFR 393.42(b)(3).
const unbrakedShare = 0.4

// unbrakedTow returns the least sum of axle weights of the tow vehicle of a trailer without
// brakes, from its own.
func unbrakedTow(axles quantity.Mass) quantity.Mass { return axles / unbrakedShare }

var _ = declare(Decl{
	Name: "tow_vehicle.axles_unbraked", When: when("unbraked"), Round: wholeUp,
	Formula: "ratings.gvwr less hitch.tongue_range.low of it, ÷ 0.40: the least sum of the tow vehicle's axle weights for the trailer loaded to its rating",
	Source:  Source{Published, "49 CFR 393.42(b)(3): axle weight of the trailer at most 40 % of the sum of the tow vehicle's axle weights"},
}, func(e *Eval) quantity.Mass {
	rated := Get(e, gvwr)
	return unbrakedTow(rated - share(Get(e, shareLow), rated))
})

var _ = limit(Limit{ID: "brakes-required",
	Protects: "a heavy trailer without brakes on every axle pushes its tow vehicle through the crossing, and breaks the law",
	Check: func(e *Eval) {
		rated := of(e, gvwr)
		most := e.fromRule(Source{Published, "49 CFR 393.42(b)(3)"}, unbrakedMost, asStated)
		for i, p := range all[product.Axle](e) {
			if p.Data.Brake != nil || e.compare(rated, AtMost, most) {
				continue
			}
			f := e.conflict(rated, most, fmt.Sprintf("the gvwr is %%s and axle %d has no brakes; above %%s every axle has them", i+1))
			e.report(f.WithRelated(p.Fitting.From, "axle %d is %s", i+1, p.Fitting.Component).
				WithHint("fit an axle with brakes, with plug, feed and breakaway set"))
		}
	}})

// brakesFitted returns the axles that have brakes; if there are none the value is absent.
func brakesFitted(e *Eval) (out []*product.Axle) {
	for _, p := range all[product.Axle](e) {
		if p.Data.Brake != nil {
			out = append(out, p.Data)
		}
	}
	if len(out) == 0 {
		e.Absent("no axle has brakes")
	}
	return out
}

// brakesDraw returns the current of a number of magnets in parallel on 12 V.
func brakesDraw(magnets int, each quantity.Resistance) quantity.Current {
	return quantity.Current(float64(magnets) * float64(nominal) / float64(each))
}
