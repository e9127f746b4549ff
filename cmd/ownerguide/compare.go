package main

import (
	"fmt"
	"io"
	"os"
	"slices"

	"ownerguide/cmd/ownerguide/internal/changes"
	"ownerguide/cmd/ownerguide/internal/guide"
	"ownerguide/cmd/ownerguide/internal/input"
	"ownerguide/cmd/ownerguide/internal/output"
	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/render/pdf"
	"ownerguide/render/record"
	"ownerguide/render/register"
	"ownerguide/spec/sheet"
)

type compareCommand struct {
	guide.LineFlag
	ExitCode bool   `help:"Exit with 1 when they differ."`
	Format   string `enum:"text,json" default:"text" help:"text or json."`
	Old      string `arg:"" complete:"unit" help:"Build sheet, or folder of a unit that was written."`
	New      string `arg:"" complete:"unit" help:"Build sheet, or folder of a unit that was written."`
}

// Run compares two guides.
func (c *compareCommand) Run(cli *commands, t *terminal.Terminal, in io.Reader) error {
	m, err := cli.load(t)
	if err != nil {
		return err
	}
	var sides [2]*record.Record
	for i, name := range []string{c.Old, c.New} {
		if sides[i], err = recordOf(m, name, c.beside(m, []string{c.New, c.Old}[i]), t, in); err != nil {
			return err
		}
	}
	changed := record.Compare(sides[0], sides[1])
	if c.Format == "json" {
		err = t.JSON(changed)
	} else {
		err = t.Lines(changes.Lines(changed))
	}
	if err == nil && c.ExitCode && !changed.None() {
		return terminal.ErrFound
	}
	return err
}

// beside returns the maker for a sheet that is compared with a guide: with the line of the
// delivery, if the guide is a delivered one of the same unit.
func (c *compareCommand) beside(m *guide.Maker, name string) func(*sheet.Sheet) (*guide.Maker, error) {
	return func(s *sheet.Sheet) (*guide.Maker, error) {
		if info, err := os.Stat(name); err != nil || !info.IsDir() {
			return m, nil
		}
		h, err := output.OpenHistory(name)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		defer h.Close()
		if h.Current == nil || h.Current.Serial != s.Serial.Value {
			return m, nil
		}
		return c.LineFlag.Of(m, s.Identity(), h, register.Letter{})
	}
}

// recordOf returns the record in a folder, or the record of a guide made from a sheet by the
// maker that by returns.
func recordOf(m *guide.Maker, name string, by func(*sheet.Sheet) (*guide.Maker, error), t *terminal.Terminal, in io.Reader) (*record.Record, error) {
	if info, err := os.Stat(name); err == nil && info.IsDir() {
		h, err := output.OpenHistory(name)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		defer h.Close()
		if h.Current == nil {
			return nil, fmt.Errorf("%s is empty; expected the guide of a unit", name)
		}
		return h.Current, output.ReadContents(h.Root, h.Current)
	}
	file, err := input.ReadSheet(name, in, t)
	if err != nil {
		return nil, err
	}
	u := m.Read(file)
	current := m
	if u.Sheet != nil && !u.Sheet.Faulty {
		if m, err = by(u.Sheet); err != nil {
			return nil, err
		}
	}
	if m != current {
		u = m.Read(file)
	}
	m.Assemble(u, nil)
	m.InOwnLine(u, current)
	found := u.Findings
	if u.Sheet != nil {
		found = slices.Concat(found, m.Since(u.Sheet.Identity(), current))
	}
	if err := t.SideFindings(found); err != nil {
		return nil, err
	}
	if u.Record == nil || u.Findings.HasErrors() {
		return nil, terminal.ErrFound
	}
	report, err := pdf.Measure(u.Guide, pdf.Options{})
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	u.Record.SetPages(report.Words)
	return u.Record, nil
}
