package main

import (
	"slices"
	"strings"

	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/render"
	"ownerguide/spec/product"
	"ownerguide/spec/project"
	"ownerguide/spec/schema"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

type schemaCommand struct {
	Kind string `arg:"" optional:"" complete:"schema" help:"Kind of file; the kinds are listed when left out."`
}

// Run prints one schema, or lists the kinds.
func (c *schemaCommand) Run(cli *commands, t *terminal.Terminal) error {
	var names []string
	var list terminal.Lines
	for _, f := range fileShapes() {
		names = append(names, f.Name)
		if c.Kind == "" {
			list.Add("%-14s %s", f.Name, f.Where)
		}
	}
	if c.Kind == "" {
		return t.Lines(list)
	}
	i := slices.Index(names, c.Kind)
	if i < 0 {
		if near, ok := source.Nearest(c.Kind, names); ok {
			return terminal.WithHint(terminal.Usagef("there is no schema %s", c.Kind), "did you mean %s?", near)
		}
		return terminal.Usagef("there is no schema %s; expected one of %s", c.Kind, strings.Join(names, ", "))
	}
	var models []schema.Model
	if c.Kind == "sheet" { // the others do not depend on the line
		if err := cli.settle(t); err != nil {
			return err
		}
		l, err := cli.wholeLine(t)
		if err != nil {
			return err
		}
		for _, m := range l.Models {
			models = append(models, schema.Model{ID: m.ID, Options: m.Options.Names()})
		}
	}
	_, err := t.Write(schema.Write(fileShapes()[i], models))
	return err
}

// fileShapes returns the kinds of files that users write.
func fileShapes() []source.FileShape {
	return slices.Concat(sheet.FileShapes(), product.FileShapes(), render.FileShapes(), project.FileShapes())
}

// wholeLine reads the product line for a command that needs no templates. If it is
// refused, the findings are printed and the error is errFound.
func (c *commands) wholeLine(t *terminal.Terminal) (*product.Line, error) {
	c.sayWhose(t, false)
	l, findings, err := c.loadLine()
	if err != nil {
		return nil, terminal.AsUsage(err)
	}
	if err := t.SideFindings(findings); err != nil {
		return nil, err
	}
	if l == nil {
		return nil, terminal.ErrFound
	}
	return l, nil
}

// findModel returns a model of a line by its id.
func findModel(l *product.Line, id string) (*product.Model, error) {
	if m := l.Model(id); m != nil {
		return m, nil
	}
	ids := source.Values(l.Maker.Models)
	return nil, terminal.DidYouMean(terminal.Usagef("model %s is not in the line of %s", id, l.Maker.Name.Value), id, ids, "models: %s", strings.Join(ids, ", "))
}
