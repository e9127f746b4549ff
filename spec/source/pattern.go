package source

import (
	"regexp"
	"sync"
)

// Pattern is a regular expression that is compiled when it is first used, so that
// no command pays for those of another. It panics there when it does not compile.
func Pattern(expression string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(expression) })
}
