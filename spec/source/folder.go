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

// Layer is a folder of files. Its name is the prefix of paths in findings, unless
// it is empty.
type Layer struct {
	Name  string
	Files fs.FS
}

// Shown returns the name of a file of the layer as shown to the user.
func (l Layer) Shown(name string) string { return shownName(l.Name, name) }

// File is a file that was read.
type File struct {
	Name    string // path in its layer
	Layer   string // name of the layer
	Data    []byte
	Entries []string // ids of its entries, if layers are merged by entry
}

// Shown returns the name of the file as shown to the user.
func (f File) Shown() string { return shownName(f.Layer, f.Name) }

// shownName keeps the layer's name as typed: "./line" on disk is not the "line"
// embedded in the program.
func shownName(layer, name string) string {
	if layer == "" {
		return name
	}
	return strings.TrimSuffix(layer, "/") + "/" + name
}

// FolderCodes are the codes of findings about the files of a folder.
type FolderCodes struct {
	Unreadable Code // a file or folder that is missing or cannot be read
	Stray      Code // a file that nothing reads
}

// Folder reads the files of several layers. A file is taken from the first layer that
// has it; files read by [ReadMap] or [ReadList] are merged by entry, and an entry is
// taken from the first layer that has it.
type Folder struct {
	Files    []File   // read so far, in order
	Findings Findings // so far
	layers   []Layer
	what     string // what the files are, in findings, such as "the templates"
	codes    FolderCodes
	bytes    int             // read so far
	asked    map[string]bool // names that were requested
}

// strayLimit limits the walk through a folder that holds something else.
const strayLimit = 2000

// NewFolder returns a Folder over layers, the one with the highest precedence first.
// What is what the files are, in findings, such as "the templates".
func NewFolder(what string, codes FolderCodes, layers ...Layer) *Folder {
	return &Folder{what: what, codes: codes, layers: layers, asked: map[string]bool{}}
}

// Shown returns the name under which a file that may not exist is shown: that in the
// first layer.
func (f *Folder) Shown(name string) string { return f.layers[0].Shown(name) }

// Has reports whether a layer has a file or folder of that name.
func (f *Folder) Has(name string) bool {
	return slices.ContainsFunc(f.layers, func(l Layer) bool {
		_, err := fs.Stat(l.Files, name)
		return !errors.Is(err, fs.ErrNotExist)
	})
}

// Names returns the names of files in a folder with an extension such as ".yaml" over
// all layers, without the folder, sorted, each once.
func (f *Folder) Names(folder, ending string) []string {
	return f.names(folder, func(e fs.DirEntry) bool { return !e.IsDir() && path.Ext(e.Name()) == ending })
}

// Folders returns the names of folders in a folder over all layers, sorted, each once.
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
		err = ofPath.Err // without the path, which depends on the machine
	}
	f.Findings.Add(f.codes.Unreadable.At(Pos{File: shown}, "this cannot be read: %v", err))
}

// Read reads a file from the first layer that has it. If none has it or it cannot be
// read, there is a finding and ok is false.
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

// readFrom reads a file of one layer into Files. If it exists but cannot be read, there
// is a finding, and ok is false.
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

// readPlain reads a regular file, up to one byte more than the limit. A pipe is
// refused: it might never end.
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
	data.Grow(int(min(info.Size(), LineLimit)) + bytes.MinRead) // allocate once
	_, err = data.ReadFrom(io.LimitReader(opened, LineLimit+1))
	return data.Bytes(), err
}

// Decode decodes a YAML file into the value dst points to. It returns the root node,
// or nil if the file cannot be used.
func (f *Folder) Decode(name string, dst any) *Node {
	root := f.Parse(name)
	if root != nil {
		Decode(root, dst, &f.Findings)
	}
	return root
}

// Parse parses a YAML file without decoding it, for callers that merge it with another
// one first. It returns nil if the file cannot be used.
func (f *Folder) Parse(name string) *Node {
	file, ok := f.Read(name)
	if !ok {
		return nil
	}
	return f.parse(file)
}

