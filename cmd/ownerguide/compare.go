package main

import (
	"fmt"
	"io"
	"os"
	"slices"
	"strconv"
	"strings"

	"ownerguide/render/pdf"
	"ownerguide/render/record"
	"ownerguide/render/register"
	"ownerguide/spec/sheet"
)

type compareCommand struct {
	lineFlag
	ExitCode bool   `help:"Exit with 1 when they differ."`
	Format   string `enum:"text,json" default:"text" help:"text or json."`
	Old      string `arg:"" complete:"unit" help:"Build sheet, or folder of a unit that was written."`
	New      string `arg:"" complete:"unit" help:"Build sheet, or folder of a unit that was written."`
}

// Help implements kong's help provider.
func (compareCommand) Help() string {
	return `Tells what differs between two guides: options, parts, figures and why, cautions,
jobs, stops, sections, and the printed pages of the new guide that the old one
does not have word for word. A folder stands for the guide written there, as its
record has it. The exit code is 0 whether they differ or not, unless --exit-code
asks for 1 when they do.

Example:

  ownerguide compare testdata/sheets/BW-27-0131.yaml testdata/sheets/BW-27-0142.yaml`
}

// Run compares two guides.
func (c *compareCommand) Run(cli *commands, t *terminal, in io.Reader) error {
	m, err := cli.load(t)
	if err != nil {
		return err
	}
	var sides [2]*record.Record
	for i, name := range []string{c.Old, c.New} {
		if sides[i], err = m.recordOf(name, c.beside(m, []string{c.New, c.Old}[i]), t, in); err != nil {
			return err
		}
	}
	changes := record.Compare(sides[0], sides[1])
	if c.Format == "json" {
		err = t.json(changes)
	} else {
		err = t.lines(told(changes))
	}
	if err == nil && c.ExitCode && !changes.None() {
		return errFound
	}
	return err
}

// beside gives the maker for a sheet that is compared with a guide: where that is
// the same unit's and was delivered, it is that with the line of the delivery.
func (c *compareCommand) beside(m *maker, guide string) func(*sheet.Sheet) (*maker, error) {
	return func(s *sheet.Sheet) (*maker, error) {
		if info, err := os.Stat(guide); err != nil || !info.IsDir() {
			return m, nil
		}
		h, err := openHistory(guide)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", guide, err)
		}
		defer h.close()
		if h.current == nil || h.current.Serial != s.Serial.Value {
			return m, nil
		}
		return c.lineFlag.of(m, s, h, register.Letter{})
	}
}

// recordOf is the record in a folder, or the one a sheet's guide would have, made
// as by says.
func (m *maker) recordOf(name string, by func(*sheet.Sheet) (*maker, error), t *terminal, in io.Reader) (*record.Record, error) {
	if info, err := os.Stat(name); err == nil && info.IsDir() {
		h, err := openHistory(name)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		defer h.close()
		if h.current == nil {
			return nil, fmt.Errorf("%s is empty; expected the guide of a unit", name)
		}
		return h.current, readContents(h.root, h.current)
	}
	file, err := readSheet(name, in, t)
	if err != nil {
		return nil, err
	}
	u := m.read(file)
	current := m
	if u.sheet != nil && !u.sheet.Faulty {
		if m, err = by(u.sheet); err != nil {
			return nil, err
		}
	}
	if m != current {
		u = m.read(file)
	}
	m.assemble(u, nil)
	m.inOwnLine(u, current)
	found := u.findings
	if u.sheet != nil {
		found = slices.Concat(found, m.since(u.sheet, current))
	}
	if err := t.sideFindings(found); err != nil {
		return nil, err
	}
	if u.record == nil || u.findings.HasErrors() {
		return nil, errFound
	}
	report, err := pdf.Measure(u.guide, pdf.Options{})
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	u.record.SetPages(report.Words, pagesOf(report))
	return u.record, nil
}

// told writes changes for a person: what came with +, what went with -, what
// differs with ~.
func told(c *record.Changes) (out lines) {
	out.add("%s revision %s (%s) → %s revision %s (%s)", c.From.Serial, c.From.Revision, c.From.Issued, c.To.Serial, c.To.Revision, c.To.Issued)
	group := func(name string, list []string) {
		if len(list) == 0 {
			return
		}
		out.add("")
		out.add("%s", name)
		for _, each := range list {
			out.add("  %s", each)
		}
	}
	group("options", comeAndGone(c.Options))
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
	group("cautions", comeAndGone(c.Cautions))
	group("tasks", comeAndGone(c.Tasks))
	group("stops", comeAndGone(c.Stops))
	list = comeAndGone(c.Sections.ComeAndGone)
	for _, s := range c.Sections.Changed {
		list = append(list, "~ "+s.ID+": "+s.Text)
	}
	group("sections", list)
	if c.None() {
		out.add("")
		out.add("they say the same")
		return out
	}
	group("pages", []string{fmt.Sprintf("%d → %d; to be printed anew: %s", c.Pages.Old, c.Pages.New, ranges(c.Pages.Changed))})
	return out
}

func comeAndGone(c record.ComeAndGone) (lines []string) {
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

// ranges writes rising numbers the way a print dialogue takes them: 1-3, 7.
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
