package derive

import (
	"math"

	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

const (
	freezing quantity.Temperature = 32
	// startLimit is the greatest viscosity at which a gear pump still fills if its maker states
	// none: the low end of the usual range, from memory.
	startLimit quantity.Viscosity = 800
	// gradeBand is the greatest ratio of a fluid's viscosity to the number of its grade (ISO 3448).
	gradeBand = 1.1
)

// walther is the straight line of log log (viscosity + 0.7) over the logarithm of the absolute
// temperature.
// Source: ASTM D341; form and constant 0.7 as in published calculation sheets.
type walther struct{ a, b float64 }

// waltherThrough returns the line through two points of one fluid. It holds for viscosities
// above 2 mm²/s; ok is false if the points do not define a line that falls with
// temperature.
func waltherThrough(v1 quantity.Viscosity, t1 quantity.Temperature, v2 quantity.Viscosity, t2 quantity.Temperature) (w walther, ok bool) {
	if v1 <= 2 || v2 <= 2 || v1 <= v2 || t1 >= t2 {
		return w, false
	}
	y1, y2 := loglog(v1), loglog(v2)
	x1, x2 := math.Log10(kelvin(t1)), math.Log10(kelvin(t2))
	w.b = (y1 - y2) / (x2 - x1)
	w.a = y1 + w.b*x1
	return w, true
}

// temperature returns the temperature at which the fluid has a viscosity above 2 mm²/s.
func (w walther) temperature(v quantity.Viscosity) quantity.Temperature {
	k := math.Pow(10, (w.a-loglog(v))/w.b)
	return quantity.Fahrenheit((k-273.15)*1.8 + 32)
}

func loglog(v quantity.Viscosity) float64 { return math.Log10(math.Log10(float64(v) + 0.7)) }

func kelvin(t quantity.Temperature) float64 { return quantity.In(t, "°C") + 273.15 }

// hydraulicsStart is the temperature below which the pump must not run. The owner is told to
// warm the fluid below freezing, a temperature that everybody can recognize.
var hydraulicsStart = declare(Decl{
	Name: "hydraulics.start_limit", When: hydraulicsOn, Round: wholeUp,
	Formula: "temperature at which the thickest fluid of the grade (a tenth above its number at 40 °C) reaches the greatest viscosity the pump may start with; 800 mm²/s where its maker gives none",
	Source:  Source{Published, "ASTM D341: log log (viscosity + 0.7) = A − B log T; ISO 3448 for the tenth; 800 mm²/s from memory"},
}, func(e *Eval) quantity.Temperature {
	u := fitted[product.PowerUnit](e)
	at40 := gradeBand * quantity.Viscosity(Read(e, u.Grade))
	w, ok := waltherThrough(at40, celsius(40), Read(e, u.FluidAt100), celsius(100))
	most := startLimit
	if u.StartLimit.Set {
		most = Read(e, u.StartLimit)
	}
	if !ok || most <= 2 {
		e.Absent("grade, viscosity at 100 °C and start limit do not go together")
	}
	return w.temperature(most)
})

var hydraulicsWarm = declare(Decl{
	Name: "hydraulics.warm_below", When: hydraulicsOn, Round: wholeUp,
	Formula: "the freezing point of water: below it the owner lets the fluid warm and raises slowly",
	Source:  Source{Judgement, "a temperature everybody can tell, above the start limit of every fluid allowed here"},
}, func(*Eval) quantity.Temperature { return freezing })

func celsius(t float64) quantity.Temperature { return quantity.Fahrenheit(t*1.8 + 32) }

// indexBase is the viscosities at 40 °C of fluids of index 0 and 100 that have the given one at 100 °C, as
// polynomials l and h of it up to a greatest viscosity. Source: ASTM D2270; the polynomials from memory.
var indexBase = []struct {
	most quantity.Viscosity
	l, h [3]float64
}{
	{3.8, [3]float64{1.14673, 1.7576, -0.109}, [3]float64{0.84155, 1.5521, -0.077}},
	{4.4, [3]float64{3.38095, -15.4952, 33.196}, [3]float64{0.78571, 1.7929, -0.183}},
	{5, [3]float64{2.5, -7.2143, 13.812}, [3]float64{0.82143, 1.5679, 0.119}},
	{6.4, [3]float64{0.101, 16.635, -45.469}, [3]float64{0.04985, 9.1613, -18.557}},
	{7, [3]float64{3.35714, -23.5643, 78.466}, [3]float64{0.22619, 7.7369, -16.656}},
	{7.7, [3]float64{0.01191, 21.475, -72.87}, [3]float64{0.79762, -0.7321, 14.61}},
	{9, [3]float64{0.41858, 16.1558, -56.04}, [3]float64{0.05794, 10.5156, -28.24}},
	{12, [3]float64{0.88779, 7.5527, -16.6}, [3]float64{0.26665, 6.7015, -10.81}},
	{15, [3]float64{0.7672, 10.7972, -38.18}, [3]float64{0.20073, 8.4658, -22.49}},
}

// viscosityIndex returns the viscosity index of a fluid by its viscosities at 40 and 100 °C; ok is
// false beyond those of the grades for pumps.
func viscosityIndex(at40, at100 quantity.Viscosity) (index float64, ok bool) {
	y := float64(at100)
	for _, b := range indexBase {
		if y < 2 || at100 > b.most {
			continue
		}
		l, h := b.l[0]*y*y+b.l[1]*y+b.l[2], b.h[0]*y*y+b.h[1]*y+b.h[2]
		if u := float64(at40); u > h {
			return 100 * (l - u) / (l - h), true
		}
		n := (math.Log10(h) - math.Log10(float64(at40))) / math.Log10(y)
		return (math.Pow(10, n)-1)/0.00715 + 100, true
	}
	return 0, false
}

var _ = limit(Limit{ID: "fluid-index", When: hydraulicsOn, NoMargin: true,
	Protects: "a fluid whose grade, index and viscosity do not belong together is another one than the guide names",
	Check: func(e *Eval) {
		u := fitted[product.PowerUnit](e)
		if !u.FluidAt100.Set || !u.FluidIndex.Set {
			return
		}
		index, grade, at100 := Read(e, u.FluidIndex), quantity.Viscosity(Read(e, u.Grade)), Read(e, u.FluidAt100)
		low, known := viscosityIndex(gradeBand*grade, at100)
		high, _ := viscosityIndex(grade*(2-gradeBand), at100)
		if known && (float64(index) < math.Floor(low) || float64(index) > math.Ceil(high)) {
			e.report(wrong(e, u.FluidIndex, "fluid_index is %d; a fluid of grade %s with %s at 100 °C has between %.0f and %.0f", index, u.Grade.Text, u.FluidAt100.Text, math.Floor(low), math.Ceil(high)).
				WithHint("look up all three on one data sheet"))
		}
	}})

var _ = limit(Limit{ID: "fluid-cold", Severity: source.Warning, When: hydraulicsOn,
	Protects: "fluid too thick to be drawn in at temperatures above freezing wrecks the pump before anyone is warned",
	Check: func(e *Eval) {
		if u := fitted[product.PowerUnit](e); !u.FluidAt100.Set {
			// Not an error: the owner's rule to warm it below freezing is sufficient by itself.
			e.report(wrong(e, u.Grade, "nothing says how cold the fluid of grade %s may be when the pump starts", u.Grade.Text).
				WithHint("give its viscosity at 100 °C"))
			return
		}
		e.require(of(e, hydraulicsStart), AtMost, of(e, hydraulicsWarm),
			"the fluid is too thick for the pump below %s; the owner is told to let it warm below %s")
	}})
