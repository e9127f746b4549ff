package logic

import (
	"slices"

	"github.com/crillab/gophersat/solver"
)

// Solver settles whether facts can be such that formulas hold. This file is the
// one door to the library that searches; what it is handed are clauses over
// numbers, of which each fact has one, and each part of a formula another.
//
// A Solver is not for several goroutines at once.
type Solver struct {
	facts   map[string]int
	nodes   map[*node]int
	clauses [][]int // say what the numbers of parts stand for
	defined []int   // clauses of a node begin at defined[number] …
	ends    []int   // … and end here; both 0 for a fact
	parts   [][]int // numbers that a number's clauses speak of
	held    []int   // what holds
}

// NewSolver returns a solver for facts of which the formulas hold.
func NewSolver(hold ...Formula) *Solver {
	s := &Solver{facts: map[string]int{}, nodes: map[*node]int{}, defined: []int{0}, ends: []int{0}, parts: [][]int{nil}}
	for _, f := range hold {
		s.held = append(s.held, s.literal(f.root()))
	}
	return s
}

// number makes a new number.
func (s *Solver) number() int {
	s.defined, s.ends, s.parts = append(s.defined, 0), append(s.ends, 0), append(s.parts, nil)
	return len(s.defined) - 1
}

// literal gives the number that is true exactly when a formula is, negative for
// one that is not. Parts met before keep theirs (Tseitin's encoding).
func (s *Solver) literal(n *node) int {
	if n.kind == nodeNot {
		return -s.literal(n.parts[0])
	}
	if number, met := s.nodes[n]; met {
		return number
	}
	if n.kind == nodeFact {
		number, met := s.facts[n.fact]
		if !met {
			number = s.number()
			s.facts[n.fact] = number
		}
		s.nodes[n] = number
		return number
	}
	literals := make([]int, len(n.parts))
	for i, p := range n.parts {
		literals[i] = s.literal(p)
	}
	own := s.number()
	s.nodes[n] = own
	s.defined[own] = len(s.clauses)
	all := 1 // turns "any" into "all" by negating all round
	if n.kind == nodeAll {
		all = -1
	}
	long := []int{-own * all}
	for _, l := range literals {
		s.clauses = append(s.clauses, []int{own * all, -l * all})
		long = append(long, l*all)
		s.parts[own] = append(s.parts[own], max(l, -l))
	}
	s.clauses = append(s.clauses, long)
	s.ends[own] = len(s.clauses)
	return own
}

// Possible tells whether the formulas can hold together with what holds.
func (s *Solver) Possible(formulas ...Formula) bool {
	_, ok := s.solve(formulas, nil, 0)
	return ok
}

// Smallest returns facts, of those listed, that make the formula hold together
// with what holds: the fewest there can be, and of equal numbers those that
// leave out what stands first in the list. The result is in the order of the
// list; ok is false when the formula cannot hold.
func (s *Solver) Smallest(list []string, f Formula) (facts []string, ok bool) {
	if !s.Possible(f) {
		return nil, false
	}
	most := 0
	for ; ; most++ {
		if _, ok := s.solve([]Formula{f}, list, most); ok {
			break
		}
	}
	wanted := []Formula{f}
	for _, name := range list {
		without := append(slices.Clip(wanted), Not(Fact(name)))
		if _, ok := s.solve(without, list, most); ok {
			wanted = without
			continue
		}
		wanted = append(wanted, Fact(name))
		facts = append(facts, name)
	}
	return facts, true
}

// Core returns as few of the formulas as cannot hold together with what holds:
// leave out any one of those returned and the rest can. Nil when all can.
func (s *Solver) Core(formulas []Formula) []int {
	if s.Possible(formulas...) {
		return nil
	}
	kept := make([]int, len(formulas))
	for i := range kept {
		kept[i] = i
	}
	for i := range formulas {
		fewer := slices.DeleteFunc(slices.Clone(kept), func(k int) bool { return k == i })
		var left []Formula
		for _, k := range fewer {
			left = append(left, formulas[k])
		}
		if !s.Possible(left...) {
			kept = fewer
		}
	}
	return kept
}

// solve looks for facts of which the formulas hold and at most so many of the
// list; a nil list sets no bound.
func (s *Solver) solve(formulas []Formula, list []string, most int) (is func(fact string) bool, ok bool) {
	wanted := slices.Clone(s.held)
	for _, f := range formulas {
		wanted = append(wanted, s.literal(f.root()))
	}
	// Only what the formulas speak of is handed over, however indirectly, with
	// numbers of its own: most questions are about a few facts.
	local, used := make([]int, len(s.defined)), 0
	var clauses [][]int
	number := func(literal int) int {
		n := local[max(literal, -literal)]
		if n == 0 {
			used++
			n, local[max(literal, -literal)] = used, used
		}
		if literal < 0 {
			return -n
		}
		return n
	}
	clause := func(literals []int) {
		c := make([]int, len(literals))
		for i, l := range literals {
			c[i] = number(l)
		}
		clauses = append(clauses, c)
	}
	var queue []int
	seen := make([]bool, len(s.defined))
	reach := func(literal int) {
		if n := max(literal, -literal); !seen[n] {
			seen[n] = true
			queue = append(queue, n)
		}
	}
	for _, w := range wanted {
		clause([]int{w})
		reach(w)
	}
	for len(queue) > 0 {
		n := queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		for _, c := range s.clauses[s.defined[n]:s.ends[n]] {
			clause(c)
		}
		for _, p := range s.parts[n] {
			reach(p)
		}
	}
	if list != nil {
		var counted []int
		for _, name := range list {
			if n, met := s.facts[name]; met && seen[n] {
				counted = append(counted, number(n))
			}
		}
		clauses = append(clauses, atMost(most, counted, used)...)
	}
	engine := solver.New(solver.ParseSlice(clauses))
	if engine.Solve() != solver.Sat {
		return nil, false
	}
	model := engine.Model()
	return func(fact string) bool {
		n := local[s.facts[fact]]
		return n > 0 && n <= len(model) && model[n-1]
	}, true
}

// atMost says that at most so many of the numbers are true, in clauses with
// further numbers above used: number i and count j together have one that is
// true when at least j of the first i are (Sinz's sequential counter, 2005; from
// memory). The library's own constraints on counts are not used: it was seen to
// call some of them impossible that are not.
func atMost(most int, numbers []int, used int) (clauses [][]int) {
	at := func(i, j int) int { return used + i*(most+1) + j + 1 } // at least j+1 of numbers up to i
	for i, n := range numbers {
		clauses = append(clauses, []int{-n, at(i, 0)})
		for j := range most + 1 {
			if i == 0 {
				break
			}
			clauses = append(clauses, []int{-at(i-1, j), at(i, j)})
			if j > 0 {
				clauses = append(clauses, []int{-n, -at(i-1, j-1), at(i, j)})
			}
		}
		clauses = append(clauses, []int{-at(i, most)})
	}
	return clauses
}
