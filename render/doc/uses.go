package doc

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// lowered is the text of a block in lower case.
type lowered string

// UsedTerms returns the terms that sections use outside of one list.
func UsedTerms(sections []*Section, except *List, terms []string) map[string]bool {
	used, words := map[string]bool{}, map[string]string{}
	for _, t := range terms {
		words[t] = strings.ToLower(t)
	}
	own := make([]byte, 0, 48<<10) // text of what is not shared
	find := func(text lowered) {
		for term, word := range words {
			if uses(string(text), word) {
				used[term] = true
				delete(words, term)
			}
		}
	}
	for s := range Sections(sections) {
		if s.Heading != nil {
			own = appendTexts(own, s.Heading)
		}
		for _, b := range s.Blocks {
			switch _, section := b.(*Section); {
			case section || b == Block(except):
			case IsShared(b):
				find(Once(b, func() lowered { return lowered(appendTexts(nil, b)) }))
			default:
				own = appendTexts(own, b)
			}
		}
	}
	find(lowered(own))
	return used
}

// appendTexts appends the text of a node in lower case.
func appendTexts(all []byte, n Node) []byte {
	for n := range Walk([]Node{n}) {
		switch n := n.(type) {
		case *Text:
			all = append(all, strings.ToLower(n.Content)...)
		case *Value:
			all = append(all, strings.ToLower(n.Printed)...)
		default:
			all = append(all, ' ') // separates the words of two parts
		}
	}
	return all
}

// uses reports whether a text uses a word, by itself or with a plural ending.
func uses(text, word string) bool {
	letter := func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }
	for word != "" {
		at := strings.Index(text, word)
		if at < 0 {
			return false
		}
		before, _ := utf8.DecodeLastRuneInString(text[:at])
		after, _ := utf8.DecodeRuneInString(strings.TrimPrefix(text[at+len(word):], "s"))
		if !letter(before) && !letter(after) { // RuneError, at an end, is not a letter
			return true
		}
		text = text[at+len(word):]
	}
	return false
}
