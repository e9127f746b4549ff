package proof

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"ownerguide/spec"
	"ownerguide/spec/derive"
	"ownerguide/spec/logic"
)

// learned is what is found out about values that exist for some sums of a cube and not for others, whose
// existence the formulas leave open. A witness that rests on such a value is calculated; if it proves to
// be none, what it shows is kept for all orders for which it is shown, and another one is looked for.
type learned struct {
	open     map[string]bool // the values, as facts
	formulas []logic.Formula // what is known
}

// mostLearned limits the formulas for each model: a few seconds' work. What is left open then counts as
// missing, so that the proof fails.
const mostLearned = 40

// genuine returns the smallest build that satisfies a formula, and none that rests on a value it does not have, or lacks one
// that it has; sure is false if which builds have the value was not found out in full.
func (v *view) genuine(f logic.Formula) (w *Witness, sure bool) {
	var open []string
	if v.cover != nil {
		open = slices.DeleteFunc(f.Facts(), func(fact string) bool { return !v.cover.learned.open[fact] })
	}
	for {
		w := v.witness(f)
		if w == nil || len(open) == 0 || v.cover.confirms(w.Options, open, f) {
			return w, true
		}
		if !v.cover.learn(w.Options, open) {
			return w, false
		}
	}
}

// confirms reports whether an order with the open values that it has satisfies a formula.
func (c *cover) confirms(order, open []string, f logic.Formula) bool {
	hold := append(exactly(c.problem.Options, order), f)
	w := c.calculated(order)
	if w == nil {
		return true
	}
	for _, fact := range open {
		name := nameOf(fact)
		if is := w.assessed[0].Values.Has(name); is != w.assessed[1].Values.Has(name) {
			continue // the sheet decides
		} else if is {
			hold = append(hold, logic.Fact(fact))
		} else {
			hold = append(hold, logic.Not(logic.Fact(fact)))
		}
	}
	return c.view.solver.Possible(hold...)
}

// calculated calculates an order without recording anything; nil if it cannot be built.
func (c *cover) calculated(order []string) *calculatedOrder {
	w := &calculatedOrder{options: order, set: c.watch.Options(order)}
	for full, s := range c.sheets {
		b := c.build(s, order)
		if b == nil {
			return nil
		}
		w.assessed[full] = derive.Assess(b.Watched(c.watch))
	}
	for _, o := range order {
		w.sums[0] += c.adds[o][0]
		w.sums[1] += c.adds[o][1]
	}
	return w
}

// learn finds the orders around one for which the open values exist as in that one. It reports false if it has learned
// enough, or the sheet decides.
func (c *cover) learn(order, open []string) (any bool) {
	w := c.calculated(order)
	for _, fact := range open {
		name := nameOf(fact)
		is := w.assessed[0].Values.Has(name)
		if len(c.learned.formulas) >= mostLearned || w.assessed[1].Values.Has(name) != is {
			continue
		}
		f := logic.Fact(fact)
		if !is {
			f = logic.Not(f)
		}
		c.learned.formulas = append(c.learned.formulas, logic.Any(c.outside(c.around(*w, name)), f))
		any = true
	}
	return any
}

