package derive

import (
	"fmt"
	"strconv"

	"ownerguide/spec"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
	"ownerguide/spec/vin"
)

// asStated prints what a label, placard or part maker states.
var asStated = quantity.Rounding{Side: quantity.AsStated}

// Rounding to the safe side in whole units: capacities down, demands up.
var (
	wholeDown = quantity.Rounding{Side: quantity.Down}
	wholeUp   = quantity.Rounding{Side: quantity.Up}
)

// Sources that many declarations share.
var (
	fromLabel  = Source{Stated, "certification label (49 CFR 567.4(g)), as the product line gives it"}
	fromPart   = Source{Stated, "component maker's figure, as the product line gives it"}
	fromSheet  = Source{Stated, "build sheet"}
	fromLine   = Source{Stated, "product line"}
	arithmetic = Source{Arithmetic, ""}
)

var (
	vinNumber = declare(Decl{Name: "vin.number", Formula: "as on the build sheet", Source: fromSheet},
		func(e *Eval) Text { return Text(Read(e, e.Build.Sheet.VIN)) })

	_ = declare(Decl{Name: "vin.year", Formula: "model year of the build sheet, which position 10 of the VIN must stand for",
		Source: Source{Published, "49 CFR 565.15(d)(1) Table VII"}},
		func(e *Eval) int { return Read(e, e.Build.Sheet.ModelYear) })

	_ = declare(Decl{Name: "vin.check_digit", Formula: "position weights times letter values of vin.number, summed, modulo 11; X for 10",
		Source: Source{Published, "49 CFR 565.15(c) Tables III to V"}}, func(e *Eval) Text {
		digit, err := vin.CheckDigit(string(Get(e, vinNumber)))
		if err != nil {
			e.Absent("%s", err)
		}
		return Text(string(digit))
	})
)

var (
	codeVIN = source.Code{ID: "vin-invalid", Severity: source.Error,
		Protects: "recall, title and insurance reach the owner through this number"}
	codeVINYear = source.Code{ID: "vin-year", Severity: source.Error,
		Protects: "a recall names model years; a number that says another year is missed"}
	codeVINMaker = source.Code{ID: "vin-maker", Severity: source.Error,
		Protects: "a number that names another maker sends the owner and the authorities to the wrong one"}
	codeVINModel = source.Code{ID: "vin-model", Severity: source.Error,
		Protects: "a guide for another model than the one on the unit's plate carries wrong ratings"}
)

// vinLimit registers a check of a number that is valid as such; an invalid one
// is vin-invalid's to report.
func vinLimit(code source.Code, check func(*Eval, vin.VIN) []source.Finding) *Limit {
	return limit(Limit{Code: code, Check: func(e *Eval) []source.Finding {
		v, err := vin.Parse(Read(e, e.Build.Sheet.VIN))
		if err != nil {
			return nil
		}
		return check(e, v)
	}})
}

