package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"

	"ownerguide/render/deliver"
	"ownerguide/render/record"
	"ownerguide/render/register"
	"ownerguide/spec/parallel"
	"ownerguide/spec/source"
)

type verifyCommand struct {
	Format  string   `enum:"text,json" default:"text" help:"text, or json for what became of each unit and all that is wrong."`
	Strict  bool     `help:"Exit code 1 also when a guide could not be made again."`
	Folders []string `arg:"" optional:"" name:"dir" complete:"unit" help:"Folders of units, or the output folder that holds them; out, or that of the project, when left out."`
}

// Help implements kong's help provider.
func (verifyCommand) Help() string {
	return `Every file is held against the record beside it, the earlier revisions too, and the
units of an output folder against one another, its index and what was delivered.
Where templates and program are those of the record, the guide is made again from the
copy of its sheet and the line beside it, and must come out the same, byte for byte.

Each unit is whole, damaged, or not made again: then its files are as they were
delivered, and it is said what it was made from that is not at hand. With --strict
that is an error. write may run at the same time.

Example:

  ownerguide verify out`
}

// What verify can find.
var (
	codeFileDamaged = source.Code{ID: "file-damaged", Severity: source.Error, Protects: "a guide that was changed by hand or cut short may give a wrong figure"}
	codeFileStray   = source.Code{ID: "file-stray", Severity: source.Warning, Protects: "a file that no record knows may pass for part of the guide"}
	codeRemade      = source.Code{ID: "remade-differs", Severity: source.Error, Protects: "a guide that its own inputs do not give cannot be trusted to follow from them"}
	codeOtherInputs = source.Code{ID: "other-inputs", Severity: source.Note, Protects: "only the program, line and templates of a record can make its guide again"}
)

func verifyCodes() []source.Code {
	return []source.Code{codeFileDamaged, codeFileStray, codeRemade, codeOtherInputs}
}

// What verify says of a unit.
const (
	isWhole   = "whole"
	isNotMade = "not-made-again"
	isDamaged = "damaged"
)

// verified is what became of one unit.
type verified struct {
	Folder   string   `json:"folder"`
	Serial   string   `json:"serial"` // empty when no record tells it
	Revision string   `json:"revision"`
	Status   string   `json:"status"`
	Why      []string `json:"why"` // it was not made again
	vin      string
	findings source.Findings
}

func (v *verified) add(found ...source.Finding) {
	v.findings.Add(source.Findings(found).About(v.Serial, source.Pos{})...)
	if v.findings.HasErrors() {
		v.Status = isDamaged
	}
}

// notMade says why a guide could not be made again.
func (v *verified) notMade(at source.Pos, why string) {
	v.Why = append(v.Why, why)
	v.add(codeOtherInputs.At(at, "not made again: %s", why))
	if v.Status == isWhole {
		v.Status = isNotMade
	}
}

// outputFolder is an argument of verify: a unit, or a folder of units.
type outputFolder struct {
	dir   string
	units []place
	one   bool
}

