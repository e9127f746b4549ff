package quantity

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"
	"unicode"
)

// Form returns how a quantity is written: a regular expression that matches the
// whole text, in the syntax common to JSON Schema and Go, and an example. It
// matches everything that ParseScalar accepts.
func Form(d Dimension) (expression, example string) {
	if d == DimCount {
		return number().String() + `\s*$`, "4"
	}
	var spelt []string
	for _, s := range symbols(d) {
		spelt = append(spelt, regexp.QuoteMeta(s))
	}
	for _, other := range slices.Sorted(maps.Keys(spellings)) {
		if u, _ := unitNamed(other); u.dim == d {
			spelt = append(spelt, anyCase(other))
		}
	}
	expression = fmt.Sprintf(`%s\s*(?:%s)\s*$`, number(), strings.Join(spelt, "|"))
	if d == DimLength {
		expression = fmt.Sprintf(`%s|^%s$`, expression, feet)
	}
	return expression, "12 " + symbols(d)[0]
}

// anyCase returns an expression that matches text in any case, without the flag (?i),
// which JSON Schema does not have.
func anyCase(text string) string {
	var b strings.Builder
	for _, r := range text {
		if upper := unicode.ToUpper(r); upper != r {
			fmt.Fprintf(&b, "[%c%c]", r, upper)
		} else {
			b.WriteString(regexp.QuoteMeta(string(r)))
		}
	}
	return b.String()
}

// DateForm is the regular expression for a [Date].
const DateForm = `^[0-9]{4}-[0-9]{2}-[0-9]{2}$`
