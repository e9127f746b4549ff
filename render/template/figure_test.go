package template

import (
	"testing"

	"ownerguide/spec/source"
)

// A figure typed into words is found where it stands; names, laws and what only
// looks like one are not.
func TestTypedFigures(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"Fill the tires to 65 psi.", `x.md:1:19: the figure "65 psi" is typed into the words`},
		{"Wait\n24-hours before you\ntow.", `x.md:2:1: the figure "24-hours" is typed into the words`},
		{"1. First.\n2. Raise it 1/2 in.", `x.md:2:13: the figure "1/2 in" is typed into the words`},
		{"At most **5 %** of it.", `x.md:1:11: the figure "5 %" is typed into the words`},
		{"Cada 6 meses.", `x.md:1:6: the figure "6 meses" is typed into the words`},
		{"Tous les 12 mois, à 90 N·m", `x.md:1:10: the figure "12 mois" is typed into the words; x.md:1:21: the figure "90 N·m" is typed into the words`},
		{"Fill to {tires.cold_pressure}.", ""},
		{"49 CFR 575, DOT 3 fluid, 911, Part 1 in the box, a 7-way plug, grease No. 2.", ""},
		{"Point 3 minus the next.", ""},
	} {
		var findings source.Findings
		compileBody([]byte(c.text), false, newLineIndex("x.md", []byte(c.text)).pos, &findings)
		got := ""
		for _, f := range findings.Sorted() {
			if got != "" {
				got += "; "
			}
			got += f.Pos.String() + ": " + f.Message
			if f.Severity != source.Warning || f.Code != "template-figure" {
				t.Errorf("%q: a finding %s of %s", c.text, f.Severity, f.Code)
			}
		}
		if got != c.want {
			t.Errorf("%q: got %q, want %q", c.text, got, c.want)
		}
	}
}
