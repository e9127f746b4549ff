package main

import (
	"strconv"

	"ownerguide/cmd/ownerguide/internal/offer"
	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/spec/logic"
	"ownerguide/spec/product"
	"ownerguide/spec/source"
)

type optionsCommand struct {
	originsFlag
	Format string `enum:"text,json" default:"text" help:"text or json."`
	Model  string `arg:"" optional:"" complete:"model" help:"Model to show; all models are listed when left out."`
}

// Run shows the models of the line, or the options of one.
func (c *optionsCommand) Run(cli *commands, t *terminal.Terminal) error {
	m, err := cli.load(t)
	if err != nil {
		return err
	}
	if err := c.originsFlag.write(t, cli, m); err != nil {
		return err
	}
	if c.Model == "" {
		return c.models(m.Line, t)
	}
	model, err := findModel(m.Line, c.Model)
	if err != nil {
		return err
	}
	o := offer.Of(m.Line, model, logic.CountSteps)
	if c.Format == "json" {
		return t.JSON(o)
	}
	return t.Lines(o.Text(c.Origins))
}

func (c *optionsCommand) models(l *product.Line, t *terminal.Terminal) error {
	if c.Format == "json" {
		all := []offer.Offering{}
		for _, m := range l.Models {
			all = append(all, offer.Of(l, m, logic.CountStepsEach(len(l.Models))))
		}
		return t.JSON(all)
	}
	wide, digits := 0, 0
	for _, m := range l.Models {
		wide, digits = max(wide, len(m.ID)), max(digits, len(strconv.Itoa(len(m.Options))))
	}
	var list terminal.Lines
	for _, m := range l.Models {
		text, _ := l.ModelText(source.BaseLanguage, m.ID)
		list.Add("%-*s  %*d options  %s: %s", wide, m.ID, digits, len(m.Options), text.Name.Value, text.Summary.Value)
	}
	return t.Lines(list)
}
