// Package deliver puts finished guides where they belong, whole or not at all,
// and decides for every path the program writes whether it may: see [Rules].
//
// A unit's files are written into a staging folder beside the target, synced,
// and swapped in with one rename. A stop at any moment leaves the old guide or
// the new one, never a mixture. One run at a time works on an output folder;
// its lock goes with the process.
//
// Everything is opened through [os.Root]: no link that somebody left in the
// output folder leads a read or a write outside it.
//
// The package knows nothing of what is in the files.
package deliver

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
)

// ErrBusy says that another run is writing to the same output folder.
var ErrBusy = errors.New("another run is writing to this folder")

// stagePrefix marks what a run has staged, and what a stopped run left behind.
const stagePrefix = ".ownerguide-stage-"

// lockFile is locked by the run that works on an output folder.
const lockFile = ".lock"

// Folder is an output folder held by this run.
type Folder struct {
	dir  string
	root *os.Root
	lock *os.File
}

// File is one file of a unit.
type File struct {
	Name string // plain name, no separators but in [Rules.WriteTree]
	Data []byte
}

// Open makes the output folder if it is not there, takes its lock and clears away
// what a stopped run left staged. The error wraps [ErrBusy] when another run
// holds the lock.
func (r Rules) Open(dir string) (*Folder, error) {
	if _, err := r.folder(dir); err != nil {
		return nil, err
	}
	if _, err := makeFolder(dir); err != nil {
		return nil, failed(dir, "making the output folder", err)
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, failed(dir, "opening the output folder", err)
	}
	lock, err := root.OpenFile(lockFile, os.O_CREATE|os.O_RDWR, 0o644)
	if err != nil {
		return nil, errors.Join(failed(dir, "locking the output folder", err), root.Close())
	}
	f := &Folder{dir, root, lock}
	if info, err := lock.Stat(); err != nil || !info.Mode().IsRegular() {
		return nil, errors.Join(fmt.Errorf("locking the output folder: %s is not a plain file", filepath.Join(dir, lockFile)), err, f.Close())
	}
	if err := takeLock(lock, false); err != nil {
		return nil, errors.Join(failed(dir, "locking the output folder", err), f.Close())
	}
	if err := f.clearStages(); err != nil {
		return nil, errors.Join(err, f.Close())
	}
	return f, nil
}

// Look opens an output folder for a run that writes nothing to it: without the
// lock, and without tidying up. A folder that is not there has no root.
func (r Rules) Look(dir string) (*Folder, error) {
	there, err := r.folder(dir)
	if err != nil || !there {
		return &Folder{dir: dir}, err
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, failed(dir, "opening the output folder", err)
	}
	return &Folder{dir: dir, root: root}, nil
}

// Close returns the lock back.
func (f *Folder) Close() (err error) {
	if f.lock != nil {
		err = f.lock.Close()
	}
	if f.root != nil {
		err = errors.Join(err, f.root.Close())
	}
	return err
}

// WhileQuiet runs a function while no run writes to a folder. The error wraps
// [ErrBusy] when one does. Nothing is made in the folder.
func WhileQuiet(dir string, f func() error) error {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return fmt.Errorf("opening the output folder: %w", err)
	}
	defer root.Close()
	info, err := root.Lstat(lockFile)
	if err != nil || !info.Mode().IsRegular() { // nobody ever wrote here
		return f()
	}
	lock, err := root.Open(lockFile)
	if err != nil {
		return fmt.Errorf("locking the output folder %s: %w", dir, err)
	}
	defer lock.Close()
	if err := takeLock(lock, true); err != nil {
		return fmt.Errorf("%s: %w", dir, err)
	}
	return f()
}

// Parked is the unit whose earlier guide stands under a name as a run that was
// stopped left it, on a system without an atomic exchange; empty for other names.
func Parked(name string) string {
	serial, _ := strings.CutPrefix(name, stagePrefix+"old-")
	if serial == name {
		return ""
	}
	return serial
}

