package derive

import (
	"fmt"
	"strconv"

	"ownerguide/spec"
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
	"ownerguide/spec/vin"
)

// Rounding of figures stated by a label, placard or part maker. The conversion is rounded to
// the nearest, or down for a maximum, or up for a minimum.
var (
	asStated    = quantity.Rounding{Stated: true}
	statedMost  = quantity.Rounding{Side: quantity.Down, Stated: true}
	statedLeast = quantity.Rounding{Side: quantity.Up, Stated: true}
)

// Rounding to the safe side: capacities down, demands up. Metric figures have no finer steps
// than tenths.
var (
	wholeDown     = quantity.Rounding{Side: quantity.Down}
	wholeUp       = quantity.Rounding{Side: quantity.Up}
	tenthDown     = quantity.Rounding{Side: quantity.Down, Step: 0.1, MetricStep: 0.1}
	tenthUp       = quantity.Rounding{Side: quantity.Up, Step: 0.1, MetricStep: 0.1}
	hundredthDown = quantity.Rounding{Side: quantity.Down, Step: 0.01, MetricStep: 0.1}
	hundredthUp   = quantity.Rounding{Side: quantity.Up, Step: 0.01, MetricStep: 0.1}
)

// Sources shared by many declarations.
var (
	fromLabel  = Source{Stated, "certification label (49 CFR 567.4(g)), as the product line gives it"}
	fromPart   = Source{Stated, "component maker's figure, as the product line gives it"}
	fromSheet  = Source{Stated, "build sheet"}
	fromLine   = Source{Stated, "product line"}
	arithmetic = Source{Arithmetic, ""}
)

var (
	vinNumber = declare(Decl{Name: "vin.number", Formula: "as on the build sheet", Source: fromSheet},
		func(e *Eval) Text {
			e.Build.OptionsWhere(func(o *product.Option) bool { return o.VINCode.Set }) // decide it too
			return Text(Read(e, e.Build.Sheet.VIN))
		})

	_ = declare(Decl{Name: "vin.year", Formula: "model year of the build sheet, which position 10 of the VIN must stand for",
		Source: Source{Published, "49 CFR 565.15(d)(1) Table VII"}},
		func(e *Eval) int { return Read(e, e.Build.Sheet.ModelYear) })

	_ = declare(Decl{Name: "vin.check_digit", Engineer: true, Formula: "position weights times letter values of vin.number, summed, modulo 11; X for 10",
		Source: Source{Published, "49 CFR 565.15(c) Tables III to V"}}, func(e *Eval) Text {
		digit, err := vin.CheckDigit(string(Get(e, vinNumber)))
		if err != nil {
			e.Absent("%s", err)
		}
		return Text(string(digit))
	})
)

