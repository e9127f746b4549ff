package sheet

import (
	"slices"
	"strings"
)

// revisionLetters are the letters of revisions in their order: those that look
// like a digit are left out.
const revisionLetters = "ABCDEFGHJKLMNPRSTUVWXYZ"

// ValidRevision reports whether a sheet may bear a revision.
func ValidRevision(text string) bool { return revisionForm().MatchString(text) }

// RevisionNumber counts the revisions before one: none before A, one before B,
// and after Z comes AA. It holds for revisions of any length and is -1 for text
// that is none. The order is this project's own.
func RevisionNumber(revision string) int {
	n := 0
	for _, letter := range revision {
		i := strings.IndexRune(revisionLetters, letter)
		if i < 0 {
			return -1
		}
		n = n*len(revisionLetters) + i + 1
	}
	return n - 1
}

// LaterRevision reports whether revision a comes after b.
func LaterRevision(a, b string) bool { return RevisionNumber(a) > RevisionNumber(b) }

// NextRevision is the revision after one; A after text that is none.
func NextRevision(revision string) string {
	n := RevisionNumber(revision) + 1
	var letters []byte
	for n >= 0 {
		letters = append(letters, revisionLetters[n%len(revisionLetters)])
		n = n/len(revisionLetters) - 1
	}
	slices.Reverse(letters)
	return string(letters)
}
