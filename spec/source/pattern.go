package source

import (
	"regexp"
	"sync"
)

// Pattern compiles a regular expression on first use, so that no command pays for the
// expressions of another. The returned function panics if it does not compile.
func Pattern(expression string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(expression) })
}
