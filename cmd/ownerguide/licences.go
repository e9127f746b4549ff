package main

import (
	"fmt"
	"strings"

	"ownerguide/cmd/ownerguide/internal/licences"
	"ownerguide/cmd/ownerguide/internal/terminal"
)

type licencesCommand struct {
	Text bool `help:"Print the licences in full."`
}

// Run lists the licences.
func (c *licencesCommand) Run(t *terminal.Terminal) error {
	all, err := licences.All()
	if err != nil {
		return err
	}
	for _, l := range all {
		if c.Text {
			_, err = fmt.Fprintf(t, "%s %s (%s)\n\n%s\n\n", l.Of, l.Version, l.Kind, strings.TrimSpace(l.Text))
		} else {
			err = t.Line("%-50s %-42s %s", l.Of, l.Version, l.Kind)
		}
		if err != nil {
			return err
		}
	}
	return nil
}
