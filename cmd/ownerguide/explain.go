package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"ownerguide/cmd/ownerguide/internal/guide"
	"ownerguide/cmd/ownerguide/internal/input"
	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/spec/derive"
	"ownerguide/spec/quantity"
)

type explainCommand struct {
	Format string `enum:"text,json" default:"text" help:"text or json."`
	Sheet  string `arg:"" complete:"sheet" help:"Build sheet, or - for standard input."`
	Value  string `arg:"" optional:"" complete:"value" help:"Name of a value, or the beginning of a family of names; all values when left out."`
}

// Run explains the values of one unit. Findings go to standard error: figures
// of a unit with errors are shown too, since they help to find the slip.
func (c *explainCommand) Run(cli *commands, t *terminal.Terminal, in io.Reader) error {
	file, err := input.ReadSheet(c.Sheet, in, t)
	if err != nil {
		return err
	}
	l, err := cli.wholeLine(t)
	if err != nil {
		return err
	}
	u := (&guide.Maker{Line: l}).Read(file)
	if err := t.SideFindings(u.Findings); err != nil {
		return err
	}
	if u.Values == nil {
		return terminal.ErrFound
	}
	list := u.Values.All()
	if c.Value != "" {
		if list = u.Values.Family(strings.TrimSuffix(c.Value, ".")); len(list) == 0 {
			return c.noSuchValue(u)
		}
	}
	switch print := u.Build.Print(); {
	case c.Format == "json":
		err = t.JSON(described(u.Values, list, print))
	case c.Value == "":
		err = t.Lines(columns(list, print))
	default:
		chains := &chain{values: u.Values, print: print, shown: map[string]bool{}}
		for _, v := range list {
			chains.write(v, 0)
		}
		err = t.Lines(chains.Lines)
	}
	if err == nil && u.Findings.HasErrors() {
		return terminal.ErrFound
	}
	return err
}

func (c *explainCommand) noSuchValue(u *guide.Unit) error {
	if off := u.Build.Line.Maker.SwitchedOffFor(c.Value, u.Build.Has); off != nil {
		return fmt.Errorf("%s is switched off on this unit: %s (%s, %s)", off, off.Reason.Value, off.By.Value, off.Reason.At)
	}
	for _, name := range []string{c.Value, derive.FamilyOf(c.Value)} {
		if why := u.Values.WhyAbsent(name); why != "" {
			return fmt.Errorf("this unit has no %s: %s", c.Value, why)
		}
	}
	var names []string // names of values, and their prefixes
	for _, v := range u.Values.All() {
		for end := len(v.Name); end > 0; end = strings.LastIndexByte(v.Name[:end], '.') {
			if name := v.Name[:end]; !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	return terminal.DidYouMean(terminal.Usagef("no value is called %s", c.Value), c.Value, names, "ownerguide explain %s lists those of this unit", c.Sheet)
}

// columns lists figures in a column below the name of their system.
func columns(list []*derive.Value, print quantity.Print) (out terminal.Lines) {
	system, widest := "", 0
	for _, v := range list {
		widest = max(widest, len(v.Name))
	}
	for _, v := range list {
		if s, _, _ := strings.Cut(v.Name, "."); s != system {
			if system != "" {
				out.Add("")
			}
			system = s
			out.Add("%s", strings.ReplaceAll(system, "_", " "))
		}
		mark := ""
		if v.Engineer {
			mark = " *"
		}
		out.Add("  %-*s  %s%s", widest, v.Name, v.Print(print), mark)
	}
	return out
}

// figure describes one figure of a unit, with its inputs, for other programs.
type figure struct {
	Name    string   `json:"name"`
	Text    string   `json:"text"`
	Number  *float64 `json:"number"` // null for words and dates
	Unit    string   `json:"unit"`
	Exact   *float64 `json:"exact"` // before rounding, in the same unit
	Formula string   `json:"formula"`
	Rounded string   `json:"rounded"` // the side; empty for words, dates and counts
	Inputs  []entry  `json:"inputs"`
	Source  string   `json:"source"`
	Printed bool     `json:"printed"` // may appear in the owner's guide
}

// entry is a value by name, or an entry of sheet or line by its path.
type entry struct {
	Name string `json:"name,omitempty"`
	Path string `json:"path,omitempty"`
	Text string `json:"text"`
	File string `json:"file,omitempty"`
	Line int    `json:"line,omitempty"`
}

// described describes figures for other programs.
func described(values *derive.Values, list []*derive.Value, print quantity.Print) []figure {
	out := make([]figure, 0, len(list))
	for _, v := range list {
		f := figure{Name: v.Name, Text: v.Print(print), Formula: v.Formula, Inputs: []entry{}, Source: v.Source.String(), Printed: !v.Engineer}
		if number, unit, ok := v.Number(print); ok {
			f.Number, f.Unit = &number, unit
			if q, isQuantity := v.Exact.(quantity.Quantity); isQuantity {
				exact := quantity.In(q, unit)
				f.Exact, f.Rounded = &exact, v.Round.How()
			}
		}
		for _, in := range v.Inputs {
			if used, ok := values.Lookup(in.Name); ok {
				in.Text = used.Print(print)
			}
			f.Inputs = append(f.Inputs, entry{in.Name, in.Path, in.Text, in.At.File, in.At.Line})
		}
		out = append(out, f)
	}
	return out
}

// chain writes values and their inputs, each level indented below the value that uses
// it. A value written before is not expanded again, and neither is another member of the
// same family: each visit depends on the previous one.
type chain struct {
	terminal.Lines
	values *derive.Values
	print  quantity.Print
	shown  map[string]bool
}

func (c *chain) write(v *derive.Value, depth int) {
	pad := strings.Repeat("  ", depth)
	c.Add("%s%s = %s", pad, v.Name, v.Print(c.print))
	if c.shown[v.Name] {
		c.Add("%s  (see above)", pad)
		return
	}
	c.shown[v.Name] = true
	c.Add("%s  formula: %s", pad, v.Formula)
	c.Add("%s  source: %s", pad, v.Source)
	if q, ok := v.Exact.(quantity.Quantity); ok {
		_, unit, _ := v.Number(c.print)
		c.Add("%s  exact: %.9g %s, printed %s", pad, quantity.In(q, unit), unit, printedSide(v.Round))
	}
	if v.Engineer {
		c.Add("%s  not printed for the owner", pad)
	}
	family := derive.FamilyOf(v.Name)
	for _, in := range v.Inputs {
		used, ok := c.values.Lookup(in.Name)
		switch {
		case !ok:
			c.Add("%s  %s = %s (%s)", pad, in.Path, in.Text, in.At)
		case family != "" && derive.FamilyOf(used.Name) == family:
			c.Add("%s  %s = %s", pad, used.Name, used.Print(c.print))
		default:
			c.write(used, depth+1)
		}
	}
}

func printedSide(r quantity.Rounding) string {
	if r.Stated {
		return r.How()
	}
	return "rounded " + r.How()
}
