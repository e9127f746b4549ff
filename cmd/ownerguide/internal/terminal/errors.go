package terminal

import (
	"errors"
	"fmt"
	"io/fs"
	"strconv"
)

// ErrFound says that findings, already printed, were errors.
var ErrFound = errors.New("errors were found")

// UsageError is a command line that says nothing the program could do.
type UsageError struct{ error }

func (u UsageError) Unwrap() error { return u.error }

// AsUsage makes an error one of the command line.
func AsUsage(err error) error { return UsageError{err} }

// Usagef is fmt.Errorf for such errors.
func Usagef(format string, args ...any) error { return UsageError{fmt.Errorf(format, args...)} }

// hinted is an error with what to do about it.
type hinted struct {
	error
	hint string
}

func (h hinted) Unwrap() error { return h.error }

// Hint says what to do, as that of a [deliver.Error] does.
func (h hinted) Hint() string { return h.hint }

// WithHint adds to an error what to do about it.
func WithHint(err error, format string, args ...any) error {
	return hinted{err, fmt.Sprintf(format, args...)}
}

// hintsOf collects what to do about an error.
func hintsOf(err error) (hints []string) {
	for ; err != nil; err = errors.Unwrap(err) {
		if h, ok := err.(interface{ Hint() string }); ok && h.Hint() != "" {
			hints = append([]string{h.Hint()}, hints...)
		}
	}
	return hints
}

// PlainError takes the repeated path off a file error.
func PlainError(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	return err
}

// Counted is a number with the word for what is counted.
func Counted(n int, word string) string {
	if n != 1 {
		word += "s"
	}
	return strconv.Itoa(n) + " " + word
}
