package source

import (
	"bytes"
	"cmp"
	"errors"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"
)

// Layer is a folder of files. Places in findings begin with its name, unless
// that is empty.
type Layer struct {
	Name  string
	Files fs.FS
}

// Shown returns the name under which a file of the layer is shown to a person.
func (l Layer) Shown(name string) string { return shownName(l.Name, name) }

// File is one file that was read.
type File struct {
	Name    string // in its layer
	Layer   string // the name of that
	Data    []byte
	Entries []string // ids of the entries it holds, where each counts for itself
}

// Shown returns the name under which the file is shown to a person.
func (f File) Shown() string { return shownName(f.Layer, f.Name) }

// shownName keeps the layer's name as it was typed: "./line" on disk is not the
// "line" inside the program.
func shownName(layer, name string) string {
	if layer == "" {
		return name
	}
	return strings.TrimSuffix(layer, "/") + "/" + name
}

// FolderCodes are the codes of what is wrong with the files of a folder.
type FolderCodes struct {
	Unreadable Code // a file or folder that is missing or cannot be read
	Stray      Code // a file that nothing reads
}

// Folder reads the files of layers that lie over each other: a file counts as it
// stands in the first layer that has it, an entry of a file read by
// [ReadMap] or [ReadList] as it stands in the first layer that has that entry.
type Folder struct {
	Files    []File   // read so far, in order
	Findings Findings // so far
	layers   []Layer
	what     string // what the files make up, such as "the templates"
	codes    FolderCodes
	bytes    int             // read so far
	asked    map[string]bool // names that something wanted to read
}

// strayLimit bounds the walk through a folder that holds something else altogether.
const strayLimit = 2000

// NewFolder returns a reader of layers, the one that counts first in front. What
// says in findings what the files make up, such as "the templates".
func NewFolder(what string, codes FolderCodes, layers ...Layer) *Folder {
	return &Folder{what: what, codes: codes, layers: layers, asked: map[string]bool{}}
}

// Shown returns the name under which a file is shown that may not be there: that
// in the first layer.
func (f *Folder) Shown(name string) string { return f.layers[0].Shown(name) }

// Has reports whether a layer has something of that name, whatever it is.
func (f *Folder) Has(name string) bool {
	return slices.ContainsFunc(f.layers, func(l Layer) bool {
		_, err := fs.Stat(l.Files, name)
		return !errors.Is(err, fs.ErrNotExist)
	})
}

// Names lists the files of a folder with an ending such as ".yaml" over all
// layers, without the folder, sorted, each once.
func (f *Folder) Names(folder, ending string) []string {
	return f.names(folder, func(e fs.DirEntry) bool { return !e.IsDir() && path.Ext(e.Name()) == ending })
}

// Folders lists the folders in a folder over all layers, sorted, each once.
func (f *Folder) Folders(folder string) []string { return f.names(folder, fs.DirEntry.IsDir) }

func (f *Folder) names(folder string, keep func(fs.DirEntry) bool) (names []string) {
	for _, l := range f.layers {
		entries, err := fs.ReadDir(l.Files, folder)
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			f.unreadable(l.Shown(folder), err)
		}
		for _, e := range entries {
			if keep(e) {
				names = append(names, e.Name())
			}
		}
	}
	slices.Sort(names)
	return slices.Compact(names)
}

func (f *Folder) unreadable(shown string, err error) {
	var ofPath *fs.PathError
	if errors.As(err, &ofPath) {
		err = ofPath.Err // the path depends on the machine
	}
	f.Findings.Add(f.codes.Unreadable.At(Pos{File: shown}, "this cannot be read: %v", err))
}

// Read reads a file from the first layer that has it; ok is false, and there is a
// finding, when none has or it cannot be read.
func (f *Folder) Read(name string) (file File, ok bool) {
	for _, l := range f.layers {
		if there, ok := f.readFrom(l, name); ok {
			return f.Files[len(f.Files)-1], true
		} else if there {
			return File{}, false
		}
	}
	f.missing(name)
	return File{}, false
}

