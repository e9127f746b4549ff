package input

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/spec/project"
	"ownerguide/spec/source"
)

// SheetFile is the file of one build sheet.
type SheetFile struct {
	Name string // as the user typed it
	Data []byte
	sum  [sha256.Size]byte // of data given up
}

// Forget gives up the data of sheets that can be read again: of thousands it takes the room in which guides are made.
func Forget(sheets []SheetFile) {
	for i, f := range sheets {
		if f.Name != "-" {
			sheets[i] = SheetFile{Name: f.Name, sum: sha256.Sum256(f.Data)}
		}
	}
}

// Again returns a sheet with its data, which must be what they were.
func (f SheetFile) Again() (SheetFile, error) {
	var err error
	if f.Data == nil {
		f.Data, err = ReadCapped(f.Name, nil)
		if err == nil && sha256.Sum256(f.Data) != f.sum {
			err = terminal.WithHint(errors.New("it was changed after the run had begun"), "write again")
		}
	}
	return f, err
}

// CodeUnreadable reports an argument from which no sheet can be read.
var CodeUnreadable = source.Code{ID: "sheet-unreadable", Severity: source.Error, Protects: "a sheet that is passed over in silence is a unit without its guide"}

// ReadSheets reads the sheets named by arguments: files, folders (every .yaml and .yml
// directly in them), patterns, and "-" for standard input. A file named twice is read
// once. Unreadable files are reported as findings, and the rest is read all the same.
func ReadSheets(args []string, in io.Reader) (sheets []SheetFile, found source.Findings) {
	var names []string
	for _, arg := range args {
		if isProjectFile(arg) && len(args) > 1 {
			continue // the shell expanded *.yaml
		}
		more, err := expand(arg)
		if err != nil {
			found.Add(unreadable(arg, err))
		}
		names = append(names, more...)
	}
	seen := seenFiles{}
	for _, name := range names {
		if seen.before(name) {
			continue
		}
		data, err := ReadCapped(name, in)
		if err != nil {
			found.Add(unreadable(name, err))
			continue
		}
		sheets = append(sheets, SheetFile{Name: name, Data: data})
	}
	return sheets, found
}

// ReadSheet reads the one sheet named by an argument. If there is none, it prints the
// findings and returns errFound.
func ReadSheet(arg string, in io.Reader, t *terminal.Terminal) (SheetFile, error) {
	sheets, found := ReadSheets([]string{arg}, in)
	switch {
	case len(found) > 0:
		if err := t.SideFindings(found); err != nil {
			return SheetFile{}, err
		}
		return SheetFile{}, terminal.ErrFound
	case len(sheets) != 1:
		return SheetFile{}, terminal.WithHint(terminal.Usagef("%s has %d build sheets; expected one", arg, len(sheets)), "name the file of one unit, such as %s", sheets[0].Name)
	}
	return sheets[0], nil
}

func unreadable(name string, err error) source.Finding {
	f := CodeUnreadable.At(source.Pos{File: name}, "no sheet can be read here: %v", terminal.PlainError(err))
	if errors.Is(err, errNoSheet) {
		f = f.WithHint("name a file that ends in .yaml or .yml, a folder of such files, or - for standard input")
	}
	return f
}

var errNoSheet = errors.New("expected a build sheet")

func expand(arg string) ([]string, error) {
	if arg == "-" {
		return []string{arg}, nil
	}
	info, err := os.Stat(arg)
	switch {
	case err == nil && info.IsDir():
		return sheetsIn(arg)
	case err == nil && isProjectFile(arg):
		return nil, errors.New("this is the project file")
	case err == nil && !IsSheetName(arg):
		return nil, errNoSheet
	case err == nil:
		return []string{arg}, nil
	case errors.Is(err, fs.ErrNotExist) && strings.ContainsAny(arg, "*?["):
		found, err := filepath.Glob(arg)
		found = slices.DeleteFunc(found, isProjectFile)
		if err == nil && len(found) == 0 {
			err = errors.New("no file fits the pattern")
		}
		return found, err
	}
	return nil, err
}

func IsSheetName(name string) bool {
	ext := filepath.Ext(name)
	return ext == ".yaml" || ext == ".yml"
}

func isProjectFile(name string) bool { return filepath.Base(name) == project.File }

func sheetsIn(dir string) ([]string, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, err
	}
	var out []string
	for _, e := range entries {
		if !e.IsDir() && IsSheetName(e.Name()) && !isProjectFile(e.Name()) {
			out = append(out, filepath.Join(dir, e.Name()))
		}
	}
	if len(out) == 0 {
		return nil, errors.New("no .yaml or .yml file is in this folder")
	}
	return out, nil
}

// seenFiles identifies files regardless of names and links, by size and time first: only
// files with equal ones can be the same. Standard input has neither.
type seenFiles map[string][]fs.FileInfo

// before reports whether a file was seen before, and records it.
func (s seenFiles) before(name string) bool {
	if name == "-" {
		again := s[name] != nil
		s[name] = []fs.FileInfo{nil}
		return again
	}
	info, err := os.Stat(name)
	if err != nil {
		return false // reported when it is read
	}
	stamp := fmt.Sprint(info.Size(), info.ModTime())
	if slices.ContainsFunc(s[stamp], func(other fs.FileInfo) bool { return os.SameFile(info, other) }) {
		return true
	}
	s[stamp] = append(s[stamp], info)
	return false
}
