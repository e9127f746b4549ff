package deliver

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
)

// Rules decide what a run may write and where; every path the program writes is
// checked against them. Nothing is written
//
//   - through a symbolic link, be it the file or a folder on the way to it,
//   - over a file the run reads, or into a folder it reads,
//   - into the folder of one unit, which only [Folder.Replace] writes,
//   - under a name without an extension of the kind of file,
//   - over a file that is not as this program wrote it, unless Force is set.
//
// Paths are compared by the file they lead to, not by spelling. Writes are atomic.
// Errors are of type [*Error].
type Rules struct {
	Inputs []string                 // files and folders the run reads
	Unit   func(folder string) bool // reports whether a folder is that of one unit; may be nil
	Force  bool                     // files that are not as this program wrote them may be replaced
}

// Kind is a kind of file the program writes.
type Kind struct {
	Name    string               // with its article: a PDF
	Endings []string             // with the dot: .pdf; case is ignored
	Own     func(io.Reader) bool // reports whether a file is as the program wrote it
}

// Error is the reason why something was not written.
type Error struct {
	Path    string
	Problem string // what is wrong with the path, or the system's message
	Do      string // how to fix it
	Err     error  // the system's error; nil if a rule is broken
}

func (e *Error) Error() string { return e.Path + ": " + e.Problem }

// Unwrap returns the system's error.
func (e *Error) Unwrap() error { return e.Err }

// Hint returns how to fix it.
func (e *Error) Hint() string { return e.Do }

func refuse(path, do, problem string, args ...any) error {
	return &Error{Path: path, Problem: fmt.Sprintf(problem, args...), Do: do}
}

// failed wraps an error of the system, with a hint if there is one.
func failed(path, doing string, err error) error {
	var known *Error
	if err == nil || errors.As(err, &known) {
		return err
	}
	do := ""
	switch {
	case errors.Is(err, syscall.EROFS), errors.Is(err, fs.ErrPermission):
		do = "name a place that you may write to"
	case errors.Is(err, syscall.ENOSPC):
		do = "make room on the disk, or name a place on another one; nothing is left half written"
	case errors.Is(err, syscall.ENOTDIR):
		do = "name a folder; a file stands where one is needed"
	case errors.Is(err, ErrBusy):
		do = "wait until it is done"
	}
	return &Error{path, doing + ": " + bare(err).Error(), do, err}
}

// bare removes from an error the path, which is printed already.
func bare(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	var l *os.LinkError
	if errors.As(err, &l) {
		return l.Err
	}
	return err
}

// Check reports whether a file may be written, before the work for it is done. Write
// checks again.
func (r Rules) Check(name string, kind Kind) error {
	_, err := r.file(name, kind)
	return err
}

// file checks the path of a file against the rules, and reports whether a file exists
// there that may be replaced.
func (r Rules) file(name string, kind Kind) (there bool, err error) {
	info, err := r.place(name)
	if err != nil {
		return false, err
	}
	if !slices.Contains(kind.Endings, strings.ToLower(filepath.Ext(name))) {
		return false, refuse(name, "name a file that ends in "+strings.Join(kind.Endings, " or "), "expected the name of %s", kind.Name)
	}
	switch {
	case info == nil:
		return false, nil
	case info.IsDir():
		return false, refuse(name, "name a file in it, or move it away", "this is a folder")
	case !info.Mode().IsRegular():
		return false, refuse(name, "name another file", "this is not a plain file")
	case !r.Force:
		if !isOwn(name, kind) {
			return false, refuse(name, "write to another place, move this file away, or lose it with --force", "a file is there that is not %s as this program wrote it", kind.Name)
		}
	}
	return true, nil
}

func isOwn(name string, kind Kind) bool {
	file, err := os.Open(name)
	if err != nil {
		return false
	}
	defer file.Close()
	return kind.Own(file)
}

// CheckFolder reports whether files may be written into a folder.
func (r Rules) CheckFolder(name string) error {
	_, err := r.folder(name)
	return err
}

