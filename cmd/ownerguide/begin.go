package main

import (
	"cmp"
	"context"
	"errors"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"

	"ownerguide/cmd/ownerguide/internal/input"
	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/cmd/ownerguide/internal/usage"
	"ownerguide/render/deliver"
	"ownerguide/render/pdf/fonts"
	"ownerguide/spec/begin"
	"ownerguide/spec/parallel"
	"ownerguide/spec/product"
	"ownerguide/spec/source"
)

type beginCommand struct {
	Options []string `placeholder:"ID" complete:"options" help:"Options the unit has; with a model only."`
	From    string   `placeholder:"FILE" complete:"file" help:"Order export, .csv or .xlsx: one sheet for each row."`
	Columns string   `placeholder:"FILE" complete:"file" help:"Column map: which column of the export fills which entry."`
	Out     string   `short:"o" aliases:"output" placeholder:"PATH" complete:"file" help:"File to write the sheet to (standard output when left out), or with --from the folder for the sheets (sheets when left out)."`
	Format  string   `enum:"text,json" default:"text" help:"With --from: text, or json for one JSON object per line and row."`
	Model   string   `arg:"" optional:"" complete:"model" help:"Model of the unit."`
}

// Run writes a sheet for a model, or sheets of an export.
func (c *beginCommand) Run(cli *commands, ctx context.Context, t *terminal.Terminal) error {
	switch {
	case c.From == "" && c.Model == "":
		return terminal.WithHint(terminal.Usagef("begin needs a model, or an order export"), "ownerguide begin MODEL, or ownerguide begin --from orders.csv; ownerguide options lists the models")
	case c.From != "" && c.Model != "":
		return terminal.Usagef("with --from each row names its model; leave %s out", c.Model)
	case c.From != "" && len(c.Options) > 0:
		return terminal.Usagef("with --from each row has its options; leave --options out")
	case c.From == "" && c.Columns != "":
		return terminal.WithHint(terminal.Usagef("--columns says what the columns of an export are"), "%s", usage.Typed([]string{"begin", "--from", "orders.csv", "--columns", c.Columns}))
	}
	l, err := cli.wholeLine(t)
	if err != nil {
		return err
	}
	if c.From != "" {
		return c.orders(cli, ctx, l, t)
	}
	return c.model(cli, l, t)
}

func (c *beginCommand) model(cli *commands, l *product.Line, t *terminal.Terminal) error {
	m, err := findModel(l, c.Model)
	if err != nil {
		return err
	}
	for _, id := range c.Options {
		if m.Options.Get(id) == nil {
			return terminal.DidYouMean(terminal.Usagef("option %s is not offered on %s", id, m.ID), id, m.Options.Names(), "ownerguide options %s lists what is", m.ID)
		}
	}
	form := begin.Form{Line: l, Model: m, Values: map[string]string{"revision": "A"}, Options: c.Options, Chosen: len(c.Options) > 0, Explains: true}
	text, blanks := form.Write()
	if c.Out == "" {
		_, err := t.Write(text)
		return err
	}
	if err := cli.outputs(false).WriteNew(c.Out, kindSheet, text); err != nil {
		return err
	}
	return t.Line("%s", begun(c.Out, blanks))
}

// begun returns the line about a sheet written, with its blanks.
func begun(name string, blanks []string) string {
	line := "begun " + filepath.ToSlash(name)
	if len(blanks) > 0 {
		line += " (to fill in: " + strings.Join(blanks, ", ") + ")"
	}
	return line
}

// filesAtOnce is the number of sheets of an export written concurrently.
const filesAtOnce = 16

// begunRow is the result for one row, as JSON.
type begunRow struct {
	Row    int      `json:"row"`
	Serial string   `json:"serial"`
	Status string   `json:"status"` // begun, kept or refused
	File   string   `json:"file"`
	Blanks []string `json:"blanks"`
}

func (c *beginCommand) orders(cli *commands, ctx context.Context, l *product.Line, t *terminal.Terminal) error {
	table, columns, findings, err := c.readExport()
	if err != nil {
		return err
	}
	var sheets []begin.Sheet
	if table != nil && !(columns == nil && c.Columns != "") {
		made, more := columns.Sheets(table, l, fonts.Covers)
		sheets = made
		findings.Add(more...)
	}
	if err := t.SideFindings(findings); err != nil {
		return err
	}
	rules := cli.outputs(false, c.From, c.Columns)
	counts := map[string]int{}
	going, stop := context.WithCancel(ctx)
	defer stop()
	var failure error // the first one
	// Most of the time is spent waiting for the disk.
	parallel.InOrder(sheets, filesAtOnce, func(s begin.Sheet) (r begunRow, err error) {
		if going.Err() == nil {
			r, err = c.keep(rules, s)
		}
		return r, err
	}, func(s begin.Sheet, r begunRow, err error) bool {
		if r.Status == "" && err == nil { // the run was stopped before
			return true
		}
		if err == nil {
			counts[r.Status]++
			err = c.report(t, r, s)
		}
		if err != nil {
			failure = cmp.Or(failure, err)
			stop()
		}
		return true
	})
	if c.Format == "text" && len(sheets) > 0 {
		t.Note("%d begun, %d kept as they are, %d refused", counts["begun"], counts["kept"], counts["refused"])
	}
	if failure != nil {
		return failure
	}
	if findings.HasErrors() {
		return terminal.ErrFound
	}
	return nil
}

// readExport reads the export and its column map.
func (c *beginCommand) readExport() (table *begin.Table, columns *begin.Columns, findings source.Findings, err error) {
	if c.Columns != "" {
		data, err := input.ReadCapped(c.Columns, nil)
		if err != nil {
			return nil, nil, nil, err
		}
		columns, findings = begin.ReadColumns(filepath.ToSlash(c.Columns), data)
	}
	separator, worksheet := "", ""
	if columns != nil {
		separator, worksheet = columns.Separator.Value, columns.Worksheet.Value
	}
	data, err := input.ReadPlain(c.From, begin.ExportLimit)
	if err != nil {
		return nil, nil, nil, err
	}
	name := filepath.ToSlash(c.From)
	var more source.Findings
	if strings.EqualFold(filepath.Ext(c.From), ".xlsx") {
		table, more = begin.ReadWorkbook(name, data, worksheet)
	} else {
		table, more = begin.ReadCSV(name, data, separator)
	}
	findings.Add(more...)
	return table, columns, findings, nil
}

// keep writes the sheet of a row; an existing file is kept.
func (c *beginCommand) keep(rules deliver.Rules, s begin.Sheet) (begunRow, error) {
	r := begunRow{Row: s.At.Line, Serial: s.Serial, Status: "refused", Blanks: slices.Concat([]string{}, s.Blanks)}
	if s.Text == nil {
		return r, nil
	}
	name := filepath.Join(cmp.Or(c.Out, "sheets"), s.Serial+".yaml")
	r.File, r.Status = filepath.ToSlash(name), "begun"
	err := rules.WriteNew(name, kindSheet, s.Text)
	if errors.Is(err, fs.ErrExist) {
		r.Status, err = "kept", nil
	}
	return r, err
}

func (c *beginCommand) report(t *terminal.Terminal, r begunRow, s begin.Sheet) error {
	if c.Format == "json" {
		return t.JSONLine(r)
	}
	switch r.Status {
	case "begun":
		return t.Line("%s", begun(r.File, r.Blanks))
	case "kept":
		return t.Line("kept %s, which was there already", r.File)
	default:
		return t.Line("refused row %d of %s", s.At.Line, s.At.File)
	}
}
