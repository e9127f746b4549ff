package logic

import (
	"cmp"
	"slices"
)

// literal is twice the number of a variable, plus one if it is negated.
type literal int32

func positive(variable int) literal { return literal(2 * variable) }
func negative(variable int) literal { return literal(2*variable + 1) }
func (l literal) not() literal      { return l ^ 1 }
func (l literal) variable() int     { return int(l / 2) }
func (l literal) negated() bool     { return l&1 == 1 }

// satisfier is a SAT solver: conflict-driven clause learning, as in MiniSat (Eén and
// Sörensson, 2003; from memory), without what a few thousand clauses do not need.
// Learned clauses are kept for later queries. It counts its steps and stops at a
// limit, so that no set of clauses can hang the program, and the same clauses and
// queries give the same answers on every machine. It is our own because no library
// stops at a stated number of steps and keeps its learned clauses between
// queries: ten models of sixty options took 30 s with a library, and take 2 s.
type satisfier struct {
	clauses       [][]literal // the first two literals of each are watched
	watches       [][]int     // by literal: the clauses that watch it
	value         []int8      // by variable: 1 true, -1 false, 0 open
	level         []int       // by variable: the decision level at which it was set
	reason        []int       // by variable: the clause that forced it; none if decided
	activity      []float64   // by variable: how often it was in a recent conflict
	bump          float64     // what a conflict adds to an activity
	trail         []literal   // set literals, in order
	levelStarts   []int       // by decision level: length of the trail when it began
	head          int         // trail[:head] has been propagated
	assumed       []literal   // the assumptions of the last query, made as the first decisions
	unsatisfiable bool        // the clauses are unsatisfiable without assumptions
	seen          []bool      // by variable: mark during conflict analysis
	steps         int         // steps left; a step is one literal visited
	model         []int8      // by variable: its value in the model last found
	onLearn       func(clause []literal)
}

const none = -1

// newVariable returns a new variable.
func (s *satisfier) newVariable() int {
	s.watches = append(s.watches, nil, nil)
	s.value, s.level, s.reason = append(s.value, 0), append(s.level, 0), append(s.reason, none)
	s.activity, s.seen = append(s.activity, 0), append(s.seen, false)
	return len(s.value) - 1
}

// valueOf returns the value of a literal: 1 true, -1 false, 0 open.
func (s *satisfier) valueOf(l literal) int8 {
	if l.negated() {
		return -s.value[l.variable()]
	}
	return s.value[l.variable()]
}

// addClause adds a clause.
func (s *satisfier) addClause(clause ...literal) {
	s.backtrack(0)
	s.steps -= len(clause)
	clause = slices.DeleteFunc(slices.Clone(clause), func(l literal) bool { return s.valueOf(l) < 0 })
	slices.Sort(clause)
	clause = slices.Compact(clause)
	for i, l := range clause {
		if s.valueOf(l) > 0 || i > 0 && clause[i-1] == l.not() {
			return
		}
	}
	switch len(clause) {
	case 0:
		s.unsatisfiable = true
	case 1:
		s.assign(clause[0], none)
		s.unsatisfiable = s.propagate() != none || s.unsatisfiable
	default:
		s.watch(clause)
	}
}

func (s *satisfier) watch(clause []literal) int {
	number := len(s.clauses)
	s.clauses = append(s.clauses, clause)
	for _, l := range clause[:2] {
		s.watches[l] = append(s.watches[l], number)
	}
	return number
}

// assign makes a literal true and appends it to the trail.
func (s *satisfier) assign(l literal, reason int) {
	v := l.variable()
	s.value[v] = 1
	if l.negated() {
		s.value[v] = -1
	}
	s.level[v], s.reason[v] = len(s.levelStarts), reason
	s.trail = append(s.trail, l)
}

// propagate does unit propagation. It returns a clause that is false, or none.
func (s *satisfier) propagate() (conflict int) {
	for ; s.head < len(s.trail); s.head++ {
		failed := s.trail[s.head].not()
		watching := s.watches[failed]
		kept := watching[:0]
	clauses:
		for at, number := range watching {
			s.steps--
			c := s.clauses[number]
			if c[0] == failed {
				c[0], c[1] = c[1], c[0]
			}
			if s.valueOf(c[0]) > 0 {
				kept = append(kept, number)
				continue
			}
			for i := 2; i < len(c); i++ {
				if s.valueOf(c[i]) >= 0 {
					s.steps -= i
					c[1], c[i] = c[i], c[1]
					s.watches[c[1]] = append(s.watches[c[1]], number)
					continue clauses
				}
			}
			s.steps -= len(c)
			kept = append(kept, number)
			if s.valueOf(c[0]) < 0 {
				s.watches[failed] = append(kept, watching[at+1:]...)
				return number
			}
			s.assign(c[0], number)
		}
		s.watches[failed] = kept
	}
	return none
}

