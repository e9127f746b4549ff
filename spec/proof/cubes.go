package proof

import (
	"cmp"
	"maps"
	"slices"
	"strconv"
	"strings"

	"ownerguide/spec"
	"ownerguide/spec/derive"
	"ownerguide/spec/logic"
)

// cover settles figures, limits and drawings for all orders of a model. Each result for a build is a claim
// that depends on some options, see [spec.Watch]: it is the same for all orders that agree on those, which
// are a cube. Orders are calculated until the cubes of each claim cover all orders.
type cover struct {
	*figuring
	limit   int
	solver  *logic.Solver
	claims  map[claimName]*cubes
	order   []claimName // in order of first occurrence
	cubes   []cube
	numbers map[cube]int    // index of each cube
	shut    []logic.Formula // by index of a cube: the formula that an order is not in it
	covered map[string]bool // lists of cubes that cover all orders
	adds    map[string][2]float64
	more    spec.OptionSet  // options that the claims being weighed depend on
	open    map[string]bool // values that exist for some sums of a cube and not for others
	again   int             // number of sums calculated in addition to the orders
	exist   map[string]*existence
	named   [2]map[string]bool         // names of the claims found, by sheet
	asked   map[string]bool            // claims that decide whether a value exists that must be settled
	lookers map[string]map[string]bool // by kind of part: claims that read one
	leftOut map[string]bool            // kinds of parts found that no claim has read
	stale   bool                       // a claim has read one since
}

// claimName is a claim for the bare sheet or the full one.
type claimName struct {
	full int
	name string
}

// cube is all orders that agree on the options in on; those of them that are ordered are in has.
type cube struct{ on, has spec.OptionSet }

// cubes are the cubes of one claim.
type cubes struct {
	numbers []int                   // sorted
	relies  map[int]map[string]bool // by cube: values whose existence the result relies on
}

// existence is the cubes in which a value exists, and those in which it does not.
type existence struct{ there, lacks map[int]bool }

// worked is an order that was calculated.
type worked struct {
	options []string
	set     spec.OptionSet
	judged  [2]*derive.Assessment
	sums    [2]float64 // over all its options
}

// coverSteps is the step limit of the solver for finding orders that are in no cube yet: seconds.
const coverSteps = 400_000_000

func newCover(f *figuring, limit int) *cover {
	c := &cover{figuring: f, limit: limit, solver: logic.NewSolver(coverSteps, f.problem.Formulas()...), claims: map[claimName]*cubes{}, numbers: map[cube]int{},
		covered: map[string]bool{}, adds: map[string][2]float64{}, exist: map[string]*existence{}, named: [2]map[string]bool{{}, {}}, lookers: map[string]map[string]bool{}, leftOut: map[string]bool{}, asked: map[string]bool{}}
	for _, name := range f.names {
		c.ask(name)
	}
	for i := range f.model.Options {
		o := &f.model.Options[i]
		if w := o.Value.Weighs.Value.Base(); w != 0 {
			c.adds[o.Key] = [2]float64{w, w * o.Value.Center.Value.Base()}
		}
	}
	return c
}

// settle calculates orders until all claims are settled, and reports those that are not.
func (c *cover) settle() {
	if len(c.model.Options) > spec.MostWatched {
		c.unchecked("%s offers %d options; figures are checked of at most %d", c.model.ID, len(c.model.Options), spec.MostWatched)
		return
	}
	if c.sheets[0] == nil {
		return
	}
	c.dependencies = spec.NewDependencies(c.variants)
	order, any := c.solver.Smallest(c.problem.Options)
	for ; any || c.doubt(); order, any = c.next() {
		if !any {
			continue
		}
		if len(c.orders) >= c.limit {
			c.unchecked("%s was not settled with the figures of %d orders: too many of its options bear on one another", c.model.ID, c.limit)
			break
		}
		if !c.work(order) {
			break
		}
	}
	if c.solver.Spent() {
		c.unchecked("which orders of %s are left to check was not found in %d steps: its rules tie too many options together", c.model.ID, coverSteps)
	}
	c.learned()
	c.dependencies = nil
	c.minimize()
}

// next returns an order for which some claim is not settled, if there is one. It is chosen for as many
// claims as possible.
func (c *cover) next() (order []string, any bool) {
	var wanted []logic.Formula
	met := map[string]bool{}
	most := mostTogether
	for _, name := range c.order {
		key := c.claims[name].key()
		if c.covered[key] || met[key] {
			continue
		}
		met[key] = true
		own := wanted
		for _, n := range c.claims[name].numbers {
			own = append(own, c.shut[n])
		}
		switch {
		case c.solver.Possible(own...):
			wanted, any = own, true
		case !any:
			c.covered[key] = true
			continue
		}
		if most--; most == 0 {
			break
		}
	}
	if !any || c.solver.Spent() {
		return nil, false
	}
	return c.solver.Smallest(c.problem.Options, wanted...)
}

