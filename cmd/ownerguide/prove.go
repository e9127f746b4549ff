package main

import (
	"fmt"
	"path/filepath"
	"runtime/debug"

	"ownerguide/cmd/ownerguide/internal/embedded"
	"ownerguide/cmd/ownerguide/internal/guide"
	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/render/deliver"
	"ownerguide/spec/product"
	"ownerguide/spec/proof"
)

type proveCommand struct {
	originsFlag
	Force    bool   `short:"f" help:"Also write over a covering sheet, or ownerguide.proof, that is not as this program wrote it."`
	Format   string `enum:"text,json" default:"text" help:"text or json."`
	Limit    int    `default:"20000" placeholder:"N" help:"Most orders of a model whose figures are worked out; what is not settled with so many fails."`
	Snapshot bool   `help:"List what the texts say and for whom, instead of proving."`
	Sheets   string `placeholder:"DIR" complete:"folder" help:"Write build sheets that between them have every pair of options, instead of proving."`
}

// Run proves line and templates, or writes the covering sheets.
func (c *proveCommand) Run(cli *commands, t *terminal.Terminal) error {
	if c.Limit < 1 {
		return terminal.Usagef("--limit %d: expected a number of orders from 1 up", c.Limit)
	}
	if c.Sheets != "" {
		if err := cli.outputs(c.Force).CheckFolder(c.Sheets); err != nil {
			return err
		}
	}
	m, err := cli.load(t)
	if err != nil {
		return err
	}
	if err := c.originsFlag.write(t, cli, m); err != nil {
		return err
	}
	if c.Snapshot {
		return t.Lines(m.Templates.Texts().Snapshot())
	}
	if c.Sheets != "" {
		return c.writeSheets(cli, m, t)
	}
	// Every build is calculated and discarded: see writeCommand.
	defer debug.SetGCPercent(debug.SetGCPercent(400))
	// A maker's whole line needs less than 400 MB: beyond that the collector runs more often.
	defer debug.SetMemoryLimit(debug.SetMemoryLimit(400 << 20))
	p := proof.Prove(proof.Subject{Line: m.Line, Texts: m.Templates.Texts(), Snapshot: m.Templates.Snapshot(), Inspect: m.Templates.Pictures(), Limit: c.Limit, Trade: cli.trade(m), Inside: embedded.Holds})
	if c.Format == "json" {
		err = t.JSON(p)
	} else {
		err = writeProof(t, p)
	}
	switch {
	case err != nil:
		return err
	case p.HasErrors():
		return terminal.ErrFound
	}
	return cli.keepProof(t, m, cli.outputs(c.Force))
}

// trade returns a function that reports whether a file covers more trailers than the
// maker's own line: the program's files, and unchanged copies of them.
func (c *commands) trade(m *guide.Maker) func(file string) bool {
	program := map[string]bool{}
	for _, f := range m.Templates.Files {
		program[f.Layer+"/"+f.Name] = asUnpacked(f)
	}
	return func(file string) bool { return c.Line != "" && (file == product.BaseFile || program[file]) }
}

// writeProof prints the findings, then the claims that hold.
func writeProof(t *terminal.Terminal, p *proof.Proof) error {
	if err := t.Findings(p.Findings()); err != nil {
		return err
	}
	for _, m := range p.Models {
		builds := m.Builds.String() + " builds"
		if m.Builds.String() == "1" {
			builds = "1 build"
		}
		if !m.Builds.Whole {
			builds = "builds not counted, " + m.Builds.String()
		}
		stand := ""
		if m.Extremes {
			stand = " at the extremes of weight"
		}
		if err := t.Line("%s: %s, figures of %d%s", m.ID, builds, m.Worked, stand); err != nil {
			return err
		}
	}
	for _, s := range p.Claims {
		outcome := "hold"
		if s.Failed > 0 {
			outcome = fmt.Sprintf("%d failed", s.Failed)
		}
		if err := t.Line("%-24s %5d settled, %s", s.Code, s.Claims, outcome); err != nil {
			return err
		}
	}
	return nil
}

// writeSheets writes a covering set of sheets, or none if one of them cannot be written.
func (c *proveCommand) writeSheets(cli *commands, m *guide.Maker, t *terminal.Terminal) error {
	rules := cli.outputs(c.Force)
	sheets, findings := proof.Covering(m.Line)
	if err := t.SideFindings(findings); err != nil {
		return err
	}
	for _, s := range sheets {
		if err := rules.Check(filepath.Join(c.Sheets, s.Name), kindSheet); err != nil {
			return err
		}
	}
	for _, s := range sheets {
		name := filepath.Join(c.Sheets, s.Name)
		if _, err := rules.Write(name, kindSheet, deliver.Seal(s.Data, "# Written over only while nobody has changed it: ", "")); err != nil {
			return err
		}
		if err := t.Line("%s", filepath.ToSlash(name)); err != nil {
			return err
		}
	}
	t.Note("%d sheets", len(sheets))
	if findings.HasErrors() {
		return terminal.ErrFound
	}
	return nil
}
