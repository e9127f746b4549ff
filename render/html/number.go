package html

import (
	"slices"
	"strings"

	"ownerguide/render/doc"
	"ownerguide/spec/source"
)

// hyphened matches a phone or part number with hyphens; a browser would break lines at each.
var hyphened = source.Pattern(`[0-9A-Za-z]+(?:-[0-9A-Za-z]*[0-9][0-9A-Za-z]*)+`)

// inNumber reports whether such a number may contain a character.
func inNumber(c byte) bool {
	return c == '-' || '0' <= c && c <= '9' || 'A' <= c && c <= 'Z' || 'a' <= c && c <= 'z'
}

// longestNumber is the maximum length of a number kept on one line: it fits on the narrowest screen.
const longestNumber = 24

// keepNumbersWhole prevents line breaks in such numbers in escaped text.
func keepNumbersWhole(text string) string {
	done, out := 0, ""
	for at := 0; at < len(text); at++ {
		hyphen := strings.IndexByte(text[at:], '-')
		if hyphen < 0 {
			break
		}
		begin, end := at+hyphen, at+hyphen
		for begin > at && inNumber(text[begin-1]) {
			begin--
		}
		for end < len(text) && inNumber(text[end]) {
			end++
		}
		inName := begin > 0 && strings.IndexByte("./", text[begin-1]) >= 0               // of a file or an entry
		if word := text[begin:end]; !inName && strings.ContainsAny(word, "0123456789") { // few have, and the pattern is slow
			out += text[done:begin] + hyphened().ReplaceAllStringFunc(word, keepNumberWhole)
			done = end
		}
		at = end
	}
	return out + text[done:]
}

func keepNumberWhole(number string) string {
	if len(number) > longestNumber {
		return number
	}
	return `<span class="n">` + number + `</span>`
}

// calls are the contacts' numbers and addresses in escaped text, and the links they become.
type calls struct {
	links *strings.Replacer
	signs []string // what any text with one of them contains
}

func callsOf(contacts []doc.Contact) (c calls) {
	var pairs []string
	for _, of := range contacts {
		if of.Phone != "" {
			pairs = append(pairs, keepNumbersWhole(esc(of.Phone)), "<a class=\"n\" href=\""+esc(telephoneAddress(of.Phone))+"\">"+esc(of.Phone)+"</a>")
			phone := strings.TrimRight(of.Phone, "0123456789")
			c.signs = append(c.signs, of.Phone[len(phone):]) // its last digits; "" is in any text
		}
		if address := esc(of.Mail); address != "" {
			pairs = append(pairs, address, "<a href=\"mailto:"+address+"\">"+address+"</a>")
			c.signs = append(c.signs, address)
		}
	}
	c.links = strings.NewReplacer(pairs...)
	return c
}

// in reports whether a text may have such a number or address: hardly any has, and looking for all at once is slow.
func (c calls) in(text string) bool {
	return slices.ContainsFunc(c.signs, func(sign string) bool { return strings.Contains(text, sign) })
}

// link turns them into links.
func (c calls) link(text string) string {
	if !c.in(text) {
		return text
	}
	return c.links.Replace(text)
}
