package derive_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// Values, limits and drawings ask a build by what notes on which options the answer hangs: who goes past
// that is taken to come out alike where it does not, and the proof misses an order.
func TestBuildsAreAsked(t *testing.T) {
	past := regexp.MustCompile(`\b([bB]uild|b)\.(Parts|Options|Features|Sheet\.Options)\b`)
	allowed := map[string]int{
		"clearance.go": 2, // which of them counts is asked for below
		"parts.go":     4, // claims of their own, see proof
		"value.go":     1, // where a feature comes from that was asked for
		"unit.go":      2, // that a drawing shows a part is no reason for it to fail
	}
	for _, folder := range []string{".", "../../render/draw"} {
		files, err := filepath.Glob(filepath.Join(folder, "*.go"))
		if err != nil || len(files) == 0 {
			t.Fatal(err)
		}
		for _, file := range files {
			if strings.HasSuffix(file, "_test.go") {
				continue
			}
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if found := past.FindAllString(string(text), -1); len(found) > allowed[filepath.Base(file)] {
				t.Errorf("%s: %s; expected eachPart, PartsWhere, In, Most, OptionsWhere, options or another question of package spec",
					file, strings.Join(found, ", "))
			}
		}
	}
}
