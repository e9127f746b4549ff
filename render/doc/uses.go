package doc

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Uses returns how often a word occurs in a text, by itself or with a plural
// ending.
func Uses(text, word string) (n int) {
	letter := func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }
	for word != "" {
		at := strings.Index(text, word)
		if at < 0 {
			return n
		}
		before, _ := utf8.DecodeLastRuneInString(text[:at])
		after, _ := utf8.DecodeRuneInString(strings.TrimPrefix(text[at+len(word):], "s"))
		if !letter(before) && !letter(after) { // RuneError, at an end, is not a letter
			n++
		}
		text = text[at+len(word):]
	}
	return n
}
