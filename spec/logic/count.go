package logic

import (
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"math/big"
	"slices"
)

// Valid choices are counted over constraints: lists of literals of which at least
// one, or at most one, is true. Enumerating the choices does not scale: thirty free
// options alone make a thousand million. But constraints split into components that
// share no option, the counts of components multiply, and the count of a component
// is cached.

// CountSteps is the step limit of counting: a second or two, and some tens of
// megabytes for the cache. A step is one literal visited. Sixty options under two
// hundred rules take a hundredth of it.
const CountSteps = 30_000_000

// CountStepsEach returns the step limit for each of so many models. It is never less
// than several times what a real model takes.
func CountStepsEach(models int) int { return max(1_000_000, CountSteps/max(1, models)) }

// Number is the number of valid choices.
type Number struct {
	Least *big.Int // exact if Whole, else a lower bound
	Whole bool     // all were counted
}

// String returns the number, or in words what is known of it.
func (n Number) String() string {
	switch {
	case n.Whole:
		return n.Least.String()
	case n.Least.Sign() == 0:
		return "too many steps to count"
	}
	return fmt.Sprintf("more than 10^%d", len(n.Least.String())-1)
}

// MarshalJSON returns the number, or null if not all choices were counted.
func (n Number) MarshalJSON() ([]byte, error) {
	if !n.Whole {
		return []byte("null"), nil
	}
	return n.Least.MarshalJSON()
}

// Count returns the number of valid choices of the model's options; the empty
// choice counts if it is valid. For dense rules without structure the work doubles
// with every few options, so it stops after so many steps.
func (p Problem) Count(steps int) Number {
	names := distinct(p.Options)
	c := newCounter(len(names), p.constraints(names), steps)
	options := c.mergeInterchangeable()
	n := new(big.Int)
	if c.propagateUnits() {
		n = c.count(options)
		c.times(n, 0)
	}
	return Number{n, c.steps > 0}
}

// constraint requires that at least one of its literals is true or, with most, at most one.
type constraint struct {
	most     bool
	literals []literal
}

// constraints translates the rules into constraints that the same choices satisfy.
func (p Problem) constraints(names []string) (all []constraint) {
	for _, r := range p.number(names) {
		var any []literal
		for _, object := range r.objects {
			any = append(any, positive(object))
		}
		slices.Sort(any)
		switch r.kind {
		case Requires:
			// An option that requires itself is satisfied.
			if r.subject >= 0 && !slices.Contains(r.objects, r.subject) {
				all = append(all, constraint{literals: append(any, negative(r.subject))})
			}
		case Excludes:
			for _, object := range r.objects {
				if r.subject >= 0 {
					all = append(all, constraint{literals: slices.Compact([]literal{negative(r.subject), negative(object)})})
				}
			}
		case ExactlyOne:
			all = append(all, constraint{literals: any}, constraint{most: true, literals: any})
		case AtMostOne:
			all = append(all, constraint{most: true, literals: any})
		default:
			all = append(all, constraint{}) // unsatisfiable, see RuleKind
		}
	}
	return all
}

// counter is the state of the search: it assigns options and backtracks. The constraints
// do not change; satisfied and open track the state of each.
type counter struct {
	constraints []constraint
	satisfied   []int   // by constraint: number of its true literals
	open        []int   // by constraint: number of its open literals
	occurrences [][]int // by literal: the constraints that contain it
	value       []int8  // by option: 1 chosen, -1 not, 0 open
	weight      []int64 // by option: how many options it represents, of which one is chosen (see mergeInterchangeable)
	trail       []literal
	propagated  int // number of trail literals that satisfied and open include
	cache       map[[sha256.Size]byte]*big.Int
	steps       int // steps left; a step is one literal visited

	// The last call of components in which an option or a constraint was visited.
	round          int
	option, clause []int
}

func newCounter(options int, constraints []constraint, steps int) *counter {
	c := &counter{constraints: constraints, satisfied: make([]int, len(constraints)), open: make([]int, len(constraints)),
		occurrences: make([][]int, 2*options), value: make([]int8, options), weight: make([]int64, options), cache: map[[sha256.Size]byte]*big.Int{}, steps: steps,
		option: make([]int, options), clause: make([]int, len(constraints))}
	for i, k := range constraints {
		c.open[i] = len(k.literals)
		for _, l := range k.literals {
			c.occurrences[l] = append(c.occurrences[l], i)
		}
	}
	return c
}

// mergeInterchangeable lets one option represent all options that occur in the same constraints,
// never negated, one of which allows at most one of them: most members of a long list
// of colors. It returns the remaining options.
func (c *counter) mergeInterchangeable() (options []int) {
	first := map[[sha256.Size]byte]int{}
	for o := range c.value {
		c.weight[o] = 1
		constraints := c.occurrences[positive(o)]
		key := digest(constraints)
		twin, met := first[key]
		if len(c.occurrences[negative(o)]) > 0 {
			options = append(options, o)
			continue
		}
		if !met || !slices.ContainsFunc(constraints, func(i int) bool { return c.constraints[i].most }) {
			first[key] = o
			options = append(options, o)
			continue
		}
		c.weight[twin]++
		c.value[o] = -1
		for _, i := range constraints {
			c.open[i]--
		}
	}
	return options
}

// propagateUnits assigns what the constraints force without any decision. It returns false if they
// are unsatisfiable.
func (c *counter) propagateUnits() bool {
	for i := range c.constraints {
		if !c.force(i) {
			return false
		}
	}
	return c.propagate()
}

func (c *counter) assign(l literal) {
	c.value[l.variable()] = 1
	if l.negated() {
		c.value[l.variable()] = -1
	}
	c.trail = append(c.trail, l)
}

