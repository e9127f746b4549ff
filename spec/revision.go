package spec

import "strings"

// revisionLetters are the letters of revisions in their order: those that look
// like a digit are left out.
const revisionLetters = "ABCDEFGHJKLMNPRSTUVWXYZ"

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
