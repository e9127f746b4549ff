package doc

import (
	"slices"
	"strings"

	"ownerguide/spec/source"
)

// Alphabet is the lowercase letters of a language in order. A letter with a diacritic that is not
// among them is sorted as the base letter: é as e, whereas ñ may have a place of its own.
type Alphabet string

// Sorted returns entries in the order of their titles: signs and digits first, then letters. Entries that sort alike keep their order.
func Sorted[T any](a Alphabet, list []T, title func(T) string) []T {
	type sorted struct {
		key []int
		of  T
	}
	all := make([]sorted, len(list))
	for i, e := range list {
		letters := a.letters(title(e))
		key := make([]int, len(letters))
		for k, r := range letters {
			key[k] = a.place(r)<<32 | int(r)
		}
		all[i] = sorted{key, e}
	}
	slices.SortStableFunc(all, func(x, y sorted) int { return slices.Compare(x.key, y.key) })
	out := make([]T, len(list))
	for i, e := range all {
		out[i] = e.of
	}
	return out
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
