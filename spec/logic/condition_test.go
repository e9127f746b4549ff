package logic

import (
	"errors"
	"reflect"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"ownerguide/spec/source"
)

func TestParseCondition(t *testing.T) {
	is := func(name string) Literal { return Literal{Feature: name} }
	not := func(name string) Literal { return Literal{Feature: name, Negated: true} }
	tests := []struct {
		text, spelling string
		clauses        []Clause
	}{
		{"", "", nil},
		{" \t ", "", nil},
		{"power-tilt", "power-tilt", []Clause{{is("power-tilt")}}},
		{"!deck-lock", "!deck-lock", []Clause{{not("deck-lock")}}},
		{"a|b", "a|b", []Clause{{is("a"), is("b")}}},
		{"a,!b,c|d", "a,!b,c|d", []Clause{{is("a")}, {not("b")}, {is("c"), is("d")}}},
		{" a ,\t! b , c | !d ", "a,!b,c|!d", []Clause{{is("a")}, {not("b")}, {is("c"), not("d")}}},
		{"over-10000-lb,2-axles", "over-10000-lb,2-axles", []Clause{{is("over-10000-lb")}, {is("2-axles")}}},
	}
	for _, tt := range tests {
		t.Run(tt.text, func(t *testing.T) {
			c, err := Parse(tt.text)
			if err != nil || !reflect.DeepEqual(c.Clauses, tt.clauses) {
				t.Fatalf("got %v, %v; want %v", c.Clauses, err, tt.clauses)
			}
			if c.String() != tt.spelling {
				t.Errorf("spelling %q, want %q", c, tt.spelling)
			}
			if c.Always() != (tt.clauses == nil) {
				t.Errorf("always %t", c.Always())
			}
		})
	}
}

func TestParseConditionErrors(t *testing.T) {
	const shape = "expected small letters and digits joined by single hyphens"
	tests := []struct{ text, want string }{
		{",", `column 1: found ',', expected a feature name`},
		{"a,", `column 3: found nothing, expected a feature name`},
		{"a, ,b", `column 4: found ',', expected a feature name`},
		{"a|", `column 3: found nothing, expected a feature name`},
		{"a||b", `column 3: found '|', expected a feature name`},
		{"!", `column 2: found nothing, expected a feature name`},
		{"!!a", `column 2: found '!', expected a feature name`},
		{"a b", `column 3: found 'b', expected "," or "|" after a`},
		{"a !b", `column 3: found '!', expected "," or "|" after a`},
		{"a&b", `column 1: "a&b" is no feature name, ` + shape},
		{"Power-tilt", `column 1: "Power-tilt" is no feature name, ` + shape},
		{"front-box,power_tilt", `column 11: "power_tilt" is no feature name, ` + shape},
		{"a,é", `column 3: "é" is no feature name, ` + shape},
		{"é,!", `column 1: "é" is no feature name, ` + shape},
		{"éé|a", `column 1: "éé" is no feature name, ` + shape},
		{"a,b--c", `column 3: "b--c" is no feature name, ` + shape},
		{"-a", `column 1: "-a" is no feature name, ` + shape},
		{"a|! b-", `column 5: "b-" is no feature name, ` + shape},
		{"a\nb", `column 1: "a\nb" is no feature name, ` + shape},
	}
	for _, tt := range tests {
		t.Run(tt.text, func(t *testing.T) {
			c, err := Parse(tt.text)
			var syntax *SyntaxError
			if !errors.As(err, &syntax) {
				t.Fatalf("got %q, %v; want a *SyntaxError", c, err)
			}
			if err.Error() != tt.want {
				t.Errorf("got %s, want %s", err, tt.want)
			}
		})
	}
}

// The truth table of needs a, b; any of c, d; unless e, f: written out from the
// words of New and not through clauses.
func TestNewHolds(t *testing.T) {
	names := []string{"a", "b", "c", "d", "e", "f"}
	c := New(names[:2], names[2:4], names[4:])
	if got := c.String(); got != "a,b,c|d,!e,!f" {
		t.Errorf("spelling %q", got)
	}
	for bits := range 1 << len(names) {
		on := map[string]bool{}
		for i, name := range names {
			on[name] = bits>>i&1 == 1
		}
		want := on["a"] && on["b"] && (on["c"] || on["d"]) && !on["e"] && !on["f"]
		if got := c.Holds(func(name string) bool { return on[name] }); got != want {
			t.Errorf("with %v: %t, want %t", on, got, want)
		}
	}
}

func TestAlways(t *testing.T) {
	nothing := func(string) bool { return false }
	for _, c := range []Condition{{}, New(nil, nil, nil), New(nil, []string{}, nil)} {
		if !c.Always() || !c.Holds(nothing) {
			t.Errorf("%q: always %t, holds %t", c, c.Always(), c.Holds(nothing))
		}
	}
	if never := (Condition{Clauses: []Clause{{}}}); never.Always() || never.Holds(nothing) {
		t.Error("an empty clause holds")
	}
}

func TestAndLeavesItsPartsAlone(t *testing.T) {
	a := Condition{Clauses: slices.Grow(New([]string{"a"}, nil, nil).Clauses, 8), Pos: source.Pos{File: "a.md", Line: 3, Column: 1}}
	b, d := New([]string{"b"}, nil, nil), New([]string{"d"}, nil, nil)
	ab, ad := a.And(b), a.And(d)
	if ab.String() != "a,b" || ad.String() != "a,d" || a.String() != "a" {
		t.Errorf("got %q, %q and %q", ab, ad, a)
	}
	if ab.Pos != a.Pos || b.And(a).Pos != a.Pos {
		t.Errorf("places %v and %v, want %v", ab.Pos, b.And(a).Pos, a.Pos)
	}
}

func TestFeatures(t *testing.T) {
	c := New([]string{"winch", "box"}, []string{"spare", "winch"}, []string{"box"})
	if got := strings.Join(c.Features(), " "); got != "box spare winch" {
		t.Errorf("got %s", got)
	}
}

func TestValidName(t *testing.T) {
	for _, name := range []string{"a", "0", "power-tilt", "over-10000-lb", "a-b-c"} {
		if !ValidName(name) {
			t.Errorf("%q is refused", name)
		}
	}
	for _, name := range []string{"", "-", "a-", "-a", "a--b", "A", "a_b", "a b", "é", "a\n", "a,b"} {
		if ValidName(name) {
			t.Errorf("%q is accepted", name)
		}
	}
}

func FuzzParse(f *testing.F) {
	for _, text := range []string{"", "power-tilt", "!deck-lock", "a|b", "a,!b,c|d", " a , ! b |c", "a,,b", "!!a", "é|a", "a--b", "\xff"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		c, err := Parse(text)
		if err != nil {
			var syntax *SyntaxError
			if !errors.As(err, &syntax) || syntax.Column < 1 || syntax.Column > utf8.RuneCountInString(text)+1 {
				t.Fatalf("%q: %#v", text, err)
			}
			return
		}
		for _, name := range c.Features() {
			if !ValidName(name) {
				t.Fatalf("%q gives the name %q", text, name)
			}
		}
		again, err := Parse(c.String())
		if err != nil || !reflect.DeepEqual(again, c) {
			t.Fatalf("%q prints as %q and reads back as %q, %v", text, c, again, err)
		}
	})
}
