package main

import (
	"ownerguide/cmd/ownerguide/internal/embedded"
	"ownerguide/cmd/ownerguide/internal/guide"
	"ownerguide/cmd/ownerguide/internal/input"
	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/render"
	"ownerguide/spec"
	"ownerguide/spec/parallel"
	"ownerguide/spec/product"
	"ownerguide/spec/source"
	"path"
	"path/filepath"
	"runtime/debug"
	"slices"
)

// lineName is how positions in files of the line begin, and templatesName in
// the maker's templates: as typed, but never like those inside the program.
func (c *commands) lineName() string      { return ownName(c.Line, embedded.Line) }
func (c *commands) templatesName() string { return ownName(c.Templates, embedded.Templates) }

func ownName(dir, embedded string) string {
	switch name := path.Clean(filepath.ToSlash(dir)); {
	case dir == "":
		return embedded
	case name == embedded:
		return "./" + name
	}
	return filepath.ToSlash(dir)
}

// readLine and readTemplates read what is in folders; tests that read the same
// again and again put a memory before them.
var (
	readLine      = spec.LoadLine
	readTemplates = render.LoadTemplates
)

// loadLine reads the product line the command line names. A line is whole or
// refused: with errors there is no line.
func (c *commands) loadLine() (*product.Line, source.Findings, error) {
	read := embedded.Product
	if c.Line != "" {
		dir, err := input.Folder(c.Line)
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
	read := embedded.Words
	if c.Templates != "" {
		dir, err := input.Folder(c.Templates)
		if err != nil {
			return nil, nil, err
		}
		read = func() (*render.Templates, source.Findings) {
			return readTemplates(source.Layer{Name: c.templatesName(), Files: dir}, embedded.Layer)
		}
	}
	t, findings := read()
	if findings.HasErrors() {
		return nil, findings, nil
	}
	return t, findings, nil
}

// ingredients are line and templates as they were read, each with what is wrong
// with it; nil when it cannot be used.
type ingredients struct {
	line      *product.Line
	templates *render.Templates
	ofLine    source.Findings
	ofWords   source.Findings
}

// load reads line and templates and prints what is wrong with them; errFound
// when they cannot be used.
func (c *commands) load(t *terminal.Terminal) (*guide.Maker, error) {
	return c.reload(t, &ingredients{})
}

// reload is load that keeps what is there already, and leaves what it read.
func (c *commands) reload(t *terminal.Terminal, have *ingredients) (*guide.Maker, error) {
	c.sayWhose(t, true)
	// All that is read is kept, so that looking for garbage early only takes time.
	defer debug.SetGCPercent(debug.SetGCPercent(400))
	err := parallel.Do(func() (err error) {
		if have.line == nil {
			have.line, have.ofLine, err = c.loadLine()
		}
		return err
	}, func() (err error) {
		if have.templates == nil {
			have.templates, have.ofWords, err = c.loadTemplates()
		}
		return err
	})
	if err != nil {
		return nil, terminal.AsUsage(err)
	}
	l, words := have.line, have.templates
	findings := slices.Concat(have.ofLine, have.ofWords)
	if l != nil && words != nil {
		findings.Add(words.CheckAgainst(l)...)
	}
	if err := t.SideFindings(findings); err != nil {
		return nil, err
	}
	if l == nil || words == nil || findings.HasErrors() {
		return nil, terminal.ErrFound
	}
	return guide.NewMaker(l, words, c.lineName()), nil
}
