package main

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"

	"ownerguide/render/deliver"
	"ownerguide/render/record"
	"ownerguide/spec/sheet"
)

// history is what stands in the output folder for one unit.
type history struct {
	folder  string         // of the unit
	root    *os.Root       // the folder as it was when it was opened; nil when there is no guide yet
	current *record.Record // without its contents; nil when there is no guide yet
	data    []byte         // of the current record
}

// historyOf reads the record of a unit, whose folder bears its serial number.
// It is an error when the folder holds files and no record that can be read:
// they are not ours to replace. Whoever gets a history closes it.
func historyOf(folder string) (*history, error) {
	h, err := openHistory(folder)
	if err == nil && h.current != nil {
		if err = belongs(folder, h.current); err != nil {
			h.close()
		}
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %w", filepath.ToSlash(folder), err)
	}
	return h, nil
}

// openHistory is historyOf for a folder of whatever name.
func openHistory(folder string) (*history, error) {
	h := &history{folder: folder}
	info, err := os.Lstat(folder)
	if errors.Is(err, fs.ErrNotExist) {
		return h, nil
	}
	if err == nil {
		err = ownFolder(info)
	}
	if err == nil {
		h.root, err = os.OpenRoot(folder)
	}
	if err != nil {
		return nil, plainError(err)
	}
	if opened, err := h.root.Stat("."); err != nil || !os.SameFile(info, opened) {
		h.close()
		return nil, errMoved
	}
	if h.current, h.data, err = readRecord(h.root); err == nil {
		return h, nil
	}
	defer h.close()
	if entries, failure := fs.ReadDir(h.root.FS(), "."); failure == nil && len(entries) == 0 {
		return &history{folder: folder}, nil
	}
	return nil, fmt.Errorf("%s: %w", record.File, err)
}

func (h *history) close() {
	if h.root != nil {
		_ = h.root.Close()
	}
}

// ownFolder refuses what stands in the place of a unit's folder.
func ownFolder(info fs.FileInfo) error {
	switch {
	case info.Mode()&fs.ModeSymlink != 0:
		return errors.New("it is a link; expected the unit's own folder")
	case !info.IsDir():
		return errors.New("it is not a folder")
	}
	return nil
}

var errMoved = errors.New("it was moved while it was read")

// belongs tells whether a record is that of the folder's unit, or of the
// revision that is kept in it.
func belongs(folder string, r *record.Record) error {
	full, err := filepath.Abs(folder)
	if err != nil {
		return fmt.Errorf("%s: %w", folder, err)
	}
	name := filepath.Base(full)
	if name == r.Serial || name == r.Revision && filepath.Base(filepath.Dir(full)) == deliver.Revisions {
		return nil
	}
	return fmt.Errorf("it holds the guide of %s", r.Serial)
}

// What is read of a record and of contents: long ones have some tens of
// kilobytes and half a megabyte.
const (
	recordLimit   = 4 << 20
	contentsLimit = 16 << 20
)

func readRecord(root *os.Root) (*record.Record, []byte, error) {
	data, err := readAtMost(root, record.File, recordLimit)
	if err != nil {
		return nil, nil, err
	}
	r, err := record.Decode(data)
	return r, data, err
}

// readContents completes a record by the contents beside it.
func readContents(root *os.Root, r *record.Record) error {
	data, err := readDelivered(root, r, record.ContentsFile, contentsLimit)
	if err != nil {
		return err
	}
	if r.Contents, err = record.DecodeContents(data); err != nil {
		return fmt.Errorf("%s: %w", record.ContentsFile, err)
	}
	return nil
}

// readDelivered reads a file of a guide, which has to be the one that its record names.
func readDelivered(root *os.Root, r *record.Record, name string, limit int64) ([]byte, error) {
	data, err := readAtMost(root, name, limit)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	i := slices.IndexFunc(r.Files, func(f record.Delivered) bool { return f.Name == name })
	if i < 0 || record.FileOf(name, data) != r.Files[i] {
		return nil, fmt.Errorf("%s differs from what was delivered", name)
	}
	return data, nil
}

