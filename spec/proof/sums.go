package proof

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"ownerguide/spec"
	"ownerguide/spec/derive"
	"ownerguide/spec/logic"
	"ownerguide/spec/source"
)

// group is claims that depend on the weights of options and otherwise on the same options, for one cube. They are
// settled together for all sums of the orders of the cube.
type group struct {
	claims  [2][]string // for each sheet
	names   [2]map[string]bool
	mains   [2]map[string]bool
	assumed map[string]map[string]bool // by drawing
	ways    map[string][]bool          // by value and sheet: ways in which it exists at all sums so far
	draws   bool
}

func newGroup() *group {
	return &group{names: [2]map[string]bool{{}, {}}, mains: [2]map[string]bool{{}, {}}, assumed: map[string]map[string]bool{}}
}

func (g *group) add(full int, name string) {
	g.claims[full] = append(g.claims[full], name)
	main, _ := derive.MainClaim(name)
	g.names[full][name], g.mains[full][main] = true, true
	g.draws = g.draws || strings.HasPrefix(name, DrawingClaim)
}

// wanted returns a function that reports which claims must be calculated for the group; nil for all.
func (g *group) wanted(full int) func(claim string) bool {
	for name := range g.names[full] {
		if strings.HasPrefix(name, partReadClaim) {
			return nil
		}
	}
	return func(claim string) bool { return g.mains[full][claim] }
}

// assume adds values that a drawing assumes to exist.
func (g *group) assume(drawing string, values map[string]bool) {
	if g.assumed[drawing] == nil {
		g.assumed[drawing] = map[string]bool{}
	}
	maps.Copy(g.assumed[drawing], values)
}

// findings returns the findings of the group's claims.
func (g *group) findings(full int, findings source.Findings) (own source.Findings) {
	for _, x := range findings {
		if g.names[full][derive.LimitClaim+x.Code] || slices.ContainsFunc(g.claims[full], func(claim string) bool { return strings.HasPrefix(claim, partReadClaim) }) && x.Code == derive.PartIgnored {
			own.Add(x)
		}
	}
	return own
}

// weigh settles claims for all orders that agree with one on some options. If a claim depends on more options for other
// sums, it is settled for fewer orders.
func (c *cover) weigh(w calculatedOrder, on spec.OptionSet, g *group) bool {
	for {
		fixed := map[string]bool{}
		for i, o := range c.model.Options {
			if on.Has(i) {
				fixed[o.Key] = w.set.Has(i)
			}
		}
		c.widened = on
		if !c.settleCell(w, fixed, g) {
			return false
		}
		if c.widened == on {
			break
		}
		on = c.widened
	}
	for full, claims := range g.claims {
		for _, name := range claims {
			c.addCube(claimName{full, name}, cube{on, on.Intersect(w.set)}, g.assumed[name])
		}
	}
	return true
}

// reweigh assesses an order with other sums, and returns the findings of a group's claims. If a value exists for only one of the two sums,
// or in no way that it does for all so far, its existence between them is undetermined, and same is false unless its declaration has Ways.
func (c *cover) reweigh(w calculatedOrder, full int, sums [2]float64, g *group) (a *derive.Assessment, findings source.Findings, same bool) {
	c.reweighs += 1 - full
	own := w.assessed[full]
	a = own.Reweigh(withWeight(own.Build(), sums[0]-w.sums[0], sums[1]-w.sums[1]), g.wanted(full))
	findings = g.findings(full, a.Findings)
	if full == 0 && c.inspect != nil && g.draws {
		findings = append(findings, c.inspect(a.Build(), a.Values, func(drawing string) bool { return g.names[full][DrawingClaim+drawing] })...)
	}
	for _, name := range g.claims[full] {
		c.widened = c.widened.Union(a.DependsOn(name))
		if assumed := a.Build().Assumed(name); assumed != nil {
			g.assume(name, assumed)
		}
	}
	same = true
	for _, pair := range [][2]*derive.Values{{own.Values, a.Values}, {a.Values, own.Values}} {
		for _, v := range pair[0].All() {
			if !g.names[full][derive.ClaimOf(v.Name)] || pair[1].Has(v.Name) && g.common(full, v.Name, own, a) {
				continue
			}
			c.undetermined[v.Name] = true
			same = same && c.declared(v.Name).Ways != nil
		}
	}
	return a, findings, same
}