// folder checks the path of a folder against the rules, and reports whether it exists.
func (r Rules) folder(name string) (there bool, err error) {
	switch info, err := r.place(name); {
	case err != nil:
		return false, err
	case info == nil:
		return false, nil
	case !info.IsDir():
		return false, refuse(name, "name a folder", "this is a file")
	}
	return true, nil
}

// place checks a path against the rules common to files and folders. It returns the
// info of what exists there, or nil.
func (r Rules) place(name string) (fs.FileInfo, error) {
	link, err := linkIn(name)
	if err != nil {
		return nil, failed(name, "looking for it", err)
	}
	if link != "" {
		if link == filepath.Clean(name) {
			link = "this"
		}
		return nil, refuse(name, "name the place itself that the link leads to", "%s is a symbolic link, and nothing is written through one", link)
	}
	info, err := os.Lstat(name)
	if errors.Is(err, fs.ErrNotExist) {
		info, err = nil, nil
	}
	if err != nil {
		return nil, failed(name, "looking for it", err)
	}
	inputs := r.inputs()
	if input := sameAs(info, inputs); input != "" {
		if info.IsDir() {
			return nil, refuse(name, "name another folder", "this run reads %s", input)
		}
		return nil, refuse(name, "name another file", "this run reads it")
	}
	for folder := range above(name) {
		at, err := os.Stat(folder)
		if err != nil || !at.IsDir() {
			continue
		}
		if input := sameAs(at, inputs); input != "" {
			return nil, refuse(name, "name a place outside it", "it lies in %s, which this run reads", input)
		}
		if r.Unit != nil && r.Unit(folder) {
			return nil, refuse(name, "name a place outside it", "it lies in the folder of one unit, which holds the unit's guide and nothing else")
		}
	}
	return info, nil
}

// read is a file or folder that the run reads.
type read struct {
	name string
	fs.FileInfo
}

func (r Rules) inputs() (out []read) {
	for _, name := range r.Inputs {
		if info, err := os.Stat(name); err == nil {
			out = append(out, read{name, info})
		}
	}
	return out
}

// sameAs returns the name of the file in several that info describes, or an empty string.
func sameAs(info fs.FileInfo, several []read) string {
	i := slices.IndexFunc(several, func(r read) bool { return info != nil && os.SameFile(r.FileInfo, info) })
	if i < 0 {
		return ""
	}
	return several[i].name
}

// above yields a path and its parent folders from the inside out, with links resolved,
// skipping those that do not exist.
func above(name string) func(yield func(string) bool) {
	return func(yield func(string) bool) {
		full, err := filepath.Abs(name)
		if err != nil {
			return
		}
		for {
			if real, err := filepath.EvalSymlinks(full); err == nil {
				full = real
				break
			}
			if full == filepath.Dir(full) {
				return
			}
			full = filepath.Dir(full)
		}
		for yield(full) && full != filepath.Dir(full) {
			full = filepath.Dir(full)
		}
	}
}

// linkIn returns the first symbolic link on a path, or an empty string. A link directly
// in the root folder belongs to the system, such as /tmp and /var on some, and is
// ignored unless it is the path itself.
func linkIn(name string) (string, error) {
	name = filepath.Clean(name)
	volume := filepath.VolumeName(name)
	rest := name[len(volume):]
	absolute := strings.HasPrefix(rest, string(filepath.Separator))
	parts := strings.Split(strings.Trim(rest, string(filepath.Separator)), string(filepath.Separator))
	at := volume
	if absolute {
		at += string(filepath.Separator)
	}
	for i, part := range parts {
		at = filepath.Join(at, part)
		info, err := os.Lstat(at)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			return "", nil
		case err != nil:
			return "", err
		case info.Mode()&fs.ModeSymlink != 0 && !(absolute && i == 0 && len(parts) > 1):
			return at, nil
		}
	}
	return "", nil
}
