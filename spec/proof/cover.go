package proof

import (
	"fmt"
	"slices"

	"ownerguide/spec/logic"
	"ownerguide/spec/product"
	"ownerguide/spec/source"
)

// CoveringSheet is one build sheet of a covering set.
type CoveringSheet struct {
	Name    string // name of its file
	Model   string
	Options []string
	Data    []byte
}

// Covering returns build sheets that cover all pairs: for any two options of a model, every
// combination of having and not having them that can be ordered occurs in some sheet. Each sheet is
// built greedily from the first pair still missing; bare and full sheets alternate. The
// same line gives the same sheets. A model for which no sheets can be made is
// reported.
func Covering(l *product.Line) (sheets []CoveringSheet, findings source.Findings) {
	for _, m := range l.Models {
		p := l.Problem(m)
		if n := len(p.Options); n > coveringMost {
			findings.Add(codeUnsettled.At(m.At, "%s offers %d options; covering sheets are made for at most %d", m.ID, n, coveringMost))
			continue
		}
		steps := logic.SolverStepsEach(len(l.Models))
		picked, settled := covering(p, steps)
		if !settled {
			findings.Add(codeUnsettled.At(m.At, "no covering sheets of %s were found in %d steps of the solver: its rules tie too many options together", m.ID, steps))
			continue
		}
		for i, options := range picked {
			number := i + 1
			sheets = append(sheets, CoveringSheet{Name: fmt.Sprintf("%s-%03d.yaml", m.ID, number), Model: m.ID, Options: options,
				Data: Sheet(l, m, options, i%2 == 0, number)})
		}
	}
	return sheets, findings
}

// coveringMost is the maximum number of options of a model for which covering sheets are made:
// with so many there are some hundred thousand pairs.
const coveringMost = 300

// setting is one option, ordered or not.
type setting struct {
	option int
	had    bool
}

// coverer is the state while a covering set for one model is made.
type coverer struct {
	logic.Problem
	solver  *logic.Solver
	missing map[[2]setting]bool // pairs still to cover, the lower option first
}

// covering returns choices that cover every pair of options in every combination that can
// be ordered; a model with one option is covered with and without it. Settled is false
// if the solver's steps were used up.
func covering(p logic.Problem, steps int) (picked [][]string, settled bool) {
	c := &coverer{p, logic.NewSolver(steps, p.Formulas()...), map[[2]setting]bool{}}
	if !c.solver.Possible() {
		return nil, !c.solver.Spent()
	}
	var order [][2]setting
	for i := range p.Options {
		for j := i; j < len(p.Options); j++ {
			for _, ways := range [][2]bool{{true, true}, {true, false}, {false, true}, {false, false}} {
				pair := [2]setting{{i, ways[0]}, {j, ways[1]}}
				if (i != j || ways[0] == ways[1]) && !c.missing[pair] && c.solver.Possible(c.formula(pair[0]), c.formula(pair[1])) {
					c.missing[pair] = true
					order = append(order, pair)
				}
			}
		}
	}
	if len(order) == 0 {
		return [][]string{{}}, true
	}
	for _, pair := range order {
		if c.missing[pair] && !c.solver.Spent() {
			picked = append(picked, c.choice(pair))
		}
	}
	return picked, !c.solver.Spent()
}

func (c *coverer) formula(s setting) logic.Formula {
	f := logic.Fact(c.Options[s.option])
	if !s.had {
		f = logic.Not(f)
	}
	return f
}

// choice returns a choice with a given pair; each other option is set so that it covers most pairs.
func (c *coverer) choice(start [2]setting) []string {
	formulas := []logic.Formula{c.formula(start[0]), c.formula(start[1])}
	decided := slices.Compact(start[:])
	for i := range c.Options {
		if slices.ContainsFunc(decided, func(s setting) bool { return s.option == i }) {
			continue
		}
		try := []setting{{i, true}, {i, false}}
		if c.gain(try[1], decided) > c.gain(try[0], decided) {
			slices.Reverse(try)
		}
		if !c.solver.Possible(append(slices.Clip(formulas), c.formula(try[0]))...) {
			try[0] = try[1]
		}
		decided, formulas = append(decided, try[0]), append(formulas, c.formula(try[0]))
	}
	options := []string{}
	for i, name := range c.Options {
		if slices.Contains(decided, setting{i, true}) {
			options = append(options, name)
		}
	}
	for _, a := range decided {
		for _, b := range decided {
			delete(c.missing, [2]setting{a, b})
		}
	}
	return options
}

// gain returns the number of missing pairs that a setting covers together with those decided.
func (c *coverer) gain(s setting, decided []setting) (n int) {
	for _, d := range decided {
		if c.missing[[2]setting{s, d}] || c.missing[[2]setting{d, s}] {
			n++
		}
	}
	return n
}
