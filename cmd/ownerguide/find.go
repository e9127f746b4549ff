package main

import (
	"cmp"
	"path/filepath"
	"slices"
	"strings"

	"ownerguide/cmd/ownerguide/internal/output"
	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/render/record"
	"ownerguide/spec/source"
)

type findCommand struct {
	Format string `enum:"text,json" default:"text" help:"text or json."`
	Text   string `arg:"" complete:"none" help:"Tire date code, serial number of a part, or name, id or part number of a component; a part of it will do, in capitals or not. Or the whole serial number or VIN of a unit."`
	Dir    string `arg:"" optional:"" complete:"folder" help:"Output folder of write; out, or that of the project, when left out."`
}

// carrier is a unit that has what was looked for.
type carrier struct {
	Serial   string    `json:"serial"`
	VIN      string    `json:"vin"`
	Model    string    `json:"model"`
	Revision string    `json:"revision"`
	Buyer    string    `json:"buyer"`
	Dealer   string    `json:"dealer"`
	Found    []foundAt `json:"found"`
}

type foundAt struct {
	Place string `json:"place"`
	Kind  string `json:"kind"`
	Text  string `json:"text"`
}

// Run lists the units that have the part.
func (c *findCommand) Run(cli *commands, t *terminal.Terminal) error {
	c.Dir = cmp.Or(c.Dir, cli.outFolder())
	return c.find(t)
}

func (c *findCommand) find(t *terminal.Terminal) error {
	wanted := strings.ToLower(strings.TrimSpace(c.Text))
	if wanted == "" {
		return terminal.Usagef("nothing to look for; expected a date code, serial number, or component")
	}
	units, one, err := output.UnitsAt(c.Dir)
	if err != nil {
		return err
	}
	carriers, wrong, counted := []carrier{}, source.Findings{}, output.NewDuplicates()
	output.ReadUnits(c.Dir, units, func(u output.UnitRead) {
		if u.Err != nil {
			wrong.Add(output.UnreadUnit(c.Dir, u.Name, u.Err))
			return
		}
		r := u.Record
		if !one {
			wrong.Add(counted.Add(c.Dir, r.Serial, r.VIN)...)
		}
		if found := carried(r, wanted); len(found) > 0 {
			carriers = append(carriers, carrier{r.Serial, r.VIN, r.Model, r.Revision, r.Buyer, r.Dealer, found})
		}
	})
	if !one {
		wrong.Add(output.Missing(c.Dir, units)...)
	}
	if c.Format == "json" {
		err = t.JSON(struct {
			Units    []carrier       `json:"units"`
			Findings source.Findings `json:"findings"`
		}{carriers, wrong.Sorted()})
	} else if err = printCarriers(t, carriers); err == nil {
		err = t.SideFindings(wrong)
	}
	if err == nil && len(carriers) == 0 {
		t.Note("none of the %d units in %s has %q", len(units), filepath.ToSlash(c.Dir), c.Text)
		return terminal.ErrFound
	}
	if err == nil && wrong.HasErrors() {
		return terminal.ErrFound
	}
	return err
}

func printCarriers(t *terminal.Terminal, carriers []carrier) error {
	var list terminal.Lines
	for _, u := range carriers {
		list.Add("%s  %s  %s, %s", u.Serial, u.VIN, u.Model, cmp.Or(u.Buyer, "no buyer named"))
		for _, f := range u.Found {
			list.Add("  %s: %s %s", f.Place, f.Kind, f.Text)
		}
	}
	return t.Lines(list)
}

// carried returns where a unit has the part wanted, which is in lower case.
func carried(r *record.Record, wanted string) (found []foundAt) {
	for _, own := range []foundAt{{"unit", "serial number", r.Serial}, {"unit", "VIN", r.VIN}} {
		if strings.EqualFold(own.Text, wanted) { // a substring would match units that nobody asked for
			found = append(found, own)
		}
	}
	for _, m := range r.Fitted {
		if strings.Contains(strings.ToLower(m.Mark), wanted) {
			found = append(found, foundAt{m.Place, m.Kind, m.Mark})
		}
	}
	for _, p := range r.Parts {
		if slices.ContainsFunc([]string{p.Component, p.Text, p.Number}, func(text string) bool { return strings.Contains(strings.ToLower(text), wanted) }) {
			name := p.Component
			if p.Number != "" {
				name += " " + p.Number
			}
			found = append(found, foundAt{p.Place, p.Kind, name + " (" + p.Text + ")"})
		}
	}
	return found
}
