package main

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"ownerguide/render/deliver"
	"ownerguide/render/record"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

// history is what stands in the output folder for one unit.
type history struct {
	folder  string           // of the unit
	current *record.Record   // nil when there is no guide yet
	data    []byte           // of the current record
	earlier []*record.Record // revisions kept, the latest first
}

// historyOf reads the records of a unit. It is an error when the folder holds
// files and no record that can be read: they are not ours to replace.
func historyOf(folder string) (*history, error) {
	h := &history{folder: folder}
	if info, err := os.Lstat(folder); err == nil && !info.IsDir() {
		return nil, fmt.Errorf("%s is not a folder", folder)
	}
	entries, err := os.ReadDir(folder)
	if errors.Is(err, fs.ErrNotExist) || err == nil && len(entries) == 0 {
		return h, nil
	}
	if err != nil {
		return nil, fmt.Errorf("reading %s: %w", folder, plainError(err))
	}
	if h.current, h.data, err = readRecord(folder); err != nil {
		return nil, err
	}
	kept, err := readFolder(folder, deliver.Revisions)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("reading the revisions in %s: %w", folder, plainError(err))
	}
	for _, e := range kept {
		if !e.IsDir() {
			return nil, fmt.Errorf("%s is not a folder", filepath.Join(folder, deliver.Revisions, e.Name()))
		}
		r, _, err := readRecord(filepath.Join(folder, deliver.Revisions, e.Name()))
		if err != nil {
			return nil, err
		}
		h.earlier = append(h.earlier, r)
	}
	slices.SortFunc(h.earlier, func(a, b *record.Record) int {
		if sheet.LaterRevision(a.Revision, b.Revision) {
			return -1
		}
		return 1
	})
	return h, nil
}

// recordLimit bounds what is read of a record: a long one has half a megabyte.
const recordLimit = 16 << 20

func readRecord(folder string) (*record.Record, []byte, error) {
	name := filepath.Join(folder, record.File)
	data, err := readAtMost(name, recordLimit)
	if err != nil {
		return nil, nil, err
	}
	r, err := record.Decode(data)
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", name, err)
	}
	return r, data, nil
}

// readAtMost reads a file, and refuses one that is longer.
func readAtMost(name string, limit int64) ([]byte, error) {
	file, err := openPlain(filepath.Dir(name), filepath.Base(name))
	if err != nil {
		return nil, fmt.Errorf("reading %s: %w", name, plainError(err))
	}
	defer file.Close()
	data, err := io.ReadAll(io.LimitReader(file, limit+1))
	if err != nil {
		return nil, fmt.Errorf("reading %s: %w", name, plainError(err))
	}
	if int64(len(data)) > limit {
		return nil, fmt.Errorf("reading %s: it is longer than %d bytes", name, limit)
	}
	return data, nil
}

// openPlain opens a plain file of an output folder. No link in the folder leads
// outside it, and a pipe, which would never end, is not opened.
func openPlain(folder, name string) (*os.File, error) {
	root, err := os.OpenRoot(folder)
	if err != nil {
		return nil, err
	}
	defer root.Close()
	switch info, err := root.Stat(name); {
	case err != nil:
		return nil, err
	case !info.Mode().IsRegular():
		return nil, errNotPlain
	}
	return root.Open(name)
}

var errNotPlain = errors.New("it is not a plain file")

// readFolder lists a folder in an output folder; no link leads it outside.
func readFolder(folder, name string) ([]fs.DirEntry, error) {
	root, err := os.OpenRoot(folder)
	if err != nil {
		return nil, err
	}
	defer root.Close()
	return fs.ReadDir(root.FS(), name)
}

// before is the latest record of a revision earlier than the given one; nil
// without one.
func (h *history) before(revision string) *record.Record {
	if h.current != nil && sheet.LaterRevision(revision, h.current.Revision) {
		return h.current
	}
	for _, r := range h.earlier {
		if sheet.LaterRevision(revision, r.Revision) {
			return r
		}
	}
	return nil
}

// whole tells whether every file of the current guide is as it was written.
func (h *history) whole() bool {
	for _, f := range h.current.Files {
		if problem := damaged(h.folder, f); problem != "" {
			return false
		}
	}
	return true
}

// changed names a file of the current guide that is there and is not as it was
// written: somebody may have put work into it. Empty when there is none.
func (h *history) changed() string {
	if h.current == nil {
		return ""
	}
	for _, f := range h.current.Files {
		if _, err := os.Lstat(filepath.Join(h.folder, f.Name)); err == nil && damaged(h.folder, f) != "" {
			return f.Name
		}
	}
	return ""
}

// files names what belongs to the current guide, its record too.
func (h *history) files() (names []string) {
	if h.current != nil {
		for _, f := range h.current.Files {
			names = append(names, f.Name)
		}
		names = append(names, record.File)
	}
	return names
}

// damaged says what is wrong with a delivered file; empty when nothing is.
func damaged(folder string, f record.Delivered) string {
	if !fs.ValidPath(f.Name) {
		return "has a name that leads elsewhere"
	}
	file, err := openPlain(folder, f.Name)
	if errors.Is(err, fs.ErrNotExist) {
		return "is missing"
	}
	if err != nil {
		return "cannot be read: " + plainError(err).Error()
	}
	defer file.Close()
	sum := sha256.New()
	size, err := io.Copy(sum, file)
	switch {
	case err != nil:
		return "cannot be read: " + plainError(err).Error()
	case size != int64(f.Size):
		return fmt.Sprintf("has %d bytes; the record says %d", size, f.Size)
	case hex.EncodeToString(sum.Sum(nil)) != f.SHA256:
		return "differs from what was delivered"
	}
	return ""
}

// Findings of a unit against the guide that stands in its place.
var (
	codeRevisionDue  = source.Code{ID: "revision-due", Severity: source.Error, Protects: "an owner holds a guide with this revision letter; two guides that differ must not carry the same one"}
	codeRevisionBack = source.Code{ID: "revision-back", Severity: source.Error, Protects: "an earlier letter on a later guide makes the owner throw away the right one"}
)

// follow holds a unit against its history. A guide that was delivered is not
// changed under its letter. What an earlier revision said differently is told
// in the guide and marked; keep is the revision that has to be kept, if any.
func (m *maker) follow(u *unit, h *history) (keep string) {
	if u.guide == nil || u.findings.HasErrors() {
		return ""
	}
	at, now, was := u.sheet.Revision.At, u.record, h.current
	switch {
	case was == nil:
	case sheet.LaterRevision(was.Revision, now.Revision):
		u.findings.Add(codeRevisionBack.At(at, "revision is %s; the guide in %s is revision %s already", now.Revision, filepath.ToSlash(h.folder), was.Revision).
			WithHint("write revision: %s", sheet.NextRevision(was.Revision)))
		return ""
	case was.Revision == now.Revision && was.Content != now.Content && was.Delivered != "":
		u.findings.Add(codeRevisionDue.At(at, "revision %s was delivered on %s and its guide would now read differently", was.Revision, was.Delivered).
			WithHint("write revision: %s and the day of the change under issued", sheet.NextRevision(was.Revision)).
			WithHint("ownerguide compare %s %s shows what differs", filepath.ToSlash(h.folder), u.sheet.File))
		return ""
	case was.Revision != now.Revision:
		keep = was.Revision
	}
	if earlier := h.before(now.Revision); earlier != nil {
		u.findings.Add(m.templates.TellChanges(u.guide, earlier, u.record)...)
	}
	return keep
}
