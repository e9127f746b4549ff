package source

import (
	"fmt"
	"strings"
	"testing"
	"time"
)

// shown prints findings on one line each, without the file name.
func shown(findings Findings) string {
	var lines []string
	for _, f := range findings.Sorted() {
		lines = append(lines, fmt.Sprintf("%d:%d %s: %s", f.Pos.Line, f.Pos.Column, f.Code, f.Message))
	}
	return strings.Join(lines, "\n")
}

func TestParseRefuses(t *testing.T) {
	tests := []struct {
		name, text, want string
	}{
		{"empty", "", "1:1 yaml-syntax: the file is empty"},
		{"comments only", "# nothing\n# here\n", "1:1 yaml-syntax: the file is empty"},
		{"end marker only", "...\n", "1:1 yaml-syntax: this is not valid YAML here or just above: did not find expected node content"},
		{"anchor", "a: &x 1\n", "1:4 yaml-forbidden: anchor &x"},
		{"alias", "a: &x 1\nb: *x\n", "1:4 yaml-forbidden: anchor &x\n2:4 yaml-forbidden: alias *x"},
		{"alias to nothing", "a: *x\n", "1:1 yaml-syntax: this is not valid YAML here or just above: unknown anchor 'x' referenced"},
		{"anchor on a key", "&x a: 1\n", "1:1 yaml-forbidden: anchor or tag on a key"},
		{"alias as a key", "a: &x k\n*x : 2\n", "1:4 yaml-forbidden: anchor &x\n2:1 value-shape: a key must be a single word"},
		{"tag", "a: !!str 1\n", "1:4 yaml-forbidden: tag !!str"},
		{"own tag", "a: !weight 1\n", "1:4 yaml-forbidden: tag !weight"},
		{"tag on a list", "a: !!set [1]\n", "1:4 yaml-forbidden: tag !!set"},
		{"tag on a key", "!!str a: 1\n", "1:1 yaml-forbidden: anchor or tag on a key"},
		{"merge key", "a: { <<: { b: 1 } }\n", "1:6 yaml-forbidden: merge key <<"},
		{"merge key of an alias", "a: &x { b: 1 }\nc: { <<: *x }\n", "1:4 yaml-forbidden: anchor &x\n2:6 yaml-forbidden: merge key <<"},
		{"second document", "a: 1\n---\nb: 2\n", "2:1 yaml-forbidden: a second document starts here; one file holds one document"},
		{"empty second document", "a: 1\n---\n", "2:1 yaml-forbidden: a second document starts here; one file holds one document"},
		{"broken second document", "a: 1\n---\nb: [\n", "3:1 yaml-syntax: this is not valid YAML here or just above: did not find expected node content"},
		{"duplicate key", "a: 1\nb: 2\na: 3\n", `3:1 key-duplicate: key "a" stands here a second time`},
		{"duplicate key, quoted", "a: 1\n\"a\": 3\n", `2:1 key-duplicate: key "a" stands here a second time`},
		{"duplicate key, escaped", "a: 1\n\"\\x61\": 3\n", `2:1 key-duplicate: key "a" stands here a second time`},
		{"duplicate key after accents", "é: { ö: 1, ö: 2 }\n", `1:12 key-duplicate: key "ö" stands here a second time`},
		{"list as a key", "[a, b]: 1\n", "1:1 value-shape: a key must be a single word"},
		{"set as a key", "{a: 1}: 1\n", "1:1 value-shape: a key must be a single word"},
		{"complex key", "? - a\n: 1\n", "1:3 value-shape: a key must be a single word"},
		{"UTF-16, little end first", "\xff\xfea\x00:\x00", "1:1 file-encoding: the file is UTF-16"},
		{"UTF-16, big end first", "\xfe\xff\x00a\x00:", "1:1 file-encoding: the file is UTF-16"},
		{"UTF-16 without a mark", "a\x00:\x00 \x00", "1:2 file-encoding: control character U+0000"},
		{"Latin-1", "a: b\nc: caf\xe9\n", "2:7 file-encoding: byte 0xE9 is not UTF-8"},
		{"overlong encoding", "a: \xc0\xaf\n", "1:4 file-encoding: byte 0xC0 is not UTF-8"},
		{"surrogate half", "a: \xed\xa0\x80\n", "1:4 file-encoding: byte 0xED is not UTF-8"},
		{"columns count characters", "é: caf\xe9\n", "1:7 file-encoding: byte 0xE9 is not UTF-8"},
		{"control character", "a: b\x07c\n", "1:5 file-encoding: control character U+0007"},
		{"line end of old machines", "a: 1\rb: 2\n", "1:5 file-encoding: control character U+000D"},
		{"next line", "a: 1\u0085b: 2\n", "1:5 file-encoding: control character U+0085"},
		{"line separator", "a: 1\u2028b: 2\n", "1:5 file-encoding: control character U+2028"},
		{"delete", "a: \x7f\n", "1:4 file-encoding: control character U+007F"},
		{"tab for indenting", "a:\n\tb: 1\n", "2:1 yaml-syntax: this is not valid YAML here or just above: found character that cannot start any token"},
		{"unclosed list", "a: [1, 2\n", "1:1 yaml-syntax: this is not valid YAML here or just above: did not find expected ',' or ']'"},
		{"figure cut in a set", "a: { b: 7,000 lb, c: 1 }\n", "1:9 number-split: the comma in 7,000 lb cuts the figure in two here"},
		{"figure cut in a list", "a: [7,000 lb, 12,500 lb]\n", "1:5 number-split: the comma in 7,000 lb cuts the figure in two here\n1:15 number-split: the comma in 12,500 lb cuts the figure in two here"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, findings := Parse("x.yaml", []byte(tt.text), SheetLimit)
			if got := shown(findings); got != tt.want {
				t.Errorf("got\n%s\nwant\n%s", got, tt.want)
			}
		})
	}
}

