package pdf

import (
	"fmt"
	"strings"

	"ownerguide/render/doc"
)

// The guide of these tests is invented and says so. Builders keep the tests readable: sec(...) holds blocks, p(...) holds words.

func testGuide(sections ...*doc.Section) *doc.Guide {
	return &doc.Guide{
		Lang: "en", Title: "Tilt 20 owner guide", Maker: "Bramblewick Trailer Works", Model: "Tilt 20",
		Serial: "BW-27-0142", VIN: "1B9TD202XVM000142", Revision: "A", Issued: "2026-11-20",
		Notice: "Invented for demonstration.",
		Words: map[string]string{
			"page": "page {n}", "page-of": "page {n} of {total}", "contents": "Contents", "skip-to-text": "Skip to text",
			"back-to-contents": "Contents", "serial": "Serial", "revision": "Revision", "see-page": "page {n}",
			"figure": "Figure", "to-fill-in": "to fill in",
		},
		Sections: sections,
	}
}

// sec makes a section whose id is its title in small letters with hyphens.
func sec(level int, role doc.Role, number, title string, blocks ...doc.Block) *doc.Section {
	return &doc.Section{Attributes: doc.Attributes{ID: slug(title)}, Level: level, Role: role, Number: number, Short: title,
		Heading: &doc.Heading{Inlines: []doc.Inline{words(title)}}, Blocks: blocks}
}

func slug(title string) string { return strings.ReplaceAll(strings.ToLower(title), " ", "-") }

func words(s string) doc.Inline   { return &doc.Text{Content: s} }
func value(s string) doc.Inline   { return &doc.Value{Name: "a.b", Printed: s} }
func mark(n int) doc.Inline       { return &doc.PointMark{Number: n} }
func strong(s string) doc.Inline  { return &doc.Emphasis{Strong: true, Inlines: []doc.Inline{words(s)}} }
func leaning(s string) doc.Inline { return &doc.Emphasis{Inlines: []doc.Inline{words(s)}} }
func linkTo(to, s string) doc.Inline {
	return &doc.Link{To: to, Inlines: []doc.Inline{words(s)}}
}

// p is a paragraph of strings and inline nodes.
func p(parts ...any) *doc.Paragraph { return &doc.Paragraph{Inlines: inlines(parts)} }

func inlines(parts []any) (out []doc.Inline) {
	for _, part := range parts {
		switch part := part.(type) {
		case string:
			out = append(out, words(part))
		case doc.Inline:
			out = append(out, part)
		default:
			panic(fmt.Sprintf("a %T in running text", part))
		}
	}
	return out
}

// bullets, steps and ticks are lists; an item is a string or blocks.
func bullets(items ...any) *doc.List { return list(false, false, items) }
func steps(items ...any) *doc.List   { return list(true, false, items) }
func ticks(items ...any) *doc.List   { return list(false, true, items) }

func list(ordered, box bool, items []any) *doc.List {
	l := &doc.List{Ordered: ordered, Tight: true}
	if ordered {
		l.Start = 1
	}
	for _, it := range items {
		item := &doc.Item{}
		switch it := it.(type) {
		case string:
			line := p(it)
			if box {
				line = p(&doc.Box{ID: "box"}, it)
			}
			item.Blocks = []doc.Block{line}
		case []doc.Block:
			item.Blocks = it
		}
		l.Items = append(l.Items, item)
	}
	return l
}

func blocks(ns ...doc.Block) []doc.Block { return ns }

func caution(w doc.Word, name, hazard, consequence string, avoid ...string) *doc.Caution {
	c := &doc.Caution{Name: name, Word: w, Signal: strings.ToUpper(string(w)), Hazard: []doc.Inline{words(hazard)}, Consequence: []doc.Inline{words(consequence)}}
	for _, line := range avoid {
		c.Avoid = append(c.Avoid, []doc.Inline{words(line)})
	}
	return c
}

// table makes a table of strings and inline nodes; the first row is the head, nil for none.
func table(role doc.TableRole, head []any, rows ...[]any) *doc.Table {
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
		r.Cells = append(r.Cells, &doc.Cell{Inlines: inlines([]any{c})})
	}
	return r
}

func cells(cs ...any) []any { return cs }

