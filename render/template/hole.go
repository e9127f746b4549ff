package template

import (
	"slices"
	"strings"

	"ownerguide/spec/source"
)

// hole matches the trace of a figure removed from a sentence: two spaces, a space at an
// end or before punctuation, empty parentheses or asterisks.
var hole = source.Pattern(`  |^ | $| [.,;:)](?: |$)|^[.,;:]|\( *\)|\*\*`)

// suspect reports whether a text can match hole: most cannot, and the expression is
// slow.
func suspect(text string) bool {
	if text == "" {
		return false
	}
	for i, c := range []byte(text) {
		switch next := text[min(i+1, len(text)-1)]; {
		case i == 0 && strings.IndexByte(" .,;:", c) >= 0, c == ' ' && strings.IndexByte(" .,;:)", next) >= 0, c == '(', c == '*':
			return true
		}
	}
	return false
}

// holeIn reports a place where something is missing from a line.
func holeIn(line []Inline) (f source.Finding, found bool) {
	if len(line) == 1 && line[0].Kind == Text && !suspect(line[0].Text) { // most lines
		return f, false
	}
	if text := withFilled(line); suspect(text) && hole().MatchString(text) {
		return codeHole.At(line[0].At, "something is missing from %q", excerpt(strings.ReplaceAll(text, filled, "…"))), true
	}
	return f, false
}

// holesToTell removes the findings about holes in files with refused markup: the refused
// part is missing there and has been reported already.
func holesToTell(findings source.Findings) source.Findings {
	refused := map[string]bool{}
	for _, f := range findings {
		if f.Code == codeMarkup.ID {
			refused[f.Pos.File] = true
		}
	}
	return slices.DeleteFunc(findings, func(f source.Finding) bool { return f.Code == codeHole.ID && refused[f.Pos.File] })
}

// excerpt shortens a text for a finding.
func excerpt(text string) string {
	const most = 80
	if runes := []rune(text); len(runes) > most {
		return string(runes[:most]) + "…"
	}
	return text
}

// filled is a placeholder for content that is filled in later.
const filled = "\ufffc"

// withFilled returns the text of inlines, with the placeholder filled for content that is filled in later.
func withFilled(line []Inline) string {
	var b strings.Builder
	for i := range line {
		switch in := &line[i]; in.Kind {
		case Text:
			b.WriteString(in.Text)
		case Emphasis, Link:
			b.WriteString(withFilled(in.Inlines))
		default:
			b.WriteString(filled)
		}
	}
	return b.String()
}
