package derive

import (
	"math"
	"strings"

	"ownerguide/spec"
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// Words for the origin of the empty weight.
const (
	measured   Text = "measured"
	calculated Text = "calculated"
)

// unsure is the allowance on weights that were not measured: steel, paint and fittings are
// heavier than in drawings. Judgement; the guide tells the owner to weigh the unit.
const unsure = 0.03

var heavier = Source{Judgement, "3 % is added to weight that was not on a scale"}

// lever returns the part on the coupler of a weight at x behind the coupler, with the axles at
// center; negative behind the axles.
func lever(w quantity.Mass, x, center quantity.Length) quantity.Mass {
	return quantity.Mass(float64(w) * float64(center-x) / float64(center))
}

// ofOption is what an option adds: weight, or its part on the coupler.
type ofOption func(*Eval, *product.Option) quantity.Mass

// optionWeight reads what an option adds to the weight.
func optionWeight(e *Eval, o *product.Option) quantity.Mass {
	if !o.Weighs.Set {
		return 0
	}
	return Read(e, o.Weighs)
}

// optionOnCoupler reads what an option adds to the coupler weight, by the lever law about the
// axles. In a loaded line every option that weighs something has a center.
func optionOnCoupler(e *Eval, o *product.Option) quantity.Mass {
	if !o.Weighs.Set || o.Weighs.Value == 0 {
		return 0
	}
	return lever(Read(e, o.Weighs), Read(e, o.Center), Get(e, axleCenter))
}

// withOptions adds what the options of the unit weigh to a figure of the model.
func withOptions(e *Eval, base source.Given[quantity.Mass], adds ofOption) quantity.Mass {
	sum := Read(e, base)
	for _, o := range e.weighing() {
		sum += adds(e, o.Option)
	}
	return sum
}

// changes returns the effect of options added or removed since the unit was weighed, with an
// allowance of 3 % of each to the heavier side; sure reports that there were
// none.
func changes(e *Eval, adds ofOption) (sum quantity.Mass, sure bool) {
	return changesTo(e, adds, unsure)
}

// changesTo is changes with another allowance.
func changesTo(e *Eval, adds ofOption, share quantity.Mass) (sum quantity.Mass, sure bool) {
	sure = true
	change := func(w quantity.Mass) {
		sure = false
		sum += w + share*max(w, -w)
	}
	for _, o := range e.changed() {
		change(adds(e, o.Option))
	}
	for _, r := range e.Build.Sheet.Removed {
		if o := e.Build.Model.Options.Get(r.Option.Value); o != nil {
			change(-adds(e, o))
		}
	}
	return sum, sure
}

var (
	workedEmpty = declare(Decl{Name: "weights.empty_calculated", Round: wholeUp, Engineer: true,
		Formula: "the model's empty weight plus what each option weighs, nothing added", Source: arithmetic},
		func(e *Eval) quantity.Mass { return withOptions(e, e.Build.Model.Empty, optionWeight) })

	workedCoupler = declare(Decl{Name: "weights.coupler_calculated", Engineer: true,
		Formula: "the model's coupler weight plus the lever of each option's weight about axles.center", Source: arithmetic},
		func(e *Eval) quantity.Mass { return withOptions(e, e.Build.Model.OnCoupler, optionOnCoupler) })

	emptyWeight = declare(Decl{Name: "weights.empty", Round: wholeUp,
		Formula: "measured on the finished unit, plus options fitted and less options taken off since; not measured: weights.empty_calculated. To what was not on a scale 3 % is added",
		Source:  heavier},
		func(e *Eval) quantity.Mass {
			if !e.Build.Sheet.Measured.Empty.Set {
				return Get(e, workedEmpty) * (1 + unsure)
			}
			scale := Read(e, e.Build.Sheet.Measured.Empty)
			change, _ := changes(e, optionWeight)
			return scale + change
		})

	_ = declare(Decl{Name: "weights.empty_basis", Engineer: true, Formula: "measured when the unit was weighed and no option has changed since, else calculated", Source: fromSheet},
		func(e *Eval) Text {
			if !e.Build.Sheet.Measured.Empty.Set {
				return calculated
			}
			Read(e, e.Build.Sheet.Measured.Empty)
			if _, sure := changes(e, optionWeight); !sure {
				return calculated
			}
			return measured
		})

	couplerEmpty = declare(Decl{Name: "weights.coupler_empty", Round: quantity.Rounding{},
		Formula: "measured on the finished unit, plus the lever of options changed since; not measured: weights.empty times weights.coupler_calculated over weights.empty_calculated",
		Source:  arithmetic},
		func(e *Eval) quantity.Mass {
			if e.Build.Sheet.Measured.OnCoupler.Set {
				scale := Read(e, e.Build.Sheet.Measured.OnCoupler)
				change, _ := changes(e, optionOnCoupler)
				return scale + change
			}
			on, all := Get(e, workedCoupler), Get(e, workedEmpty)
			if all <= 0 {
				e.Absent("the model's empty weight is nothing")
			}
			return on / all * Get(e, emptyWeight)
		})

	// couplerLeast is the coupler weight without allowance. How far back a load may be, and what
	// lifts the coupler, depend on it: for these more is not safer.
	couplerLeast = declare(Decl{Name: "weights.coupler_least", Engineer: true, Round: wholeDown,
		Formula: "as weights.coupler_empty, but with nothing added to what was not on a scale; not measured: weights.coupler_calculated",
		Source:  Source{Judgement, "unlike elsewhere, more weight is not the safe side here"}},
		func(e *Eval) quantity.Mass {
			if e.Build.Sheet.Measured.OnCoupler.Set {
				scale := Read(e, e.Build.Sheet.Measured.OnCoupler)
				change, _ := changesTo(e, optionOnCoupler, 0)
				return scale + change
			}
			return Get(e, workedCoupler)
		})

	cargoCapacity = declare(Decl{Name: "weights.cargo_capacity", Round: wholeDown, Formula: "ratings.gvwr less weights.empty: where the sheet gives the figure of the tire and loading label and that is less, the label's",
		Source: Source{Published, "49 CFR 567.4(g)(3): the GVWR covers the unloaded weight and the rated cargo load"}},
		func(e *Eval) quantity.Mass {
			left := Get(e, gvwr) - Get(e, emptyWeight)
			if label := e.Build.Sheet.Placard; label.Set {
				left = min(left, Read(e, label))
			}
			return left
		})
)

// Limits of weights relative to each other.
const (
	measuredFar    = 0.05  // judgement: a greater difference means that scale or line is wrong
	measuredWrong  = 2     // judgement: a greater ratio is not an error of the scale, but of the unit or of the decimal point
	couplerFar     = 0.10  // judgement: a small difference of large moments, so it varies more than the weight
	couplerWrong   = 0.25  // judgement: a greater difference means that scale or line is of another unit
	changedPounds  = 100.0 // lb, 49 CFR 571.110 S10; above 10,000 lb of GVWR, where it does not apply, by judgement
	changedPercent = 1.5   // of the GVWR, likewise
	placardFar     = 0.10  // of the cargo capacity, judgement: a greater shortfall is not due to rounding
)

// onScale returns the empty weight from the scale, the sum for model and options, and whether
// they are too different to be of one unit. Options added later were not on the
// scale.
func onScale(e *Eval) (scale, own quantity.Mass, wrong bool) {
	scale = Read(e, e.Build.Sheet.Measured.Empty)
	change, _ := changes(e, optionWeight)
	own = Get(e, workedEmpty) - change
	return scale, own, measuredWrong*scale < own || scale > measuredWrong*own
}

// couplerOff returns the relative difference of the coupler weight from the scale from the sum
// for model and options.
func couplerOff(e *Eval) (off float64, own quantity.Mass) {
	scale := Read(e, e.Build.Sheet.Measured.OnCoupler)
	change, _ := changes(e, optionOnCoupler)
	own = Get(e, workedCoupler) - change
	return math.Abs(float64((scale - own) / own)), own
}

func couplerDemand(e *Eval, off, most float64) {
	allowed := e.fromRule(Source{Judgement, "further off, one of the two is wrong"}, quantity.Percent(100*most), tenthUp)
	if !e.compare(e.calculated("coupler weight, from the scale to model and options", quantity.Percent(100*off), tenthUp, entry(e, e.Build.Sheet.Measured.OnCoupler), of(e, workedCoupler)), AtMost, allowed) {
		e.report(e.conflict(entry(e, e.Build.Sheet.Measured.OnCoupler), of(e, workedCoupler),
			"the coupler was weighed at %s; model and options add up to %s, more than "+strings.ReplaceAll(allowed.Text, "%", "%%")+" away").
			WithHint("weigh it again, level and empty; when it is right, correct the places or weights in the line"))
	}
}

// placardMost returns the cargo capacity of the unit when it was labeled: without options changed
// since, and without allowance.
func placardMost(e *Eval) figure {
	own := Get(e, workedEmpty)
	if e.Build.Sheet.Measured.Empty.Set {
		own = Read(e, e.Build.Sheet.Measured.Empty)
	} else {
		change, _ := changesTo(e, optionWeight, 0)
		own -= change
	}
	return e.calculated("ratings.gvwr less the empty weight", Get(e, gvwr)-own, wholeDown, of(e, gvwr))
}

var (
	_ = limit(Limit{ID: "rating-cargo", Convex: true,
		Protects: "a unit that is at its label empty can carry nothing",
		Check: func(e *Eval) {
			e.require(of(e, emptyWeight), Below, of(e, gvwr), "the unit weighs %s empty and the gvwr is %s; nothing is left for cargo")
		}})

	_ = limit(Limit{ID: "weight-measured-far", Severity: source.Warning, When: when("measured"),
		Protects: "a slip at the scale or in the sheet would give the owner a wrong cargo limit",
		Check: func(e *Eval) {
			scale, own, wrong := onScale(e)
			if wrong { // another limit reports it
				return
			}
			far := (own - scale) / scale
			if !e.compare(e.calculated("from the scale to model and options", quantity.Percent(100*max(far, -far)), tenthUp, entry(e, e.Build.Sheet.Measured.Empty), of(e, workedEmpty)), AtMost,
				e.fromRule(Source{Judgement, "further off, one of the two is wrong"}, quantity.Percent(100*measuredFar), tenthUp)) {
				e.report(e.conflict(entry(e, e.Build.Sheet.Measured.Empty), of(e, workedEmpty), "the unit was weighed at %s; model and options add up to %s, more than 5 %% away"))
			}
		}})

	_ = limit(Limit{ID: "weight-measured-wrong", When: when("measured"),
		Protects: "kilograms read as pounds, or a dot read as a comma, would let the owner load tons too much",
		Check: func(e *Eval) {
			scale, own, _ := onScale(e)
			times := quantity.Count(math.Inf(1))
			if scale > 0 && own > 0 {
				times = quantity.Count(max(scale/own, own/scale))
			}
			if !e.compare(e.calculated("the greater of two weights over the lesser, from the scale and of model and options", times, hundredthDown, entry(e, e.Build.Sheet.Measured.Empty), of(e, workedEmpty)), AtMost,
				e.fromRule(Source{Judgement, "more is a slip of the pen"}, quantity.Count(measuredWrong), quantity.Rounding{})) {
				e.report(e.conflict(entry(e, e.Build.Sheet.Measured.Empty), of(e, workedEmpty), "the unit was weighed at %s; model and options add up to %s").
					WithHint("look at the unit, and at the dot and the comma: a comma parts thousands, a dot begins a fraction"))
			}
		}})

	_ = limit(Limit{ID: "coupler-measured-far", Severity: source.Warning, When: when("measured"),
		Protects: "a slip at the scale moves the place of the load to where the trailer sways",
		Check: func(e *Eval) {
			if !e.Build.Sheet.Measured.OnCoupler.Set {
				return
			}
			off, own := couplerOff(e)
			if off > couplerWrong || own <= 0 {
				return // another limit reports it
			}
			couplerDemand(e, off, couplerFar)
		}})

	_ = limit(Limit{ID: "coupler-measured-wrong", When: when("measured"),
		Protects: "a coupler weight of another unit lets the owner load so far back that the trailer sways at any speed",
		Check: func(e *Eval) {
			if !e.Build.Sheet.Measured.OnCoupler.Set {
				return
			}
			off, own := couplerOff(e)
			if own <= 0 {
				return // weight-coupler reports it
			}
			couplerDemand(e, off, couplerWrong)
		}})

	_ = limit(Limit{ID: "label-weight-change", Severity: source.Warning,
		Protects: "the cargo figure on the unit's label is too high once heavy options have been fitted",
		Check: func(e *Eval) {
			var sum quantity.Mass
			var at *spec.ChosenOption
			var fittedSince figure
			for _, o := range e.changed() {
				if o.Option.Weighs.Set {
					at = &o
					sum += Read(e, o.Option.Weighs)
					fittedSince.from = append(fittedSince.from, entry(e, o.Option.Weighs).Input)
				}
			}
			allowed := min(changedPounds, share(changedPercent, Get(e, gvwr)))
			if at != nil && !e.compare(e.calculated("weight of the options fitted after certification", sum, wholeUp, fittedSince), AtMost,
				e.fromRule(Source{Judgement, "49 CFR 571.110 S10, on heavier units too"}, allowed, wholeDown)) {
				e.report(e.at(at.At, "options fitted after certification weigh %s; above %s the label must be corrected",
					e.text(sum, wholeUp), e.text(allowed, wholeDown)).
					WithHint("fit a corrected certification and loading label, and give the new ratings in the product line"))
			}
		}})

	_ = limit(Limit{ID: "placard-cargo",
		Protects: "a label that allows more cargo than the unit can carry is what the owner goes by",
		Check: func(e *Eval) {
			label := e.Build.Sheet.Placard
			if label.Set {
				e.require(entry(e, label), AtMost, placardMost(e), "the tire and loading label allows %s of cargo; gvwr less empty weight is %s")
			}
		}})

	_ = limit(Limit{ID: "placard-cargo-low", Severity: source.Warning,
		Protects: "a label that allows far less cargo than the unit carries is the label of another unit",
		Check: func(e *Eval) {
			label := e.Build.Sheet.Placard
			if !label.Set {
				return
			}
			most := placardMost(e)
			least := e.calculated("a tenth less than gvwr less empty weight", most.exact.(quantity.Mass)*(1-placardFar), wholeUp, most)
			e.require(entry(e, label), AtLeast, least, "the tire and loading label allows %s of cargo; expected at least %s")
		}})

	_ = limit(Limit{ID: "coupler-empty", Convex: true, MaxReserve: 10,
		Protects: "an empty unit with hardly any weight on its coupler sways on the way home",
		Check: func(e *Eval) {
			all := of(e, emptyWeight)
			least := e.calculated("half of the least share of weights.empty, by judgement", share(Get(e, shareLow)/2, Get(e, emptyWeight)), wholeUp, all)
			e.require(of(e, couplerEmpty), AtLeast, least, "the empty unit rests on its coupler with %s; expected at least %s")
		}})

	_ = limit(Limit{ID: "weight-coupler", Convex: true,
		Protects: "an empty unit whose coupler lifts sways and breaks away",
		Check: func(e *Eval) {
			on, all := of(e, couplerEmpty), of(e, emptyWeight)
			// The weight on the axles is compared with all of it, instead of the weight on the
			// coupler with zero, because a percentage of zero is not meaningful.
			onAxles := e.calculated("weights.empty less weights.coupler_empty", Get(e, emptyWeight)-Get(e, couplerEmpty), wholeUp, all, on)
			if e.compare(onAxles, Below, all) && e.compare(on, Below, all) {
				return
			}
			e.report(e.conflict(on, all, "the empty unit rests on its coupler with %s of %s; expected a part of it"))
		}})
)
