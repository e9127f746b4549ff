package logic

import (
	"slices"
	"strings"
)

// SolverSteps is the step limit of a whole task: a second or two. A step is one
// literal visited. All claims about a model of sixty options under two hundred
// rules take a million steps; what takes a hundred million is a puzzle, not a product.
const SolverSteps = 100_000_000

// SolverStepsEach returns the step limit for each of so many models. It is never less
// than several times what a real model takes.
func SolverStepsEach(models int) int { return max(5_000_000, SolverSteps/max(1, models)) }

// Solver decides whether formulas can be true together. Each fact is a variable
// of the search, and so is each compound part of a formula.
//
// A Solver has a step limit for its whole life. Once [Solver.Spent] is true, the
// answer just given and all later ones are "no" and mean nothing. A Solver is not
// safe for concurrent use.
type Solver struct {
	satisfier
	facts   map[string]int
	parts   map[*node]literal
	inputs  [][]int // by variable: the variables in its definition
	lists   map[string]*tally
	reached []int // by variable: the last query that reached it, or permanent if the permanent formulas reach it
	query   int

	permanentFacts []int // facts that the permanent formulas depend on
}

// permanent is the number of the first query, that of the permanent formulas.
const permanent = 1

// NewSolver returns a solver with the given step limit. Every later query is made under the
// permanent formulas.
func NewSolver(steps int, permanentFormulas ...Formula) *Solver {
	s := &Solver{facts: map[string]int{}, parts: map[*node]literal{}, lists: map[string]*tally{}}
	s.steps, s.bump = steps, 1
	s.query = permanent
	literals := s.literals(permanentFormulas)
	for _, l := range literals {
		s.addClause(l)
	}
	s.permanentFacts = s.factsReachable(literals)
	return s
}

// Spent reports whether the step limit is reached.
func (s *Solver) Spent() bool { return s.steps <= 0 }

func (s *Solver) variable(inputs ...int) int {
	s.inputs, s.reached = append(s.inputs, inputs), append(s.reached, 0)
	return s.newVariable()
}

func (s *Solver) fact(name string) int {
	v, met := s.facts[name]
	if !met {
		v = s.variable()
		s.facts[name] = v
	}
	return v
}

// literal returns the literal equivalent to a formula. A part already encoded keeps
// its literal (Tseitin's encoding).
func (s *Solver) literal(n *node) literal {
	switch n.kind {
	case nodeFact:
		return positive(s.fact(n.fact))
	case nodeNot:
		return s.literal(n.parts[0]).not()
	}
	if own, met := s.parts[n]; met {
		return own
	}
	parts, inputs := make([]literal, len(n.parts)), make([]int, len(n.parts))
	for i, p := range n.parts {
		parts[i] = s.literal(p)
		inputs[i] = parts[i].variable()
	}
	own := positive(s.variable(inputs...))
	s.parts[n] = own
	// "All" is "any" with every literal negated.
	any := own
	if n.kind == nodeAll {
		any = own.not()
		for i := range parts {
			parts[i] = parts[i].not()
		}
	}
	for _, p := range parts {
		s.addClause(any, p.not())
	}
	s.addClause(append(parts, any.not())...)
	return own
}

// Possible reports whether the formulas and the permanent formulas can be true together.
func (s *Solver) Possible(formulas ...Formula) bool {
	ok, _ := s.solveFor(s.literals(formulas)...)
	return ok
}

func (s *Solver) literals(formulas []Formula) []literal {
	out := make([]literal, len(formulas))
	for i, f := range formulas {
		out[i] = s.literal(f.root())
	}
	return out
}

// solveFor looks for an assignment under which the literals are true. Only facts that the
// literals or the permanent formulas depend on are decided: most queries concern few facts.
func (s *Solver) solveFor(wanted ...literal) (ok bool, core []literal) {
	s.query++
	choose := s.permanentFacts
	if beside := s.factsReachable(wanted); len(beside) > 0 {
		choose = slices.Concat(choose, beside)
	}
	return s.solve(choose, wanted)
}

// factsReachable returns the facts that the literals depend on, without those already
// reached in this query or by the permanent formulas.
func (s *Solver) factsReachable(literals []literal) (facts []int) {
	var queue []int
	reach := func(v int) {
		s.steps--
		if s.reached[v] != s.query && s.reached[v] != permanent {
			s.reached[v] = s.query
			queue = append(queue, v)
		}
	}
	for _, l := range literals {
		reach(l.variable())
	}
	for len(queue) > 0 {
		v := queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		if len(s.inputs[v]) == 0 {
			facts = append(facts, v)
		}
		for _, other := range s.inputs[v] {
			reach(other)
		}
	}
	slices.Sort(facts)
	return facts
}

// satisfiable is solveFor without the core.
func (s *Solver) satisfiable(wanted []literal) bool {
	ok, _ := s.solveFor(wanted...)
	return ok
}

// has reports whether a fact is true in the model last found.
func (s *Solver) has(fact int) bool { return fact < len(s.model) && s.model[fact] > 0 }

