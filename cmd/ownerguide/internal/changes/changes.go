// Package changes prints the differences between two guides.
package changes

import (
	"fmt"
	"strconv"
	"strings"

	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/render/record"
)

// Lines returns changes in words: added entries with +, removed ones with -, changed ones
// with ~.
func Lines(c *record.Changes) (out terminal.Lines) {
	out.Add("%s revision %s (%s) → %s revision %s (%s)", c.From.Serial, c.From.Revision, c.From.Issued, c.To.Serial, c.To.Revision, c.To.Issued)
	group := func(name string, list []string) {
		if len(list) == 0 {
			return
		}
		out.Add("")
		out.Add("%s", name)
		for _, each := range list {
			out.Add("  %s", each)
		}
	}
	group("options", addedRemoved(c.Options))
	var list []string
	for _, p := range c.Parts {
		list = append(list, differs(p.Place, p.Old, p.New))
	}
	group("parts", list)
	list = nil
	for _, v := range c.Values {
		list = append(list, differs(v.Name, v.Old, v.New))
		for _, why := range v.Why {
			list = append(list, "    because "+why)
		}
	}
	group("values", list)
	group("cautions", addedRemoved(c.Cautions))
	group("tasks", addedRemoved(c.Tasks))
	group("stops", addedRemoved(c.Stops))
	list = addedRemoved(c.Sections.AddedRemoved)
	for _, s := range c.Sections.Changed {
		list = append(list, "~ "+s.ID+": "+s.Text)
	}
	group("sections", list)
	if c.None() {
		out.Add("")
		out.Add("they say the same")
		return out
	}
	group("pages", []string{fmt.Sprintf("%d → %d; to be printed anew: %s", c.Pages.Old, c.Pages.New, ranges(c.Pages.Changed))})
	return out
}

func addedRemoved(c record.AddedRemoved) (lines []string) {
	for _, n := range c.Added {
		lines = append(lines, "+ "+n.ID+": "+n.Text)
	}
	for _, n := range c.Removed {
		lines = append(lines, "- "+n.ID+": "+n.Text)
	}
	return lines
}

func differs(name, old, now string) string {
	switch {
	case old == "":
		return fmt.Sprintf("+ %s: %s", name, now)
	case now == "":
		return fmt.Sprintf("- %s: %s", name, old)
	}
	return fmt.Sprintf("~ %s: %s → %s", name, old, now)
}

// ranges formats rising page numbers as in a print dialog: 1-3, 7.
func ranges(pages []int) string {
	if len(pages) == 0 {
		return "none"
	}
	var parts []string
	for i := 0; i < len(pages); {
		end := i
		for end+1 < len(pages) && pages[end+1] == pages[end]+1 {
			end++
		}
		part := strconv.Itoa(pages[i])
		if end > i {
			part += "-" + strconv.Itoa(pages[end])
		}
		parts = append(parts, part)
		i = end + 1
	}
	return strings.Join(parts, ", ")
}
