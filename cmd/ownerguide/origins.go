package main

import (
	"bytes"
	"fmt"
	"io/fs"
	"strings"

	"ownerguide/render"
	"ownerguide/templates"
)

// originsFlag is carried by the commands that tell from where texts came.
type originsFlag struct {
	Origins bool `help:"Say on standard error from which file each text came, and whether it is yours or the program's."`
}

// write lists the files with words of a run.
func (o originsFlag) write(t *terminal, cli *commands, m *maker) error {
	if !o.Origins {
		return nil
	}
	var b strings.Builder
	for _, f := range m.line.Files {
		if strings.HasPrefix(f.Name, "base/") {
			continue // hazards and tasks of the program: no words
		}
		fmt.Fprintf(&b, "%s: %s\n", f.Name, whose(cli.Line != "", false))
	}
	for _, f := range m.templates.Files {
		fmt.Fprintf(&b, "%s/%s: %s\n", f.Layer, f.Name, whose(f.Layer != embeddedTemplates, asUnpacked(f)))
	}
	_, err := fmt.Fprint(t.err, b.String())
	return err
}

func whose(own, unchanged bool) string {
	switch {
	case !own:
		return "the program's"
	case unchanged:
		return "yours, as the program's"
	}
	return "yours"
}

// asUnpacked tells of a template that it is the program's own, or a copy of it
// that the maker left as it is.
func asUnpacked(f render.TemplateFile) bool {
	program, err := fs.ReadFile(templates.Files, f.Name)
	return err == nil && bytes.Equal(program, f.Data)
}
