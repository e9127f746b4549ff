package main

import (
	"cmp"
	_ "embed"
	"errors"
	"os"
	"path/filepath"

	"ownerguide/cmd/ownerguide/internal/output"
	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/render/deliver"
	"ownerguide/render/register"
	"ownerguide/spec/source"
)

type indexCommand struct {
	forceFlag
	Dir string `arg:"" optional:"" complete:"folder" help:"Output folder of write; out, or that of the project, when left out."`
}

// Run rewrites the index.
func (c *indexCommand) Run(cli *commands, t *terminal.Terminal) error {
	c.Dir = cmp.Or(c.Dir, cli.outFolder())
	return c.index(t, cli.outputs(c.Force))
}

func (c *indexCommand) index(t *terminal.Terminal, rules deliver.Rules) error {
	if info, err := os.Stat(c.Dir); err != nil || !info.IsDir() {
		return terminal.Usagef("%s is not a folder", c.Dir)
	}
	if err := rules.Check(filepath.Join(c.Dir, output.IndexFile), output.KindIndex); err != nil {
		return err
	}
	folder, err := rules.Open(c.Dir)
	if err != nil {
		return err
	}
	defer folder.Close()
	var found source.Findings
	counted := output.NewDuplicates()
	s, err := output.ReadInventory(folder, c.Dir, true, func(p output.Place, e register.Entry) {
		if p.Absent {
			found.Add(output.Gone(c.Dir, e))
		} else if e.Stamp != "" {
			found.Add(counted.Add(c.Dir, e.Serial, e.VIN)...)
			found.Add(output.LetterReused(c.Dir, e)...)
		}
	})
	if err != nil {
		return err
	}
	defer s.Close()
	for _, u := range s.Unread {
		found.Add(output.UnreadUnit(c.Dir, u.Name, u.Err))
	}
	if s.Damaged {
		t.Note("%s", output.RegisterLost)
	}
	if err := errors.Join(s.Save(), t.SideFindings(found)); err != nil {
		return err
	}
	if err := t.Line("%s", filepath.ToSlash(filepath.Join(c.Dir, output.IndexFile))); err != nil {
		return err
	}
	if found.HasErrors() {
		return terminal.ErrFound
	}
	return nil
}
