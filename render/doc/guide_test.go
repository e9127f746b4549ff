package doc

import "testing"

func TestFill(t *testing.T) {
	for _, c := range []struct {
		pattern string
		words   []string
		want    string
	}{
		{"no braces", []string{"a", "1"}, "no braces"},
		{"{a}, {b}", []string{"a", "1", "b", "2"}, "1, 2"},
		{"{b}{a}{b}", []string{"a", "1", "b", "2"}, "212"},
		{"{a}", []string{"a", "{b}", "b", "2"}, "{b}"},   // braces in a word are its own
		{"{other} {a}", []string{"a", "1"}, "{other} 1"}, // another name
		{"{ {a} } {", []string{"a", "1"}, "{ 1 } {"},     // braces that name nothing
		{"{a", []string{"a", "1"}, "{a"},                 // not closed
		{"{a}", []string{"a"}, "{a}"},                    // a name without a word
		{"", []string{"a", "1"}, ""},
	} {
		if got := Fill(c.pattern, c.words...); got != c.want {
			t.Errorf("Fill(%q, %q) = %q, want %q", c.pattern, c.words, got, c.want)
		}
	}
}
