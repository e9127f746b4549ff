package html

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"ownerguide/render/doc"
	"ownerguide/spec/source"
)

// aids are what a screen has in addition to the text of the guide: a first screen, a bar,
// lists to find things. They are generated from the document. A document without contacts,
// such as one for the engineer, has none.
type aids struct {
	numbers *doc.Table                 // the key numbers
	trip    *doc.Section               // the check list before each trip
	walk    *doc.Section               // the chapter of the walk-around
	trouble *doc.Section               // the chapter of troubleshooting
	visits  map[*doc.Row]int           // rows of the dated schedule, with the number of the visit
	undated *doc.Table                 // the jobs that are due first, by use; its caption says when
	due     *doc.Section               // where that stands
	checks  int                        // boxes of the check list
	points  int                        // of the walk-around
	places  []*doc.Section             // of the trouble chapter that hold symptoms, in order
	signs   map[*doc.Section][]symptom // by such a section, in order
	rows    map[*doc.Row]string        // ids of rows that lists lead to
	folds   map[*doc.Section]bool      // sections of which one is looked for by its title: jobs, and what a chapter of tables holds
	endings []string                   // inflectional, of the language
	calls   calls
}

// symptom is a row of a table of trouble.
type symptom struct {
	id, words string
	terms     []string
}

var visitDate = source.Pattern(`^visit\.\d+\.date$`)

// gather collects the targets of the aids; nil for a document that has none.
func gather(g *doc.Guide) *aids {
	if len(g.Contacts) == 0 {
		return nil
	}
	a := &aids{visits: map[*doc.Row]int{}, signs: map[*doc.Section][]symptom{}, rows: map[*doc.Row]string{}, folds: map[*doc.Section]bool{}, endings: strings.Fields(g.Words["screen.endings"]), calls: callsOf(g.Contacts)}
	onCard := map[string]bool{}
	if g.Card != nil {
		for s := range doc.Sections(g.Card.Sections) {
			onCard[s.ID] = true
		}
	}
	for _, chapter := range g.Sections {
		a.section(chapter, chapter, onCard)
		a.foldChapter(chapter)
	}
	return a
}

// foldChapter folds the sections of a chapter that has no steps and mostly tables: it is
// for reference.
func (a *aids) foldChapter(chapter *doc.Section) {
	for l := range doc.All[*doc.List]([]*doc.Section{chapter}) {
		if l.Ordered {
			return
		}
	}
	var parts []*doc.Section
	tables := 0
	for _, b := range chapter.Blocks {
		if s, ok := b.(*doc.Section); ok && s.Heading != nil {
			parts = append(parts, s)
			if slices.ContainsFunc(s.Blocks, func(b doc.Block) bool { _, table := b.(*doc.Table); return table }) {
				tables++
			}
		}
	}
	if chapter.Role == doc.RoleChapter && len(parts) > 1 && 2*tables > len(parts) {
		for _, s := range parts {
			a.folds[s] = true
		}
	}
}

func (a *aids) section(chapter, s *doc.Section, onCard map[string]bool) {
	switch s.Role {
	case doc.RoleStop:
		a.walk = chapter
		a.points++
	case doc.RoleTask:
		a.folds[s] = s.Heading != nil
	}
	for _, b := range s.Blocks {
		switch b := b.(type) {
		case *doc.Section:
			a.section(chapter, b, onCard)
		case *doc.List:
			if boxes := boxesIn(b); boxes > 0 && onCard[s.ID] && (a.trip == nil || a.trip == s) {
				a.trip, a.checks = s, a.checks+boxes
			}
		case *doc.Table:
			a.table(b, s)
		case *doc.Trouble:
			a.trouble = chapter
			if a.signs[s] == nil {
				a.places = append(a.places, s)
			}
			words := strings.TrimSuffix(doc.PlainText(b.Symptom...), ".")
			a.signs[s] = append(a.signs[s], symptom{b.ID, words, a.terms(words)})
		}
	}
}

func (a *aids) table(t *doc.Table, s *doc.Section) {
	switch t.Role {
	case doc.TableNumbers, doc.TableValues:
		if a.numbers == nil && t.Role == doc.TableNumbers {
			a.numbers = t
		}
		for _, row := range t.Rows {
			if len(row.Cells) == 2 {
				a.rows[row] = "figure-" + strconv.Itoa(len(a.rows)+1)
			}
		}
	case doc.TableSchedule:
		for _, row := range t.Rows {
			if n := visitOf(row); n > 0 {
				a.visits[row] = n
				a.rows[row] = "visit-" + strconv.Itoa(n)
			}
		}
		if a.undated == nil && len(t.Rows) > 0 && len(a.visits) == 0 {
			a.undated, a.due = t, s
		}
	}
}

