package terminal

import (
	"bytes"
	"testing"
)

// Progress is for terminals that can clear a line.
func TestProgressOnlyWhereALineCanBeCleared(t *testing.T) {
	for _, c := range []struct {
		terminal bool
		kind     string
		want     bool
	}{{true, "xterm-256color", true}, {true, "", true}, {true, "dumb", false}, {false, "xterm", false}} {
		if got := clearsLines(c.terminal, c.kind); got != c.want {
			t.Errorf("%t, %q: %t", c.terminal, c.kind, got)
		}
	}
	for _, quiet := range []bool{false, true} {
		var said bytes.Buffer
		term := &Terminal{err: &said, Interactive: true, Quiet: quiet}
		term.Bar(1, 2)
		term.Done()
		if (said.Len() > 0) == quiet {
			t.Errorf("quiet %t: %q", quiet, said.String())
		}
	}
}
