package quantity

import (
	"fmt"
	"strings"
)

// Form gives how a quantity is written: a regular expression that the whole
// text fits, in the syntax that JSON Schema shares with Go, and an example.
// Whatever ParseScalar reads fits the expression.
func Form(d Dimension) (expression, example string) {
	if d == Number {
		return number.String() + `\s*$`, "4"
	}
	return fmt.Sprintf(`%s\s*(?:%s)\s*$`, number, strings.Join(symbols(d), "|")), "12 " + symbols(d)[0]
}

// DateForm is the same for a [Date].
const DateForm = `^[0-9]{4}-[0-9]{2}-[0-9]{2}$`
