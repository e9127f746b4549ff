package derive

import (
	"ownerguide/spec/quantity"
)

// Thresholds of federal rules, in lb. Every sentence that uses one refers the owner to the
// state or province as well.
const (
	classATrailer     = 10000 // 49 CFR 383.5: towed unit above this
	classACombination = 26001 // 49 CFR 383.5: combination of this or more
	carrierRating     = 10001 // 49 CFR 390.5: single or combined rating of this or more
)

// licenseLimit returns the greatest rating in lb of a tow vehicle that stays below class A with
// a trailer of a given GVWR; ok is false for a trailer with which class A is never required.
// Source: 49 CFR 383.5.
func licenseLimit(trailer quantity.Mass) (tow quantity.Mass, ok bool) {
	if trailer <= classATrailer {
		return 0, false
	}
	return max(0, classACombination-1-trailer), true
}

// carrierLimit returns the greatest rating in lb of a tow vehicle whose combination with the
// trailer stays below the motor carrier rules; zero if the trailer alone reaches them.
// Source: 49 CFR 390.5.
func carrierLimit(trailer quantity.Mass) quantity.Mass {
	return max(0, carrierRating-1-trailer)
}

// lightTruck is a rating that is exceeded by trucks that can tow. Common practice, no source.
const lightTruck quantity.Mass = 4000

var (
	cdlRule     = Source{Published, "49 CFR 383.5: combination of 26,001 lb or more with a towed unit over 10,000 lb, by the sum of the ratings or the combined rating on the tow vehicle's label, whichever is greater"}
	carrierRule = Source{Published, "49 CFR 390.5, as quoted in two guides to the rule: 10,001 lb or more in interstate commerce"}
)

// fixed declares a figure stated in a rule.
func fixed[T any](name string, round quantity.Rounding, formula string, from Source, figure T) Key[T] {
	return declare(Decl{Name: name, Aside: true, Round: round, Formula: formula, Source: from}, func(*Eval) T { return figure })
}

var (
	_ = declare(Decl{Name: "tow_vehicle.licence_gvwr", When: when("over-10000-lb"), Round: wholeDown,
		Formula: "26,000 lb less ratings.gvwr: a tow vehicle rated above this may need a class A license", Source: cdlRule},
		func(e *Eval) quantity.Mass {
			tow, ok := licenseLimit(Get(e, gvwr))
			if !ok {
				e.Absent("a trailer rated 10,000 lb or less makes no class A combination")
			} else if tow <= lightTruck {
				e.Absent("no truck is rated as low")
			}
			return tow
		})

	_ = declare(Decl{Name: "tow_vehicle.licence_any", When: when("over-10000-lb"), Round: wholeDown,
		Formula: "ratings.gvwr plus 4,000 lb, the rating of a light truck, where that makes a class A combination", Source: Source{Practice, "trucks are rated above 4,000 lb"}},
		func(e *Eval) quantity.Mass {
			tow, ok := licenseLimit(Get(e, gvwr))
			if !ok || tow > lightTruck {
				e.Absent("light trucks are rated lower")
			}
			return Get(e, gvwr) + lightTruck
		})

	_ = declare(Decl{Name: "law.carrier_gvwr", When: when("to-10000-lb"), Round: wholeDown, Formula: "10,000 lb less ratings.gvwr: with a tow vehicle rated above this, motor carrier rules may apply to work trips", Source: carrierRule},
		func(e *Eval) quantity.Mass { return carrierLimit(Get(e, gvwr)) })

	_ = declare(Decl{Name: "law.placard", Formula: "571.110 up to 10,000 lb, 571.120 above",
		Source: Source{Published, "49 CFR 571.110 S2; 571.120 S3 from memory"}},
		func(e *Eval) Text {
			if Get(e, gvwr) <= classATrailer {
				return "571.110"
			}
			return "571.120"
		})

	_ = fixed("law.class_a_combination", asStated, "combined rating from which a class A license may be needed", cdlRule, quantity.Pounds(classACombination))
	_ = fixed("law.class_a_trailer", asStated, "trailer rating above which a class A license may be needed", cdlRule, quantity.Pounds(classATrailer))
	_ = fixed("law.carrier_rating", asStated, "rating, single or combined, from which motor carrier rules may apply to work trips", carrierRule, quantity.Pounds(carrierRating))
	_ = fixed("law.inspection_months", quantity.Rounding{}, "months between inspections of each unit of a commercial combination", Source{Published, "49 CFR 396.17(a), (c)"}, 12)
	_ = fixed("law.brakes_exception", asStated, "gross weight up to which a trailer of a commercial combination can go without brakes, within 40 % of the tow vehicle's axle weights", Source{Published, "49 CFR 393.42(b)(3)"}, quantity.Pounds(3000))

	_ = fixed("law.tandem_within", statedMost, "how far apart axles may stand that the law of the Interstate highways counts together", Source{Published, "23 CFR 658.5, as quoted on public pages"}, tandemWithin)

	_ = fixed("law.tracking", statedMost, "how far to either side a towed vehicle may run on a straight, level road", Source{Published, "49 CFR 393.70(a)"}, quantity.Inches(3))

	heightLimit = declare(Decl{Name: "height.limit", Engineer: true, Round: statedMost,
		Formula: "greatest height that every state allows without a permit: 13 ft 6 in; some allow more, and no federal limit holds", Source: Source{Memory, "the size limits of the states"}},
		func(*Eval) quantity.Length { return quantity.Inches(162) })

	widthLimit = fixed("width.limit", statedMost, "greatest width without a permit on the national network", Source{Memory, "23 CFR 658.15"}, quantity.Inches(102))
)
