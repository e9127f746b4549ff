// Package verify holds guides that were written against their records, and makes them again.
package verify

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"ownerguide/cmd/ownerguide/internal/output"
	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/render/deliver"
	"ownerguide/render/record"
	"ownerguide/render/register"
	"ownerguide/spec/source"
	"path"
	"path/filepath"
	"strings"
)

// What verify can find.
var (
	codeFileDamaged = source.Code{ID: "file-damaged", Severity: source.Error, Protects: "a guide that was changed by hand or cut short may give a wrong figure"}
	codeFileStray   = source.Code{ID: "file-stray", Severity: source.Warning, Protects: "a file that no record knows may pass for part of the guide"}
	codeRemade      = source.Code{ID: "remade-differs", Severity: source.Error, Protects: "a guide that its own inputs do not give cannot be trusted to follow from them"}
	codeOtherInputs = source.Code{ID: "other-inputs", Severity: source.Note, Protects: "only the program, line and templates of a record can make its guide again"}
)

func Codes() []source.Code {
	return []source.Code{codeFileDamaged, codeFileStray, codeRemade, codeOtherInputs}
}

// What verify says of a unit.
const (
	IsWhole   = "whole"
	IsNotMade = "not-made-again"
	IsDamaged = "damaged"
)

// Verified is what became of one unit.
type Verified struct {
	Folder   string          `json:"folder"`
	Serial   string          `json:"serial"` // empty when no record tells it
	Revision string          `json:"revision"`
	Status   string          `json:"status"`
	Why      []string        `json:"why"` // it was not made again
	Vin      string          `json:"-"`
	Findings source.Findings `json:"-"`
}

func (v *Verified) Add(found ...source.Finding) {
	v.Findings.Add(source.Findings(found).About(v.Serial, source.Pos{})...)
	if v.Findings.HasErrors() {
		v.Status = IsDamaged
	}
}

// notMade says why a guide could not be made again.
func (v *Verified) notMade(at source.Pos, why string) {
	v.Why = append(v.Why, why)
	v.Add(codeOtherInputs.At(at, "not made again: %s", why))
	if v.Status == IsWhole {
		v.Status = IsNotMade
	}
}

// HeldIndex holds the index of an output folder against its units. While a run
// writes to the folder its index is not yet that of the units in it.
func HeldIndex(t *terminal.Terminal, dir string) (found source.Findings) {
	right, err := indexIsRight(dir)
	if err == nil && !right {
		err = deliver.WhileQuiet(dir, func() (err error) {
			right, err = indexIsRight(dir)
			return err
		})
	}
	at := source.Pos{File: path.Join(filepath.ToSlash(dir), output.IndexFile)}
	switch {
	case errors.Is(err, deliver.ErrBusy):
		t.Note("another run is writing to %s; its index was not looked at", filepath.ToSlash(dir))
	case err != nil:
		found.Add(output.CodeIndexStale.At(at, "it cannot be held against the units: %v", err))
	case !right:
		found.Add(output.CodeIndexStale.At(at, "it does not list the units as they stand here").WithHint("ownerguide index %s writes it anew", filepath.ToSlash(dir)))
	}
	return found
}

// indexIsRight makes the index again. A folder without one says nothing wrong,
// and beside a unit that cannot be read there is more to mend first.
func indexIsRight(dir string) (bool, error) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return false, terminal.PlainError(err)
	}
	defer root.Close()
	file, err := output.OpenPlain(root, output.IndexFile)
	if errors.Is(err, fs.ErrNotExist) {
		return true, nil
	}
	if err != nil {
		return false, terminal.PlainError(err)
	}
	defer file.Close()
	first := make([]byte, 256)
	n, err := io.ReadFull(file, first)
	if err != nil && !errors.Is(err, io.ErrUnexpectedEOF) {
		return false, nil // shorter than any index
	}
	places, err := output.PlacesIn(dir)
	if err != nil {
		return false, err
	}
	unread := false
	want, err := deliver.SealOf(func(w io.Writer) error {
		page, err := output.BeginIndex(w, len(places))
		if err != nil {
			return err
		}
		output.ReadUnits(dir, places, func(u output.UnitRead) {
			if u.Err != nil {
				unread = true
			} else {
				page.Row(output.Place{Name: u.Name}, output.EntryOf(u, register.Entry{Stamp: "read"}))
			}
		})
		return page.End()
	}, output.SealBefore, output.SealAfter)
	if err != nil || unread {
		return unread, err
	}
	if _, err := file.Seek(0, io.SeekStart); err != nil {
		return false, terminal.PlainError(err)
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
		if problem := output.Damaged(root, f); problem != "" {
			found.Add(codeFileDamaged.At(outputOf(folder, f.Name), "the file %s", problem))
		}
	}
	return found
}
