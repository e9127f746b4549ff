package product

import (
	"cmp"
	"embed"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"

	"ownerguide/spec/source"
)

// base holds the hazards and tasks that come with the program. A line may add
// to them and never takes any away.
//
//go:embed base/hazards.yaml base/tasks.yaml
var base embed.FS

// strayLimit bounds the walk through a folder that is no product line at all.
const strayLimit = 2000

// Load reads a product line: line.yaml, components/*.yaml in the order of
// their names, models/ID.yaml for each model line.yaml lists, and text/*.yaml.
// Places in findings begin with name. Derived are the features that nobody
// writes, each with what a unit has it by. The line is whole or refused: with any
// error among the findings the returned line is nil.
func Load(files fs.FS, name string, derived map[string]string) (*Line, source.Findings) {
	r := &lineReader{files: files, name: strings.TrimSuffix(name, "/"), line: &Line{Texts: map[string]*Texts{}}}
	r.readBase()
	if r.read("line.yaml", &r.line.Maker) {
		r.readFolders()
	}
	// What follows from a file that could not be read is not reported as well.
	if !r.findings.HasErrors() {
		r.line.index()
		r.findings.Add(r.line.check(derived)...)
	}
	if r.findings.HasErrors() {
		return nil, r.findings.Sorted()
	}
	return r.line, r.findings.Sorted()
}

// textLimit bounds the texts of a line, wherever they stand.
func textLimit(string) source.TextLimit { return source.TextLimit{Characters: 4000} }

type lineReader struct {
	files    fs.FS
	name     string
	line     *Line
	bytes    int // read so far
	findings source.Findings
}

func (r *lineReader) readBase() {
	program := &lineReader{files: base, line: r.line}
	program.read("base/hazards.yaml", &r.line.Hazards)
	program.read("base/tasks.yaml", &r.line.Tasks)
	r.findings.Add(program.findings...)
}

func (r *lineReader) readFolders() {
	l := r.line
	l.Hazards = append(l.Hazards, l.Maker.Hazards...)
	l.Tasks = append(l.Tasks, l.Maker.Tasks...)
	known := []string{"line.yaml"}
	for _, file := range r.folder("components") {
		known = append(known, file)
		r.read(file, &l.Components) // maps grow: each file adds its entries
	}
	if logo := l.Maker.Logo; logo.Set {
		known = append(known, logo.Value)
		r.logo(logo)
	}
	for _, id := range l.Maker.Models {
		file := "models/" + id.Value + ".yaml"
		if !validID(id.Value) {
			r.findings.Add(malformedID("model id", id))
			continue
		}
		if slices.Contains(known, file) {
			continue // reported with the other ids
		}
		known = append(known, file)
		if _, err := fs.Stat(r.files, file); err != nil {
			r.findings.Add(r.noModelFile(id, file))
			continue
		}
		m := &Model{ID: id.Value, At: source.Pos{File: r.path(file), Line: 1, Column: 1}}
		r.read(file, m)
		l.Models = append(l.Models, m)
	}
	for _, file := range r.folder("text") {
		known = append(known, file)
		texts := &Texts{}
		r.read(file, texts)
		l.Texts[strings.TrimSuffix(path.Base(file), ".yaml")] = texts
	}
	r.strays(known)
}

// noModelFile reports a model that has no file, with the name of one that nothing
// lists and that was most likely meant.
func (r *lineReader) noModelFile(id word, file string) source.Finding {
	f := codeLineRead.At(id.At, "model %q has no file %s", id.Value, file)
	files, _ := fs.Glob(r.files, "models/*.yaml") // the pattern is sound
	var unlisted []string
	for _, name := range files {
		if name = strings.TrimSuffix(path.Base(name), ".yaml"); !slices.Contains(source.Values(r.line.Maker.Models), name) {
			unlisted = append(unlisted, name)
		}
	}
	if near, ok := source.Nearest(id.Value, unlisted); ok {
		f = f.WithHint("did you mean %q?", near)
	}
	return f
}

