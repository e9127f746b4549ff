package derive

import (
	"fmt"
	"math"

	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

const (
	overnight      = 14 // hours from evening to morning
	freezingMargin = 5  // °F, covers interpolation between published points
)

// chemistry is what differs between batteries of two kinds.
type chemistry struct {
	usable   float64        // fraction of a charge
	stores   float64        // fraction of the charger's ampere-hours
	exponent quantity.Count // of Peukert's law, where the maker of the battery gives none
	states   []batteryState
}

// batteryState is one row of the table of states of charge.
type batteryState struct {
	charge  int              // percent
	volts   quantity.Voltage // at rest; 0 if not published
	gravity float64          // specific gravity of the electrolyte; 0 if not published
}

// Deeper discharge wears out lead-acid batteries; below 20 % the management system of a lithium
// battery may disconnect under the load of a pump (common practice, as is what it stores).
//
// Exponents: flooded by judgement, because published ranges are 1.20 to 1.30 and 1.2 to 1.6, and
// batteries age; AGM the upper end of the published range from 1.05; lithium the upper end of the
// range remembered, from 1.00.
//
// Rest voltages of 12 V batteries. Flooded: the table credited to the Battery Council
// International, at 80 °F. AGM and lithium: common practice, no source. There is no figure for an
// empty AGM battery and no specific gravity; between full and nearly empty the voltage of a
// lithium battery hardly moves.
var chemistries = map[Text]chemistry{
	"flooded": {0.50, 0.85, 1.40, []batteryState{{100, 12.65, 1.265}, {75, 12.45, 1.225}, {50, 12.24, 1.190}, {25, 12.06, 1.155}, {0, 11.89, 1.120}}},
	"agm":     {0.50, 0.85, 1.15, []batteryState{{100, 12.8, 0}, {75, 12.6, 0}, {50, 12.3, 0}, {25, 12.0, 0}}},
	"lifepo4": {0.80, 0.95, 1.05, []batteryState{{100, 13.3, 0}}},
}

var batteryOn = when("deep-cycle-battery")

var batteryKind = textOfPart(Decl{Name: "battery.kind", Engineer: true, When: batteryOn, Formula: "flooded, agm or lifepo4", Source: Source{Stated, "the battery maker"}},
	func(b *product.Battery) source.Given[string] { return b.Kind })

var _ = ofPart(Decl{Name: "battery.count", When: batteryOn, Formula: "batteries side by side", Source: fromLine}, func(b *product.Battery) source.Given[int] { return b.Count })

var batteryCapacity = declare(Decl{
	Name: "battery.capacity", When: batteryOn, Round: wholeDown,
	Formula: "rated capacity at the 20 h rate × number of batteries side by side",
	Source:  Source{Stated, "the battery maker's rating"},
}, func(e *Eval) quantity.Charge {
	b := fitted[product.Battery](e)
	return Read(e, b.Capacity) * quantity.Charge(Read(e, b.Count))
})

// batteryPlan is the round, low number an owner may plan a day on.
var batteryPlan = ofPart(Decl{Name: "battery.plan_cycles", When: when("deep-cycle-battery and hydraulics"), Formula: "raises and lowerings an owner may plan on from one full charge", Source: Source{Stated, "the product line; held against battery.cycles_per_charge"}},
	func(b *product.Battery) source.Given[int] { return b.PlanCycles })

var batteryCycles = declare(Decl{
	Name: "battery.cycles_per_charge", When: when("deep-cycle-battery and hydraulics"), Engineer: true, Round: wholeDown,
	Formula: "half the time 20 h × (C ÷ (I × 20 h))^k the battery can feed the motor at relief, of lithium 80 % of it, ÷ hydraulics.cycle_time; k the battery maker's exponent, without one 1.40 flooded, 1.15 AGM and 1.05 lithium",
	Source:  Source{Published, "Peukert's law for a capacity given at the 20 h rate; published ranges of k for lead, of lithium from memory; what is usable by judgement"},
}, func(e *Eval) quantity.Count {
	cycle := Get(e, hydraulicsCycle)
	if cycle <= 0 {
		e.Absent("a raise that takes no time")
	}
	run := peukert(Get(e, batteryCapacity), Get(e, hydraulicsMotor), batteryExponent(e))
	return quantity.Count(chemistries[Get(e, batteryKind)].usable * float64(run) / float64(cycle))
})

func batteryExponent(e *Eval) quantity.Count {
	b := fitted[product.Battery](e)
	if b.Peukert.Set {
		return Read(e, b.Peukert)
	}
	return chemistries[Get(e, batteryKind)].exponent
}

var chargerOutput = ofPart(Decl{Name: "charger.output", When: when("charger"), Round: asStated, Formula: "rated output", Source: Source{Stated, "the charger maker"}},
	func(c *product.Charger) source.Given[quantity.Current] { return c.Output })

var _ = textOfPart(Decl{Name: "charger.inlet", When: when("charger"), Formula: "where the mains cord goes in", Source: fromLine}, func(c *product.Charger) source.Given[string] { return c.Inlet })

var (
	batteryRecharge = recharge("battery.recharge_time", "half of battery.capacity", 0.5)
	_               = recharge("battery.recharge_flat", "battery.capacity", 1)
)

// recharge declares the time for recharging a fraction of the capacity. It does not include
// the slow end of the charge, whose length depends on the charger.
func recharge(name, charge string, share quantity.Charge) Key[quantity.Duration] {
	return declare(Decl{
		Name: name, When: when("deep-cycle-battery and charger"), Round: quantity.Rounding{Side: quantity.Up, US: "h", Metric: "h"},
		Formula: charge + " ÷ charger.output ÷ 0.85, for lithium ÷ 0.95",
		Source:  Source{Published, "public charging-time page: ampere-hours ÷ (amperes × efficiency), 80 to 85 % for lead-acid; 95 % for lithium is common practice, no source"},
	}, func(e *Eval) quantity.Duration {
		amperes := Get(e, chargerOutput)
		if amperes <= 0 {
			e.Absent("a charger without output")
		}
		return rechargeTime(share*Get(e, batteryCapacity), amperes, chemistries[Get(e, batteryKind)].stores)
	})
}

var batteryOvernight = declare(Decl{
	Name: "battery.overnight", When: when("deep-cycle-battery and charger"), Engineer: true, Round: quantity.Rounding{US: "h", Metric: "h"},
	Formula: "14 h from evening to morning",
	Source:  Source{Judgement, "the owner is told to charge overnight"},
}, func(*Eval) quantity.Duration { return quantity.Minutes(60 * overnight) })

// rechargeTime returns the time for charging ampere-hours into a battery that stores a
// fraction of them.
func rechargeTime(missing quantity.Charge, output quantity.Current, stores float64) quantity.Duration {
	return quantity.Minutes(60 * float64(missing) / float64(output) / stores)
}

var _ = limit(Limit{ID: "plan-cycles", When: when("deep-cycle-battery and hydraulics"),
	Protects: "an owner who trusts the number of lifts is left with a raised deck and a flat battery",
	Check: func(e *Eval) {
		e.require(of(e, batteryPlan), AtMost, of(e, batteryCycles), "the owner is told to plan on %s lifts a charge; the battery is good for %s")
	}})

var _ = limit(Limit{ID: "recharge-overnight", Severity: source.Warning, When: when("deep-cycle-battery and charger"),
	Protects: "a charger that needs more than a night sends the owner out with a battery half full",
	Check:    atMost(batteryRecharge, batteryOvernight, "the charger takes %s to put half a charge back; a night has %s")})

var _ = limit(Limit{ID: "pump-battery", NoMargin: true, When: hydraulicsOn,
	Protects: "a pump that shares the breakaway battery flattens the one thing that stops a runaway trailer",
	Check: func(e *Eval) {
		if u := fitted[product.PowerUnit](e); !hasPart[product.Battery](e) {
			e.report(wrong(e, u.Motor, "a pump that draws %s is fitted without a battery of its own", u.Motor.Text))
		}
	}})

// electrolyte is the freezing point of battery acid in °F by specific gravity. The column
// often printed next to rest voltages is up to 25 °F too cold and is not used. Source: Army
// Ordnance course OD1002; 1.265, 1.225 and 1.050 are common practice, no source; where both
// have a point, the warmer.
var electrolyte = []struct{ gravity, freezes float64 }{
	{1.000, 32}, {1.050, 27}, {1.100, 19}, {1.150, 5}, {1.200, -16}, {1.225, -35}, {1.250, -62}, {1.265, -75}, {1.280, -90},
}

// acidFreezes returns the freezing point of battery acid for a specific gravity from 1.000 to
// 1.280, by linear interpolation between published points; NaN outside. The true curve is
// warmer between the points, by less than 5 °F in the range of states of charge.
func acidFreezes(gravity float64) quantity.Temperature {
	for i := 1; i < len(electrolyte); i++ {
		a, b := electrolyte[i-1], electrolyte[i]
		if a.gravity <= gravity && gravity <= b.gravity {
			return quantity.Fahrenheit(a.freezes + (b.freezes-a.freezes)*(gravity-a.gravity)/(b.gravity-a.gravity))
		}
	}
	return quantity.Temperature(math.NaN())
}

func init() {
	for _, charge := range []int{100, 75, 50, 25, 0} {
		name := fmt.Sprintf("battery.state.%d", charge)
		declare(Decl{
			Name: name + ".voltage", When: batteryOn, Round: asStated,
			Formula: "voltage at rest for this type of battery",
			Source:  Source{Published, "flooded: table credited to the Battery Council International, 80 °F; AGM and lithium: common practice, no source"},
		}, func(e *Eval) quantity.Voltage {
			s := stateOf(e, charge)
			if s.volts == 0 {
				e.Absent("no rest voltage is published for this type at %d percent", charge)
			}
			return s.volts
		})
		declare(Decl{
			Name: name + ".freezing", When: batteryOn, Round: quantity.Rounding{Side: quantity.Up, Step: 5, MetricStep: 5},
			Formula: "freezing point of the acid at the specific gravity of this state, on a straight line between published points, + 5 °F, rounded up",
			Source:  Source{Published, "electrolyte data: Army Ordnance course OD1002; the 5 °F by judgement"},
		}, func(e *Eval) quantity.Temperature {
			s := stateOf(e, charge)
			if s.gravity == 0 {
				e.Absent("no specific gravity is published for this type")
			}
			return acidFreezes(s.gravity) + freezingMargin
		})
	}
}

// stateOf returns a state of charge of the fitted battery; without figures if none are published.
func stateOf(e *Eval, charge int) batteryState {
	for _, s := range chemistries[Get(e, batteryKind)].states {
		if s.charge == charge {
			return s
		}
	}
	return batteryState{}
}
