package render

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"ownerguide/render/doc"
	"ownerguide/render/record"
	"ownerguide/render/template"
	"ownerguide/spec/sheet"
)

// Sections stand in the guide, in the mail or in both; in the mail a link into
// the guide is its words, and cautions are given in two lines.
func TestMail(t *testing.T) {
	g, findings := guide(t, "utility-12", false, map[string]string{
		"en/sections/only.md":  "---\ntitle: Only\nplace: 100\n---\nText.\n",
		"en/sections/mail.md":  "---\ntitle: Of {sheet.serial}\nplace: 200\nmail: only\n---\nSee [the text](#only).\n\n```caution rolls\n```\n",
		"en/sections/both.md":  "---\ntitle: Both\nplace: 300\nmail: also\n---\n```caution rolls\n```\n",
		"en/sections/card.md":  "---\ntitle: Card\nplace: 400\ncard: only\nmail: also\n---\nFor lid and mail.\n",
		"en/sections/dumps.md": "---\ntitle: Dumps\nplace: 500\nwhen: dump\nmail: only\n---\nNot for this one.\n",
	})
	if len(findings) > 0 || g.Mail == nil || g.Card == nil {
		t.Fatal(written(findings))
	}
	want := `section mail, level 1, chapter, number "", short "Of utility-12-901"
  heading: Of utility-12-901
  See the text.
  caution rolls, warning, signal WARNING, brief true
    It rolls.
    Chock it. Never stand behind it.
section both, level 1, chapter, number "", short "Both"
  heading: Both
  caution rolls, warning, signal WARNING, brief true
    It rolls.
    Chock it. Never stand behind it.
section card, level 1, chapter, number "", short "Card"
  heading: Card
  For lid and mail.
`
	if got := dump(g.Mail.Sections...); got != want {
		t.Errorf("the mail says\n%s\nwant\n%s", got, want)
	}
	guide, card := dump(g.Sections...), dump(g.Card.Sections...)
	if strings.Contains(guide, "utility-12-901") || strings.Contains(guide, "lid") || !strings.Contains(guide, "brief false") {
		t.Errorf("the guide is\n%s", guide)
	}
	if !strings.Contains(card, "lid") || strings.Contains(card, "Both") {
		t.Errorf("the card is\n%s", card)
	}
	if !strings.Contains(g.Mail.Title, g.Serial) || !strings.Contains(g.Mail.Title, g.Model) || g.Mail.Card != nil || g.Mail.Mail != nil {
		t.Errorf("the mail is titled %q", g.Mail.Title)
	}
}

// Slips that concern the mail are told at the author's line.
func TestMailSlips(t *testing.T) {
	files := map[string]struct{ text, want string }{
		"misspelt": {"---\ntitle: X\nplace: 200\nmail: yes\n---\nX.\n", `own/outline.yaml:3:9: error: [1].mail is "yes": expected one of also, only`},
	}
	for _, d := range directives() {
		kind := d.Name
		if !slices.Contains(d.NotOn, template.Mail) {
			continue
		}
		block := map[string]string{"drawing": "drawing side-view", "form": "form damage 4", "tasks": "tasks tires", "picture": "picture a.svg"}[kind]
		if block == "" {
			block = kind
		}
		files[kind] = struct{ text, want string }{"---\ntitle: X\nplace: 200\nmail: also\n---\n```" + block + "\n```\n",
			"x.md:4:1: error: a section for the mail cannot hold a block of kind " + kind}
	}
	for name, test := range files {
		t.Run(name, func(t *testing.T) {
			_, findings := loadLittle(t, map[string]string{"en/sections/x.md": test.text})
			if got := written(findings); !strings.Contains(got, test.want) {
				t.Errorf("got %s\nwant %s", got, test.want)
			}
		})
	}
	_, findings := guide(t, "utility-12", false, map[string]string{
		"en/sections/only.md": "---\ntitle: Only\nplace: 100\n---\nSee [it](#post).\n",
		"en/sections/post.md": "---\ntitle: Post\nplace: 200\nmail: only\n---\nX.\n",
	})
	if got := written(findings); !strings.Contains(got, "that section is in the mail only") {
		t.Error(got)
	}
}

// Whoever gets the mail is told what matters before the first trip, and warned
// of every grave danger of this unit and of no other.
func TestEveryMailTellsAndWarns(t *testing.T) {
	t.Parallel()
	l, templates := embedded(t)
	failures, units := newTally(), 0
	for _, made := range covered() {
		u := made(t)
		b, g := u.build, u.guide
		if u.findings.HasErrors() || g.Mail == nil {
			t.Fatal(written(u.findings))
		}
		units++
		who := order{b.Model, nil}
		figures, warnings := map[string]bool{}, map[string]bool{}
		for n := range doc.Walk(g.Mail.Sections) {
			switch n := n.(type) {
			case *doc.Value:
				figures[n.Name] = true
			case *doc.Caution:
				warnings[n.Name] = true
				if !n.Brief {
					failures.add(who, "caution %s is not brief", n.Name)
				}
			}
		}
		need := []string{"hitch.rating_needed", "ratings.gvwr", "weights.cargo_capacity", "hitch.tongue_range.full.low",
			"hitch.tongue_range.full.high", "tires.cold_pressure", "wheels.torque", "wheels.recheck.1", "connector.kind", "speed.limit", "vin.number"}
		for feature, figure := range map[string]string{"ball-coupler": "hitch.ball", "pintle": "hitch.ring", "kingpin": "hitch.kingpin", "breakaway-battery": "breakaway.hold_least", "drum-brakes": "brakes.adjust_first", "surge-brakes": "tow_vehicle.gvwr_surge"} {
			if b.Has(feature) {
				need = append(need, figure)
			}
		}
		for _, name := range need {
			if !figures[name] {
				failures.add(who, "the mail does not say %s", name)
			}
		}
		for i := range templates.Cautions {
			c := &templates.Cautions[i]
			if grave := c.Grave.Value && c.When.Holds(b.Has); grave != warnings[c.ID.Value] {
				failures.add(who, "caution %s: grave here %t, in the mail %t", c.ID.Value, grave, warnings[c.ID.Value])
			}
		}
		for _, phone := range []string{l.Maker.Phone.Value, person(b.Sheet.Dealer).Phone.Value} {
			if !strings.Contains(dump(g.Mail.Sections...), phone) {
				failures.add(who, "the phone %s is not in the mail", phone)
			}
		}
	}
	failures.report(t)
	if units < 10 {
		t.Errorf("only %d units", units)
	}
}

