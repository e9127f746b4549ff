// Package deliver writes finished guides atomically, and decides for every path
// the program writes whether it may be written: see [Rules].
//
// A unit's files are written into a staging folder next to the target, synced,
// and swapped in with one rename. If the program stops at any moment, the old guide
// or the new one is in place, never a mixture. A lock allows one run at a time on an
// output folder; it is released when the process ends.
//
// Everything is opened through [os.Root], so that no link in the output folder leads
// a read or a write outside it.
//
// The package does not interpret the content of files.
package deliver

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"sync"
)

// ErrBusy reports that another run is writing to the same output folder.
var ErrBusy = errors.New("another run is writing to this folder")

// stagePrefix is the prefix of staged names, including those left by an interrupted run.
const stagePrefix = ".ownerguide-stage-"

// lockFile is the file locked by the run that works on an output folder.
const lockFile = ".lock"

// Folder is an output folder opened by this run.
type Folder struct {
	dir  string
	root *os.Root
	lock *os.File
}

// File is one file of a unit.
type File struct {
	Name string // plain name; separators only in [Rules.WriteTree]
	Data []byte
}

// Open creates the output folder if it does not exist, locks it and cleans up what an
// interrupted run left staged. The error wraps [ErrBusy] if another run holds the
// lock.
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

// Look opens an output folder for reading only: it takes no lock and cleans up
// nothing. If the folder does not exist, the result has no root.
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

// Close releases the lock and closes the folder.
func (f *Folder) Close() (err error) {
	if f.lock != nil {
		err = f.lock.Close()
	}
	if f.root != nil {
		err = errors.Join(err, f.root.Close())
	}
	return err
}

// WhileUnlocked calls f while no run writes to a folder. The error wraps [ErrBusy] if one
// does. Nothing is created in the folder.
func WhileUnlocked(dir string, f func() error) error {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return fmt.Errorf("opening the output folder: %w", err)
	}
	defer root.Close()
	info, err := root.Lstat(lockFile)
	if err != nil || !info.Mode().IsRegular() { // no run has written here
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

// Parked returns the serial of the unit whose earlier guide an interrupted run left under
// a name, on a system without an atomic exchange; empty for other names.
func Parked(name string) string {
	serial, _ := strings.CutPrefix(name, stagePrefix+"old-")
	if serial == name {
		return ""
	}
	return serial
}

// clearStages completes or removes what an interrupted run left. On systems without
// an atomic exchange the old guide may have been moved to a stage name and not yet
// replaced: it is moved back.
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

// Revisions is the folder in a unit's folder that holds its earlier guides, each in
// its own folder.
const Revisions = "revisions"

// Replace writes files under the unit's serial in place of those of the previous guide,
// whose names are earlier. Earlier revisions are kept; if keep is not empty, the
// previous guide is added to them under that name. Files in the unit's folder that
// are not the program's are kept too. Concurrent calls are safe if each has its own
// serial.
func (f *Folder) Replace(serial string, files []File, earlier []string, keep string) error {
	if info, err := f.root.Lstat(serial); err == nil && !info.IsDir() {
		return refuse(filepath.Join(f.dir, serial), "move it away", "this is not a folder, and the guide of a unit needs one of that name")
	}
	stage := stagePrefix + "new-" + serial
	if err := f.root.Mkdir(stage, 0o755); err != nil {
		return failed(filepath.Join(f.dir, serial), "staging", err)
	}
	defer f.root.RemoveAll(stage) // after the swap it holds the earlier guide
	errs := make([]error, len(files))
	var writing sync.WaitGroup
	for i, file := range files { // each waits for the disk
		writing.Go(func() { errs[i] = writeSynced(f.root, path.Join(stage, file.Name), bytesOf(file.Data)) })
	}
	writing.Wait()
	if err := errors.Join(errs...); err != nil {
		return failed(filepath.Join(f.dir, serial), "staging", err)
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

// carryOver adds to a unit's staged folder the earlier revisions, the current guide if
// keep names it, and files that are not the program's. They are hard links until the
// swap, which takes no space.
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

// shareForeign carries over a file or folder that is not the program's.
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

// shareTree links everything below from to below to. A folder that does not exist counts
// as empty.
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
	data, err := f.root.ReadFile(from) // the file system has no hard links
	if err != nil {
		return err
	}
	return writeSynced(f.root, to, bytesOf(data))
}

// DataFolder is the folder in an output folder for the program's own data. It
// contains no guides.
const DataFolder = ".ownerguide"

// Put writes one file of the output folder itself, atomically. It calls content once.
func (f *Folder) Put(name string, content func(*os.File) error) error {
	staged := stagePrefix + "file-" + path.Base(name)
	err := f.root.RemoveAll(staged) // of an interrupted run
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

// Root returns the folder for reading. It is nil if [Rules.Look] found no folder.
func (f *Folder) Root() *os.Root { return f.root }

func writeSynced(root *os.Root, name string, content func(*os.File) error) error {
	file, err := root.OpenFile(name, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o666)
	if err != nil {
		return err
	}
	return errors.Join(content(file), file.Sync(), file.Close())
}

// bytesOf returns a function that writes data.
func bytesOf(data []byte) func(*os.File) error {
	return func(file *os.File) error { _, err := file.Write(data); return err }
}

// renameTwice is used where there is no atomic exchange: the earlier guide is moved
// to a name from which the next run restores it if this one is interrupted.
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