func boxesIn(l *doc.List) (n int) {
	for _, item := range l.Items {
		if box, _ := firstBox(item); box != nil {
			n++
		}
	}
	return n
}

// visitOf returns the number of the visit that a row is about: the row begins with that
// number and has its date; 0 for any other row.
func visitOf(row *doc.Row) int {
	number, err := strconv.Atoi(strings.TrimSpace(doc.PlainText(row.Cells[0])))
	if err != nil {
		return 0
	}
	for _, cell := range row.Cells {
		for _, n := range cell.Inlines {
			if v, ok := n.(*doc.Value); ok && visitDate().MatchString(v.Name) {
				return number
			}
		}
	}
	return 0
}

// fill returns a reader's word with a placeholder filled, escaped.
func (p *page) fill(key, name, with string) string {
	return esc(doc.Fill(p.guide.Words[key], name, with))
}

// count returns the plural form of a reader's word for a count, escaped.
func (p *page) count(key string, n int) string {
	key = p.guide.Plurals.Key(key, float64(n), func(id string) bool { return p.guide.Words[id] != "" })
	return p.fill(key, "n", strconv.Itoa(n))
}

// short returns a figure without its second unit: "80 psi (552 kPa)" is "80 psi".
func (p *page) short(figure string) string {
	first, _ := doc.FirstUnit(p.guide.Words[doc.BothUnits], figure)
	return first
}

// tile is one tile of the first screen: its link, its title, the answer itself and a line
// below. All but the target are escaped.
type tile struct{ to, class, icon, title, figure, line string }

// firstScreen writes the first screen.
func (p *page) firstScreen() {
	a := p.aids
	p.printf("<nav id=\"start\" class=\"start aid\" aria-label=\"%s\">\n", p.word("screen.start"))
	if d := p.guide.Picture; d != nil { // its name is above it
		p.printf("<svg class=\"unit\" viewBox=\"0 0 %s %s\" aria-hidden=\"true\" focusable=\"false\">\n", decimal(d.Width), decimal(d.Height))
		p.shapes(d.Shapes)
		p.text("</svg>\n")
	}
	p.printf("<div class=\"find\" id=\"find\" hidden data-little=\"%s\" data-endings=\"%s\" data-alike=\"%s\" data-found=\"%s\" data-none=\"%s\"><label for=\"words\">%s</label> <input id=\"words\" type=\"search\" autocomplete=\"off\" placeholder=\"%s\"></div>\n<p id=\"found\" role=\"status\"></p>\n<ol id=\"hits\" class=\"rows\"></ol>\n",
		p.word("screen.little"), p.word("screen.endings"), p.word("screen.alike"), p.word("screen.found"), p.word("screen.not-found"), p.word("screen.find"), p.word("screen.find-example"))
	p.text("<ul class=\"tiles\">\n")
	for _, t := range p.tiles(a) {
		if t.to != "" {
			p.printf("<li><a href=\"%s\" class=\"tile%s\">%s<b>%s</b><span class=\"big\">%s</span><span>%s</span></a></li>\n", esc(t.to), t.class, icon(t.icon), t.title, t.figure, t.line)
		}
	}
	p.text("</ul>\n")
	p.files()
	p.tickNotice()
	p.call()
	p.text("</nav>\n")
}

// tiles returns the six tiles; one without a target is not a link.
func (p *page) tiles(a *aids) []tile {
	numbers, trip, wrong, walk := tile{}, tile{}, tile{}, tile{}
	if t := a.numbers; t != nil {
		numbers = tile{to: "#numbers", icon: "gauge", title: p.word("screen.numbers"), figure: esc(p.short(doc.PlainText(t.Rows[0].Cells[1])))}
		if len(t.Rows) > 1 {
			numbers.line = esc(doc.Fill(p.guide.Words["screen.number"], "figure", p.short(doc.PlainText(t.Rows[1].Cells[1])), "name", doc.PlainText(t.Rows[1].Cells[0])))
		}
	}
	if s := a.trip; s != nil {
		trip = tile{to: "#" + s.ID, icon: "list", title: esc(s.Short), figure: p.count("screen.checks", a.checks), line: p.word("screen.ticks")}
	}
	if s := a.walk; s != nil {
		walk = tile{to: "#" + s.ID, icon: "round", title: esc(s.Short), figure: p.count("screen.points", a.points), line: p.word("screen.points-where")}
	}
	if s := a.trouble; s != nil {
		wrong = tile{to: "#signs", class: " dark", icon: "question", title: p.word("screen.wrong"), figure: esc(s.Short), line: p.word("screen.by-sign")}
	}
	first := p.guide.Contacts[0]
	call := tile{to: "#call", class: " dark", icon: "phone", title: p.word("screen.call"), figure: esc(first.Phone), line: esc(first.Who)}
	if first.Phone == "" {
		call.figure = esc(first.Name)
	}
	return []tile{numbers, p.nextJob(a), trip, walk, wrong, call}
}