// One whole mail as text.
func TestGoldenMail(t *testing.T) {
	l, templates := embedded(t)
	b, vs := unit(t, l, sheetFrom(t, "BW-27-0142"))
	g, findings := templates.Assemble(b, vs, nil)
	if findings.HasErrors() {
		t.Fatal(written(findings))
	}
	compareGolden(t, filepath.Join("testdata", "golden", "mail", "BW-27-0142.txt"), "subject: "+g.Mail.Title+"\n"+dump(g.Mail.Sections...))
}

// sheetFrom reads one of the project's own sheets.
func sheetFrom(t *testing.T, serial string) *sheet.Sheet {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "testdata", "sheets", serial+".yaml"))
	if err != nil {
		t.Fatal(err)
	}
	s, findings := sheet.Read(serial+".yaml", data)
	if findings.HasErrors() {
		t.Fatal(written(findings))
	}
	return s
}

// A visit that only the earlier revision had is taken off the calendar.
func TestVisitsGone(t *testing.T) {
	l, templates := embedded(t)
	dated := func(revision, miles string, earlier *record.Record) (*doc.Guide, *record.Record) {
		return recorded(t, l, templates, strings.Replace(plainUnit, "revision: A", "revision: "+revision, 1)+"use: { distance_per_month: "+miles+", loads_per_week: 1 }\n", earlier)
	}
	_, was := dated("A", "2400 mi", nil)
	alone, _ := dated("B", "100 mi", nil)
	visits := len(alone.Visits)
	g, _ := dated("B", "100 mi", was)
	gone := g.Visits[visits:]
	if visits == 0 || len(gone) == 0 {
		t.Fatalf("%d visits, %d gone; the test wants less use to bring fewer", visits, len(gone))
	}
	for i, v := range gone {
		uid := fmt.Sprintf("visit-%02d.BW-27-0118@bramblewick", visits+i+1)
		if _, err := time.Parse(time.DateOnly, v.Date); err != nil || !v.Gone || v.UID != uid || len(v.Jobs) > 0 || !strings.HasPrefix(v.Title, "No longer due: ") {
			t.Errorf("%+v, want %s", v, uid)
		}
	}
	if i := slices.IndexFunc(g.Visits[:visits], func(v doc.Visit) bool { return v.Gone }); i >= 0 {
		t.Errorf("visit %d is due and gone", i+1)
	}
	// Without dates there is no calendar file to say it in.
	bare, _ := recorded(t, l, templates, strings.Replace(plainUnit, "revision: A", "revision: B", 1), was)
	if len(bare.Visits) > 0 {
		t.Errorf("%d visits of a unit without dates", len(bare.Visits))
	}
}

// Visits keep their names through revisions, and say where they are from.
func TestVisits(t *testing.T) {
	l, templates := embedded(t)
	assemble := func(change func(*sheet.Sheet)) *doc.Guide {
		given := sheetFrom(t, "BW-27-0142")
		change(given)
		b, vs := unit(t, l, given)
		g, findings := templates.Assemble(b, vs, nil)
		if findings.HasErrors() {
			t.Fatal(written(findings))
		}
		return g
	}
	first := assemble(func(*sheet.Sheet) {})
	later := assemble(func(s *sheet.Sheet) {
		s.Revision.Value = "B"
		s.Dealer.Name.Value, s.Dealer.Phone.Value = "{phone} & {name}", "555-0199"
	})
	if len(first.Visits) == 0 || len(first.Visits) != len(later.Visits) || first.Earlier != 0 || later.Earlier != 1 {
		t.Fatalf("%d visits of revision %d, %d of revision %d", len(first.Visits), first.Earlier, len(later.Visits), later.Earlier)
	}
	seen := map[string]bool{}
	for i, v := range first.Visits {
		now := later.Visits[i]
		if seen[v.UID] || v.UID != now.UID || v.Date != now.Date || !slices.Equal(v.Jobs, now.Jobs) || len(v.Jobs) == 0 {
			t.Errorf("%+v became %+v", v, now)
		}
		seen[v.UID] = true
	}
	want := doc.Visit{UID: "visit-01.BW-27-0142@bramblewick", Date: "2026-12-30", Title: "Trailer service 1: Tilt Deck 20, BW-27-0142"}
	if v := first.Visits[0]; v.UID != want.UID || v.Date != want.Date || v.Title != want.Title {
		t.Errorf("the first visit is %+v", v)
	}
	notes := later.Visits[0].Notes
	if got, want := notes[1:], []string{"Steps, tools and cautions: owner guide of BW-27-0142, revision B", "Questions: {phone} & {name}, 555-0199"}; !slices.Equal(got, want) {
		t.Errorf("notes %q, want %q", got, want)
	}
	undated := assemble(func(s *sheet.Sheet) { s.Use = nil })
	if len(undated.Visits) != 0 {
		t.Errorf("%d visits without a use to date them by", len(undated.Visits))
	}
}
