package sheet

import (
	"slices"
	"strings"
)

// revisionLetters are the letters of revisions in order, without those that look
// like a digit.
const revisionLetters = "ABCDEFGHJKLMNPRSTUVWXYZ"

// ValidRevision reports whether text is a valid revision.
func ValidRevision(text string) bool { return revisionForm().MatchString(text) }

// RevisionNumber returns the number of revisions before one: 0 for A, 1 for B, and
// after Z comes AA. It accepts revisions of any length and returns -1 for text that
// is not a revision. The order is this project's own.
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

// NextRevision returns the revision after one, or A if the text is not a revision.
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
