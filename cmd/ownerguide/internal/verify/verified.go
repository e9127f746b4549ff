// Package verify compares written guides with their records, and makes them again.
package verify

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"

	"ownerguide/cmd/ownerguide/internal/output"
	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/render/deliver"
	"ownerguide/render/record"
	"ownerguide/render/register"
	"ownerguide/spec/source"
)

// Codes of the findings of verify.
var (
	codeFileDamaged = codes.Error("file-damaged", "a guide that was changed by hand or cut short may give a wrong figure")
	codeFileStray   = codes.Warning("file-stray", "a file that no record knows may pass for part of the guide")
	codeRemade      = codes.Error("remade-differs", "a guide that its own inputs do not give cannot be trusted to follow from them")
	codeOtherInputs = codes.Note("other-inputs", "only the program, line and templates of a record can make its guide again")
)

// Codes returns the codes of the findings this package can report.
func Codes() []source.Code { return codes }

var codes source.CodeList

// The results of verifying a unit.
const (
	IsWhole   = "whole"
	IsNotMade = "not-made-again"
	IsDamaged = "damaged"
)

// Verified is the result for one unit.
type Verified struct {
	Folder   string          `json:"folder"`
	Serial   string          `json:"serial"` // empty if no record has it
	Revision string          `json:"revision"`
	Status   string          `json:"status"`
	Why      []string        `json:"why"` // why it was not made again
	Vin      string          `json:"-"`
	Findings source.Findings `json:"-"`
}

func (v *Verified) Add(found ...source.Finding) {
	v.Findings.Add(source.Findings(found).About(v.Serial, source.Pos{})...)
	if v.Findings.HasErrors() {
		v.Status = IsDamaged
	}
}

// notMade records why a guide could not be made again.
func (v *Verified) notMade(at source.Pos, why string) {
	v.Why = append(v.Why, why)
	v.Add(codeOtherInputs.At(at, "not made again: %s", why))
	if v.Status == IsWhole {
		v.Status = IsNotMade
	}
}

// CheckIndex compares the index of an output folder with its units. During a run the index
// may not match yet.
func CheckIndex(t *terminal.Terminal, dir string) (found source.Findings) {
	right, err := indexIsRight(dir)
	if err == nil && !right {
		err = deliver.WhileUnlocked(dir, func() (err error) {
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

// indexIsRight makes the index again and compares it. A missing index is not an error, and
// units that cannot be read must be corrected first.
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

// outputOf returns the position of a file in a unit's folder, or in that of a kept revision.
func outputOf(folder, name string) source.Pos {
	return source.Pos{File: path.Join(filepath.ToSlash(folder), name)}
}

// fileDamaged compares every file of a guide with its record.
func fileDamaged(folder string, root *os.Root, r *record.Record) (found source.Findings) {
	for _, f := range r.Files {
		if problem := output.Damaged(root, f); problem != "" {
			found.Add(codeFileDamaged.At(outputOf(folder, f.Name), "the file %s", problem))
		}
	}
	return found
}
