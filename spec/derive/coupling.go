package derive

import (
	"fmt"
	"strings"

	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// perBall prints ball sizes as stamped.
var perBall = quantity.Rounding{Stated: true, Fraction: 16, Step: 0.01, MetricStep: 0.1}

var (
	_ = declare(Decl{Name: "hitch.kind", Engineer: true, Formula: "gooseneck, kingpin, pintle ring or bumper-pull, by the coupler", Source: fromLine},
		func(e *Eval) Text {
			if e.Has("gooseneck") {
				return "gooseneck"
			}
			if e.Has("kingpin") {
				return "kingpin"
			}
			if e.Has("pintle") {
				return "pintle ring"
			}
			return "bumper-pull"
		})

	ballSize = ofPart(Decl{Name: "hitch.ball", When: when("ball-coupler"), Round: perBall, Formula: "ball the coupler is made for"}, func(c *product.Coupler) source.Given[quantity.Length] { return c.Ball })

	_ = ofPart(Decl{Name: "hitch.ball_height_low", When: when("ball-coupler"), Round: statedLeast, Formula: "least height of the ball's top, unit level"},
		func(c *product.Coupler) source.Given[quantity.Length] { return c.BallHeightLow })

	_ = ofPart(Decl{Name: "hitch.ball_height_high", When: when("ball-coupler"), Round: statedMost, Formula: "greatest height of the ball's top, unit level"},
		func(c *product.Coupler) source.Given[quantity.Length] { return c.BallHeightHigh })

	_ = textOfPart(Decl{Name: "coupler.latch", When: when("ball-coupler"), Formula: "kind of latch"}, func(c *product.Coupler) source.Given[string] { return c.Latch })

	_ = ofPart(Decl{Name: "coupler.bolt_torque", When: when("coupler-adjustable or kingpin"), Round: asStated, Formula: "torque of the bolts that hold the coupler, the coupler maker's figure"},
		func(c *product.Coupler) source.Given[quantity.Torque] { return c.BoltTorque })

	_ = ofPart(Decl{Name: "coupler.set_screw_torque", When: when("gooseneck and coupler-adjustable"), Round: asStated, Formula: "torque of the set screws of the neck, the coupler maker's figure"},
		func(c *product.Coupler) source.Given[quantity.Torque] { return c.ScrewTorque })

	bedGap = declare(Decl{Name: "hitch.bed_gap", When: when("not bumper-pull"), Round: wholeUp, Formula: "6 in between the neck and the sides of the bed, for turns and dips",
		Source: Source{Practice, "towing guides ask for 6 in or more"}},
		func(*Eval) quantity.Length { return quantity.Inches(6) })

	shareLow = declare(Decl{Name: "hitch.tongue_range.low", Round: asStated, Formula: "least share of the loaded weight that belongs on the coupler", Source: tongueShare},
		func(e *Eval) quantity.Percent { return Read(e, e.Build.Model.ShareLow) })

	shareHigh = declare(Decl{Name: "hitch.tongue_range.high", Round: asStated, Formula: "greatest share of the loaded weight that belongs on the coupler", Source: tongueShare},
		func(e *Eval) quantity.Percent { return Read(e, e.Build.Model.ShareHigh) })

	_ = declare(Decl{Name: "hitch.tongue_range.full.low", Round: wholeUp, Formula: "hitch.tongue_range.low of ratings.gvwr", Source: arithmetic},
		func(e *Eval) quantity.Mass { return share(Get(e, shareLow), Get(e, gvwr)) })

	_ = declare(Decl{Name: "hitch.tongue_range.full.high", Round: wholeDown, Formula: "hitch.tongue_range.high of ratings.gvwr, and never above ratings.coupler_vertical", Source: arithmetic},
		func(e *Eval) quantity.Mass {
			return min(share(Get(e, shareHigh), Get(e, gvwr)), Get(e, verticalRating))
		})

	_ = declare(Decl{Name: "hitch.tongue_range.empty.low", Round: wholeUp, Formula: "hitch.tongue_range.low of weights.empty", Source: arithmetic},
		func(e *Eval) quantity.Mass { return share(Get(e, shareLow), Get(e, emptyWeight)) })

	_ = declare(Decl{Name: "hitch.tongue_range.empty.high", Round: wholeDown, Formula: "hitch.tongue_range.high of weights.empty", Source: arithmetic},
		func(e *Eval) quantity.Mass { return share(Get(e, shareHigh), Get(e, emptyWeight)) })

	hitchNeeded = declare(Decl{Name: "hitch.rating_needed", Round: wholeUp, Formula: "ratings.gvwr: what it couples to and what carries that must each be rated for it", Source: hitchRule},
		func(e *Eval) quantity.Mass { return Get(e, gvwr) })

	verticalNeeded = declare(Decl{Name: "hitch.vertical_needed", Round: wholeUp, Formula: "hitch.tongue_range.high of ratings.gvwr: vertical rating of what it couples to and of what carries that", Source: hitchRule},
		func(e *Eval) quantity.Mass { return share(Get(e, shareHigh), Get(e, gvwr)) })

	_ = declare(Decl{Name: "tow_vehicle.heavy_pin", When: when("not bumper-pull"), Round: wholeUp, Formula: "hitch.vertical_needed, where it is more than 4,000 lb: what rear axles of single wheels seldom carry beside people and fuel",
		Source: Source{Practice, "trucks of the one-ton class with dual rear wheels, or heavier, carry more"}},
		func(e *Eval) quantity.Mass {
			needed := Get(e, verticalNeeded)
			if needed <= heavyPin {
				e.Absent("a truck with single rear wheels may carry %s", e.text(needed, wholeUp))
			}
			return needed
		})

	_ = declare(Decl{Name: "tow_vehicle.brakes", Engineer: true, When: when("controlled-brakes"), Formula: "brakes the controller must drive: two on each braked axle", Source: arithmetic},
		countBrakes)
)

var (
	tongueShare = Source{Stated, "trailer maker's figure for this model; common practice without one source is 10 to 15 % (bumper pull) and 15 to 25 % (gooseneck, kingpin)"}
	hitchRule   = Source{Memory, "SAE J684 up to 10,000 lb, SAE J2638 for a gooseneck up to 30,000 lb, SAE J847 for rings and pintle hooks, SAE J700 for kingpins; above their reach the stamped ratings govern"}
)

// heavyPin is the coupler weight above which a gooseneck usually needs a truck with dual rear
// wheels. Common practice, no source.
const heavyPin quantity.Mass = 4000

// leastBall returns the least ball diameter for a gross trailer weight; zero above 5,000 lb,
// where any ball that suits the coupling is allowed.
// Source: SAE J684 classes 1 to 3, as carried in COMAR 11.13.08.10.
func leastBall(gross quantity.Mass) quantity.Length {
	switch {
	case gross <= 2000:
		return 1.875
	case gross <= 5000:
		return 2
	}
	return 0
}

// mostOnBall are the greatest gross ratings of couplers by the size of their ball.
// Source: SAE J684 classes, as carried in COMAR 11.13.08.10, for 1-7/8 in; the others are the
// greatest ratings of balls on the market: common practice, no source.
var mostOnBall = []struct {
	ball  quantity.Length
	gross quantity.Mass
}{{1.875, 3500}, {2, 10000}, {2.3125, 30000}, {3, 40000}}

// ballCarries returns the greatest gross rating of a coupler for a ball; zero for a ball
// smaller than all that are made.
func ballCarries(ball quantity.Length) (gross quantity.Mass) {
	for _, row := range mostOnBall {
		if row.ball <= ball+0.02 { // metric balls are close to sizes in inches
			gross = row.gross
		}
	}
	return gross
}

var (
	_             = ofPart(Decl{Name: "chains.count", When: chained, Formula: "chains fitted"}, func(c *product.Chain) source.Given[int] { return c.Count })
	_             = ofPart(Decl{Name: "chains.grade", When: chained, Formula: "grade marked on the links"}, func(c *product.Chain) source.Given[int] { return c.Grade })
	_             = textOfPart(Decl{Name: "chains.size", When: chained, Formula: "nominal size of the links"}, func(c *product.Chain) source.Given[string] { return c.Size })
	chainBreaking = ofPart(Decl{Name: "chains.breaking", When: chained, Round: statedMost, Formula: "least breaking force of one chain"}, func(c *product.Chain) source.Given[quantity.Mass] { return c.Breaking })

	_ = declare(Decl{Name: "chains.wll", When: chained, Round: statedMost, Formula: "working load limit of one chain, by grade and size", Source: chainTable},
		func(e *Eval) quantity.Mass {
			c := fitted[product.Chain](e)
			w, ok := chainLimit(Read(e, c.Grade), Read(e, c.Size))
			if !ok {
				e.Absent("49 CFR 393.108 has no grade %d chain of size %q", c.Grade.Value, c.Size.Value)
			}
			return w
		})

	chainHook = ofPart(Decl{Name: "chains.hook", When: chained, Round: statedMost, Formula: "least breaking force of the hook"}, func(c *product.Chain) source.Given[quantity.Mass] { return c.Hook })

	chainTab = ofPart(Decl{Name: "chains.tab", When: chained, Engineer: true, Round: statedMost, Formula: "least breaking force of the weld tab or eye on the trailer"},
		func(c *product.Chain) source.Given[quantity.Mass] { return c.Tab })
)

var chainTable = Source{Published, "49 CFR 393.108, table of working load limits of chain"}

// chainLimits are working load limits of unmarked chain in lb, by size and then by grade 30,
// 43, 70, 80, 100; 0 if the table has none. Grade 80 in 5/16 is lower than grade 70 in the
// table, too. Source: 49 CFR 393.108.
var chainLimits = map[string][5]quantity.Mass{
	"1/4":  {1300, 2600, 3150, 3500, 4300},
	"5/16": {1900, 3900, 4700, 4500, 5700},
	"3/8":  {2650, 5400, 6600, 7100, 8800},
	"7/16": {3700, 7200, 8750, 0, 0},
	"1/2":  {4500, 9200, 11300, 12000, 15000},
	"5/8":  {6900, 13000, 15800, 18100, 22600},
}

// chainInches maps the sizes in millimeters of the table to those in inches.
// Source: 49 CFR 393.108.
var chainInches = map[string]string{"7 mm": "1/4", "8 mm": "5/16", "10 mm": "3/8", "11 mm": "7/16", "13 mm": "1/2", "16 mm": "5/8"}

// chainGrades is the order of the grades in chainLimits.
var chainGrades = [5]int{30, 43, 70, 80, 100}

// chainLimit returns the working load limit of one chain in lb for a grade and
// a size such as "3/8 in" or "10 mm"; ok is false for one the table does not have.
// Source: 49 CFR 393.108.
func chainLimit(grade int, size string) (limit quantity.Mass, ok bool) {
	inches := strings.TrimSpace(strings.TrimSuffix(size, "in"))
	if marked, ok := chainInches[size]; ok {
		inches = marked
	}
	row := chainLimits[inches]
	for i, g := range chainGrades {
		if g == grade {
			return row[i], row[i] > 0
		}
	}
	return 0, false
}

// chainStrength returns the least breaking force of a chain with a working load limit: three
// times the limit for grade 43, four times for the others.
// Source: ASTM A413 and the chain makers' association, from memory.
func chainStrength(grade int, limit quantity.Mass) quantity.Mass {
	if grade == 43 {
		return 3 * limit
	}
	return 4 * limit
}

// chainAllows is the greatest ratio of the strength of a size in millimeters to that of the size
// in inches next to it in the table.
const chainAllows = 1.01

// chained is the condition of units with safety chains: all but some whose kingpin is held by
// the jaws of a fifth wheel, for which 49 CFR 393.70(d) does not require any.
var chained = when("not kingpin or safety-chains")

// chainsLeast is the least number of safety chains. 49 CFR 393.70(d) requires full trailers to
// have one or more safety devices; two, crossed under a bumper-pull tongue, are common
// practice and what states require.
const chainsLeast = 2

// jackOneLeg is the fraction of the coupler weight that one leg of a pair must be able to
// lift: on uneven ground the two never share evenly. Judgement.
const jackOneLeg = 0.6

var (
	_ = ofPart(Decl{Name: "jack.count", Formula: "legs fitted"}, func(j *product.Jack) source.Given[int] { return j.Count })
	_ = ofPart(Decl{Name: "jack.lift", Round: statedMost, Formula: "lift rating of one leg"}, func(j *product.Jack) source.Given[quantity.Mass] { return j.Lift })
	_ = ofPart(Decl{Name: "jack.stand", When: when("coupler-adjustable or kingpin"), Round: statedLeast, Formula: "lift rating of one leg, which a stand in its place has to reach"}, func(j *product.Jack) source.Given[quantity.Mass] { return j.Lift })

	jackStatic = declare(Decl{Name: "jack.static", Engineer: true, Round: wholeDown, Formula: "what the jack holds standing, by its maker, shared between legs as in jack.capacity", Source: jackSharing},
		func(e *Eval) quantity.Mass {
			j := fitted[product.Jack](e)
			return jackLift(jackLegs(e, j), Read(e, j.Static))
		})
	jackCapacity = declare(Decl{Name: "jack.capacity", Aside: true, Round: wholeDown, Formula: "lift rating of one leg; of a pair that one handle or motor moves the lesser of both together and of one leg divided by 0.6", Source: jackSharing},
		func(e *Eval) quantity.Mass {
			j := fitted[product.Jack](e)
			return jackLift(jackLegs(e, j), Read(e, j.Lift))
		})

	jackLoad = declare(Decl{Name: "jack.load", Round: wholeUp, Formula: "hitch.vertical_needed × axles.center ÷ (axles.center − place of the jack): what rests on the jack of the loaded trailer; at the coupling where the line gives the jack no place",
		Source: Source{Arithmetic, "balance of moments about the axles: behind the coupling a jack carries more than the coupling does"}},
		func(e *Eval) quantity.Mass {
			p, ok := first[product.Jack](e)
			if !ok {
				e.Absent("the unit has no jack")
			}
			if p.Fitting.At == nil {
				return Get(e, verticalNeeded)
			}
			place, center := Read(e, p.Fitting.At.X), Get(e, axleCenter)
			if p.Fitting.Size != nil {
				place += Read(e, p.Fitting.Size.Long) / 2
			}
			if place >= center {
				e.Absent("the jack stands behind the middle of the axles")
			}
			return loadAt(Get(e, verticalNeeded), center, place)
		})

	_ = declare(Decl{Name: "jack.margin", Round: wholeDown, Engineer: true, Formula: "jack.capacity above jack.load, as a share of it", Source: arithmetic},
		func(e *Eval) quantity.Percent {
			need := Get(e, jackLoad)
			return quantity.Percent(100 * (Get(e, jackCapacity) - need) / max(need, 1))
		})
)

var jackSharing = Source{Judgement, "on uneven ground one leg of a pair takes up to 60 % of the weight; one with a handle of its own can be turned until it takes all"}

// jackLegs returns the number of legs that share the weight independently.
func jackLegs(e *Eval, j *product.Jack) int {
	legs := Read(e, j.Count)
	if j.Apart.Value {
		return 1
	}
	return legs
}

// loadAt returns the load on a support instead of the coupling. Both positions are behind the
// coupling. Source: balance of moments about the axles.
func loadAt(coupler quantity.Mass, axles, support quantity.Length) quantity.Mass {
	return coupler * quantity.Mass(axles/(axles-support))
}

// jackLift returns the lift of a set of legs in lb, if one of several carries up to 60 % of the
// load (judgement).
func jackLift(legs int, one quantity.Mass) quantity.Mass {
	if legs <= 1 {
		return one
	}
	return min(quantity.Mass(legs)*one, one/jackOneLeg)
}

var (
	_ = limit(Limit{ID: "rating-coupler",
		Protects: "a coupler below the unit's gross rating can break and let go",
		Check:    atLeast(couplerRating, hitchNeeded, "the coupler is rated %s; the gvwr is %s")})

	_ = limit(Limit{ID: "rating-coupler-vertical",
		Protects: "a coupler or its frame breaks under more weight than it is rated to carry",
		Check:    atLeast(verticalRating, verticalNeeded, "the coupler is rated %s vertically; at the gvwr it may carry %s")})

	_ = limit(Limit{ID: "ball-size", When: when("bumper-pull and ball-coupler"),
		Protects: "a ball below the least size for the weight can break or let go",
		Check: func(e *Eval) {
			least := leastBall(Get(e, gvwr))
			if least == 0 {
				return
			}
			gross := of(e, gvwr)
			e.require(of(e, ballSize), AtLeast, e.calculated("least ball for the gvwr, SAE J684", least, perBall, gross),
				"the ball is %s; at a gvwr of "+e.said(gross)+" it must be at least %s")
		}})

	_ = limit(Limit{ID: "coupler-ball", When: when("ball-coupler"), MaxReserve: 10,
		Protects: "a coupler said to tow more than its ball can is another one, and the ball the owner buys breaks",
		Check: func(e *Eval) {
			ball := of(e, ballSize)
			most := e.calculated("greatest rating for a ball of that size", ballCarries(Get(e, ballSize)), wholeDown, ball)
			e.require(of(e, couplerRating), AtMost, most, "the coupler is rated %s; one for a ball of "+e.said(ball)+" is good for %s at most")
		}})

	_ = limit(Limit{ID: "ball-heights", When: when("ball-coupler"), MaxReserve: 10,
		Protects: "a range of heights that is upside down makes the owner tow nose up or nose down, and the trailer sways",
		Check: func(e *Eval) {
			c := fitted[product.Coupler](e)
			e.require(entry(e, c.BallHeightLow), AtMost, entry(e, c.BallHeightHigh), "the least height of the ball is %s, the greatest %s; expected a rising range")
		}})

	_ = limit(Limit{ID: "rating-chains", When: chained,
		Protects: "the chains are what is left when the coupler lets go; a weak one frees the unit into traffic",
		Check:    atLeast(chainBreaking, gvwr, "one chain breaks at %s; the gvwr is %s")})

	// One chain can neither keep a tongue off the road nor hold the unit in its lane.
	_ = limit(Limit{ID: "chains-count", When: chained,
		Protects: "one chain leaves the unit to swing into the other lane, and nothing is left when it parts",
		Check: func(e *Eval) {
			c := fitted[product.Chain](e)
			e.require(entry(e, c.Count), AtLeast,
				e.fromRule(Source{Practice, "and the law of most states"}, quantity.Count(chainsLeast), quantity.Rounding{}), "the unit has %s safety chain; expected %s")
		}})

	_ = limit(Limit{ID: "rating-chain-hook", When: chained,
		Protects: "a hook weaker than its chain opens first",
		Check:    atLeast(chainHook, gvwr, "the chain's hook breaks at %s; the gvwr is %s")})

	_ = limit(Limit{ID: "rating-chain-tab", When: chained, MaxReserve: 3,
		Protects: "a weld tab weaker than its chain tears off first",
		Check:    atLeast(chainTab, gvwr, "the chain's weld tab breaks at %s; the gvwr is %s")})

	_ = limit(Limit{ID: "chain-table", When: chained,
		Protects: "a chain said to be stronger than its grade and size can be is another chain, or a slip",
		Check: func(e *Eval) {
			c := fitted[product.Chain](e)
			grade, size := Read(e, c.Grade), Read(e, c.Size)
			w, ok := chainLimit(grade, size)
			if !ok {
				return // chain-unlisted reports it
			}
			strength := e.calculated("breaking force of the grade and size, 49 CFR 393.108, and 1 % for millimeters", chainAllows*chainStrength(grade, w), wholeDown, entry(e, c.Grade), entry(e, c.Size))
			e.require(entry(e, c.Breaking), AtMost, strength,
				fmt.Sprintf("the chain is said to break at %%s; grade %d in %s is good for %%s at most", grade, size))
		}})

	_ = limit(Limit{ID: "chain-unlisted", NoMargin: true, When: chained, Severity: source.Warning,
		Protects: "of a chain that no table has, nobody can tell whether it is as strong as it is said to be",
		Check: func(e *Eval) {
			c := fitted[product.Chain](e)
			if _, ok := chainLimit(Read(e, c.Grade), Read(e, c.Size)); !ok {
				e.report(wrong(e, c.Size, "49 CFR 393.108 has no grade %d chain of size %q", c.Grade.Value, c.Size.Value))
			}
		}})

	_ = limit(Limit{ID: "rating-chain-grade", When: chained,
		Protects: "a chain whose grade and size are too weak for the unit is no stronger for what its breaking force is said to be",
		Check: func(e *Eval) {
			c := fitted[product.Chain](e)
			grade, size := Read(e, c.Grade), Read(e, c.Size)
			w, ok := chainLimit(grade, size)
			if !ok {
				return // chain-unlisted reports it
			}
			strength := e.calculated("breaking force of the grade and size, 49 CFR 393.108", chainStrength(grade, w), wholeDown, entry(e, c.Size), entry(e, c.Grade))
			e.require(strength, AtLeast, of(e, gvwr), fmt.Sprintf("a chain of grade %d in %s is good for %%s; the gvwr is %%s", grade, size))
		}})

	// A jack holds what it lifts: if less is stated for holding, the two were interchanged.
	_ = limit(Limit{ID: "jack-static", MaxReserve: 4,
		Protects: "a jack that holds less than the standing unit puts on it folds while someone couples or loads",
		Check: func(e *Eval) {
			j := fitted[product.Jack](e)
			if !j.Static.Set {
				return // rating-jack compares the lift
			}
			e.require(of(e, jackStatic), AtLeast, of(e, jackLoad),
				"the jack holds %s standing; the loaded trailer may rest on it with %s")
			e.require(entry(e, j.Static), AtLeast, entry(e, j.Lift), "one leg of the jack is said to hold %s and to lift %s; what it lifts it holds")
		}})

	_ = limit(Limit{ID: "rating-jack", MaxReserve: 4,
		Protects: "a jack that folds drops the coupler on feet and hands",
		Check:    atLeast(jackCapacity, jackLoad, "the jack lifts %s; the loaded trailer may rest on it with %s")})
)
