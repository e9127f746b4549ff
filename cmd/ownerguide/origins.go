package main

import (
	"fmt"
	"strings"
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
		fmt.Fprintf(&b, "%s: %s\n", f.Name, whose(cli.Line != ""))
	}
	for _, f := range m.templates.Files {
		fmt.Fprintf(&b, "%s/%s: %s\n", f.Layer, f.Name, whose(cli.Templates != "" && f.Depth == 0))
	}
	_, err := fmt.Fprint(t.err, b.String())
	return err
}

func whose(own bool) string {
	if own {
		return "yours"
	}
	return "the program's"
}
