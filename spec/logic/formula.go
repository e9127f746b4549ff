package logic

import (
	"slices"
	"strings"
)

// Formula is a statement over facts, such as that an option is ordered. It is
// never changed once made, and parts may be shared: what is the same formula
// value is worked out once by a [Solver]. The zero Formula always holds.
type Formula struct{ node *node }

type node struct {
	kind  nodeKind
	fact  string
	parts []*node
}

type nodeKind int

const (
	nodeAll nodeKind = iota // all parts hold; without parts always
	nodeAny                 // at least one part holds; without parts never
	nodeFact
	nodeNot // its one part does not hold
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

// Fact says that a fact is so.
func Fact(name string) Formula { return Formula{&node{kind: nodeFact, fact: name}} }

// All says that every one of the formulas holds; of none it always holds.
func All(formulas ...Formula) Formula { return combine(nodeAll, always, never, formulas) }

// Any says that at least one of the formulas holds; of none it never holds.
func Any(formulas ...Formula) Formula { return combine(nodeAny, never, always, formulas) }

// Not says that the formula does not hold.
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

// Implies says that b holds whenever a does.
func Implies(a, b Formula) Formula { return Any(Not(a), b) }

// combine joins formulas: neutral ones are left out, a ruling one decides.
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

// Constant tells whether the formula was seen to hold always or never while it
// was made; known is false for any other, which may still turn out to.
func (f Formula) Constant() (holds, known bool) {
	switch f.root() {
	case always:
		return true, true
	case never:
		return false, true
	}
	return false, false
}

// Holds tells whether the formula is true where the facts are that is reports.
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

// Over gives the formula with each fact replaced by what it is made of.
func (f Formula) Over(of func(fact string) Formula) Formula {
	switch n := f.root(); n.kind {
	case nodeFact:
		return of(n.fact)
	case nodeNot:
		return Not(Formula{n.parts[0]}.Over(of))
	default:
		parts := make([]Formula, len(n.parts))
		for i, p := range n.parts {
			parts[i] = Formula{p}.Over(of)
		}
		if n.kind == nodeAll {
			return All(parts...)
		}
		return Any(parts...)
	}
}

// Facts lists the facts that the formula speaks of, sorted, each once.
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

// Asks tells whether the formula says outright that a fact is so: by itself, or
// as one of what it says all of.
func (f Formula) Asks(fact string) bool {
	n := f.root()
	return n.kind == nodeFact && n.fact == fact ||
		n.kind == nodeAll && slices.ContainsFunc(n.parts, func(p *node) bool { return Formula{p}.Asks(fact) })
}

// conjuncts are formulas that all hold where this one does, and only there.
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

// String gives the formula as people write it: see [ParseCondition]. What always
// holds is empty.
func (f Formula) String() string {
	n := f.root()
	if n == never {
		return "never"
	}
	return n.written(false)
}

// written puts what joins several in parentheses where something is around it.
func (n *node) written(inside bool) string {
	switch n.kind {
	case nodeFact:
		return n.fact
	case nodeNot:
		return wordNot + " " + n.parts[0].written(true)
	}
	join := " " + wordAnd + " "
	if n.kind == nodeAny {
		join = " " + wordOr + " "
	}
	words := make([]string, len(n.parts))
	for i, p := range n.parts {
		words[i] = p.written(true)
	}
	text := strings.Join(words, join)
	if inside {
		text = "(" + text + ")"
	}
	return text
}

// formula gives the rule over the options as facts. An option that the model
// does not offer is a fact like any other here; see [Problem.Formulas].
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

// atMostOne says that any of the formulas holds, and that at most one does: at
// most one in each half, and none in one of the halves. So it grows with the
// number of formulas and not with that of pairs.
func atMostOne(formulas []Formula) (any, most Formula) {
	if len(formulas) < 2 {
		return Any(formulas...), All()
	}
	half := len(formulas) / 2
	left, leftMost := atMostOne(formulas[:half])
	right, rightMost := atMostOne(formulas[half:])
	return Any(left, right), All(leftMost, rightMost, Not(All(left, right)))
}

// Formulas gives what holds of every valid choice: each rule, in their order,
// then that no option is chosen that the model does not offer.
func (p Problem) Formulas() []Formula {
	var all []Formula
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
