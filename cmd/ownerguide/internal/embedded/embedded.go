// Package embedded tells the line and templates that are embedded in the program from
// files on disk.
package embedded

import (
	"io/fs"
	"os"
	"strings"

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

// Layer is the embedded templates.
var Layer = source.Layer{Name: Templates, Files: templates.Files}
