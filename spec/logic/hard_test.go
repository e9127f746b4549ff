package logic

import (
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"ownerguide/spec/testenv"
)

// pigeons is the oldest puzzle for a solver: one pigeon more than there are holes.
func pigeons(holes int) Problem {
	p := Problem{Options: names((holes + 1) * holes)}
	for i := range holes + 1 {
		p.Rules = append(p.Rules, Rule{Kind: ExactlyOne, Objects: p.Options[i*holes : (i+1)*holes]})
	}
	for j := range holes {
		r := Rule{Kind: AtMostOne}
		for i := range holes + 1 {
			r.Objects = append(r.Objects, p.Options[i*holes+j])
		}
		p.Rules = append(p.Rules, r)
	}
	return p
}

// tangle has pairs of options that exclude each other, in no order.
func tangle(options, pairs int) Problem {
	random := rand.New(rand.NewPCG(1, 2))
	p := Problem{Options: names(options)}
	for range pairs {
		a, b := random.IntN(options), random.IntN(options)
		if a != b {
			p.Rules = append(p.Rules, Rule{Kind: Excludes, Subject: p.Options[a], Objects: p.Options[b : b+1]})
		}
	}
	return p
}

// hard are models that nobody makes, each the worst case of some search.
var hard = []struct {
	name    string
	p       Problem
	mends   bool   // all smallest mends of the first two options are found
	settled bool   // it is settled whether there is an order, and of some options each
	count   string // as printed
}{
	{"one of 5,000", Problem{Options: names(5000), Rules: []Rule{{Kind: ExactlyOne, Objects: names(5000)}}}, true, true, "5000"},
	{"each of 5,000 needs the next", chain(5000, Requires, false), true, true, "more than 10^2"},
	{"a ring of 5,000", chain(5000, Requires, true), true, true, "2"},
	{"pairs of 120", tangle(120, 240), true, true, "too many steps to count"},
	{"pairs of 5,000", tangle(5000, 20000), true, true, "too many steps to count"},
	{"3,000 rules on 1,000", line(1, 1000, 3000), true, false, "too many steps to count"},
	{"8 holes", pigeons(8), false, false, "0"},
	{"20 holes", pigeons(20), false, false, "too many steps to count"},
}

// Whatever the rules, each search ends at its steps, and says so. A tenth of the
// usual steps will do here.
func TestHardModels(t *testing.T) {
	for _, h := range testenv.Sample(t, hard, 4) {
		t.Run(h.name, func(t *testing.T) {
			t.Parallel()
			if n := h.p.Count(CountSteps / 10); n.String() != h.count || n.Whole != (h.count == n.Least.String()) {
				t.Errorf("%s choices, want %s", n, h.count)
			}
			if _, all := h.p.Mends(h.p.Options[:2], 3); all != h.mends {
				t.Errorf("all mends found: %t", all)
			}
			s := NewSolver(SolverSteps/10, h.p.Formulas()...)
			s.Possible()
			for _, o := range h.p.Options[:min(10, len(h.p.Options))] {
				s.Possible(Fact(o))
				s.Smallest(h.p.Options, Fact(o))
			}
			if s.Spent() == h.settled {
				t.Errorf("settled: %t", !h.settled)
			}
			if -s.steps > 1_000_000 {
				t.Errorf("%d steps were made after the last", -s.steps)
			}
		})
	}
}

// An answer given within the steps is the one given with any number of steps: a
// limit that is not reached changes nothing.
func TestStepsChangeNoAnswer(t *testing.T) {
	spent := map[bool]int{}
	rapid.Check(t, func(t *rapid.T) {
		p := problems(t, 9)
		steps := rapid.IntRange(0, 3000).Draw(t, "steps")
		few, many := p.Count(steps), p.Count(CountSteps)
		if few.Whole && few.String() != many.String() || few.Least.Cmp(many.Least) > 0 {
			t.Fatalf("%s in %d steps, else %s", few, steps, many)
		}
		f := formulas(t, append(slices.Clone(p.Options), "other"), 3)
		s := NewSolver(steps, p.Formulas()...)
		got, ok := s.Smallest(p.Options, f)
		want, possible := NewSolver(SolverSteps, p.Formulas()...).Smallest(p.Options, f)
		if spent[s.Spent()]++; !s.Spent() && (ok != possible || !slices.Equal(got, want)) || s.Spent() && ok {
			t.Fatalf("%v %t in %d steps, else %v %t", got, ok, steps, want, possible)
		}
	})
	if spent[true] == 0 || spent[false] == 0 {
		t.Errorf("the test has seen only one side: %v", spent)
	}
}

// Of a large model no test can try all choices. But each clause that the solver
// learns can be checked by itself: denying it, the clauses before it must run into
// a conflict by forced settings alone. So no "impossible" rests on a slip.
func TestLearnedClausesFollow(t *testing.T) {
	learned, seeds := 0, uint64(4)
	if testenv.IsHeavy() {
		seeds = 12
	}
	for seed := range seeds {
		p := line(seed, 60, 200)
		s := NewSolver(SolverSteps, p.Formulas()...)
		s.onLearn = func(clause []literal) {
			learned++
			check := satisfier{steps: SolverSteps}
			for range s.value {
				check.newVariable()
			}
			for _, l := range s.trail {
				if s.level[l.variable()] == 0 {
					check.addClause(l)
				}
			}
			for _, c := range s.clauses {
				check.addClause(c...)
			}
			for _, l := range clause {
				check.addClause(l.not())
			}
			if !check.unsatisfiable {
				t.Fatalf("seed %d: a learned clause does not follow", seed)
			}
		}
		for i, a := range p.Options {
			for _, b := range p.Options[:i] {
				if s.Possible(Fact(a), Fact(b)) {
					chosen := func(name string) bool { return s.has(s.facts[name]) }
					for _, r := range p.Rules {
						if !r.formula().Holds(chosen) {
							t.Fatalf("seed %d: what was found breaks %v", seed, r)
						}
					}
				}
			}
		}
	}
	t.Logf("%d clauses were learned", learned)
	if learned < 8*int(seeds) {
		t.Errorf("only %d clauses were learned", learned)
	}
}

func BenchmarkHardModels(b *testing.B) {
	for _, h := range hard {
		b.Run(h.name, func(b *testing.B) {
			for b.Loop() {
				h.p.Count(CountSteps)
				h.p.Mends(h.p.Options[:2], 3)
				NewSolver(SolverSteps, h.p.Formulas()...).Possible()
			}
		})
	}
}