// nextJob returns the tile of the next job. It shows the first visit and the one after it;
// the script updates it by the ticks.
func (p *page) nextJob(a *aids) tile {
	t := tile{icon: "calendar", title: p.word("screen.next")}
	var due []doc.Visit
	for _, v := range p.guide.Visits {
		if !v.Gone {
			due = append(due, v)
		}
	}
	switch {
	case len(a.visits) > 0 && len(due) > 0:
		t.to, t.class = "#visit-1", " next"
		t.figure = p.day(due[0])
		t.line = "<span class=\"jobs\">" + p.count("screen.jobs", len(due[0].Jobs)) + "</span>"
		if len(due) > 1 {
			t.line += "<span class=\"then\">" + p.fill("screen.then", "date", due[1].Day) + "</span>"
		}
		t.line += "<span class=\"late\" hidden> " + p.word("screen.late") + "</span>"
	case a.undated != nil:
		t.to = "#" + a.due.ID
		t.figure = esc(p.short(a.undated.Caption))
		t.line = esc(p.short(doc.PlainText(a.undated.Rows[0].Cells[0])))
	}
	return t
}

func (p *page) day(v doc.Visit) string {
	return fmt.Sprintf("<time datetime=\"%s\">%s</time>", esc(v.Date), esc(v.Day))
}

func (a *aids) troubleCount() (n int) {
	for _, list := range a.signs {
		n += len(list)
	}
	return n
}

// files writes links to the other files of the unit.
func (p *page) files() {
	p.printf("<ul class=\"chips\" aria-label=\"%s\">\n", p.word("screen.files"))
	p.printf("<li><a href=\"guide.pdf\">%s</a></li>\n", p.word("screen.paper"))
	if p.guide.Card != nil {
		p.printf("<li><a href=\"card.pdf\">%s</a></li>\n", p.word("screen.card"))
	}
	if p.guide.Leaf != nil {
		p.printf("<li><a href=\"handover.pdf\">%s</a></li>\n", p.word("screen.leaf"))
	}
	if len(p.guide.Visits) > 0 {
		p.printf("<li><a href=\"service.ics\">%s</a></li>\n", p.word("screen.calendar"))
	}
	p.printf("</ul>\n<p class=\"paper-only\">%s</p>\n", p.word("screen.print"))
}

// tickNotice writes, once for all lists, whether ticks are kept, and passes the script the
// words of the button that clears them.
func (p *page) tickNotice() {
	p.printf("<p id=\"ticks\" data-clear=\"%s\"><span class=\"not-kept\">%s</span><span class=\"kept\" hidden>%s</span></p>\n",
		p.word("screen.clear"), p.word("screen.not-kept"), p.word("screen.kept"))
}

// days returns attributes that tell the script how the language writes a day.
func (p *page) days() string {
	var months []string
	for i := range 12 {
		months = append(months, p.guide.Words[fmt.Sprintf("month.%d", i+1)])
	}
	return fmt.Sprintf(" data-day=\"%s\" data-months=\"%s\"", p.word("date"), esc(strings.Join(months, "|")))
}

// call writes whom to call, with links that dial or begin a mail.
func (p *page) call() {
	p.printf("<div id=\"call\" class=\"call\"><p>%s</p>\n<ul>\n", p.fill("screen.serial-ready", "serial", p.guide.Serial))
	if number := p.guide.Words["screen.emergency-number"]; number != "" {
		p.printf("<li><a href=\"%s\"><span>%s</span> <b>%s</b></a></li>\n", esc(telephoneAddress(number)), p.word("screen.hurt"), esc(number))
	}
	for _, c := range p.guide.Contacts {
		if c.Phone != "" {
			p.printf("<li><a href=\"%s\"><span>%s<br>%s</span> <b>%s</b></a></li>\n", esc(telephoneAddress(c.Phone)), esc(c.Who), esc(c.Name), esc(c.Phone))
		}
		if c.Mail != "" {
			p.printf("<li><a href=\"%s\"><span>%s: %s</span> <b>%s</b></a></li>\n", esc("mailto:"+c.Mail+"?subject="+p.guide.Serial), p.word("screen.mail"), esc(c.Who), esc(c.Mail))
		}
	}
	p.text("</ul></div>\n")
}

