package derive

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"ownerguide/spec"
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

// The kinds of published check that brakes, wire, hydraulics, batteries,
// geometry and the schedule answer.
func init() {
	risingHydraulics()
	risingElectric()
	risingBattery()
	risingGeometry()
	risingSchedule()
}

func ring(bore, rod float64) quantity.Area {
	return boreArea(quantity.Inches(bore)) - boreArea(quantity.Inches(rod))
}

func risingHydraulics() {
	kinds["hydraulics.area"] = numeric(1, func(x []float64) float64 { return float64(boreArea(quantity.Inches(x[0]))) })
	kinds["hydraulics.ring"] = numeric(2, func(x []float64) float64 { return float64(ring(x[0], x[1])) })
	kinds["hydraulics.push"] = numeric(2, func(x []float64) float64 {
		return float64(pushForce(quantity.PSI(x[0]), boreArea(quantity.Inches(x[1]))))
	})
	kinds["hydraulics.pull"] = numeric(3, func(x []float64) float64 { return float64(pushForce(quantity.PSI(x[0]), ring(x[1], x[2]))) })
	kinds["hydraulics.pressure"] = numeric(2, func(x []float64) float64 {
		return float64(pressureFor(quantity.Pounds(x[0]), boreArea(quantity.Inches(x[1]))))
	})
	kinds["hydraulics.pull_pressure"] = numeric(3, func(x []float64) float64 {
		return float64(pressureFor(quantity.Pounds(x[0]), ring(x[1], x[2])))
	})
	kinds["hydraulics.volume"] = numeric(2, func(x []float64) float64 {
		return float64(swept(boreArea(quantity.Inches(x[0])), quantity.Inches(x[1])))
	})
	kinds["hydraulics.shut"] = numeric(3, func(x []float64) float64 {
		return float64(pressureFor(pushForce(quantity.PSI(x[0]), boreArea(quantity.Inches(x[1]))), ring(x[1], x[2])))
	})
	kinds["hydraulics.prop_pressure"] = numeric(7, func(x []float64) float64 {
		return float64(propAtRating(quantity.Pounds(x[0]), quantity.Inches(x[1]), x[2]*x[3], 2*ring(x[4], x[5]), x[6]))
	})
	kinds["hydraulics.lock"] = numeric(3, func(x []float64) float64 { return float64(lockForce(x[0], x[1], quantity.Inches(x[2]))) })
	kinds["hydraulics.hinge"] = numeric(4, func(x []float64) float64 { return hingeForce(x[0], x[1], x[2], x[3]) })
	kinds["hydraulics.time"] = numeric(4, func(x []float64) float64 {
		flow := source.Given[quantity.FlowRate]{Value: quantity.FlowRate(x[3]), Set: true}
		b := (&spec.Build{Sheet: &sheet.Sheet{}, Line: &product.Line{}, Model: &product.Model{}}).WithParts([]*spec.Fitting{{Common: &product.Common{}, Data: &product.PowerUnit{Flow: flow}}})
		volume := swept(boreArea(quantity.Inches(x[0])), quantity.Inches(x[1])) * quantity.Volume(x[2])
		return quantity.In(fillTime(newRun(b).eval(), volume), "s")
	})
	kinds["hydraulics.buckling"] = numeric(2, func(x []float64) float64 {
		return float64(bucklingLoad(quantity.Inches(x[0]), quantity.Inches(x[1])))
	})
	kinds["hydraulics.motor_share"] = numeric(3, func(x []float64) float64 {
		return float64(motorShare(quantity.PSI(x[0]), quantity.FlowRate(x[1]), quantity.Current(x[2])))
	})
	kinds["winch.duty"] = numeric(2, func(x []float64) float64 { return float64(dutyShare(quantity.Minutes(x[0]), quantity.Minutes(x[1]))) })
	kinds["clearance.breakover"] = numeric(3, func(x []float64) float64 {
		return float64(breakoverAngle(quantity.Inches(x[0]), quantity.Inches(x[1]), quantity.Inches(x[2])))
	})
	kinds["hydraulics.fluid"] = func(in []string) (string, error) {
		n, err := strconv.Atoi(in[0])
		return fluidGrade(n), err
	}
	kinds["viscosity.a"] = walthers(4, func(w walther, _ []float64) float64 { return w.a })
	kinds["viscosity.b"] = walthers(4, func(w walther, _ []float64) float64 { return w.b })
	kinds["viscosity.at"] = walthers(5, func(w walther, x []float64) float64 { return float64(w.at(celsius(x[4]))) })
	kinds["viscosity.temperature"] = walthers(5, func(w walther, x []float64) float64 {
		return quantity.In(w.temperature(quantity.Viscosity(x[4])), "°C")
	})
	kinds["viscosity.index"] = numeric(2, func(x []float64) float64 {
		index, _ := viscosityIndex(quantity.Viscosity(x[0]), quantity.Viscosity(x[1]))
		return index
	})
	kinds["viscosity.band"] = numeric(1, func(x []float64) float64 { return gradeBand * x[0] })
}

