package derive

import (
	"strconv"

	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// tireGap is the minimum distance of the tires of two axles while springs and equalizers
// move. Judgement.
const tireGap quantity.Length = 1

// mostAxles is the greatest number of axles of a unit; the label and the values have no more.
const mostAxles = 4

// axleCount returns the number of axles of the unit, at most four.
func axleCount(e *Eval) int {
	n := len(allAs[product.Axle](e, counted))
	switch {
	case n == 0:
		e.Absent("no axle is fitted")
	case n > mostAxles:
		e.Absent("%d axles are fitted; ratings are worked out for at most %d", n, mostAxles)
	}
	return min(n, mostAxles)
}

// axle returns axle number i, counted from 0 at the front.
func axle(e *Eval, i int) *product.Axle {
	if all := all[product.Axle](e); i < len(all) {
		return all[i].Data
	}
	e.Absent("no axle %d is fitted", i+1)
	return new(product.Axle)
}

var play = quantity.Rounding{Stated: true, Step: 0.001, MetricStep: 0.01}

var (
	_ = declare(Decl{Name: "axles.count", Formula: "axles fitted", Source: fromLine},
		func(e *Eval) int {
			for _, a := range all[product.Axle](e) {
				e.reads(Input{Path: "parts." + a.Fitting.Place, Text: a.Fitting.Component, At: a.Fitting.From})
			}
			return axleCount(e)
		})

	axleCenter = declare(Decl{Name: "axles.center", Round: quantity.Rounding{}, Engineer: true,
		Formula: "mean of the axles' places behind the coupler: the springs or torsion elements of one unit share its load evenly",
		Source:  Source{Judgement, "equal sharing, as an equalizer or a level coupler gives it"}},
		func(e *Eval) (mean quantity.Length) {
			all := allAs[product.Axle](e, placeAndSize)
			for _, a := range all {
				if a.Fitting.At == nil {
					e.Absent("the line does not say where %s stands", a.Fitting.Place)
				}
				mean += Read(e, a.Fitting.At.X) / quantity.Length(len(all))
			}
			axleCount(e)
			return mean
		})

	_ = declare(Decl{Name: "hubs.hot_difference", Formula: "50 °F from one hub to its mates, measured one after the other: more means a bearing or brake that runs hot",
		Source: Source{Practice, "no published limit was found"}},
		func(*Eval) quantity.TemperatureDifference { return 50 })

	hubPlayLow = declare(Decl{Name: "hubs.play_low", Round: play, Formula: "least bearing end play of the axle maker", Source: fromPart},
		func(e *Eval) quantity.Length { return Read(e, hubPlay(e).Low) })

	hubPlayHigh = declare(Decl{Name: "hubs.play_high", Round: play, Formula: "greatest bearing end play of the axle maker", Source: fromPart},
		func(e *Eval) quantity.Length { return Read(e, hubPlay(e).High) })

	_ = declare(Decl{Name: "axles.u_bolt_torque", When: when("leaf-springs"), Round: asStated, Formula: "the axle maker's figure", Source: fromPart},
		func(e *Eval) quantity.Torque { return Read(e, axle(e, 0).UBoltTorque) })

	_ = [mostAxles]Key[quantity.Mass]{declareAxle(0), declareAxle(1), declareAxle(2), declareAxle(3)}
)

func hubPlay(e *Eval) *product.PlayRange {
	if p := axle(e, 0).HubPlay; p != nil {
		return p
	}
	e.Absent("the axle maker gives no end play")
	return new(product.PlayRange)
}

// axlePart is one rated part of an axle.
type axlePart struct {
	carries string // name of the part, and the verb
	rating  source.Given[quantity.Mass]
}

// axleRatings returns the ratings of the axle maker; tires and wheels are rated by others
// and checked by limits of their own.
func axleRatings(a *product.Axle) []axlePart {
	parts := []axlePart{{"beam carries", a.Beam}, {"springs carry", a.Spring}, {"hubs carry", a.Hub}}
	if a.Brake != nil {
		parts = append(parts, axlePart{"brakes carry", a.Brake.Rating})
	}
	return parts
}

func declareAxle(i int) Key[quantity.Mass] {
	d := axleWhen(i)
	d.Name, d.Round, d.Source = "axles."+strconv.Itoa(i+1)+".rating", wholeDown, arithmetic
	d.Formula = "least of beam, springs, hubs, brakes, wheels (ratings.rims times tires.per_axle) and tires (tires.capacity.axle)"
	d.Engineer = true
	return declare(d, func(e *Eval) quantity.Mass {
		least := min(Get(e, tireAxleCapacity), Get(e, rimAxleCapacity))
		for _, p := range axleRatings(axle(e, i)) {
			least = min(least, Read(e, p.rating))
		}
		return least
	})
}

var (
	_ = limit(Limit{ID: "rating-axle-label",
		Protects: "a beam, spring, hub or brake loaded above its rating fails on the road",
		Check: func(e *Eval) {
			for i := range axleCount(e) {
				for _, p := range axleRatings(axle(e, i)) {
					e.require(of(e, gawr[i]), AtMost, entry(e, p.rating),
						"the gawr of axle "+strconv.Itoa(i+1)+" is %s; its "+p.carries+" only %s")
				}
			}
		}})

	_ = limit(Limit{ID: "axle-spacing", MaxReserve: 10,
		Protects: "tires that touch rub through and burst",
		Check: func(e *Eval) {
			axles := allAs[product.Axle](e, placeAndSize)
			for i := 1; i < len(axles); i++ {
				before, behind := axles[i-1].Fitting.At, axles[i].Fitting.At
				if before == nil || behind == nil {
					continue
				}
				apart := e.calculated("axle "+strconv.Itoa(i)+" to axle "+strconv.Itoa(i+1), behind.X.Value-before.X.Value, wholeDown, entry(e, behind.X), entry(e, before.X))
				tire := entry(e, fitted[product.Tire](e).Diameter)
				need := e.calculated("the diameter of the tires and room to move", Read(e, fitted[product.Tire](e).Diameter)+tireGap, wholeUp, tire)
				e.require(apart, AtLeast, need, "two axles stand %s apart; their tires need %s")
			}
		}})

	_ = limit(Limit{ID: "hub-play", MaxReserve: 20,
		Protects: "a bearing set to a range that is upside down seizes or wobbles off",
		Check: func(e *Eval) {
			_, ok := Try(e, hubPlayLow)
			if _, also := Try(e, hubPlayHigh); ok && also {
				e.require(of(e, hubPlayLow), Below, of(e, hubPlayHigh), "the least end play is %s, the greatest %s; expected a rising range")
			}
		}})
)