var (
	_ = limit(Limit{Code: codeVIN, Check: func(e *Eval) []source.Finding {
		if _, err := vin.Parse(Read(e, e.Build.Sheet.VIN)); err != nil {
			return []source.Finding{wrong(codeVIN, e.Build.Sheet.VIN, "%s", err)}
		}
		return nil
	}})

	_ = vinLimit(codeVINYear, func(e *Eval, v vin.VIN) []source.Finding {
		year := e.Build.Sheet.ModelYear
		code, err := vin.YearCode(Read(e, year))
		if err != nil {
			return []source.Finding{wrong(codeVINYear, year, "%s", err)}
		}
		if code == v.YearCode() {
			return nil
		}
		f := wrong(codeVINYear, e.Build.Sheet.VIN, "position 10 of the vin is %q; model year %d is %q", string(v.YearCode()), year.Value, string(code))
		return []source.Finding{f.WithRelated(year.At, "the model year stands here")}
	})

	_ = vinLimit(codeVINMaker, func(e *Eval, v vin.VIN) []source.Finding {
		maker := e.Build.Line.Maker
		if wmi := Read(e, maker.WMI); v.WMI() != wmi {
			f := wrong(codeVINMaker, e.Build.Sheet.VIN, "positions 1 to 3 of the vin are %q; this maker's are %q", v.WMI(), wmi)
			return []source.Finding{f.WithRelated(maker.WMI.At, "the maker's identifier stands here")}
		}
		small, ok := v.SmallMaker()
		if !ok || !maker.Small.Set || small == maker.Small.Value {
			return nil
		}
		f := wrong(codeVINMaker, e.Build.Sheet.VIN, "positions 12 to 14 of the vin are %q; this maker's are %q", small, maker.Small.Value)
		return []source.Finding{f.WithRelated(maker.Small.At, "the small maker's identifier stands here")}
	})

	_ = vinLimit(codeVINModel, func(e *Eval, v vin.VIN) []source.Finding {
		code := e.Build.Model.VINCode
		if v.Descriptor() == Read(e, code) {
			return nil
		}
		f := wrong(codeVINModel, e.Build.Sheet.VIN, "positions 4 to 8 of the vin are %q; those of %s are %q", v.Descriptor(), e.Build.Model.ID, code.Value)
		return []source.Finding{f.WithRelated(code.At, "the model's code stands here")}
	})
)

// labelled returns the last chosen option's figure where one changes the
// certification label, else the model's. Two options that state different
// figures are label-conflict's to report.
func labelled[T any](e *Eval, model source.Given[T], option func(*spec.Option) source.Given[T]) T {
	last := model
	for _, o := range e.Build.Options {
		if g := option(o.Option); g.Set {
			last = g
		}
	}
	return Read(e, last)
}

var (
	gvwr = declare(Decl{Name: "ratings.gvwr", Round: asStated, Formula: "as labelled; where an option changes the label, the option's figure", Source: fromLabel},
		func(e *Eval) quantity.Mass {
			return labelled(e, e.Build.Model.GVWR, func(o *spec.Option) source.Given[quantity.Mass] { return o.GVWR })
		})

	gawr = [3]Key[quantity.Mass]{declareGAWR(0), declareGAWR(1), declareGAWR(2)}

	gawrTotal = declare(Decl{Name: "ratings.gawr.total", Round: wholeDown, Formula: "sum of ratings.gawr over the axles", Source: arithmetic},
		func(e *Eval) (sum quantity.Mass) {
			for i := range axleCount(e) {
				sum += Get(e, gawr[i])
			}
			return sum
		})

	couplerRating = declare(Decl{Name: "ratings.coupler", Round: asStated, Formula: "gross rating stamped on the coupler", Source: fromPart},
		func(e *Eval) quantity.Mass { return Read(e, fitted[spec.Coupler](e, "coupler").Gross) })

	verticalRating = declare(Decl{Name: "ratings.coupler_vertical", Round: asStated, Formula: "vertical rating stamped on the coupler", Source: fromPart},
		func(e *Eval) quantity.Mass { return Read(e, fitted[spec.Coupler](e, "coupler").Vertical) })

	_ = declare(Decl{Name: "ratings.tires", Formula: "size and load range of the sidewall, as on the label", Source: fromPart},
		func(e *Eval) Text {
			t := fitted[spec.Tire](e, "tire")
			return Text(fmt.Sprintf("%s (%s)", Read(e, t.Size), Read(e, t.LoadRange)))
		})

	_ = declare(Decl{Name: "ratings.rims", Round: asStated, Formula: "load rating of one wheel", Source: fromPart},
		func(e *Eval) quantity.Mass { return Read(e, fitted[spec.Wheel](e, "wheel").Load) })

	coverage = declare(Decl{Name: "ratings.coverage", Round: wholeDown, Engineer: true,
		Formula: "ratings.gawr.total plus the part of ratings.gvwr that the coupler carries at the low end of hitch.tongue_range", Source: arithmetic},
		func(e *Eval) quantity.Mass {
			return Get(e, gawrTotal) + share(Get(e, shareLow), Get(e, gvwr))
		})
)