// around returns orders for which a value exists as in one of them: those that agree with that one on the options that
// the value depends on, and on as many of those that only weigh as it takes, the ones that weigh most first.
func (c *cover) around(w calculatedOrder, name string) cube {
	claim := derive.ClaimOf(name)
	g := newGroup()
	g.add(0, claim)
	g.add(1, claim)
	every := c.watch.Options(c.problem.Options)
	on := w.assessed[0].DependsOn(claim).Union(w.assessed[1].DependsOn(claim)).Intersect(every)
	heaviest := slices.SortedFunc(maps.Keys(c.adds), func(a, b string) int {
		return cmp.Or(cmp.Compare(math.Abs(c.adds[b][1]), math.Abs(c.adds[a][1])), cmp.Compare(a, b))
	})
	most := len(heaviest) // so many are enough
	for least := 0; least < most; {
		n := (least + most) / 2
		fixed := on.Union(c.watch.Options(heaviest[:n]))
		c.widened, c.undetermined, g.ways = on, map[string]bool{}, nil
		for _, sums := range c.reach(w, fixed) {
			for full := range c.sheets {
				c.reweigh(w, full, sums, g)
			}
		}
		switch wider := c.widened.Intersect(every); {
		case !wider.SubsetOf(fixed):
			on, least = wider, 0
		case c.undetermined[name]:
			least = n + 1
		default:
			most = n
		}
	}
	on = on.Union(c.watch.Options(heaviest[:most]))
	return cube{on, on.Intersect(w.set)}
}

// reach returns the corners of a polygon that holds the sums of all orders that agree with one on some options, whatever the
// rules say: each other option adds its weight or does not.
func (c *cover) reach(w calculatedOrder, fixed spec.OptionSet) [][2]float64 {
	at := [2]float64{}
	var sides [][2]float64 // pointing up
	for i, o := range c.model.Options {
		switch add := c.adds[o.Key]; {
		case fixed.Has(i) && !w.set.Has(i) || add == [2]float64{}:
		case fixed.Has(i):
			at[0], at[1] = at[0]+add[0], at[1]+add[1]
		case add[1] < 0 || add[1] == 0 && add[0] < 0:
			at[0], at[1] = at[0]+add[0], at[1]+add[1]
			sides = append(sides, [2]float64{-add[0], -add[1]})
		default:
			sides = append(sides, add)
		}
	}
	if len(sides) == 0 {
		return [][2]float64{at}
	}
	slices.SortFunc(sides, func(a, b [2]float64) int { return cmp.Compare(math.Atan2(a[1], a[0]), math.Atan2(b[1], b[0])) })
	var corners [][2]float64
	for _, sign := range []float64{1, -1} {
		for _, s := range sides {
			corners = append(corners, at)
			at[0], at[1] = at[0]+sign*s[0], at[1]+sign*s[1]
		}
	}
	return circumscribe(corners, outlineSides)
}

// widest returns the option that changes the sums most among those on which vertices differ; "" if they differ on none.
func (c *cover) widest(corners []logic.Extreme) (widest string) {
	for _, o := range slices.Sorted(maps.Keys(c.adds)) {
		with := 0
		for _, corner := range corners {
			if slices.Contains(corner.Chosen, o) {
				with++
			}
		}
		if with > 0 && with < len(corners) && (widest == "" || math.Abs(c.adds[o][1]) > math.Abs(c.adds[widest][1])) {
			widest = o
		}
	}
	return widest
}

// outside returns the formula that an order is not in a cube.
func (c *cover) outside(q cube) logic.Formula {
	var in []logic.Formula
	for i, o := range c.model.Options {
		if q.on.Has(i) {
			f := logic.Fact(o.Key)
			if !q.has.Has(i) {
				f = logic.Not(f)
			}
			in = append(in, f)
		}
	}
	return logic.Not(logic.All(in...))
}

// nameOf returns the value of such a fact.
func nameOf(fact string) string { return fact[len(valueFact("")):] }

// valueFact is the fact that a value exists whose existence options and declaration do not decide.
func valueFact(name string) string { return "value " + name }

// common keeps of the ways in which a value exists those in which it does at all sums so far, and reports whether any is left.
func (g *group) common(full int, name string, own, other *derive.Assessment) bool {
	key := name + []string{"", " with all that a sheet can say"}[full]
	if g.ways == nil {
		g.ways = map[string][]bool{}
	}
	intersectWays(g.ways, key, own.WaysOf(name))
	intersectWays(g.ways, key, other.WaysOf(name))
	return g.ways[key] == nil || slices.Contains(g.ways[key], true)
}
