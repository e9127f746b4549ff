package main

import (
	"fmt"
	"ownerguide/cmd/ownerguide/internal/licences"
	"ownerguide/cmd/ownerguide/internal/terminal"
	"strings"
)

type licencesCommand struct {
	Text bool `help:"Print the licences in full."`
}

// Help implements kong's help provider.
func (licencesCommand) Help() string {
	return `Lists the licence of this program, then whose work is in it and in the guides it
makes, and under which licence: the libraries it was built with and the typeface.
The texts are in the program, so that they go wherever it goes.

Example:

  ownerguide licences`
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
