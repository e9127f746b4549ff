package render

import (
	"strings"
	"testing"
)

// cardFiles are two sides: the second is also a part of the guide.
var cardFiles = map[string]string{
	"en/sections/only.md":    "---\ntitle: Only\nplace: 100\n---\nText.\n",
	"en/sections/front.md":   "---\ntitle: Front {sheet.serial}\nplace: 50\ncard: only\n---\nSee [**the** text](#only), [call](tel:5550177).\n\n```schedule jobs\n```\n",
	"en/sections/both.md":    "---\ntitle: Both\nplace: 300\nin: only\ncard: also\n---\n- [ ] Look at [this](#only)\n",
	"en/sections/under.md":   "---\ntitle: Under\nplace: 400\nin: both\ncard: only\n---\nSmall print.\n",
	"en/sections/plain.md":   "---\ntitle: Plain\nplace: 500\n---\nSee [both](#both).\n",
	"en/sections/dumps.md":   "---\ntitle: Dumps\nplace: 600\nwhen: dump\n---\nIt dumps.\n",
	"en/sections/in-dump.md": "---\ntitle: In dumps\nplace: 700\nin: dumps\ncard: only\n---\nNot for this one.\n",
}

// Sections stand in the guide, on the card or on both, and the card leads
// nowhere but to the telephone: it hangs where there is no guide to turn to.
func TestCard(t *testing.T) {
	g, findings := guide(t, "utility-12", false, cardFiles)
	if len(findings) > 0 || g.Card == nil {
		t.Fatal(written(findings))
	}
	want := `section front, level 1, chapter, number "", short "Front utility-12-901"
  heading: Front utility-12-901
  See **the** text, [call](tel:5550177).
  **Before each trip**: Check the pressure
  Where two are named, whichever comes first.
section both, level 1, plain, number "", short "Both"
  heading: Both
  list -, start 0, tight true
    item: [ ]tick-both-1Look at this
  section under, level 2, plain, number "", short "Under"
    heading: Under
    Small print.
`
	if got := dump(g.Card.Sections...); got != want {
		t.Errorf("the card is\n%s\nwant\n%s", got, want)
	}
	text := dump(g.Sections...)
	if strings.Contains(text, "Front") || strings.Contains(text, "Small print") {
		t.Error("what is for the card only stands in the guide:\n" + text)
	}
	if !strings.Contains(text, "Look at [this](#only)") || !strings.Contains(text, "section both, level 2, plain, number \"1.1\"") {
		t.Error("what is also for the card is not in the guide as it was:\n" + text)
	}
	if !strings.Contains(text, "section plain, level 1, chapter, number \"2\"") {
		t.Error("the card takes chapter numbers:\n" + text)
	}
	if g.Card.Title == g.Title || g.Card.Serial != g.Serial || g.Card.Card != nil {
		t.Errorf("the card is titled %q", g.Card.Title)
	}
}

// Slips that concern the card are told at the author's line.
func TestCardSlips(t *testing.T) {
	for name, test := range map[string]struct{ file, text, want string }{
		"misspelt":         {"en/sections/x.md", "---\ntitle: X\nplace: 200\ncard: yes\n---\nX.\n", `own/outline.yaml:3:9: error: [1].card is "yes": expected one of also, only`},
		"leads from none":  {"en/sections/x.md", "---\ntitle: X\nplace: 200\nfrom: [onyl]\n---\nX.\n", `own/outline.yaml:3:10: error: there is no section "onyl" to lead from`},
		"contents on card": {"en/sections/x.md", "---\ntitle: X\nplace: 200\ncard: only\n---\n```contents\n```\n", "x.md:4:1: error: a section for the card cannot hold a block of kind contents"},
		"due without job":  {"en/sections/x.md", "---\ntitle: X\nplace: 200\n---\n```due\ntires.cold_pressure: Tires\n```\n", `x.md:5:1: error: expected "interval.job: label"`},
		"unknown job":      {"en/sections/x.md", "---\ntitle: X\nplace: 200\n---\n```due\ninterval.tire-presure: Tires\n```\n", `x.md:5:1: error: there is no job "tire-presure"`},
	} {
		t.Run(name, func(t *testing.T) {
			_, findings := loadLittle(t, map[string]string{test.file: test.text})
			if got := written(findings); !strings.Contains(got, test.want) {
				t.Errorf("got %s\nwant %s", got, test.want)
			}
		})
	}
	_, findings := guide(t, "utility-12", false, map[string]string{
		"en/sections/only.md":  "---\ntitle: Only\nplace: 100\n---\nSee [it](#front).\n",
		"en/sections/front.md": "---\ntitle: Front\nplace: 200\ncard: only\n---\nX.\n",
	})
	if got := written(findings); !strings.Contains(got, "only.md:4:6: error: this guide has no section \"front\"") || !strings.Contains(got, "that section is on the card only") {
		t.Error(got)
	}
}

// Jobs due at the same time share a row; nothing is lost by that, and the rule
// between miles and months is said.
func TestDue(t *testing.T) {
	l, templates := embedded(t)
	b, vs := unit(t, l, sheetOf(t, l, order{l.Model("utility-12"), nil}, true))
	g, findings := templates.Assemble(b, vs, nil)
	if findings.HasErrors() {
		t.Fatal(written(findings))
	}
	text := dump(g.Card.Sections...)
	for _, want := range []string{
		"row: Every month | coupler and ball, jack\n",
		"row: Every ‹service.repack-bearings.distance=12,000␣mi (19,312␣km)› or every ‹service.repack-bearings.months=12› months | wheel bearings\n",
		"Where two are named, whichever comes first.\n",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing from\n%s", want, text)
		}
	}
	if strings.Contains(text, "hydraulic") || strings.Contains(text, "hubs") {
		t.Errorf("jobs this unit has not:\n%s", text)
	}
	// Beside the card the sentence stands where it stood.
	if !strings.Contains(dump(g.Sections...), "whichever comes first") {
		t.Error("the guide does not say what comes first")
	}
}
