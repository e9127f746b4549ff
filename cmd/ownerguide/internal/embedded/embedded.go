// Package embedded has the product line and the words that are inside the program,
// each read when it is first asked for.
package embedded

import (
	"io/fs"
	"os"
	"strings"
	"sync"

	"ownerguide/render"
	"ownerguide/spec"
	"ownerguide/spec/line"
	"ownerguide/spec/product"
	"ownerguide/spec/source"
	"ownerguide/templates"
)

// Names that positions in embedded files begin with.
const (
	Line      = "line"
	Templates = "templates"
)

// Holds reports whether a position is in a file inside the program, and not in
// one of that name on disk.
func Holds(name string) bool {
	for prefix, files := range map[string]fs.FS{Line: line.Files, Templates: templates.Files} {
		if inner, ok := strings.CutPrefix(name, prefix+"/"); ok {
			if _, err := fs.Stat(files, inner); err == nil {
				_, err = os.Stat(name)
				return err != nil
			}
		}
	}
	return false
}

// The product line and the templates inside the program, read when they are first
// asked for; nothing changes them afterwards, so that all who ask share them.
var (
	Layer   = source.Layer{Name: Templates, Files: templates.Files}
	Product = sync.OnceValues(func() (*product.Line, source.Findings) { return spec.LoadLine(line.Files, Line) })
	Words   = sync.OnceValues(func() (*render.Templates, source.Findings) { return render.LoadTemplates(Layer) })
)