// walthers makes a kind of two points of a fluid: viscosity and °C, twice.
func walthers(n int, f func(w walther, x []float64) float64) func([]string) (string, error) {
	return numeric(n, func(x []float64) float64 {
		w, ok := waltherThrough(quantity.Viscosity(x[0]), celsius(x[1]), quantity.Viscosity(x[2]), celsius(x[3]))
		if !ok {
			return math.NaN()
		}
		return f(w, x)
	})
}

func risingElectric() {
	kinds["brakes.current"] = numeric(2, func(x []float64) float64 { return float64(brakesDraw(int(x[0]), quantity.Resistance(x[1]))) })
	kinds["brakes.charging"] = numeric(2, func(x []float64) float64 { return float64(charging(brakesDraw(int(x[0]), quantity.Resistance(x[1])))) })
	kinds["brakes.lining_least"] = constant("brakes.lining_least")
	kinds["breakaway.least"] = constant("breakaway.hold_least")
	kinds["breakaway.enough"] = func(in []string) (string, error) {
		x, err := numbers(in)
		if err != nil {
			return "", err
		}
		hold := peukert(quantity.Charge(x[0]*x[2]), quantity.Current(x[1]), breakawayExponent)
		return yes(!short(hold, quantity.Minutes(15))), nil
	}
	kinds["wire.diameter"] = numeric(1, func(x []float64) float64 { return float64(wireDiameter(int(x[0]))) })
	kinds["wire.resistance"] = numeric(1, func(x []float64) float64 { return float64(wireResistance(int(x[0]), 12000)) })
	kinds["wire.per_km"] = numeric(1, func(x []float64) float64 {
		return float64(wireResistance(int(x[0]), quantity.Inches(1000/0.0254)))
	})
	kinds["wire.loop"] = numeric(2, func(x []float64) float64 {
		return float64(wireResistance(int(x[0]), quantity.Inches(2*12*x[1])))
	})
	kinds["wire.ampacity"] = func(in []string) (string, error) { return strconv.Itoa(int(ampacities[in[0]])), nil }
	kinds["brakes.unbraked_tow"] = numeric(1, func(x []float64) float64 { return unbrakedTow(quantity.Pounds(x[0])).Base() })
	kinds["winch.layer_pull"] = numeric(4, func(x []float64) float64 {
		return layerPull(quantity.Pounds(x[0]), quantity.Inches(x[1]), quantity.Inches(x[2]), int(x[3])).Base()
	})
	kinds["winch.layers"] = numeric(4, func(x []float64) float64 {
		return float64(ropeLayers(quantity.Inches(12*x[0]), quantity.Inches(x[1]), quantity.Inches(x[2]), quantity.Inches(x[3])))
	})
	kinds["winch.slope_pull"] = numeric(2, func(x []float64) float64 { return slopePull(quantity.Pounds(x[0]), quantity.Degrees(x[1])).Base() })
	kinds["loading.clear_above"] = numeric(2, func(x []float64) float64 { return float64(clearAbove(quantity.Inches(x[0]), quantity.Inches(x[1]))) })
	kinds["loading.slope"] = numeric(2, func(x []float64) float64 { return float64(slopeOf(quantity.Inches(x[0]), quantity.Inches(x[1]))) })
	kinds["loading.support_force"] = numeric(5, func(x []float64) float64 {
		return statics{tongue: x[0], tongueLeast: x[0], center: x[1]}.supportForce(x[2], x[3], x[4])
	})
	kinds["wire.drop"] = numeric(3, func(x []float64) float64 {
		return float64(wireDrop(int(x[0]), quantity.Inches(12*x[1]), quantity.Current(x[2])))
	})
	kinds["connector.blade"] = func(in []string) (string, error) { return connectorFace["seven-blade"][in[0]], nil }
	kinds["connector.round"] = func(in []string) (string, error) { return connectorFace["seven-round"][in[0]], nil }
}