// telephoneAddress returns the URI that dials a number as printed (RFC 3966): digits, and
// the plus of a country code. Without one it is dialed as typed.
func telephoneAddress(phone string) string {
	var b strings.Builder
	for _, r := range phone {
		if r >= '0' && r <= '9' || r == '+' && b.Len() == 0 {
			b.WriteRune(r)
		}
	}
	return "tel:" + b.String()
}

// phoneBar writes the bar at the lower edge of a phone's screen.
func (p *page) phoneBar() {
	p.printf("<nav class=\"bar aid\" aria-label=\"%s\">", p.word("screen.bar"))
	if contents(p.guide) != nil {
		p.printf("<a href=\"#toc\">%s <small id=\"where\"></small></a>", p.word("contents"))
	}
	p.quickLinks()
	p.text("</nav>\n")
}

// quickLinks writes the links needed in a hurry: in a phone's bar, and above the contents on
// a wide screen.
func (p *page) quickLinks() {
	if p.aids.trouble != nil {
		p.printf("<a href=\"#signs\">%s</a>", p.word("screen.trouble"))
	}
	p.printf("<a href=\"#call\">%s</a>", p.word("screen.call"))
}

// The numbers in the side column: at most so many, with figures of at most so many letters.
const (
	mostAtHand   = 7
	widestAtHand = 22
)

// sideColumn writes the column next to the text on a very wide screen: the next job, the
// numbers and whom to call.
func (p *page) sideColumn() {
	p.printf("<aside class=\"hand aid\" aria-label=\"%[1]s\">\n<p class=\"head\">%[1]s</p>\n<dl>\n", p.word("screen.at-hand"))
	if next := p.nextJob(p.aids); next.to != "" {
		p.printf("<div><dt>%s</dt><dd><a href=\"%s\" class=\"%s\"><b>%s</b> <span>%s</span></a></dd></div>\n", next.title, esc(next.to), strings.TrimSpace(next.class), next.figure, next.line)
	}
	if t := p.aids.numbers; t != nil {
		for _, row := range t.Rows[:min(len(t.Rows), mostAtHand)] {
			if figure := p.short(doc.PlainText(row.Cells[1])); len([]rune(figure)) <= widestAtHand {
				p.printf("<div><dt>%s</dt><dd><b>%s</b></dd></div>\n", esc(doc.PlainText(row.Cells[0])), esc(figure))
			}
		}
	}
	p.text("</dl>\n")
	for _, c := range p.guide.Contacts {
		if c.Phone != "" {
			p.printf("<p class=\"chips\"><a href=\"%s\">%s<br><b>%s</b></a></p>\n", esc(telephoneAddress(c.Phone)), esc(c.Who), esc(c.Phone))
		}
	}
	p.text("</aside>\n")
}

// icons are pictograms of 24 by 24, as line drawings; they repeat a title and are hidden
// from screen readers.
var icons = map[string]string{
	"gauge":    "M4 18a9 9 0 1 1 16 0M12 13l4-5M6 21h12",
	"calendar": "M4 6h16v14H4zM4 10h16M8 3v5M16 3v5M9 15l2 2 4-4",
	"list":     "M3 6l2 2 3-4M3 13l2 2 3-4M3 20l2 2 3-4M11 6h10M11 13h10M11 20h10",
	"round":    "M9 7h6v10H9zM5 12V4h14v16H5M2 14l3 4 3-4",
	"question": "M12 2l9 5v10l-9 5-9-5V7zM9.5 9.5a2.5 2.5 0 1 1 3.5 2.3c-.7.4-1 .8-1 1.7M12 17v.5",
	"phone":    "M6 3l4 1 1 5-2.5 1.5a12 12 0 0 0 5 5L15 13l5 1 1 4c-1 2-3 3-5 2.5C9 19 5 14 3.5 8 3 6 4 4 6 3z",
}

func icon(name string) string {
	return `<svg viewBox="0 0 24 24" aria-hidden="true" focusable="false"><path d="` + icons[name] + `"/></svg>`
}
