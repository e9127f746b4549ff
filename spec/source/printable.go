package source

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Printable returns text with everything that is not a visible character escaped as in
// a Go string: line breaks, control characters, marks that change the direction of
// writing, invalid UTF-8. Text from a file thus stays on its line of the terminal and
// cannot imitate a message of the program.
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

// invisible reports whether a character has no glyph; blanks count as visible.
func invisible(r rune) bool { return !unicode.IsGraphic(r) }

// printableFile returns the name of a file for the beginning of a line, in quotes if it
// could be read as more than a name.
func printableFile(name string) string {
	if strings.Contains(name, ": ") || strings.TrimSpace(name) != name {
		return `"` + Printable(strings.ReplaceAll(name, `"`, `\"`)) + `"`
	}
	return Printable(name)
}
