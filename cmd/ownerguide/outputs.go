package main

import (
	"io"

	"ownerguide/cmd/ownerguide/internal/input"
	"ownerguide/cmd/ownerguide/internal/output"
	"ownerguide/render/deliver"
	"ownerguide/render/pdf"
)

// The kinds of files the program writes, apart from the guides of units.
var (
	kindTogether = deliver.Kind{Name: "a PDF of several guides", Endings: []string{".pdf"}, Own: func(r io.Reader) bool {
		data, err := io.ReadAll(r)
		return err == nil && pdf.IsTogether(data)
	}}
	kindMail  = deliver.Kind{Name: "a mail", Endings: []string{".eml"}, Own: deliver.Sealed}
	kindSheet = deliver.Kind{Name: "a build sheet", Endings: []string{".yaml", ".yml"}, Own: deliver.Sealed}
)

// forceFlag allows writing over files that the program did not write.
type forceFlag struct {
	Force bool `short:"f" help:"Also write over a file that is not as this program wrote it. Files the run reads, and guides, are never written over."`
}

// outputs returns the rules for what a run may write. Inputs are the files it reads apart
// from line, templates and project file.
func (c *commands) outputs(force bool, inputs ...string) deliver.Rules {
	for _, name := range []string{c.Line, c.Templates, c.projectFile} {
		if name != "" {
			inputs = append(inputs, name)
		}
	}
	return deliver.Rules{Inputs: inputs, Unit: output.IsUnit, Force: force}
}

// namesOf returns the file names of sheets.
func namesOf(sheets []input.SheetFile) (names []string) {
	for _, f := range sheets {
		if f.Name == "-" {
			f.Name = "/dev/stdin" // leads to the file that is read there, on systems that have it
		}
		names = append(names, f.Name)
	}
	return names
}