// clearStages finishes or removes what a stopped run left. On systems without
// an atomic exchange the old guide may be parked under a stage name while its
// place is empty: it is put back.
func (f *Folder) clearStages() error {
	dir, err := f.root.Open(".")
	if err != nil {
		return fmt.Errorf("reading the output folder: %w", err)
	}
	names, err := dir.Readdirnames(-1)
	if err := errors.Join(err, dir.Close()); err != nil {
		return fmt.Errorf("reading the output folder: %w", err)
	}
	for _, stage := range names {
		if !strings.HasPrefix(stage, stagePrefix) {
			continue
		}
		if serial := Parked(stage); serial != "" {
			if _, err := f.root.Lstat(serial); errors.Is(err, fs.ErrNotExist) {
				if err := f.root.Rename(stage, serial); err != nil {
					return fmt.Errorf("putting the earlier guide of %s back: %w", serial, err)
				}
				continue
			}
		}
		if err := f.root.RemoveAll(stage); err != nil {
			return fmt.Errorf("clearing what a stopped run left: %w", err)
		}
	}
	return nil
}

// Revisions is the folder in a unit's folder that holds its earlier guides, in
// a folder each.
const Revisions = "revisions"

// Replace puts files under the unit's serial, in place of those of the guide
// that was there; earlier are their names. Earlier revisions stay; if keep is
// not empty the guide in place joins them under that name. What else stands in
// the unit's folder is not the program's, and stays too. Safe for several
// goroutines as long as each has a serial of its own.
func (f *Folder) Replace(serial string, files []File, earlier []string, keep string) error {
	if info, err := f.root.Lstat(serial); err == nil && !info.IsDir() {
		return refuse(filepath.Join(f.dir, serial), "move it away", "this is not a folder, and the guide of a unit needs one of that name")
	}
	stage := stagePrefix + "new-" + serial
	if err := f.root.Mkdir(stage, 0o755); err != nil {
		return failed(filepath.Join(f.dir, serial), "staging", err)
	}
	defer f.root.RemoveAll(stage) // after a swap it holds the earlier guide
	for _, file := range files {
		if err := writeSynced(f.root, path.Join(stage, file.Name), bytesOf(file.Data)); err != nil {
			return failed(filepath.Join(f.dir, serial), "staging", err)
		}
	}
	if err := f.carryOver(serial, stage, earlier, keep); err != nil {
		return failed(filepath.Join(f.dir, serial), "keeping what is there", err)
	}
	if err := syncFolder(f.root, stage); err != nil {
		return failed(filepath.Join(f.dir, serial), "staging", err)
	}
	if err := swap(f.root, stage, serial, stagePrefix+"old-"+serial); err != nil {
		return failed(filepath.Join(f.dir, serial), "putting the guide in place", err)
	}
	return syncFolder(f.root, ".")
}

// carryOver puts into a unit's staged folder the earlier revisions, the guide in
// place too if keep names it, and what is not the program's. The files are shared
// between both folders until the swap, which costs no space.
func (f *Folder) carryOver(serial, stage string, earlier []string, keep string) error {
	if err := f.shareTree(path.Join(serial, Revisions), path.Join(stage, Revisions)); err != nil {
		return err
	}
	entries, err := fs.ReadDir(f.root.FS(), serial)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	kept := path.Join(stage, Revisions, keep)
	if keep != "" {
		if err := f.root.MkdirAll(kept, 0o755); err != nil {
			return err
		}
	}
	for _, e := range entries {
		own := slices.Contains(earlier, e.Name())
		switch {
		case e.Name() == Revisions || own && keep == "" && e.Type().IsRegular():
			continue
		case own && e.Type().IsRegular():
			err = f.shareFile(path.Join(serial, e.Name()), path.Join(kept, e.Name()))
		case own:
			err = f.inTheWay(serial, e, "this stands in the place of a file of the guide")
		default:
			err = f.shareForeign(serial, stage, e)
		}
		if err != nil {
			return err
		}
	}
	if keep == "" {
		return nil
	}
	return syncFolder(f.root, kept)
}

