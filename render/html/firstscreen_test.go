package html

import (
	"strings"
	"testing"

	"ownerguide/render/doc"
)

func cellsOf(list ...doc.Inline) *doc.Row {
	row := &doc.Row{}
	for _, n := range list {
		row.Cells = append(row.Cells, &doc.Cell{Inlines: []doc.Inline{n}})
	}
	return row
}

func chapterOf(id, title string, blocks ...doc.Block) *doc.Section {
	return &doc.Section{Attributes: doc.Attributes{ID: id}, Level: 1, Role: doc.RoleChapter, Short: title, Heading: &doc.Heading{Inlines: []doc.Inline{text(title)}}, Blocks: blocks}
}

// ownersGuide has one of everything that the first screen leads to.
func ownersGuide() *doc.Guide {
	boxed := func(id, words string) *doc.Item {
		return &doc.Item{Blocks: []doc.Block{paragraph(&doc.Box{ID: id}, text(words))}}
	}
	g := guide()
	trip := chapterOf("trip", "Before each trip", &doc.List{Items: []*doc.Item{boxed("a", "Chains on"), boxed("b", "Lamps work")}})
	stop := chapterOf("stop", "Coupler")
	stop.Level, stop.Role = 2, doc.RoleStop
	deck, pump := chapterOf("deck", "Deck"), chapterOf("pump", "Pump",
		&doc.Trouble{Attributes: doc.Attributes{ID: "sign-stuck"}, Symptom: []doc.Inline{text("The deck will not come down.")}, Causes: [][]doc.Inline{{text("Battery flat")}}},
		&doc.Trouble{Attributes: doc.Attributes{ID: "sign-whines"}, Symptom: []doc.Inline{text("The motor whines.")}, Causes: [][]doc.Inline{{text("Air")}}})
	deck.Blocks = []doc.Block{&doc.Trouble{Attributes: doc.Attributes{ID: "sign-split"}, Symptom: []doc.Inline{text("A board is split.")}, Causes: [][]doc.Inline{{text("Age")}}}}
	deck.Level, pump.Level = 2, 2
	g.Sections = []*doc.Section{
		chapterOf("numbers-chapter", "Figures", &doc.Table{Role: doc.TableNumbers, Rows: []*doc.Row{
			cellsOf(text("Cold pressure"), &doc.Value{Printed: "80\u00a0psi (552\u00a0kPa)"}), cellsOf(text("Torque"), &doc.Value{Printed: "200\u00a0lb-ft (271\u00a0N·m)"})}}),
		chapterOf("round", "Walk-around", stop), trip,
		chapterOf("schedule", "Schedule", &doc.Table{Role: doc.TableSchedule, Rows: []*doc.Row{
			cellsOf(text("1"), &doc.Value{Name: "visit.01.date", Printed: "2027-01-07"}, &doc.Box{ID: "c"}),
			cellsOf(text("2"), &doc.Value{Name: "visit.02.date", Printed: "2027-02-07"}, &doc.Box{ID: "d"})}}),
		chapterOf("wrong", "Trouble", deck, pump),
		chapterOf("write", "Whom to call", paragraph(text("Call 555-0190 or 208-555-0190 & write to heavy@example.com."))),
	}
	card := *g
	card.Sections = []*doc.Section{trip}
	g.Card, g.Leaf = &card, &card
	g.Picture = &doc.Drawing{Width: 288, Height: 60}
	g.Visits = []doc.Visit{{Date: "2027-01-07", Day: "7 January", Jobs: []string{"x", "y"}}, {Date: "2027-02-07", Day: "7 February", Jobs: []string{"x"}}}
	g.Contacts = []doc.Contact{{Who: "Your dealer", Name: "Heavy <&> Sons", Phone: "555-0190", Mail: "heavy@example.com"}, {Who: "The maker", Name: "Works", Phone: "+1 (208) 555-0142"}}
	g.Serial, g.Revision = "BW-27-0163", "A"
	for _, key := range doc.ReaderWords {
		g.Words[key] = key + "{n}{date}{serial}"
	}
	g.Words[doc.BothUnits], g.Words["screen.number"] = "{first} ({second})", "{figure} {name}"
	g.Words["screen.points.one"] = "one point {n}"
	if err := g.Plurals.Add("one", "n = 1"); err != nil {
		panic(err)
	}
	return g
}

