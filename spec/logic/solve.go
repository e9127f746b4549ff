package logic

import (
	"slices"
	"strings"
)

// SolverSteps is how many steps are given to a whole task: a second or two. A step
// is a literal looked at. All claims about a model of sixty options under two
// hundred rules take a million; what takes a hundred is a puzzle and no product.
const SolverSteps = 100_000_000

// SolverStepsEach is what each of so many models gets, and never less than some
// times what a real one takes.
func SolverStepsEach(models int) int { return max(5_000_000, SolverSteps/max(1, models)) }

// Solver settles whether facts can be such that formulas hold. Each fact is a
// variable of the search, and each part of a formula another.
//
// A Solver makes so many steps and no more over its whole life. Once
// [Solver.Spent] is true, the answer just given and all that follow are "no" and
// mean nothing. It is not for several goroutines at once.
type Solver struct {
	satisfier
	facts    map[string]int
	parts    map[*node]literal
	speaks   [][]int // by variable: the variables that its definition speaks of
	lists    map[string]*tally
	reached  []int // by variable: the last question that speaks of it, held for what holds
	question int

	heldFacts []int // those that what holds speaks of
}

// held is the question of what holds.
const held = 1

// NewSolver returns a solver that makes at most so many steps, for facts of which
// the formulas hold.
func NewSolver(steps int, hold ...Formula) *Solver {
	s := &Solver{facts: map[string]int{}, parts: map[*node]literal{}, lists: map[string]*tally{}}
	s.steps, s.bump = steps, 1
	s.question = held
	literals := s.literals(hold)
	for _, l := range literals {
		s.require(l)
	}
	s.heldFacts = s.factsBehind(literals)
	return s
}

// Spent tells whether all steps are made.
func (s *Solver) Spent() bool { return s.steps <= 0 }

func (s *Solver) variable(speaks ...int) int {
	s.speaks, s.reached = append(s.speaks, speaks), append(s.reached, 0)
	return s.add()
}

func (s *Solver) fact(name string) int {
	v, met := s.facts[name]
	if !met {
		v = s.variable()
		s.facts[name] = v
	}
	return v
}

// literal gives the literal that is true exactly when a formula is. Parts met
// before keep theirs (Tseitin's encoding).
func (s *Solver) literal(n *node) literal {
	switch n.kind {
	case nodeFact:
		return with(s.fact(n.fact))
	case nodeNot:
		return s.literal(n.parts[0]).not()
	}
	if own, met := s.parts[n]; met {
		return own
	}
	parts, speaks := make([]literal, len(n.parts)), make([]int, len(n.parts))
	for i, p := range n.parts {
		parts[i] = s.literal(p)
		speaks[i] = parts[i].variable()
	}
	own := with(s.variable(speaks...))
	s.parts[n] = own
	// "All" is "any" with every literal the other way round.
	any := own
	if n.kind == nodeAll {
		any = own.not()
		for i := range parts {
			parts[i] = parts[i].not()
		}
	}
	for _, p := range parts {
		s.require(any, p.not())
	}
	s.require(append(parts, any.not())...)
	return own
}

// Possible tells whether the formulas can hold together with what holds.
func (s *Solver) Possible(formulas ...Formula) bool {
	ok, _ := s.ask(s.literals(formulas)...)
	return ok
}

func (s *Solver) literals(formulas []Formula) []literal {
	out := make([]literal, len(formulas))
	for i, f := range formulas {
		out[i] = s.literal(f.root())
	}
	return out
}

// ask looks for facts under which the literals are true. Facts that neither
// they nor what holds speak of are not decided: most questions are about a few.
func (s *Solver) ask(wanted ...literal) (ok bool, blamed []literal) {
	s.question++
	choose := s.heldFacts
	if beside := s.factsBehind(wanted); len(beside) > 0 {
		choose = slices.Concat(choose, beside)
	}
	return s.solve(choose, wanted)
}

// factsBehind lists the facts that literals speak of and none asked about before
// in this question, nor what holds.
func (s *Solver) factsBehind(literals []literal) (facts []int) {
	var queue []int
	reach := func(v int) {
		s.steps--
		if s.reached[v] != s.question && s.reached[v] != held {
			s.reached[v] = s.question
			queue = append(queue, v)
		}
	}
	for _, l := range literals {
		reach(l.variable())
	}
	for len(queue) > 0 {
		v := queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		if len(s.speaks[v]) == 0 {
			facts = append(facts, v)
		}
		for _, other := range s.speaks[v] {
			reach(other)
		}
	}
	slices.Sort(facts)
	return facts
}

