package source

import (
	"errors"
	"fmt"
	"reflect"
	"strings"
	"testing"
)

// even is a ScalarParser of numbers that end in an even digit.
type even string

func (e *even) ParseScalar(text string) error {
	if !strings.ContainsAny(text[max(0, len(text)-1):], "02468") {
		return errors.New("expected an even number")
	}
	*e = even(text)
	return nil
}

type shared struct {
	Color Given[string] `yaml:"color" oneof:"red green"`
}

type shelf struct {
	shared
	Unread  string
	Name    string             `yaml:"name,required"`
	Count   Given[int]         `yaml:"count"`
	Flag    Given[bool]        `yaml:"flag"`
	Even    Given[even]        `yaml:"even"`
	List    []Given[string]    `yaml:"list"`
	Free    Map[shared]        `yaml:"free"`
	Inner   *shared            `yaml:"inner"`
	Raw     *Node              `yaml:"raw"`
	Nothing Map[Given[string]] `yaml:"nothing"`
}

func decode(t *testing.T, text string) (shelf, Findings) {
	t.Helper()
	node, findings := Parse("x.yaml", []byte(text), SheetLimit)
	if node == nil {
		t.Fatal(shown(findings))
	}
	var s shelf
	Decode(node, &s, &findings)
	return s, findings
}

func TestDecode(t *testing.T) {
	s, findings := decode(t, `name: top
color: red
count: 12
flag: true
even: 34
list: [a, "b"]
free:
  zebra: { color: green }
  ant: {}
inner: { color: red }
raw: [1]
`)
	if len(findings) > 0 {
		t.Fatal(shown(findings))
	}
	if s.Name != "top" || s.Color.Value != "red" || s.Count.Value != 12 || !s.Flag.Value || s.Even.Value != "34" || s.Inner.Color.Value != "red" || len(s.Raw.Items) != 1 {
		t.Errorf("got %+v", s)
	}
	if want := (Given[int]{12, Pos{"x.yaml", 3, 8}, "count", "12", true}); s.Count != want {
		t.Errorf("count is %+v, want %+v", s.Count, want)
	}
	if got := s.List[1]; got.Value != "b" || got.Path != "list[1]" || got.At.Column != 11 {
		t.Errorf("the second of the list is %+v", got)
	}
	if got := strings.Join(s.Free.Names(), " "); got != "zebra ant" {
		t.Errorf("free keys in the order %s", got)
	}
	if s.Free.Get("zebra").Color.Value != "green" || s.Free.Get("cat") != nil || s.Free[1].KeyAt != (Pos{"x.yaml", 9, 3}) {
		t.Errorf("free is %+v", s.Free)
	}
	if s.Nothing != nil {
		t.Errorf("nothing is %+v", s.Nothing)
	}
}

func TestDecodeReports(t *testing.T) {
	tests := []struct{ name, text, want string }{
		{"missing", "color: red\n", "1:1 key-missing: name is missing"},
		{"unknown", "name: a\nnothign: {}\n", `2:1 key-unknown: unknown key "nothign"`},
		{"a field without a tag is no key", "name: a\nUnread: b\n", `2:1 key-unknown: unknown key "Unread"`},
		{"list for a word", "name: [a]\n", "1:7 value-shape: name is a list; expected a single value"},
		{"word for a list", "name: a\nlist: b\n", "2:7 value-shape: list is a single value; expected a list"},
		{"nothing for a list", "name: a\nlist:\n", "2:6 value-wrong: list: nothing is written here; expected a list"},
		{"list for a set", "name: a\nfree: [b]\n", "2:7 value-shape: free is a list; expected a set of keys"},
		{"word for a file", "name\n", "1:1 value-shape: the file is a single value; expected a set of keys"},
		{"nothing", "name:\n", "1:6 value-wrong: name: nothing is written here"},
		{"tilde", "name: ~\n", `1:7 value-wrong: name is "~": nothing is written here`},
		{"no whole number", "name: a\ncount: 1.5\n", `2:8 value-wrong: count is "1.5": expected a whole number`},
		{"number of another base", "name: a\ncount: 0x1F\n", `2:8 value-wrong: count is "0x1F": expected a whole number`},
		{"number beyond all bounds", "name: a\ncount: 99999999999999999999\n", `2:8 value-wrong: count is "99999999999999999999": expected a whole number`},
		{"truth in another spelling", "name: a\nflag: yes\n", `2:7 value-wrong: flag is "yes": expected true or false`},
		{"parser's own words", "name: a\neven: 3\n", `2:7 value-wrong: even is "3": expected an even number`},
		{"empty text for a parser", "name: a\neven: \"\"\n", "2:7 value-wrong: even: expected an even number"},
		{"closed list", "name: a\ncolor: gren\n", `2:8 value-wrong: color is "gren": expected one of red, green`},
		{"closed list, wrong shape", "name: a\ncolor: [red]\n", "2:8 value-shape: color is a list; expected a single value"},
		{"deep", "name: a\nfree: { b: { colour: red } }\n", `2:14 key-unknown: unknown key "colour"`},
		{"long", "name: a\ncount: " + strings.Repeat("x", 70) + "\n", `2:8 value-wrong: count is "` + strings.Repeat("x", 60) + `…": expected a whole number`},
		{"all in one run", "count: x\nflag: x\n", "1:1 key-missing: name is missing\n1:8 value-wrong: count is \"x\": expected a whole number\n2:7 value-wrong: flag is \"x\": expected true or false"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if _, findings := decode(t, tt.text); shown(findings) != tt.want {
				t.Errorf("got\n%s\nwant\n%s", shown(findings), tt.want)
			}
		})
	}
}

func TestDecodeHints(t *testing.T) {
	for text, want := range map[string]string{
		"name: a\nlsit: []\n":     `did you mean "list"?`,
		"name: a\nqqqq: 1\n":      "keys allowed here: color, name, count, flag, even, list, free, inner, raw, nothing",
		"name: a\ncolor: grene\n": `did you mean "green"?`,
	} {
		_, findings := decode(t, text)
		if got := fmt.Sprint(findings[0].Hints); got != "["+want+"]" {
			t.Errorf("%q: %s, want %s", text, got, want)
		}
	}
}

// An entry that could not be read is not taken for one that was given.
func TestDecodeLeavesTheUnreadableUnset(t *testing.T) {
	s, _ := decode(t, "name: a\ncount: x\ncolor: blue\n")
	if s.Count.Set || s.Color.Set || s.Count.Text != "x" {
		t.Errorf("count %+v, color %+v", s.Count, s.Color)
	}
}

func TestWalk(t *testing.T) {
	s, _ := decode(t, "name: a\ncount: 1\nlist: [b]\nfree: { c: { color: red } }\ninner: { color: green }\nflag: maybe\n")
	var got []string
	Walk(&s, func(value any, _ reflect.StructTag, at Pos, path, text string) {
		got = append(got, fmt.Sprintf("%s=%v@%d", path, value, at.Line))
	})
	if want := "count=1@2 list[0]=b@3 free.c.color=red@4 inner.color=green@5"; strings.Join(got, " ") != want {
		t.Errorf("got %s, want %s", strings.Join(got, " "), want)
	}
}
