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
		if word := text[begin:end]; strings.ContainsAny(word, "0123456789") { // few have, and the pattern is slow
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

// callable returns the contacts' numbers and addresses in escaped text, each followed by the link it becomes, and what
// any text with one of them contains.
func callable(contacts []doc.Contact) (pairs, signs []string) {
	for _, c := range contacts {
		if c.Phone != "" {
			pairs = append(pairs, keepNumbersWhole(esc(c.Phone)), "<a class=\"n\" href=\""+esc(telephoneAddress(c.Phone))+"\">"+esc(c.Phone)+"</a>")
			phone := strings.TrimRight(c.Phone, "0123456789")
			signs = append(signs, c.Phone[len(phone):]) // its last digits; "" is in any text
		}
		if address := esc(c.Mail); address != "" {
			pairs = append(pairs, address, "<a href=\"mailto:"+address+"\">"+address+"</a>")
			signs = append(signs, address)
		}
	}
	return pairs, signs
}

// calls reports whether a text may have such a number or address: hardly any has, and looking for all at once is slow.
func (a *aids) calls(text string) bool {
	return slices.ContainsFunc(a.callSigns, func(sign string) bool { return strings.Contains(text, sign) })
}

// call turns them into links.
func (a *aids) call(text string) string {
	if !a.calls(text) {
		return text
	}
	return strings.NewReplacer(a.callable...).Replace(text)
}
