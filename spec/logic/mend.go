package logic

import (
	"cmp"
	"encoding/binary"
	"slices"

	"ownerguide/spec/source"
)

// Limits of the search for mends. A choice more than maxSteps from every valid one
// is better rewritten than mended. maxVisited and maxChecks keep a hostile rule file
// from hanging the program: a tenth of a second and some seconds. A check is one
// visit of a rule for one option that is flipped.
const (
	maxSteps   = 6
	maxVisited = 50_000
	maxChecks  = 50_000_000
)

// Mends returns the smallest changes that make a choice valid, at most the given
// number of them. Smallest means the fewest steps, where replacing one member of an
// ExactlyOne or AtMostOne group by another counts as one step, and no proper subset
// of a returned change is enough. Changes are sorted by how few ordered options they
// remove, then by how few they add, then by the order of the product line, as the options
// in them are. Chosen options that the model does not offer may be removed, never added.
//
// The result is nil if the choice is valid or no valid one lies within six steps. The
// search stops after 50,000 changes tried or 50 million rules visited; all is then
// false, and some or all of the smallest changes can be missing.
func (p Problem) Mends(chosen []string, most int) (mends []source.Mend, all bool) {
	s := p.newSearch(chosen)
	if s.violated == 0 || most <= 0 {
		return nil, true
	}
	valid := s.run()
	return s.minimalMends(valid, most), !s.spent()
}

// search is a breadth-first search over sets of options to flip. A set is a sorted list of numbers.
type search struct {
	names       []string // options of the model, then chosen ones it does not offer, which can only be removed
	rules       []numbered
	occurrences [][]int // by option: the rules that contain it
	initial     []bool  // the given choice
	has         []bool  // the given choice with the current set flipped
	objects     []int   // by rule: number of its objects in has
	violated    int     // number of rules that has violates
	visited     map[string]bool
	checks      int
}

func (p Problem) newSearch(chosen []string) *search {
	s := &search{names: distinct(p.Options, chosen), visited: map[string]bool{}}
	s.rules = p.number(s.names)
	s.occurrences = make([][]int, len(s.names))
	for i, r := range s.rules {
		for _, option := range r.options() {
			if at := s.occurrences[option]; len(at) == 0 || at[len(at)-1] != i {
				s.occurrences[option] = append(at, i)
			}
		}
	}
	ordered := map[string]bool{}
	for _, name := range chosen {
		ordered[name] = true
	}
	for _, name := range s.names {
		s.initial = append(s.initial, ordered[name])
	}
	s.has, s.objects = slices.Clone(s.initial), make([]int, len(s.rules))
	for i, r := range s.rules {
		for _, object := range r.objects {
			if s.has[object] {
				s.objects[i]++
			}
		}
		if s.isViolated(i) {
			s.violated++
		}
	}
	return s
}

// spent reports whether a limit of the search is reached.
func (s *search) spent() bool { return len(s.visited) > maxVisited || s.checks > maxChecks }

func (s *search) isViolated(rule int) bool {
	r := s.rules[rule]
	return !r.kind.holds(r.subject >= 0 && s.has[r.subject], s.objects[rule])
}

// run returns all valid sets reachable in the fewest steps. It tries only steps
// that help the first violated rule. This is complete: every set that mends contains
// an option that helps that rule, and the steps of a set can be taken in any order.
func (s *search) run() (valid [][]int) {
	level := [][]int{nil}
	for range maxSteps {
		var next [][]int
		for _, set := range level {
			s.flip(set)
			for _, option := range s.branchOptions(set) {
				s.steps(set, option, func(step ...int) bool {
					flipped := slices.Sorted(slices.Values(slices.Concat(set, step)))
					if k := key(flipped); s.visited[k] {
						return true
					} else if s.visited[k] = true; s.spent() {
						return false
					}
					s.flip(step)
					if s.violated == 0 {
						valid = append(valid, flipped)
					} else {
						next = append(next, flipped)
					}
					s.flip(step)
					return true
				})
			}
			s.flip(set)
			if s.spent() {
				return valid
			}
		}
		if len(valid) > 0 {
			return valid
		}
		level = next
	}
	return nil
}

