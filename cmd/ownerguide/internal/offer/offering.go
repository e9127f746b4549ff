// Package offer describes what can be ordered on a model, as text and as data.
package offer

import (
	"strings"

	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/spec/logic"
	"ownerguide/spec/product"
	"ownerguide/spec/source"
)

// Offering is what can be ordered on a model, in English.
type Offering struct {
	Model   string         `json:"model"`
	Name    sourced        `json:"name"`
	Summary sourced        `json:"summary"`
	Choices string         `json:"choices"` // number of valid choices; may be beyond any machine number, or words if counting took too long
	Options []offeredOrder `json:"options"`
	Groups  []offeredRule  `json:"groups"`

	number logic.Number // the number in Choices
}

// sourced is a text of the line with its position.
type sourced struct {
	Text string `json:"text"`
	From string `json:"from"`
}

type offeredOrder struct {
	ID       string        `json:"id"`
	Name     sourced       `json:"name"`
	Describe sourced       `json:"describe"`
	Weighs   string        `json:"weighs,omitempty"` // as written in the line
	Needs    []offeredRule `json:"needs"`
	Excludes []offeredRule `json:"excludes"`
	From     string        `json:"from"`
}

// offeredRule is one rule, of an option or of a group.
type offeredRule struct {
	Kind    string   `json:"kind"` // needs, excludes, exactly-one, at-most-one
	Options []string `json:"options"`
	Because string   `json:"because"`
	From    string   `json:"from"`
}

// ruleKinds are the names of the kinds of rules.
var ruleKinds = map[logic.RuleKind]string{logic.Requires: "needs", logic.Excludes: "excludes", logic.ExactlyOne: "exactly-one", logic.AtMostOne: "at-most-one"}

// Of returns what can be ordered, counted in at most so many steps.
func Of(l *product.Line, m *product.Model, steps int) Offering {
	problem := l.Problem(m)
	text, _ := l.ModelText(source.BaseLanguage, m.ID)
	n := problem.Count(steps)
	out := Offering{Model: m.ID, Name: at(text.Name), Summary: at(text.Summary), Choices: n.String(), number: n,
		Options: []offeredOrder{}, Groups: []offeredRule{}}
	place := map[string]int{}
	for i, o := range m.Options {
		place[o.Key] = i
		text, _ := l.OptionText(source.BaseLanguage, o.Key)
		out.Options = append(out.Options, offeredOrder{ID: o.Key, Name: at(text.Name), Describe: at(text.Describe), Weighs: o.Value.Weighs.Text,
			Needs: []offeredRule{}, Excludes: []offeredRule{}, From: o.KeyAt.String()})
	}
	for _, r := range problem.Rules {
		rule := offeredRule{ruleKinds[r.Kind], r.Objects, r.Because, r.Pos.String()}
		if r.Subject == "" {
			out.Groups = append(out.Groups, rule)
		} else if o := &out.Options[place[r.Subject]]; r.Kind == logic.Requires {
			o.Needs = append(o.Needs, rule)
		} else {
			o.Excludes = append(o.Excludes, rule)
		}
	}
	return out
}

func at(w source.Given[string]) sourced { return sourced{w.Value, w.At.String()} }

// sentence returns a rule of an option in words.
func (r offeredRule) sentence() string {
	switch r.Kind {
	case "needs":
		return "needs " + strings.Join(r.Options, " or ") + ": " + r.Because
	case "excludes":
		return "does not go with " + strings.Join(r.Options, " or ") + ": " + r.Because
	case "exactly-one":
		return "exactly one of " + strings.Join(r.Options, ", ") + ": " + r.Because
	default:
		return "at most one of " + strings.Join(r.Options, ", ") + ": " + r.Because
	}
}

// Text returns the offering as a table: one option on each line, its rules below it.
func (o Offering) Text(origins bool) (out terminal.Lines) {
	from := func(indent string, s sourced) {
		if origins {
			out.Add("%sfrom %s", indent, s.From)
		}
	}
	out.Add("%s: %s", o.Model, o.Name.Text)
	from("  ", o.Name)
	out.Add("%s", o.Summary.Text)
	from("  ", o.Summary)
	wide, heavy := len("option"), len("weighs")
	for _, each := range o.Options {
		wide, heavy = max(wide, len(each.ID)), max(heavy, len(each.Weighs))
	}
	indent := strings.Repeat(" ", wide+heavy+4)
	if len(o.Options) > 0 {
		out.Add("")
		out.Add("%-*s  %*s  what it is, what it needs", wide, "option", heavy, "weighs")
	}
	for _, each := range o.Options {
		out.Add("%-*s  %*s  %s: %s", wide, each.ID, heavy, each.Weighs, each.Name.Text, each.Describe.Text)
		from(indent, each.Name)
		from(indent, each.Describe)
		for _, r := range append(each.Needs, each.Excludes...) {
			out.Add("%s%s", indent, r.sentence())
			from(indent, sourced{From: r.From})
		}
	}
	if len(o.Groups) > 0 {
		out.Add("")
	}
	for _, r := range o.Groups {
		out.Add("%s", r.sentence())
		from("  ", sourced{From: r.From})
	}
	out.Add("")
	switch {
	case o.number.Whole:
		out.Add("%s different units can be ordered", o.number)
	case o.number.Least.Sign() > 0:
		out.Add("%s different units can be ordered; not all were counted", o.number)
	default:
		out.Add("how many different units can be ordered was not counted: the rules tie too many options together")
	}
	return out
}
