package product

import (
	"embed"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"

	"ownerguide/spec/logic"
	"ownerguide/spec/source"
)

// base contains the tasks of the program. A line may add tasks, and may switch one off
// only with a reason: see [SwitchOff].
//
//go:embed base/tasks.yaml
var base embed.FS

// BaseFile is the name of that file in positions.
const BaseFile = "base/tasks.yaml"

// BaseTasks returns the file with the tasks of the program. A line may contain a copy as
// tasks.yaml, so that findings can point into a file that the maker has.
func BaseTasks() []byte {
	data, err := base.ReadFile(BaseFile)
	if err != nil {
		panic(err) // it is embedded
	}
	return data
}

// folderCodes are the codes of findings about the files of a line.
var folderCodes = source.FolderCodes{Unreadable: codeLineRead, Stray: codeLineStray}

// Load reads a product line: line.yaml, components/*.yaml in the order of their names,
// options/*.yaml if there are any, models/ID.yaml for each model that line.yaml lists,
// and text/*.yaml. Name is the prefix of file names in findings. Derived maps the features
// that follow from the parts to their conditions. A line is complete or refused: if the
// findings include an error, the returned line is nil. Proved, which may be nil, reports whether
// these are files that passed a proof: then they are not checked again.
func Load(files fs.FS, name string, derived map[string]string, proved func([]source.File) bool) (*Line, source.Findings) {
	l := &Line{Texts: map[string]*Texts{}, lost: map[string]logic.Condition{}}
	program := source.NewFolder("the program's own files", folderCodes, source.Layer{Files: base})
	program.Decode(BaseFile, &l.Tasks)
	for _, t := range l.Tasks {
		l.Systems = append(l.Systems, t.System.Value)
	}
	r := &lineReader{source.NewFolder("the files of the line", folderCodes, source.Layer{Name: strings.TrimSuffix(name, "/"), Files: files}), l, map[*Model][]string{}}
	if r.read("line.yaml", &l.Maker) {
		r.readFolders(program.Files[0])
	}
	l.Files = slices.Concat(program.Files, r.Files)
	findings := slices.Concat(program.Findings, r.Findings)
	l.Proved = proved != nil && proved(l.Files)
	// Errors that follow from an unreadable file are not reported.
	if !findings.HasErrors() {
		l.index()
		for _, m := range l.Models {
			findings.Add(l.lengthen(m, r.owners[m])...)
		}
		if !l.Proved {
			findings.Add(l.check(derived)...)
		}
	}
	if findings.HasErrors() {
		return nil, findings.Sorted()
	}
	return l, findings.Sorted()
}

// textLimit returns the limit of the texts of a line.
func textLimit(string) source.TextLimit { return source.TextLimit{Characters: 4000} }

type lineReader struct {
	*source.Folder
	line   *Line
	owners map[*Model][]string // files whose figures are already those of the longer model
}

// read decodes one file into dst. It returns false if the file is missing or cannot be
// parsed.
func (r *lineReader) read(file string, dst any) bool {
	root := r.parse(file)
	if root == nil {
		return false
	}
	source.Decode(root, dst, &r.Findings)
	return true
}

// parse parses one file; nil if it is missing or cannot be parsed.
func (r *lineReader) parse(file string) *source.Node {
	root := r.Parse(file)
	if root != nil {
		r.Findings.Add(source.CheckTexts(root, textLimit)...)
	}
	return root
}

func (r *lineReader) readFolders(program source.File) {
	l := r.line
	r.ownTasks(program)
	r.readComponents()
	l.Tasks = append(l.Tasks, l.Components.Tasks...)
	r.switchOff()
	if l.Maker.Logo.Set {
		r.logo(l.Maker.Logo)
	}
	r.readModels()
	for _, file := range r.yamlFiles("text") {
		texts := &Texts{}
		r.read("text/"+file, texts)
		l.Texts[strings.TrimSuffix(file, ".yaml")] = texts
	}
	r.Strays(func(file string) (string, bool) {
		id, ok := strings.CutSuffix(path.Base(file), ".yaml")
		return fmt.Sprintf("list %q under models in line.yaml, or delete the file", id), ok && path.Dir(file) == "models"
	})
}

// noModelFile returns the finding for a model without a file, with a hint if a similar
// file is not listed.
func (r *lineReader) noModelFile(id word, file string) source.Finding {
	f := codeLineRead.At(id.At, "model %q has no file %s", id.Value, file)
	var unlisted []string
	for _, name := range r.Names("models", ".yaml") {
		if name = strings.TrimSuffix(name, ".yaml"); !slices.Contains(source.Values(r.line.Maker.Models), name) {
			unlisted = append(unlisted, name)
		}
	}
	return f.DidYouMean(id.Value, unlisted, "")
}

// yamlFiles returns the YAML files of a folder that must not be empty.
func (r *lineReader) yamlFiles(folder string) []string {
	files := r.Names(folder, ".yaml")
	if len(files) == 0 {
		r.Findings.Add(codeLineRead.At(source.Pos{File: r.Shown(folder)}, "no YAML file here; a line needs line.yaml, components/*.yaml, models/*.yaml and text/en.yaml"))
	}
	return files
}

// logo reads the maker's logo without decoding it.
func (r *lineReader) logo(file word) {
	switch {
	case !fs.ValidPath(file.Value):
		r.Findings.Add(codeLineRead.At(file.At, "logo is %q; expected a file of this folder, such as logo.svg", file.Value))
	case !r.Has(file.Value):
		r.Findings.Add(codeLineRead.At(file.At, "there is no logo %q", file.Value))
	default:
		if logo, ok := r.Read(file.Value); ok {
			r.line.Logo = &logo
		}
	}
}
