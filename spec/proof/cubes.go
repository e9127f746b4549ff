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

// cover settles figures, limits and drawings for all orders of a model. Whatever is worked out of a build
// is a claim that hangs on some options, see [spec.Watch]: it fares alike on all orders that agree on those.
// Those orders are a cube. Orders are worked out until the cubes of each claim hold all that can be ordered.
type cover struct {
	*figuring
	limit   int
	solver  *logic.Solver
	claims  map[claimName]*cubes
	order   []claimName // as they were met
	cubes   []cube
	numbers map[cube]int    // of cubes
	shut    []logic.Formula // by number: that an order is in no such cube
	covered map[string]bool // lists of cubes that hold all orders
	adds    map[string][2]float64
	more    spec.OptionSet  // options that the claims being weighed hang on
	open    map[string]bool // values that are there with some sums of a cube and not with others
	again   int             // how many sums were looked at beside the orders
	exist   map[string]*existence
	named   [2]map[string]bool         // names of the claims met, by sheet
	asked   map[string]bool            // claims that tell whether there is a value that is asked for
	lookers map[string]map[string]bool // by kind of part: claims that looked at one
	leftOut map[string]bool            // kinds of which a part was met that none had
	stale   bool                       // more have since
}

// claimName names a claim, made with the bare sheet or the full one.
type claimName struct {
	full int
	name string
}

// cube is all orders that agree with one on some options.
type cube struct{ on, has spec.OptionSet }

// cubes are those of one claim.
type cubes struct {
	numbers []int                   // sorted
	relies  map[int]map[string]bool // by cube: values that have to be there for it to fare alike
}

// existence tells in which cubes there is a value.
type existence struct{ there, lacks map[int]bool }

// worked is an order that was worked out.
type worked struct {
	options []string
	set     spec.OptionSet
	judged  [2]*derive.Judged
	sums    [2]float64 // of all its options
}

// coverSteps is how many steps the solver gets to find orders that are in no cube yet: seconds.
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

// settle works out orders until all claims are settled; what is not, it names.
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

// next gives an order in which some claim has not been looked at, if there is any: one
// for as many claims as go together.
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

// mostTogether is for how many claims one order is looked for.
const mostTogether = 40

func (c *cubes) key() string {
	var b strings.Builder
	for _, n := range c.numbers {
		b.WriteString(strconv.Itoa(n))
		b.WriteByte(' ')
	}
	return b.String()
}

// number gives the number of a cube.
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

// take notes that a claim is settled in a cube.
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

// ask has it settled whether there is a value.
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

// doubt takes back what relies on a value that is not there in some order of its cube, and what was said of parts before
// it was known what looks at them. It tells whether there was any.
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

// in says that an order is in one of some cubes.
func (c *cover) in(cubes map[int]bool) logic.Formula {
	var list []logic.Formula
	for _, n := range slices.Sorted(maps.Keys(cubes)) {
		list = append(list, logic.Not(c.shut[n]))
	}
	return logic.Any(list...)
}

// holds gives the cube of a claim that an order is in; -1 without one.
func (c *cover) holds(name claimName, set spec.OptionSet) int {
	if of := c.claims[name]; of != nil {
		for _, n := range of.numbers {
			if q := c.cubes[n]; set.Both(q.on) == q.has {
				return n
			}
		}
	}
	return -1
}

// unsettled gives the claims, those within them left out, that are not settled for an order yet; nil for all, when none is
// known or it has to be seen which parts are looked at.
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

// work works out an order, and settles its claims in their cubes.
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
			if derive.IsAsked(claim, c.asked) {
				c.named[full][claim] = true
			}
		}
		for _, name := range slices.Sorted(maps.Keys(c.named[full])) {
			main, _ := derive.MainClaim(name)
			if open[full] != nil && !open[full][main] || c.holds(claimName{full, name}, w.set) >= 0 {
				continue
			}
			on, own := claims[name]
			if !own { // it was not come to
				on = j.HangsOn(name)
			}
			q := cube{on, on.Both(w.set)}
			if !on.Weights() {
				c.take(claimName{full, name}, q, j.Build().Relies(name))
				continue
			}
			if groups[q] == nil {
				groups[q] = newGroup()
			}
			groups[q].add(full, name)
			if relies := j.Build().Relies(name); relies != nil {
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

// learnt takes down whether there is a value in the cube that an order is in.
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
		return // asked for since this order was worked out
	}
	if is {
		e.there[n] = true
	} else {
		e.lacks[n] = true
	}
}

// learned says as formulas which values there are. Where it is so and not so in cubes that share orders, as with one
// sheet and the other, it is left open.
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

// ignored adds a claim for each place, if all was worked out: that the part there is looked at, or none of its kind.
func (c *cover) ignored(j *derive.Judged, claims map[string]spec.OptionSet, all bool) {
	lookers, kinds := j.Lookers(), map[string]string{}
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
			if is && !strings.HasPrefix(claim, derive.LimitClaim) && (best < 0 || own.Size() < best) {
				on, best = own, own.Size()
			}
		}
		if fitted && best < 0 {
			c.leftOut[kind] = true
			if len(c.lookers[kind]) == 0 {
				on = spec.OptionSet{}
			}
			for claim := range c.lookers[kind] {
				on = on.And(claims[claim])
			}
		}
		claims[ignoredClaim+place] = on
	}
}

// ignoredClaim stands before a place.
const ignoredClaim = "part looked at in "
