package html

import (
	"strings"

	"ownerguide/render/doc"
	"ownerguide/spec/source"
)

// hyphened is a number with hyphens, of a telephone or a part; a browser would end a line at each.
var hyphened = source.Pattern(`[0-9A-Za-z]+(?:-[0-9A-Za-z]*[0-9][0-9A-Za-z]*)+`)

// inNumber tells whether such a number may hold a character.
func inNumber(c byte) bool {
	return c == '-' || '0' <= c && c <= '9' || 'A' <= c && c <= 'Z' || 'a' <= c && c <= 'z'
}

// longestNumber is how many characters of one are kept on one line: they fit on the narrowest screen.
const longestNumber = 24

// keepNumbersWhole keeps such numbers in escaped text on one line.
func keepNumbersWhole(text string) string {
	if !strings.Contains(text, "-") || !strings.ContainsAny(text, "0123456789") {
		return text
	}
	var out strings.Builder
	for i := 0; i < len(text); {
		end := i
		for end < len(text) && inNumber(text[end]) {
			end++
		}
		if word := text[i:end]; strings.Contains(word, "-") && strings.ContainsAny(word, "0123456789") { // few are, and the pattern is slow
			out.WriteString(hyphened().ReplaceAllStringFunc(word, keepNumberWhole))
		} else {
			out.WriteString(word)
		}
		if i = end; i < len(text) {
			out.WriteByte(text[i])
			i++
		}
	}
	return out.String()
}

func keepNumberWhole(number string) string {
	if len(number) > longestNumber {
		return number
	}
	return `<span class="n">` + number + `</span>`
}

// callable makes links of the contacts' numbers and addresses in escaped text.
func callable(contacts []doc.Contact) *strings.Replacer {
	var pairs []string
	for _, c := range contacts {
		if c.Phone != "" {
			pairs = append(pairs, keepNumbersWhole(esc(c.Phone)), "<a class=\"n\" href=\""+esc(telephoneAddress(c.Phone))+"\">"+esc(c.Phone)+"</a>")
		}
		if address := esc(c.Mail); address != "" {
			pairs = append(pairs, address, "<a href=\"mailto:"+address+"\">"+address+"</a>")
		}
	}
	return strings.NewReplacer(pairs...)
}
