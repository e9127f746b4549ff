// Package embedded provides the product line and the templates that are embedded in the
// program, each read on first use.
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

// Prefixes of positions in embedded files.
const (
	Line      = "line"
	Templates = "templates"
)

// Holds reports whether a position is in an embedded file, and not in a file of that name
// on disk.
func Holds(name string) bool {
	if name == product.BaseFile {
		return true
	}
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

// The embedded product line and templates, read on first use. They are immutable and
// shared by all users.
var (
	Layer   = source.Layer{Name: Templates, Files: templates.Files}
	Product = sync.OnceValues(func() (*product.Line, source.Findings) { return spec.LoadLine(line.Files, Line) })
	Words   = sync.OnceValues(func() (*render.Templates, source.Findings) { return render.LoadTemplates(Layer) })
)
