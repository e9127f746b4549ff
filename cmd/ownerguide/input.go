package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
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
	embeddedLine      = "line"
	embeddedTemplates = "templates"
)

// lineName is how positions in files of the line begin, and templatesName in
// the maker's templates: as typed, but never like those inside the program.
func (c *commands) lineName() string      { return ownName(c.Line, embeddedLine) }
func (c *commands) templatesName() string { return ownName(c.Templates, embeddedTemplates) }

func ownName(dir, embedded string) string {
	switch name := path.Clean(filepath.ToSlash(dir)); {
	case dir == "":
		return embedded
	case name == embedded:
		return "./" + name
	}
	return filepath.ToSlash(dir)
}

// isEmbedded tells whether a position is in a file inside the program, and not in
// one of that name on disk.
func isEmbedded(name string) bool {
	for prefix, files := range map[string]fs.FS{embeddedLine: line.Files, embeddedTemplates: templates.Files} {
		if inner, ok := strings.CutPrefix(name, prefix+"/"); ok {
			if _, err := fs.Stat(files, inner); err == nil {
				_, err = os.Stat(name)
				return err != nil
			}
		}
	}
	return false
}

// folderFS opens a folder so that no link in it leads outside.
func folderFS(dir string) (fs.FS, error) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, fmt.Errorf("opening %s: %w", dir, plainError(err))
	}
	return root.FS(), nil
}

// The product line and the templates inside the program, read when they are first
// asked for; nothing changes them afterwards, so that all who ask share them.
var (
	embeddedLayer   = source.Layer{Name: embeddedTemplates, Files: templates.Files}
	embeddedProduct = sync.OnceValues(func() (*product.Line, source.Findings) { return spec.LoadLine(line.Files, embeddedLine) })
	embeddedText    = sync.OnceValues(func() (*render.Templates, source.Findings) { return render.LoadTemplates(embeddedLayer) })
)

// readLine and readTemplates read what is in folders; tests that read the same
// again and again put a memory before them.
var (
	readLine      = spec.LoadLine
	readTemplates = render.LoadTemplates
)

// loadLine reads the product line the command line names. A line is whole or
// refused: with errors there is no line.
func (c *commands) loadLine() (*product.Line, source.Findings, error) {
	read := embeddedProduct
	if c.Line != "" {
		dir, err := folderFS(c.Line)
		if err != nil {
			return nil, nil, err
		}
		read = func() (*product.Line, source.Findings) { return readLine(dir, c.lineName()) }
	}
	l, findings := read()
	if findings.HasErrors() {
		return nil, findings, nil
	}
	return l, findings, nil
}

// loadTemplates reads the templates: the maker's, where named, before the
// embedded ones.
func (c *commands) loadTemplates() (*render.Templates, source.Findings, error) {
	read := embeddedText
	if c.Templates != "" {
		dir, err := folderFS(c.Templates)
		if err != nil {
			return nil, nil, err
		}
		read = func() (*render.Templates, source.Findings) {
			return readTemplates(source.Layer{Name: c.templatesName(), Files: dir}, embeddedLayer)
		}
	}
	t, findings := read()
	if findings.HasErrors() {
		return nil, findings, nil
	}
	return t, findings, nil
}

// plainError takes the repeated path off a file error.
func plainError(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	return err
}

// readCapped reads at most one byte more than a sheet may have, so that a huge
// file costs nothing and is still refused.
func readCapped(name string, in io.Reader) ([]byte, error) {
	if name == "-" {
		data, err := io.ReadAll(io.LimitReader(in, source.SheetLimit+1))
		if err != nil {
			return nil, fmt.Errorf("reading standard input: %w", plainError(err))
		}
		return data, nil
	}
	return readPlain(name, source.SheetLimit+1)
}

// readPlain reads the beginning of a plain file. A pipe or a device would keep
// the run waiting for ever.
func readPlain(name string, limit int64) ([]byte, error) {
	info, err := os.Stat(name)
	switch {
	case err != nil:
		return nil, fmt.Errorf("reading %s: %w", name, plainError(err))
	case !info.Mode().IsRegular():
		return nil, fmt.Errorf("reading %s: %w", name, errNotPlain)
	}
	file, err := os.Open(name)
	if err != nil {
		return nil, fmt.Errorf("reading %s: %w", name, plainError(err))
	}
	defer file.Close()
	data, err := io.ReadAll(io.LimitReader(file, limit))
	if err != nil {
		return nil, fmt.Errorf("reading %s: %w", name, plainError(err))
	}
	return data, nil
}
