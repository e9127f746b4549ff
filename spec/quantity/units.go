package quantity

import "strings"

// Dimension is what a quantity measures.
type Dimension int

// The dimensions the product uses. Load and force share pounds, as the trade
// has it: the ratings of a trailer are all weights.
const (
	Number Dimension = iota
	Weight
	Long
	Road
	Force2Area // pressure
	Twist      // torque
	Space      // volume
	Flow
	Ampere
	Volt
	AmpereHour
	Ohm
	Time
	Turn // angle
	Share
	Heat // temperature
	Surface
	Packing // density
	Thickness
	Pace
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

// units lists every unit that is read and printed. The first of a
// dimension is the base unit of its type.
var units = []unit{
	{"", Number, 1, 0},
	{"lb", Weight, 1, 0}, {"kg", Weight, 1 / kgPerLb, 0}, {"t", Weight, 1000 / kgPerLb, 0},
	{"in", Long, 1, 0}, {"ft", Long, 12, 0}, {"mm", Long, 1 / mmPerIn, 0}, {"cm", Long, 10 / mmPerIn, 0}, {"m", Long, 1000 / mmPerIn, 0},
	{"mi", Road, 1, 0}, {"km", Road, 1 / kmPerMi, 0},
	{"psi", Force2Area, 1, 0}, {"kPa", Force2Area, 1 / kpaPerPsi, 0}, {"bar", Force2Area, 100 / kpaPerPsi, 0},
	{"lb-ft", Twist, 1, 0}, {"N·m", Twist, 1 / nmPerLbFt, 0}, {"Nm", Twist, 1 / nmPerLbFt, 0},
	{"gal", Space, 1, 0}, {"qt", Space, 0.25, 0}, {"L", Space, 1 / litrePerGa, 0}, {"in³", Space, 1.0 / 231, 0},
	{"gpm", Flow, 1, 0}, {"L/min", Flow, 1 / litrePerGa, 0},
	{"A", Ampere, 1, 0},
	{"V", Volt, 1, 0},
	{"Ah", AmpereHour, 1, 0},
	{"ohm", Ohm, 1, 0},
	{"min", Time, 1, 0}, {"h", Time, 60, 0}, {"s", Time, 1.0 / 60, 0},
	{"deg", Turn, 1, 0}, {"°", Turn, 1, 0},
	{"percent", Share, 1, 0}, {"%", Share, 1, 0},
	{"°F", Heat, 1, 0}, {"°C", Heat, 1.8, 32},
	{"in²", Surface, 1, 0}, {"mm²", Surface, 1 / mm2PerIn2, 0}, {"cm²", Surface, 100 / mm2PerIn2, 0},
	{"lb/ft³", Packing, 1, 0}, {"kg/m³", Packing, 1 / kgm3PerLb3, 0},
	{"mm²/s", Thickness, 1, 0}, {"cSt", Thickness, 1, 0},
	{"mph", Pace, 1, 0}, {"km/h", Pace, 1 / kmPerMi, 0},
}

// spellings are other ways that people write a unit, whatever the capitals. None
// can be meant for another unit of its dimension.
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
	"degree": "deg", "degrees": "deg",
}

func unitNamed(symbol string) (unit, bool) {
	for _, spelt := range []string{symbol, spellings[strings.ToLower(symbol)]} {
		for _, u := range units {
			if u.symbol == spelt && (spelt != "" || symbol == "") {
				return u, true
			}
		}
	}
	return unit{}, false
}

func (u unit) toBase(x float64) float64   { return x*u.factor + u.offset }
func (u unit) fromBase(x float64) float64 { return (x - u.offset) / u.factor }
