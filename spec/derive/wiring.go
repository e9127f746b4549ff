package derive

import (
	"math"
	"strconv"
	"strings"

	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// copper is the resistivity of annealed copper at 20 °C in Ω·mm²/m: 1/58, the
// International Annealed Copper Standard (IEC 60028).
const copper = 1.0 / 58

// Greatest voltage drops, in percent of 12 V.
const (
	brakeDropMost quantity.Percent = 10 // common practice
	lampDropMost  quantity.Percent = 5  // common practice
	motorDropMost quantity.Percent = 10 // common practice, for valves too
)

// gaugeNumber returns the number of an American Wire Gauge: 1/0 is 0, 2/0 is -1 and so on to
// 4/0.
func gaugeNumber(gauge string) int {
	aught, more, _ := strings.Cut(gauge, "/")
	n, _ := strconv.Atoi(aught) // the line's reader accepts no other gauges
	if more != "" {
		return 1 - n
	}
	return n
}

// wireDiameter returns the bare diameter of a solid conductor by American Wire Gauge. It holds
// for gauges from 0000, given as -3, to 40.
// Source: ASTM B258: d = 0.005 in × 92^((36 − n)/39).
func wireDiameter(gauge int) quantity.Length {
	return quantity.Inches(0.005 * math.Pow(92, float64(36-gauge)/39))
}

// wireResistance returns the resistance of a copper conductor of a gauge and length at 20 °C,
// for the length given, one way. Stranded automotive wire may have a few percent less copper
// than its gauge, so this is a lower bound.
// Source: ASTM B258 diameters; resistivity of the International Annealed Copper Standard.
func wireResistance(gauge int, long quantity.Length) quantity.Resistance {
	mm := quantity.In(wireDiameter(gauge), "mm")
	return quantity.Resistance(copper * quantity.In(long, "m") / (math.Pi / 4 * mm * mm))
}

// wireDrop returns the voltage drop out and back, in percent of 12 V.
func wireDrop(gauge int, oneWay quantity.Length, current quantity.Current) quantity.Percent {
	volts := float64(current) * float64(wireResistance(gauge, 2*oneWay))
	return quantity.Percent(100 * volts / float64(nominal))
}

const wiringFormula = " × resistance of the wire out and back ÷ 12 V × 100"

var wiringSource = Source{Published, "ASTM B258 wire diameters; annealed copper at 20 °C, 1/58 Ω·mm²/m"}

// wiringBrake assumes the whole brake current over the whole length, although the current of the
// front axle leaves the wire earlier: this is on the safe side.
var wiringBrake = declare(Decl{
	Name: "wiring.brake_drop", When: when("controlled-brakes"), Engineer: true, Round: tenthUp,
	Formula: "brakes.feed_current" + wiringFormula,
	Source:  wiringSource,
}, func(e *Eval) quantity.Percent {
	c := circuit(e, "brakes")
	return wireDrop(gaugeNumber(Read(e, c.Gauge)), Read(e, c.OneWay), Get(e, brakesFeed))
})

var wiringLamp = declare(Decl{
	Name: "wiring.lamp_drop", Engineer: true, Round: tenthUp,
	Formula: "lamp current" + wiringFormula,
	Source:  wiringSource,
}, func(e *Eval) quantity.Percent {
	c := circuit(e, "lamps")
	return wireDrop(gaugeNumber(Read(e, c.Gauge)), Read(e, c.OneWay), Read(e, c.Load))
})

var (
	wiringValve = motorDrop("reverse", "reverse-solenoid", valveCurrent)
	wiringPump  = motorDrop("pump", "hydraulics", hydraulicsMotor)
	wiringWinch = motorDrop("winch", "winch", winchCurrent)
	wiringJack  = motorDrop("jack", "jack-powered", jackCurrent)
	wiringLine  = motorDrop("charge-line", "charge-line", chargeLineInput)
)

// motorDrop declares the voltage drop of the feed of a motor, a valve or a charger at full load.
func motorDrop(feeds, condition string, draws Key[quantity.Current]) Key[quantity.Percent] {
	return declare(Decl{
		Name: "wiring." + strings.ReplaceAll(feeds, "-", "_") + "_drop", When: when(condition), Engineer: true, Round: tenthUp,
		Formula: draws.Name() + wiringFormula,
		Source:  wiringSource,
	}, func(e *Eval) quantity.Percent {
		c := circuit(e, feeds)
		return wireDrop(gaugeNumber(Read(e, c.Gauge)), Read(e, c.OneWay), Get(e, draws))
	})
}

// circuit returns the unit's first circuit with a feed; if there is none the value is
// absent.
func circuit(e *Eval, feeds string) *product.Circuit {
	p, ok := firstWhere(e, func(c *product.Circuit) bool { return c.Feeds.Value == feeds })
	if !ok {
		e.Absent("no circuit feeds the %s", feeds)
	}
	return p.Data
}

var _ = limit(Limit{ID: "brake-drop", Severity: source.Warning, When: when("controlled-brakes"),
	Protects: "brakes at the far end of a thin wire pull weakly: the trailer pushes the tow vehicle",
	Check:    dropAtMost(wiringBrake, brakeDropMost, "brakes")})

var _ = limit(Limit{ID: "lamp-drop", Severity: source.Warning,
	Protects: "stop lamps at the far end of a thin wire are too dim to be seen by day",
	Check:    dropAtMost(wiringLamp, lampDropMost, "lamps")})

var _ = limit(Limit{ID: "reverse-drop", Severity: source.Warning, When: when("reverse-solenoid"),
	Protects: "a valve on a thin wire does not open: the trailer brakes against the tow vehicle that backs it",
	Check:    dropAtMost(wiringValve, motorDropMost, "valve for reverse")})

func init() {
	for _, motor := range []struct {
		feeds, condition string
		drop             Key[quantity.Percent]
	}{{"pump", "hydraulics", wiringPump}, {"winch", "winch", wiringWinch}, {"jack", "jack-powered", wiringJack}} {
		limit(Limit{ID: "motor-drop", Severity: source.Warning, When: when(motor.condition),
			Protects: "a motor on a thin wire runs slow and hot, and stops half way with the load up",
			Check:    dropAtMost(motor.drop, motorDropMost, motor.feeds)})
	}
}

// dropAtMost returns the check that the voltage drop of a feed is small enough.
func dropAtMost(drop Key[quantity.Percent], most quantity.Percent, feeds string) func(*Eval) {
	return func(e *Eval) {
		if _, ok := Try(e, drop); ok && !e.require(of(e, drop), AtMost, e.fromRule(Source{Practice, ""}, most, quantity.Rounding{}),
			"the wire to the "+feeds+" loses %s of 12 V; common practice allows %s") {
			e.hint("use thicker wire")
		}
	}
}
