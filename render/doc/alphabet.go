package doc

import (
	"cmp"
	"slices"
	"strings"

	"ownerguide/spec/source"
)

// Alphabet is the letters of a language in their order, small ones. A letter with a mark that is not
// among them is filed with the one without: é with e, where ñ may have a place of its own.
type Alphabet string

// Compare orders two titles: signs and figures first, then by letters.
func (a Alphabet) Compare(x, y string) int {
	return slices.CompareFunc(a.letters(x), a.letters(y), func(x, y rune) int {
		return cmp.Or(cmp.Compare(a.place(x), a.place(y)), cmp.Compare(x, y))
	})
}

// Letter is the one that a title is filed under.
func (a Alphabet) Letter(title string) string { return strings.ToUpper(string(a.letters(title)[:1])) }

// letters are those of a text as they are filed.
func (a Alphabet) letters(text string) []rune {
	letters := []rune(strings.ToLower(text))
	for i, r := range letters {
		if !strings.ContainsRune(string(a), r) {
			letters[i] = source.Unmarked(r)
		}
	}
	return letters
}

// place parts what stands before the letters, the letters, and those of other alphabets.
func (a Alphabet) place(r rune) int {
	switch at := strings.IndexRune(string(a), r); {
	case at >= 0:
		return at + 1
	case r > 'z':
		return len(a) + 1
	}
	return 0
}
