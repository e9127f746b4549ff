// Package doctest builds documents for the tests of their readers. The guide it makes is invented and says so.
package doctest

import (
	"fmt"
	"strings"

	"ownerguide/render/doc"
)

// Guide is a guide of chapters.
func Guide(sections ...*doc.Section) *doc.Guide {
	return &doc.Guide{
		Lang: "en", Title: "Tilt 20 owner guide", Maker: "Bramblewick Trailer Works", Model: "Tilt 20",
		Serial: "BW-27-0142", VIN: "1B9TD202XVM000142", Revision: "A", Issued: "2026-11-20", IssuedOn: "2026-11-20",
		Notice: "Invented for demonstration.",
		Words: map[string]string{
			"page": "page {n}", "page-of": "page {n} of {total}", "contents": "Contents", "skip-to-text": "Skip to text",
			"back-to-contents": "Contents", "serial": "Serial", "revision": "Revision", "see-page": "(page {n})", doc.BothUnits: "{first} ({second})", "screen.number": "{figure} {name}",
			"figure": "Figure", "to-fill-in": "to fill in", "list.comma": "{a}, {b}", "list.colon": "{a}: {b}", "link-page": "{link}, page {n}",
			"cover-revision": "Revision {revision}, {date}", "unit-revision": "{model} · {serial} · Revision {revision}", "file-title": "{title}, {serial}",
		},
		Sections: sections,
	}
}

// Section makes a section whose id is its title in small letters with hyphens.
func Section(level int, role doc.Role, number, title string, blocks ...doc.Block) *doc.Section {
	return &doc.Section{Attributes: doc.Attributes{ID: Slug(title)}, Level: level, Role: role, Number: number, Short: title,
		Heading: &doc.Heading{Inlines: []doc.Inline{Words(title)}}, Blocks: blocks}
}

func Slug(title string) string { return strings.ReplaceAll(strings.ToLower(title), " ", "-") }

// Words is plain text.
func Words(s string) doc.Inline { return &doc.Text{Content: s} }

// Value is a figure.
func Value(s string) doc.Inline { return &doc.Value{Name: "a.b", Printed: s} }

// Mark is that of a point.
func Mark(n int) doc.Inline { return &doc.PointMark{Number: n} }

// Strong is text in bold.
func Strong(s string) doc.Inline { return &doc.Emphasis{Strong: true, Inlines: []doc.Inline{Words(s)}} }

// Leaning is text in italics.
func Leaning(s string) doc.Inline { return &doc.Emphasis{Inlines: []doc.Inline{Words(s)}} }

// LinkTo is a link with its words.
func LinkTo(to, s string) doc.Inline {
	return &doc.Link{To: to, Inlines: []doc.Inline{Words(s)}}
}

// P is a paragraph of strings and inline nodes.
func P(parts ...any) *doc.Paragraph { return &doc.Paragraph{Inlines: Inlines(parts)} }

// Inlines turns strings into text; inline nodes stay.
func Inlines(parts []any) (out []doc.Inline) {
	for _, part := range parts {
		switch part := part.(type) {
		case string:
			out = append(out, Words(part))
		case doc.Inline:
			out = append(out, part)
		default:
			panic(fmt.Sprintf("a %T in running text", part))
		}
	}
	return out
}

// Bullets is a list; an item is a string or blocks.
func Bullets(items ...any) *doc.List { return List(false, false, items) }

// Steps is a numbered list, likewise.
func Steps(items ...any) *doc.List { return List(true, false, items) }

// Ticks is a list of boxes to tick, likewise.
func Ticks(items ...any) *doc.List { return List(false, true, items) }

// List is a list; with box, items of text have a box to tick.
func List(ordered, box bool, items []any) *doc.List {
	l := &doc.List{Ordered: ordered, Tight: true}
	if ordered {
		l.Start = 1
	}
	for _, it := range items {
		item := &doc.Item{}
		switch it := it.(type) {
		case string:
			line := P(it)
			if box {
				line = P(&doc.Box{ID: "box"}, it)
			}
			item.Blocks = []doc.Block{line}
		case []doc.Block:
			item.Blocks = it
		}
		l.Items = append(l.Items, item)
	}
	return l
}

// Blocks is the blocks of a list item.
func Blocks(ns ...doc.Block) []doc.Block { return ns }

// Caution is a safety panel.
func Caution(w doc.Word, name, hazard, consequence string, avoid ...string) *doc.Caution {
	c := &doc.Caution{Name: name, Word: w, Signal: strings.ToUpper(string(w)), Hazard: []doc.Inline{Words(hazard)}, Consequence: []doc.Inline{Words(consequence)}}
	for _, line := range avoid {
		c.Avoid = append(c.Avoid, []doc.Inline{Words(line)})
	}
	return c
}

