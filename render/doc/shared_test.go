package doc

import (
	"testing"

	"ownerguide/spec/source"
)

// A shared block has the digest it has alone, work on it is done once, and a copy that is changed shares nothing.
func TestShared(t *testing.T) {
	n := &Paragraph{Attributes: Attributes{ID: "a"}, Inlines: []Inline{&Text{Content: "words"}}}
	alone, section := Digest(n), Digest(&Section{Blocks: []Block{n}})
	done := 0
	work := func() int { done++; return done }
	if Once(n, work); Once(n, work) != 2 {
		t.Error("the result of work on a block that is not shared is kept")
	}
	Share(n)
	for range 2 { // worked out, then kept
		if Digest(n) != alone || Digest(&Section{Blocks: []Block{n}}) != section {
			t.Error("a shared block has another digest")
		}
		if Once(n, work) != 3 {
			t.Error("work on a shared block is done twice")
		}
	}
	like := &Paragraph{Attributes: Attributes{ID: "a", Origin: source.Pos{Line: 1}}, Inlines: n.Inlines}
	Share(like)
	if key := Key(like); Digest(like) != alone || key == Key(n) || key != Key(like) {
		t.Error("the key of a shared block is not of everything in it")
	}
	other := *n
	other.Inlines = nil
	if IsShared(&other) || Digest(&other) == alone {
		t.Error("a copy of a shared block is taken for it")
	}
}

func TestUses(t *testing.T) {
	for _, c := range []struct {
		text, word string
		want       bool
	}{{"a masthead, masts", "mast", true}, {"a mastiff", "mast", false}, {"demast", "mast", false}, {"mast", "mast", true}, {"mâst mast", "mast", true}, {"", "mast", false}, {"x", "", false}} {
		if got := uses(c.text, c.word); got != c.want {
			t.Errorf("%q in %q: %v, want %v", c.word, c.text, got, c.want)
		}
	}
}
