package derive

import (
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// The chargers of the deep-cycle battery other than house current, and the limits of the battery.

const (
	sunShare   = 0.75 // fraction of the output in full sun: dust, heat and a flat panel. Judgement.
	panelRises = 1.25 // greatest output of a panel relative to its label: bright clouds, snow and cold
	cellsInRow = 4    // of a 12 V battery
	cellFull   = 3.65 // V of a full cell: common practice

	// Efficiency of a converter. Common practice.
	converterBest  = 0.95
	converterWorst = 0.6
)

// panelRule is a rule for buildings, applied to the same panel on a trailer.
var panelRule = Source{Memory, "NFPA 70 article 690: 125 % of the short-circuit current, and the greatest correction of the voltage for cold"}

// cellRule is common to the makers of these cells.
var cellRule = Source{Practice, ""}

const (
	lithiumOn = "lithium-battery"
	solarOn   = "solar-charger"
	lineOn    = "charge-line"
)

var (
	_ = declare(Decl{Name: "battery.usable", When: batteryOn, Round: wholeDown, Formula: "half of battery.capacity, of lithium 80 %",
		Source: Source{Judgement, "lead-acid batteries wear out below half; lithium ones cut themselves off when they are nearly empty"}},
		func(e *Eval) quantity.Charge {
			return quantity.Charge(chemistries[Get(e, batteryKind)].usable) * Get(e, batteryCapacity)
		})

	_ = declare(Decl{Name: "battery.charge_coldest", When: when(lithiumOn), Round: asStated, Formula: "32 °F: below it lithium plates out on the cells and spoils them for good", Source: cellRule},
		func(*Eval) quantity.Temperature { return quantity.Fahrenheit(32) })

	_ = declare(Decl{Name: "battery.charge_hottest", When: when(lithiumOn), Round: asStated, Formula: "113 °F", Source: cellRule},
		func(*Eval) quantity.Temperature { return quantity.Fahrenheit(113) })

	batteryTakes = declare(Decl{Name: "battery.charge_limit", When: batteryOn, Round: wholeDown, Formula: "the most that one battery may be charged with × their number", Source: Source{Stated, "the battery maker"}},
		func(e *Eval) quantity.Current { return ofEach(e, fitted[product.Battery](e).ChargeMost) })

	batteryGives = declare(Decl{Name: "battery.discharge_limit", When: when(lithiumOn), Engineer: true, Round: wholeDown, Formula: "the most that the management circuit of one battery lets through × their number", Source: Source{Stated, "the battery maker"}},
		func(e *Eval) quantity.Current { return ofEach(e, fitted[product.Battery](e).GivesMost) })

	chargingMost = declare(Decl{Name: "charging.most", When: batteryOn, Engineer: true, Round: tenthUp, Formula: "charger, solar panel and charge line at full output at the same time", Source: arithmetic},
		func(e *Eval) (sum quantity.Current) {
			for _, key := range []Key[quantity.Current]{chargerOutput, solarOutput, chargeLineOutput} {
				if amperes, ok := Try(e, key); ok {
					sum += amperes
				}
			}
			return sum
		})
)

// ofEach returns the figure of all batteries in parallel.
func ofEach(e *Eval, g source.Given[quantity.Current]) quantity.Current {
	return Read(e, g) * quantity.Current(Read(e, fitted[product.Battery](e).Count))
}

var (
	solarOutput = ofPart(Decl{Name: "solar.output", When: when(solarOn), Round: asStated, Formula: "what panel and controller charge with in full sun", Source: Source{Stated, "the panel maker"}},
		func(p *product.Solar) source.Given[quantity.Current] { return p.Output })

	solarMost = declare(Decl{Name: "solar.current_most", When: when(solarOn), Engineer: true, Round: tenthUp, Formula: "short-circuit current of the panel × 1.25", Source: panelRule},
		func(e *Eval) quantity.Current {
			return panelRises * Read(e, fitted[product.Solar](e).ShortCircuit)
		})

	solarVoltage = declare(Decl{Name: "solar.voltage_most", When: when(solarOn), Engineer: true, Round: tenthUp, Formula: "open-circuit voltage of the panel × 1.25", Source: panelRule},
		func(e *Eval) quantity.Voltage {
			return panelRises * Read(e, fitted[product.Solar](e).OpenVoltage)
		})

	_ = sunny("summer", func(s *product.Solar) source.Given[quantity.Duration] { return s.SunSummer })
	_ = sunny("winter", func(s *product.Solar) source.Given[quantity.Duration] { return s.SunWinter })
)

// sunny declares the hours of sun assumed for a season, and the days for a recharge
// then.
func sunny(season string, hours func(*product.Solar) source.Given[quantity.Duration]) Key[quantity.Count] {
	sun := ofPart(Decl{Name: "solar.sun_hours." + season, When: when(solarOn), Round: quantity.Rounding{Side: quantity.Down, Step: 0.5, MetricStep: 0.5, US: "h", Metric: "h"}, Formula: "hours of full sun on a day", Source: Source{Stated, "the product line"}}, hours)
	return declare(Decl{Name: "solar.refill_days." + season, When: when(solarOn + " and deep-cycle-battery"), Round: wholeUp,
		Formula: "battery.usable ÷ 0.85, of lithium ÷ 0.95, ÷ (solar.output × solar.sun_hours." + season + " × 0.75), whole days",
		Source:  Source{Judgement, "a quarter is lost to dust, heat and a panel that lies flat; nothing is drawn meanwhile"}},
		func(e *Eval) quantity.Count {
			c := chemistries[Get(e, batteryKind)]
			return refillDays(quantity.Charge(c.usable)*Get(e, batteryCapacity), Get(e, solarOutput), Get(e, sun), c.stores)
		})
}

// refillDays returns the number of days of sun for charging ampere-hours.
func refillDays(missing quantity.Charge, output quantity.Current, sun quantity.Duration, stores float64) quantity.Count {
	return quantity.Count(float64(missing) / stores / (float64(output) * quantity.In(sun, "h") * sunShare))
}

var (
	chargeLineOutput = ofPart(Decl{Name: "charge_line.output", When: when(lineOn), Round: asStated, Formula: "the most the battery is charged with on the road", Source: fromLine},
		func(p *product.ChargeLine) source.Given[quantity.Current] { return p.Output })

	chargeLineInput = ofPart(Decl{Name: "charge_line.input", When: when(lineOn), Round: asStated, Formula: "the most that is drawn from the tow vehicle", Source: fromLine},
		func(p *product.ChargeLine) source.Given[quantity.Current] { return p.Input })
)

// charges is a charger of the battery: the batteries it suits and its final voltage.
type charges struct {
	what  string
	place source.Pos
	suits string
	volts source.Given[quantity.Voltage]
}

func chargers(e *Eval) (list []charges) {
	for _, p := range all[product.Charger](e) {
		suits := p.Data.Suits.Value
		if suits == "" {
			suits = "lead"
		}
		list = append(list, charges{"charger", p.Data.Output.At, suits, p.Data.Volts})
	}
	for _, p := range all[product.Solar](e) {
		list = append(list, charges{"controller of the solar panel", p.Data.Suits.At, p.Data.Suits.Value, p.Data.Volts})
	}
	for _, p := range all[product.ChargeLine](e) {
		list = append(list, charges{"charge line", p.Data.Suits.At, p.Data.Suits.Value, p.Data.Volts})
	}
	return list
}

var (
	_ = limit(Limit{ID: "charger-suits", NoMargin: true, When: batteryOn,
		Protects: "a charger made for lead drives a lithium battery past what its cells bear, and one made for lithium ruins lead",
		Check: func(e *Eval) {
			battery := fitted[product.Battery](e)
			for _, c := range chargers(e) {
				if c.suits != "both" && (c.suits == "lifepo4") != (battery.Kind.Value == "lifepo4") {
					e.report(e.at(c.place, "the %s is made for %s; the battery is %s", c.what, c.suits, battery.Kind.Text).
						WithRelated(battery.Kind.At, "the battery").WithHint("fit one that is made for both, or for this kind"))
				}
			}
		}})

	_ = limit(Limit{ID: "charge-voltage", MaxReserve: 2, When: batteryOn,
		Protects: "a voltage too high cooks the battery or sets it on fire; one too low never fills it",
		Check: func(e *Eval) {
			b := fitted[product.Battery](e)
			if b.ChargeHigh.Set && b.Kind.Value == "lifepo4" {
				e.require(entry(e, b.ChargeHigh), AtMost, e.fromRule(cellRule, quantity.Voltage(cellsInRow*cellFull), asStated), "the battery is said to be filled at %s; four cells in series bear %s")
			}
			for _, c := range chargers(e) {
				if !c.volts.Set || !b.ChargeLow.Set || !b.ChargeHigh.Set {
					continue
				}
				e.require(entry(e, c.volts), AtLeast, entry(e, b.ChargeLow), "the "+c.what+" fills the battery at %s; its maker wants at least %s")
				e.require(entry(e, c.volts), AtMost, entry(e, b.ChargeHigh), "the "+c.what+" fills the battery at %s; its maker allows %s")
			}
		}})

	_ = limit(Limit{ID: "charge-current", MaxReserve: 12, When: batteryOn,
		Protects: "a battery that is charged faster than it may be grows hot, swells or burns",
		Check: func(e *Eval) {
			if fitted[product.Battery](e).ChargeMost.Set {
				e.require(of(e, chargingMost), AtMost, of(e, batteryTakes), "what charges the battery gives %s together; it may be charged with %s")
			}
		}})

	_ = limit(Limit{ID: "discharge-current", MaxReserve: 12, When: when(lithiumOn),
		Protects: "a management circuit that cuts off under the pump leaves a load in the air",
		Check: func(e *Eval) {
			for _, key := range []Key[quantity.Current]{hydraulicsMotor, winchCurrent, jackCurrent} {
				if _, ok := Try(e, key); ok {
					e.require(of(e, batteryGives), AtLeast, of(e, key), "the management circuit of the battery cuts off above %s; a motor draws %s")
				}
			}
		}})

	_ = limit(Limit{ID: "battery-stated", NoMargin: true, When: batteryOn,
		Protects: "a battery is charged by guess where nobody says at which voltage and how fast it may be",
		Check: func(e *Eval) {
			b := fitted[product.Battery](e)
			lithium := e.Build.Has(lithiumOn)
			voltages := b.ChargeLow.Set && b.ChargeHigh.Set
			switch {
			case !voltages && (lithium || e.Build.Has(solarOn) || e.Build.Has(lineOn)):
				e.report(wrong(e, b.Kind, "the battery does not say at which voltage it is filled").WithHint("give charge_voltage_low and charge_voltage_high, from its maker"))
			case lithium && (!b.ChargeMost.Set || !b.GivesMost.Set):
				e.report(wrong(e, b.Kind, "the battery does not say what current it bears").WithHint("give charge_current and discharge_current, from its maker"))
			case lithium && !b.ColdCutoff.Value:
				e.report(wrong(e, b.Kind, "nothing stops the battery from being charged below freezing").WithHint("fit one whose management circuit does, and give cold_cutoff: true"))
			}
		}})

	_ = limit(Limit{ID: "charging-idle", NoMargin: true, When: when("(" + solarOn + " or " + lineOn + ") and not deep-cycle-battery"),
		Protects: "a panel or charge line without a battery feeds nothing, and its wires stay live",
		Check: func(e *Eval) {
			for _, c := range chargers(e) {
				e.report(e.at(c.place, "the %s has no battery to charge", c.what).WithHint("fit a deep-cycle battery, or leave it out"))
			}
		}})

	_ = limit(Limit{ID: "solar-controller", MaxReserve: 4, When: when(solarOn),
		Protects: "a controller that takes less than the panel gives in bright cold weather burns out, and may burn the trailer",
		Check: func(e *Eval) {
			s := fitted[product.Solar](e)
			e.require(entry(e, s.ControllerCurrent), AtLeast, of(e, solarMost), "the controller is rated for a panel current of %s; the panel can give %s")
			e.require(entry(e, s.ControllerVoltage), AtLeast, of(e, solarVoltage), "the controller is rated for a panel voltage of %s; in the cold the panel can reach %s")
		}})

	_ = limit(Limit{ID: "solar-output", MaxReserve: 4, When: when(solarOn),
		Protects: "a panel that is said to give more than it can leaves the owner with a flat battery",
		Check: func(e *Eval) {
			s := fitted[product.Solar](e)
			most := e.calculated("short-circuit current × open-circuit voltage ÷ charging voltage", Read(e, s.ShortCircuit)*quantity.Current(Read(e, s.OpenVoltage)/max(Read(e, s.Volts), 1)), tenthDown, entry(e, s.ShortCircuit), entry(e, s.OpenVoltage), entry(e, s.Volts))
			e.require(entry(e, s.Output), AtMost, most, "the solar panel is said to charge with %s; its label allows at most %s")
		}})

	_ = limit(Limit{ID: "charge-line-kind", NoMargin: true, When: when(lineOn),
		Protects: "a battery that draws more than the wire of the tow vehicle carries burns it, or takes the brakes their current",
		Check: func(e *Eval) {
			l := fitted[product.ChargeLine](e)
			if l.Kind.Value == "relay" && l.Suits.Value != "lead" {
				e.report(wrong(e, l.Suits, "a relay does not limit what a lithium battery draws").WithHint("write suits: lead, or fit a converter"))
			}
			if l.Kind.Value == "dc-dc" && !l.Volts.Set {
				e.report(wrong(e, l.Kind, "the converter does not say at which voltage it fills the battery").WithHint("give voltage, as set"))
			}
			if e.Build.Has("electric-over-hydraulic") {
				e.report(wrong(e, l.Kind, "the pump of the brakes and the charge line hang on the same contact of the plug").WithHint("leave the charge line out: the pump must never go without current"))
			}
			if p, ok := first[product.Connector](e); !ok || !connectorHas(p.Data, "charge") {
				e.report(wrong(e, l.Kind, "the plug has no contact that brings current from the tow vehicle").WithHint("fit a seven-way plug"))
			}
		}})

	_ = limit(Limit{ID: "charge-line-power", MaxReserve: 4, When: when(lineOn),
		Protects: "a charge line said to draw less than it gives has too thin a wire and too small a fuse",
		Check: func(e *Eval) {
			l := fitted[product.ChargeLine](e)
			in, out := entry(e, l.Input), entry(e, l.Output)
			if Read(e, l.Kind) == "relay" { // it is a switch
				e.require(in, AtLeast, out, "the relay draws %s from the tow vehicle; it gives %s")
				e.require(in, AtMost, out, "the relay draws %s from the tow vehicle; it gives only %s")
				return
			}
			if !l.Volts.Set {
				return // charge-line-kind reports it
			}
			draws := Read(e, l.Output) * quantity.Current(float64(Read(e, l.Volts))/float64(nominal))
			volts := entry(e, l.Volts)
			e.require(in, AtLeast, e.calculated("output × voltage ÷ 12 V ÷ 0.95, common practice", draws/converterBest, tenthUp, out, volts), "the converter draws %s from the tow vehicle; for what it gives it needs at least %s")
			e.require(in, AtMost, e.calculated("output × voltage ÷ 12 V ÷ 0.6, common practice", draws/converterWorst, tenthDown, out, volts), "the converter draws %s from the tow vehicle; what it gives takes %s at most")
		}})

	_ = limit(Limit{ID: "charge-drop", Severity: source.Warning, When: when(lineOn),
		Protects: "a charge line on a thin wire never fills the battery: it gives out with a load in the air",
		Check:    dropAtMost(wiringLine, motorDropMost, "charge line")})
)
