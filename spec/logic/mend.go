package logic

import (
	"cmp"
	"encoding/binary"
	"slices"
)

// Bounds of the search for mends. A choice further than maxSteps from every
// valid one is better written anew than mended. maxVisited keeps a hostile rule
// file from holding the program up: about a tenth of a second.
const (
	maxSteps   = 6
	maxVisited = 50_000
)

// Change is a set of options to add and a set to remove, both in the order of
// the product line.
type Change struct{ Add, Remove []string }

// Mends returns the smallest changes that make a choice valid, at most the given
// number of them. Smallest is the fewest steps, where removing one member of an
// ExactlyOne or AtMostOne group and adding another of the same group is a single
// step; and no part of a change returned would do by itself. Changes that take
// least away from what was ordered come first, then those that add least, then
// the order of the product line decides. Chosen options that the model does not
// offer may be removed, never added.
//
// Nil when the choice is valid, when no valid one lies within six steps, or when
// 50,000 changes were tried in vain. When that bound falls in the middle of the
// last step, some of the smallest changes can be missing from the result.
func (p Problem) Mends(chosen []string, most int) []Change {
	s := p.newSearch(chosen)
	if s.firstBroken() < 0 || most <= 0 {
		return nil
	}
	return s.smallest(s.run(), most)
}

// search walks over sets of options to flip. A set is a sorted list of numbers.
type search struct {
	names    []string // options of the model, then chosen ones it does not offer, which can only be removed
	rules    []numbered
	partners [][]int // for each option the others it shares a group with
	ordered  []bool  // the choice as given
	has      []bool  // the choice with the set under study flipped
}

func (p Problem) newSearch(chosen []string) *search {
	s := &search{names: distinct(p.Options, chosen)}
	s.rules = p.number(s.names)
	s.partners = make([][]int, len(s.names))
	for _, r := range s.rules {
		if r.kind != ExactlyOne && r.kind != AtMostOne {
			continue
		}
		for _, a := range r.objects {
			for _, b := range r.objects {
				if a != b && !slices.Contains(s.partners[a], b) {
					s.partners[a] = append(s.partners[a], b)
				}
			}
		}
	}
	for _, name := range s.names {
		s.ordered = append(s.ordered, slices.Contains(chosen, name))
	}
	s.has = slices.Clone(s.ordered)
	return s
}

// run returns all valid sets that take the fewest steps. It tries only steps
// that touch the first rule broken so far. That loses nothing: a set that mends
// must flip an option of that rule, and the steps of a set can be taken in any
// order.
func (s *search) run() (valid [][]int) {
	level := [][]int{nil}
	visited := map[string]bool{}
	for range maxSteps {
		var next [][]int
		for _, set := range level {
			for _, step := range s.steps(set) {
				flipped := slices.Sorted(slices.Values(slices.Concat(set, step)))
				if k := key(flipped); visited[k] {
					continue
				} else if visited[k] = true; len(visited) > maxVisited {
					return valid
				}
				if s.mends(flipped) {
					valid = append(valid, flipped)
				} else {
					next = append(next, flipped)
				}
			}
		}
		if len(valid) > 0 {
			return valid
		}
		level = next
	}
	return nil
}

// steps returns the single steps, as one or two options to flip, that touch the
// first rule still broken once a set is flipped.
func (s *search) steps(set []int) (steps [][]int) {
	s.flip(set)
	defer s.flip(set)
	for _, option := range s.rules[s.firstBroken()].options() {
		if slices.Contains(set, option) {
			continue
		}
		steps = append(steps, []int{option})
		for _, other := range s.partners[option] {
			if s.ordered[option] != s.ordered[other] && !slices.Contains(set, other) {
				steps = append(steps, []int{option, other})
			}
		}
	}
	return steps
}

func (s *search) flip(set []int) {
	for _, option := range set {
		s.has[option] = !s.has[option]
	}
}

// mends tells whether the choice is valid once a set is flipped.
func (s *search) mends(set []int) bool {
	s.flip(set)
	defer s.flip(set)
	return s.firstBroken() < 0
}

// firstBroken returns the number of the first broken rule, or -1.
func (s *search) firstBroken() int {
	return slices.IndexFunc(s.rules, func(r numbered) bool { return !r.holds(s.has) })
}

// smallest sorts valid sets and returns the first ones of which no part would do.
func (s *search) smallest(valid [][]int, most int) []Change {
	type candidate struct{ add, remove, set []int }
	var candidates []candidate
	for _, set := range valid {
		c := candidate{set: set}
		for _, option := range set {
			if s.ordered[option] {
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
	var changes []Change
	for _, c := range candidates {
		if len(changes) < most && !s.partMends(c.set) {
			changes = append(changes, Change{s.named(c.add), s.named(c.remove)})
		}
	}
	return changes
}

// partMends tells whether a set could do with less: a swap of which one half is
// enough takes no more steps than that half alone. A set has at most twice
// maxSteps members, so there are at most 4,096 parts.
func (s *search) partMends(set []int) bool {
	for bits := range 1<<len(set) - 1 {
		var part []int
		for i, option := range set {
			if bits>>i&1 == 1 {
				part = append(part, option)
			}
		}
		if s.mends(part) {
			return true
		}
	}
	return false
}

func (s *search) named(options []int) []string {
	var names []string
	for _, option := range options {
		names = append(names, s.names[option])
	}
	return names
}

// key makes a list of numbers a map key.
func key(numbers []int) string {
	var k []byte
	for _, n := range numbers {
		k = binary.AppendUvarint(k, uint64(n))
	}
	return string(k)
}
