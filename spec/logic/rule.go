package logic

import (
	"slices"

	"ownerguide/spec/source"
)

// RuleKind is the kind of a rule.
type RuleKind int

// The kinds of rules. A rule of the zero kind is violated by every choice, so that
// an unrecognized rule is never ignored.
const (
	Requires   RuleKind = iota + 1 // the subject requires at least one of the objects
	Excludes                       // the subject excludes each of the objects
	ExactlyOne                     // exactly one of the objects must be chosen
	AtMostOne                      // at most one of the objects may be chosen
)

// Rule is one rule on a model's options.
type Rule struct {
	Kind    RuleKind
	Subject string   // the option that requires or excludes; ignored for a group
	Objects []string // the other options; for Requires one of them is enough
	Because string   // the reason, or its id; not used here
	Pos     source.Pos
}

// Problem is the options of a model and the rules on them. An option that a rule
// names but the model does not offer can never be chosen.
type Problem struct {
	Options []string // in the order of the product line, each once
	Rules   []Rule
}

// Violation is a violated rule.
type Violation struct {
	Rule   Rule
	Chosen []string // the chosen options that violate it: the subject, then objects in the order of the rule
}

// Violations returns the rules that a choice violates, in the order of the rules,
// each once; nil if the choice is valid. Options that the model does not offer
// are treated as chosen: that they are not offered is another check.
func (p Problem) Violations(chosen []string) []Violation {
	set := map[string]bool{}
	for _, option := range chosen {
		set[option] = true
	}
	var broken []Violation
	for _, r := range p.Rules {
		if involved, bad := r.violatedBy(func(option string) bool { return set[option] }); bad {
			broken = append(broken, Violation{r, involved})
		}
	}
	return broken
}

// violatedBy reports whether a choice violates the rule, and the options involved.
func (r Rule) violatedBy(has func(option string) bool) (involved []string, broken bool) {
	objects := present(r.Objects, has)
	if r.Kind.holds(has(r.Subject), len(objects)) {
		return nil, false
	}
	switch r.Kind {
	case Requires, Excludes:
		return present(append([]string{r.Subject}, r.Objects...), has), true
	default:
		return objects, true
	}
}

// holds reports whether a rule of this kind is satisfied, given whether its subject is
// chosen and how many of its objects are.
func (k RuleKind) holds(subject bool, objects int) bool {
	switch k {
	case Requires:
		return !subject || objects > 0
	case Excludes:
		return !subject || objects == 0
	case ExactlyOne:
		return objects == 1
	case AtMostOne:
		return objects <= 1
	}
	return false
}

// present returns the chosen options of a list, each once.
func present(options []string, has func(option string) bool) (found []string) {
	for _, option := range distinct(options) {
		if has(option) {
			found = append(found, option)
		}
	}
	return found
}

// numbered is a rule over option numbers, for searches that visit very many choices.
// Objects that can never be chosen are left out.
type numbered struct {
	kind    RuleKind
	subject int // -1 if it can never be chosen, or for a group
	objects []int
}

// number translates the rules to indices of names.
func (p Problem) number(names []string) []numbered {
	place := map[string]int{}
	for i, name := range names {
		place[name] = i
	}
	rules := make([]numbered, len(p.Rules))
	for i, r := range p.Rules {
		rules[i] = numbered{kind: r.Kind, subject: -1}
		if at, ok := place[r.Subject]; ok {
			rules[i].subject = at
		}
		for _, object := range distinct(r.Objects) {
			if at, ok := place[object]; ok {
				rules[i].objects = append(rules[i].objects, at)
			}
		}
	}
	return rules
}

// options returns the numbers of all options in the rule.
func (r numbered) options() []int {
	if r.subject < 0 {
		return r.objects
	}
	return append([]int{r.subject}, r.objects...)
}

// distinct returns the names in order, each once.
func distinct(names ...[]string) (once []string) {
	seen := map[string]bool{}
	for _, name := range slices.Concat(names...) {
		if !seen[name] {
			seen[name] = true
			once = append(once, name)
		}
	}
	return once
}