// A syntax error is told at the line with the slip, not at the block around it,
// where the library puts it.
func TestSyntaxErrorsStandAtTheSlip(t *testing.T) {
	const before = "parts:\n  deck: { use: a }\noptions:\n  one:\n    list: [1,\n      2,\n      3]\n    text: \"x\n      y\"\n"
	const after = "  two:\n    weighs: 4 lb\nrules: []\n"
	for _, tt := range []struct {
		name, slip string
		column     int
	}{
		{"indented by one more", "   more:\n     weighs: 4 lb\n", 4},
		{"no colon", "  more\n", 3},
		{"tab", "\tmore: 1\n", 1},
		{"brace left open", "  more: { use: a\n", 3},
		{"quotes left open", "  more: \"4 lb\n", 3},
		{"two colons", "  more: 4 lb: of it\n", 3},
		{"text goes on behind quotes", "  more: \"4\" lb\n", 3},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, findings := Parse("x.yaml", []byte(before+tt.slip+after), SheetLimit)
			if want := (Pos{"x.yaml", 10, tt.column}); len(findings) != 1 || findings[0].Pos != want || findings[0].Code != codeSyntax.ID {
				t.Errorf("got %s, want a slip at %s", shown(findings), want)
			}
		})
	}
}

// Slips that people make who know YAML come with what to look at.
func TestSyntaxErrorsSayWhatToLookAt(t *testing.T) {
	for _, c := range []struct{ name, text, at, hint string }{
		{"one space too many", "parts:\n  jack: 1\n   chains: 2\n", "3:4", "indented"},
		{"one space too few", "spare:\n    center: 1\n   weighs: 2\n", "3:4", "indented"},
		{"an item out of line", "models:\n  - a\n - b\n", "3:2", "indented"},
		{"a colon in a text in brackets", "name: { name: Stock: 14, b: c }\n", "1:1", "needs quotes"},
		{"a colon in a text", "name: Stock: 14\n", "1:1", "needs quotes"},
		{"an open bracket", "a: { x: 1\nb: 2\n", "1:1", "bracket"},
		{"an open quote", "a: \"b\nc: d\n", "1:1", "quote"},
		{"a tab", "a:\n\tb: 1\n", "2:1", "never with tabs"},
	} {
		_, findings := Parse("x.yaml", []byte(c.text), SheetLimit)
		if len(findings) != 1 || len(findings[0].Hints) != 1 || !strings.Contains(findings[0].Hints[0], c.hint) || !strings.HasPrefix(shown(findings), c.at+" ") {
			t.Errorf("%s: %s %v", c.name, shown(findings), findings)
		}
	}
}

