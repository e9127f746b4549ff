package spec

import (
	"os"
	"testing"
)

const smallLine = "../testdata/lines/small"

// loadSmall loads the small invented line that the tests of this package use.
func loadSmall(t testing.TB) *Line {
	t.Helper()
	line, findings := LoadLine(os.DirFS(smallLine), "small")
	for _, f := range findings {
		t.Errorf("%s: %s [%s]", f.Pos, f.Message, f.Code)
	}
	if line == nil {
		t.FailNow()
	}
	return line
}

func TestLoadLine(t *testing.T) { loadSmall(t) }
