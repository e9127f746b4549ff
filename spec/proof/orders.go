package proof

import (
	"slices"
	"strings"

	"ownerguide/spec/logic"
	"ownerguide/spec/source"
)

// orders checks the claims about the rules of a model.
func (v *view) orders() (out []outcome) {
	rules := v.problem.Formulas()
	// possible settles a claim that some order satisfies a formula.
	possible := func(o outcome, is ...logic.Formula) outcome {
		if o.held = v.solver.Possible(is...); !o.held {
			o.related = v.rulesOf(v.free.Core(slices.Concat(rules, is)))
		}
		out = append(out, o)
		return o
	}
	if !possible(outcome{code: codeModel, at: v.model.At, what: v.model.ID + " cannot be ordered: its rules shut out every choice"}).held {
		return out
	}
	for _, option := range v.model.Options {
		is := logic.Fact(option.Key)
		barred := possible(outcome{code: codeBarredHere, at: option.KeyAt, what: "no order of " + v.model.ID + " can have the option " + option.Key}, is)
		out = append(out, outcome{code: codeBarred, what: "no order of any model can have the option " + option.Key, some: true, held: barred.held, related: barred.related})
		possible(outcome{code: codeForced, at: option.KeyAt, what: "every order of " + v.model.ID + " must have the option " + option.Key}, logic.Not(is))
	}
	for i, r := range v.problem.Rules {
		contrary := slices.Clone(rules)
		contrary[i] = logic.Not(rules[i])
		implied := outcome{code: codeImplied, at: r.Pos, what: "the rule on " + describe(r) + " says nothing that the other rules do not", held: v.free.Possible(contrary...)}
		out = append(out, implied)
	}
	return out
}

// rulesOf returns rules by their indices. Indices beyond the rules stand for options that are named but
// not offered, which are reported when a line is loaded.
func (v *view) rulesOf(numbers []int) (related []source.Related) {
	for _, i := range numbers {
		if i < len(v.problem.Rules) {
			r := v.problem.Rules[i]
			related = append(related, source.Related{Pos: r.Pos, Message: "the rule on " + describe(r) + ": " + r.Because})
		}
	}
	return related
}

// describe returns a rule in words.
func describe(r logic.Rule) string {
	switch r.Kind {
	case logic.Requires:
		return r.Subject + ", which needs " + strings.Join(r.Objects, " or ")
	case logic.Excludes:
		return r.Subject + ", which does not go with " + strings.Join(r.Objects, ", ")
	case logic.ExactlyOne:
		return "exactly one of " + strings.Join(r.Objects, ", ")
	}
	return "at most one of " + strings.Join(r.Objects, ", ")
}

// components checks that every component of the line is on some build.
func (v *view) components() (out []outcome) {
	on := map[string][]logic.Formula{}
	for _, p := range v.variants.Parts() {
		on[p.Component] = append(on[p.Component], p.When)
	}
	for _, c := range v.line.Components.All() {
		v.want(&out, codeUnused, c.At, logic.Any(on[c.ID]...), "no build of any model has the component %s", c.ID)
	}
	return out
}
