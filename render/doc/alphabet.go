package doc

import (
	"encoding/binary"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"unicode/utf8"

	"ownerguide/spec/source"
)

// Alphabet is the lowercase letters of a language in order. A letter with a diacritic that is not
// among them is sorted as the base letter: é as e, whereas ñ may have a place of its own.
type Alphabet string

// Sorted returns entries in the order of their titles: signs and digits first, then letters. Entries that sort alike keep their order.
func Sorted[T any](a Alphabet, list []T, title func(T) string) []T {
	type sorted struct {
		key string
		of  int
	}
	all := make([]sorted, len(list))
	for i, e := range list {
		all[i] = sorted{a.key(title(e)), i}
	}
	slices.SortStableFunc(all, func(x, y sorted) int { return strings.Compare(x.key, y.key) })
	out := make([]T, len(list))
	for i, e := range all {
		out[i] = list[e.of]
	}
	return out
}

// key returns a text that sorts as a title does: of each letter its rank, then the letter. The titles of a run's guides
// are mostly the same, and their keys are kept.
func (a Alphabet) key(title string) string {
	of := titled{a, title}
	if key, ok := keys.Load(of); ok {
		return key.(string)
	}
	var key []byte
	for _, r := range a.letters(title) {
		key = binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint16(key, uint16(a.place(r))), uint32(r))
	}
	if keysHeld.Add(1) > mostKeys {
		keys.Clear()
		keysHeld.Store(0)
	}
	keys.Store(of, string(key))
	return string(key)
}

type titled struct {
	alphabet Alphabet
	title    string
}

// mostKeys limits the keys kept: when there are more, all are dropped.
const mostKeys = 4000

var (
	keys     sync.Map // by titled
	keysHeld atomic.Int64
)

// Letter returns the letter under which a title is listed.
func (a Alphabet) Letter(title string) string {
	_, size := utf8.DecodeRuneInString(title)
	return strings.ToUpper(string(a.letters(title[:size])))
}

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
