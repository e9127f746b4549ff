package logic

import (
	"slices"

	"ownerguide/spec/source"
)

// RuleKind says what a rule asks of a choice.
type RuleKind int

// The kinds of rules. The zero kind is none of them; a rule of it counts as
// broken by every choice, so that a rule nobody understood is never passed over.
const (
	Requires   RuleKind = iota + 1 // the subject needs any one of the objects
	Excludes                       // the subject goes with none of the objects
	ExactlyOne                     // of the objects one must be chosen, and only one
	AtMostOne                      // of the objects at most one may be chosen
)

// Rule is one rule of a model's options.
type Rule struct {
	Kind    RuleKind
	Subject string   // the option that requires or excludes; empty, and not read, for a group
	Objects []string // for Requires alternatives, of which one is enough; else all concerned
	Because string   // the reason, or its id; not read here
	Pos     source.Pos
	ID      string
}

// Problem is what one model offers and the rules on it. An option that a rule
// names but the model does not offer can never be chosen.
type Problem struct {
	Options []string // in the order of the product line, each once
	Rules   []Rule
}

// Violation is one broken rule.
type Violation struct {
	Rule   Rule
	Chosen []string // the chosen options that break it: the subject, then objects as the rule lists them
}

// Violations returns the rules that a choice breaks, in the order of the rules,
// each once; nil when the choice is valid. Options that the model does not offer
// are taken as chosen: saying that they are not offered is another check.
func (p Problem) Violations(chosen []string) []Violation {
	set := map[string]bool{}
	for _, option := range chosen {
		set[option] = true
	}
	var broken []Violation
	for _, r := range p.Rules {
		if involved, bad := r.brokenBy(func(option string) bool { return set[option] }); bad {
			broken = append(broken, Violation{r, involved})
		}
	}
	return broken
}

// brokenBy tells whether a choice breaks the rule, and which of its options do.
func (r Rule) brokenBy(has func(option string) bool) (involved []string, broken bool) {
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

// holds tells whether a rule of this kind is kept when its subject is chosen or
// not and this many of its objects are.
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

// present returns the options of a list that are chosen, each once.
func present(options []string, has func(option string) bool) []string {
	var found []string
	for _, option := range distinct(options) {
		if has(option) {
			found = append(found, option)
		}
	}
	return found
}

// numbered is a rule with numbers for names, for the searches that look at very
// many choices. Names that can never be chosen are left out of objects.
type numbered struct {
	kind    RuleKind
	subject int // -1 when it can never be chosen, or for a group
	objects []int
}

// number returns the rules over the given names.
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

// options returns the numbers of all options the rule speaks of.
func (r numbered) options() []int {
	if r.subject < 0 {
		return r.objects
	}
	return append([]int{r.subject}, r.objects...)
}

// distinct returns the names in their order, each once.
func distinct(names ...[]string) []string {
	var once []string
	seen := map[string]bool{}
	for _, name := range slices.Concat(names...) {
		if !seen[name] {
			seen[name] = true
			once = append(once, name)
		}
	}
	return once
}
