// Package deliver puts finished guides where they belong: whole or not at all.
//
// A unit's files are written into a staging folder beside the target, synced,
// and swapped in with one rename. A stop at any moment leaves the old guide or
// the new one, never a mixture. One run at a time works on an output folder;
// its lock goes with the process.
//
// The package knows nothing of what is in the files.
package deliver

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// ErrBusy says that another run is writing to the same output folder.
var ErrBusy = errors.New("another run is writing to this folder")

// stagePrefix marks folders that a stopped run left behind.
const stagePrefix = ".stage-"

// Folder is an output folder held by this run.
type Folder struct {
	dir  string
	lock *os.File
}

// File is one file of a unit.
type File struct {
	Name string // plain name, no separators
	Data []byte
}

// Open makes the folder if it is not there, takes its lock and clears away
// what a stopped run left staged. The error wraps [ErrBusy] when another run
// holds the lock.
func Open(dir string) (*Folder, error) {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, fmt.Errorf("making the output folder: %w", err)
	}
	lock, err := os.OpenFile(filepath.Join(dir, ".lock"), os.O_CREATE|os.O_RDWR, 0o644)
	if err != nil {
		return nil, fmt.Errorf("locking the output folder: %w", err)
	}
	if err := takeLock(lock); err != nil {
		_ = lock.Close()
		return nil, fmt.Errorf("%s: %w", dir, err)
	}
	f := &Folder{dir, lock}
	if err := f.clearStages(); err != nil {
		_ = f.Close()
		return nil, err
	}
	return f, nil
}

// Close gives the lock back.
func (f *Folder) Close() error { return f.lock.Close() }

// clearStages finishes or removes what a stopped run left. On systems without
// an atomic exchange the old guide may be parked under a stage name while its
// place is empty: it is put back.
func (f *Folder) clearStages() error {
	entries, err := os.ReadDir(f.dir)
	if err != nil {
		return fmt.Errorf("reading the output folder: %w", err)
	}
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), stagePrefix) {
			continue
		}
		stage := filepath.Join(f.dir, e.Name())
		if serial, old := strings.CutPrefix(e.Name(), stagePrefix+"old-"); old {
			target := filepath.Join(f.dir, serial)
			if _, err := os.Lstat(target); errors.Is(err, fs.ErrNotExist) {
				if err := os.Rename(stage, target); err != nil {
					return fmt.Errorf("putting the earlier guide of %s back: %w", serial, err)
				}
				continue
			}
		}
		if err := os.RemoveAll(stage); err != nil {
			return fmt.Errorf("clearing what a stopped run left: %w", err)
		}
	}
	return nil
}

// revisions is the folder in a unit's folder that holds its earlier guides.
const revisions = "revisions"

// Replace puts files under the unit's serial, in place of what was there.
// Earlier revisions stay; if keep is not empty the guide in place joins them
// under that name. Safe for several goroutines as long as each has a serial of
// its own.
func (f *Folder) Replace(serial string, files []File, keep string) error {
	target := filepath.Join(f.dir, serial)
	if info, err := os.Lstat(target); err == nil && !info.IsDir() {
		return fmt.Errorf("%s is not a folder; move it away", target)
	}
	stage := filepath.Join(f.dir, stagePrefix+"new-"+serial)
	if err := os.Mkdir(stage, 0o755); err != nil {
		return fmt.Errorf("staging %s: %w", serial, err)
	}
	defer os.RemoveAll(stage) // after a swap it holds the earlier guide
	for _, file := range files {
		if err := writeSynced(filepath.Join(stage, file.Name), file.Data); err != nil {
			return fmt.Errorf("staging %s: %w", serial, err)
		}
	}
	if err := carryOver(target, stage, keep); err != nil {
		return fmt.Errorf("keeping the earlier revisions of %s: %w", serial, err)
	}
	if err := syncFolder(stage); err != nil {
		return fmt.Errorf("staging %s: %w", serial, err)
	}
	if err := swap(stage, target, filepath.Join(f.dir, stagePrefix+"old-"+serial)); err != nil {
		return fmt.Errorf("putting the guide of %s in place: %w", serial, err)
	}
	return syncFolder(f.dir)
}

// carryOver puts the earlier revisions of a unit into its staged folder, and
// the guide in place too if keep names it. The files are shared between both
// folders until the swap, which costs no space.
func carryOver(target, stage, keep string) error {
	if err := shareTree(filepath.Join(target, revisions), filepath.Join(stage, revisions), ""); err != nil {
		return err
	}
	if keep == "" {
		return nil
	}
	return shareTree(target, filepath.Join(stage, revisions, keep), revisions)
}

// shareTree makes the files below from appear below to as well, except those
// in the folder skip. A folder that is not there has no files.
func shareTree(from, to, skip string) error {
	entries, err := os.ReadDir(from)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	if err := os.MkdirAll(to, 0o755); err != nil {
		return err
	}
	for _, e := range entries {
		source, place := filepath.Join(from, e.Name()), filepath.Join(to, e.Name())
		switch {
		case e.Name() == skip:
		case e.IsDir():
			err = shareTree(source, place, "")
		case e.Type().IsRegular():
			err = shareFile(source, place)
		}
		if err != nil {
			return err
		}
	}
	return syncFolder(to)
}

func shareFile(from, to string) error {
	if os.Link(from, to) == nil {
		return nil
	}
	data, err := os.ReadFile(from) // a file system without hard links
	if err != nil {
		return err
	}
	return writeSynced(to, data)
}

// madeFolder holds, for each unit, what its guide was made with; see [Folder.SetMade].
const madeFolder = ".made"

// Made gives back what SetMade noted for a unit; empty when nothing was.
func (f *Folder) Made(serial string) string {
	data, err := os.ReadFile(filepath.Join(f.dir, madeFolder, serial))
	if err != nil {
		return "" // the guide is made again
	}
	return string(data)
}

// SetMade notes with what a unit's guide was made, beside the unit's folder and
// not in it: what stands there would differ between two copies of the program
// that make the same guide.
func (f *Folder) SetMade(serial, with string) error {
	dir := filepath.Join(f.dir, madeFolder)
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("noting what the guide of %s was made with: %w", serial, err)
	}
	if err := os.WriteFile(filepath.Join(dir, serial), []byte(with), 0o644); err != nil {
		return fmt.Errorf("noting what the guide of %s was made with: %w", serial, err)
	}
	return nil
}

// Put writes one file of the output folder itself, such as its index, whole or
// not at all.
func (f *Folder) Put(file File) error {
	staged := filepath.Join(f.dir, stagePrefix+"file-"+file.Name)
	if err := writeSynced(staged, file.Data); err != nil {
		return fmt.Errorf("staging %s: %w", file.Name, err)
	}
	if err := os.Rename(staged, filepath.Join(f.dir, file.Name)); err != nil {
		return fmt.Errorf("putting %s in place: %w", file.Name, err)
	}
	return syncFolder(f.dir)
}

func writeSynced(name string, data []byte) error {
	file, err := os.OpenFile(name, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o644)
	if err != nil {
		return err
	}
	_, err = file.Write(data)
	return errors.Join(err, file.Sync(), file.Close())
}

// renameTwice is the way without an atomic exchange: the earlier guide is
// parked under a name from which the next run puts it back.
func renameTwice(stage, target, parked string) error {
	err := os.Rename(target, parked)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return os.Rename(stage, target)
	case err != nil:
		return err
	}
	if err := os.Rename(stage, target); err != nil {
		return errors.Join(err, os.Rename(parked, target))
	}
	return os.RemoveAll(parked)
}
