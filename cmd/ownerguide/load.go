package main

import (
	"ownerguide/cmd/ownerguide/internal/embedded"
	"ownerguide/cmd/ownerguide/internal/guide"
	"ownerguide/cmd/ownerguide/internal/input"
	"ownerguide/cmd/ownerguide/internal/proved"
	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/render"
	"ownerguide/spec"
	"ownerguide/spec/line"
	"ownerguide/spec/parallel"
	"ownerguide/spec/product"
	"ownerguide/spec/source"
	"path"
	"path/filepath"
	"slices"
	"sync"
)

// lineName is the prefix of positions in files of the line, and templatesName that in the
// maker's templates: as typed, but never equal to the prefixes of embedded files.
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

// readLine and readTemplates read folders; tests that read the same folders repeatedly
// replace them by cached versions.
var (
	readLine      = spec.LoadLine
	readTemplates = render.LoadTemplates
)

// The embedded line and templates, read on first use and shared. They ship proved, which is why
// they are checked only when they are not those that were.
var (
	embeddedLine = sync.OnceValues(func() (*product.Line, source.Findings) {
		return spec.LoadProved(line.Files, embedded.Line, func(files []source.File) bool {
			return proved.LineDigest(files, embedded.Line) == shipped().Line
		})
	})
	embeddedWords = sync.OnceValues(func() (*render.Templates, source.Findings) {
		return render.LoadProved(func(files []source.File) bool { return proved.WordsDigest(files) == shipped().Words }, embedded.Layer)
	})
	shipped = sync.OnceValue(func() proved.State {
		s, _ := proved.Read(shippedProof) // an edited one names no state that exists
		return s
	})
)

// loadLine reads the product line named by the command line. If it has errors, the line is
// nil.
func (c *commands) loadLine() (*product.Line, source.Findings, error) {
	read := embeddedLine
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

// loadTemplates reads the templates: the maker's, if named, with precedence over the
// embedded ones.
func (c *commands) loadTemplates() (*render.Templates, source.Findings, error) {
	read := embeddedWords
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

// ingredients are line and templates as read, each with its findings; nil if unusable.
type ingredients struct {
	line      *product.Line
	templates *render.Templates
	ofLine    source.Findings
	ofWords   source.Findings
}

// load reads line and templates, with other work beside it, and prints their findings; the error is errFound if they
// cannot be used.
func (c *commands) load(t *terminal.Terminal, beside ...func() error) (*guide.Maker, error) {
	largePages()
	return c.reload(t, &ingredients{}, beside...)
}

// reload is load that keeps what is already in have, and stores what it reads there.
func (c *commands) reload(t *terminal.Terminal, have *ingredients, beside ...func() error) (*guide.Maker, error) {
	c.sayWhose(t, true)
	err := parallel.Do(append([]func() error{func() (err error) {
		if have.line == nil {
			have.line, have.ofLine, err = c.loadLine()
		}
		return err
	}, func() (err error) {
		if have.templates == nil {
			have.templates, have.ofWords, err = c.loadTemplates()
		}
		return err
	}}, beside...)...)
	if err != nil {
		return nil, terminal.AsUsage(err)
	}
	l, words := have.line, have.templates
	findings := slices.Concat(have.ofLine, have.ofWords)
	if l != nil && words != nil && !(l.Proved && words.Proved) {
		findings.Add(words.CheckAgainst(l)...)
	}
	if err := t.SideFindings(findings); err != nil {
		return nil, err
	}
	if l == nil || words == nil || findings.HasErrors() {
		return nil, terminal.ErrFound
	}
	makeRoom(parallel.Processors)
	return guide.NewMaker(l, words, c.lineName()), nil
}
