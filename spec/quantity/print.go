package quantity

import (
	"bytes"
	"cmp"
	"math"
	"strconv"
	"strings"
)

// System is a system of units.
type System int

// The two systems. The other one follows in parentheses.
const (
	US System = iota
	Metric
)

// Side is the direction in which a figure may be rounded without risk: down for a
// maximum, up for a minimum. A figure that is neither is rounded to the nearest.
type Side int

// The sides.
const (
	Nearest Side = iota
	Down
	Up
)

// String returns the name of the side, for explanations.
func (s Side) String() string { return [...]string{"nearest", "down", "up"}[s] }

// Rounding is how a figure is printed: the side, and for each system the unit and
// the step. An empty unit stands for the dimension's usual one, a zero step for one
// whole unit.
type Rounding struct {
	Side       Side
	Stated     bool    // print without rounding, as a label, placard or part maker states it, in the system in which it was stated
	US, Metric string  // unit symbols, such as "ft" and "m"
	Step       float64 // in US units
	MetricStep float64 // in metric units
	Fraction   int     // print inches as fractions with this denominator, as a rule or wrench is marked: 16 prints 2-5/16 in; 0 prints decimals
}

// How returns how a figure is rounded, for explanations: nearest, down, up or as stated.
func (r Rounding) How() string {
	if r.Stated {
		return "as stated"
	}
	return r.Side.String()
}

// usual is the units printed when a Rounding names none, US first.
var usual = [...][2]string{
	DimCount: {"", ""}, DimMass: {"lb", "kg"}, DimLength: {"in", "mm"}, DimDistance: {"mi", "km"}, DimPressure: {"psi", "kPa"},
	DimTorque: {"lb-ft", "N·m"}, DimVolume: {"gal", "L"}, DimFlowRate: {"gpm", "L/min"}, DimCurrent: {"A", "A"}, DimVoltage: {"V", "V"},
	DimCharge: {"Ah", "Ah"}, DimResistance: {"ohm", "ohm"}, DimDuration: {"min", "min"}, DimAngle: {"deg", "deg"}, DimPercent: {"percent", "percent"},
	DimTemperature: {"°F", "°C"}, DimTemperatureDifference: {"°F difference", "°C difference"}, DimArea: {"in²", "cm²"}, DimDensity: {"lb/ft³", "kg/m³"}, DimViscosity: {"mm²/s", "mm²/s"}, DimSpeed: {"mph", "km/h"},
}

// signs maps symbols of data files to the signs printed, where they differ.
var signs = map[string]string{"": "", "percent": " %", "deg": "°", "°": "°", "ohm": " Ω", "°F difference": " °F", "°C difference": " °C"}

// Print is the notation for figures of a language and a maker.
type Print struct {
	System  System
	Group   string            // between thousands: "," in English
	Decimal string            // before the fraction: "." in English
	Mixed   string            // a whole number with a fraction: "{whole}-{fraction}" in English
	Both    string            // a figure in both systems: "{first} ({second})" in English
	Units   map[string]string // a figure with its unit, by the unit's symbol: "{n} lb"; English where missing
}

// Shortened returns the same notation, without units if all are written as in English.
func (p Print) Shortened() Print {
	for _, u := range units {
		if pattern, own := p.Units[u.symbol]; own && u.symbol != "" && pattern != English.unit("{n}", u.symbol) {
			return p
		}
	}
	p.Units = nil
	return p
}

// Symbols returns the symbols of all units, as in data files.
func Symbols() (list []string) {
	for _, u := range units {
		if u.symbol != "" {
			list = append(list, u.symbol)
		}
	}
	return list
}

// English is the notation of the embedded texts.
var English = Print{Group: ",", Decimal: ".", Mixed: mixed, Both: both}

// mixed is the English notation for a whole number with a fraction.
const mixed = "{whole}-{fraction}"

// both is the English notation for a figure in two systems.
const both = "{first} ({second})"

// pair formats a figure in two systems.
func (p Print) pair(first, second figure) string {
	return fill(cmp.Or(p.Both, both), "{first}", p.write(first), "{second}", p.write(second))
}

// fill puts two texts into a pattern.
func fill(pattern, a, first, b, second string) string {
	return strings.Replace(strings.Replace(pattern, a, first, 1), b, second, 1)
}

