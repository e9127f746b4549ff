package derive

import (
	"fmt"
	"strings"
	"time"

	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// passengerDivisor reduces the rating of a passenger-car tire on a trailer.
// Source: 49 CFR 571.110 S4.2.2.2: divided by 1.10, not multiplied by 0.90.
const passengerDivisor = 1.10

// unmarkedSpeed is the greatest speed of a special-trailer tire without a speed symbol. Common
// practice, no source.
const unmarkedSpeed = 65 // mph

var (
	_ = textOfPart(Decl{Name: "tires.size", Formula: "as on the sidewall"}, func(t *product.Tire) source.Given[string] { return t.Size })
	_ = textOfPart(Decl{Name: "tires.load_range", Formula: "as on the sidewall"}, func(t *product.Tire) source.Given[string] { return t.LoadRange })

	coldPressure = ofPart(Decl{Name: "tires.cold_pressure", Round: asStated, Formula: "as on the sidewall, for the full load rating; never worked out from size and load range"},
		func(t *product.Tire) source.Given[quantity.Pressure] { return t.Cold })

	tireCapacity = declare(Decl{Name: "tires.capacity", Round: statedMost, Formula: "load rating of one tire at tires.cold_pressure: the dual rating on dual wheels, else the single one", Source: fromPart},
		func(e *Eval) quantity.Mass {
			t := fitted[product.Tire](e)
			if e.Has("dual-wheels") {
				return Read(e, t.Dual)
			}
			return Read(e, t.Single)
		})

	tiresPerAxle = declare(Decl{Name: "tires.per_axle", Engineer: true, Formula: "four on dual wheels, else two", Source: arithmetic},
		func(e *Eval) int {
			if e.Has("dual-wheels") {
				return 4
			}
			return 2
		})

	_ = declare(Decl{Name: "tires.count", Formula: "tires.per_axle times axles.count; the spare is not counted", Source: arithmetic},
		func(e *Eval) int { return Get(e, tiresPerAxle) * axleCount(e) })

	tireAxleCapacity = declare(Decl{Name: "tires.capacity.axle", Engineer: true, Round: wholeDown, Formula: "tires.capacity times tires.per_axle; passenger-car tires divided by 1.10",
		Source: Source{Published, "49 CFR 571.110 S4.2.2 up to 10,000 lb; above, 571.120 S5.1.2, from memory"}},
		func(e *Eval) quantity.Mass {
			sum := Get(e, tireCapacity) * quantity.Mass(Get(e, tiresPerAxle))
			if Read(e, fitted[product.Tire](e).Kind) == "passenger" {
				sum /= passengerDivisor
			}
			return sum
		})

	_ = declare(Decl{Name: "tires.margin", Engineer: true, Round: tenthDown, Formula: "tires.capacity.axle above the greatest ratings.gawr, as a share of it", Source: arithmetic},
		func(e *Eval) quantity.Percent {
			most := greatestGAWR(e)
			if most <= 0 {
				e.Absent("an axle rating is nothing")
			}
			return quantity.Percent(100 * (Get(e, tireAxleCapacity) - most) / most)
		})

	_ = ofPart(Decl{Name: "tires.diameter", Engineer: true, Round: asStated, Formula: "overall diameter of the tire maker"},
		func(t *product.Tire) source.Given[quantity.Length] { return t.Diameter })

	tireAge = ofPart(Decl{Name: "tires.age_limit", Aside: true, Formula: "years from manufacture after which the maker wants a tire replaced, whatever its tread", Source: Source{Stated, "tire maker's figure, as the product line gives it; common practice without a source is 6 years"}},
		func(t *product.Tire) source.Given[int] { return t.AgeLimit })

	_ = ofPart(Decl{Name: "tires.tread_limit", Round: treadRounding, Formula: "tread depth at which a tire is replaced", Source: Source{Stated, "tire maker's figure, as the product line gives it; 49 CFR 393.75(c) asks for 2/32 in"}},
		func(t *product.Tire) source.Given[quantity.Length] { return t.LeastTread })

	tireReplaceBy = declare(Decl{Name: "tires.replace_by", When: when("fitted-tires"), Formula: "first day of the week in the oldest date code of the fitted tires plus tires.age_limit",
		Source: Source{Published, "49 CFR 574.5(b)(3) for the date code; the age limit is the tire maker's"}},
		func(e *Eval) quantity.Date {
			var oldest quantity.Date
			for _, t := range e.Build.Sheet.Fitted.Tires {
				made, err := dateCode(Read(e, t.DOT))
				switch {
				case err != nil:
					e.Absent("the date code of tire %s cannot be read", t.Place.Value)
				case oldest.IsZero() || made.Before(oldest):
					oldest = made
				}
			}
			if oldest.IsZero() {
				e.Absent("no tire with a date code is given")
			}
			return oldest.AddMonths(12 * Get(e, tireAge))
		})

	speedLimit = declare(Decl{Name: "speed.limit", Round: wholeDown, Formula: "least of the tire's speed rating (65 mph where it bears no symbol) and the trailer maker's limit; the law may set less",
		Source: Source{Practice, "65 mph for a special-trailer tire without a speed symbol"}},
		func(e *Eval) quantity.Speed {
			least := quantity.MilesPerHour(unmarkedSpeed)
			if t := fitted[product.Tire](e); t.SpeedLimit.Set {
				least = Read(e, t.SpeedLimit)
			}
			if m := e.Build.Model; m.SpeedLimit.Set {
				least = min(least, Read(e, m.SpeedLimit))
			}
			return least
		})
)

// treadLeast is the least tread depth of a tire: 2/32 in. Source: 49 CFR 393.75(c).
const treadLeast quantity.Length = 2.0 / 32

var treadRounding = quantity.Rounding{Side: quantity.Up, Stated: true, Fraction: 32, Step: 0.01, MetricStep: 0.1}

func greatestGAWR(e *Eval) (most quantity.Mass) {
	for i := range axleCount(e) {
		most = max(most, Get(e, gawr[i]))
	}
	return most
}

// loadIndexes are the loads in kg of the load indexes from 80 on. Source: the series of
// ISO 4000-1 as printed in the trade; 151 to 160 are from memory.
var loadIndexes = [...]float64{
	450, 462, 475, 487, 500, 515, 530, 545, 560, 580,
	600, 615, 630, 650, 670, 690, 710, 730, 750, 775,
	800, 825, 850, 875, 900, 925, 950, 975, 1000, 1030,
	1060, 1090, 1120, 1150, 1180, 1215, 1250, 1285, 1320, 1360,
	1400, 1450, 1500, 1550, 1600, 1650, 1700, 1750, 1800, 1850,
	1900, 1950, 2000, 2060, 2120, 2180, 2240, 2300, 2360, 2430,
	2500, 2575, 2650, 2725, 2800, 2900, 3000, 3075, 3150, 3250,
	3350, 3450, 3550, 3650, 3750, 3875, 4000, 4125, 4250, 4375,
	4500,
}

const firstLoadIndex = 80

// loadIndex returns the load in kg for a load index from 80 to 160; ok is false for others.
// Source: ISO 4000-1.
func loadIndex(index int) (kg float64, ok bool) {
	i := index - firstLoadIndex
	if i < 0 || i >= len(loadIndexes) {
		return 0, false
	}
	return loadIndexes[i], true
}

// Greatest differences of a stated load from that of its index. Above it only the rounding to the
// nearest 10 lb that is usual on sidewalls, because axle ratings depend on it; below it half
// the step to the next index.
const (
	indexRounding = 5 * 0.45359237 // kg
	indexSlack    = 0.015
)

// dateCode returns the first day of the week in which a tire was made, from the
// last four digits of its identification number: week, then year from 2000 on,
// when codes of four digits began. The error says what was expected instead.
// Source: 49 CFR 574.5(b)(3): week 01 is the first full week, Sunday to Saturday.
func dateCode(text string) (quantity.Date, error) {
	code := strings.TrimSpace(text)
	if len(code) < 4 {
		return quantity.Date{}, fmt.Errorf("%q is no date code; expected week and year as four digits, such as 3426", text)
	}
	code = code[len(code)-4:]
	for _, r := range code {
		if r < '0' || r > '9' {
			return quantity.Date{}, fmt.Errorf("%q does not end in a date code; expected week and year as four digits, such as 3426", text)
		}
	}
	digit := func(i int) int { return int(code[i] - '0') }
	week, year := 10*digit(0)+digit(1), 2000+10*digit(2)+digit(3)
	if week < 1 || week > 53 {
		return quantity.Date{}, fmt.Errorf("week %02d in date code %s does not exist; expected 01 to 53", week, code)
	}
	day := quantity.Date{Year: year, Month: time.January, Day: 1}
	toSunday := (7 - int(day.Time().Weekday())) % 7
	day = day.AddDays(toSunday + 7*(week-1))
	if day.Year != year {
		return quantity.Date{}, fmt.Errorf("week %02d in date code %s does not exist; %d has 52 full weeks", week, code, year)
	}
	return day, nil
}

// oldAtBuild is the greatest age of a tire when the unit was built, in months.
const oldAtBuild = 12

var (
	_ = limit(Limit{ID: "rating-tires",
		Protects: "tires loaded above their rating run hot and burst",
		Check: func(e *Eval) {
			for i := range axleCount(e) {
				e.require(of(e, tireAxleCapacity), AtLeast, of(e, gawr[i]),
					fmt.Sprintf("the tires of axle %d carry %%s; its gawr is %%s", i+1))
			}
		}})

	_ = limit(Limit{ID: "tire-index", NoMargin: true,
		Protects: "a load rating that does not fit its own index is a slip, and tires would be overloaded",
		Check: func(e *Eval) {
			t := fitted[product.Tire](e)
			check := func(index source.Given[int], load source.Given[quantity.Mass]) {
				if !index.Set || !load.Set {

					return
				}
				kg, ok := loadIndex(index.Value)
				if !ok {
					e.report(wrong(e, index, "load index %d is outside the table; expected 80 to 160", index.Value))

					return
				}
				if stated := quantity.In(load.Value, "kg"); stated < kg*(1-indexSlack) || stated > kg+indexRounding {
					f := wrong(e, load, "the tire's load is %s; load index %d stands for %s", load.Text, index.Value, fmt.Sprintf("%g kg", kg))
					e.report(f.WithRelated(index.At, "the index stands here"))
				}
			}
			check(t.IndexSingle, t.Single)
			check(t.IndexDual, t.Dual)
		}})

	_ = limit(Limit{ID: "tire-tread",
		Protects: "a tire worn below what the law allows slides on wet roads and bursts sooner",
		Check: func(e *Eval) {
			e.require(entry(e, fitted[product.Tire](e).LeastTread), AtLeast, e.fromRule(Source{Published, "49 CFR 393.75(c)"}, treadLeast, treadRounding),
				"tires are replaced at a tread of %s; the law asks for %s")
		}})

	_ = limit(Limit{ID: "tire-date-code", NoMargin: true, When: when("fitted-tires"),
		Protects: "an owner cannot know when to replace a tire whose date is wrong, and a recall misses it",
		Check: func(e *Eval) {
			// Malformed codes and codes after the guide's date are reported by the reader of the
			// sheet; whether a year has a week 53 depends on the calendar.
			for _, t := range e.Build.Sheet.Fitted.Tires {
				if _, err := dateCode(Read(e, t.DOT)); err != nil {
					e.report(wrong(e, t.DOT, "%s", err))
				}
			}
		}})

	_ = limit(Limit{ID: "tire-age", Severity: source.Warning, NoMargin: true, When: when("fitted-tires"),
		Protects: "a tire that was old when fitted fails before the owner expects it",
		Check: func(e *Eval) {
			built := Read(e, e.Build.Sheet.Built)
			for _, t := range e.Build.Sheet.Fitted.Tires {
				made, err := dateCode(t.DOT.Value)
				if err == nil && made.AddMonths(oldAtBuild).Before(built) {
					f := wrong(e, t.DOT, "the tire was made in the week of %s, more than a year before the unit was built on %s", made, built)
					e.report(f.WithRelated(e.Build.Sheet.Built.At, "the date of building stands here"))
				}
			}
		}})

	_ = limit(Limit{ID: "tire-too-old", When: when("fitted-tires"),
		Protects: "a tire past its maker's age limit can burst at any load",
		Check: func(e *Eval) {
			if _, ok := Try(e, tireReplaceBy); ok {
				e.require(entry(e, e.Build.Sheet.Issued), Below, of(e, tireReplaceBy), "the guide is issued on %s; the oldest tire was to be replaced by %s")
			}
		}})

	_ = limit(Limit{ID: "dual-fitment", NoMargin: true, When: when("dual-wheels"),
		Protects: "of a dual pair each tire carries less, and a wheel not made for it cracks",
		Check: func(e *Eval) {
			t := fitted[product.Tire](e)
			if !t.Dual.Set {
				e.report(wrong(e, t.Single, "the tire has no dual rating; expected one on a unit with dual wheels"))
			}
		}})

	_ = limit(Limit{ID: "dual-width", When: when("dual-wheels"),
		Protects: "tires that stand wider than the stated width strike posts and people",
		Check: func(e *Eval) {
			track, pair := axle(e, 0).Track, fitted[product.Wheel](e).Width
			if !track.Set || !pair.Set {
				return
			}
			over := e.calculated("track and width of the pairs", track.Value+pair.Value, wholeUp, entry(e, track), entry(e, pair))
			e.require(of(e, widthOverall), AtLeast, over, "the overall width is %s; the dual wheels alone stand %s wide")
			tire := fitted[product.Tire](e).Width
			e.require(entry(e, pair), AtLeast, e.calculated("two tires side by side", 2*Read(e, tire), tenthUp, entry(e, tire)), "the dual pair is %s wide; its two tires take %s")
		}})
)