// can asks and wants no reason.
func (s *Solver) can(wanted []literal) bool {
	ok, _ := s.ask(wanted...)
	return ok
}

// has tells whether a fact is so in what was found last.
func (s *Solver) has(fact int) bool { return fact < len(s.model) && s.model[fact] > 0 }

// Smallest returns facts, of those listed, that make the formulas hold together
// with what holds: the fewest there can be, and of equal numbers those that
// leave out what stands first in the list. The result is in the order of the
// list; ok is false when they cannot hold.
func (s *Solver) Smallest(list []string, formulas ...Formula) (facts []string, ok bool) {
	wanted := s.literals(formulas)
	if !s.can(wanted) {
		return nil, false
	}
	// What was found, and how much of it follows from the formulas by itself.
	forced := 0
	for _, name := range list {
		if v := s.fact(name); s.has(v) {
			facts = append(facts, name)
			if s.depth[v] <= len(wanted) {
				forced++
			}
		}
	}
	if forced == len(facts) {
		return facts, !s.Spent()
	}
	for most := forced; ; most++ {
		few := append(slices.Clip(wanted), s.tally(list).atLeast(s, most+1).not())
		if s.can(few) {
			wanted = few
			break
		}
		if s.Spent() {
			return nil, false
		}
	}
	facts = nil
	for _, name := range list {
		is := with(s.fact(name))
		if s.has(is.variable()) {
			if !s.can(append(slices.Clip(wanted), is.not())) {
				wanted, facts = append(wanted, is), append(facts, name)
				continue
			}
		}
		wanted = append(wanted, is.not())
	}
	return facts, !s.Spent()
}

// Each calls yield with every set of at most so many facts, of those listed, that
// can hold together with what holds and with no other of the list, until yield
// returns false. The order is that of binary numbers with the first fact as the
// highest digit; every set is a list of its own, in the order of the list.
func (s *Solver) Each(list []string, most int, yield func(facts []string) bool) {
	var few []literal
	if most < len(list) {
		few = []literal{s.tally(list).atLeast(s, most+1).not()}
	}
	if !s.can(few) {
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
		// What was found last has the facts decided so far, and mostly lacks the next.
		is := with(s.fact(list[at]))
		lacks := append(slices.Clip(decided), is.not())
		if ok := !s.has(is.variable()) || s.can(lacks); ok && !decide(lacks) {
			return false
		}
		has := append(slices.Clip(decided), is)
		return !s.can(has) || decide(has)
	}
	decide(few)
}

// Each calls yield with every valid choice until yield returns false or it has
// had limit choices; a negative limit sets none. The order is that of
// [Solver.Each] over the options, so the empty choice comes first, if valid. It
// ends early when [SolverSteps] are made.
func (p Problem) Each(limit int, yield func(chosen []string) bool) {
	if limit == 0 {
		return
	}
	NewSolver(SolverSteps, p.Formulas()...).Each(distinct(p.Options), len(p.Options), func(chosen []string) bool {
		limit--
		return yield(chosen) && limit != 0
	})
}

// Core returns as few of the formulas as cannot hold together with what holds:
// leave out any one of those returned and the rest can. Nil when all can.
func (s *Solver) Core(formulas []Formula) []int {
	literals := s.literals(formulas)
	ok, blamed := s.ask(literals...)
	if ok || s.Spent() {
		return nil
	}
	kept := []int{}
	for i, l := range literals {
		if slices.Contains(blamed, l) {
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
		if !s.can(fewer) && !s.Spent() {
			kept = slices.DeleteFunc(kept, func(k int) bool { return k == i })
		}
	}
	return kept
}

// tally counts how many of a list of facts are so, in further variables: at place
// j, i the one that is true when at least j+1 of the first i+1 facts are (Sinz's
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

// atLeast gives the literal that is true when at least so many facts are. It may
// be true when they are not: it serves to be denied.
func (t *tally) atLeast(s *Solver, n int) literal {
	for j := len(t.rows); j < n; j++ {
		row := make([]literal, len(t.list))
		for i, name := range t.list {
			row[i] = with(s.variable())
			is := with(s.fact(name))
			if j == 0 {
				s.require(is.not(), row[i])
			}
			if i > 0 {
				s.require(row[i-1].not(), row[i])
			}
			if i > 0 && j > 0 {
				s.require(is.not(), t.rows[j-1][i-1].not(), row[i])
			}
		}
		t.rows = append(t.rows, row)
	}
	return t.rows[n-1][len(t.list)-1]
}
