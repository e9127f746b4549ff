package logic

import (
	"slices"
	"strings"
)

// Formula is a Boolean expression over facts, such as that an option is ordered.
// It is immutable, and parts may be shared: a [Solver] encodes each node once.
// The zero Formula is always true.
type Formula struct{ node *node }

type node struct {
	kind  nodeKind
	fact  string
	parts []*node
}

type nodeKind int

const (
	nodeAll nodeKind = iota // conjunction; true if there are no parts
	nodeAny                 // disjunction; false if there are no parts
	nodeFact
	nodeNot // negation of its only part
)

var (
	always = &node{kind: nodeAll}
	never  = &node{kind: nodeAny}
)

func (f Formula) root() *node {
	if f.node == nil {
		return always
	}
	return f.node
}

// Fact returns the formula that is true if the named fact is.
func Fact(name string) Formula { return Formula{&node{kind: nodeFact, fact: name}} }

// All returns the conjunction of the formulas; of none it is always true.
func All(formulas ...Formula) Formula { return combine(nodeAll, always, never, formulas) }

// Any returns the disjunction of the formulas; of none it is always false.
func Any(formulas ...Formula) Formula { return combine(nodeAny, never, always, formulas) }

// Not returns the negation of f.
func Not(f Formula) Formula {
	switch n := f.root(); {
	case n == always:
		return Formula{never}
	case n == never:
		return Formula{always}
	case n.kind == nodeNot:
		return Formula{n.parts[0]}
	default:
		return Formula{&node{kind: nodeNot, parts: []*node{n}}}
	}
}

// Implies returns the formula "if a then b".
func Implies(a, b Formula) Formula { return Any(Not(a), b) }

// combine joins formulas: neutral operands are dropped, and a ruling operand is the result.
func combine(kind nodeKind, neutral, ruling *node, formulas []Formula) Formula {
	var parts []*node
	met := map[*node]bool{neutral: true}
	for _, f := range formulas {
		switch n := f.root(); {
		case n == ruling:
			return Formula{ruling}
		case !met[n]:
			met[n] = true
			parts = append(parts, n)
		}
	}
	switch len(parts) {
	case 0:
		return Formula{neutral}
	case 1:
		return Formula{parts[0]}
	}
	return Formula{&node{kind: kind, parts: parts}}
}

// Constant reports the truth value of a formula that was simplified to a constant when it
// was made. For any other formula known is false, even if it happens to be a tautology or a contradiction.
func (f Formula) Constant() (holds, known bool) {
	switch f.root() {
	case always:
		return true, true
	case never:
		return false, true
	}
	return false, false
}

// Holds reports whether the formula is true under the assignment is.
func (f Formula) Holds(is func(fact string) bool) bool { return f.root().holds(is) }

func (n *node) holds(is func(string) bool) bool {
	switch n.kind {
	case nodeFact:
		return is(n.fact)
	case nodeNot:
		return !n.parts[0].holds(is)
	case nodeAll:
		return !slices.ContainsFunc(n.parts, func(p *node) bool { return !p.holds(is) })
	default:
		return slices.ContainsFunc(n.parts, func(p *node) bool { return p.holds(is) })
	}
}

// Substitute returns the formula with each fact replaced by the formula that by returns for it.
func (f Formula) Substitute(by func(fact string) Formula) Formula {
	switch n := f.root(); n.kind {
	case nodeFact:
		return by(n.fact)
	case nodeNot:
		return Not(Formula{n.parts[0]}.Substitute(by))
	default:
		parts := make([]Formula, len(n.parts))
		for i, p := range n.parts {
			parts[i] = Formula{p}.Substitute(by)
		}
		if n.kind == nodeAll {
			return All(parts...)
		}
		return Any(parts...)
	}
}

// Facts returns the facts that occur in the formula, sorted, each once.
func (f Formula) Facts() []string {
	var facts []string
	var visit func(*node)
	visit = func(n *node) {
		if n.kind == nodeFact {
			facts = append(facts, n.fact)
		}
		for _, p := range n.parts {
			visit(p)
		}
	}
	visit(f.root())
	slices.Sort(facts)
	return slices.Compact(facts)
}

// HasConjunct reports whether the formula is the given fact, or a conjunction that contains it.
func (f Formula) HasConjunct(fact string) bool {
	n := f.root()
	return n.kind == nodeFact && n.fact == fact ||
		n.kind == nodeAll && slices.ContainsFunc(n.parts, func(p *node) bool { return Formula{p}.HasConjunct(fact) })
}

// conjuncts returns formulas whose conjunction is equivalent to f.
func (f Formula) conjuncts() (out []Formula) {
	n := f.root()
	if n.kind != nodeAll {
		return []Formula{f}
	}
	for _, p := range n.parts {
		out = append(out, Formula{p})
	}
	return out
}

// String returns the formula in the syntax of [ParseCondition]. A formula that is
// always true is the empty string.
func (f Formula) String() string {
	n := f.root()
	if n == never {
		return "never"
	}
	return n.format(false)
}

// format returns the node as text, a compound in parentheses if nested is set.
func (n *node) format(nested bool) string {
	switch n.kind {
	case nodeFact:
		return n.fact
	case nodeNot:
		return wordNot + " " + n.parts[0].format(true)
	}
	join := " " + wordAnd + " "
	if n.kind == nodeAny {
		join = " " + wordOr + " "
	}
	words := make([]string, len(n.parts))
	for i, p := range n.parts {
		words[i] = p.format(true)
	}
	text := strings.Join(words, join)
	if nested {
		text = "(" + text + ")"
	}
	return text
}

// formula returns the rule as a formula over the options. Options that the model
// does not offer are ordinary facts here; see [Problem.Formulas].
func (r Rule) formula() Formula {
	var objects []Formula
	for _, o := range distinct(r.Objects) {
		objects = append(objects, Fact(o))
	}
	any, most := atMostOne(objects)
	switch r.Kind {
	case Requires:
		return Implies(Fact(r.Subject), any)
	case Excludes:
		return Implies(Fact(r.Subject), Not(any))
	case ExactlyOne:
		return All(any, most)
	case AtMostOne:
		return most
	}
	return Formula{never} // see RuleKind
}

// atMostOne returns the formulas "any holds" and "at most one holds". The latter is
// built recursively: at most one in each half, and not one in both halves. Its size is
// linear in the number of formulas, where one clause for each pair would be quadratic.
func atMostOne(formulas []Formula) (any, most Formula) {
	if len(formulas) < 2 {
		return Any(formulas...), All()
	}
	half := len(formulas) / 2
	left, leftMost := atMostOne(formulas[:half])
	right, rightMost := atMostOne(formulas[half:])
	return Any(left, right), All(leftMost, rightMost, Not(All(left, right)))
}

// Formulas returns what every valid choice satisfies: each rule, in order, and then
// for each option that is named but not offered, that it is not chosen.
func (p Problem) Formulas() (all []Formula) {
	var named []string
	for _, r := range p.Rules {
		all = append(all, r.formula())
		named = append(named, r.Objects...)
		if r.Kind == Requires || r.Kind == Excludes {
			named = append(named, r.Subject)
		}
	}
	offered := map[string]bool{}
	for _, option := range p.Options {
		offered[option] = true
	}
	for _, option := range distinct(named) {
		if !offered[option] {
			all = append(all, Not(Fact(option)))
		}
	}
	return all
}
