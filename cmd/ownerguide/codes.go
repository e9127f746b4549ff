package main

import (
	"fmt"
	"slices"
	"strings"

	"ownerguide/render"
	"ownerguide/render/logo"
	"ownerguide/spec"
	"ownerguide/spec/begin"
	"ownerguide/spec/derive"
	"ownerguide/spec/proof"
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
	for _, code := range allCodes() {
		names = append(names, code.ID)
		switch {
		case c.Code == "":
			fmt.Fprintf(t.out, "%-26s %s\n", code.ID, code.Severity)
		case c.Code == code.ID:
			fmt.Fprintf(t.out, "%s (%s)\n  protects: %s\n", code.ID, code.Severity, code.Protects)
			return nil
		}
	}
	if c.Code == "" {
		return nil
	}
	if near, ok := source.Nearest(c.Code, names); ok {
		return usagef("there is no code %s\n  hint: did you mean %s?", c.Code, near)
	}
	return usagef("there is no code %s", c.Code)
}

// allCodes lists every finding the program can report, sorted by id.
func allCodes() []source.Code {
	all := slices.Concat(source.Codes(), spec.Codes(), derive.Codes(), proof.Codes(), render.Codes(), logo.Codes(), begin.Codes(), []source.Code{codeGlyph, codeCard, codeRevisionDue, codeRevisionBack}, verifyCodes())
	slices.SortFunc(all, func(a, b source.Code) int { return strings.Compare(a.ID, b.ID) })
	return all
}
