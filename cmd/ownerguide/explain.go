package main

import (
	"fmt"
	"io"
	"strings"

	"ownerguide/spec/derive"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

type explainCommand struct {
	Format string `enum:"text,json" default:"text" help:"text or json."`
	Sheet  string `arg:"" help:"Build sheet, or - for standard input."`
	Value  string `arg:"" optional:"" help:"Name of a value, or the beginning of a family of names; all values when left out."`
}

// Help implements kong's help provider.
func (explainCommand) Help() string {
	return `Without a value, every figure of the unit is listed. With one, the chain is shown
down to the entries of sheet and line it rests on.

Example:

  ownerguide explain testdata/sheets/BW-27-0142.yaml weights.cargo_capacity`
}

// Run explains the values of one unit. Findings go to standard error: figures
// of a unit with errors are shown too, since they help to find the slip.
func (c *explainCommand) Run(cli *commands, t *terminal, in io.Reader) error {
	sheets, err := readSheets([]string{c.Sheet}, in)
	if err != nil {
		return err
	}
	if len(sheets) != 1 {
		return usagef("%s: expected one build sheet", c.Sheet)
	}
	l, findings, err := cli.loadLine()
	if err != nil {
		return usageError{err}
	}
	if l == nil {
		if err := findings.WriteText(t.err); err != nil {
			return err
		}
		return errFound
	}
	u := (&maker{line: l}).read(sheets[0])
	if err := u.findings.WriteText(t.err); err != nil {
		return err
	}
	if u.values == nil {
		return errFound
	}
	list := u.values.All()
	if c.Value != "" {
		if list = u.values.Family(c.Value); len(list) == 0 {
			return c.noSuchValue(u.values)
		}
	}
	if c.Format == "json" {
		err = t.json(explained(list))
	} else {
		err = c.text(t.out, u.values, list)
	}
	if err == nil && u.findings.HasErrors() {
		return errFound
	}
	return err
}

func (c *explainCommand) noSuchValue(vs *derive.Values) error {
	if why := vs.WhyAbsent(c.Value); why != "" {
		return fmt.Errorf("this unit has no %s: %s", c.Value, why)
	}
	var names []string
	for _, v := range vs.All() {
		names = append(names, v.Name)
	}
	if near, ok := source.Nearest(c.Value, names); ok {
		return usagef("no value is called %s\n  hint: did you mean %s?", c.Value, near)
	}
	return usagef("no value is called %s", c.Value)
}

func (c *explainCommand) text(w io.Writer, vs *derive.Values, list []*derive.Value) error {
	var b strings.Builder
	for _, v := range list {
		if c.Value == "" {
			fmt.Fprintf(&b, "%-36s %s\n", v.Name, v.Print(quantity.English))
			continue
		}
		chain(&b, vs, v, 0, map[string]bool{})
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// chain prints a value and what it rests on, each step indented below the one
// that uses it. A value shown before is named again but not opened again.
func chain(b *strings.Builder, vs *derive.Values, v *derive.Value, depth int, shown map[string]bool) {
	pad := strings.Repeat("  ", depth)
	fmt.Fprintf(b, "%s%s = %s\n", pad, v.Name, v.Print(quantity.English))
	if shown[v.Name] {
		fmt.Fprintf(b, "%s  (see above)\n", pad)
		return
	}
	shown[v.Name] = true
	fmt.Fprintf(b, "%s  formula: %s\n%s  source: %s\n", pad, v.Formula, pad, v.Source)
	if v.Round.Side != quantity.AsStated {
		fmt.Fprintf(b, "%s  rounded: %s\n", pad, v.Round.Side)
	}
	for _, in := range v.Inputs {
		if in.Name == "" {
			fmt.Fprintf(b, "%s  %s = %s (%s)\n", pad, in.Path, in.Text, in.At)
			continue
		}
		if used, ok := vs.Lookup(in.Name); ok {
			chain(b, vs, used, depth+1, shown)
		}
	}
}

// explanation is one value for other programs.
type explanation struct {
	Name    string        `json:"name"`
	Text    string        `json:"text"`
	Number  *float64      `json:"number"` // null for words and dates
	Unit    string        `json:"unit"`
	Exact   *float64      `json:"exact"` // before rounding, in the same unit
	Formula string        `json:"formula"`
	Rounded string        `json:"rounded"`
	Inputs  []explanInput `json:"inputs"`
	Source  string        `json:"source"`
	Printed bool          `json:"printed"` // may appear in the owner's guide
}

type explanInput struct {
	Name string `json:"name,omitempty"`
	Path string `json:"path,omitempty"`
	Text string `json:"text"`
	File string `json:"file,omitempty"`
	Line int    `json:"line,omitempty"`
}

func explained(list []*derive.Value) []explanation {
	out := make([]explanation, 0, len(list))
	for _, v := range list {
		e := explanation{Name: v.Name, Text: v.Print(quantity.English), Formula: v.Formula, Rounded: v.Round.Side.String(),
			Inputs: []explanInput{}, Source: v.Source.String(), Printed: !v.Engineer}
		if number, unit, ok := v.Number(quantity.English); ok {
			e.Number, e.Unit = &number, unit
			if q, isQuantity := v.Exact.(quantity.Quantity); isQuantity {
				exact := quantity.In(q, unit)
				e.Exact = &exact
			}
		}
		for _, in := range v.Inputs {
			e.Inputs = append(e.Inputs, explanInput{in.Name, in.Path, in.Text, in.At.File, in.At.Line})
		}
		out = append(out, e)
	}
	return out
}