// readAtMost reads a file, and refuses one that is longer.
func readAtMost(root *os.Root, name string, limit int64) ([]byte, error) {
	file, err := openPlain(root, name)
	if err != nil {
		return nil, plainError(err)
	}
	defer file.Close()
	data, err := io.ReadAll(io.LimitReader(file, limit+1))
	if err != nil {
		return nil, plainError(err)
	}
	if int64(len(data)) > limit {
		return nil, fmt.Errorf("it is longer than %d bytes", limit)
	}
	return data, nil
}

// openPlain opens a plain file of an output folder. No link in the folder leads
// outside it, and a pipe, which would never end, is not opened.
func openPlain(root *os.Root, name string) (*os.File, error) {
	switch info, err := root.Lstat(name); {
	case err != nil:
		return nil, err
	case !info.Mode().IsRegular():
		return nil, errNotPlain
	}
	return root.Open(name)
}

var errNotPlain = errors.New("it is not a plain file")

// openKept opens the folder of a kept revision.
func (h *history) openKept(revision string) (*os.Root, error) {
	name := path.Join(deliver.Revisions, revision)
	info, err := h.root.Lstat(name)
	if err == nil {
		err = ownFolder(info)
	}
	if err != nil {
		return nil, plainError(err)
	}
	return h.root.OpenRoot(name)
}

// readKept reads the record of a kept revision, which has to be the very one
// that the current record names.
func readKept(root *os.Root, k record.Kept) (*record.Record, error) {
	r, data, err := readRecord(root)
	if err == nil && record.Digest(data) != k.SHA256 {
		err = errors.New("it is not the record of the revision that was kept")
	}
	return r, err
}

// before is the latest record of a revision earlier than the given one, with
// its contents, and the line that its guide was made from; nil without one.
func (h *history) before(revision string) (r *record.Record, line []byte, err error) {
	if h.current == nil || h.current.Draft {
		return nil, nil, nil
	}
	if sheet.LaterRevision(revision, h.current.Revision) {
		r := *h.current
		if line, err = readWhole(h.root, &r); err != nil {
			return nil, nil, fmt.Errorf("%s: %w", h.folder, err)
		}
		return &r, line, nil
	}
	for _, k := range slices.Backward(h.current.Kept) {
		if !sheet.LaterRevision(revision, k.Revision) {
			continue
		}
		root, err := h.openKept(k.Revision)
		if err == nil {
			defer root.Close()
			r, err = readKept(root, k)
		}
		if err == nil {
			line, err = readWhole(root, r)
		}
		if err != nil {
			return nil, nil, fmt.Errorf("%s: %w", filepath.Join(h.folder, deliver.Revisions, k.Revision), err)
		}
		return r, line, nil
	}
	return nil, nil, nil
}

// readWhole completes a record by the contents beside it, and gives the line there.
func readWhole(root *os.Root, r *record.Record) (line []byte, err error) {
	if err := readContents(root, r); err != nil {
		return nil, err
	}
	return readDelivered(root, r, record.LineFile, lineLimit)
}

// kept is the chain of earlier revisions for the record of a guide, and the
// letter under which the one in place has to be kept, if it has.
func (h *history) kept(revision string) (chain []record.Kept, keep string) {
	was := h.current
	switch {
	case was == nil:
		return nil, ""
	case was.Draft || was.Revision == revision:
		return was.Kept, ""
	}
	return append(slices.Clone(was.Kept), record.Kept{Revision: was.Revision, SHA256: record.Digest(h.data)}), was.Revision
}

// whole tells whether every file of the current guide is as it was written.
func (h *history) whole() bool {
	for _, f := range h.current.Files {
		if problem := damaged(h.root, f); problem != "" {
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
		if _, err := h.root.Lstat(f.Name); err == nil && damaged(h.root, f) != "" {
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
func damaged(root *os.Root, f record.Delivered) string {
	file, err := openPlain(root, f.Name)
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

// laterOf is the later of two revisions; either may be empty.
func laterOf(a, b string) string {
	if a == "" || b != "" && sheet.LaterRevision(b, a) {
		return b
	}
	return cmp.Or(a, b)
}
