package deliver

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
)

// Write puts one file in place and tells whether it replaced another. Folders
// that are not there are made.
func (r Rules) Write(name string, kind Kind, data []byte) (replaced bool, err error) {
	replaced, err = r.file(name, kind)
	if err != nil {
		return false, err
	}
	return replaced, r.put(name, data, func(root *os.Root, staged, base string) error { return root.Rename(staged, base) })
}

// WriteNew is Write for a file that a person goes on with: one that is there is
// never replaced, and the error wraps [fs.ErrExist].
func (r Rules) WriteNew(name string, kind Kind, data []byte) error {
	r.Force = true // what is there is asked when the file is put in place
	there, err := r.file(name, kind)
	if err != nil {
		return err
	}
	if !there {
		err = r.put(name, data, placeNew)
		there = errors.Is(err, fs.ErrExist)
	}
	if there {
		return &Error{name, "a file is there already", "name another file, or move this one away; it is never written over", fs.ErrExist}
	}
	return err
}

// placeNew returns a staged file its name if no other has it.
func placeNew(root *os.Root, staged, base string) error {
	err := root.Link(staged, base)
	switch {
	case err == nil:
		return root.Remove(staged)
	case errors.Is(err, fs.ErrExist):
		return err
	}
	// A file system without hard links.
	if _, err := root.Lstat(base); err == nil {
		return fs.ErrExist
	}
	return root.Rename(staged, base)
}

// put stages a file in its folder and puts it in place. Another run may take a
// folder away that it made and has no more use for; then it is made again.
func (r Rules) put(name string, data []byte, place func(root *os.Root, staged, base string) error) error {
	dir := filepath.Dir(name)
	for tries := 0; ; tries++ {
		undo, err := makeFolder(dir)
		if err == nil {
			if err = putIn(dir, filepath.Base(name), data, place); err != nil {
				undo()
			}
		}
		// Making a folder says that it exists where another run took it away right after that was found.
		takenAway := errors.Is(err, fs.ErrNotExist) || undo == nil && errors.Is(err, fs.ErrExist)
		if !takenAway || tries == folderTries {
			return failed(name, "writing it", err)
		}
	}
}

// folderTries is how often a folder is made again that other runs take away. Each
// time one of them has ended.
const folderTries = 100

// putIn writes a file under a name of its own and then gives it its name. The
// lock on the staged file tells a run that is writing it from one that was
// stopped and left it.
func putIn(dir, base string, data []byte, place func(root *os.Root, staged, base string) error) error {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return err
	}
	defer root.Close()
	sum := sha256.Sum256([]byte(base))
	staged := stagePrefix + "file-" + hex.EncodeToString(sum[:8]) // beside the longest name there is no room for a longer one
	file, err := openStaged(root, staged)
	if err != nil {
		return err
	}
	defer file.Close()
	_, err = file.Write(data)
	if there, of := root.Lstat(base); err == nil && of == nil {
		err = file.Chmod(there.Mode().Perm()) // who may read it has been decided
	}
	if err == nil {
		err = file.Sync()
	}
	if err == nil {
		err = place(root, staged, base)
	}
	if err != nil {
		_ = root.Remove(staged)
	}
	return err // the folder is not synced: after a crash the file is there or the one before
}

// openStaged opens a file to be staged, and holds its lock. What a stopped run
// left under the name is cleared away.
func openStaged(root *os.Root, staged string) (*os.File, error) {
	for range 2 {
		file, err := root.OpenFile(staged, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o666)
		if err == nil {
			if err := takeLock(file, false); err != nil {
				return nil, errors.Join(err, file.Close())
			}
			if !stillNamed(root, staged, file) {
				return nil, errors.Join(ErrBusy, file.Close())
			}
			return file, nil
		}
		if !errors.Is(err, fs.ErrExist) {
			return nil, err
		}
		left, err := root.OpenFile(staged, os.O_WRONLY, 0)
		if err != nil {
			return nil, err
		}
		if err = takeLock(left, false); err == nil && stillNamed(root, staged, left) {
			err = root.Remove(staged)
		}
		if err := errors.Join(err, left.Close()); err != nil {
			return nil, err
		}
	}
	return nil, ErrBusy
}

// stillNamed reports whether a name leads to an open file.
func stillNamed(root *os.Root, name string, file *os.File) bool {
	at, err := root.Lstat(name)
	is, err2 := file.Stat()
	return err == nil && err2 == nil && os.SameFile(at, is)
}

// makeFolder makes a folder and those above it. Undo takes away those it made,
// as long as nothing is in them.
func makeFolder(dir string) (undo func(), err error) {
	var made []string
	for at := filepath.Clean(dir); ; at = filepath.Dir(at) {
		if _, err := os.Lstat(at); !errors.Is(err, fs.ErrNotExist) {
			break
		}
		made = append(made, at)
	}
	undo = func() {
		for _, at := range made {
			_ = os.Remove(at)
		}
	}
	if err := os.MkdirAll(dir, 0o777); err != nil {
		undo()
		return nil, err
	}
	return undo, nil
}

// WriteTree puts files into a folder that is not there yet, or is empty: all of
// them or none. Their names may have folders in them, divided by slashes.
func (r Rules) WriteTree(dir string, files []File) error {
	switch there, err := r.folder(dir); {
	case err != nil:
		return err
	case there:
		entries, err := os.ReadDir(dir)
		if err != nil {
			return failed(dir, "reading it", err)
		}
		if slices.ContainsFunc(entries, func(e fs.DirEntry) bool { return e.Name() != stagedTree }) {
			return refuse(dir, "name a folder that is not there yet; nothing is ever written over", "this folder is not empty")
		}
	}
	undo, err := makeFolder(dir)
	if err == nil {
		if err = placeTree(dir, files); err != nil {
			undo()
		}
	}
	return failed(dir, "writing into it", err)
}

const stagedTree = stagePrefix + "tree"

// placeTree stages files inside their folder, and moves them up when all are there.
func placeTree(dir string, files []File) error {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return err
	}
	defer root.Close()
	defer root.RemoveAll(stagedTree)
	err = root.RemoveAll(stagedTree) // of a run that was stopped
	for _, f := range files {
		name := path.Join(stagedTree, f.Name)
		if err == nil {
			err = root.MkdirAll(path.Dir(name), 0o777)
		}
		if err == nil {
			err = writeSynced(root, name, bytesOf(f.Data))
		}
	}
	var placed []string
	for _, f := range files {
		top, _, _ := strings.Cut(f.Name, "/")
		if err != nil || slices.Contains(placed, top) {
			continue
		}
		if err = root.Rename(path.Join(stagedTree, top), top); err == nil {
			placed = append(placed, top)
		}
	}
	if err != nil {
		for _, name := range placed {
			_ = root.RemoveAll(name)
		}
		return err
	}
	return syncFolder(root, ".")
}
