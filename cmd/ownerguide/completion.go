package main

import (
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

// Help implements kong's help provider.
func (completionCommand) Help() string {
	return `Prints a script after which the Tab key knows commands, models, options, values,
finding codes, and build sheets by their file or their serial number. For bash, put
into ~/.bashrc

  source <(ownerguide completion bash)

for zsh the same line with zsh into ~/.zshrc, below compinit, and for fish

  ownerguide completion fish > ~/.config/fish/completions/ownerguide.fish

for PowerShell, put into the file that $PROFILE names

  ownerguide completion powershell | Out-String | Invoke-Expression

Example:

  ownerguide completion bash`
}

// Run prints the script of a shell.
func (c *completionCommand) Run(t *terminal.Terminal) error {
	_, err := io.WriteString(t, completionScripts[c.Shell])
	return err
}

// completionScripts pass the words typed so far to the complete command and offer its
// output: one candidate on each line, with its description after a tab. No space is added
// after a candidate that ends in a slash, because it is a folder. Some versions of
// PowerShell cannot pass an empty word, so its script passes two quotes.
var completionScripts = map[string]string{
	"bash": `_ownerguide() {
  local line
  COMPREPLY=()
  while IFS= read -r line; do
    COMPREPLY+=("$(printf %q "${line%%$'\t'*}")")
  done < <("${COMP_WORDS[0]}" complete -- "${COMP_WORDS[@]:1:COMP_CWORD}" 2>/dev/null)
  if [[ ${#COMPREPLY[@]} -eq 1 && ${COMPREPLY[0]} == */ ]]; then compopt -o nospace 2>/dev/null; fi
}
complete -o nosort -F _ownerguide ownerguide
`,
	"zsh": `#compdef ownerguide
_ownerguide() {
  local line
  local -a found shown folders
  while IFS= read -r line; do
    if [[ ${line%%$'\t'*} == */ ]]; then folders+=("$line"); continue; fi
    found+=("${line%%$'\t'*}")
    shown+=("${line/$'\t'/  }")
  done < <("${words[1]}" complete -- "${(@)words[2,CURRENT]}" 2>/dev/null)
  compadd -U -d shown -a found
  compadd -U -S '' -a folders
}
compdef _ownerguide ownerguide
`,
	"powershell": `Register-ArgumentCompleter -Native -CommandName ownerguide -ScriptBlock {
  param($word, $line, $cursor)
  $words = @($line.CommandElements | Where-Object { $_.Extent.EndOffset -le $cursor } | Select-Object -Skip 1 | ForEach-Object { $_.Extent.Text.Trim('"', "'") })
  if (-not $word) { $words += '""' }
  & $line.CommandElements[0].Extent.Text complete -- $words 2>$null | ForEach-Object {
    $text, $describe = $_ -split [char]9, 2
    $shown = if ($describe) { $describe } else { $text }
    $quoted = if ($text -match '[\s''();{}$&|<>#@` + "`" + `]') { "'" + $text.Replace("'", "''") + "'" } else { $text }
    [System.Management.Automation.CompletionResult]::new($quoted, $text, 'ParameterValue', $shown)
  }
}
`,
	"fish": `complete -c ownerguide -f -a '(ownerguide complete -- (commandline -opc)[2..] (commandline -ct))'
`,
}

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
