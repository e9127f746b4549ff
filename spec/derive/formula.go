package derive

import (
	"strings"
	"unicode"
)

// NamesIn returns where values may be named in a formula: words joined by dots.
func NamesIn(formula string) (at [][2]int) {
	for begin := 0; begin < len(formula); begin++ {
		if !('a' <= formula[begin] && formula[begin] <= 'z') {
			continue
		}
		end, dotted := begin+1, false
		for end < len(formula) && (inName(formula[end]) || formula[end] == '.' && end+1 < len(formula) && inName(formula[end+1])) {
			dotted = dotted || formula[end] == '.'
			end++
		}
		if dotted {
			at = append(at, [2]int{begin, end})
		}
		begin = end - 1
	}
	return at
}

func inName(c byte) bool { return c == '_' || 'a' <= c && c <= 'z' || '0' <= c && c <= '9' }

// Calculates reports whether a formula contains an operator.
func Calculates(formula string) bool {
	if strings.ContainsAny(formula, "×÷+−√") {
		return true
	}
	for _, word := range strings.FieldsFunc(formula, func(r rune) bool { return r != '_' && !unicode.IsLetter(r) && !unicode.IsDigit(r) }) {
		switch word {
		case "less", "plus", "times", "over":
			return true
		}
	}
	return false
}
