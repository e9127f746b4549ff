package output

import (
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

	"ownerguide/cmd/ownerguide/internal/input"
	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/render/deliver"
	"ownerguide/render/record"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

// History is the content of the output folder for one unit.
type History struct {
	Folder  string         // folder of the unit
	Root    *os.Root       // the folder as it was when opened; nil if there is no guide yet
	Current *record.Record // without its contents; nil if there is no guide yet
	Data    []byte         // bytes of the current record
}

// HistoryOf reads the record of a unit, whose folder has its serial number as name. It
// returns an error if the folder contains files and no readable record: such files must
// not be replaced. The history must be closed.
func HistoryOf(folder string) (*History, error) {
	h, err := OpenHistory(folder)
	if err == nil && h.Current != nil {
		if err = belongs(folder, h.Current); err != nil {
			h.Close()
		}
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %w", filepath.ToSlash(folder), err)
	}
	return h, nil
}

// OpenHistory is HistoryOf for a folder of any name.
func OpenHistory(folder string) (*History, error) {
	h := &History{Folder: folder}
	info, err := os.Lstat(folder)
	if errors.Is(err, fs.ErrNotExist) {
		return h, nil
	}
	if err == nil {
		err = ownFolder(info)
	}
	if err == nil {
		h.Root, err = os.OpenRoot(folder)
	}
	if err != nil {
		return nil, terminal.PlainError(err)
	}
	if opened, err := h.Root.Stat("."); err != nil || !os.SameFile(info, opened) {
		h.Close()
		return nil, errMoved
	}
	if h.Current, h.Data, err = readRecord(h.Root); err == nil {
		return h, nil
	}
	defer h.Close()
	if entries, failure := fs.ReadDir(h.Root.FS(), "."); failure == nil && len(entries) == 0 {
		return &History{Folder: folder}, nil
	}
	return nil, fmt.Errorf("%s: %w", record.File, err)
}

func (h *History) Close() {
	if h.Root != nil {
		_ = h.Root.Close()
	}
}

// ownFolder returns an error if a unit's folder is a link or not a folder.
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

// belongs returns an error unless a record is that of the folder's unit, or of the
// revision kept in the folder.
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

// Limits on the size of a record and of contents: long ones have about ten and a hundred
// kilobytes.
const (
	recordLimit   = 4 << 20
	contentsLimit = 16 << 20
)

func readRecord(root *os.Root) (*record.Record, []byte, error) {
	data, err := ReadAtMost(root, record.File, recordLimit)
	if err != nil {
		return nil, nil, err
	}
	r, err := record.Decode(data)
	return r, data, err
}

// ReadContents completes a record with the contents next to it.
func ReadContents(root *os.Root, r *record.Record) error {
	data, err := ReadDelivered(root, r, record.ContentsFile, contentsLimit)
	if err != nil {
		return err
	}
	if r.Contents, err = record.DecodeContents(data); err != nil {
		return fmt.Errorf("%s: %w", record.ContentsFile, err)
	}
	return nil
}

// ReadDelivered reads a file of a guide and checks its digest in the record.
func ReadDelivered(root *os.Root, r *record.Record, name string, limit int64) ([]byte, error) {
	data, err := ReadAtMost(root, name, limit)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	i := slices.IndexFunc(r.Files, func(f record.Delivered) bool { return f.Name == name })
	if i < 0 || record.FileOf(name, data) != r.Files[i] {
		return nil, fmt.Errorf("%s differs from what was delivered", name)
	}
	return data, nil
}

// ReadAtMost reads a file, and refuses one that is longer than limit bytes.
func ReadAtMost(root *os.Root, name string, limit int64) ([]byte, error) {
	file, err := OpenPlain(root, name)
	if err != nil {
		return nil, terminal.PlainError(err)
	}
	defer file.Close()
	data, err := io.ReadAll(io.LimitReader(file, limit+1))
	if err != nil {
		return nil, terminal.PlainError(err)
	}
	if int64(len(data)) > limit {
		return nil, fmt.Errorf("it is longer than %d bytes", limit)
	}
	return data, nil
}

// OpenPlain opens a regular file of an output folder. No link in the folder leads outside
// it, and a pipe, which might never end, is not opened.
func OpenPlain(root *os.Root, name string) (*os.File, error) {
	switch info, err := root.Lstat(name); {
	case err != nil:
		return nil, err
	case !info.Mode().IsRegular():
		return nil, input.ErrNotPlain
	}
	return root.Open(name)
}

// OpenKept opens the folder of a kept revision.
func (h *History) OpenKept(revision string) (*os.Root, error) {
	name := path.Join(deliver.Revisions, revision)
	info, err := h.Root.Lstat(name)
	if err == nil {
		err = ownFolder(info)
	}
	if err != nil {
		return nil, terminal.PlainError(err)
	}
	return h.Root.OpenRoot(name)
}

// ReadKept reads the record of a kept revision and checks its digest in the current
// record.
func ReadKept(root *os.Root, k record.Kept) (*record.Record, error) {
	r, data, err := readRecord(root)
	if err == nil && record.Digest(data) != k.SHA256 {
		err = errors.New("it is not the record of the revision that was kept")
	}
	return r, err
}

// Before returns the latest record of a revision earlier than the given one, with its
// contents, and the line of its guide; nil if there is none.
func (h *History) Before(revision string) (r *record.Record, line []byte, err error) {
	if h.Current == nil || h.Current.Draft {
		return nil, nil, nil
	}
	if sheet.LaterRevision(revision, h.Current.Revision) {
		r := *h.Current
		if line, err = readWhole(h.Root, &r); err != nil {
			return nil, nil, fmt.Errorf("%s: %w", h.Folder, err)
		}
		return &r, line, nil
	}
	for _, k := range slices.Backward(h.Current.Kept) {
		if !sheet.LaterRevision(revision, k.Revision) {
			continue
		}
		root, err := h.OpenKept(k.Revision)
		if err == nil {
			defer root.Close()
			r, err = ReadKept(root, k)
		}
		if err == nil {
			line, err = readWhole(root, r)
		}
		if err != nil {
			return nil, nil, fmt.Errorf("%s: %w", filepath.Join(h.Folder, deliver.Revisions, k.Revision), err)
		}
		return r, line, nil
	}
	return nil, nil, nil
}

// readWhole completes a record with the contents next to it, and returns the line there.
func readWhole(root *os.Root, r *record.Record) (line []byte, err error) {
	if err := ReadContents(root, r); err != nil {
		return nil, err
	}
	return ReadDelivered(root, r, record.LineFile, LineLimit)
}

// Kept returns the list of earlier revisions for the record of a new guide, and the letter
// under which the current one must be kept, if any.
func (h *History) Kept(revision string) (chain []record.Kept, keep string) {
	was := h.Current
	switch {
	case was == nil:
		return nil, ""
	case was.Draft || was.Revision == revision:
		return was.Kept, ""
	}
	return append(slices.Clone(was.Kept), record.Kept{Revision: was.Revision, SHA256: record.Digest(h.Data)}), was.Revision
}

// Whole reports whether every file of the current guide is as it was written.
func (h *History) Whole() bool {
	return !slices.ContainsFunc(h.Current.Files, func(f record.Delivered) bool { return Damaged(h.Root, f) != "" })
}

// Changed returns the name of a file of the current guide that was modified: somebody may
// have put work into it. It is empty if there is none.
func (h *History) Changed() string {
	if h.Current == nil {
		return ""
	}
	for _, f := range h.Current.Files {
		if _, err := h.Root.Lstat(f.Name); err == nil && Damaged(h.Root, f) != "" {
			return f.Name
		}
	}
	return ""
}

// Files returns the names of the files of the current guide, including its record.
func (h *History) Files() (names []string) {
	if h.Current != nil {
		names = append(h.Current.Names(), record.File)
	}
	return names
}

// Damaged returns what is wrong with a delivered file; empty if nothing is.
func Damaged(root *os.Root, f record.Delivered) string {
	file, err := OpenPlain(root, f.Name)
	if errors.Is(err, fs.ErrNotExist) {
		return "is missing"
	}
	if err != nil {
		return "cannot be read: " + terminal.PlainError(err).Error()
	}
	defer file.Close()
	sum := sha256.New()
	size, err := io.Copy(sum, file)
	switch {
	case err != nil:
		return "cannot be read: " + terminal.PlainError(err).Error()
	case size != int64(f.Size):
		return fmt.Sprintf("has %d bytes; the record says %d", size, f.Size)
	case hex.EncodeToString(sum.Sum(nil)) != f.SHA256:
		return "differs from what was delivered"
	}
	return ""
}

// LaterOf returns the later of two revisions; either may be empty.
func LaterOf(a, b string) string {
	if a == "" || b != "" && sheet.LaterRevision(b, a) {
		return b
	}
	return a
}

// LineLimit is the limit on the packed line of a delivered unit, in bytes.
const LineLimit = source.FolderLimit
