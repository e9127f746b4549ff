package source

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Printable returns text with everything that is no visible character written as
// Go writes it in a string: a line break, an escape, a mark that turns the
// direction of writing, a byte that is no text. So a text from a file stays
// within its line on a terminal, and cannot pass for one of the program's own.
func Printable(text string) string {
	if !strings.ContainsFunc(text, invisible) && utf8.ValidString(text) {
		return text
	}
	var b strings.Builder
	for i, r := range text {
		switch _, size := utf8.DecodeRuneInString(text[i:]); {
		case r == utf8.RuneError && size == 1:
			fmt.Fprintf(&b, `\x%02x`, text[i])
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\r':
			b.WriteString(`\r`)
		case r == '\t':
			b.WriteString(`\t`)
		case !invisible(r):
			b.WriteRune(r)
		case r < 0x80:
			fmt.Fprintf(&b, `\x%02x`, r)
		case r <= 0xffff:
			fmt.Fprintf(&b, `\u%04x`, r)
		default:
			fmt.Fprintf(&b, `\U%08x`, r)
		}
	}
	return b.String()
}

// invisible tells of a character that prints nothing of its own; blanks are visible.
func invisible(r rune) bool { return !unicode.IsGraphic(r) }

// printableFile is the name of a file at the beginning of a line: one that could
// be read as more than a name stands in quotes.
func printableFile(name string) string {
	if strings.Contains(name, ": ") || strings.TrimSpace(name) != name {
		return `"` + Printable(strings.ReplaceAll(name, `"`, `\"`)) + `"`
	}
	return Printable(name)
}