func (f *Folder) missing(name string) {
	f.Findings.Add(f.codes.Unreadable.At(Pos{File: f.Shown(name)}, "the file is missing"))
}

// readFrom reads a file of one layer into Files; ok is false when it is not
// there, or when it is and cannot be read, which is reported.
func (f *Folder) readFrom(l Layer, name string) (there, ok bool) {
	f.asked[name] = true
	data, err := readPlain(l.Files, name)
	if errors.Is(err, fs.ErrNotExist) {
		return false, false
	}
	f.bytes += len(data)
	switch {
	case err != nil:
		f.unreadable(l.Shown(name), err)
	case len(data) > LineLimit:
		f.Findings.Add(codeTooLarge.At(Pos{File: l.Shown(name), Line: 1, Column: 1}, "the file has more than %d bytes, which is the most that is read", LineLimit))
	case f.bytes > FolderLimit:
		f.Findings.Add(codeTooLarge.At(Pos{File: l.Shown(name), Line: 1, Column: 1}, "with this file %s have more than %d bytes, which is the most that is read", f.what, FolderLimit))
	default:
		f.Files = append(f.Files, File{Name: name, Layer: l.Name, Data: data})
		return true, true
	}
	return true, false
}

// readPlain reads a file, of one longer than it may be the first byte too many as
// well. A pipe is refused: it would never end.
func readPlain(files fs.FS, name string) ([]byte, error) {
	info, err := fs.Stat(files, name)
	if err != nil || !info.Mode().IsRegular() {
		return nil, cmp.Or(err, errors.New("it is not a plain file"))
	}
	opened, err := files.Open(name)
	if err != nil {
		return nil, err
	}
	defer opened.Close()
	var data bytes.Buffer
	data.Grow(int(min(info.Size(), LineLimit)) + bytes.MinRead) // read in one piece
	_, err = data.ReadFrom(io.LimitReader(opened, LineLimit+1))
	return data.Bytes(), err
}

// Decode reads a YAML file into what dst points to. It returns the file as data,
// nil when there is none that can be used.
func (f *Folder) Decode(name string, dst any) *Node {
	file, ok := f.Read(name)
	if !ok {
		return nil
	}
	return f.decode(file, dst)
}

// Parse reads a YAML file as data, for whoever lays it over another one before
// it is decoded; nil when there is none that can be used.
func (f *Folder) Parse(name string) *Node {
	file, ok := f.Read(name)
	if !ok {
		return nil
	}
	root, findings := Parse(file.Shown(), file.Data, LineLimit)
	f.Findings.Add(findings...)
	return root
}

func (f *Folder) decode(file File, dst any) *Node {
	root, findings := Parse(file.Shown(), file.Data, LineLimit)
	if root != nil {
		Decode(root, dst, &findings)
	}
	f.Findings.Add(findings...)
	return root
}

// ReadMap reads a YAML file that maps ids to something, entry by entry over the
// layers: an id of a layer above takes the place of the same one below, new ones
// follow.
func ReadMap[T any](f *Folder, name string) Map[T] {
	return overlaid(f, name, func(e Item[T]) string { return e.Key }, func(Map[T]) Findings { return nil })
}

// ReadList reads a YAML file that lists what has an id each, as [ReadMap] reads a
// map. Twice is the code of an id that stands twice in one layer.
func ReadList[T any](f *Folder, name string, twice Code, id func(T) Given[string]) []T {
	return overlaid(f, name, func(e T) string { return id(e).Value }, func(own []T) (findings Findings) {
		seen := map[string]Pos{}
		for _, e := range own {
			if first, again := seen[id(e).Value]; again {
				findings.Add(twice.At(id(e).At, "%q stands here a second time", id(e).Value).WithRelated(first, "first here"))
			}
			seen[id(e).Value] = id(e).At
		}
		return findings
	})
}

