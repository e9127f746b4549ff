package quantity

import "strings"

// Dimension is what a quantity measures.
type Dimension int

// The dimensions the program uses. Mass and force are one dimension, in pounds, as is
// usual in the trade: the ratings of a trailer are all weights.
const (
	DimCount Dimension = iota
	DimMass
	DimLength
	DimDistance
	DimPressure
	DimTorque
	DimVolume
	DimFlowRate
	DimCurrent
	DimVoltage
	DimCharge
	DimResistance
	DimDuration
	DimAngle
	DimPercent
	DimTemperature
	DimTemperatureDifference
	DimArea
	DimDensity
	DimViscosity
	DimSpeed
)

// unit is one way to write a dimension: base value = number × factor + offset.
type unit struct {
	symbol string
	dim    Dimension
	factor float64
	offset float64
}

// Factors between units. Exact by definition unless marked.
// Source: NIST Special Publication 811 (2008), appendix B.8 and B.9.
const (
	kgPerLb    = 0.45359237          // exact
	mmPerIn    = 25.4                // exact
	kmPerMi    = 1.609344            // exact
	standardG  = 9.80665             // m/s², exact
	litrePerGa = 3.785411784         // US gallon of 231 in³, exact
	newtonLbf  = kgPerLb * standardG // N in a pound-force, exact
	nmPerLbFt  = newtonLbf * 0.3048  // N·m in a pound-foot, exact
	kpaPerPsi  = newtonLbf / mmPerIn / mmPerIn * 1000
	mm2PerIn2  = mmPerIn * mmPerIn
	kgm3PerLb3 = kgPerLb / (0.3048 * 0.3048 * 0.3048)
)

// units lists every unit that is parsed and printed. The first of a dimension is
// the base unit of its type.
var units = []unit{
	{"", DimCount, 1, 0},
	{"lb", DimMass, 1, 0}, {"kg", DimMass, 1 / kgPerLb, 0}, {"t", DimMass, 1000 / kgPerLb, 0},
	{"in", DimLength, 1, 0}, {"ft", DimLength, 12, 0}, {"mm", DimLength, 1 / mmPerIn, 0}, {"cm", DimLength, 10 / mmPerIn, 0}, {"m", DimLength, 1000 / mmPerIn, 0},
	{"mi", DimDistance, 1, 0}, {"km", DimDistance, 1 / kmPerMi, 0},
	{"psi", DimPressure, 1, 0}, {"kPa", DimPressure, 1 / kpaPerPsi, 0}, {"bar", DimPressure, 100 / kpaPerPsi, 0},
	{"lb-ft", DimTorque, 1, 0}, {"N·m", DimTorque, 1 / nmPerLbFt, 0}, {"Nm", DimTorque, 1 / nmPerLbFt, 0},
	{"gal", DimVolume, 1, 0}, {"qt", DimVolume, 0.25, 0}, {"L", DimVolume, 1 / litrePerGa, 0}, {"in³", DimVolume, 1.0 / 231, 0},
	{"gpm", DimFlowRate, 1, 0}, {"L/min", DimFlowRate, 1 / litrePerGa, 0},
	{"A", DimCurrent, 1, 0},
	{"V", DimVoltage, 1, 0},
	{"Ah", DimCharge, 1, 0},
	{"ohm", DimResistance, 1, 0},
	{"min", DimDuration, 1, 0}, {"h", DimDuration, 60, 0}, {"s", DimDuration, 1.0 / 60, 0},
	{"deg", DimAngle, 1, 0}, {"°", DimAngle, 1, 0},
	{"percent", DimPercent, 1, 0}, {"%", DimPercent, 1, 0},
	{"°F", DimTemperature, 1, 0}, {"°C", DimTemperature, 1.8, 32},
	{"°F difference", DimTemperatureDifference, 1, 0}, {"°C difference", DimTemperatureDifference, 1.8, 0},
	{"in²", DimArea, 1, 0}, {"mm²", DimArea, 1 / mm2PerIn2, 0}, {"cm²", DimArea, 100 / mm2PerIn2, 0},
	{"lb/ft³", DimDensity, 1, 0}, {"kg/m³", DimDensity, 1 / kgm3PerLb3, 0},
	{"mm²/s", DimViscosity, 1, 0}, {"cSt", DimViscosity, 1, 0},
	{"mph", DimSpeed, 1, 0}, {"km/h", DimSpeed, 1 / kmPerMi, 0},
}

// spellings maps other spellings of units to symbols, ignoring case. None of them
// is ambiguous within its dimension.
var spellings = map[string]string{
	"lb": "lb", "lb.": "lb", "lbs": "lb", "lbs.": "lb", "#": "lb", "pound": "lb", "pounds": "lb",
	"kg": "kg", "kg.": "kg", "kgs": "kg",
	"in": "in", "in.": "in", "inch": "in", "inches": "in", `"`: "in", "″": "in", "”": "in",
	"ft": "ft", "ft.": "ft", "foot": "ft", "feet": "ft", "'": "ft", "′": "ft", "’": "ft",
	"mile": "mi", "miles": "mi",
	"psi": "psi", "kpa": "kPa",
	"ft-lb": "lb-ft", "ft-lbs": "lb-ft", "ft lb": "lb-ft", "ft lbs": "lb-ft", "lb ft": "lb-ft", "ft·lb": "lb-ft", "lb·ft": "lb-ft",
	"gal.": "gal", "gals": "gal", "gallon": "gal", "gallons": "gal", "quart": "qt", "quarts": "qt", "qts": "qt",
	"amp": "A", "amps": "A", "volt": "V", "volts": "V",
	"minute": "min", "minutes": "min", "mins": "min", "hour": "h", "hours": "h", "hr": "h", "hrs": "h",
	"lb/ft3": "lb/ft³", "kg/m3": "kg/m³", "in2": "in²", "mm2": "mm²", "cm2": "cm²", "mm2/s": "mm²/s",
	"degree": "deg", "degrees": "deg",
}

// named maps symbols to units.
var named = func() map[string]unit {
	all := map[string]unit{}
	for _, u := range units {
		all[u.symbol] = u
	}
	return all
}()

// unitNamed returns the unit with a symbol, or another spelling of one.
func unitNamed(symbol string) (unit, bool) {
	if u, ok := named[symbol]; ok {
		return u, true
	}
	spelt, ok := spellings[strings.ToLower(symbol)]
	return named[spelt], ok
}

func (u unit) toBase(x float64) float64   { return x*u.factor + u.offset }
func (u unit) fromBase(x float64) float64 { return (x - u.offset) / u.factor }
