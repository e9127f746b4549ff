package derive

import (
	"slices"
	"strconv"
	"strings"

	"ownerguide/spec"
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// lampDuty is a requirement of Table I-b for trailers.
type lampDuty struct {
	duty   string
	colors []string // any of them
	count  int
}

// Limits of Table I-b, in inches.
const (
	lampShort  = 6 * 12  // shorter units need no lamps at the front sides
	lampLong   = 30 * 12 // this long or longer: intermediate markers
	lampWide   = 80      // this wide or wider: clearance and identification lamps
	lampNarrow = 30      // narrower units need one of each at the rear
	lampLow    = 15      // tail, stop and turn lamps, to their center
	lampHigh   = 72
	lampRear   = 0.75 // of the overall length, from the coupler: as far to the rear as practicable; the share by judgement
)

var red, amber, white = []string{"red"}, []string{"amber"}, []string{"white"}

// requiredLamps returns the lamps and reflectors a trailer of an overall width
// and length must have. Source: 49 CFR 571.108 Table I-b.
func requiredLamps(wide, long quantity.Length) []lampDuty {
	pair := 2
	if wide < lampNarrow {
		pair = 1
	}
	out := []lampDuty{{"tail", red, pair}, {"stop", red, pair}, {"turn", []string{"red", "amber"}, 2},
		{"side-marker-rear", red, 2}, {"reflex-rear-side", red, 2}, {"reflex-rear", red, pair}, {"plate", white, 1}}
	if long >= lampShort {
		out = append(out, lampDuty{"side-marker-front", amber, 2}, lampDuty{"reflex-front", amber, 2})
	}
	if long >= lampLong {
		out = append(out, lampDuty{"side-marker-middle", amber, 2}, lampDuty{"reflex-middle", amber, 2})
	}
	if wide >= lampWide {
		out = append(out, lampDuty{"clearance-front", amber, 2}, lampDuty{"clearance-rear", red, 2}, lampDuty{"identification", red, 3})
	}
	return out
}

// tapeSide returns the least total length of reflective sheeting on each side: half the overall
// length. The text does not say whether the tongue counts; the larger interpretation is used.
// Source: 49 CFR 571.108 S8.2.3.2.
func tapeSide(long quantity.Length) quantity.Length { return long / 2 }

// bodyWidth returns the width of the unit at its rear without wheels and fenders: that of deck
// or box, if the line states it.
func bodyWidth(e *Eval) figure {
	if p, ok := first[product.Deck](e); ok && p.Fitting.Size != nil {
		return entry(e, p.Fitting.Size.Wide)
	}
	if p, ok := first[product.DumpBox](e); ok && p.Fitting.Size != nil {
		return entry(e, p.Fitting.Size.Wide)
	}
	return of(e, widthOverall)
}

var (
	conspicuityRule = Source{Published, "49 CFR 571.108 S8.2 and 393.11(b)"}

	sideTape = declare(Decl{Name: "conspicuity.side_length", When: when("conspicuity"), Round: wholeUp, Formula: "half of length.overall: least total length of reflective sheeting on each side", Source: conspicuityRule},
		func(e *Eval) quantity.Length { return tapeSide(Get(e, lengthOverall)) })

	rearTape = declare(Decl{Name: "conspicuity.rear_length", When: when("conspicuity"), Round: wholeUp, Engineer: true, Formula: "width of deck or box, else width.overall: sheeting over the full width at the rear",
		Source: Source{Published, "49 CFR 571.108 S8.2.3.1; that fenders do not count by judgement"}},
		func(e *Eval) quantity.Length {
			wide, _ := bodyWidth(e).exact.(quantity.Length)
			return wide
		})
)

func init() {
	family(Decl{Name: "lamps.required", Engineer: true, Formula: "by width.overall and length.overall", Source: Source{Published, "49 CFR 571.108 Table I-b"}},
		func(e *Eval) (out []*Value) {
			for _, l := range requiredLamps(Get(e, widthOverall), Get(e, lengthOverall)) {
				out = append(out, e.member(lampName(l.duty), func(*Eval) any { return l.count }))
			}
			return out
		})

	family(Decl{Name: "lamps.count", Formula: "lamps and reflectors fitted, by duty", Source: fromPart},
		func(e *Eval) (out []*Value) {
			fitted := fitted[product.Lamps](e).Fitted
			for _, first := range fitted {
				name := lampName(first.Duty.Value)
				if slices.ContainsFunc(out, func(v *Value) bool { return v.Name == "lamps.count."+name }) {
					continue
				}
				// A duty can be in several entries, one for each color or place.
				out = append(out, e.member(name, func(e *Eval) any {
					sum := 0
					for _, l := range fitted {
						if l.Duty.Value == first.Duty.Value {
							sum += Read(e, l.Count)
						}
					}
					return sum
				}))
			}
			return out
		})
}

func lampName(duty string) string { return strings.ReplaceAll(duty, "-", "_") }

// Rear impact guard, 49 CFR 393.86(a)(2) to (5) and 571.224 S4.
const (
	guardSide    = 4  // in, greatest distance from each side of the body at the rear
	guardHeight  = 22 // in, greatest height of its lower edge
	guardForward = 12 // in, greatest distance ahead of the rear; of the rearmost tire where the wheels are the guard
)

var (
	_ = limit(Limit{ID: "lamps-missing",
		Protects: "a trailer that is not seen at night is run into",
		Check: func(e *Eval) {
			p, ok := first[product.Lamps](e)
			if !ok {
				e.report(e.at(e.Build.Model.At, "no lamps are fitted; expected those of 49 CFR 571.108 Table I-b"))
				return
			}
			wide, long := Get(e, widthOverall), Get(e, lengthOverall)
			for _, need := range requiredLamps(wide, long) {
				have := 0
				for _, l := range p.Data.Fitted {
					if Read(e, l.Duty) == need.duty && slices.Contains(need.colors, Read(e, l.Color)) {
						have += Read(e, l.Count)
					}
				}
				lamps := "." + lampName(need.duty)
				if !e.compare(figure{Input: Input{Name: "lamps.count" + lamps, Text: strconv.Itoa(have)}, exact: have}, AtLeast,
					figure{Input: Input{Name: "lamps.required" + lamps, Text: strconv.Itoa(need.count)}, exact: need.count}) {
					e.report(e.at(p.Fitting.From, "%s, %s: %s fitted; a unit of this width and length needs %s",
						need.duty, strings.Join(need.colors, " or "), strconv.Itoa(have), strconv.Itoa(need.count)))
				}
			}
		}})

	_ = limit(Limit{ID: "lamp-height", MaxReserve: 20,
		Protects: "a lamp too low or too high is hidden from the driver behind, or blinds",
		Check: func(e *Eval) {
			p, ok := first[product.Lamps](e)
			if !ok || p.Fitting.At == nil || p.Fitting.Size == nil {
				return // lamps-missing reports it, or no place is stated
			}
			if long := e.Build.OverallLong(); long.Set {
				least := e.calculated("three quarters of the overall length, judgement", lampRear*long.Value, wholeUp, entry(e, long))
				e.require(entry(e, p.Fitting.At.X), AtLeast, least, "the rear lamps stand %s behind the coupler; they stand as far back as practicable, at least %s")
			}
			middle := e.calculated("middle of the rear lamps", p.Fitting.At.Z.Value+p.Fitting.Size.High.Value/2, quantity.Rounding{}, entry(e, p.Fitting.At.Z), entry(e, p.Fitting.Size.High))
			rule := Source{Published, "49 CFR 571.108 Table I-b"}
			e.require(middle, AtLeast, e.fromRule(rule, quantity.Length(lampLow), wholeUp), "the rear lamps stand %s above the road; expected at least %s")
			e.require(middle, AtMost, e.fromRule(rule, quantity.Length(lampHigh), wholeDown), "the rear lamps stand %s above the road; expected at most %s")
		}})

	_ = limit(Limit{ID: "conspicuity-missing", When: when("conspicuity"),
		Protects: "a wide trailer across a dark road is seen by its sheeting alone",
		Check: func(e *Eval) {
			p, ok := first[product.Lamps](e)
			if !ok {
				return // lamps-missing reports it
			}
			check := func(have source.Given[quantity.Length], need Key[quantity.Length], where string, room figure) {
				none := Input{Path: "parts." + p.Fitting.Place, Text: p.Fitting.Component, At: p.Fitting.From}
				fitted := figure{Input{Path: none.Path, Text: "none", At: none.At}, quantity.Length(0), []Input{none}}
				if have.Set {
					fitted = entry(e, have)
				}
				e.require(fitted, AtLeast, of(e, need), "reflective sheeting "+where+": %s; expected at least %s")
				e.require(fitted, AtMost, room, "reflective sheeting "+where+": %s; the unit has room for %s")
			}
			check(p.Data.TapeSide, sideTape, "on each side", of(e, lengthOverall))
			check(p.Data.TapeRear, rearTape, "at the rear", of(e, widthOverall))
		}})

	_ = limit(Limit{ID: "rear-guard-missing", NoMargin: true, When: when("guard-range"),
		Protects: "without a guard a car runs under the deck up to its windshield",
		Check: func(e *Eval) {
			if !hasPart[product.RearGuard](e) {
				e.report(e.conflict(of(e, gvwr), figure{Input: Input{Text: e.text(quantity.Pounds(10000), asStated)}},
					"the gvwr is %s; from %s on a unit has a rear impact guard, or the line names the exemption"))
			}
		}})

	_ = limit(Limit{ID: "rear-guard-place", When: when("guard-range"),
		Protects: "a guard too high or too far forward does not stop a car",
		Check: func(e *Eval) {
			p, ok := first[product.RearGuard](e)
			if !ok {
				return // rear-guard-missing reports it
			}
			switch g := p.Data; Read(e, g.Kind) {
			case "guard", "low-chassis":
				guardPlace(e, g)
				guardWidth(e, p.Fitting)
			case "wheels-back":
				wheelsBack(e, g)
			}
		}})
)

// guardPlace checks height and set-back of a guard, or of a low chassis, which must satisfy the
// same limits (49 CFR 571.224 S4).
func guardPlace(e *Eval, g *product.RearGuard) {
	for _, c := range []struct {
		have source.Given[quantity.Length]
		most quantity.Length
		what string
	}{{g.Height, guardHeight, "height of the lower edge"}, {g.Forward, guardForward, "distance ahead of the rear"}} {
		switch {
		case !c.have.Set:
			e.report(wrong(e, g.Kind, "the %s of the rear guard is not given; expected at most %s", c.what, e.text(c.most, wholeDown)))
		case !e.compare(entry(e, c.have), AtMost, e.fromRule(Source{Published, "49 CFR 571.224 S4"}, c.most, wholeDown)):
			e.report(wrong(e, c.have, "the %s of the rear guard is %s; expected at most %s", c.what, c.have.Text, e.text(c.most, wholeDown)))
		}
	}
}

// guardWidth checks that a guard extends close to both sides (49 CFR 393.86(a)(3)).
func guardWidth(e *Eval, p *spec.Fitting) {
	body := bodyWidth(e)
	wide, ok := body.exact.(quantity.Length)
	if !ok || p.Size == nil {
		return
	}
	need := e.calculated("width of the body less what is allowed on each side, 49 CFR 393.86(a)(3)", wide-2*guardSide, wholeUp, body)
	e.require(entry(e, p.Size.Wide), AtLeast, need, "the rear guard is %s wide; near enough to both sides it must reach over %s")
}

// wheelsBack checks that the rearmost tire is far enough back to count as the guard
// (49 CFR 571.224 S4).
func wheelsBack(e *Eval, g *product.RearGuard) {
	all := all[product.Axle](e)
	last := all[len(all)-1]
	if last.Fitting.At == nil {
		e.Absent("the line does not say where %s stands", last.Fitting.Place)
	}
	rear := Read(e, last.Fitting.At.X) + Read(e, fitted[product.Tire](e).Diameter)/2
	ahead := Get(e, lengthOverall) - rear
	if e.compare(e.calculated("from the rearmost tire to the rear end", ahead, wholeUp, entry(e, last.Fitting.At.X), of(e, lengthOverall)), AtMost, e.fromRule(Source{Published, "49 CFR 571.224 S4"}, quantity.Length(guardForward), wholeDown)) {
		return
	}
	f := wrong(e, g.Kind, "the rearmost tire stands %s ahead of the rear; as guard it may stand at most %s", e.text(ahead, wholeUp), e.text(quantity.Length(guardForward), wholeDown))
	e.report(f.WithRelated(last.Fitting.At.X.At, "the rear axle stands here"))
}
