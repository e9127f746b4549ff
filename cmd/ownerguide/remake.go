package main

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"ownerguide/render/deliver"
	"ownerguide/render/record"
	"ownerguide/render/register"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

// swaps is how often a unit's folder may be replaced while it is verified
// before that is told.
const swaps = 50

// verify holds one unit's folder, and every revision kept in it, against their
// records. Entry is what the register says of the unit. A run that writes puts
// another folder in its place in one step: what was found wrong in a folder that
// is no longer there says nothing.
func (m *maker) verify(dir string, p place, entry register.Entry) (v verified) {
	folder := filepath.Join(dir, p.name)
	if p.wrong != nil {
		return m.verifyUnit(dir, p, entry)
	}
	for range swaps {
		held, err := os.Open(folder) // while it is held, no other folder can pass for it
		v = m.verifyUnit(dir, p, entry)
		steady := false
		if err == nil {
			was, failed := held.Stat()
			is, gone := os.Lstat(folder)
			steady = failed == nil && gone == nil && os.SameFile(was, is)
			_ = held.Close()
		}
		if v.Status != isDamaged || steady {
			break
		}
		time.Sleep(10 * time.Millisecond)
	}
	return v
}

func (m *maker) verifyUnit(dir string, p place, entry register.Entry) verified {
	v := verified{Folder: path.Join(filepath.ToSlash(dir), p.name), Status: isWhole, Why: []string{}}
	h, err := openPlace(dir, p)
	if err != nil {
		v.add(unreadUnit(dir, p.name, err))
		return v
	}
	defer h.close()
	r := h.current
	v.Serial, v.Revision, v.vin = r.Serial, r.Revision, r.VIN
	if entry.Serial != "" {
		v.add(letterReused(dir, entryOf(unitRead{name: p.name, record: r}, register.Entry{Letter: entry.Letter}))...)
	}
	made := ""
	if entry.Digest == record.Digest(h.data) {
		made = entry.Made
	}
	m.verifyGuide(&v, v.Folder, h.root, r, h, made)
	v.add(strayRevisions(v.Folder, h)...)
	for _, k := range r.Kept {
		at := path.Join(v.Folder, deliver.Revisions, k.Revision)
		root, err := h.openKept(k.Revision)
		if err != nil {
			v.add(codeFileDamaged.At(source.Pos{File: at}, "the guide of revision %s that was kept: %v", k.Revision, plainError(err)))
			continue
		}
		if r, err := readKept(root, k); err != nil {
			v.add(codeFileDamaged.At(outputOf(at, record.File), "%v", err))
		} else {
			m.verifyGuide(&v, at, root, r, h, keptMade(entry, k.Revision))
		}
		_ = root.Close()
	}
	return v
}

// verifyGuide holds the files of one guide against its record, and makes it
// again where that can be done. Made is the program that the register says has
// made it, if any.
func (m *maker) verifyGuide(v *verified, folder string, root *os.Root, r *record.Record, h *history, made string) {
	found := append(fileDamaged(folder, root, r), strays(folder, root, r)...)
	v.add(found...)
	if found.HasErrors() {
		return
	}
	at := outputOf(folder, record.File)
	own, err := m.ofDelivery(root, r)
	if err != nil {
		v.add(codeFileDamaged.At(outputOf(folder, record.LineFile), "what the unit was built from cannot be read: %v", err))
		return
	}
	m = own
	inputs := m.inputs
	inputs.Sheet = r.Inputs.Sheet
	switch {
	case r.Program != version():
		v.notMade(at, "it was made by "+r.Program+", and this is "+version())
	case r.Inputs.Line != inputs.Line:
		v.notMade(at, "hazards and jobs that come with the program were other ones")
	case r.Inputs.Templates != inputs.Templates:
		v.notMade(at, "its templates were other ones")
	default:
		found := m.remake(folder, root, r, h)
		if found.HasErrors() && unreleased() && made != "" && made != madeHere() {
			v.notMade(at, "it was made by another build of "+r.Program)
			return
		}
		v.add(found...)
	}
}

// unreleased tells whether other programs may bear the version of this one.
func unreleased() bool {
	return strings.Contains(version(), "(") || strings.HasSuffix(version(), "+dirty")
}

// madeHere is the mark of this program; empty when it cannot read itself.
func madeHere() string {
	made, err := madeWith()
	if err != nil {
		return ""
	}
	return made
}

// remake makes a guide again from the copy of its sheet and compares every file.
func (m *maker) remake(folder string, root *os.Root, r *record.Record, h *history) (found source.Findings) {
	at := outputOf(folder, sheet.CopyName)
	data, err := readAtMost(root, sheet.CopyName, source.SheetLimit)
	var u *unit
	var files []deliver.File
	if err == nil {
		u = m.read(newSheetFile(at.File, data))
		var earlier *record.Record
		if !r.Draft {
			earlier, err = m.before(u, h)
		}
		m.assemble(u, earlier)
		if u.guide != nil {
			u.record.Print, u.record.Kept, u.record.Proof = r.Print, r.Kept, r.Proof
			if r.Draft {
				u.draft()
			}
		}
	}
	if err == nil {
		files, err = m.files(u)
	}
	switch {
	case err != nil:
		found.Add(codeRemade.At(at, "the guide cannot be made again from this sheet: %v", err))
		return found
	case files == nil:
		found.Add(codeRemade.At(at, "the guide cannot be made again from this sheet"))
		return append(found, u.findings...)
	}
	for _, f := range files {
		stands, err := readAtMost(root, f.Name, int64(len(f.Data)))
		if err != nil || !bytes.Equal(stands, f.Data) {
			found.Add(codeRemade.At(outputOf(folder, f.Name), "made again from its sheet, this file comes out differently"))
		}
	}
	return found
}

// strays are files in a guide's folder that its record does not know.
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

// strayRevisions are guides among those kept that the record does not name: who
// finds one there takes it for a guide that was delivered.
func strayRevisions(folder string, h *history) (found source.Findings) {
	entries, err := fs.ReadDir(h.root.FS(), deliver.Revisions)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		found.Add(codeFileDamaged.At(outputOf(folder, deliver.Revisions), "%v", plainError(err)))
	}
	for _, e := range entries {
		if !slices.ContainsFunc(h.current.Kept, func(k record.Kept) bool { return k.Revision == e.Name() }) {
			found.Add(codeFileDamaged.At(outputOf(folder, path.Join(deliver.Revisions, e.Name())), "the record of revision %s knows no such revision", h.current.Revision))
		}
	}
	return found
}