// What an owner asks first stands on the first screen, and each plate leads to
// a place that is there.
func TestFirstScreen(t *testing.T) {
	page := written(t, ownersGuide())
	for _, want := range []string{
		`data-unit="BW-27-0163/A"`,
		`<a href="#numbers" class="tile">`, `<span class="big">80` + "\u00a0" + `psi</span>`, `200` + "\u00a0" + `lb-ft Torque`, `<table id="numbers"`,
		`<a href="#visit-1" class="tile next">`, `<time datetime="2027-01-07">7 January</time>`, `screen.jobs2`, `screen.then{n}7 February`, `<tr id="visit-1" data-date="2027-01-07"`,
		`<a href="#trip" class="tile">`, `screen.checks2`, `<section id="trip" class="chapter l1" aria-labelledby="h-trip" data-daily>`,
		`<a href="#round" class="tile">`, `one point 1`,
		`<a href="#signs" class="tile dark">`, `screen.by-sign`, `screen.signs3`, `<nav id="signs"`,
		`<a href="#call" class="tile dark">`, `href="tel:5550190"`, `href="tel:+12085550142"`, `href="mailto:heavy@example.com?subject=BW-27-0163"`, `Heavy &lt;&amp;&gt; Sons`,
		`href="guide.pdf"`, `href="card.pdf"`, `href="handover.pdf"`, `href="service.ics"`, `<p id="ticks" data-clear="screen.clear{n}{date}{serial}">`, `data-day="date{n}{date}{serial}"`, `<svg class="unit" viewBox="0 0 288 60" aria-hidden="true"`,
	} {
		if !strings.Contains(page, want) {
			t.Errorf("the page has no %s", want)
		}
	}
	for _, m := range strings.Split(page, ` href="#`)[1:] {
		id, _, _ := strings.Cut(m, `"`)
		if !strings.Contains(page, ` id="`+id+`"`) {
			t.Errorf("a link to #%s leads nowhere", id)
		}
	}
}

// Beside the text on a wide screen stand what is next, the first numbers and whom to call.
func TestAtHand(t *testing.T) {
	page := written(t, ownersGuide())
	_, hand, _ := strings.Cut(page, `<aside class="hand aid"`)
	for _, want := range []string{
		`<a href="#visit-1" class="next"><b><time datetime="2027-01-07">7 January</time></b>`, `<dt>Cold pressure</dt><dd><b>80` + "\u00a0" + `psi</b></dd>`, `<dt>Torque</dt>`,
		`<a href="tel:5550190">Your dealer<br><b>555-0190</b></a>`, `<a href="tel:+12085550142">`,
	} {
		if !strings.Contains(hand, want) {
			t.Errorf("at hand is no %s", want)
		}
	}
}

// A number in running text dials, and only the one that is meant.
func TestContactsInTextAreLinks(t *testing.T) {
	page := written(t, ownersGuide())
	want := `<p>Call <a class="n" href="tel:5550190">555-0190</a> or <span class="n">208-555-0190</span> &amp; write to <a href="mailto:heavy@example.com">heavy@example.com</a>.</p>`
	if !strings.Contains(page, want) {
		t.Errorf("the page has no %s", want)
	}
}

// Who sees a deck that hangs looks under the deck, though the cause is the pump.
func TestSymptomsStandWhereTheyAreSought(t *testing.T) {
	_, list, _ := strings.Cut(written(t, ownersGuide()), `<section id="deck"`)
	deck, _, _ := strings.Cut(list, `</section>`)
	if !strings.Contains(deck, "A board is split") || !strings.Contains(deck, `<a href="#sign-stuck">The deck will not come down</a>`) || strings.Contains(deck, "whines") {
		t.Errorf("under Deck stands %s", deck)
	}
}

// Jobs, trouble and tables to look things up in stand open in the file: only the
// script puts them away.
func TestFoldsStandOpen(t *testing.T) {
	page := written(t, ownersGuide())
	folds := strings.Count(page, `<details class="fold" open><summary`)
	if inside := strings.Count(page, `<div class="folded"`); folds == 0 || inside != folds {
		t.Errorf("%d folds, %d put away", folds, inside)
	}
}

// The index has every heading and every figure told in a table, in order.
func TestIndex(t *testing.T) {
	_, list, _ := strings.Cut(written(t, ownersGuide()), `id="a-z"`)
	at := 0
	for _, want := range []string{">B<", "Before each trip</a>", ">C<", "Cold pressure</a> <b>80\u00a0psi</b>", "Coupler</a>", ">D<", "Torque</a>", "Trouble</a>", "Walk-around</a>", "Whom to call</a>"} {
		i := strings.Index(list[at:], want)
		if i < 0 {
			t.Fatalf("no %s after %q", want, list[:at])
		}
		at += i
	}
}

// A document for the engineer has no first screen and runs nothing.
func TestNoAidsWithoutContacts(t *testing.T) {
	g := ownersGuide()
	g.Contacts = nil
	if page := written(t, g); strings.Contains(page, "<script") || strings.Contains(page, `class="aid`) || strings.Contains(page, "tile") {
		t.Error("the page has aids")
	}
}
