package derive

import (
	"strconv"
	"strings"

	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// tireSize is the dimensions of a tire according to its sidewall.
type tireSize struct{ diameter, width, rim quantity.Length }

// Sizes are metric, such as ST235/80R16, or flotation sizes, such as 31x10.50R15.
var (
	metricSize    = source.Pattern(`^(?i:ST|LT|P)?\s*(\d{3})/(\d{2,3})\s*[RrDdBb-]\s*(\d{2}(?:\.\d)?)`)
	flotationSize = source.Pattern(`^(\d{2}(?:\.\d+)?)[xX](\d{1,2}(?:\.\d+)?)\s*[RrDdBb-]\s*(\d{1,2}(?:\.\d)?)`)
)

// sizeOf parses the size on a sidewall. The diameter of a metric size is that of the rim plus
// twice the height of the sidewall, which is a percentage of the width. ok is false for other
// notations. Source: ISO 4000-1.
func sizeOf(sidewall string) (s tireSize, ok bool) {
	read := func(text string) float64 {
		x, _ := strconv.ParseFloat(text, 64) // the pattern allows only digits
		return x
	}
	if m := metricSize().FindStringSubmatch(strings.TrimSpace(sidewall)); m != nil {
		width, rim := read(m[1])/25.4, read(m[3])
		return tireSize{quantity.Inches(rim + 2*width*read(m[2])/100), quantity.Inches(width), quantity.Inches(rim)}, true
	}
	if m := flotationSize().FindStringSubmatch(strings.TrimSpace(sidewall)); m != nil {
		return tireSize{quantity.Inches(read(m[1])), quantity.Inches(read(m[2])), quantity.Inches(read(m[3]))}, true
	}
	return tireSize{}, false
}

var tireSized = declare(Decl{
	Name: "tires.diameter_by_size", Engineer: true, Round: tenthUp,
	Formula: "rim + 2 × width × height of the sidewall as a share of it, all from the size on the sidewall",
	Source:  Source{Published, "ISO 4000-1: how tire sizes are written"},
}, func(e *Eval) quantity.Length { return sidewall(e).diameter })

// sidewall returns the size of the fitted tire; one that cannot be parsed makes the value absent.
func sidewall(e *Eval) tireSize {
	size := Read(e, fitted[product.Tire](e).Size)
	s, ok := sizeOf(size)
	if !ok {
		e.Absent("the size %s does not tell the diameter", size)
	}
	return s
}

// pressedShare returns the contact area of a tire, from its load and pressure, as a percentage of
// the rectangle of its width and diameter. Source: a tire carries about its pressure times its
// contact area.
func pressedShare(load quantity.Mass, cold quantity.Pressure, width, diameter quantity.Length) quantity.Percent {
	return quantity.Percent(100 * float64(load) / (float64(cold) * float64(width) * float64(diameter)))
}

var tirePressed = declare(Decl{
	Name: "tires.pressed_share", Engineer: true, Round: tenthUp,
	Formula: "single load rating ÷ (tires.cold_pressure × width × diameter): the ground a tire presses on, as a share of the rectangle of width and diameter",
	Source:  Source{Arithmetic, "a tire carries about its pressure times the ground that it presses on"},
}, func(e *Eval) quantity.Percent {
	t := fitted[product.Tire](e)
	return pressedShare(Read(e, t.Single), Get(e, coldPressure), Read(e, t.Width), Read(e, t.Diameter))
})

const (
	diameterPlay = 0.03 // relative difference of the diameters of tires of one size; common practice
	widthPlay    = 0.10 // the same of the width, which increases with that of the rim
	// Contact areas of tires for trailers at their rating, by sizes and ratings from memory: 13 to
	// 17 % in load ranges C to J, and 11 % in some small ones. Passenger tires reach 21 %.
	pressedLeast     quantity.Percent = 11
	pressedMost      quantity.Percent = 20
	pressedPassenger quantity.Percent = 25
	rimWidthLeast                     = 0.55 // fraction of the tire's width; common practice
	rimWidthMost                      = 0.95
	// Greatest differences of a pressure from that of its load range, in psi: 15 less is that of the
	// next lower range, and 12 more occurs on small European tires. Common practice.
	rangeBelow quantity.Pressure = 7
	rangeAbove quantity.Pressure = 12
)

// rangePressures are the cold pressures in psi of load ranges on rims from 13 in on. Those of H
// and above depend on the size. From memory, as printed in the trade.
var rangePressures = map[string]quantity.Pressure{"B": 35, "C": 50, "D": 65, "E": 80, "F": 95, "G": 110, "H": 125, "J": 125, "L": 125}

// sizeKinds maps the letters before a size to the kind of tire.
var sizeKinds = map[string]string{"ST": "special-trailer", "LT": "light-truck", "P": "passenger"}

var (
	_ = limit(Limit{ID: "tire-size",
		Protects: "a diameter that is not the tire's hides that tires touch each other or the deck",
		Check: func(e *Eval) {
			t := fitted[product.Tire](e)
			s, ok := sizeOf(Read(e, t.Size))
			if !ok {
				return
			}
			size := of(e, tireSized)
			for _, side := range []struct {
				what  string
				entry source.Given[quantity.Length]
				by    quantity.Length
				play  quantity.Length
			}{{"diameter", t.Diameter, s.diameter, diameterPlay}, {"width", t.Width, s.width, widthPlay}} {
				least := e.calculated("the "+side.what+" by the size, less what tires of one size differ by", side.by*(1-side.play), tenthUp, size)
				most := e.calculated("the "+side.what+" by the size, and what tires of one size differ by", side.by*(1+side.play), tenthDown, size)
				e.require(entry(e, side.entry), AtLeast, least, "the "+side.what+" of the tire is %s; in the size "+t.Size.Value+" it is at least %s")
				e.require(entry(e, side.entry), AtMost, most, "the "+side.what+" of the tire is %s; in the size "+t.Size.Value+" it is at most %s")
			}
		}})

	_ = limit(Limit{ID: "tire-load-range",
		Protects: "a pressure or a letter read off another tire: one filled to it runs soft and burns, or bursts its rim",
		Check: func(e *Eval) {
			t := fitted[product.Tire](e)
			s, ok := sizeOf(Read(e, t.Size))
			if ok && s.rim < 13 || Read(e, t.Kind) == "passenger" {
				return // their letters stand for other pressures
			}
			rangeFits(e, "tire", t.LoadRange, t.Cold)
			if spare, ok := first[product.Spare](e); ok && spare.Data.Own != nil {
				rangeFits(e, "spare", spare.Data.Own.LoadRange, spare.Data.Own.Cold)
			}
		}})

	_ = limit(Limit{ID: "tire-load",
		Protects: "a load or pressure that belongs to another size overloads the tire, and axle ratings rest on it",
		Check: func(e *Eval) {
			t := fitted[product.Tire](e)
			share, most := of(e, tirePressed), pressedMost
			share.from = append(entry(e, t.Single).sources(), share.sources()...)
			if Read(e, t.Kind) == "passenger" {
				most = pressedPassenger
			}
			rule := Source{Memory, "sizes and ratings of trailer tires"}
			e.require(share, AtLeast, e.fromRule(rule, pressedLeast, wholeUp), "load ÷ pressure of the tire is %s of its width × diameter; expected at least %s")
			e.require(share, AtMost, e.fromRule(rule, most, wholeDown), "load ÷ pressure of the tire is %s of its width × diameter; expected at most %s")
		}})

	_ = limit(Limit{ID: "tire-kind", NoMargin: true,
		Protects: "a passenger-car tire said to be a trailer tire is loaded a tenth too high, and leans",
		Check: func(e *Eval) {
			t := fitted[product.Tire](e)
			letters, _, _ := strings.Cut(strings.ToUpper(Read(e, t.Size))+" ", " ")
			for prefix, kind := range sizeKinds {
				rest, has := strings.CutPrefix(letters, prefix)
				if has && rest != "" && rest[0] >= '0' && rest[0] <= '9' && Read(e, t.Kind) != kind {
					e.report(wrong(e, t.Kind, "the tire is said to be %s; the letters before %s stand for %s", t.Kind.Value, t.Size.Value, kind).
						WithRelated(t.Size.At, "the size stands here"))
				}
			}
		}})

	_ = limit(Limit{ID: "rim-width", When: when("not dual-wheels"),
		Protects: "a tire on a rim too narrow or too wide rolls off its bead in a curve",
		Check: func(e *Eval) {
			w := fitted[product.Wheel](e)
			s, ok := sizeOf(Read(e, fitted[product.Tire](e).Size))
			if !ok || !w.Width.Set {
				return
			}
			size := of(e, tireSized)
			e.require(entry(e, w.Width), AtLeast, e.calculated("0.55 of the width of the tire, common practice", s.width*rimWidthLeast, hundredthUp, size), "the rim is %s wide; the tire needs at least %s")
			e.require(entry(e, w.Width), AtMost, e.calculated("0.95 of the width of the tire, common practice", s.width*rimWidthMost, hundredthDown, size), "the rim is %s wide; the tire takes at most %s")
		}})

	_ = limit(Limit{ID: "rim-size", NoMargin: true,
		Protects: "a tire forced onto a rim of another diameter bursts in the face of whoever fills it",
		Check: func(e *Eval) {
			w, t := fitted[product.Wheel](e), fitted[product.Tire](e)
			s, ok := sizeOf(Read(e, t.Size))
			if ok && w.Rim.Set && Read(e, w.Rim) != s.rim {
				e.report(wrong(e, w.Rim, "the rim is %s across; the tire %s is for %s", w.Rim.Text, t.Size.Value, e.text(s.rim, asStated)).WithRelated(t.Size.At, "the size stands here"))
			}
		}})
)

// rangeFits compares the pressure of a tire with that of its load range.
func rangeFits(e *Eval, what string, letter source.Given[string], cold source.Given[quantity.Pressure]) {
	usual, known := rangePressures[strings.ToUpper(Read(e, letter))]
	if !known {
		e.report(wrong(e, letter, "%q is no load range of a trailer tire; expected a letter from B to L", letter.Value))
		return
	}
	low, high := usual-rangeBelow, usual+rangeAbove
	if usual >= rangePressures["H"] {
		low, high = 105, 137
	}
	from := entry(e, letter)
	e.require(entry(e, cold), AtLeast, e.calculated("load range "+letter.Value+", from memory", low, asStated, from),
		"the "+what+" is filled to %s; in load range "+letter.Value+" it takes at least %s")
	e.require(entry(e, cold), AtMost, e.calculated("load range "+letter.Value+", from memory", high, asStated, from),
		"the "+what+" is filled to %s; in load range "+letter.Value+" it takes at most %s")
}