// folder lists the YAML files of a folder by name.
func (r *lineReader) folder(name string) []string {
	files, err := fs.Glob(r.files, name+"/*.yaml")
	if err != nil || len(files) == 0 {
		r.findings.Add(codeLineRead.At(source.Pos{File: r.path(name)}, "no YAML file here; a line needs line.yaml, components/*.yaml, models/*.yaml and text/en.yaml"))
	}
	slices.Sort(files)
	return files
}

// strays reports files that no part of the line reads. Hidden files, copies that
// editors keep, the text for readers and the Go file that embeds the line are left alone.
func (r *lineReader) strays(known []string) {
	seen := 0
	err := fs.WalkDir(r.files, ".", func(file string, entry fs.DirEntry, err error) error {
		if seen++; err != nil || seen > strayLimit {
			r.findings.Add(codeLineRead.At(source.Pos{File: r.path(file)}, "this folder cannot be read to its end"))
			return fs.SkipAll
		}
		base := path.Base(file)
		switch hidden := strings.HasPrefix(base, ".") && file != "."; {
		case hidden && entry.IsDir():
			return fs.SkipDir
		case hidden, entry.IsDir(), strings.HasSuffix(base, "~"), strings.HasPrefix(base, "#"), file == "embed.go", base == "README.md", slices.Contains(known, file):
			return nil
		}
		f := codeLineStray.At(source.Pos{File: r.path(file)}, "nothing reads this file")
		if id, ok := strings.CutSuffix(base, ".yaml"); ok && path.Dir(file) == "models" {
			f = f.WithHint("list %q under models in line.yaml, or delete the file", id)
		}
		r.findings.Add(f)
		return nil
	})
	if err != nil {
		r.findings.Add(codeLineRead.At(source.Pos{File: r.path(".")}, "this folder cannot be read"))
	}
}

// read decodes one file into dst. It reports false when the file is missing or
// unusable as a whole.
func (r *lineReader) read(file string, dst any) bool {
	shown := r.path(file)
	data, err := readLimited(r.files, file)
	if r.bytes += len(data); err == nil && r.bytes > source.FolderLimit {
		err = fmt.Errorf("with this file the line has more than %d bytes", source.FolderLimit)
	}
	if err != nil {
		r.findings.Add(codeLineRead.At(source.Pos{File: shown}, "this file cannot be read: %s", reason(err)))
		return false
	}
	r.line.Files = append(r.line.Files, File{Name: shown, Data: data})
	node, findings := source.Parse(shown, data, source.LineLimit)
	r.findings.Add(findings...)
	if node == nil {
		return false
	}
	source.Decode(node, dst, &r.findings)
	r.findings.Add(source.CheckTexts(node, textLimit)...)
	return true
}

// logo reads the maker's logo, whatever is in it.
func (r *lineReader) logo(file word) {
	if !fs.ValidPath(file.Value) {
		r.findings.Add(codeLineRead.At(file.At, "logo is %q; expected a file of this folder, such as logo.svg", file.Value))
		return
	}
	data, err := readLimited(r.files, file.Value)
	if err != nil {
		r.findings.Add(codeLineRead.At(file.At, "logo %q cannot be read: %s", file.Value, reason(err)))
		return
	}
	logo := File{Name: r.path(file.Value), Data: data}
	r.line.Files = append(r.line.Files, logo)
	r.line.Logo = &logo
}

// readLimited reads one byte more than a file may have, so that the YAML reader
// sees that it is too long. Only plain files are opened: a pipe would never end.
func readLimited(files fs.FS, name string) ([]byte, error) {
	if info, err := fs.Stat(files, name); err != nil || !info.Mode().IsRegular() {
		return nil, cmp.Or(err, errors.New("it is not a plain file"))
	}
	f, err := files.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, source.LineLimit+1))
}

// reason keeps an error free of paths that depend on the machine.
func reason(err error) string {
	if e, ok := err.(*fs.PathError); ok {
		return e.Err.Error()
	}
	return err.Error()
}

func (r *lineReader) path(file string) string {
	if r.name == "" {
		return file
	}
	return r.name + "/" + file
}