// Reminder is a line that reminds of a panel in full, by its id.
func Reminder(w doc.Word, name, hazard, full string, avoid ...string) *doc.Caution {
	c := Caution(w, name, hazard, "", avoid...)
	c.Brief, c.Full, c.Consequence = true, full, nil
	return c
}

// Table makes a table of strings and inline nodes; the first row is the head, nil for none.
func Table(role doc.TableRole, head []any, rows ...[]any) *doc.Table {
	t := &doc.Table{Role: role}
	if head != nil {
		t.Head = rowOf(head)
	}
	for _, r := range rows {
		t.Rows = append(t.Rows, rowOf(r))
	}
	return t
}

func rowOf(cells []any) *doc.Row {
	r := &doc.Row{}
	for _, c := range cells {
		r.Cells = append(r.Cells, &doc.Cell{Inlines: Inlines([]any{c})})
	}
	return r
}

// Cells is a row of a table.
func Cells(cs ...any) []any { return cs }

// SideView is a simple trailer on two axles.
func SideView() *doc.Drawing {
	line := doc.Style{Line: doc.Full, Width: 1.2}
	pale := doc.Style{Line: doc.Full, Width: 1.2, Fill: doc.Pale}
	box := func(x, y, w, h float64, st doc.Style) *doc.Path {
		return &doc.Path{Style: st, From: doc.Point{X: x, Y: y}, Closed: true, Segments: []doc.Segment{
			{To: doc.Point{X: x + w, Y: y}}, {To: doc.Point{X: x + w, Y: y + h}}, {To: doc.Point{X: x, Y: y + h}}}}
	}
	return &doc.Drawing{Width: 480, Height: 170, Shapes: []doc.Shape{
		box(0, 140, 480, 6, doc.Style{Fill: doc.Faint}),
		box(110, 88, 350, 14, pale),
		&doc.Path{Style: line, From: doc.Point{X: 110, Y: 95}, Segments: []doc.Segment{{To: doc.Point{X: 40, Y: 112}}, {To: doc.Point{X: 20, Y: 112}}}},
		&doc.Path{Style: line, From: doc.Point{X: 250, Y: 104}, Segments: []doc.Segment{{To: doc.Point{X: 340, Y: 104}, C1: doc.Point{X: 270, Y: 86}, C2: doc.Point{X: 320, Y: 86}, Curve: true}}},
		&doc.Circle{Style: pale, Center: doc.Point{X: 275, Y: 122}, Radius: 18},
		&doc.Circle{Style: pale, Center: doc.Point{X: 318, Y: 122}, Radius: 18},
		&doc.Circle{Style: doc.Style{Fill: doc.Full}, Center: doc.Point{X: 24, Y: 96}, Radius: 8},
		&doc.Label{At: doc.Point{X: 24, Y: 99.5}, Text: "1", Size: 10, Bold: true, Anchor: doc.Center, Ink: doc.Paper},
		&doc.Path{Style: doc.Style{Line: doc.Middle, Width: 0.6, Dash: []float64{3, 2}}, From: doc.Point{X: 110, Y: 60}, Segments: []doc.Segment{{To: doc.Point{X: 460, Y: 60}}}},
		&doc.Label{At: doc.Point{X: 285, Y: 54}, Text: "deck 20 ft", Size: 9, Anchor: doc.Center, Ink: doc.Full},
		&doc.Label{At: doc.Point{X: 474, Y: 110}, Text: "rear", Size: 8, Turn: 90, Ink: doc.Full},
	}}
}

// Filler is a text of some lines.
const Filler = "Read this part beside the trailer. Do each step in the order given, and do not go on when a step fails. " +
	"Have a second person watch the lamps while you press the pedal, and speak to each other the whole time."

