package doc

import (
	"cmp"
	"slices"
	"strings"

	"ownerguide/spec/source"
)

// Alphabet is the lowercase letters of a language in order. A letter with a diacritic that is not
// among them is sorted as the base letter: é as e, whereas ñ may have a place of its own.
type Alphabet string

// Compare orders two titles for an index: signs and digits first, then letters.
func (a Alphabet) Compare(x, y string) int {
	return slices.CompareFunc(a.letters(x), a.letters(y), func(x, y rune) int {
		return cmp.Or(cmp.Compare(a.place(x), a.place(y)), cmp.Compare(x, y))
	})
}

// Letter returns the letter under which a title is listed.
func (a Alphabet) Letter(title string) string { return strings.ToUpper(string(a.letters(title)[:1])) }

// letters returns the letters of a text as they are sorted.
func (a Alphabet) letters(text string) []rune {
	letters := []rune(strings.ToLower(text))
	for i, r := range letters {
		if !strings.ContainsRune(string(a), r) {
			letters[i] = source.Unmarked(r)
		}
	}
	return letters
}

// place returns the rank of a character: 0 before all letters, then the letters, then those of other alphabets.
func (a Alphabet) place(r rune) int {
	switch at := strings.IndexRune(string(a), r); {
	case at >= 0:
		return at + 1
	case r > 'z':
		return len(a) + 1
	}
	return 0
}
