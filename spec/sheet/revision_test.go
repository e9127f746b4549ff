package sheet

import "testing"

func TestRevisionNumber(t *testing.T) {
	for revision, want := range map[string]int{
		"A": 0, "B": 1, "H": 7, "J": 8, "N": 12, "P": 13, "R": 14, "Z": 22, // 23 letters
		"AA": 23, "AZ": 45, "BA": 46, "ZZ": 551, // 23 + 23·23 − 1
		"": -1, "I": -1, "AO": -1, "a": -1, "1": -1,
	} {
		if got := RevisionNumber(revision); got != want {
			t.Errorf("RevisionNumber(%q) = %d, want %d", revision, got, want)
		}
	}
	// Whatever a sheet may say has a number of its own.
	seen := map[int]string{}
	for _, a := range " " + revisionLetters {
		for _, b := range revisionLetters {
			revision := string(b)
			if a != ' ' {
				revision = string(a) + revision
			}
			n := RevisionNumber(revision)
			if !revisionForm().MatchString(revision) || n < 0 || seen[n] != "" {
				t.Errorf("%q has number %d, like %q", revision, n, seen[n])
			}
			seen[n] = revision
		}
	}
}

func TestNextRevision(t *testing.T) {
	order := []string{"A", "B", "C", "D", "E", "F", "G", "H", "J", "K", "L", "M", "N", "P", "R", "S", "T", "U", "V", "W", "X", "Y", "Z", "AA", "AB"}
	for i, r := range order[:len(order)-1] {
		if got := NextRevision(r); got != order[i+1] {
			t.Errorf("after %s comes %s, want %s", r, got, order[i+1])
		}
		if !LaterRevision(order[i+1], r) || LaterRevision(r, order[i+1]) || LaterRevision(r, r) {
			t.Errorf("%s and %s are in the wrong order", r, order[i+1])
		}
	}
	if got := NextRevision("AZ"); got != "BA" {
		t.Errorf("after AZ comes %s, want BA", got)
	}
}