// What YAML 1.1 readers turn into truth values, octal numbers, base 60 numbers
// and dates stays what the person typed.
func TestParseKeepsWhatWasTyped(t *testing.T) {
	for _, text := range []string{
		"no", "off", "y", "NO", "True", "0o17", "017", "0x1F", "12:30", "1_000", "1e3", ".inf", ".NaN", "2027-03-02", "2027-03-02T10:00:00Z", "5,980 lb", "3426", "0926", "1.10", "+5", "<<a",
	} {
		node, findings := Parse("x.yaml", []byte("a: "+text+"\n"), SheetLimit)
		if len(findings) > 0 || node.Get("a").Text != text || node.Get("a").Null {
			t.Errorf("%q is read as %q, %s", text, node.Get("a").Text, shown(findings))
		}
	}
	for text, null := range map[string]bool{"~": true, "null": true, "Null": true, "": true, `"null"`: false, `"~"`: false, `""`: false, "'null'": false} {
		node, _ := Parse("x.yaml", []byte("a: "+text+"\n"), SheetLimit)
		if node.Get("a").Null != null {
			t.Errorf("%q is nothing: %t, want %t", text, node.Get("a").Null, null)
		}
	}
}

func TestParseAccepts(t *testing.T) {
	tests := []struct{ name, text, path, want string }{
		{"byte order mark", "\xef\xbb\xbfa: 1\n", "a", "1"},
		{"line ends of Windows", "a: 1\r\nb: 2\r\n", "b", "2"},
		{"one marker", "---\na: 1\n", "a", "1"},
		{"end marker", "a: 1\n...\n", "a", "1"},
		{"list of numbers with spaces", "a: [12, 100]\n", "a[1]", "100"},
		{"list of numbers without", "a: [12,100]\n", "a[1]", "100"},
		{"quoted figure in a set", "a: { b: \"7,000 lb\" }\n", "a.b", "7,000 lb"},
		{"no comma in a set", "a: { b: 7000 lb,c: 100 }\n", "a.c", "100"},
		{"folded text", "a: >-\n  one\n  two\n", "a", "one two"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			node, findings := Parse("x.yaml", []byte(tt.text), SheetLimit)
			if len(findings) > 0 {
				t.Fatal(shown(findings))
			}
			if got := scalarAt(node, tt.path); got != tt.want {
				t.Errorf("%s is %q, want %q", tt.path, got, tt.want)
			}
		})
	}
}

// scalarAt finds a single value by its path.
func scalarAt(n *Node, path string) string {
	if n.Path == path && n.Kind == Scalar {
		return n.Text
	}
	for _, e := range n.Keys {
		if text := scalarAt(e.Value, path); text != "" {
			return text
		}
	}
	for _, item := range n.Items {
		if text := scalarAt(item, path); text != "" {
			return text
		}
	}
	return ""
}

func TestParsePlaces(t *testing.T) {
	node, findings := Parse("x.yaml", []byte("a:\n  é: [b, { c: d }]\n"), SheetLimit)
	if len(findings) > 0 {
		t.Fatal(shown(findings))
	}
	inner := node.Get("a").Get("é").Items[1].Get("c")
	if inner.At != (Pos{"x.yaml", 2, 15}) || inner.Path != "a.é[1].c" {
		t.Errorf("d stands at %s, path %s", inner.At, inner.Path)
	}
}

