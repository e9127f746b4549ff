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
// that depends on some options, see [spec.Watch]. It is the same for all orders that agree on those options;
// these orders are a cube. Orders are calculated until the cubes of each claim cover all orders.
type cover struct {
	*figuring
	limit        int
	solver       *logic.Solver
	claims       map[claimName]*cubes
	order        []claimName // in order of first occurrence
	cubes        []cube
	numbers      map[cube]int    // index of each cube
	blocking     []logic.Formula // by index of a cube: its blocking clause, true if an order is not in it
	covered      map[string]bool // lists of cubes that cover all orders
	adds         map[string][2]float64
	widened      spec.OptionSet  // options that the claims being reweighed depend on
	undetermined map[string]bool // values that exist for some sums of a cube and not for others
	reweighs     int             // number of reweighed orders
	existence    map[string]*existence
	found        [2]map[string]bool         // names of the claims found, by sheet
	mustSettle   map[string]bool            // existence claims of values that must be settled
	readers      map[string]map[string]bool // by kind of part: claims that read a part of the kind
	unread       map[string]bool            // kinds of fitted parts that no claim had read
	unreadStale  bool                       // a claim has read a kind in unread since
	watch        *spec.Dependencies         // to watch builds with, kept for learning
	learned      learned
}

// claimName is a claim for the bare sheet or the full one.
type claimName struct {
	full int
	name string
}

// cube is the orders in which, of the options in on, exactly those in has are ordered.
type cube struct{ on, has spec.OptionSet }

// cubes are the cubes of one claim.
type cubes struct {
	numbers []int                   // sorted
	assumed map[int]map[string]bool // by cube: values that the result assumes to exist
}

// existence is the cubes in which a value exists, and those in which it does not.
type existence struct{ present, absent map[int]bool }

// calculatedOrder is an order that was calculated.
type calculatedOrder struct {
	options  []string
	set      spec.OptionSet
	assessed [2]*derive.Assessment
	sums     [2]float64 // over all its options
}

// coverSteps is the step limit of the solver for finding orders that are in no cube yet: seconds.
const coverSteps = 400_000_000

func newCover(f *figuring, limit int) *cover {
	c := &cover{figuring: f, limit: limit, solver: logic.NewSolver(coverSteps, f.problem.Formulas()...), claims: map[claimName]*cubes{}, numbers: map[cube]int{},
		covered: map[string]bool{}, adds: map[string][2]float64{}, existence: map[string]*existence{}, found: [2]map[string]bool{{}, {}}, readers: map[string]map[string]bool{}, unread: map[string]bool{}, mustSettle: map[string]bool{},
		learned: learned{open: map[string]bool{}}}
	for _, name := range f.names {
		c.settleExistence(name)
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
	c.watch = c.dependencies
	order, any := c.solver.Smallest(c.problem.Options)
	for ; any || c.refine(); order, any = c.next() {
		if !any {
			continue
		}
		if len(c.orders) >= c.limit {
			c.unchecked("%s was not settled with the figures of %d orders: too many of its options bear on one another", c.model.ID, c.limit)
			break
		}
		if !c.calculate(order) {
			break
		}
	}
	if c.solver.Spent() {
		c.unchecked("which orders of %s are left to check was not found in %d steps: its rules tie too many options together", c.model.ID, coverSteps)
	}
	c.existenceFormulas()
	if len(c.learned.open) > 0 {
		c.view.cover = c
	}
	c.dependencies = nil
	c.minimize()
}

// next returns an order for which some claim is not settled; any is false if there is none. One order is
// searched for many claims at once.
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
			own = append(own, c.blocking[n])
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
		n = len(c.blocking)
		c.numbers[q] = n
		c.cubes = append(c.cubes, q)
		c.blocking = append(c.blocking, c.outside(q))
	}
	return n
}