// Text formats the figure in both systems, such as "5,980 lb (2,712 kg)", or
// once if both use the same unit.
func (p Print) Text(q Quantity, r Rounding) string {
	return p.text(q, r, p.figure(q, r, p.System), r, nil)
}

// text formats the first figure with a second one, which is rounded by second; if
// stated is not nil and prints the same first figure, the second is that of stated.
func (p Print) text(q Quantity, r Rounding, first figure, second Rounding, stated Quantity) string {
	other := p.other()
	switch {
	case !p.converts(q, r):
		return p.write(first)
	case r.Stated && !first.stated:
		return p.pair(first, p.figure(q, r, other))
	case stated != nil:
		return p.pair(first, p.figure(stated, second, other))
	}
	symbol, step := second.in(q.Dimension(), other)
	return p.pair(first, second.figure(first.in(symbol), symbol, step, false))
}

// First formats the figure in the first system only.
func (p Print) First(q Quantity, r Rounding) string { return p.write(p.figure(q, r, p.System)) }

// converts reports whether a second figure follows in parentheses.
func (p Print) converts(q Quantity, r Rounding) bool {
	a, _ := r.in(q.Dimension(), US)
	b, _ := r.in(q.Dimension(), Metric)
	return a != b
}

// other returns the system that follows in parentheses.
func (p Print) other() System { return Metric - p.System }

// Rounded returns the printed number in the first system and its unit symbol,
// for programs that read figures.
func (p Print) Rounded(q Quantity, r Rounding) (float64, string) {
	symbol, step := r.in(q.Dimension(), p.System)
	return r.apply(inUnit(q, symbol), step, p.stated(q, r, p.System)), symbol
}

// In returns the exact number of a quantity in a unit, or NaN if the unit is of
// another dimension.
func In(q Quantity, symbol string) float64 { return inUnit(q, symbol) }

func inUnit(q Quantity, symbol string) float64 {
	u, ok := unitNamed(symbol)
	if !ok || u.dim != q.Dimension() {
		return math.NaN()
	}
	return u.fromBase(q.Base())
}

func (r Rounding) in(dim Dimension, system System) (symbol string, step float64) {
	symbol, step = r.US, r.Step
	if system == Metric {
		symbol, step = r.Metric, r.MetricStep
	}
	if symbol == "" {
		symbol = usual[dim][system]
	}
	if step == 0 {
		step = 1
	}
	return symbol, step
}

// slack keeps 4,000.0000001 from being rounded up to the next step: figures
// with a relative difference of less than 1e-9 are the same.
const slack = 1e-9

// stated reports whether a figure is printed in a system as it was stated. The system in
// which it was stated is the one that needs fewer decimals; the first if both need
// as many. A tire marked 80 psi is never printed as 551.580583 kPa.
func (p Print) stated(q Quantity, r Rounding, system System) bool {
	if !r.Stated {
		return false
	}
	us, metric := r.decimals(q, US), r.decimals(q, Metric)
	switch {
	case us < metric:
		return system == US
	case metric < us:
		return system == Metric
	}
	return system == p.System
}

// decimals returns the number of decimals needed to print a figure exactly in a
// system; 0 for inches that are a fraction on a rule.
func (r Rounding) decimals(q Quantity, system System) int {
	symbol, _ := r.in(q.Dimension(), system)
	x := r.apply(inUnit(q, symbol), 1, true)
	if n := x * float64(r.Fraction); symbol == "in" && r.Fraction > 0 && math.Abs(n-math.Round(n)) < 1e-6 {
		return 0
	}
	return decimals(x)
}

// decimals returns the number of decimals needed to print x exactly.
func decimals(x float64) int {
	var digits [32]byte
	_, fraction, _ := bytes.Cut(strconv.AppendFloat(digits[:0], x, 'f', -1, 64), []byte{'.'})
	return len(fraction)
}