// sideView is a simple trailer on two axles.
func sideView() *doc.Drawing {
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

const filler = "Read this part beside the trailer. Do each step in the order given, and do not go on when a step fails. " +
	"Have a second person watch the lamps while you press the pedal, and speak to each other the whole time."

// wholeGuide has every type of node, as a real guide would use them.
func wholeGuide() *doc.Guide {
	rolls := func() doc.Block {
		return caution(doc.Warning, "unit-rolls", "An unchocked trailer can roll.", "It can crush anyone in its path.",
			"Chock the wheels on both sides before you uncouple.", "Never stand behind a trailer on a slope.")
	}
	hot := func() doc.Block {
		return caution(doc.Danger, "lines", "Power lines kill without touch.", "A raised deck near a line will kill.",
			"Stay clear of every line when the deck is up. Keep at least the distance your local code gives, and more in wet weather.", "Never guess the height of a line.")
	}
	pinch := func() doc.Block {
		return caution(doc.Care, "pinch", "The jack handle can pinch.", "It can bruise or cut your fingers.", "Keep your fingers on the grip.")
	}
	rust := func() doc.Block {
		return caution(doc.Notice, "rust", "Salt eats plugs.", "A corroded plug fails without a sign.", "Rinse the plug after each winter trip.")
	}
	picture := func(wide bool, caption string) doc.Block {
		return &doc.Figure{Name: "side", Caption: caption, Alt: "The trailer from the left side.", Drawing: sideView(), Wide: wide}
	}
	entries := []doc.Entry{
		{Level: 1, Title: "Before you collect it", ID: "before-you-collect-it"},
		{Level: 1, Number: "1", Title: "Safety first", ID: "safety-first"},
		{Level: 2, Title: "Signal words", ID: "signal-words"},
		{Level: 1, Number: "2", Title: "Walk around", ID: "walk-around"},
		{Level: 2, Title: "Coupler", ID: "coupler"},
		{Level: 2, Title: "Breakaway switch", ID: "breakaway-switch"},
		{Level: 1, Number: "3", Title: "Maintenance", ID: "maintenance"},
		{Level: 2, Title: "Dated schedule", ID: "dated-schedule"},
		{Level: 3, Title: "Torque the lug nuts", ID: "torque-the-lug-nuts"},
		{Level: 1, Number: "4", Title: "Service log", ID: "service-log"},
		{Level: 1, Number: "5", Title: "Statements", ID: "statements"},
	}
	var rows [][]any
	for _, task := range []string{"Check tire pressure", "Torque lug nuts", "Test the breakaway system", "Grease the coupler", "Inspect brake lining",
		"Repack wheel bearings", "Check hydraulic fluid", "Test the battery", "Look at the deck boards", "Inspect chains and hooks"} {
		for _, when := range []string{"2026-12-14", "2027-02-02", "2027-05-02", "2027-11-02"} {
			rows = append(rows, cells(when, task, value("900\u00a0mi"), "Do it sooner after rough roads or a long wet spell."))
		}
	}
	var log [][]any
	for range 24 {
		log = append(log, cells("", "", "", "", "", ""))
	}
	return testGuide(
		sec(1, doc.RoleCover, "", "Owner guide", &doc.Logo{Alt: "Bramblewick Trailer Works", Drawing: &doc.Drawing{Width: 240, Height: 80, Shapes: []doc.Shape{
			&doc.Path{Style: doc.Style{Fill: doc.RGB(30, 60, 40)}, Closed: true, EvenOdd: true, From: doc.Point{X: 10, Y: 70}, Segments: []doc.Segment{
				{To: doc.Point{X: 230, Y: 70}}, {To: doc.Point{X: 120, Y: 10}}, {Move: true, To: doc.Point{X: 100, Y: 60}}, {To: doc.Point{X: 140, Y: 60}}, {To: doc.Point{X: 120, Y: 30}}}}}}},
			p("This guide is for one trailer only: yours. It has the parts, ratings and options of serial number BW-27-0142."),
			picture(true, "Your Tilt 20, from the left side"),
			table(doc.TableValues, nil, cells("Vehicle identification number (VIN)", value("1B9TD202XVM000142"))),
			p("The numbers you reach for:"),
			table(doc.TableNumbers, nil,
				cells("Cold pressure, every tire", value("80\u00a0psi (552\u00a0kPa)")), cells("Lug nut torque", value("120\u00a0lb-ft (163\u00a0N·m)")),
				cells("Ball size", value("2\u00a05/16\u00a0in")), cells("Most cargo you may carry", value("10,410\u00a0lb (4,722\u00a0kg)")),
				cells("Coupler weight at full load", value("1,540\u00a0lb to 2,310\u00a0lb")), cells("Never faster than", value("65\u00a0mph (105\u00a0km/h)")),
				cells("Plug", value("7-way blade")), cells("Hydraulic fluid", value("Automatic transmission fluid, dexron-type"))),
			p("Read ", linkTo("#safety-first", "Safety first"), " before you touch the coupler.")),
		sec(1, doc.RoleContents, "", "Contents", &doc.Contents{Entries: entries}),
		sec(1, doc.RoleChapter, "", "Before you collect it", p(filler), ticks("Bring a torque wrench.", "Bring a tire gauge that reads to "+"100 psi.", filler)),
		sec(1, doc.RoleChapter, "1", "Safety first", p(filler), p(filler),
			sec(2, doc.RolePlain, "", "Signal words", p("Four words tell how bad it can get:"), hot(), rolls(), pinch(), rust(), p(filler))),
		sec(1, doc.RoleChapter, "2", "Walk around", p("Walk from the coupler to the rear and back on the other side. ", leaning("Stop at each number."), " ", strong("Do not skip one.")), picture(false, "Where the stops are"),
			sec(2, doc.RoleStop, "", "Coupler", p("Stop ", mark(1), " is the coupler; stop ", mark(12), " is beside it. ", filler), steps("Open the latch.", "Lower the coupler until it sits on the ball and the jack is free of load. Look from the side: no gap may show.", blocks(rolls(), p("Close the latch and put the pin through.")), "Pull up with the jack."), p(filler)),
			sec(2, doc.RoleStop, "", "Breakaway switch", p("Pull the pin. The brakes hold for ", value("15\u00a0min"), " at least. Call ", linkTo("tel:+15550100", "555-0100"), " when they do not. See ", linkTo("#torque-the-lug-nuts", "Torque the lug nuts"), "."),
				bullets("The cable is not frayed.", blocks(p("The cable goes to the tow vehicle:"), bullets("not to the ball mount,", "not to a chain,", blocks(p("and never"), bullets("to itself.")))), "The pin slides freely."))),
		sec(1, doc.RoleChapter, "3", "Maintenance", p(filler),
			sec(2, doc.RolePlain, "", "Dated schedule", p("Do these on or before the day:"), table(doc.TableSchedule, cells("Due", "Job", "Or at", "Mind"), rows...)),
			sec(2, doc.RolePlain, "", "Wheels", p(filler),
				sec(3, doc.RoleTask, "", "Torque the lug nuts", p("Tools: torque wrench, socket."), steps("Stand the trailer on level ground.", "Tighten each nut in a star pattern to the last stage, and then once more around.", "Write the day into the log."),
					table(doc.TableValues, nil, cells("First stage", value("25\u00a0lb-ft")), cells("Second stage", value("60\u00a0lb-ft")), cells("Last stage", value("120\u00a0lb-ft")))),
				sec(3, doc.RoleTask, "", "Repack the bearings", p(filler), rust(), p(filler)))),
		sec(1, doc.RoleForm, "4", "Service log", table(doc.TableLog, cells("Date", "Miles", "Job", "Done by", "Parts", "Remarks"), log...),
			&doc.Form{Label: "Signature of the buyer", Rules: 1}, &doc.Form{Label: "Date", Rules: 1}, &doc.Form{Label: "Remarks", Rules: 4}),
		sec(1, doc.RoleStatement, "5", "Statements", p(filler), p("Signs: ≤ ≥ ° × ½ ¼ – — ’ “ ” ñ á ¿ ¡ · → ± µ"), p("Bramblewick Trailer Works", &doc.Break{}, "1 Example Road", &doc.Break{}, linkTo("https://example.com", "example.com")),
			p("The box ", &doc.Box{ID: "x"}, " inside text."), table(doc.TablePlain, cells("Value", "From"), cells("Cold pressure", "the sidewall"), cells("Torque", "the wheel maker"))),
	)
}