// backtrack undoes all but the first so many decisions.
func (s *satisfier) backtrack(decisions int) {
	if len(s.levelStarts) <= decisions {
		return
	}
	for _, l := range s.trail[s.levelStarts[decisions]:] {
		s.value[l.variable()] = 0
	}
	s.trail = s.trail[:s.levelStarts[decisions]]
	s.levelStarts = s.levelStarts[:decisions]
	s.head = len(s.trail)
}

// learn analyzes a conflict to its first unique implication point. It returns the
// learned clause, with the negation of that point first, and the decision level to
// return to.
func (s *satisfier) learn(conflict int) (clause []literal, decisions int) {
	clause = []literal{0}
	open, at := 0, len(s.trail)
	for cause := s.clauses[conflict]; ; {
		for _, l := range cause {
			v := l.variable()
			if s.seen[v] || s.level[v] == 0 || s.valueOf(l) > 0 {
				continue
			}
			s.steps--
			s.seen[v] = true
			if s.activity[v] += s.bump; s.activity[v] > 1e100 {
				for i := range s.activity {
					s.activity[i] *= 1e-100
				}
				s.bump *= 1e-100
			}
			if s.level[v] == len(s.levelStarts) {
				open++
			} else {
				clause = append(clause, l)
			}
		}
		for at--; !s.seen[s.trail[at].variable()]; at-- {
		}
		l := s.trail[at]
		s.seen[l.variable()] = false
		if open--; open == 0 {
			clause[0] = l.not()
			break
		}
		cause = s.clauses[s.reason[l.variable()]]
	}
	for i, l := range clause[1:] {
		s.seen[l.variable()] = false
		if d := s.level[l.variable()]; d > decisions {
			decisions = d
			clause[1], clause[i+1] = clause[i+1], clause[1] // watch the literal that is undone first
		}
	}
	s.bump /= 0.95
	return clause, decisions
}

// finalConflict returns the assumptions that together make a literal false, and the literal.
func (s *satisfier) finalConflict(l literal) (assumptions []literal) {
	s.seen[l.variable()] = true
	for _, t := range slices.Backward(s.trail) {
		v := t.variable()
		if !s.seen[v] {
			continue
		}
		s.seen[v] = false
		switch {
		case s.level[v] == 0:
		case s.reason[v] == none:
			assumptions = append(assumptions, t)
		default:
			for _, from := range s.clauses[s.reason[v]] {
				s.seen[from.variable()] = from != t
			}
		}
	}
	return append(assumptions, l)
}

// solve looks for an assignment that satisfies the clauses and the assumptions. Only
// the variables in choose are decided; the caller guarantees that the others do not
// matter once these are set. If ok is false, core is a subset of the assumptions
// that cannot hold together; it is empty when the steps are used up.
func (s *satisfier) solve(choose []int, assumptions []literal) (ok bool, core []literal) {
	if s.unsatisfiable {
		return false, nil
	}
	// Keep the decision levels of assumptions shared with the previous query.
	same := 0
	for same < min(len(s.assumed), len(assumptions)) && s.assumed[same] == assumptions[same] {
		same++
	}
	s.backtrack(same)
	s.assumed = assumptions
	order, next := choose, 0
	restart, conflicts := 100, 0
	for s.steps > 0 {
		if conflict := s.propagate(); conflict != none {
			if len(s.levelStarts) == 0 {
				s.unsatisfiable = true
				return false, nil
			}
			clause, decisions := s.learn(conflict)
			if s.onLearn != nil {
				s.onLearn(clause)
			}
			s.backtrack(decisions)
			if len(clause) == 1 {
				s.assign(clause[0], none)
			} else {
				s.assign(clause[0], s.watch(clause))
			}
			next = 0
			if conflicts++; conflicts == restart {
				// Restart by activity, with the learned clauses, to leave a bad part of the search.
				s.backtrack(0)
				conflicts, restart = 0, restart+restart/10
				s.steps -= len(order)
				order = slices.Clone(choose)
				slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(s.activity[b], s.activity[a]) })
			}
			continue
		}
		if n := len(s.levelStarts); n < len(assumptions) {
			l := assumptions[n]
			if s.valueOf(l) < 0 {
				return false, s.finalConflict(l)
			}
			s.levelStarts = append(s.levelStarts, len(s.trail))
			if s.valueOf(l) == 0 {
				s.assign(l, none)
			}
			continue
		}
		for next < len(order) && s.value[order[next]] != 0 {
			next++
			s.steps--
		}
		if next == len(order) {
			s.model = slices.Clone(s.value)
			return true, nil
		}
		s.levelStarts = append(s.levelStarts, len(s.trail))
		s.assign(negative(order[next]), none)
	}
	return false, nil
}
