package source

import (
	"strings"
	"testing"
)

func TestPrintable(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"winch-plate needs ½ “box” – ñ 箱", "winch-plate needs ½ “box” – ñ 箱"},
		{"a\nb.yaml:1:1: error: forged [x]", `a\nb.yaml:1:1: error: forged [x]`},
		{"\x1b[2J\x07\r\t", `\x1b[2J\x07\r\t`},
		{"\u009b31m\u202ereversed\u2028\ufeff\u200b", `\u009b31m\u202ereversed\u2028\ufeff\u200b`},
		{"\U000e0041", `\U000e0041`},
		{"bad \xff\xfe", `bad \xff\xfe`},
		{"the character \ufffd itself", "the character \ufffd itself"},
	} {
		got := Printable(c.text)
		if got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
		if Printable(got) != got {
			t.Errorf("%q is printable and changes", got)
		}
	}
}

// Nothing that a finding quotes brings a line of its own, an escape or a place
// that is not the finding's.
func TestFindingsCannotBeForged(t *testing.T) {
	const forged = "\x1b[1A\nb.yaml:1:1: error: forged [x]\u202e"
	f := Code{"real", Error, ""}.At(Pos{"a" + forged, 2, 3}, "key %s", forged).
		WithRelated(Pos{"line" + forged, 1, 1}, "here %s", forged).WithHint("write %s", forged)
	f.Mends = []Mend{{Add: []string{forged}}}
	var b strings.Builder
	if err := (Findings{f}).WriteText(&b); err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSuffix(b.String(), "\n"), "\n")
	if len(lines) != 4 || strings.ContainsFunc(strings.Join(lines, ""), invisible) {
		t.Errorf("got\n%q", lines)
	}
	if !strings.HasPrefix(lines[0], `"a\x1b[1A\nb.yaml:1:1: error: forged [x]\u202e":2:3: error: key `) {
		t.Errorf("got %q", lines[0])
	}
}