// overlaid reads a file of every layer that has it, entry by entry.
func overlaid[S ~[]E, E any](f *Folder, name string, id func(E) string, check func(S) Findings) (all S) {
	readEach(f, name, func(own S) (ids []string) {
		f.Findings.Add(check(own)...)
		for _, e := range own {
			ids = append(ids, id(e))
		}
		all = overlay(all, own, id)
		return ids
	})
	return all
}

// readEach reads a file of every layer that has it, those below first, and takes down
// which entries use says are in it.
func readEach[T any](f *Folder, name string, use func(own T) (ids []string)) {
	found := false
	for _, l := range slices.Backward(f.layers) {
		there, ok := f.readFrom(l, name)
		found = found || there
		if !ok {
			continue
		}
		file := &f.Files[len(f.Files)-1]
		var own T
		f.decode(*file, &own)
		file.Entries = use(own)
	}
	if !found {
		f.missing(name)
	}
}

// overlay lays the entries of one layer over those of the layers below.
func overlay[S ~[]E, E any](below, above S, id func(E) string) S {
	place := map[string]int{}
	for i, e := range below {
		place[id(e)] = i
	}
	out := slices.Clone(below)
	for _, e := range above {
		if i, there := place[id(e)]; there {
			out[i] = e
		} else {
			out = append(out, e)
		}
	}
	return out
}

// Strays reports the files of all layers that nothing has read: under a wrong
// name, what they say would be left out in silence. Hidden files, copies that
// editors keep, texts for readers and the Go file that embeds a folder are left
// alone. Hint, which may be nil, says of a file what to do; ok is false where the
// nearest name is all there is to say.
func (f *Folder) Strays(hint func(name string) (text string, ok bool)) {
	var names, folders []string
	for _, file := range f.Files {
		names, folders = append(names, file.Name), append(folders, path.Dir(file.Name))
	}
	for _, l := range f.layers {
		seen := 0
		err := fs.WalkDir(l.Files, ".", func(name string, entry fs.DirEntry, err error) error {
			base := path.Base(name)
			switch hidden := strings.HasPrefix(base, ".") && name != "."; {
			case err != nil:
				return err
			case hidden && entry.IsDir():
				return fs.SkipDir
			case hidden, entry.IsDir(), strings.HasSuffix(base, "~"), strings.HasPrefix(base, "#"), base == "README.md", name == "embed.go", f.asked[name]:
				return nil
			}
			if seen++; seen > strayLimit {
				return errors.New("nothing reads most of what is in it")
			}
			found := f.codes.Stray.At(Pos{File: l.Shown(name)}, "nothing reads this file")
			if hint != nil {
				if text, ok := hint(name); ok {
					f.Findings.Add(found.WithHint("%s", text))
					return nil
				}
			}
			if near, ok := nearestFile(name, names, folders); ok {
				found = found.WithHint("did you mean %q?", near)
			}
			f.Findings.Add(found)
			return nil
		})
		if err != nil {
			f.unreadable(cmp.Or(l.Name, "."), err)
		}
	}
}

// nearestFile returns the name a file most likely should have: the same one in a folder
// of nearly the same name, or nearly the same one.
func nearestFile(name string, names, folders []string) (string, bool) {
	if folder := path.Dir(name); !slices.Contains(folders, folder) {
		if near, ok := Nearest(folder, folders); ok {
			return path.Join(near, path.Base(name)), true
		}
	}
	return Nearest(name, names)
}

// ReadLayers reads a YAML file of every layer that has it as one value each,
// those below first. Ids tells which entries are in a value.
func ReadLayers[T any](f *Folder, name string, ids func(T) []string) (all []T) {
	readEach(f, name, func(own T) []string {
		all = append(all, own)
		return ids(own)
	})
	return all
}
