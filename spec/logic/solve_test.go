package logic

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// formulas draws a formula over the names.
func formulas(t *rapid.T, names []string, depth int) Formula {
	kinds := 4
	if depth == 0 {
		kinds = 1
	}
	var parts []Formula
	switch rapid.IntRange(0, kinds).Draw(t, "kind") {
	case 0, 1:
		return Fact(rapid.SampledFrom(names).Draw(t, "fact"))
	case 2:
		return Not(formulas(t, names, depth-1))
	case 3:
		for range rapid.IntRange(0, 3).Draw(t, "parts") {
			parts = append(parts, formulas(t, names, depth-1))
		}
		return All(parts...)
	default:
		for range rapid.IntRange(0, 3).Draw(t, "parts") {
			parts = append(parts, formulas(t, names, depth-1))
		}
		return Any(parts...)
	}
}

// The solver is held against all choices there are: what is possible, and which
// choice is the smallest.
func TestSolverAgainstBruteForce(t *testing.T) {
	possible := map[bool]int{}
	rapid.Check(t, func(t *rapid.T) {
		p := problems(t, 7)
		if len(p.Options) == 0 {
			return
		}
		s := NewSolver(SolverSteps, p.Formulas()...)
		for range 3 { // one solver is asked again and again
			f := formulas(t, p.Options, 3)
			var best []string
			found := false
			choices(p.Options, func(choice map[string]bool) {
				chosen := listed(choice)
				if keepsAll(p, choice) && f.Holds(func(name string) bool { return choice[name] }) &&
					(!found || len(chosen) < len(best) || len(chosen) == len(best) && leavesEarlierOut(p.Options, chosen, best)) {
					best, found = chosen, true
				}
			})
			possible[found]++
			if got := s.Possible(f); got != found {
				t.Fatalf("possible %t, by brute force %t", got, found)
			}
			got, ok := s.Smallest(p.Options, f)
			if ok != found || !slices.Equal(got, best) {
				t.Fatalf("smallest %v (%t), by brute force %v (%t)", got, ok, best, found)
			}
		}
	})
	if possible[true] == 0 || possible[false] == 0 {
		t.Errorf("the test has seen only one side: %v", possible)
	}
}

// leavesEarlierOut reports whether a leaves out the first option in which a and b differ.
func leavesEarlierOut(options, a, b []string) bool {
	for _, name := range options {
		if in := slices.Contains(a, name); in != slices.Contains(b, name) {
			return !in
		}
	}
	return false
}

func TestRuleFormulas(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := problems(t, 6)
		choices(append(slices.Clone(p.Options), "not-offered"), func(choice map[string]bool) {
			is := func(name string) bool { return choice[name] }
			for _, r := range p.Rules {
				if r.formula().Holds(is) != keeps(r, choice) {
					t.Fatalf("%v with %v", r, listed(choice))
				}
			}
			if All(p.Formulas()...).Holds(is) != (keepsAll(p, choice) && (!choice["not-offered"] || !named(p, "not-offered"))) {
				t.Fatalf("all rules with %v", listed(choice))
			}
		})
	})
}

func named(p Problem, option string) bool {
	return slices.ContainsFunc(p.Rules, func(r Rule) bool { return r.Subject == option || slices.Contains(r.Objects, option) })
}

func TestConditionOver(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		names := []string{"a", "b", "c", "d"}
		text := rapid.SampledFrom(names).Draw(t, "first")
		for range rapid.IntRange(0, 4).Draw(t, "more") {
			join := rapid.SampledFrom([]string{" and ", " or ", " and not ", " or not "}).Draw(t, "join")
			text = "(" + text + ")" + join + rapid.SampledFrom(names).Draw(t, "next")
		}
		c, err := ParseCondition(text)
		if err != nil {
			t.Fatal(err)
		}
		f := c.Substitute(func(feature string) Formula {
			if feature == "d" {
				return Any() // a feature nothing provides
			}
			return Fact(feature)
		})
		choices(names, func(choice map[string]bool) {
			has := func(name string) bool { return choice[name] && name != "d" }
			if f.Holds(has) != c.Holds(has) {
				t.Fatalf("%s with %v", c, listed(choice))
			}
		})
	})
}

// A core cannot hold, and would without any one of its members.
func TestCore(t *testing.T) {
	cores := 0
	rapid.Check(t, func(t *rapid.T) {
		p := problems(t, 5)
		s := NewSolver(SolverSteps)
		rules := p.Formulas()
		rules = append(rules, formulas(t, append(p.Options, "not-offered"), 2))
		core := s.Core(rules)
		if s.Possible(rules...) != (core == nil) {
			t.Fatalf("core %v", core)
		}
		if core == nil {
			return
		}
		cores++
		members := func(leave int) (list []Formula) {
			for _, i := range core {
				if i != leave {
					list = append(list, rules[i])
				}
			}
			return list
		}
		if s.Possible(members(-1)...) {
			t.Fatalf("core %v can hold", core)
		}
		for _, i := range core {
			if !s.Possible(members(i)...) {
				t.Fatalf("core %v does not need %d", core, i)
			}
		}
	})
	if cores == 0 {
		t.Error("no core was seen")
	}
}

// Mends come from a search over changes; the solver says independently how few
// options have to change.
func TestMendsAgainstSolver(t *testing.T) {
	mended := 0
	rapid.Check(t, func(t *rapid.T) {
		p := problems(t, 8)
		var ordered []string
		for _, name := range p.Options {
			if rapid.Bool().Draw(t, "ordered") {
				ordered = append(ordered, name)
			}
		}
		mends := mends(p, ordered, 3)
		if len(mends) == 0 {
			return
		}
		mended++
		// Changed options are facts of their own: ordered and not chosen, or the
		// other way round.
		hold := p.Formulas()
		var changes []string
		for _, name := range p.Options {
			change := Fact("change " + name)
			is := Fact(name)
			if slices.Contains(ordered, name) {
				is = Not(is)
			}
			hold = append(hold, Implies(change, is), Implies(is, change))
			changes = append(changes, "change "+name)
		}
		smallest, ok := NewSolver(SolverSteps, hold...).Smallest(changes, All())
		if !ok {
			t.Fatalf("mends %v, and the solver finds none", mends)
		}
		for i, c := range mends {
			n := len(c.Add) + len(c.Remove)
			if n < len(smallest) {
				t.Fatalf("mend %d %v has %d changes; the solver needs %d", i, c, n, len(smallest))
			}
			// Without swaps a step is a change, and mends have the fewest.
			if !slices.ContainsFunc(p.Rules, func(r Rule) bool { return r.Kind == ExactlyOne || r.Kind == AtMostOne }) && n != len(smallest) {
				t.Fatalf("mend %d %v has %d changes; the solver needs only %d", i, c, n, len(smallest))
			}
		}
	})
	if mended == 0 {
		t.Error("no order was mended")
	}
}