// share takes a percentage of a weight.
func share(p quantity.Percent, of quantity.Mass) quantity.Mass {
	return quantity.Mass(float64(of) * float64(p) / 100)
}

// axleWhen gives the condition under which a unit has axle number i, from 0.
func axleWhen(i int) Decl {
	return [3]Decl{{}, {When: when("tandem-axle|triple-axle")}, {When: when("triple-axle")}}[i]
}

func declareGAWR(i int) Key[quantity.Mass] {
	d := axleWhen(i)
	d.Name, d.Round, d.Source = "ratings.gawr."+strconv.Itoa(i+1), asStated, fromLabel
	d.Formula = "as labelled for axle " + strconv.Itoa(i+1) + ", counted from the front; where an option changes the label, the option's figure"
	return declare(d, func(e *Eval) quantity.Mass {
		if i >= len(e.Build.Model.GAWR) {
			e.Absent("the line gives no gawr for axle %d", i+1)
			return 0
		}
		return labelled(e, e.Build.Model.GAWR[i], func(o *spec.Option) (g source.Given[quantity.Mass]) {
			if i < len(o.GAWR) {
				g = o.GAWR[i]
			}
			return g
		})
	})
}

var (
	codeCoverage = source.Code{ID: "rating-gvwr-coverage", Severity: source.Error,
		Protects: "a unit loaded to its label would overload axles or tow vehicle"}
	codeAxleCount = source.Code{ID: "rating-axle-count", Severity: source.Error,
		Protects: "an axle without a rating, or a rating without an axle, makes every load figure wrong"}
	codeLabelConflict = source.Code{ID: "label-conflict", Severity: source.Error,
		Protects: "a unit has one certification label; with two figures nobody knows which load is allowed"}
)

var (
	_ = limit(Limit{Code: codeCoverage, Check: func(e *Eval) []source.Finding {
		return atMost(e, codeCoverage, gvwr, coverage, "the gvwr is %s; axles and coupler together are good for %s")
	}})

	_ = limit(Limit{Code: codeAxleCount, Check: func(e *Eval) []source.Finding {
		axles, m := axleCount(e), e.Build.Model
		lists := []struct {
			name  string
			gawr  []source.Given[quantity.Mass]
			place source.Pos
		}{{"the model", m.GAWR, m.At}}
		for _, o := range e.Build.Options {
			if len(o.Option.GAWR) > 0 {
				lists = append(lists, struct {
					name  string
					gawr  []source.Given[quantity.Mass]
					place source.Pos
				}{"option " + o.ID, o.Option.GAWR, o.Option.GAWR[0].At})
			}
		}
		var out []source.Finding
		for _, l := range lists {
			if len(l.gawr) != axles {
				out = append(out, codeAxleCount.At(l.place, "%s gives %d axle ratings; the unit has %d axles", l.name, len(l.gawr), axles))
			}
		}
		return out
	}})

	_ = limit(Limit{Code: codeLabelConflict, Check: func(e *Eval) []source.Finding {
		var first *spec.ChosenOption
		var out []source.Finding
		for i, o := range e.Build.Options {
			switch {
			case !o.Option.GVWR.Set:
			case first == nil:
				first = &e.Build.Options[i]
			case o.Option.GVWR.Value != first.Option.GVWR.Value:
				f := wrong(codeLabelConflict, o.Option.GVWR, "option %s labels the gvwr %s, option %s labels it %s", o.ID, o.Option.GVWR.Text, first.ID, first.Option.GVWR.Text)
				out = append(out, f.WithRelated(first.Option.GVWR.At, "the other figure stands here"))
			}
		}
		return out
	}})
)
