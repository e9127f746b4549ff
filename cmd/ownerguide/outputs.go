package main

import (
	"io"
	"os"
	"path/filepath"

	"ownerguide/render/deliver"
	"ownerguide/render/pdf"
	"ownerguide/render/record"
)

// The kinds of files the program writes beside the guides of units.
var (
	kindTogether = deliver.Kind{Name: "a PDF of several guides", Endings: []string{".pdf"}, Own: func(r io.Reader) bool {
		data, err := io.ReadAll(r)
		return err == nil && pdf.IsTogether(data)
	}}
	kindMail  = deliver.Kind{Name: "a mail", Endings: []string{".eml"}, Own: deliver.Sealed}
	kindSheet = deliver.Kind{Name: "a build sheet", Endings: []string{".yaml", ".yml"}, Own: deliver.Sealed}
	kindIndex = deliver.Kind{Name: "an index", Endings: []string{".html"}, Own: deliver.Sealed}
)

// forceFlag is the way round the rule that files of other people stay.
type forceFlag struct {
	Force bool `short:"f" help:"Also write over a file that is not as this program wrote it. Files the run reads, and guides, are never written over."`
}

// outputs gives the rules for what a run may write. Inputs are the files it
// reads besides line, templates and project file.
func (c *commands) outputs(force bool, inputs ...string) deliver.Rules {
	for _, name := range []string{c.Line, c.Templates, c.projectFile} {
		if name != "" {
			inputs = append(inputs, name)
		}
	}
	return deliver.Rules{Inputs: inputs, Unit: isUnit, Force: force}
}

// namesOf are the files of sheets.
func namesOf(sheets []sheetFile) (names []string) {
	for _, f := range sheets {
		if f.name == "-" {
			f.name = "/dev/stdin" // leads to the file that is read there, on systems that have it
		}
		names = append(names, f.name)
	}
	return names
}

// isUnit tells the folder of one unit: two of the files every unit has lie in it,
// so that it is one even when its record is lost, or a record that can be read.
func isUnit(folder string) bool {
	files := 0
	for _, name := range []string{record.File, record.ContentsFile, "guide.html", "guide.pdf"} {
		if _, err := os.Lstat(filepath.Join(folder, name)); err == nil {
			files++
		}
	}
	if files != 1 {
		return files > 1
	}
	h, err := openHistory(folder)
	if err != nil {
		return false
	}
	defer h.close()
	return h.current != nil
}
