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

// Write writes one file atomically and reports whether it replaced another. Missing
// folders are created.
func (r Rules) Write(name string, kind Kind, data []byte) (replaced bool, err error) {
	replaced, err = r.file(name, kind)
	if err != nil {
		return false, err
	}
	return replaced, r.put(name, data, func(root *os.Root, staged, base string) error { return root.Rename(staged, base) })
}

// WriteNew is Write for a file that the user continues to edit: an existing file is
// never replaced; the error then wraps [fs.ErrExist].
func (r Rules) WriteNew(name string, kind Kind, data []byte) error {
	r.Force = true // existence is checked when the file is put in place
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

// placeNew renames a staged file to base unless base exists.
func placeNew(root *os.Root, staged, base string) error {
	err := root.Link(staged, base)
	switch {
	case err == nil:
		return root.Remove(staged)
	case errors.Is(err, fs.ErrExist):
		return err
	}
	// The file system has no hard links.
	if _, err := root.Lstat(base); err == nil {
		return fs.ErrExist
	}
	return root.Rename(staged, base)
}

// put stages a file in its folder and puts it in place. Another run may remove a folder
// that it created and no longer needs; then it is created again.
func (r Rules) put(name string, data []byte, place func(root *os.Root, staged, base string) error) error {
	dir := filepath.Dir(name)
	for tries := 0; ; tries++ {
		undo, err := makeFolder(dir)
		if err == nil {
			if err = putIn(dir, filepath.Base(name), data, place); err != nil {
				undo()
			}
		}
		// Mkdir returns ErrExist if another run removes the folder right after it was found to exist.
		takenAway := errors.Is(err, fs.ErrNotExist) || undo == nil && errors.Is(err, fs.ErrExist)
		if !takenAway || tries == folderTries {
			return failed(name, "writing it", err)
		}
	}
}

// folderTries is how often a folder is created again after other runs removed it. Each
// time one of those runs has ended.
const folderTries = 100

// putIn writes a file under a staged name and then renames it. The lock on the staged
// file distinguishes a file being written by another run from one left by an interrupted
// run.
func putIn(dir, base string, data []byte, place func(root *os.Root, staged, base string) error) error {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return err
	}
	defer root.Close()
	sum := sha256.Sum256([]byte(base))
	staged := stagePrefix + "file-" + hex.EncodeToString(sum[:8]) // a fixed length, because base may have the longest name allowed
	file, err := openStaged(root, staged)
	if err != nil {
		return err
	}
	defer file.Close()
	_, err = file.Write(data)
	if there, of := root.Lstat(base); err == nil && of == nil {
		err = file.Chmod(there.Mode().Perm()) // keep the permissions of the file replaced
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
	return err // the folder is not synced: after a crash the new file or the previous one is there
}

// openStaged creates and locks a file to be staged. It removes a file of that name left
// by an interrupted run.
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

// stillNamed reports whether a name refers to an open file.
func stillNamed(root *os.Root, name string, file *os.File) bool {
	at, err := root.Lstat(name)
	is, err2 := file.Stat()
	return err == nil && err2 == nil && os.SameFile(at, is)
}

// makeFolder creates a folder and its parents. Undo removes those it created that are
// empty.
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

// WriteTree writes files into a folder that does not exist or is empty: all of them or
// none. Their names may contain folders, separated by slashes.
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

// placeTree stages files inside their folder, and moves them up when all are written.
func placeTree(dir string, files []File) error {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return err
	}
	defer root.Close()
	defer root.RemoveAll(stagedTree)
	err = root.RemoveAll(stagedTree) // of an interrupted run
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