// apply rounds x. A stated figure is not rounded in the system in which it was
// stated; its conversion is rounded to the side.
func (r Rounding) apply(x, step float64, stated bool) float64 {
	n := x / step
	switch {
	case stated:
		return math.Round(x*1e6) / 1e6 // removes only the error of unit conversion
	case r.Side == Down:
		n = math.Floor(n + slack*math.Max(1, math.Abs(n)))
	case r.Side == Up:
		n = math.Ceil(n - slack*math.Max(1, math.Abs(n)))
	default:
		n = math.Round(n)
	}
	return n * step
}

// figure is a figure as printed in one system, in no language yet.
type figure struct {
	number   float64
	stated   bool // in this system
	symbol   string
	negative bool
	digits   string // with a decimal point; of a fraction the whole number
	part, of int    // the fraction; of is 0 if there is none
}

func (p Print) figure(q Quantity, r Rounding, system System) figure {
	symbol, step := r.in(q.Dimension(), system)
	return r.figure(inUnit(q, symbol), symbol, step, p.stated(q, r, system))
}

// in returns the figure, as printed, in another unit.
func (f figure) in(symbol string) float64 {
	from, _ := unitNamed(f.symbol)
	to, _ := unitNamed(symbol)
	return to.fromBase(from.toBase(f.number))
}

// printed is what all figures have in common that are printed alike.
func (f figure) printed() figure {
	f.number, f.stated = 0, false
	return f
}

// figure rounds a number to as many decimals as its step has.
func (r Rounding) figure(x float64, symbol string, step float64, stated bool) figure {
	if symbol == "in" && r.Fraction > 0 {
		if f, fits := r.fraction(x, stated); fits {
			return f
		}
	}
	f := figure{number: r.apply(x, step, stated), stated: stated, symbol: symbol}
	places := -1
	if !stated {
		places = decimals(step)
	}
	f.digits = strconv.FormatFloat(math.Abs(f.number), 'f', places, 64)
	f.negative = f.number < 0 && strings.Trim(f.digits, "0.") != ""
	return f
}

// nearFraction is the largest relative difference between a figure stated in
// millimeters and the fraction of an inch printed for it: a 19 mm socket is 3/4 in, but a
// 50 mm ball is not 1-15/16 in. Judgement.
const nearFraction = 0.01

// fraction rounds inches to a fraction such as 2-5/16. 32nds are not reduced, because tread and linings are
// measured in them. fits is false if the figure is not such a fraction.
func (r Rounding) fraction(x float64, stated bool) (f figure, fits bool) {
	f = figure{number: r.apply(x, 1/float64(r.Fraction), false), stated: stated, symbol: "in"}
	if r.Stated {
		f.number = math.Round(x*float64(r.Fraction)) / float64(r.Fraction)
	}
	parts := int(math.Round(f.number * float64(r.Fraction)))
	off := math.Abs(x - f.number)
	if parts < 0 || stated && off > 1e-7 || r.Stated && off > nearFraction*x {
		return f, false
	}
	f.digits = strconv.Itoa(parts / r.Fraction)
	if f.part = parts % r.Fraction; f.part > 0 {
		f.of = r.Fraction
	}
	for f.of > 0 && f.of < 32 && f.part%2 == 0 {
		f.part, f.of = f.part/2, f.of/2
	}
	return f, true
}

// write formats a figure with its unit.
func (p Print) write(f figure) string {
	text := f.digits
	switch {
	case f.of == 0:
		text = p.group(text)
	case text == "0":
		text = strconv.Itoa(f.part) + "/" + strconv.Itoa(f.of)
	default:
		text = fill(cmp.Or(p.Mixed, mixed), "{whole}", text, "{fraction}", strconv.Itoa(f.part)+"/"+strconv.Itoa(f.of))
	}
	if f.negative {
		text = "−" + text
	}
	return p.unit(text, f.symbol)
}

// unit adds a unit to a number.
func (p Print) unit(number, symbol string) string {
	if pattern, own := p.Units[symbol]; own && symbol != "" {
		return strings.Replace(pattern, "{n}", number, 1)
	}
	if sign, special := signs[symbol]; special {
		return number + sign
	}
	return number + " " + symbol
}

// group puts the signs of the notation into a number.
func (p Print) group(digits string) string {
	whole, fraction, _ := strings.Cut(digits, ".")
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + p.Group + whole[i:]
	}
	if fraction != "" {
		whole += p.Decimal + fraction
	}
	return whole
}