// hasNew reports whether no order is known yet for one of the findings.
func (f *figuring) hasNew(findings source.Findings) bool {
	return slices.ContainsFunc(findings, func(x source.Finding) bool {
		_, met := f.index[findingKey{x.Code, f.placed(x)}]
		return !met && x.Severity != source.Note
	})
}

// verdicts returns the verdicts on the limits of the group that some sums may violate.
func (g *group) verdicts(full int, a *derive.Assessment) (own []derive.Verdict) {
	for _, v := range a.Verdicts {
		if g.names[full][derive.LimitClaim+v.Code.ID] && (v.Sums || slices.Contains(v.Ways, false)) {
			own = append(own, v)
		}
	}
	return own
}

// settleCell settles the claims of a group for the orders that agree with fixed.
func (c *cover) settleCell(w calculatedOrder, fixed map[string]bool, g *group) bool {
	steps := logic.ExtremesStepsEach(len(c.line.Models))
	corners, whole := c.problem.Extremes(c.adds, fixed, steps)
	if !whole {
		c.unchecked("the extremes of what the options of %s weigh were not found in %d steps: its rules tie too many options together", c.model.ID, steps)
		return false
	}
	if len(c.orders)+len(corners) > c.limit {
		c.unchecked("what the options of %s weigh was not settled with the figures of %d orders, of more than there are at the extremes", c.model.ID, c.limit)
		return false
	}
	if len(corners) == 0 || len(corners) == 1 && corners[0].Sums == w.sums {
		return true
	}
	// The heaviest order demands most of ratings and its drawings show the most; the lightest has the greatest demands of the load.
	byWeight := func(a, b logic.Extreme) int { return cmp.Compare(a.Sums[0], b.Sums[0]) }
	light, _, _ := c.reweigh(w, 0, slices.MinFunc(corners, byWeight).Sums, g)
	keepSmallest(c.reserves, g.reserves(light))
	heavy, found, same := c.reweigh(w, 0, slices.MaxFunc(corners, byWeight).Sums, g)
	keepSmallest(c.reserves, g.reserves(heavy))
	if len(corners) > outlineSides && same && !c.hasNew(found) && c.keptWithinHull(w, corners, g) { // most cells, at a tenth of the cost
		return true
	}
	g.ways = nil
	kept := map[string][]bool{} // by limit and sheet: ways that hold at all vertices
	failed := map[string]bool{}
	for _, corner := range corners {
		for full := range c.sheets {
			j, found, same := c.reweigh(w, full, corner.Sums, g)
			if c.hasNew(found) || !same {
				c.evaluate(corner.Chosen)
			}
			if full == 0 {
				keepSmallest(c.reserves, g.reserves(j))
			}
			for _, v := range g.verdicts(full, j) {
				key := v.Code.ID + []string{"", " with all that a sheet can say"}[full]
				if v.Ways == nil && len(corners) > 1 {
					c.unchecked("%s rests on what options weigh together, in a way that has not been shown to be settled at the extremes: %s was not checked", v.Code.ID, c.model.ID)
					return false
				}
				failed[key] = failed[key] || !slices.Contains(v.Ways, true)
				intersectWays(kept, key, v.Ways)
			}
		}
	}
	for key, ways := range kept {
		if !failed[key] && !slices.Contains(ways, true) {
			return c.branch(w, fixed, corners, g)
		}
	}
	return true
}

// reserves returns the reserves of the ratings that the limits of a group compare.
func (g *group) reserves(a *derive.Assessment) map[source.Pos]derive.Reserve {
	return a.Values.Reserves(func(limit string) bool { return g.names[0][derive.LimitClaim+limit] })
}

// intersectWays removes the ways that do not hold in ways.
func intersectWays(kept map[string][]bool, key string, ways []bool) {
	before, met := kept[key]
	if !met || len(before) != len(ways) {
		kept[key] = slices.Clone(ways)
		return
	}
	for w := range before {
		before[w] = before[w] && ways[w]
	}
}

