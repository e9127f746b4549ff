package main

import (
	"slices"
	"strings"

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

// Help implements kong's help provider.
func (codesCommand) Help() string {
	return `Example:

  ownerguide codes option-requires`
}

// Run lists the codes, or explains one.
func (c *codesCommand) Run(t *terminal) error {
	var names []string
	var list lines
	for _, code := range allCodes() {
		names = append(names, code.ID)
		switch {
		case c.Code == "":
			list.add("%-26s %s", code.ID, code.Severity)
		case c.Code == code.ID:
			list.add("%s (%s)", code.ID, code.Severity)
			list.add("  protects: %s", code.Protects)
			return t.lines(list)
		}
	}
	if c.Code == "" {
		return t.lines(list)
	}
	if near, ok := source.Nearest(c.Code, names); ok {
		return withHint(usagef("there is no code %s", c.Code), "did you mean %s?", near)
	}
	return withHint(usagef("there is no code %s", c.Code), "ownerguide codes lists them")
}

// allCodes lists every finding the program can report, sorted by id.
func allCodes() []source.Code {
	all := slices.Concat(source.Codes(), sheet.Codes(), product.Codes(), project.Codes(), spec.Codes(), derive.Codes(), proof.Codes(), render.Codes(), logo.Codes(), begin.Codes(), []source.Code{codeUnreadable, codeGlyph, codeSides, codeRevisionDue, codeRevisionBack, codeLineSince}, folderCodes(), verifyCodes())
	slices.SortFunc(all, func(a, b source.Code) int { return strings.Compare(a.ID, b.ID) })
	return all
}
