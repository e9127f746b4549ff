package main

import (
	"strconv"
	"strings"

	"ownerguide/spec/logic"
	"ownerguide/spec/product"
	"ownerguide/spec/source"
)

type optionsCommand struct {
	originsFlag
	Format string `enum:"text,json,svg" default:"text" help:"text, json, or svg for a graph of what needs and excludes what."`
	Model  string `arg:"" optional:"" complete:"model" help:"Model to show; all models are listed when left out."`
}

// Help implements kong's help provider.
func (optionsCommand) Help() string {
	return `Line and templates are read whole, and what is wrong with them is printed; so this
is also how to check them without a build sheet.

Example:

  ownerguide options tilt-20`
}

// Run shows the models of the line, or the options of one.
func (c *optionsCommand) Run(cli *commands, t *terminal) error {
	m, err := cli.load(t)
	if err != nil {
		return err
	}
	if err := c.originsFlag.write(t, cli, m); err != nil {
		return err
	}
	if c.Model == "" {
		return c.models(m.line, t)
	}
	model, err := findModel(m.line, c.Model)
	if err != nil {
		return err
	}
	offer := offered(m.line, model, logic.CountSteps)
	switch c.Format {
	case "json":
		return t.json(offer)
	case "svg":
		_, err = t.Write(drawGraph(offer))
	default:
		err = t.lines(offer.text(c.Origins))
	}
	return err
}

func (c *optionsCommand) models(l *product.Line, t *terminal) error {
	if c.Format == "svg" {
		return withHint(usagef("--format svg draws the options of one model"), "%s", typed([]string{"options", "--format", "svg", "MODEL"}))
	}
	if c.Format == "json" {
		all := []offering{}
		for _, m := range l.Models {
			all = append(all, offered(l, m, logic.CountStepsEach(len(l.Models))))
		}
		return t.json(all)
	}
	wide, digits := 0, 0
	for _, m := range l.Models {
		wide, digits = max(wide, len(m.ID)), max(digits, len(strconv.Itoa(len(m.Options))))
	}
	var list lines
	for _, m := range l.Models {
		text, _ := l.ModelText(offerLanguage, m.ID)
		list.add("%-*s  %*d options  %s: %s", wide, m.ID, digits, len(m.Options), text.Name.Value, text.Summary.Value)
	}
	return t.lines(list)
}

// offering is what can be ordered on a model, in English.
type offering struct {
	Model   string         `json:"model"`
	Name    sourced        `json:"name"`
	Summary sourced        `json:"summary"`
	Choices string         `json:"choices"` // how many sets of options keep every rule; may be beyond any machine number, or words where counting took too long
	Options []offeredOrder `json:"options"`
	Groups  []offeredRule  `json:"groups"`

	number logic.Number // behind Choices
}

// sourced is a text of the line with the place where it was written.
type sourced struct {
	Text string `json:"text"`
	From string `json:"from"`
}

type offeredOrder struct {
	ID       string        `json:"id"`
	Name     sourced       `json:"name"`
	Describe sourced       `json:"describe"`
	Weighs   string        `json:"weighs,omitempty"` // as the line writes it
	Needs    []offeredRule `json:"needs"`
	Excludes []offeredRule `json:"excludes"`
	From     string        `json:"from"`
}

// offeredRule is one rule: of the option it stands under, or of a group.
type offeredRule struct {
	Kind    string   `json:"kind"` // needs, excludes, exactly-one, at-most-one
	Options []string `json:"options"`
	Because string   `json:"because"`
	From    string   `json:"from"`
}

// ruleKinds names the kinds of rules.
var ruleKinds = map[logic.RuleKind]string{logic.Requires: "needs", logic.Excludes: "excludes", logic.ExactlyOne: "exactly-one", logic.AtMostOne: "at-most-one"}

// offered gathers what can be ordered, and counts it in at most so many steps.
func offered(l *product.Line, m *product.Model, steps int) offering {
	problem := l.Problem(m)
	text, _ := l.ModelText(offerLanguage, m.ID)
	n := problem.Count(steps)
	out := offering{Model: m.ID, Name: at(text.Name), Summary: at(text.Summary), Choices: n.String(), number: n,
		Options: []offeredOrder{}, Groups: []offeredRule{}}
	place := map[string]int{}
	for i, o := range m.Options {
		place[o.Key] = i
		text, _ := l.OptionText(offerLanguage, o.Key)
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

// offerLanguage is the language every line has all its words in.
const offerLanguage = "en"

func at(w source.Given[string]) sourced { return sourced{w.Value, w.At.String()} }

// sentence says a rule of an option as a person would.
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

// text is the offering as a table: an option a line, its rules below it.
func (o offering) text(origins bool) (out lines) {
	from := func(indent string, s sourced) {
		if origins {
			out.add("%sfrom %s", indent, s.From)
		}
	}
	out.add("%s: %s", o.Model, o.Name.Text)
	from("  ", o.Name)
	out.add("%s", o.Summary.Text)
	from("  ", o.Summary)
	wide, heavy := len("option"), len("weighs")
	for _, each := range o.Options {
		wide, heavy = max(wide, len(each.ID)), max(heavy, len(each.Weighs))
	}
	indent := strings.Repeat(" ", wide+heavy+4)
	if len(o.Options) > 0 {
		out.add("")
		out.add("%-*s  %*s  what it is, what it needs", wide, "option", heavy, "weighs")
	}
	for _, each := range o.Options {
		out.add("%-*s  %*s  %s: %s", wide, each.ID, heavy, each.Weighs, each.Name.Text, each.Describe.Text)
		from(indent, each.Name)
		from(indent, each.Describe)
		for _, r := range append(each.Needs, each.Excludes...) {
			out.add("%s%s", indent, r.sentence())
			from(indent, sourced{From: r.From})
		}
	}
	if len(o.Groups) > 0 {
		out.add("")
	}
	for _, r := range o.Groups {
		out.add("%s", r.sentence())
		from("  ", sourced{From: r.From})
	}
	out.add("")
	switch {
	case o.number.Whole:
		out.add("%s different units can be ordered", o.number)
	case o.number.Least.Sign() > 0:
		out.add("%s different units can be ordered; not all were counted", o.number)
	default:
		out.add("how many different units can be ordered was not counted: the rules tie too many options together")
	}
	return out
}