func TestParseLimits(t *testing.T) {
	limit := 10
	if _, findings := Parse("x.yaml", []byte("a: 1234567"), limit); len(findings) > 0 {
		t.Errorf("ten bytes: %s", shown(findings))
	}
	node, findings := Parse("x.yaml", []byte("a: 12345678"), limit)
	if got, want := shown(findings), "1:1 file-too-large: the file has 11 bytes; at most 10 are read"; node != nil || got != want {
		t.Errorf("eleven bytes: %s, want %s", got, want)
	}
	for levels, want := range map[int]string{
		depthLimit:     "",
		depthLimit + 1: fmt.Sprintf("1:%d yaml-forbidden: nested more than 24 levels deep", depthLimit+2),
	} {
		text := strings.Repeat("[", levels) + "1" + strings.Repeat("]", levels)
		if _, findings := Parse("x.yaml", []byte(text), SheetLimit); shown(findings) != want {
			t.Errorf("%d levels: %s, want %s", levels, shown(findings), want)
		}
	}
}

// A few hundred bytes that other readers would blow up to a thousand million
// entries are refused at once, and so is a file of nothing but brackets.
func TestParseBombs(t *testing.T) {
	var bomb strings.Builder
	bomb.WriteString("a0: &a0 [x, x, x, x, x, x, x, x, x, x]\n")
	for i := 1; i < 10; i++ {
		fmt.Fprintf(&bomb, "a%d: &a%d [%s*a%d]\n", i, i, strings.Repeat(fmt.Sprintf("*a%d, ", i-1), 9), i-1)
	}
	for name, text := range map[string]string{
		"aliases":  bomb.String(),
		"brackets": strings.Repeat("[", SheetLimit),
		"braces":   strings.Repeat("{a: ", SheetLimit/4),
		"keys":     strings.Repeat("? ", SheetLimit/2),
		"dashes":   strings.Repeat("- ", SheetLimit/2),
	} {
		start := time.Now()
		if _, findings := Parse("x.yaml", []byte(text), SheetLimit); !findings.HasErrors() {
			t.Errorf("%s are read", name)
		}
		if took := time.Since(start); took > 10*time.Second {
			t.Errorf("%s take %s", name, took)
		}
	}
}

func FuzzParse(f *testing.F) {
	for _, text := range []string{"a: 1\n", "a: &x [1]\nb: *x\n", "é: { ö: 1, ö: 2 }\n", "a: { b: 7,000 lb }\n", "a: |\n  b\n", "---\n...\n", "? a\n: b\n", "\xef\xbb\xbfa: 'b\n", "a: \"\\u00e9\"\n"} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		node, findings := Parse("x.yaml", data, SheetLimit)
		if node == nil && !findings.HasErrors() {
			t.Fatal("nothing is read and nothing is said")
		}
		lines := strings.Count(string(data), "\n") + 1
		for _, finding := range findings {
			// A syntax error at the end of the text is on the line after the last.
			if finding.Pos.Line < 1 || finding.Pos.Line > lines+1 || finding.Pos.Column < 1 || finding.Pos.Column > len(data)+1 {
				t.Fatalf("finding at %s in a file of %d lines", finding.Pos, lines)
			}
		}
	})
}

// A mark on its own would print over the letter after it.
func TestLettersCarryTheirMarks(t *testing.T) {
	node, findings := Parse("x.yaml", []byte("name: Zoe\u0308 Nguye\u0302\u0303n\n"), SheetLimit)
	if node == nil || len(findings) > 0 {
		t.Fatal(findings)
	}
	if got := node.Keys[0].Value.Text; got != "Zoë Nguyễn" {
		t.Errorf("%+q", got)
	}
}
