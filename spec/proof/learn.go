package proof

import (
	"maps"
	"slices"

	"ownerguide/spec/derive"
	"ownerguide/spec/logic"
)

// learned is what is found out about values that exist for some sums of a cube and not for others, whose
// existence the formulas leave open. A witness that rests on such a value is calculated; if it proves to
// be none, what it shows is kept for all orders for which it is shown, and another one is looked for.
type learned struct {
	open     map[string]bool   // the values
	cells    map[string][]cube // by value: orders for which its existence is known, or depends on the sheet
	formulas []logic.Formula   // what is known
	reweighs int               // limit on the orders and sums that are calculated for it
}

// mostLearned limits them for each model: some seconds' work.
const mostLearned = 20_000

// genuine returns the smallest build that satisfies a formula, and none that rests on a value it does not have, or lacks one
// that it has.
func (v *view) genuine(f logic.Formula) *Witness {
	for {
		w := v.witness(f)
		if w == nil || v.cover == nil || !slices.ContainsFunc(f.Facts(), func(fact string) bool { return v.cover.learned.open[fact] }) || !v.cover.learn(w.Options) {
			return w
		}
	}
}

// learn calculates which of the open values exist in an order, and for which other orders the same is shown. It
// reports whether that was not known yet.
func (c *cover) learn(order []string) (any bool) {
	set := c.watch.Options(order)
	c.dependencies = c.watch
	defer func() { c.dependencies = nil }()
	var w *calculatedOrder
	for _, fact := range slices.Sorted(maps.Keys(c.learned.open)) {
		name := fact[len(valueFact("")):]
		known := slices.ContainsFunc(c.learned.cells[name], func(q cube) bool { return set.Intersect(q.on) == q.has })
		if known || c.reweighs-c.settledAt > c.learned.reweighs {
			continue
		}
		if w == nil {
			if w = c.calculated(order); w == nil {
				return false
			}
		}
		any = c.learnValue(name, *w) || any
	}
	return any
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

// learnValue finds the orders around one for which a value exists as in that one: those that agree with it on
// the options that the value depends on, and on as many of those that only weigh as it takes.
func (c *cover) learnValue(name string, w calculatedOrder) bool {
	claim, is := derive.ClaimOf(name), exists(w.assessed[0].Values, name)
	every := c.watch.Options(c.problem.Options)
	if exists(w.assessed[1].Values, name) != is || !c.declared(name).When.Holds(w.assessed[0].Build().Has) {
		c.learned.cells[name] = append(c.learned.cells[name], cube{every, w.set}) // the sheet decides, or the declaration
		return false
	}
	g := newGroup()
	g.add(0, claim)
	g.add(1, claim)
	on := w.assessed[0].DependsOn(claim).Union(w.assessed[1].DependsOn(claim))
	for {
		fixed := map[string]bool{}
		for i, o := range c.model.Options {
			if on.Has(i) {
				fixed[o.Key] = w.set.Has(i)
			}
		}
		corners, whole := c.problem.Extremes(c.adds, fixed, logic.ExtremesStepsEach(len(c.line.Models)))
		if !whole {
			on = every
			break
		}
		c.widened, c.undetermined, g.ways = on, map[string]bool{}, nil
		for _, corner := range corners {
			for full := range c.sheets {
				c.reweigh(w, full, corner.Sums, g)
			}
			if c.undetermined[name] {
				break
			}
		}
		branchOn := c.widest(corners)
		switch {
		case c.widened != on:
			on = c.widened
			continue
		case c.undetermined[name] && branchOn != "":
			on = on.Union(c.watch.Options([]string{branchOn}))
			continue
		}
		break
	}
	q := cube{on.Intersect(every), on.Intersect(w.set)}
	f := logic.Fact(valueFact(name))
	if !is {
		f = logic.Not(f)
	}
	c.learned.cells[name] = append(c.learned.cells[name], q)
	c.learned.formulas = append(c.learned.formulas, logic.Any(c.outside(q), f))
	return true
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
		if with > 0 && with < len(corners) && (widest == "" || abs(c.adds[o][1]) > abs(c.adds[widest][1])) {
			widest = o
		}
	}
	return widest
}

func abs(x float64) float64 { return max(x, -x) }

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
