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

// originsFlag is carried by the commands that tell from where texts came.
type originsFlag struct {
	Origins bool `help:"Say on standard error from which file each text came, and whether it is yours or the program's."`
}

// write lists the files with words of a run.
func (o originsFlag) write(t *terminal.Terminal, cli *commands, m *guide.Maker) error {
	if !o.Origins {
		return nil
	}
	var list terminal.Lines
	for _, f := range m.Line.Files {
		if f.Layer == "" {
			continue // hazards and tasks of the program: no words
		}
		list.Add("%s: %s", f.Shown(), whose(cli.Line != "", false))
	}
	for _, f := range m.Templates.Files {
		list.Add("%s/%s: %s%s", f.Layer, f.Name, whose(f.Layer != embedded.Templates, asUnpacked(f)), entriesOf(f, m.Templates.Files))
	}
	t.Say(list)
	return nil
}

// entriesOf tells which entries of a file count, where others of its name have some
// too: the maker's by their names, of the program's only how many are left.
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

// asUnpacked tells of a template that it is the program's own, or a copy of it
// that the maker left as it is.
func asUnpacked(f source.File) bool {
	program, err := fs.ReadFile(templates.Files, f.Name)
	return err == nil && bytes.Equal(program, f.Data)
}