// branchOptions returns options of the first violated rule of which every mending set must
// flip at least one. Options already in the set are not flipped back.
func (s *search) branchOptions(set []int) (options []int) {
	s.checks += len(s.rules)
	first := 0
	for !s.isViolated(first) {
		first++
	}
	r := s.rules[first]
	var chosen, open []int
	for _, object := range r.objects {
		if s.has[object] {
			chosen = append(chosen, object)
		} else {
			open = append(open, object)
		}
	}
	switch {
	case r.kind == Requires:
		options = append(open, r.subject)
	case r.kind == Excludes && slices.Contains(set, chosen[0]):
		options = []int{r.subject}
	case r.kind == Excludes: // drop the subject, or all of the others
		options = []int{r.subject, chosen[0]}
	case len(chosen) > 1: // two of them cannot both stay
		options = chosen[:2]
	case r.kind == ExactlyOne:
		options = open
	}
	return slices.DeleteFunc(options, func(o int) bool { return slices.Contains(set, o) })
}

// steps calls try with each step that flips option, alone or in a swap, until try
// returns false.
func (s *search) steps(set []int, option int, try func(step ...int) bool) {
	if !try(option) {
		return
	}
	for _, i := range s.occurrences[option] {
		r := s.rules[i]
		if r.kind != ExactlyOne && r.kind != AtMostOne {
			continue
		}
		for _, other := range r.objects {
			if s.initial[option] != s.initial[other] && !slices.Contains(set, other) && !try(option, other) {
				return
			}
		}
	}
}

// flip toggles the given options in has and updates objects and violated.
func (s *search) flip(options []int) {
	for _, option := range options {
		change := 1
		if s.has[option] {
			change = -1
		}
		s.checks += len(s.occurrences[option])
		for _, i := range s.occurrences[option] {
			if s.isViolated(i) {
				s.violated--
			}
		}
		s.has[option] = !s.has[option]
		for _, i := range s.occurrences[option] {
			if r := s.rules[i]; r.subject != option || slices.Contains(r.objects, option) {
				s.objects[i] += change
			}
			if s.isViolated(i) {
				s.violated++
			}
		}
	}
}

// repairs reports whether flipping a set makes the given choice valid.
func (s *search) repairs(set []int) bool {
	s.flip(set)
	defer s.flip(set)
	return s.violated == 0
}

// minimalMends sorts valid sets and returns the first ones of which no proper subset is enough.
func (s *search) minimalMends(valid [][]int, most int) (mends []source.Mend) {
	type candidate struct{ add, remove, set []int }
	var candidates []candidate
	for _, set := range valid {
		c := candidate{set: set}
		for _, option := range set {
			if s.initial[option] {
				c.remove = append(c.remove, option)
			} else {
				c.add = append(c.add, option)
			}
		}
		candidates = append(candidates, c)
	}
	slices.SortFunc(candidates, func(a, b candidate) int {
		return cmp.Or(cmp.Compare(len(a.remove), len(b.remove)), cmp.Compare(len(a.add), len(b.add)),
			slices.Compare(a.add, b.add), slices.Compare(a.remove, b.remove))
	})
	for _, c := range candidates {
		if len(mends) < most && !s.spent() && !s.subsetRepairs(c.set) {
			mends = append(mends, source.Mend{Add: s.namesOf(c.add), Remove: s.namesOf(c.remove)})
		}
	}
	return mends
}

// subsetRepairs reports whether a proper subset of a set is enough. This can happen because
// a swap takes one step, as does each half of it. A set has at most twice maxSteps
// members, so there are at most 4,096 subsets.
func (s *search) subsetRepairs(set []int) bool {
	for bits := range 1<<len(set) - 1 {
		var part []int
		for i, option := range set {
			if bits>>i&1 == 1 {
				part = append(part, option)
			}
		}
		if s.repairs(part) {
			return true
		}
	}
	return false
}

func (s *search) namesOf(options []int) (names []string) {
	for _, option := range options {
		names = append(names, s.names[option])
	}
	return names
}

// key returns a map key for a list of numbers.
func key(numbers []int) string {
	var k []byte
	for _, n := range numbers {
		k = binary.AppendUvarint(k, uint64(n))
	}
	return string(k)
}
