package derive

import (
	"math"
	"strconv"
	"strings"

	"ownerguide/spec/logic"
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// Figures of 49 CFR 393.106 to 393.130, in lb and ft.
const (
	aggregateShare = 0.5   // 393.106(d): sum of working load limits counted, relative to the cargo weight
	directCount    = 0.5   // 393.106(d)(1): a tie-down from trailer to cargo counts half
	heavyMachine   = 10000 // 393.130(a): this weight or more
	heavyTiedowns  = 4     // 393.130(c)
	heavyEach      = 5000  // drivers' handbook on cargo securement, chapter 10; the rule itself names no figure
	lightVehicle   = 2     // 393.128(b), front and rear, from memory
	shortArticle   = 5     // 393.110(b)
	lightArticle   = 1100
	longArticle    = 10
	recheckFirst   = 50   // 392.9(b)(2), miles
	recheckEvery   = 150  // 392.9(b)(3), miles
	recheckHours   = 3    // 392.9(b)(3)
	strapLimit     = 2000 // 393.108, synthetic webbing 2 in wide, unmarked
)

// carries is the rule by which the tie-downs are counted.
type carries int

const (
	general carries = iota
	vehicles
	machines
)

// tiedownsByLength returns the least number of tie-downs for an article of a length in ft and a
// weight in lb by length alone; blocked means that something in front of it prevents forward
// movement. Source: 49 CFR 393.110(b), (c).
func tiedownsByLength(ft, lb float64, blocked bool) int {
	switch {
	case blocked:
		return max(1, int(math.Ceil(ft/longArticle-same)))
	case ft <= shortArticle && lb <= lightArticle:
		return 1
	case ft <= longArticle:
		return 2
	}
	return 2 + int(math.Ceil((ft-longArticle)/longArticle-same))
}

// tiedownsByRule returns the least number of tie-downs required for a piece of a weight in lb
// and a length in ft. Source: 49 CFR
// 393.128 vehicles up to 10,000 lb, 393.130 wheeled or tracked machines from
// 10,000 lb, 393.110 for everything else.
func tiedownsByRule(kind carries, lb, ft float64) int {
	switch {
	case kind != general && lb >= heavyMachine && !(kind == vehicles && lb == heavyMachine):
		return heavyTiedowns
	case kind == vehicles:
		return lightVehicle
	}
	return tiedownsByLength(ft, lb, false)
}

// tiedownsByStrength returns the number of tie-downs, each counting for some lb, whose sum is
// half the weight of a piece. Source: 49 CFR 393.106(d).
func tiedownsByStrength(lb, counted float64) int {
	return max(1, int(math.Ceil(lb*aggregateShare/counted-same)))
}

// evenly returns the next even number: machines and vehicles are secured in pairs, left and
// right. Common practice.
func evenly(n int) int { return n + n%2 }

// cargoKind returns what is tied down on the unit, from its features. In a dump box that is a
// machine; bulk is not tied down.
func cargoKind(e *Eval) carries {
	switch {
	case e.Has("equipment-hauler") || e.Has("bulk-hauler"):
		return machines
	case e.Has("vehicle-hauler"):
		return vehicles
	}
	return general
}

const (
	hasAnchors = "d-rings or e-track or stake-pockets or rub-rails"
	strapsFit  = "(" + hasAnchors + ") and not equipment-hauler and not bulk-hauler" // webbing is cut by tracks and edges: never for machines
)

// anchorKinds are the kinds of anchor in order of preference.
var anchorKinds = []struct{ kind, name, feature string }{
	{"d-ring", "d_ring", "d-rings"}, {"e-track", "e_track", "e-track"}, {"stake-pocket", "stake_pocket", "stake-pockets"}, {"rub-rail", "rub_rail", "rub-rails"},
}

// anchors returns the number and the least working load limit of the anchors of a kind.
func anchors(e *Eval, kind string) (n int, least quantity.Mass) {
	for _, a := range all[product.Anchor](e) {
		if a.Data.Kind.Value != kind {
			continue
		}
		w := Read(e, a.Data.Limit)
		if n == 0 || w < least {
			least = w
		}
		n += Read(e, a.Data.Count)
	}
	return n, least
}

func init() {
	for _, k := range anchorKinds {
		neverHooked := k.kind == "rub-rail" // a strap runs inside it; the guide has no figure that suggests a hook
		declare(Decl{Name: "anchors." + k.name + ".count", When: when(k.feature), Engineer: neverHooked, Formula: "anchors of this kind", Source: fromLine},
			func(e *Eval) int {
				n, _ := anchors(e, k.kind)
				if n == 0 {
					e.Absent("no %s has a rating in the line", k.kind)
				}
				return n
			})
		declare(Decl{Name: "anchors." + k.name + ".limit", When: when(k.feature), Engineer: neverHooked, Round: statedMost, Formula: "working load limit of one", Source: fromPart},
			func(e *Eval) quantity.Mass {
				n, least := anchors(e, k.kind)
				if n == 0 {
					e.Absent("no %s has a rating in the line", k.kind)
				}
				return least
			})
	}
}

// hooked returns the anchors used for a load: the first kind fitted.
func hooked(e *Eval) (n int, least quantity.Mass) {
	for _, k := range anchorKinds {
		if n, least = anchors(e, k.kind); n > 0 {
			return n, least
		}
	}
	e.Absent("no anchor has a rating in the line")
	return 0, 1
}

var recheckRule = Source{Published, "49 CFR 392.9(b), as quoted on public pages about the rule"}

var countRule = Source{Published, "49 CFR 393.106(d)"}

var (
	anchorLimit = declare(Decl{Name: "tiedown.anchor_limit", Engineer: true, When: when(hasAnchors), Round: statedMost, Formula: "working load limit of one anchor of the kind a load is hooked to: D-rings, else E-track, else stake pockets, else the rub rail", Source: fromPart},
		func(e *Eval) quantity.Mass { _, least := hooked(e); return least })

	anchorCounted = declare(Decl{Name: "tiedown.anchor_counted", When: when(hasAnchors), Round: wholeDown, Engineer: true, Formula: "half of tiedown.anchor_limit: the most a tie-down straight to the cargo can count for", Source: countRule},
		func(e *Eval) quantity.Mass { return directCount * Get(e, anchorLimit) })

	lengthStep = fixed("tiedown.length_step", quantity.Rounding{Side: quantity.Down, Stated: true, US: "ft", Metric: "m", MetricStep: 0.01}, "length for each of which, or part of it, a piece needs a tie-down, and one more on top",
		Source{Published, "49 CFR 393.110(b)"}, quantity.Inches(12*longArticle))

	// When to check a load again on the road.
	_ = fixed("tiedown.recheck_first", statedMost, "distance from the start within which the load is looked at again", recheckRule, quantity.Miles(recheckFirst))
	_ = fixed("tiedown.recheck_every", statedMost, "distance after which the load is looked at again, unless tiedown.recheck_time comes first", recheckRule, quantity.Miles(recheckEvery))
	_ = fixed("tiedown.recheck_time", quantity.Rounding{Stated: true, US: "h", Metric: "h"}, "driving time after which the load is looked at again, unless tiedown.recheck_every comes first", recheckRule, quantity.Minutes(60*recheckHours))

	chainWLL = declareChain("tiedown.chain_wll", "the lightest", 0)
	heavyWLL = declareChain("tiedown.heavy_chain_wll", "the next heavier one", 1)

	chainCounted = declareCounted("tiedown.chain_counted", "tiedown.chain_wll", chainWLL)
	heavyCounted = declareCounted("tiedown.heavy_chain_counted", "tiedown.heavy_chain_wll", heavyWLL)

	strapWLL = declare(Decl{Name: "tiedown.strap_wll", When: when(strapsFit), Round: statedLeast, Formula: "working load limit of 2 in webbing that bears no mark", Source: Source{Published, "49 CFR 393.108, table of synthetic webbing"}},
		func(*Eval) quantity.Mass { return strapLimit })

	strapCounted = declare(Decl{Name: "tiedown.strap_counted", When: when(strapsFit), Round: wholeDown, Engineer: true,
		Formula: "least of tiedown.strap_wll and tiedown.anchor_limit: in full when it runs over the load to the other side, by half when it runs to a vehicle", Source: countRule},
		func(e *Eval) quantity.Mass {
			w := min(Get(e, strapWLL), Get(e, anchorLimit))
			if cargoKind(e) == vehicles {
				w *= directCount
			}
			return w
		})

	_ = declare(Decl{Name: "tiedown.attachment_rings", When: when("d-rings"), Aside: true, Formula: "D-rings left for attachments when four hold the corners of a machine; no figure where none is left", Source: arithmetic},
		func(e *Eval) int {
			n, _ := anchors(e, "d-ring")
			if n <= 4 {
				e.Absent("four corners take every D-ring")
			}
			return n - 4
		})
	heavyPiece = declare(Decl{Name: "tiedown.machine.weight", When: when("d-rings"), Round: asStated, Formula: "weight from which a machine counts as heavy; no figure where weights.cargo_capacity is less", Source: Source{Published, "49 CFR 393.130(a)"}},
		func(e *Eval) quantity.Mass {
			if bandCargo(e, len(tiedownLoads)-1) < heavyMachine {
				e.Absent("the unit carries no machine of %d lb", heavyMachine)
			}
			return heavyMachine
		})
	heavyEachKey = declare(Decl{Name: "tiedown.machine.each", When: when("d-rings"), Round: statedLeast, Formula: "least working load limit of each tie-down of a machine of tiedown.machine.weight or more",
		Source: Source{Published, "drivers' handbook on cargo securement, chapter 10, as quoted in a test for drivers; advice, since 49 CFR 393.130 has no such figure"}},
		func(e *Eval) quantity.Mass { Get(e, heavyPiece); return heavyEach })

	tiedowns = [4]tiedownKeys{declareTiedown(0), declareTiedown(1), declareTiedown(2), declareTiedown(3)}
)

// chainSizes are the grade 70 chains that owners buy as tie-downs, in increasing size.
var chainSizes = []string{"5/16 in", "3/8 in", "1/2 in"}

// declareChain declares a column of the table of chains: the size strong enough for the heaviest
// machine on the unit, or a number of sizes above it.
func declareChain(name, which string, above int) Key[quantity.Mass] {
	return declare(Decl{Name: name, When: when(hasAnchors), Round: statedMost, Source: chainTable,
		Formula: "working load limit of grade 70 chain: " + which + " of " + strings.Join(chainSizes, ", ") + " that is as strong as tiedown.machine.each"},
		func(e *Eval) quantity.Mass {
			least, _ := Try(e, heavyEachKey)
			skip := above
			for _, size := range chainSizes {
				w, ok := chainLimit(70, size)
				if !ok {
					e.Absent("the table has no grade 70 chain of %s", size)
				}
				if w < least {
					continue
				}
				if skip == 0 {
					return w
				}
				skip--
			}
			e.Absent("no usual chain is strong enough")
			return 0
		})
}

func declareCounted(name, of string, wll Key[quantity.Mass]) Key[quantity.Mass] {
	return declare(Decl{Name: name, When: when(hasAnchors), Round: wholeDown, Engineer: true, Formula: "half the least of " + of + " and tiedown.anchor_limit: a chain from the trailer to the cargo counts by half, and its assembly by its weakest part", Source: countRule},
		func(e *Eval) quantity.Mass { return directCount * min(Get(e, wll), Get(e, anchorLimit)) })
}

// tiedownKeys are the values for a piece of one weight.
type tiedownKeys struct {
	weight                    Key[quantity.Mass]
	rule, count, chain, heavy Key[int]
}

// declareCount declares the number of tie-downs of one kind for a piece: enough for the rule and
// for the strength, and in pairs at the corners unless they go over the piece.
func declareCount(k tiedownKeys, here logic.Condition, name, counted string, key Key[quantity.Mass], engineer, over bool) Key[int] {
	return declare(Decl{Name: name, When: here, Engineer: engineer, Formula: "at least the number by rule, and as many as make up half the weight at " + counted + " each; in pairs and at least four, one to a corner, for whatever is held straight from the trailer (common practice)", Source: countRule},
		func(e *Eval) int {
			each := float64(Get(e, key))
			if each <= 0 {
				e.Absent("an anchor is rated for nothing")
			}
			n := max(Get(e, k.rule), tiedownsByStrength(float64(Get(e, k.weight)), each))
			if cargoKind(e) == general && over {
				return n
			}
			return evenly(max(n, heavyTiedowns))
		})
}

// tiedownLoads are the pieces for which the guide has a row, as fractions of the cargo
// capacity.
var tiedownLoads = [4]string{"quarter", "half", "three_quarters", "full"}

func declareTiedown(i int) (k tiedownKeys) {
	name := "tiedown." + tiedownLoads[i] + "."
	here := when(hasAnchors)
	drawn := i == len(tiedownLoads)-1 // the drawing shows the full piece; the owner's table counts chains and straps
	k.weight = declare(Decl{Name: name + "weight", When: here, Round: wholeDown, Formula: "heaviest piece this row is for: " + bandLoads[i] + " % of weights.cargo_capacity", Source: arithmetic},
		func(e *Eval) quantity.Mass { return quantity.Mass(bandCargo(e, i)) })
	declare(Decl{Name: name + "wll_needed", When: here, Round: wholeUp, Formula: "half of " + name + "weight: counted working load limits together", Source: countRule},
		func(e *Eval) quantity.Mass { return aggregateShare * Get(e, k.weight) })
	k.rule = declare(Decl{Name: name + "rule_count", When: here, Engineer: true, Formula: "least number by the rule for what the unit carries, for a piece up to tiedown.length_step long that is not blocked in front",
		Source: Source{Published, "49 CFR 393.110, 393.130; 393.128 from memory"}},
		func(e *Eval) int {
			return tiedownsByRule(cargoKind(e), float64(Get(e, k.weight)), quantity.In(Get(e, lengthStep), "ft"))
		})
	k.count = declareCount(k, here, name+"count", "half of tiedown.anchor_limit", anchorCounted, !drawn, false)
	declare(Decl{Name: name + "each", When: here, Round: wholeUp, Engineer: !drawn, Formula: name + "weight over " + name + "count: least working load limit of each tie-down, weakest part, when that many run straight to the cargo; at least tiedown.machine.each for a machine that heavy", Source: countRule},
		func(e *Eval) quantity.Mass {
			each := aggregateShare / directCount * Get(e, k.weight) / quantity.Mass(max(1, Get(e, k.count)))
			if least, ok := Try(e, heavyEachKey); ok && Get(e, k.weight) >= heavyMachine {
				each = max(each, least)
			}
			return each
		})
	k.chain = declareCount(k, here, name+"chain_count", "tiedown.chain_counted", chainCounted, false, false)
	k.heavy = declareCount(k, here, name+"heavy_chain_count", "tiedown.heavy_chain_counted", heavyCounted, false, false)
	declareCount(k, when(strapsFit), name+"strap_count", "tiedown.strap_counted", strapCounted, false, true)
	return k
}

// A heavier piece never needs fewer anchors, so the cargo capacities for which the limit is kept
// are an interval from zero.
var _ = limit(Limit{ID: "tiedown-anchors", Convex: true, When: when(hasAnchors),
	Protects: "a full load cannot be held with too few anchors, and one that breaks loose kills",
	Check: func(e *Eval) {
		n, least := hooked(e)
		need := min(Get(e, tiedowns[3].chain), Get(e, tiedowns[3].heavy))
		if e.compare(figure{Input: Input{Path: "anchors fitted", Text: strconv.Itoa(n)}, exact: n}, AtLeast,
			figure{Input: Input{Path: "anchors for a full piece, whichever chain needs fewer", Text: strconv.Itoa(need)}, exact: need}) {
			return
		}
		f := e.conflict(of(e, anchorLimit), of(e, tiedowns[3].weight), "the anchors are rated %s each; a full piece of %s needs more of them than there are")
		e.report(f.WithHint("the unit has %d anchors of %s; %d are needed", n, e.text(least, asStated), need))
	}})

// Anchors are on both sides, opposite each other.
var _ = limit(Limit{ID: "anchors-uneven", Severity: source.Warning, NoMargin: true, When: when(hasAnchors),
	Protects: "a load that is tied on one side only where an anchor is missing slides to the other",
	Check: func(e *Eval) {
		for _, p := range all[product.Anchor](e) {
			if n := Read(e, p.Data.Count); n%2 != 0 {
				e.report(wrong(e, p.Data.Count, "%s has %d anchors; expected as many on one side as on the other", p.Fitting.Component, n))
			}
		}
	}})

var _ = limit(Limit{ID: "anchors-missing", NoMargin: true, When: when("not livestock and decked and not (" + hasAnchors + ")"),
	Protects: "a load on a deck without anchors is tied to whatever is near, and comes off",
	Check: func(e *Eval) {
		e.report(e.at(e.Build.Sheet.Model.At, "the deck has neither tie-down rings nor stake pockets").WithHint("describe its anchors, with their working load limits"))
	}})