// addCube records that a claim is settled for a cube.
func (c *cover) addCube(name claimName, q cube, assumed map[string]bool) {
	of := c.claims[name]
	if of == nil {
		of = &cubes{assumed: map[int]map[string]bool{}}
		c.claims[name] = of
		c.order = append(c.order, name)
	}
	n := c.number(q)
	if at, met := slices.BinarySearch(of.numbers, n); !met {
		of.numbers = slices.Insert(of.numbers, at, n)
	}
	of.assumed[n] = assumed
	for value := range assumed {
		c.settleExistence(value)
	}
}

// settleExistence adds the existence of a value to the claims that must be settled.
func (c *cover) settleExistence(value string) {
	claim := derive.ClaimOf(value)
	if !slices.Contains(c.names, value) {
		c.names = append(c.names, value)
	}
	c.mustSettle[claim], c.found[0][claim], c.found[1][claim] = true, true, true
	for full := range c.sheets {
		if name := (claimName{full, claim}); c.claims[name] == nil {
			c.claims[name] = &cubes{assumed: map[int]map[string]bool{}}
			c.order = append(c.order, name)
		}
	}
}

// refine drops the cubes with an order for which an assumed value does not exist, and the cubes of part claims that were made
// before it was known which claims read the kind. It reports whether there were any.
func (c *cover) refine() (any bool) {
	if c.unreadStale {
		for _, name := range c.order {
			if strings.HasPrefix(name.name, partReadClaim) {
				c.claims[name].numbers = nil
			}
		}
		any, c.unreadStale = true, false
		clear(c.unread)
	}
	lacks := map[string]logic.Formula{}
	for _, name := range c.order {
		of := c.claims[name]
		for _, n := range slices.Clone(of.numbers) {
			for _, value := range slices.Sorted(maps.Keys(of.assumed[n])) {
				missing, met := lacks[value]
				if !met {
					missing = logic.Not(c.condition(c.declared(value).When, ""))
					if e := c.existence[value]; e != nil {
						missing = logic.Any(missing, c.inAnyOf(e.absent))
					}
					lacks[value] = missing
				}
				if c.solver.Possible(logic.Not(c.blocking[n]), missing) {
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

// inAnyOf returns the formula that an order is in one of the cubes.
func (c *cover) inAnyOf(cubes map[int]bool) logic.Formula {
	var list []logic.Formula
	for _, n := range slices.Sorted(maps.Keys(cubes)) {
		list = append(list, logic.Not(c.blocking[n]))
	}
	return logic.Any(list...)
}

// cubeOf returns the index of the cube of a claim that contains an order; -1 if there is none.
func (c *cover) cubeOf(name claimName, set spec.OptionSet) int {
	if of := c.claims[name]; of != nil {
		for _, n := range of.numbers {
			if q := c.cubes[n]; set.Intersect(q.on) == q.has {
				return n
			}
		}
	}
	return -1
}

// unsettled returns the main claims that are not settled for an order; nil stands for all. It is nil if no claim is
// known yet, or if a part claim is not settled, because that takes all claims.
func (c *cover) unsettled(full int, set spec.OptionSet) map[string]bool {
	open := map[string]bool{}
	for name := range c.found[full] {
		if c.cubeOf(claimName{full, name}, set) >= 0 {
			continue
		}
		if strings.HasPrefix(name, partReadClaim) {
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

// calculate calculates an order, and settles its claims for their cubes.
func (c *cover) calculate(order []string) bool {
	set := c.dependencies.Options(order)
	open := [2]map[string]bool{c.unsettled(0, set), c.unsettled(1, set)}
	var wanted [2]func(string) bool
	for full, claims := range open {
		if claims != nil {
			wanted[full] = func(claim string) bool { return claims[claim] }
		}
	}
	c.evaluateClaims(order, wanted)
	if c.assessed[0] == nil || c.assessed[1] == nil {
		c.unchecked("an order of %s cannot be built: %s", c.model.ID, strings.Join(order, ", "))
		return false
	}
	w := calculatedOrder{options: order, set: set, assessed: c.assessed}
	for _, o := range order {
		w.sums[0] += c.adds[o][0]
		w.sums[1] += c.adds[o][1]
	}
	c.undetermined = map[string]bool{}
	groups := map[cube]*group{}
	for full, j := range w.assessed {
		claims := j.Claims()
		c.addPartClaims(j, claims, open[full] == nil)
		for claim := range claims {
			if derive.MustSettle(claim, c.mustSettle) {
				c.found[full][claim] = true
			}
		}
		for _, name := range slices.Sorted(maps.Keys(c.found[full])) {
			main, _ := derive.MainClaim(name)
			if open[full] != nil && !open[full][main] || c.cubeOf(claimName{full, name}, w.set) >= 0 {
				continue
			}
			on, own := claims[name]
			if !own { // it was not made
				on = j.DependsOn(name)
			}
			q := cube{on, on.Intersect(w.set)}
			if !on.Weights() {
				c.addCube(claimName{full, name}, q, j.Build().Assumed(name))
				continue
			}
			if groups[q] == nil {
				groups[q] = newGroup()
			}
			groups[q].add(full, name)
			if assumed := j.Build().Assumed(name); assumed != nil {
				groups[q].assume(name, assumed)
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
	for full, j := range w.assessed {
		for _, name := range c.names {
			main, _ := derive.MainClaim(derive.ClaimOf(name))
			if (open[full] == nil || open[full][main]) && c.declared(name).When.Holds(j.Build().Has) {
				is := j.Values.Has(name)
				c.recordExistence(full, name, w.set, is)
				if c.undetermined[name] {
					c.learned.open[valueFact(name)] = true
					c.recordExistence(full, name, w.set, !is)
				}
			}
		}
	}
	return true
}

// recordExistence records whether a value exists in the cube that contains an order.
func (c *cover) recordExistence(full int, name string, set spec.OptionSet, is bool) {
	claim := derive.ClaimOf(name)
	if !c.found[full][claim] {
		claim, _ = derive.MainClaim(claim)
	}
	e := c.existence[name]
	if e == nil {
		e = &existence{map[int]bool{}, map[int]bool{}}
		c.existence[name] = e
	}
	n := c.cubeOf(claimName{full, claim}, set)
	if n < 0 {
		return // requested after this order was calculated
	}
	if is {
		e.present[n] = true
	} else {
		e.absent[n] = true
	}
}

// existenceFormulas expresses the existence of each value as a formula. If a value exists in one cube and not in another that shares orders
// with it, such as for the two sheets, the formula leaves its existence open for those orders.
func (c *cover) existenceFormulas() {
	for name, e := range c.existence {
		switch {
		case len(e.absent) == 0:
			c.exists[name] = logic.All()
		case len(e.present) == 0:
			c.exists[name] = logic.Any()
		default:
			c.exists[name] = logic.All(c.inAnyOf(e.present), logic.Any(logic.Not(c.inAnyOf(e.absent)), logic.Fact(valueFact(name))))
		}
	}
}

// addPartClaims records which claims read parts. If all claims were calculated, it adds a claim for each place: that the part
// there is read, or no part of its kind.
func (c *cover) addPartClaims(a *derive.Assessment, claims map[string]spec.OptionSet, all bool) {
	readers, kinds := a.Readers(), map[string]string{}
	for _, p := range a.Build().Parts() {
		kinds[p.Place] = p.Kind
		for _, claim := range readers[p.Place] {
			if c.readers[p.Kind] == nil {
				c.readers[p.Kind] = map[string]bool{}
			}
			if !c.readers[p.Kind][claim] {
				c.readers[p.Kind][claim], c.unreadStale = true, c.unreadStale || c.unread[p.Kind]
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
		for _, claim := range readers[place] {
			own, is := claims[claim]
			if is && !strings.HasPrefix(claim, derive.LimitClaim) && (best < 0 || own.Len() < best) {
				on, best = own, own.Len()
			}
		}
		if fitted && best < 0 {
			c.unread[kind] = true
			if len(c.readers[kind]) == 0 {
				on = spec.OptionSet{}
			}
			for claim := range c.readers[kind] {
				on = on.Union(claims[claim])
			}
		}
		claims[partReadClaim+place] = on
	}
}

// partReadClaim is the prefix of the claims of places.
const partReadClaim = "part looked at in "