// mostTogether is the maximum number of claims for which one order is searched.
const mostTogether = 40

func (c *cubes) key() string {
	var b strings.Builder
	for _, n := range c.numbers {
		b.WriteString(strconv.Itoa(n))
		b.WriteByte(' ')
	}
	return b.String()
}

// number returns the index of a cube.
func (c *cover) number(q cube) int {
	n, met := c.numbers[q]
	if !met {
		n = len(c.shut)
		c.numbers[q] = n
		c.cubes = append(c.cubes, q)
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
		c.shut = append(c.shut, logic.Not(logic.All(in...)))
	}
	return n
}

// take records that a claim is settled for a cube.
func (c *cover) take(name claimName, q cube, relies map[string]bool) {
	of := c.claims[name]
	if of == nil {
		of = &cubes{relies: map[int]map[string]bool{}}
		c.claims[name] = of
		c.order = append(c.order, name)
	}
	n := c.number(q)
	if at, met := slices.BinarySearch(of.numbers, n); !met {
		of.numbers = slices.Insert(of.numbers, at, n)
	}
	of.relies[n] = relies
	for value := range relies {
		c.ask(value)
	}
}

// ask requires that the existence of a value is settled.
func (c *cover) ask(value string) {
	claim := derive.ClaimOf(value)
	if !slices.Contains(c.names, value) {
		c.names = append(c.names, value)
	}
	c.asked[claim], c.named[0][claim], c.named[1][claim] = true, true, true
	for full := range c.sheets {
		if name := (claimName{full, claim}); c.claims[name] == nil {
			c.claims[name] = &cubes{relies: map[int]map[string]bool{}}
			c.order = append(c.order, name)
		}
	}
}

// doubt drops results that rely on a value that does not exist for some order of their cube, and results about parts from before
// it was known which claims read them. It reports whether there were any.
func (c *cover) doubt() (any bool) {
	if c.stale {
		for _, name := range c.order {
			if strings.HasPrefix(name.name, ignoredClaim) {
				c.claims[name].numbers = nil
			}
		}
		any, c.stale = true, false
		clear(c.leftOut)
	}
	lacks := map[string]logic.Formula{}
	for _, name := range c.order {
		of := c.claims[name]
		for _, n := range slices.Clone(of.numbers) {
			for _, value := range slices.Sorted(maps.Keys(of.relies[n])) {
				missing, met := lacks[value]
				if !met {
					missing = logic.Not(c.condition(c.declared(value).When, ""))
					if e := c.exist[value]; e != nil {
						missing = logic.Any(missing, c.in(e.lacks))
					}
					lacks[value] = missing
				}
				if c.solver.Possible(logic.Not(c.shut[n]), missing) {
					c.dependencies.Doubt(value)
					of.numbers = slices.DeleteFunc(of.numbers, func(other int) bool { return other == n })
					any = true
					break
				}
			}
		}
	}
	return any
}

// in returns the formula that an order is in one of some cubes.
func (c *cover) in(cubes map[int]bool) logic.Formula {
	var list []logic.Formula
	for _, n := range slices.Sorted(maps.Keys(cubes)) {
		list = append(list, logic.Not(c.shut[n]))
	}
	return logic.Any(list...)
}

// holds returns the index of the cube of a claim that contains an order; -1 if there is none.
func (c *cover) holds(name claimName, set spec.OptionSet) int {
	if of := c.claims[name]; of != nil {
		for _, n := range of.numbers {
			if q := c.cubes[n]; set.Intersect(q.on) == q.has {
				return n
			}
		}
	}
	return -1
}

// unsettled returns the claims, without subclaims, that are not settled for an order; nil stands for all, if none is
// known yet or it must be found out which parts are read.
func (c *cover) unsettled(full int, set spec.OptionSet) map[string]bool {
	open := map[string]bool{}
	for name := range c.named[full] {
		if c.holds(claimName{full, name}, set) >= 0 {
			continue
		}
		if strings.HasPrefix(name, ignoredClaim) {
			return nil
		}
		main, _ := derive.MainClaim(name)
		open[main] = true
	}
	if len(c.orders) == 0 {
		return nil
	}
	return open
}

