package main

import (
	"fmt"
	"io"

	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

type checkCommand struct {
	originsFlag
	Format string   `enum:"text,json" default:"text" help:"text or json."`
	Sheets []string `arg:"" name:"sheet" complete:"sheet" help:"Build sheets: files, folders, patterns, or - for standard input."`
}

// Help implements kong's help provider.
func (checkCommand) Help() string {
	return `All findings of all sheets are printed, sorted by file, line and column. With
--format json they are one array, [] when clean. What concerns the product line
or the templates, and no sheet, goes to standard error, and so does the count at
the end: 12 sheets, 0 errors.

Example:

  ownerguide check testdata/sheets`
}

// Run checks every sheet as far as its filled document, and prints the findings.
func (c *checkCommand) Run(cli *commands, t *terminal, in io.Reader) error {
	sheets, all := readSheets(c.Sheets, in)
	m, err := cli.load(t)
	if err != nil {
		return err
	}
	if err := c.originsFlag.write(t, cli, m); err != nil {
		return err
	}
	var notes source.Findings // of line and templates
	var read []*sheet.Sheet
	eachInOrder(sheets, 0, func(f sheetFile) *unit {
		u := m.read(f)
		m.assemble(u)
		return u
	}, func(_ sheetFile, u *unit) bool {
		all.Add(u.findings...)
		if u.sheet != nil {
			read = append(read, u.sheet)
		}
		if u.build != nil {
			notes.Add(m.templates.Unconfirmed(u.build)...)
		}
		return true
	})
	all.Add(sheet.CheckRun(read)...)
	if err := t.sideFindings(notes); err != nil {
		return err
	}
	if c.Format == "json" {
		if all == nil {
			all = source.Findings{}
		}
		err = t.json(all.Sorted())
	} else {
		err = t.findings(all)
	}
	if err != nil {
		return err
	}
	t.note("%s", summary(len(sheets), all))
	if all.HasErrors() {
		return errFound
	}
	return nil
}

// summary counts what was looked at and what was found: "12 sheets, 0 errors".
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
	text := counted(sheets, "sheet") + ", " + counted(errs, "error")
	if warnings > 0 {
		text += ", " + counted(warnings, "warning")
	}
	return text
}

// counted is a number with the word for what is counted.
func counted(n int, word string) string {
	if n != 1 {
		word += "s"
	}
	return fmt.Sprintf("%d %s", n, word)
}