// Run verifies units and prints what is wrong with them.
func (c *verifyCommand) Run(cli *commands, ctx context.Context, t *terminal) error {
	if len(c.Folders) == 0 {
		c.Folders = []string{cli.outFolder()}
	}
	var folders []outputFolder
	for _, dir := range c.Folders {
		units, one, err := unitsAt(dir)
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

func (c *verifyCommand) verify(ctx context.Context, m *maker, t *terminal, folders []outputFolder) (err error) {
	total := 0
	for _, f := range folders {
		total += len(f.units)
	}
	all, results, count := source.Findings{}, []verified{}, map[string]int{}
	var failure error
	for _, f := range folders {
		var known map[string]register.Entry
		if !f.one {
			if known, err = registered(f.dir); err != nil {
				all.Add(registerUnread(f.dir, err))
			}
		}
		counted := newCensus()
		parallel.InOrder(f.units, 0, func(p place) (verified, error) {
			if ctx.Err() != nil {
				return verified{}, ctx.Err()
			}
			return m.verify(f.dir, p, known[p.name]), nil
		}, func(p place, v verified, err error) bool {
			if ctx.Err() != nil {
				return false
			}
			if err != nil {
				failure = errors.Join(failure, fmt.Errorf("%s: %w", filepath.Join(f.dir, p.name), err))
				v = verified{Folder: path.Join(filepath.ToSlash(f.dir), p.name), Status: isDamaged, Why: []string{}}
			}
			if v.Serial != "" && !f.one {
				v.add(counted.add(f.dir, v.Serial, v.vin)...)
			}
			all.Add(v.findings...)
			results = append(results, v)
			count[v.Status]++
			t.bar(len(results), total)
			return true
		})
		if !f.one && ctx.Err() == nil {
			all.Add(missing(f.dir, f.units)...)
			all.Add(heldIndex(t, f.dir)...)
		}
	}
	t.done()
	if c.Format == "json" {
		err = t.json(struct {
			Units    []verified      `json:"units"`
			Findings source.Findings `json:"findings"`
		}{results, all.Sorted()})
	} else if err = t.findings(all); err == nil {
		t.note("%s: %d whole, %d not made again, %d damaged", counted(len(results), "unit"), count[isWhole], count[isNotMade], count[isDamaged])
	}
	switch {
	case err != nil || failure != nil:
		return errors.Join(err, failure)
	case all.HasErrors() || c.Strict && count[isNotMade] > 0:
		return errFound
	}
	return nil
}

// heldIndex holds the index of an output folder against its units. While a run
// writes to the folder its index is not yet that of the units in it.
func heldIndex(t *terminal, dir string) (found source.Findings) {
	right, err := indexIsRight(dir)
	if err == nil && !right {
		err = deliver.WhileQuiet(dir, func() (err error) {
			right, err = indexIsRight(dir)
			return err
		})
	}
	at := source.Pos{File: path.Join(filepath.ToSlash(dir), indexFile)}
	switch {
	case errors.Is(err, deliver.ErrBusy):
		t.note("another run is writing to %s; its index was not looked at", filepath.ToSlash(dir))
	case err != nil:
		found.Add(codeIndexStale.At(at, "it cannot be held against the units: %v", err))
	case !right:
		found.Add(codeIndexStale.At(at, "it does not list the units as they stand here").WithHint("ownerguide index %s writes it anew", filepath.ToSlash(dir)))
	}
	return found
}

// indexIsRight makes the index again. A folder without one says nothing wrong,
// and beside a unit that cannot be read there is more to mend first.
func indexIsRight(dir string) (bool, error) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return false, plainError(err)
	}
	defer root.Close()
	file, err := openPlain(root, indexFile)
	if errors.Is(err, fs.ErrNotExist) {
		return true, nil
	}
	if err != nil {
		return false, plainError(err)
	}
	defer file.Close()
	first := make([]byte, 256)
	n, err := io.ReadFull(file, first)
	if err != nil && !errors.Is(err, io.ErrUnexpectedEOF) {
		return false, nil // shorter than any index
	}
	places, err := placesIn(dir)
	if err != nil {
		return false, err
	}
	unread := false
	want, err := deliver.SealOf(func(w io.Writer) error {
		page, err := beginIndex(w, len(places))
		if err != nil {
			return err
		}
		readUnits(dir, places, func(u unitRead) {
			if u.err != nil {
				unread = true
			} else {
				page.row(place{name: u.name}, entryOf(u, register.Entry{Stamp: "read"}))
			}
		})
		return page.end()
	}, sealBefore, sealAfter)
	if err != nil || unread {
		return unread, err
	}
	if _, err := file.Seek(0, io.SeekStart); err != nil {
		return false, plainError(err)
	}
	return strings.HasPrefix(string(first[:n]), want) && deliver.Sealed(file), nil
}

// outputOf names a file in a unit's folder, or in that of a kept revision.
func outputOf(folder, name string) source.Pos {
	return source.Pos{File: path.Join(filepath.ToSlash(folder), name)}
}

// fileDamaged holds every file of a guide against its record.
func fileDamaged(folder string, root *os.Root, r *record.Record) (found source.Findings) {
	for _, f := range r.Files {
		if problem := damaged(root, f); problem != "" {
			found.Add(codeFileDamaged.At(outputOf(folder, f.Name), "the file %s", problem))
		}
	}
	return found
}
