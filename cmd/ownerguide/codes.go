package main

import (
	"slices"
	"strings"

	"ownerguide/cmd/ownerguide/internal/guide"
	"ownerguide/cmd/ownerguide/internal/input"
	"ownerguide/cmd/ownerguide/internal/output"
	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/cmd/ownerguide/internal/verify"
	"ownerguide/render"
	"ownerguide/render/logo"
	"ownerguide/spec"
	"ownerguide/spec/begin"
	"ownerguide/spec/derive"
	"ownerguide/spec/product"
	"ownerguide/spec/project"
	"ownerguide/spec/proof"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

type codesCommand struct {
	Code string `arg:"" optional:"" complete:"code" help:"Code to explain; all are listed when left out."`
}

// Run lists the codes, or explains one.
func (c *codesCommand) Run(t *terminal.Terminal) error {
	var names []string
	var list terminal.Lines
	for _, code := range allCodes() {
		names = append(names, code.ID)
		switch {
		case c.Code == "":
			list.Add("%-26s %s", code.ID, code.Severity)
		case c.Code == code.ID:
			list.Add("%s (%s)", code.ID, code.Severity)
			list.Add("  protects: %s", code.Protects)
			return t.Lines(list)
		}
	}
	if c.Code == "" {
		return t.Lines(list)
	}
	return terminal.DidYouMean(terminal.Usagef("there is no code %s", c.Code), c.Code, names, "ownerguide codes lists them")
}

// allCodes returns the codes of all findings the program can report, sorted by id.
func allCodes() []source.Code {
	all := slices.Concat(source.Codes(), sheet.Codes(), product.Codes(), project.Codes(), spec.Codes(), derive.Codes(), proof.Codes(), render.Codes(), logo.Codes(), begin.Codes(), []source.Code{input.CodeUnreadable, guide.CodeGlyph, guide.CodeSides, guide.CodeRevisionDue, guide.CodeRevisionBack, guide.CodeLineSince}, output.Codes(), verify.Codes())
	slices.SortFunc(all, func(a, b source.Code) int { return strings.Compare(a.ID, b.ID) })
	return all
}