// propagate propagates the literals assigned. It returns false if a constraint becomes unsatisfiable.
func (c *counter) propagate() (ok bool) {
	ok = true
	for ; ok && c.propagated < len(c.trail); c.propagated++ {
		l := c.trail[c.propagated]
		c.updateCounts(l, 1)
		for _, i := range c.occurrences[l] {
			ok = ok && (!c.constraints[i].most || c.force(i))
		}
		for _, i := range c.occurrences[l.not()] {
			ok = ok && (c.constraints[i].most || c.force(i))
		}
	}
	return ok
}

// updateCounts updates satisfied and open for a literal that was set (by 1) or undone (by -1).
func (c *counter) updateCounts(l literal, by int) {
	for _, i := range c.occurrences[l] {
		c.satisfied[i] += by
		c.open[i] -= by
	}
	for _, i := range c.occurrences[l.not()] {
		c.open[i] -= by
	}
	c.steps -= len(c.occurrences[l]) + len(c.occurrences[l.not()])
}

// force sets the literals that a constraint forces. It returns false if the constraint
// is unsatisfiable.
func (c *counter) force(i int) bool {
	k := c.constraints[i]
	switch {
	case k.most && c.satisfied[i] > 1, !k.most && c.satisfied[i]+c.open[i] == 0:
		return false
	case c.open[i] == 0, k.most && c.satisfied[i] == 0, !k.most && (c.satisfied[i] > 0 || c.open[i] > 1):
		return true
	}
	c.steps -= len(k.literals)
	for _, l := range k.literals {
		switch {
		case c.value[l.variable()] != 0:
		case k.most:
			c.assign(l.not())
		default:
			c.assign(l)
		}
	}
	return true
}

// backtrack undoes all but the first so many literals of the trail.
func (c *counter) backtrack(set int) {
	for at := len(c.trail) - 1; at >= set; at-- {
		if at < c.propagated {
			c.updateCounts(c.trail[at], -1)
		}
		c.value[c.trail[at].variable()] = 0
	}
	c.trail, c.propagated = c.trail[:set], min(c.propagated, set)
}

// count returns the number of ways to set the open options among those given under the
// constraints. When the steps are used up it returns the number counted so far.
func (c *counter) count(options []int) *big.Int {
	total := big.NewInt(1)
	free, pieces := c.components(options)
	for _, o := range free {
		total.Mul(total, big.NewInt(1+c.weight[o]))
	}
	for _, p := range pieces {
		if c.steps <= 0 {
			return new(big.Int)
		}
		total.Mul(total, c.countComponent(p))
	}
	return total
}

// countComponent counts for a connected component by branching on its busiest option.
func (c *counter) countComponent(p component) *big.Int {
	if n, ok := c.cache[p.key]; ok {
		return n
	}
	n, set := new(big.Int), len(c.trail)
	for _, l := range []literal{negative(p.busiest), positive(p.busiest)} {
		c.assign(l)
		if c.propagate() {
			n.Add(n, c.times(c.count(p.options), set))
		}
		c.backtrack(set)
	}
	if c.steps > 0 {
		c.cache[p.key] = n
	}
	return n
}

// times multiplies n by the weights of the options chosen on the trail from index set on.
func (c *counter) times(n *big.Int, set int) *big.Int {
	for _, l := range c.trail[set:] {
		if !l.negated() && c.weight[l.variable()] > 1 {
			n.Mul(n, big.NewInt(c.weight[l.variable()]))
		}
	}
	return n
}

// component is a set of options connected by constraints that are not yet satisfied.
type component struct {
	options []int
	busiest int // the option in most of these constraints; the first of equals
	key     [sha256.Size]byte
}

// components partitions the open options among those given into free ones, which occur in
// no unsatisfied constraint, and connected components.
func (c *counter) components(options []int) (free []int, pieces []component) {
	c.round++
	for _, first := range options {
		if c.value[first] != 0 || c.option[first] == c.round {
			continue
		}
		c.option[first] = c.round
		p, clauses, most := component{options: []int{first}}, []int(nil), 0
		for at := 0; at < len(p.options); at++ {
			o, stands := p.options[at], 0
			for _, i := range slices.Concat(c.occurrences[positive(o)], c.occurrences[negative(o)]) {
				k := c.constraints[i]
				if c.steps--; c.satisfied[i] > 0 || c.open[i] < 2 {
					continue
				}
				stands++
				if c.clause[i] == c.round {
					continue
				}
				c.clause[i] = c.round
				clauses = append(clauses, i)
				c.steps -= len(k.literals)
				for _, l := range k.literals {
					if v := l.variable(); c.value[v] == 0 && c.option[v] != c.round {
						c.option[v] = c.round
						p.options = append(p.options, v)
					}
				}
			}
			if stands > most || stands == most && o < p.busiest {
				most, p.busiest = stands, o
			}
		}
		if most == 0 {
			free = append(free, first)
			continue
		}
		c.steps -= len(p.options) + len(clauses)
		slices.Sort(p.options)
		slices.Sort(clauses)
		p.key = digest(p.options, clauses)
		pieces = append(pieces, p)
	}
	return free, pieces
}

// digest identifies lists of numbers. It is a hash to save memory: there may be very many components.
func digest(lists ...[]int) [sha256.Size]byte {
	var text []byte
	for _, list := range lists {
		text = binary.AppendUvarint(text, uint64(len(list)))
		for _, n := range list {
			text = binary.AppendUvarint(text, uint64(n))
		}
	}
	return sha256.Sum256(text)
}
