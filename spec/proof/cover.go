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
	Name    string // of its file
	Model   string
	Options []string
	Data    []byte
}

// Covering makes build sheets such that whatever two options of a model can be
// had, left out, or had one without the other is so in one of them. Each is
// built greedily from the first pair still missing; full and bare sheets take
// turns. The same line gives the same sheets. A model for which none can be made
// is told of.
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

// coveringMost is how many options a model may offer for covering sheets to be
// made: with so many there are some hundred thousand pairs.
const coveringMost = 300

// setting is one option had or left out.
type setting struct {
	option int
	had    bool
}

// coverer is the making of a covering set for one model.
type coverer struct {
	logic.Problem
	solver  *logic.Solver
	missing map[[2]setting]bool // pairs to cover, the lower option first
}

// covering picks choices that cover every pair of options in every way it can
// be ordered; a model of one option is covered with and without it. It is not
// settled when the solver's steps were used up.
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

// choice makes a choice that has a pair, and of the rest what covers most.
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

// gain counts the pairs still missing that a setting makes with those decided.
func (c *coverer) gain(s setting, decided []setting) (n int) {
	for _, d := range decided {
		if c.missing[[2]setting{s, d}] || c.missing[[2]setting{d, s}] {
			n++
		}
	}
	return n
}