// Smallest returns a smallest set of listed facts with which the formulas and the
// permanent formulas are true and all other listed facts false. Among sets of equal
// size it prefers those that leave out the earlier facts of the list. The result is
// in list order; ok is false if there is no such set.
func (s *Solver) Smallest(list []string, formulas ...Formula) (facts []string, ok bool) {
	wanted := s.literals(formulas)
	if !s.satisfiable(wanted) {
		return nil, false
	}
	// Count the listed facts in the model, and those the formulas alone force.
	forced := 0
	for _, name := range list {
		if v := s.fact(name); s.has(v) {
			facts = append(facts, name)
			if s.level[v] <= len(wanted) {
				forced++
			}
		}
	}
	if forced == len(facts) {
		return facts, !s.Spent()
	}
	for most := forced; ; most++ {
		few := append(slices.Clip(wanted), s.tally(list).atLeast(s, most+1).not())
		if s.satisfiable(few) {
			wanted = few
			break
		}
		if s.Spent() {
			return nil, false
		}
	}
	facts = nil
	for _, name := range list {
		is := positive(s.fact(name))
		if s.has(is.variable()) {
			if !s.satisfiable(append(slices.Clip(wanted), is.not())) {
				wanted, facts = append(wanted, is), append(facts, name)
				continue
			}
		}
		wanted = append(wanted, is.not())
	}
	return facts, !s.Spent()
}

// Each calls yield with every set of at most so many listed facts that can be true
// together, the rest of the list being false, until yield returns false. The order is
// that of binary numbers with the first fact as the highest digit; each set is a
// new slice, in list order.
func (s *Solver) Each(list []string, most int, yield func(facts []string) bool) {
	var few []literal
	if most < len(list) {
		few = []literal{s.tally(list).atLeast(s, most+1).not()}
	}
	if !s.satisfiable(few) {
		return
	}
	var decide func(decided []literal) (more bool)
	decide = func(decided []literal) bool {
		at := len(decided) - len(few)
		if at == len(list) {
			facts := []string{}
			for i, name := range list {
				if !decided[len(few)+i].negated() {
					facts = append(facts, name)
				}
			}
			return yield(facts)
		}
		// The model last found agrees with the facts decided so far, and mostly lacks the next.
		is := positive(s.fact(list[at]))
		lacks := append(slices.Clip(decided), is.not())
		if ok := !s.has(is.variable()) || s.satisfiable(lacks); ok && !decide(lacks) {
			return false
		}
		has := append(slices.Clip(decided), is)
		return !s.satisfiable(has) || decide(has)
	}
	decide(few)
}

// Each calls yield with every valid choice until yield returns false or limit choices
// were yielded; a negative limit means no limit. The order is that of
// [Solver.Each] over the options, so the empty choice comes first, if valid. It
// ends early when [SolverSteps] are used up.
func (p Problem) Each(limit int, yield func(chosen []string) bool) {
	if limit != 0 {
		NewSolver(SolverSteps, p.Formulas()...).Each(distinct(p.Options), len(p.Options), func(chosen []string) bool {
			limit--
			return yield(chosen) && limit != 0
		})
	}
}

// Core returns the indices of a minimal unsatisfiable subset of the formulas: without
// any one of them, the rest can be true with the permanent formulas. It returns nil
// if all formulas can.
func (s *Solver) Core(formulas []Formula) []int {
	literals := s.literals(formulas)
	ok, core := s.solveFor(literals...)
	if ok || s.Spent() {
		return nil
	}
	kept := []int{}
	for i, l := range literals {
		if slices.Contains(core, l) {
			kept = append(kept, i)
		}
	}
	for _, i := range slices.Clone(kept) {
		var fewer []literal
		for _, k := range kept {
			if k != i {
				fewer = append(fewer, literals[k])
			}
		}
		if !s.satisfiable(fewer) && !s.Spent() {
			kept = slices.DeleteFunc(kept, func(k int) bool { return k == i })
		}
	}
	return kept
}

// tally counts how many facts of a list are true by auxiliary variables:
// rows[j][i] is implied when at least j+1 of the first i+1 facts are true (Sinz's
// sequential counter, 2005; from memory).
type tally struct {
	list []string
	rows [][]literal
}

func (s *Solver) tally(list []string) *tally {
	key := strings.Join(list, "\n")
	if s.lists[key] == nil {
		s.lists[key] = &tally{list: list}
	}
	return s.lists[key]
}

// atLeast returns a literal that is true if at least n facts are. The implication goes
// one way only, so the literal may be used negated alone, as an upper bound.
func (t *tally) atLeast(s *Solver, n int) literal {
	for j := len(t.rows); j < n; j++ {
		row := make([]literal, len(t.list))
		for i, name := range t.list {
			row[i] = positive(s.variable())
			is := positive(s.fact(name))
			if j == 0 {
				s.addClause(is.not(), row[i])
			}
			if i > 0 {
				s.addClause(row[i-1].not(), row[i])
			}
			if i > 0 && j > 0 {
				s.addClause(is.not(), t.rows[j-1][i-1].not(), row[i])
			}
		}
		t.rows = append(t.rows, row)
	}
	return t.rows[n-1][len(t.list)-1]
}
