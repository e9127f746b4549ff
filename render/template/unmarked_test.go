package template

import (
	"io/fs"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"ownerguide/spec/source"
	"ownerguide/templates"
)

// A phrase that is taken without the Markdown parser reads as it would with it.
func TestUnmarkedPhrases(t *testing.T) {
	taken := 0
	same := func(text string) bool {
		if !unmarked(text) {
			return true
		}
		taken++
		c := &compiler{place: func(int) source.Pos { return source.Pos{} }, src: []byte(text), findings: new(source.Findings)}
		parsed := c.inlines(c.phrase())
		return reflect.DeepEqual(c.unmarked(), parsed)
	}
	err := fs.WalkDir(templates.Files, ".", func(name string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		data, err := fs.ReadFile(templates.Files, name)
		for line := range strings.SplitSeq(string(data), "\n") {
			if line = strings.TrimSpace(line); !same(line) {
				t.Errorf("%s: %q", name, line)
			}
		}
		return err
	})
	if err != nil || taken == 0 {
		t.Errorf("%d phrases were tried (%v)", taken, err)
	}
	rapid.Check(t, func(r *rapid.T) {
		if text := rapid.StringMatching(`[a-zA-Z][-a-z0-9 .:;,"'()+=~#^@/$%?\p{L}]{0,40}`).Draw(r, "text"); !same(text) {
			r.Errorf("%q", text)
		}
	})
}
