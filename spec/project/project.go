// Package project reads the project file: what a maker would otherwise type with each
// command, namely the folders of the product line, the templates and the guides, and the
// paper size.
//
// It reads and checks the file. It opens no other: whether the folders exist is checked
// by the command line.
package project

import (
	"path"
	"strings"

	"ownerguide/spec/source"
)

// File is the name of a project file. It applies to its folder and those below.
const File = "ownerguide.yaml"

// Project is the content of a project file. Folders are as written, relative to the
// folder of the file.
type Project struct {
	Line      source.Given[string] `yaml:"line" doc:"The folder of the product line, as seen from this file. The program's own line where it is left out."`
	Templates source.Given[string] `yaml:"templates" doc:"The folder of your words, as seen from this file. The program's own words stand behind them."`
	Out       source.Given[string] `yaml:"out" doc:"The folder guides are written to, as seen from this file. It is out, where you are, when left out."`
	Paper     source.Given[string] `yaml:"paper" oneof:"letter a4" doc:"The paper guides are printed on."`
}

// FileShapes returns the kinds of files this package reads, for documentation and
// editors.
func FileShapes() []source.FileShape {
	return []source.FileShape{{Name: "project", Where: File, Shape: source.ShapeFor[Project]()}}
}

var codeFolder = codes.Error("project-folder", "a line or words looked for in the wrong place would be taken from the program instead")

// Codes returns the codes of the findings this package can report.
func Codes() []source.Code { return codes }

var codes source.CodeList

// Read reads a project file; nil if it has errors.
func Read(file string, data []byte) (*Project, source.Findings) {
	node, findings := source.Parse(file, data, source.SheetLimit)
	if node == nil {
		return nil, findings
	}
	p := &Project{}
	source.Decode(node, p, &findings)
	for _, folder := range []source.Given[string]{p.Line, p.Templates, p.Out} {
		switch name := folder.Value; {
		case !folder.Set:
		case strings.TrimSpace(name) == "":
			findings.Add(codeFolder.At(folder.At, "%s names no folder", folder.Path).WithHint("write the folder, or leave the line out"))
		case strings.Contains(name, `\`):
			findings.Add(codeFolder.At(folder.At, "%s is %q; expected / between folders, on every machine", folder.Path, name))
		}
	}
	if findings.HasErrors() {
		return nil, findings
	}
	return p, findings
}

// In returns a folder of the project relative to the working directory; dir is the folder
// of the project file. It is empty if the file does not name the folder.
func In(dir string, folder source.Given[string]) string {
	switch {
	case !folder.Set:
		return ""
	case path.IsAbs(folder.Value):
		return path.Clean(folder.Value)
	}
	return path.Join(dir, folder.Value)
}

// MissingFolder returns the finding for a folder that does not exist.
func MissingFolder(folder source.Given[string]) source.Finding {
	return codeFolder.At(folder.At, "%s is %q; there is no such folder", folder.Path, folder.Value).
		WithHint("folders are written as seen from the folder of this file")
}
