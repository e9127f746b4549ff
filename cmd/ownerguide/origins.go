package main

import (
	"bytes"
	"fmt"
	"io/fs"
	"slices"
	"strings"

	"ownerguide/cmd/ownerguide/internal/embedded"
	"ownerguide/cmd/ownerguide/internal/guide"
	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/spec/source"
	"ownerguide/templates"
)

// originsFlag is for commands that can print the files of texts.
type originsFlag struct {
	Origins bool `help:"Say on standard error from which file each text came, and whether it is yours or the program's."`
}

// write lists the files of texts in use.
func (o originsFlag) write(t *terminal.Terminal, cli *commands, m *guide.Maker) error {
	if !o.Origins {
		return nil
	}
	var list terminal.Lines
	for _, f := range m.Line.Files {
		if f.Layer == "" {
			continue // hazards and tasks of the program: no texts
		}
		list.Add("%s: %s", f.Shown(), whose(cli.Line != "", false))
	}
	for _, f := range m.Templates.Files {
		list.Add("%s/%s: %s%s", f.Layer, f.Name, whose(f.Layer != embedded.Templates, asUnpacked(f)), entriesOf(f, m.Templates.Files))
	}
	t.Say(list)
	return nil
}

// entriesOf returns which entries of a file are in use, if files of other layers have some
// too: the names of the maker's entries, and the number of remaining entries of the program.
func entriesOf(f source.File, all []source.File) string {
	for _, other := range all {
		if other.Name != f.Name || other.Layer == f.Layer || len(f.Entries) == 0 || asUnpacked(f) && f.Layer != embedded.Templates {
			continue
		}
		if f.Layer != embedded.Templates {
			return ": " + strings.Join(f.Entries, ", ")
		}
		left := len(f.Entries)
		for _, id := range f.Entries {
			if slices.Contains(other.Entries, id) {
				left--
			}
		}
		return fmt.Sprintf(", %d of %d entries", left, len(f.Entries))
	}
	return ""
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

// asUnpacked reports whether a template is the program's own or an unchanged copy of
// it.
func asUnpacked(f source.File) bool {
	program, err := fs.ReadFile(templates.Files, f.Name)
	return err == nil && bytes.Equal(program, f.Data)
}
