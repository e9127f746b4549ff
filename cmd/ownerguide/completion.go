package main

import (
	"embed"
	"io"

	"github.com/alecthomas/kong"

	"ownerguide/cmd/ownerguide/internal/complete"
	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/spec/product"
	"ownerguide/spec/source"
)

type completionCommand struct {
	Shell string `arg:"" enum:"bash,zsh,fish,powershell" help:"bash, zsh, fish or powershell."`
}

// Run prints the script of a shell.
func (c *completionCommand) Run(t *terminal.Terminal) error {
	script, err := completionScripts.ReadFile("completion/ownerguide." + c.Shell)
	if err == nil {
		_, err = t.Write(script)
	}
	return err
}

// completionScripts holds one script per shell. Each passes the words typed so far to the
// complete command and offers its output: one candidate per line, description after a tab.
// A candidate ending in a slash is a folder, so no space is added after it. Some versions
// of PowerShell cannot pass an empty argument, so its script passes two quotes.
//
//go:embed completion
var completionScripts embed.FS

// completeCommand is called by the scripts above, not by people. It prints nothing if it
// has no candidates.
type completeCommand struct {
	Words []string `arg:"" optional:"" help:"Words typed so far; the last one is to be completed."`
}

// Run prints the candidates for the last word.
func (c *completeCommand) Run(k *kong.Context, t *terminal.Terminal) error {
	for _, found := range complete.Words(k.Model.Node, complete.Known{Line: lineOf, Codes: allCodes, Files: fileShapes}, c.Words) {
		if source.Printable(found.Text) != found.Text {
			continue // no shell could read it from one line
		}
		text := found.Text
		if found.Describe != "" {
			text += "\t" + source.Printable(found.Describe)
		}
		if _, err := io.WriteString(t, text+"\n"); err != nil {
			return err
		}
	}
	return nil
}

// lineOf returns the product line in use; nil if it is refused.
func lineOf(folder string) *product.Line {
	c := commands{Line: folder}
	if c.settle(terminal.New(io.Discard, io.Discard)) != nil {
		return nil
	}
	l, _, err := c.loadLine()
	if err != nil {
		return nil
	}
	return l
}