// Whole has every type of node, as a real guide would use them.
func Whole() *doc.Guide {
	panels := 0
	rolls := func() doc.Block {
		c := Caution(doc.Warning, "unit-rolls", "An unchocked trailer can roll.", "It can crush anyone in its path.",
			"Chock the wheels on both sides before you uncouple.", "Never stand behind a trailer on a slope.")
		if panels++; panels == 1 {
			c.ID = "caution-unit-rolls"
		}
		return c
	}
	hot := func() doc.Block {
		return Caution(doc.Danger, "lines", "Power lines kill without touch.", "A raised deck near a line will kill.",
			"Stay clear of every line when the deck is up. Keep at least the distance your local code gives, and more in wet weather.", "Never guess the height of a line.")
	}
	pinch := func() doc.Block {
		return Caution(doc.Care, "pinch", "The jack handle can pinch.", "It can bruise or cut your fingers.", "Keep your fingers on the grip.")
	}
	rust := func() doc.Block {
		return Caution(doc.Notice, "rust", "Salt eats plugs.", "A corroded plug fails without a sign.", "Rinse the plug after each winter trip.")
	}
	picture := func(wide bool, caption string) doc.Block {
		return &doc.Figure{Name: "side", Caption: caption, Alt: "The trailer from the left side.", Drawing: SideView(), Wide: wide}
	}
	entries := []doc.Entry{
		{Level: 1, Title: "Before you collect it", ID: "before-you-collect-it"},
		{Level: 1, Number: "1", Title: "Safety first", ID: "safety-first"},
		{Level: 2, Listed: true, Title: "Signal words", ID: "signal-words"},
		{Level: 1, Number: "2", Title: "Walk around", ID: "walk-around"},
		{Level: 2, Listed: true, Title: "Coupler", ID: "coupler"},
		{Level: 2, Listed: true, Title: "Breakaway switch", ID: "breakaway-switch"},
		{Level: 1, Number: "3", Title: "Maintenance", ID: "maintenance"},
		{Level: 2, Listed: true, Title: "Dated schedule", ID: "dated-schedule"},
		{Level: 3, Title: "Torque the lug nuts", ID: "torque-the-lug-nuts"},
		{Level: 1, Number: "6", Title: "Trouble", ID: "trouble"},
		{Level: 1, Number: "4", Title: "Service log", ID: "service-log"},
		{Level: 1, Number: "5", Title: "Statements", ID: "statements"},
	}
	var rows [][]any
	for _, task := range []string{"Check tire pressure", "Torque lug nuts", "Test the breakaway system", "Grease the coupler", "Inspect brake lining",
		"Repack wheel bearings", "Check hydraulic fluid", "Test the battery", "Look at the deck boards", "Inspect chains and hooks"} {
		for _, when := range []string{"2026-12-14", "2027-02-02", "2027-05-02", "2027-11-02"} {
			rows = append(rows, Cells(when, task, Value("900\u00a0mi"), "Do it sooner after rough roads or a long wet spell."))
		}
	}
	var log [][]any
	for range 24 {
		log = append(log, Cells("", "", "", "", "", ""))
	}
	return Guide(
		Section(1, doc.RoleCover, "", "Owner guide", &doc.Logo{Alt: "Bramblewick Trailer Works", Drawing: &doc.Drawing{Width: 240, Height: 80, Shapes: []doc.Shape{
			&doc.Path{Style: doc.Style{Fill: doc.RGB(30, 60, 40)}, Closed: true, EvenOdd: true, From: doc.Point{X: 10, Y: 70}, Segments: []doc.Segment{
				{To: doc.Point{X: 230, Y: 70}}, {To: doc.Point{X: 120, Y: 10}}, {Move: true, To: doc.Point{X: 100, Y: 60}}, {To: doc.Point{X: 140, Y: 60}}, {To: doc.Point{X: 120, Y: 30}}}}}}},
			P("This guide is for one trailer only: yours. It has the parts, ratings and options of serial number BW-27-0142."),
			picture(true, "Your Tilt 20, from the left side"),
			Table(doc.TableValues, nil, Cells("Vehicle identification number (VIN)", Value("1B9TD202XVM000142"))),
			P("The numbers you reach for:"),
			Table(doc.TableNumbers, nil,
				Cells("Cold pressure, every tire", Value("80\u00a0psi (552\u00a0kPa)")), Cells("Lug nut torque", Value("120\u00a0lb-ft (163\u00a0N·m)")),
				Cells("Ball size", Value("2\u00a05/16\u00a0in")), Cells("Most cargo you may carry", Value("10,410\u00a0lb (4,722\u00a0kg)")),
				Cells("Coupler weight at full load", Value("1,540\u00a0lb to 2,310\u00a0lb")), Cells("Never faster than", Value("65\u00a0mph (105\u00a0km/h)")),
				Cells("Plug", Value("7-way blade")), Cells("Hydraulic fluid", Value("Automatic transmission fluid, dexron-type"))),
			P("Read ", LinkTo("#safety-first", "Safety first"), " before you touch the coupler.")),
		Section(1, doc.RoleContents, "", "Contents", &doc.Contents{Entries: entries}),
		Section(1, doc.RoleChapter, "", "Before you collect it", P(Filler), Ticks("Bring a torque wrench.", "Bring a tire gauge that reads to "+"100 psi.", Filler)),
		Section(1, doc.RoleChapter, "1", "Safety first", P(Filler), P(Filler),
			Section(2, doc.RolePlain, "", "Signal words", P("Four words tell how bad it can get:"), hot(), rolls(), pinch(), rust(), P(Filler))),
		Section(1, doc.RoleChapter, "2", "Walk around", P("Walk from the coupler to the rear and back on the other side. ", Leaning("Stop at each number."), " ", Strong("Do not skip one.")), picture(false, "Where the stops are"),
			Section(2, doc.RoleStop, "", "Coupler", P("Stop ", Mark(1), " is the coupler; stop ", Mark(12), " is beside it. ", Filler), Steps("Open the latch.", "Lower the coupler until it sits on the ball and the jack is free of load. Look from the side: no gap may show.", Blocks(rolls(), P("Close the latch and put the pin through.")), "Pull up with the jack."), P(Filler)),
			Section(2, doc.RoleStop, "", "Breakaway switch", P("Pull the pin. The brakes hold for ", Value("15\u00a0min"), " at least. Call ", LinkTo("tel:+15550100", "555-0100"), " when they do not. See ", LinkTo("#torque-the-lug-nuts", "Torque the lug nuts"), "."),
				Bullets("The cable is not frayed.", Blocks(P("The cable goes to the tow vehicle:"), Bullets("not to the ball mount,", "not to a chain,", Blocks(P("and never"), Bullets("to itself.")))), "The pin slides freely."))),
		Section(1, doc.RoleChapter, "3", "Maintenance", P(Filler),
			Section(2, doc.RolePlain, "", "Dated schedule", P("Do these on or before the day:"), Table(doc.TableSchedule, Cells("Due", "Job", "Or at", "Mind"), rows...)),
			Section(2, doc.RolePlain, "", "Wheels", P(Filler),
				Section(3, doc.RoleTask, "", "Torque the lug nuts", &doc.JobLine{Who: Inlines([]any{"A trained person only"}), When: Inlines([]any{"every ", Value("900\u00a0mi")}), Tools: Inlines([]any{"Torque wrench, socket"})}, Steps("Stand the trailer on level ground.", "Tighten each nut in a star pattern to the last stage, and then once more around.", "Write the day into the log."),
					Table(doc.TableValues, nil, Cells("First stage", Value("25\u00a0lb-ft")), Cells("Second stage", Value("60\u00a0lb-ft")), Cells("Last stage", Value("120\u00a0lb-ft")))),
				Section(3, doc.RoleTask, "", "Repack the bearings", &doc.JobLine{When: Inlines([]any{"once a year"})}, P(Filler), rust(), P(Filler), Steps("Open the hub.", "Grease it."),
					&doc.Limit{Inlines: []doc.Inline{Strong("Do not tow"), Words(" on a bearing that is blue.")}}))),
		Section(1, doc.RoleChapter, "6", "Trouble", Section(2, doc.RolePlain, "", "Brakes that drag",
			Reminder(doc.Warning, "unit-rolls", "An unchocked trailer can roll.", "caution-unit-rolls", "Never stand behind a trailer on a slope."),
			&doc.Trouble{Symptom: Inlines([]any{"The brakes drag."}), Causes: [][]doc.Inline{{Words("Adjusted too tight")}, {Words("Rust")}},
				Remedies: [][]doc.Inline{{Words("Let them cool.")}, {Words("Turn the adjuster back.")}}, Limits: []*doc.Limit{{Inlines: Inlines([]any{"Stop when you smell smoke."})}}},
			&doc.Trouble{Symptom: Inlines([]any{"The brakes grab."}), Causes: [][]doc.Inline{{Words("Grease")}}, Remedies: [][]doc.Inline{{Words("Have the lining changed.")}}})),
		Section(1, doc.RoleForm, "4", "Service log", Table(doc.TableLog, Cells("Date", "Miles", "Job", "Done by", "Parts", "Remarks"), log...),
			&doc.Form{Label: "Signature of the buyer", Rules: 1}, &doc.Form{Label: "Date", Rules: 1}, &doc.Form{Label: "Remarks", Rules: 4}),
		Section(1, doc.RoleStatement, "5", "Statements", P(Filler), P("Signs: ≤ ≥ ° × ½ ¼ – — ’ “ ” ñ á ¿ ¡ · → ± µ"), P("Bramblewick Trailer Works", &doc.Break{}, "1 Example Road", &doc.Break{}, LinkTo("https://example.com", "example.com")),
			P("The box ", &doc.Box{ID: "x"}, " inside text."), Table(doc.TablePlain, Cells("Value", "From"), Cells("Cold pressure", "the sidewall"), Cells("Torque", "the wheel maker"))),
	)
}
