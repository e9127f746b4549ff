package main

import (
	"context"
	"errors"
	"fmt"
	"path"
	"path/filepath"

	"ownerguide/cmd/ownerguide/internal/guide"
	"ownerguide/cmd/ownerguide/internal/output"
	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/cmd/ownerguide/internal/verify"
	"ownerguide/render/register"
	"ownerguide/spec/parallel"
	"ownerguide/spec/source"
)

type verifyCommand struct {
	Format  string   `enum:"text,json" default:"text" help:"text, or json for what became of each unit and all that is wrong."`
	Strict  bool     `help:"Exit code 1 also when a guide could not be made again."`
	Folders []string `arg:"" optional:"" name:"dir" complete:"unit" help:"Folders of units, or the output folder that holds them; out, or that of the project, when left out."`
}

// outputFolder is an argument of verify: a unit, or a folder of units.
type outputFolder struct {
	dir   string
	units []output.Place
	one   bool
}

// Run verifies units and prints the findings.
func (c *verifyCommand) Run(cli *commands, ctx context.Context, t *terminal.Terminal) error {
	if len(c.Folders) == 0 {
		c.Folders = []string{cli.outFolder()}
	}
	var folders []outputFolder
	for _, dir := range c.Folders {
		units, one, err := output.UnitsAt(dir)
		if err != nil {
			return err
		}
		folders = append(folders, outputFolder{dir, units, one})
	}
	m, err := cli.load(t)
	if err != nil {
		return err
	}
	return c.verify(ctx, m, t, folders)
}

func (c *verifyCommand) verify(ctx context.Context, m *guide.Maker, t *terminal.Terminal, folders []outputFolder) (err error) {
	total := 0
	for _, f := range folders {
		total += len(f.units)
	}
	all, results, count := source.Findings{}, []verify.Verified{}, map[string]int{}
	var failure error
	for _, f := range folders {
		var known map[string]register.Entry
		if !f.one {
			if known, err = output.Registered(f.dir); err != nil {
				all.Add(output.RegisterUnread(f.dir, err))
			}
		}
		counted := output.NewDuplicates()
		parallel.InOrder(f.units, 0, func(p output.Place) (verify.Verified, error) {
			if ctx.Err() != nil {
				return verify.Verified{}, ctx.Err()
			}
			return verify.Unit(m, f.dir, p, known[p.Name]), nil
		}, func(p output.Place, v verify.Verified, err error) bool {
			if ctx.Err() != nil {
				return false
			}
			if err != nil {
				failure = errors.Join(failure, fmt.Errorf("%s: %w", filepath.Join(f.dir, p.Name), err))
				v = verify.Verified{Folder: path.Join(filepath.ToSlash(f.dir), p.Name), Status: verify.IsDamaged, Why: []string{}}
			}
			if v.Serial != "" && !f.one {
				v.Add(counted.Add(f.dir, v.Serial, v.Vin)...)
			}
			all.Add(v.Findings...)
			results = append(results, v)
			count[v.Status]++
			t.Bar(len(results), total)
			return true
		})
		if !f.one && ctx.Err() == nil {
			all.Add(output.Missing(f.dir, f.units)...)
			all.Add(verify.CheckIndex(t, f.dir)...)
		}
	}
	t.Done()
	if c.Format == "json" {
		err = t.JSON(struct {
			Units    []verify.Verified `json:"units"`
			Findings source.Findings   `json:"findings"`
		}{results, all.Sorted()})
	} else if err = t.Findings(all); err == nil {
		t.Note("%s: %d whole, %d not made again, %d damaged", terminal.Counted(len(results), "unit"), count[verify.IsWhole], count[verify.IsNotMade], count[verify.IsDamaged])
	}
	switch {
	case err != nil || failure != nil:
		return errors.Join(err, failure)
	case all.HasErrors() || c.Strict && count[verify.IsNotMade] > 0:
		return terminal.ErrFound
	}
	return nil
}
