package spec

import (
	"testing"

	"ownerguide/spec/line"
)

// loadEmbedded loads the product line that comes with the program.
func loadEmbedded(t testing.TB) *Line {
	t.Helper()
	l, findings := LoadLine(line.Files, "line")
	for _, f := range findings {
		t.Errorf("%s: %s [%s] %v", f.Pos, f.Message, f.Code, f.Hints)
	}
	if l == nil {
		t.FailNow()
	}
	return l
}

func TestEmbeddedLine(t *testing.T) {
	l := loadEmbedded(t)
	for _, m := range l.Models {
		t.Logf("%s: %s valid choices", m.ID, l.Problem(m).Count())
	}
}
