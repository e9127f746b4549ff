package main

import (
	"errors"
	"fmt"
	"io"

	"ownerguide/spec/parallel"
	"ownerguide/spec/proof"
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
	return `All findings of all sheets are printed, sorted by file, line and column, each with
the serial number of its unit; what is the same for many units is said once. With
--format json they are one array, [] when clean, each unit's under the file of its
sheet. What concerns the product line
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
	found, notes, failure := m.check(sheets)
	all.Add(found...)
	for _, lost := range proof.Languages(m.line, m.templates.Texts) {
		all.Add(lost.Finding)
	}
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
	switch {
	case failure != nil:
		return failure
	case all.HasErrors():
		return errFound
	}
	return nil
}

// check takes sheets as far as their documents. Notes are about line and
// templates; failure is about units that could not be checked.
func (m *maker) check(sheets []sheetFile) (found, notes source.Findings, failure error) {
	var read []*sheet.Sheet
	parallel.InOrder(sheets, 0, func(f sheetFile) (*unit, error) {
		u := m.read(f)
		m.fill(u, nil)
		return u, nil
	}, func(f sheetFile, u *unit, err error) bool {
		if err != nil {
			failure = errors.Join(failure, fmt.Errorf("%s: %w", f.name, err))
			return true
		}
		found.Add(u.findings...)
		if u.sheet != nil {
			read = append(read, u.sheet)
		}
		if u.build != nil {
			notes.Add(m.templates.Unconfirmed(u.build)...)
		}
		return true
	})
	found.Add(sheet.CheckRun(read)...)
	return found, notes, failure
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