// constant answers with a value that every unit has alike.
func constant(name string) func([]string) (string, error) {
	return func([]string) (string, error) {
		q, ok := declarations[name].compute(&Eval{}).(quantity.Quantity)
		if !ok {
			return "", fmt.Errorf("%s is no quantity", name)
		}
		return strconv.FormatFloat(q.Base(), 'g', -1, 64), nil
	}
}

func yes(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

func risingBattery() {
	kinds["battery.hold"] = numeric(3, func(x []float64) float64 {
		return float64(peukert(quantity.Charge(x[0]), quantity.Current(x[1]), quantity.Count(x[2])))
	})
	kinds["battery.hours"] = numeric(3, func(x []float64) float64 {
		return quantity.In(peukert(quantity.Charge(x[0]), quantity.Current(x[1]), quantity.Count(x[2])), "h")
	})
	kinds["battery.amp_hours"] = numeric(3, func(x []float64) float64 {
		return x[1] * quantity.In(peukert(quantity.Charge(x[0]), quantity.Current(x[1]), quantity.Count(x[2])), "h")
	})
	kinds["battery.freezes"] = numeric(1, func(x []float64) float64 { return float64(acidFreezes(x[0])) })
	kinds["battery.recharge"] = numeric(2, func(x []float64) float64 {
		return quantity.In(rechargeTime(quantity.Charge(x[0]), quantity.Current(x[1]), chemistries["flooded"].stores), "h")
	})
	kindOf := func(in []string, f func(kind Text, x []float64) float64) (string, error) {
		return numeric(len(in)-1, func(x []float64) float64 { return f(Text(in[0]), x) })(in[1:])
	}
	kinds["charging.usable"] = func(in []string) (string, error) {
		return kindOf(in, func(kind Text, x []float64) float64 { return chemistries[kind].usable * x[0] })
	}
	kinds["charging.hours"] = func(in []string) (string, error) {
		return kindOf(in, func(kind Text, x []float64) float64 {
			return quantity.In(rechargeTime(quantity.Charge(x[0]), quantity.Current(x[1]), chemistries[kind].stores), "h")
		})
	}
	kinds["charging.days"] = func(in []string) (string, error) {
		return kindOf(in, func(kind Text, x []float64) float64 {
			return float64(refillDays(quantity.Charge(x[0]), quantity.Current(x[1]), quantity.Minutes(60*x[2]), chemistries[kind].stores))
		})
	}
	kinds["charging.panel"] = numeric(1, func(x []float64) float64 { return panelRises * x[0] })
	kinds["charging.cells"] = numeric(1, func(x []float64) float64 { return cellsInRow * x[0] })
	kinds["charging.above_cells"] = func(in []string) (string, error) {
		return numeric(1, func(x []float64) float64 { return x[0] - cellsInRow*cellFull })(in)
	}
	kinds["stock.room"] = numeric(1, func(x []float64) float64 { return float64(stockRoom(quantity.Pounds(x[0]))) / squareInches })
	kinds["stock.heads"] = numeric(3, func(x []float64) float64 {
		return float64(heads(quantity.SquareInches(squareInches*x[0]), quantity.Pounds(x[1]), quantity.Pounds(x[2])))
	})
	kinds["battery.overnight"] = func(in []string) (string, error) {
		x, err := numbers(in)
		if err != nil {
			return "", err
		}
		t := rechargeTime(quantity.Charge(chemistries["flooded"].usable*x[0]), quantity.Current(x[1]), chemistries["flooded"].stores)
		return yes(quantity.In(t, "h") <= overnight), nil
	}
	kinds["battery.voltage"] = func(in []string) (string, error) {
		s, err := stateFor(in)
		return strconv.FormatFloat(float64(s.volts), 'g', -1, 64), err
	}
	kinds["battery.printed_above"] = func(in []string) (string, error) {
		s, err := stateFor(in)
		if err != nil {
			return "", err
		}
		x, err := numbers(in[2:])
		if err != nil {
			return "", err
		}
		name := "battery.state." + in[1] + ".freezing"
		shown, _ := quantity.English.Rounded(acidFreezes(s.gravity)+freezingMargin, declarations[name].Round)
		return yes(shown >= x[0]), nil
	}
}

func stateFor(in []string) (batteryState, error) {
	for _, s := range chemistries[Text(in[0])].states {
		if strconv.Itoa(s.charge) == in[1] {
			return s, nil
		}
	}
	return batteryState{}, fmt.Errorf("no state %s of %s", in[1], in[0])
}

func risingGeometry() {
	triangle := func(x []float64) hoist { return hoist{foot: spot{fore: x[0]}, head: spot{fore: x[1]}} }
	kinds["geometry.included"] = numeric(3, func(x []float64) float64 { return float64(triangle(x).included(quantity.Inches(x[2]))) })
	kinds["geometry.lever"] = numeric(3, func(x []float64) float64 { return triangle(x).lever(quantity.Inches(x[2])) })
	kinds["geometry.ground"] = numeric(3, func(x []float64) float64 {
		angle, ok := meetsGround(quantity.Inches(x[0]), quantity.Inches(x[1]), quantity.Inches(x[2]))
		if !ok {
			return math.NaN()
		}
		return float64(angle)
	})
	kinds["geometry.highest"] = numeric(3, func(x []float64) float64 { return spot{x[0], x[1]}.highest(quantity.Degrees(x[2])) })
	kinds["geometry.fill"] = numeric(4, func(x []float64) float64 {
		return float64(fillDepth(quantity.Pounds(x[0]), quantity.Density(x[1]), quantity.Inches(x[2]), quantity.Inches(x[3])))
	})
	kinds["geometry.lines"] = func([]string) (string, error) {
		q, ok := declarations["lines.clearance"].compute(&Eval{}).(quantity.Length)
		if !ok {
			return "", fmt.Errorf("no length")
		}
		return strconv.FormatFloat(quantity.In(q, "ft"), 'g', -1, 64), nil
	}
}

func given[T any](x T) source.Given[T] { return source.Given[T]{Value: x, Set: true} }

func risingSchedule() {
	kinds["schedule.months"] = func(in []string) (string, error) {
		d, n, err := dayAndNumber(in[0], in[1])
		return d.AddMonths(int(n)).String(), err
	}
	kinds["schedule.due"] = func(in []string) (string, error) {
		d, months, err := dayAndNumber(in[0], in[1])
		if err != nil {
			return "", err
		}
		x, err := numbers(in[2:])
		if err != nil {
			return "", err
		}
		r := usage(&sheet.Use{PerMonth: given(quantity.Miles(x[1]))})
		every := product.Interval{Every: given(quantity.Miles(x[0])), Months: given(int(months))}
		day, ok := (&duty{interval: &every, starts: d, since: d, counts: d}).due(r, quantity.Date{})
		if !ok {
			return "", fmt.Errorf("never due")
		}
		return day.String(), nil
	}
	kinds["schedule.kind"] = func(in []string) (string, error) {
		what, amount, _ := strings.Cut(in[0], " ")
		x, err := numbers([]string{amount, in[1], in[2]})
		if err != nil {
			return "", err
		}
		r := usage(&sheet.Use{PerMonth: given(quantity.Miles(x[1])), LoadsPerWeek: given(int(x[2]))})
		every := map[string]product.Interval{
			"loads": {Loads: given(int(x[0]))}, "miles": {Every: given(quantity.Miles(x[0]))}, "months": {Months: given(int(x[0]))},
		}[what]
		if kind := r.rule(&every); kind != "" {
			return kind, nil
		}
		return "dated", nil
	}
}

func dayAndNumber(day, number string) (d quantity.Date, n float64, err error) {
	if err = d.ParseScalar(day); err != nil {
		return d, 0, err
	}
	n, err = strconv.ParseFloat(number, 64)
	return d, n, err
}