// keptWithinHull reports whether all limits of a group are kept at the vertices of a polygon around those of a cell, with
// everything else as for its orders: then they are kept for all sums inside. It also reports false
// if an order of the cell may be the first that needs a good part of a rating. A false result proves nothing, because no
// order has the sums of the polygon's vertices. A limit that an order of the model is known to violate, at the same
// position, is ignored.
func (c *cover) keptWithinHull(w calculatedOrder, corners []logic.Extreme, g *group) bool {
	var sums [][2]float64
	for _, corner := range corners {
		sums = append(sums, corner.Sums)
	}
	around, outside := circumscribe(sums, outlineSides), map[source.Pos]derive.Reserve{}
	defer func(before map[string]bool) { // a value may be missing at sums no order has
		maps.DeleteFunc(c.undetermined, func(name string, _ bool) bool { return !before[name] && c.declared(name).Ways == nil })
	}(maps.Clone(c.undetermined))
	for full := range c.sheets {
		if len(g.claims[full]) == 0 {
			continue
		}
		kept := map[string][]bool{}
		for _, corner := range around {
			j, findings, same := c.reweigh(w, full, corner, g)
			if !same || c.hasNew(findings) {
				return false
			}
			if full == 0 {
				keepSmallest(outside, g.reserves(j))
			}
			for _, v := range g.verdicts(full, j) {
				if !v.Sums || slices.ContainsFunc(findings, func(x source.Finding) bool { return x.Code == v.Code.ID }) {
					continue
				}
				if before, met := kept[v.Code.ID]; !slices.Contains(v.Ways, true) || met && len(before) != len(v.Ways) {
					return false
				}
				intersectWays(kept, v.Code.ID, v.Ways)
			}
		}
		for _, ways := range kept {
			if !slices.Contains(ways, true) {
				return false
			}
		}
	}
	for at, r := range outside {
		if of, met := c.reserves[at]; isRating(at, r) && r.Factor < r.Max*c.scale && !(met && of.Factor < of.Max*c.scale) {
			return false // whether an order asks for much of the rating is seen at the vertices only
		}
	}
	return true
}

// branch settles orders with an option and those without it: the option that changes the sums most among those on which
// the vertices differ.
func (c *cover) branch(w calculatedOrder, fixed map[string]bool, corners []logic.Extreme, g *group) bool {
	branchOn := c.widest(corners)
	if branchOn == "" { // all vertices are one order, and a limit is kept in some way for a single order
		return true
	}
	for _, is := range []bool{false, true} {
		half := maps.Clone(fixed)
		half[branchOn] = is
		if !c.settleCell(w, half, g) {
			return false
		}
	}
	return true
}

// minimize removes options from the witnesses as long as they show the same failure.
func (f *figuring) minimize() {
	places := slices.SortedFunc(maps.Keys(f.index), func(a, b findingKey) int { return cmp.Compare(f.index[a], f.index[b]) })
	for i, p := range places {
		if i == mostMinimized {
			return
		}
		order := f.out[f.index[p]].witness.Options
		for at := len(order) - 1; at >= 0; at-- {
			fewer := slices.Delete(slices.Clone(order), at, at+1)
			if f.problem.Violations(fewer) == nil {
				if found, is := f.reproduces(p, fewer); is {
					order, f.out[f.index[p]] = fewer, f.figure(found, fewer)
				}
			}
		}
	}
}

// mostMinimized is the maximum number of failures whose witness is minimized: each takes the calculation of as many
// orders as it has options.
const mostMinimized = 30

// reproduces reports whether an order shows the finding p, and returns it.
func (f *figuring) reproduces(p findingKey, order []string) (found source.Finding, is bool) {
	for _, s := range f.sheets {
		if b := f.build(s, order); b != nil {
			vs, findings := derive.Evaluate(b)
			if f.inspect != nil {
				findings.Add(f.inspect(b, vs, nil)...)
			}
			for _, found := range findings {
				if found.Pos = f.placed(found); p == (findingKey{found.Code, found.Pos}) {
					return found, true
				}
			}
		}
	}
	return source.Finding{}, false
}
