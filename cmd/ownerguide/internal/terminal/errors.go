package terminal

import (
	"errors"
	"fmt"
	"io/fs"
	"strconv"

	"ownerguide/spec/source"
)

// ErrFound reports that findings that have been printed include errors.
var ErrFound = errors.New("errors were found")

// UsageError is an error in the command line.
type UsageError struct{ error }

func (u UsageError) Unwrap() error { return u.error }

// AsUsage wraps an error as a UsageError.
func AsUsage(err error) error { return UsageError{err} }

// Usagef is fmt.Errorf for a UsageError.
func Usagef(format string, args ...any) error { return UsageError{fmt.Errorf(format, args...)} }

// hinted is an error with a hint.
type hinted struct {
	error
	hint string
}

func (h hinted) Unwrap() error { return h.error }

// Hint returns what to do, as for a [deliver.Error].
func (h hinted) Hint() string { return h.hint }

// WithHint adds a hint to an error.
func WithHint(err error, format string, args ...any) error {
	return hinted{err, fmt.Sprintf(format, args...)}
}

// DidYouMean adds a hint to an error about a name: the nearest known name, or otherwise.
func DidYouMean(err error, name string, known []string, otherwise string, args ...any) error {
	if near, ok := source.Nearest(name, known); ok {
		return WithHint(err, "did you mean %s?", near)
	}
	return WithHint(err, otherwise, args...)
}

// hintsOf returns the hints of an error and of those it wraps.
func hintsOf(err error) (hints []string) {
	for ; err != nil; err = errors.Unwrap(err) {
		if h, ok := err.(interface{ Hint() string }); ok && h.Hint() != "" {
			hints = append([]string{h.Hint()}, hints...)
		}
	}
	return hints
}

// PlainError removes from a file error the path, which is printed already.
func PlainError(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	return err
}

// Counted returns a number with the noun it counts.
func Counted(n int, word string) string {
	if n != 1 {
		word += "s"
	}
	return strconv.Itoa(n) + " " + word
}