// shareForeign carries over what somebody put into a unit's folder.
func (f *Folder) shareForeign(serial, stage string, e fs.DirEntry) error {
	from, to := path.Join(serial, e.Name()), path.Join(stage, e.Name())
	if _, err := f.root.Lstat(to); err == nil {
		return f.inTheWay(serial, e, "this is not the program's, and the guide has a file of that name")
	}
	switch {
	case e.IsDir():
		return f.shareTree(from, to)
	case e.Type().IsRegular():
		return f.shareFile(from, to)
	}
	return f.inTheWay(serial, e, "this is neither a plain file nor a folder, and is not the program's")
}

func (f *Folder) inTheWay(serial string, e fs.DirEntry, problem string) error {
	return refuse(filepath.Join(f.dir, serial, e.Name()), "move it away", "%s", problem)
}

// shareTree makes what is below from appear below to as well. A folder that is
// not there has nothing in it.
func (f *Folder) shareTree(from, to string) error {
	entries, err := fs.ReadDir(f.root.FS(), from)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	if err := f.root.MkdirAll(to, 0o755); err != nil {
		return err
	}
	for _, e := range entries {
		source, place := path.Join(from, e.Name()), path.Join(to, e.Name())
		switch {
		case e.IsDir():
			err = f.shareTree(source, place)
		case e.Type().IsRegular():
			err = f.shareFile(source, place)
		default:
			err = f.inTheWay(from, e, "this is neither a plain file nor a folder, and is not the program's")
		}
		if err != nil {
			return err
		}
	}
	return syncFolder(f.root, to)
}

func (f *Folder) shareFile(from, to string) error {
	if f.root.Link(from, to) == nil {
		return nil
	}
	data, err := f.root.ReadFile(from) // a file system without hard links
	if err != nil {
		return err
	}
	return writeSynced(f.root, to, bytesOf(data))
}

// DataFolder is the folder in an output folder for what the program notes
// beside the units. Nothing in it is a guide.
const DataFolder = ".ownerguide"

// Put writes one file of the output folder itself, whole or not at all. Content
// is called once, to write it.
func (f *Folder) Put(name string, content func(io.Writer) error) error {
	return f.put(name, func(file *os.File) error { return content(file) })
}

// PutSealed is [Folder.Put] for a text that bears a seal; see [Seal].
func (f *Folder) PutSealed(name, before, after string, text func(io.Writer) error) error {
	return f.put(name, sealing(text, before, after))
}

func (f *Folder) put(name string, content func(*os.File) error) error {
	staged := stagePrefix + "file-" + path.Base(name)
	err := f.root.RemoveAll(staged) // of a run that was stopped
	if folder := path.Dir(name); err == nil && folder != "." {
		err = f.root.MkdirAll(folder, 0o755)
	}
	if err == nil {
		err = writeSynced(f.root, staged, content)
	}
	if err == nil {
		err = f.root.Rename(staged, name)
	}
	if err != nil {
		return fmt.Errorf("putting %s in place: %w", name, errors.Join(err, f.root.RemoveAll(staged)))
	}
	return syncFolder(f.root, path.Dir(name))
}

// Root is the folder itself, for reading.
// It is nil where [Rules.Look] found no folder.
func (f *Folder) Root() *os.Root { return f.root }

func writeSynced(root *os.Root, name string, content func(*os.File) error) error {
	file, err := root.OpenFile(name, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o666)
	if err != nil {
		return err
	}
	return errors.Join(content(file), file.Sync(), file.Close())
}

// bytesOf writes some bytes.
func bytesOf(data []byte) func(*os.File) error {
	return func(file *os.File) error { _, err := file.Write(data); return err }
}

// renameTwice is the way without an atomic exchange: the earlier guide is
// parked under a name from which the next run puts it back.
func renameTwice(root *os.Root, stage, target, parked string) error {
	err := root.Rename(target, parked)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return root.Rename(stage, target)
	case err != nil:
		return err
	}
	if err := root.Rename(stage, target); err != nil {
		return errors.Join(err, root.Rename(parked, target))
	}
	return root.RemoveAll(parked)
}