var (
	gvwr = declare(Decl{Name: "ratings.gvwr", Round: statedMost, Formula: "as labelled; where an option changes the label, the option's figure", Source: fromLabel},
		func(e *Eval) quantity.Mass { return Read(e, e.Build.GVWR()) })

	gawr = [mostAxles]Key[quantity.Mass]{declareGAWR(0), declareGAWR(1), declareGAWR(2), declareGAWR(3)}

	gawrTotal = declare(Decl{Name: "ratings.gawr.total", Round: wholeDown, Formula: "sum of ratings.gawr over the axles", Source: arithmetic},
		func(e *Eval) (sum quantity.Mass) {
			for i := range axleCount(e) {
				sum += Get(e, gawr[i])
			}
			return sum
		})

	_ = declare(Decl{Name: "ratings.lift", Round: wholeUp, Source: Source{Judgement, "a jack at the frame lifts every wheel of its side that springs and equalizers join"},
		Formula: "the greatest ratings.gawr, or half of ratings.gawr.total where that is more: least rating of a jack or stand under the frame"},
		func(e *Eval) quantity.Mass {
			return max(Get(e, gawrTotal)/2, greatestGAWR(e))
		})

	couplerRating = ofPart(Decl{Name: "ratings.coupler", Round: statedMost, Formula: "gross rating stamped on the coupler"}, func(c *product.Coupler) source.Given[quantity.Mass] { return c.Gross })

	verticalRating = ofPart(Decl{Name: "ratings.coupler_vertical", Round: statedMost, Formula: "vertical rating stamped on the coupler"},
		func(c *product.Coupler) source.Given[quantity.Mass] { return c.Vertical })

	_ = declare(Decl{Name: "ratings.tires", Formula: "size and load range of the sidewall, as on the label", Source: fromPart},
		func(e *Eval) Text {
			t := fitted[product.Tire](e)
			return Text(fmt.Sprintf("%s (%s)", Read(e, t.Size), Read(e, t.LoadRange)))
		})

	_ = ofPart(Decl{Name: "ratings.rims", Round: statedMost, Formula: "load rating of one wheel"}, func(w *product.Wheel) source.Given[quantity.Mass] { return w.Load })

	coverage = declare(Decl{Name: "ratings.coverage", Round: wholeDown, Engineer: true,
		Formula: "ratings.gawr.total plus the part of ratings.gvwr that the coupler carries at the low end of hitch.tongue_range", Source: arithmetic},
		func(e *Eval) quantity.Mass {
			return Get(e, gawrTotal) + share(Get(e, shareLow), Get(e, gvwr))
		})
)

// share returns a percentage of a weight.
func share(p quantity.Percent, of quantity.Mass) quantity.Mass {
	return quantity.Mass(float64(of) * float64(p) / 100)
}

// axleWhen returns the condition that a unit has axle number i, from 0.
func axleWhen(i int) Decl {
	return [mostAxles]Decl{{}, {When: when("not single-axle")}, {When: when("triple-axle or quad-axle")}, {When: when("quad-axle")}}[i]
}

func declareGAWR(i int) Key[quantity.Mass] {
	d := axleWhen(i)
	d.Name, d.Round, d.Source = "ratings.gawr."+strconv.Itoa(i+1), statedMost, fromLabel
	d.Formula = "as labelled for axle " + strconv.Itoa(i+1) + ", counted from the front; where an option changes the label, the option's figure"
	return declare(d, func(e *Eval) quantity.Mass {
		label := e.Build.GAWR()
		if i >= len(label) {
			e.Absent("the line gives no gawr for axle %d", i+1)
		}
		return Read(e, label[i])
	})
}

var (
	_ = limit(Limit{ID: "rating-gvwr-coverage",
		Protects: "a unit loaded to its label would overload axles or tow vehicle",
		Check:    atMost(gvwr, coverage, "the gvwr is %s; axles and coupler together are good for %s")})

	_ = limit(Limit{ID: "rating-axle-count", NoMargin: true,
		Protects: "an axle without a rating, or a rating without an axle, makes every load figure wrong",
		Check: func(e *Eval) {
			label, axles := e.Build.GAWR(), axleCount(e)
			if len(label) == axles {
				return
			}
			at := e.Build.Model.GVWR.At
			if len(label) > 0 {
				at = label[0].At
			}
			e.report(e.at(at, "the label gives %d axle ratings; the unit has %d axles", len(label), axles))
		}})

	_ = limit(Limit{ID: "label-conflict", NoMargin: true,
		Protects: "a unit has one certification label; with two figures nobody knows which load is allowed",
		Check: func(e *Eval) {
			var first *spec.ChosenOption
			for _, o := range e.Build.OptionsWhere(func(o *product.Option) bool { return o.GVWR.Set }) {
				switch {
				case first == nil:
					first = &o
				case o.Option.GVWR.Value != first.Option.GVWR.Value:
					f := wrong(e, o.Option.GVWR, "option %s labels the gvwr %s, option %s labels it %s", o.ID, o.Option.GVWR.Text, first.ID, first.Option.GVWR.Text)
					e.report(f.WithRelated(first.Option.GVWR.At, "the other figure stands here"))
				}
			}
		}})
)
