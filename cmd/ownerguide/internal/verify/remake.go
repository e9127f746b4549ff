package verify

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"time"

	"ownerguide/cmd/ownerguide/internal/guide"
	"ownerguide/cmd/ownerguide/internal/input"
	"ownerguide/cmd/ownerguide/internal/output"
	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/render/deliver"
	"ownerguide/render/record"
	"ownerguide/render/register"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

// swaps is how many times a unit's folder may be replaced during verification before that
// is reported.
const swaps = 50

// Unit compares one unit's folder, and every revision kept in it, with their records. Entry
// is the register entry of the unit. A run that writes replaces the folder in one step, so
// errors found in a folder that is no longer there are ignored.
func Unit(m *guide.Maker, dir string, p output.Place, entry register.Entry) (v Verified) {
	folder := filepath.Join(dir, p.Name)
	if p.Wrong != nil {
		return verifyUnit(m, dir, p, entry)
	}
	for range swaps {
		held, err := os.Open(folder) // while it is open, no other folder can have its identity
		v = verifyUnit(m, dir, p, entry)
		steady := false
		if err == nil {
			was, failed := held.Stat()
			is, gone := os.Lstat(folder)
			steady = failed == nil && gone == nil && os.SameFile(was, is)
			_ = held.Close()
		}
		if v.Status != IsDamaged || steady {
			break
		}
		time.Sleep(10 * time.Millisecond)
	}
	return v
}

func verifyUnit(m *guide.Maker, dir string, p output.Place, entry register.Entry) Verified {
	v := Verified{Folder: path.Join(filepath.ToSlash(dir), p.Name), Status: IsWhole, Why: []string{}}
	h, err := output.OpenPlace(dir, p)
	if err != nil {
		v.Add(output.UnreadUnit(dir, p.Name, err))
		return v
	}
	defer h.Close()
	r := h.Current
	v.Serial, v.Revision, v.Vin = r.Serial, r.Revision, r.VIN
	if entry.Serial != "" {
		v.Add(output.LetterReused(dir, output.EntryOf(output.UnitRead{Name: p.Name, Record: r}, register.Entry{Letter: entry.Letter}))...)
	}
	made := ""
	if entry.Digest == record.Digest(h.Data) {
		made = entry.Made
	}
	verifyGuide(m, &v, v.Folder, h.Root, r, h, made)
	v.Add(strayRevisions(v.Folder, h)...)
	for _, k := range r.Kept {
		at := path.Join(v.Folder, deliver.Revisions, k.Revision)
		root, err := h.OpenKept(k.Revision)
		if err != nil {
			v.Add(codeFileDamaged.At(source.Pos{File: at}, "the guide of revision %s that was kept: %v", k.Revision, terminal.PlainError(err)))
			continue
		}
		if r, err := output.ReadKept(root, k); err != nil {
			v.Add(codeFileDamaged.At(outputOf(at, record.File), "%v", err))
		} else {
			verifyGuide(m, &v, at, root, r, h, output.KeptMade(entry, k.Revision))
		}
		_ = root.Close()
	}
	return v
}

// verifyGuide compares the files of one guide with its record, and makes it again if
// possible. Made is the program that made it according to the register, if known.
func verifyGuide(m *guide.Maker, v *Verified, folder string, root *os.Root, r *record.Record, h *output.History, made string) {
	found := append(fileDamaged(folder, root, r), strays(folder, root, r)...)
	v.Add(found...)
	if found.HasErrors() {
		return
	}
	at := outputOf(folder, record.File)
	own, err := m.OfDelivery(root, r)
	if err != nil {
		v.Add(codeFileDamaged.At(outputOf(folder, record.LineFile), "what the unit was built from cannot be read: %v", err))
		return
	}
	m = own
	inputs := m.Inputs
	inputs.Sheet = r.Inputs.Sheet
	switch {
	case r.Program != guide.Version():
		v.notMade(at, "it was made by "+r.Program+", and this is "+guide.Version())
	case r.Inputs.Line != inputs.Line:
		v.notMade(at, "hazards and jobs that come with the program were other ones")
	case r.Inputs.Templates != inputs.Templates:
		v.notMade(at, "its templates were other ones")
	default:
		found := remake(m, folder, root, r, h)
		if found.HasErrors() && guide.Unreleased() && made != "" && made != guide.ProgramDigestOrEmpty() {
			v.notMade(at, "it was made by another build of "+r.Program)
			return
		}
		v.Add(found...)
	}
}

// remake makes a guide again from the copy of its sheet and compares every file.
func remake(m *guide.Maker, folder string, root *os.Root, r *record.Record, h *output.History) (found source.Findings) {
	at := outputOf(folder, sheet.CopyName)
	data, err := output.ReadAtMost(root, sheet.CopyName, source.SheetLimit)
	var u *guide.Unit
	var files []deliver.File
	if err == nil {
		u = m.Read(input.SheetFile{Name: at.File, Data: data})
		var earlier *record.Record
		if !r.Draft {
			earlier, err = m.Before(u, h)
		}
		m.Assemble(u, earlier)
		if u.Guide != nil {
			u.Record.Print, u.Record.Kept, u.Record.Proof = r.Print, r.Kept, r.Proof
			if r.Draft {
				u.Draft()
			}
		}
	}
	if err == nil {
		files, err = m.Files(u)
	}
	switch {
	case err != nil:
		found.Add(codeRemade.At(at, "the guide cannot be made again from this sheet: %v", err))
		return found
	case files == nil:
		found.Add(codeRemade.At(at, "the guide cannot be made again from this sheet"))
		return append(found, u.Findings...)
	}
	for _, f := range files {
		stands, err := output.ReadAtMost(root, f.Name, int64(len(f.Data)))
		if err != nil || !bytes.Equal(stands, f.Data) {
			found.Add(codeRemade.At(outputOf(folder, f.Name), "made again from its sheet, this file comes out differently"))
		}
	}
	return found
}

// strays reports files in a guide's folder that are not in its record.
func strays(folder string, root *os.Root, r *record.Record) (found source.Findings) {
	known := map[string]bool{record.File: true}
	for _, f := range r.Files {
		known[f.Name] = true
	}
	_ = fs.WalkDir(root.FS(), ".", func(name string, e fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case name == deliver.Revisions:
			return fs.SkipDir
		case !e.IsDir() && !known[name]:
			found.Add(codeFileStray.At(outputOf(folder, name), "the record does not know this file"))
		}
		return nil
	})
	return found
}

// strayRevisions reports kept guides that are not in the record: they look like delivered
// guides.
func strayRevisions(folder string, h *output.History) (found source.Findings) {
	entries, err := fs.ReadDir(h.Root.FS(), deliver.Revisions)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		found.Add(codeFileDamaged.At(outputOf(folder, deliver.Revisions), "%v", terminal.PlainError(err)))
	}
	for _, e := range entries {
		if !slices.ContainsFunc(h.Current.Kept, func(k record.Kept) bool { return k.Revision == e.Name() }) {
			found.Add(codeFileDamaged.At(outputOf(folder, path.Join(deliver.Revisions, e.Name())), "the record of revision %s knows no such revision", h.Current.Revision))
		}
	}
	return found
}
