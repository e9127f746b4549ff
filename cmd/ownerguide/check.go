package main

import (
	"io"

	"ownerguide/cmd/ownerguide/internal/input"
	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/spec/source"
)

type checkCommand struct {
	originsFlag
	Format string   `enum:"text,json" default:"text" help:"text or json."`
	Sheets []string `arg:"" name:"sheet" complete:"sheet" help:"Build sheets: files, folders, patterns, or - for standard input."`
}

// Run checks every sheet as far as its filled document, and prints the findings.
func (c *checkCommand) Run(cli *commands, t *terminal.Terminal, in io.Reader) error {
	largePages()
	sheets, all := input.ReadSheets(c.Sheets, in)
	m, err := cli.load(t)
	if err != nil {
		return err
	}
	if err := c.originsFlag.write(t, cli, m); err != nil {
		return err
	}
	found, notes, failure := m.Check(sheets)
	all.Add(found...)
	if err := t.SideFindings(notes); err != nil {
		return err
	}
	if c.Format == "json" {
		if all == nil {
			all = source.Findings{}
		}
		err = t.JSON(all.Sorted())
	} else {
		err = t.Findings(all)
	}
	if err != nil {
		return err
	}
	t.Note("%s", summary(len(sheets), all))
	switch {
	case failure != nil:
		return failure
	case all.HasErrors():
		return terminal.ErrFound
	}
	return nil
}

// summary returns the numbers of sheets and findings: "12 sheets, 0 errors".
func summary(sheets int, found source.Findings) string {
	errs, warnings := 0, 0
	for _, f := range found.Sorted() {
		switch f.Severity {
		case source.Error:
			errs++
		case source.Warning:
			warnings++
		}
	}
	text := terminal.Counted(sheets, "sheet") + ", " + terminal.Counted(errs, "error")
	if warnings > 0 {
		text += ", " + terminal.Counted(warnings, "warning")
	}
	return text
}
