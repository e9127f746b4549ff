package logic

import (
	"errors"
	"strings"
	"testing"
	"unicode/utf8"

	"ownerguide/spec/source"
)

func TestParseCondition(t *testing.T) {
	tests := []struct{ text, spelling string }{
		{"power-tilt", "power-tilt"},
		{"not deck-lock", "not deck-lock"},
		{"a or b", "a or b"},
		{"a and not b and (c or d)", "a and not b and (c or d)"},
		{" a\tand  not b ", "a and not b"},
		{"(a and b) or c", "(a and b) or c"},
		{"not (a or b)", "not (a or b)"},
		{"not not a", "a"},
		{"((a))", "a"},
		{"(a)and(b)", "a and b"},
		{"over-10000-lb and 2-axles", "over-10000-lb and 2-axles"},
		{"not value:tires.cold_pressure and braked", "not value:tires.cold_pressure and braked"},
	}
	for _, tt := range tests {
		t.Run(tt.text, func(t *testing.T) {
			c, err := ParseCondition(tt.text, "value")
			if err != nil || c.String() != tt.spelling || c.Always() {
				t.Errorf("got %q, %v, always %t; expected %q", c, err, c.Always(), tt.spelling)
			}
		})
	}
}

func TestConditionErrors(t *testing.T) {
	const shape = "expected small letters and digits joined by single hyphens, and between features and, or, not"
	tests := []struct {
		text   string
		column int
		want   string
	}{
		{"", 1, "nothing stands here; expected a feature"},
		{"a and", 6, "nothing stands here; expected a feature"},
		{"and a", 1, `found "and", expected a feature`},
		{"a and or b", 7, `found "or", expected a feature`},
		{"not", 4, "nothing stands here; expected a feature"},
		{"a b", 3, `found "b", expected and, or, or the end`},
		{"a not b", 3, `found "not", expected and, or, or the end`},
		{"a and b or c", 9, `"or" stands beside "and": put parentheses round what belongs together`},
		{"a or b and c", 8, `"and" stands beside "or": put parentheses round what belongs together`},
		{"(a or b", 8, "nothing stands here; expected a closing parenthesis"},
		{"a or b)", 7, `found ")", expected and, or, or the end`},
		{"()", 2, `found ")", expected a feature`},
		{"a,b", 1, `"a,b" is no feature; ` + shape},
		{"!a", 1, `"!a" is no feature; ` + shape},
		{"front-box and power_tilt", 15, `"power_tilt" is no feature; ` + shape},
		{"é and é", 1, `"é" is no feature; ` + shape},
		{"a and job:b", 7, `"job:b" is no feature; ` + shape},
		{"a and value:", 7, `"value:" is no feature; ` + shape},
	}
	for _, tt := range tests {
		t.Run(tt.text, func(t *testing.T) {
			c, err := ParseCondition(tt.text, "value")
			var syntax *SyntaxError
			if !errors.As(err, &syntax) {
				t.Fatalf("got %q, %v; expected a *SyntaxError", c, err)
			}
			if syntax.Column() != tt.column || err.Error() != tt.want {
				t.Errorf("got %s at column %d, expected %s at %d", err, syntax.Column(), tt.want, tt.column)
			}
		})
	}
}

// The truth table of a condition with all the words there are.
func TestConditionHolds(t *testing.T) {
	c, err := ParseCondition("a and (b or not c) and not (d or e)")
	if err != nil {
		t.Fatal(err)
	}
	names := []string{"a", "b", "c", "d", "e"}
	for bits := range 1 << len(names) {
		on := map[string]bool{}
		for i, name := range names {
			on[name] = bits>>i&1 == 1
		}
		want := on["a"] && (on["b"] || !on["c"]) && !on["d"] && !on["e"]
		if got := c.Holds(func(name string) bool { return on[name] }); got != want {
			t.Errorf("with %v: %t, expected %t", on, got, want)
		}
	}
	if c.HasConjunct("b") || c.HasConjunct("d") || !c.HasConjunct("a") {
		t.Error("of what is asked outright, a is all there is")
	}
}

func TestAlways(t *testing.T) {
	nothing := func(string) bool { return false }
	if c := (Condition{}); !c.Always() || !c.Holds(nothing) || c.String() != "" {
		t.Errorf("%q: always %t, holds %t", c, c.Always(), c.Holds(nothing))
	}
}

// A condition of several words has the position of each.
func TestPlacesInACondition(t *testing.T) {
	c, _ := ParseCondition("a and (b or a)")
	c.SetPlace(source.Pos{File: "x.yaml", Line: 3, Column: 10})
	if a, b := c.At("a").String(), c.At("b").String(); a != "x.yaml:3:10" || b != "x.yaml:3:17" {
		t.Errorf("a stands at %s, b at %s", a, b)
	}
}

func TestAndLeavesItsPartsAlone(t *testing.T) {
	parse := func(text string) Condition {
		c, err := ParseCondition(text)
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	a, b, d := parse("a and e"), parse("b"), parse("d or e")
	a.Pos = source.Pos{File: "a.md", Line: 3, Column: 1}
	ab, ad := a.And(b), a.And(d)
	if ab.String() != "a and e and b" || ad.String() != "a and e and (d or e)" || a.String() != "a and e" {
		t.Errorf("got %q, %q and %q", ab, ad, a)
	}
	if ab.Pos != a.Pos || b.And(a).Pos != a.Pos {
		t.Errorf("places %v and %v, expected %v", ab.Pos, b.And(a).Pos, a.Pos)
	}
	if got := strings.Join(ad.Facts(), " "); got != "a d e" {
		t.Errorf("the features are %s", got)
	}
}

func TestValidName(t *testing.T) {
	for _, name := range []string{"a", "0", "power-tilt", "over-10000-lb", "a-b-c"} {
		if !ValidName(name) {
			t.Errorf("%q is refused", name)
		}
	}
	for _, name := range []string{"", "-", "a-", "-a", "a--b", "A", "a_b", "a b", "é", "a\n", "a,b", "and", "or", "not"} {
		if ValidName(name) {
			t.Errorf("%q is accepted", name)
		}
	}
}

func FuzzParseCondition(f *testing.F) {
	for _, text := range []string{"", "power-tilt", "not deck-lock", "a or b", "a and not b and (c or d)", "a and b or c", "((a)", "not not a", "é or a", "a--b", "value:x.y", "\xff"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		c, err := ParseCondition(text, "value")
		if err != nil {
			var syntax *SyntaxError
			if !errors.As(err, &syntax) || syntax.Column() < 1 || syntax.Column() > utf8.RuneCountInString(text)+1 {
				t.Fatalf("%q: %#v", text, err)
			}
			return
		}
		again, err := ParseCondition(c.String(), "value")
		if err != nil || again.String() != c.String() {
			t.Fatalf("%q prints as %q and reads back as %q, %v", text, c, again, err)
		}
	})
}