func (f *Folder) parse(file File) *Node {
	root, findings := Parse(file.Shown(), file.Data, LineLimit)
	f.Findings.Add(findings...)
	return root
}

func (f *Folder) decode(file File, dst any) {
	if root := f.parse(file); root != nil {
		Decode(root, dst, &f.Findings)
	}
}

// ReadMap reads a YAML mapping of ids from all layers. An entry replaces the one with
// the same id in a lower layer; new ones are appended. Beside has what other files of each
// layer hold of the same kind, the highest layer first; it may be nil.
func ReadMap[T any](f *Folder, name string, beside []Map[T]) Map[T] {
	id := func(e Item[T]) Given[string] { return Given[string]{Value: e.Key, At: e.KeyAt} }
	return overlaid(f, name, beside, codeDuplicate, id)
}

// ReadList reads a YAML list of items with ids, merged as by [ReadMap]. Twice is the
// code of an id that occurs twice in one layer.
func ReadList[T any](f *Folder, name string, beside [][]T, twice Code, id func(T) Given[string]) []T {
	return overlaid(f, name, beside, twice, id)
}

// overlaid reads a file of every layer that has it and merges the entries.
func overlaid[S ~[]E, E any](f *Folder, name string, beside []S, twice Code, id func(E) Given[string]) (all S) {
	for _, own := range ReadLayers(f, name, beside, func(e E) []Given[string] { return []Given[string]{id(e)} }, twice) {
		all = overlay(all, own, func(e E) string { return id(e).Value })
	}
	return all
}

// ReadLayers reads a YAML list or mapping of every layer that has it, the lowest layer first. Ids
// returns the ids in an entry; one that occurs twice in a layer is reported with the code twice.
func ReadLayers[S ~[]E, E any](f *Folder, name string, beside []S, ids func(E) []Given[string], twice Code) (all []S) {
	found := false
	for i, l := range slices.Backward(f.layers) {
		var own S
		there, ok := f.readFrom(l, name)
		if found = found || there; ok {
			file := &f.Files[len(f.Files)-1]
			f.decode(*file, &own)
			file.Entries = entriesOf(own, ids)
		}
		if beside != nil {
			own = append(own, beside[i]...)
		}
		seen := map[string]Pos{}
		for _, e := range own {
			for _, id := range ids(e) {
				if first, again := seen[id.Value]; again {
					f.Findings.Add(twice.At(id.At, "%q stands here a second time", id.Value).WithRelated(first, "first here"))
					continue
				}
				seen[id.Value] = id.At
			}
		}
		if len(own) > 0 {
			all = append(all, own)
		}
		found = found || len(own) > 0
	}
	if !found {
		f.missing(name)
	}
	return all
}

func entriesOf[S ~[]E, E any](list S, ids func(E) []Given[string]) (names []string) {
	for _, e := range list {
		names = append(names, Values(ids(e))...)
	}
	return names
}

// ReadFolder reads all YAML files of a folder, of every layer, the highest first.
func ReadFolder[T any](f *Folder, folder string) [][]T {
	all := make([][]T, len(f.layers))
	for _, name := range f.Names(folder, ".yaml") {
		for i, l := range f.layers {
			if _, ok := f.readFrom(l, path.Join(folder, name)); ok {
				var own T
				f.decode(f.Files[len(f.Files)-1], &own)
				all[i] = append(all[i], own)
			}
		}
	}
	return all
}

// overlay merges the entries of one layer into those of the layers below.
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

// Strays reports the files of all layers that nothing has read: the content of a
// misnamed file would be silently ignored. Hidden files, backup copies of editors, texts
// for readers and the Go file that embeds a folder are skipped. Hint, which may be nil,
// returns advice for a file; if ok is false, the nearest name is suggested.
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

// nearestFile returns the most likely correct name of a file: the same base name in a
// folder with a similar name, or a similar name.
func nearestFile(name string, names, folders []string) (string, bool) {
	if folder := path.Dir(name); !slices.Contains(folders, folder) {
		if near, ok := Nearest(folder, folders); ok {
			return path.Join(near, path.Base(name)), true
		}
	}
	return Nearest(name, names)
}