// work calculates an order, and settles its claims for their cubes.
func (c *cover) work(order []string) bool {
	set := c.dependencies.Options(order)
	open := [2]map[string]bool{c.unsettled(0, set), c.unsettled(1, set)}
	var wanted [2]func(string) bool
	for full, claims := range open {
		if claims != nil {
			wanted[full] = func(claim string) bool { return claims[claim] }
		}
	}
	c.look(order, wanted)
	if c.judged[0] == nil || c.judged[1] == nil {
		c.unchecked("an order of %s cannot be built: %s", c.model.ID, strings.Join(order, ", "))
		return false
	}
	w := worked{options: order, set: set, judged: c.judged}
	for _, o := range order {
		w.sums[0] += c.adds[o][0]
		w.sums[1] += c.adds[o][1]
	}
	c.open = map[string]bool{}
	groups := map[cube]*group{}
	for full, j := range w.judged {
		claims := j.Claims()
		c.ignored(j, claims, open[full] == nil)
		for claim := range claims {
			if derive.MustSettle(claim, c.asked) {
				c.named[full][claim] = true
			}
		}
		for _, name := range slices.Sorted(maps.Keys(c.named[full])) {
			main, _ := derive.MainClaim(name)
			if open[full] != nil && !open[full][main] || c.holds(claimName{full, name}, w.set) >= 0 {
				continue
			}
			on, own := claims[name]
			if !own { // it was not made
				on = j.DependsOn(name)
			}
			q := cube{on, on.Intersect(w.set)}
			if !on.Weights() {
				c.take(claimName{full, name}, q, j.Build().Assumed(name))
				continue
			}
			if groups[q] == nil {
				groups[q] = newGroup()
			}
			groups[q].add(full, name)
			if relies := j.Build().Assumed(name); relies != nil {
				groups[q].rely(name, relies)
			}
		}
	}
	byPlace := func(a, b cube) int {
		return cmp.Or(slices.Compare(a.on[:], b.on[:]), slices.Compare(a.has[:], b.has[:]))
	}
	for _, q := range slices.SortedFunc(maps.Keys(groups), byPlace) {
		if !c.weigh(w, q.on, groups[q]) {
			return false
		}
	}
	for full, j := range w.judged {
		for _, name := range c.names {
			main, _ := derive.MainClaim(derive.ClaimOf(name))
			if (open[full] == nil || open[full][main]) && c.declared(name).When.Holds(j.Build().Has) {
				is := exists(j.Values, name)
				c.learnt(full, name, w.set, is)
				if c.open[name] {
					c.learnt(full, name, w.set, !is)
				}
			}
		}
	}
	return true
}

// learnt records whether a value exists in the cube that contains an order.
func (c *cover) learnt(full int, name string, set spec.OptionSet, is bool) {
	claim := derive.ClaimOf(name)
	if !c.named[full][claim] {
		claim, _ = derive.MainClaim(claim)
	}
	e := c.exist[name]
	if e == nil {
		e = &existence{map[int]bool{}, map[int]bool{}}
		c.exist[name] = e
	}
	n := c.holds(claimName{full, claim}, set)
	if n < 0 {
		return // requested after this order was calculated
	}
	if is {
		e.there[n] = true
	} else {
		e.lacks[n] = true
	}
}

// learned turns the existence of values into formulas. If a value exists in one cube and not in another that shares orders with it,
// such as for the two sheets, its existence is left open for these.
func (c *cover) learned() {
	for name, e := range c.exist {
		switch {
		case len(e.lacks) == 0:
			c.exists[name] = logic.All()
		case len(e.there) == 0:
			c.exists[name] = logic.Any()
		default:
			c.exists[name] = logic.All(c.in(e.there), logic.Any(logic.Not(c.in(e.lacks)), logic.Fact("value "+name)))
		}
	}
}

// ignored adds a claim for each place, if everything was calculated: that the part there is read, or no part of its kind.
func (c *cover) ignored(j *derive.Assessment, claims map[string]spec.OptionSet, all bool) {
	lookers, kinds := j.Readers(), map[string]string{}
	for _, p := range j.Build().Parts() {
		kinds[p.Place] = p.Kind
		for _, claim := range lookers[p.Place] {
			if c.lookers[p.Kind] == nil {
				c.lookers[p.Kind] = map[string]bool{}
			}
			if !c.lookers[p.Kind][claim] {
				c.lookers[p.Kind][claim], c.stale = true, c.stale || c.leftOut[p.Kind]
			}
		}
	}
	if !all {
		return
	}
	for place := range c.dependencies.Places {
		on := c.dependencies.InPlace(place)
		kind, fitted := kinds[place]
		best := -1
		for _, claim := range lookers[place] {
			own, is := claims[claim]
			if is && !strings.HasPrefix(claim, derive.LimitClaim) && (best < 0 || own.Len() < best) {
				on, best = own, own.Len()
			}
		}
		if fitted && best < 0 {
			c.leftOut[kind] = true
			if len(c.lookers[kind]) == 0 {
				on = spec.OptionSet{}
			}
			for claim := range c.lookers[kind] {
				on = on.Union(claims[claim])
			}
		}
		claims[ignoredClaim+place] = on
	}
}

// ignoredClaim is the prefix of these claims, before the place.
const ignoredClaim = "part looked at in "
