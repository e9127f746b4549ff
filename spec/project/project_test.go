package project

import (
	"strings"
	"testing"

	"ownerguide/spec/source"
)

func TestRead(t *testing.T) {
	p, found := Read("a/ownerguide.yaml", []byte("line: own/line\ntemplates: /shared/words\npaper: a4\n"))
	if p == nil || len(found) > 0 {
		t.Fatalf("refused: %v", found)
	}
	for _, c := range []struct {
		folder source.Given[string]
		want   string
	}{{p.Line, "../own/line"}, {p.Templates, "/shared/words"}, {p.Out, ""}} {
		if got := In("..", c.folder); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
	if p.Paper.Value != "a4" {
		t.Errorf("paper is %q", p.Paper.Value)
	}
}

func TestReadRefuses(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"lines: own\n", `f:1:1: error: unknown key "lines" [key-unknown]`},
		{"line: own\npaper: a5\n", `f:2:8: error: paper is "a5": expected one of letter, a4 [value-wrong]`},
		{"line: \"\"\n", `f:1:7: error: line names no folder [project-folder]`},
		{"out: a\\b\n", `f:1:6: error: out is "a\\b"; expected / between folders, on every machine [project-folder]`},
		{"line: [a]\n", `f:1:7: error: line is a list`},
		{"line: a\nline: b\n", `f:2:1: error: `},
		{"", `error: `},
	} {
		p, found := Read("f", []byte(c.text))
		var b strings.Builder
		if err := found.WriteText(&b); err != nil {
			t.Fatal(err)
		}
		if p != nil || !strings.Contains(b.String(), c.want) {
			t.Errorf("%q: %v\n%s", c.text, p, b.String())
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add([]byte("line: own/line\ntemplates: own/templates\nout: out\npaper: a4\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		if p, found := Read("f", data); (p == nil) != found.HasErrors() {
			t.Errorf("%v with %v", p, found)
		}
	})
}
