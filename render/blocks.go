package render

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"

	"ownerguide/render/doc"
	"ownerguide/render/draw"
	"ownerguide/render/logo"
	"ownerguide/spec/derive"
	"ownerguide/spec/product"
	"ownerguide/spec/source"
)

// fences is every kind of block the program fills. The function adds its
// nodes to parent.
var fences map[string]func(a *assembly, parent ast.Node, p *piece)

func init() {
	// Filled here because the functions refer back to the map through tasks,
	// whose bodies hold fences of their own.
	fences = map[string]func(*assembly, ast.Node, *piece){
		"caution":    (*assembly).cautionInto,
		"safety":     (*assembly).safetyInto,
		"drawing":    (*assembly).drawingInto,
		"logo":       (*assembly).logoInto,
		"values":     (*assembly).valuesInto,
		"numbers":    (*assembly).valuesInto,
		"due":        (*assembly).dueInto,
		"contents":   (*assembly).contentsInto,
		"schedule":   (*assembly).scheduleInto,
		"tasks":      (*assembly).tasksInto,
		"trouble":    (*assembly).troubleInto,
		"as-built":   (*assembly).asBuiltInto,
		"changes":    (*assembly).changesInto,
		"fitted":     (*assembly).fittedInto,
		"stops":      (*assembly).stopsInto,
		"handover":   (*assembly).handoverInto,
		"log":        (*assembly).logInto,
		"provenance": (*assembly).provenanceInto,
		"statement":  (*assembly).statementInto,
		"form":       (*assembly).formInto,
	}
}

// fenceInto fills a block. That its kind and the id behind it exist was checked
// when the templates were loaded.
func (a *assembly) fenceInto(parent ast.Node, p *piece) { fences[p.fence.kind](a, parent, p) }

func (a *assembly) cautionInto(parent ast.Node, p *piece) {
	for i := range a.templates.cautions {
		c := &a.templates.cautions[i]
		if c.ID.Value == p.fence.args[0] && c.when().Holds(a.build.Has) {
			a.panelInto(parent, c, p.at)
		}
	}
}

func (a *assembly) panelInto(parent ast.Node, c *caution, at source.Pos) {
	words := a.lang.cautions[c.ID.Value]
	if words == nil {
		return // reported when the templates were loaded
	}
	n := a.panel(c, at)
	// A wall of equal panels is not read: within a chapter the first is given
	// in full, each further one in two lines that still say what to do.
	if n.Brief = a.brief || a.shown[n.ID]; n.Brief {
		n.AppendChild(n, a.paragraph(words.hazard))
		n.AppendChild(n, a.paragraph(sentences(words.avoid)))
	} else {
		a.fillPanel(n, words)
	}
	a.shown[n.ID] = true
	parent.AppendChild(parent, n)
}

// panel starts a safety panel.
func (a *assembly) panel(c *caution, at source.Pos) *doc.Caution {
	n := &doc.Caution{ID: c.ID.Value, Word: doc.Word(c.Word.Value), Signal: a.label("signal." + c.Word.Value)}
	doc.SetOrigin(n, at)
	return n
}

// fillPanel writes a panel in full.
func (a *assembly) fillPanel(n *doc.Caution, words *cautionText) {
	n.AppendChild(n, a.paragraph(words.hazard))
	n.AppendChild(n, a.paragraph(words.consequence))
	n.AppendChild(n, a.bullets(words.avoid))
}

// sentences runs lines together into one paragraph.
func sentences(lines [][]inline) (out []inline) {
	for i, line := range lines {
		if i > 0 {
			out = append(out, inline{kind: inlineText, text: " "})
		}
		out = append(out, line...)
	}
	return out
}

func (a *assembly) paragraph(list []inline) *ast.Paragraph {
	n := ast.NewParagraph()
	a.inlinesInto(n, list)
	return n
}

func (a *assembly) bullets(lines [][]inline) *ast.List {
	list := ast.NewList('-')
	list.IsTight = true
	for _, line := range lines {
		item := ast.NewListItem(0)
		item.AppendChild(item, a.paragraph(line))
		list.AppendChild(list, item)
	}
	return list
}

// safetyInto repeats the gravest cautions of this unit, the gravest word first.
func (a *assembly) safetyInto(parent ast.Node, p *piece) {
	var grave []*caution
	for i := range a.templates.cautions {
		if c := &a.templates.cautions[i]; c.Grave.Value && c.when().Holds(a.build.Has) {
			grave = append(grave, c)
		}
	}
	slices.SortStableFunc(grave, func(x, y *caution) int {
		return cmp.Compare(signalWords[doc.Word(x.Word.Value)], signalWords[doc.Word(y.Word.Value)])
	})
	for _, c := range grave {
		if a.beside { // from there nothing leads into the guide
			a.panelInto(parent, c, p.at)
			continue
		}
		n := a.panel(c, p.at)
		parent.AppendChild(parent, n)
		a.grave = append(a.grave, n)
	}
}

// fillGrave writes the panels of the gravest dangers once the guide is whole.
// One that stands with its work in full is brief there, and leads to it.
func (a *assembly) fillGrave(root ast.Node) {
	full := map[string]*doc.Section{} // where each caution stands in full first
	_ = ast.Walk(root, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		c, ok := n.(*doc.Caution)
		if ok && entering && !c.Brief && c.HasChildren() && full[c.ID] == nil {
			full[c.ID], _ = c.Parent().(*doc.Section)
		}
		return ast.WalkContinue, nil
	})
	for _, n := range a.grave {
		words := a.lang.cautions[n.ID]
		if words == nil {
			n.Parent().RemoveChild(n.Parent(), n)
			continue // reported when the templates were loaded
		}
		place := full[n.ID]
		if place == nil || slices.ContainsFunc(words.hazard, func(in inline) bool { return in.kind == inlineLink }) {
			a.fillPanel(n, words)
			continue
		}
		n.Brief = true
		link := ast.NewLink()
		link.Destination = []byte("#" + place.ID)
		a.inlinesInto(link, words.hazard)
		hazard := ast.NewParagraph()
		hazard.AppendChild(hazard, link)
		n.AppendChild(n, hazard)
		n.AppendChild(n, a.paragraph(sentences(words.avoid)))
	}
}

// logoInto puts the maker's logo on the cover; without one nothing stands there.
func (a *assembly) logoInto(parent ast.Node, p *piece) {
	n, findings := logoOf(a.build.Line)
	a.findings.Add(findings...)
	if n == nil {
		return
	}
	doc.SetOrigin(n, p.at)
	parent.AppendChild(parent, n)
}

// logoOf reads a line's logo; nil without one, and with findings.
func logoOf(l *product.Line) (*doc.Logo, source.Findings) {
	if l.Logo == nil {
		return nil, nil
	}
	return logo.Read(l.Logo.Name, l.Logo.Data, l.Maker.Name.Value)
}

func (a *assembly) drawingInto(parent ast.Node, p *piece) {
	id := p.fence.args[0]
	subject := draw.Subject{Build: a.build, Values: a.values, Plan: a.plan, Stops: a.stops, Label: a.label, Figure: a.figure}
	drawing, alt, err := draw.Draw(id, subject)
	if err != nil {
		a.findings.Add(codeDrawing.At(p.at, "drawing %q: %v", id, err))
		return
	}
	n := &doc.Picture{ID: id, Alt: alt, Drawing: drawing, Wide: true}
	for _, line := range p.fence.body {
		if a.applies(line.when, line.figures) {
			n.Caption = joined(n.Caption, a.plain(line.label))
		}
	}
	anchor := "drawing-" + id
	if a.drawn[id]++; a.drawn[id] > 1 { // the same picture may stand in two places
		anchor = fmt.Sprintf("%s-%d", anchor, a.drawn[id])
	}
	doc.SetID(n, anchor)
	doc.SetOrigin(n, p.at)
	parent.AppendChild(parent, n)
}

func joined(a, b string) string {
	if a == "" {
		return b
	}
	return a + " " + b
}

// figure gives a value as printed, for labels in drawings.
func (a *assembly) figure(name string) string {
	v, ok := a.values.Lookup(name)
	if !ok {
		return ""
	}
	if !v.Engineer {
		a.used[name] = true
	}
	return a.printed(v, source.Pos{})
}

// valuesInto makes a table of labels and figures. A line whose value the unit
// does not have is left out.
func (a *assembly) valuesInto(parent ast.Node, p *piece) {
	role := doc.TableValues
	if p.fence.kind == "numbers" {
		role = doc.TableNumbers
	}
	t := a.newTable(role, a.argumentOr(p, ""))
	for i := range p.fence.body {
		line := &p.fence.body[i]
		if !a.applies(line.when, line.figures) {
			continue
		}
		if task, ok := strings.CutPrefix(line.name, "interval."); ok {
			a.intervalRow(t, line, task)
			continue
		}
		var figure ast.Node
		switch {
		case !a.exists(line.name):
			continue
		case derive.IsDeclared(line.name):
			figure = a.value(line.name, line.at)
		default:
			w, _ := a.word(line.name)
			figure = wordNode(w)
		}
		label := extast.NewTableCell()
		a.inlinesInto(label, line.label)
		a.row(t, label, cellOf(figure))
	}
	a.tableInto(parent, t, p.at)
}

// intervalRow adds a row that says how often a task of this unit is due.
func (a *assembly) intervalRow(t *extast.Table, line *fenceLine, task string) {
	when := extast.NewTableCell()
	a.intervalInto(when, task)
	if !when.HasChildren() {
		return
	}
	label := extast.NewTableCell()
	a.inlinesInto(label, line.label)
	a.row(t, label, when)
}

func (a *assembly) argumentOr(p *piece, otherwise string) string {
	if len(p.fence.args) > 0 {
		return a.label("table." + p.fence.args[0])
	}
	return otherwise
}

// newTable starts a table; heads are label keys, none for a table without head.
func (a *assembly) newTable(role doc.TableRole, caption string, heads ...string) *extast.Table {
	t := extast.NewTable()
	doc.SetTable(t, role, caption)
	if len(heads) == 0 {
		return t
	}
	head := extast.NewTableHeader(extast.NewTableRow(nil))
	for _, key := range heads {
		head.AppendChild(head, cellOf(&doc.Text{Content: a.label(key)}))
	}
	t.AppendChild(t, head)
	return t
}

func cellOf(nodes ...ast.Node) *extast.TableCell {
	cell := extast.NewTableCell()
	for _, n := range nodes {
		if n != nil {
			cell.AppendChild(cell, n)
		}
	}
	return cell
}

func (a *assembly) row(t *extast.Table, cells ...*extast.TableCell) {
	row := extast.NewTableRow(nil)
	for _, c := range cells {
		row.AppendChild(row, c)
	}
	t.AppendChild(t, row)
}

// tableInto adds a table unless it has no row beside its head.
func (a *assembly) tableInto(parent ast.Node, t *extast.Table, at source.Pos) {
	last := t.LastChild()
	if last == nil || last.Kind() == extast.KindTableHeader {
		return
	}
	doc.SetOrigin(t, at)
	parent.AppendChild(parent, t)
}

func text(s string) *doc.Text { return &doc.Text{Content: s} }

func (a *assembly) contentsInto(parent ast.Node, p *piece) {
	n := &doc.Contents{}
	doc.SetOrigin(n, p.at)
	a.contents = append(a.contents, n)
	parent.AppendChild(parent, n)
}

func (a *assembly) asBuiltInto(parent ast.Node, p *piece) {
	t := a.newTable(doc.TablePlain, a.label("table.options"), "table.option", "table.what-it-is")
	for _, o := range a.build.Options {
		words := a.optionText(o.ID)
		name := words.Name.Value
		if o.Change != nil {
			name += fill(a.label("option-since"), map[string]string{"date": o.Change.Date.Value.String()})
		}
		a.row(t, cellOf(text(name)), cellOf(text(words.Describe.Value)))
	}
	a.tableInto(parent, t, p.at)
}

func (a *assembly) fittedInto(parent ast.Node, p *piece) {
	t := a.newTable(doc.TablePlain, a.label("table.fitted"), "table.place", "table.mark")
	fitted := a.build.Sheet.Fitted
	for _, f := range fitted.Axles { // the sheet only says which: front, rear
		a.row(t, cellOf(text(a.label("kind.axle")+a.label("list.comma")+f.Place.Value)), cellOf(text(f.Serial.Value)))
	}
	for _, f := range fitted.Parts {
		a.row(t, cellOf(text(a.placeName(f.Place.Value))), cellOf(text(f.Serial.Value)))
	}
	for _, f := range fitted.Tires {
		a.row(t, cellOf(text(a.label("kind.tire")+a.label("list.comma")+f.Place.Value)), cellOf(text("DOT "+f.DOT.Value)))
	}
	a.tableInto(parent, t, p.at)
}

// placeName gives a place on the unit in words; one that only the maker's line
// has is printed as the line calls it.
func (a *assembly) placeName(place string) string {
	if l, ok := a.lang.labels["place."+place]; ok {
		return l.Value
	}
	return place
}

// stopsInto lists the stops with links, in the order of the walk.
func (a *assembly) stopsInto(parent ast.Node, p *piece) {
	list := ast.NewList('-')
	list.IsTight = true
	for _, s := range a.stopSections() {
		item := ast.NewListItem(0)
		line := ast.NewParagraph()
		line.AppendChild(line, &doc.Stop{Number: s.stop})
		line.AppendChild(line, text(" "))
		line.AppendChild(line, a.internalLink(s.id, a.plain(s.words.title)))
		item.AppendChild(item, line)
		list.AppendChild(list, item)
	}
	if list.HasChildren() {
		doc.SetOrigin(list, p.at)
		parent.AppendChild(parent, list)
	}
}

func (a *assembly) stopSections() []*chosen {
	var out []*chosen
	var walk func(list []*chosen)
	walk = func(list []*chosen) {
		for _, c := range list {
			if c.stop > 0 {
				out = append(out, c)
			}
			walk(c.children)
		}
	}
	walk(a.chosen)
	return out
}

// handoverInto makes the record: every stop of this unit with a box to tick.
func (a *assembly) handoverInto(parent ast.Node, p *piece) {
	t := a.newTable(doc.TablePlain, a.label("table.handover"), "table.done", "table.stop", "table.remarks")
	for _, s := range a.stopSections() {
		a.row(t, cellOf(a.box()), cellOf(&doc.Stop{Number: s.stop}, text(" "), a.internalLink(s.id, a.plain(s.words.title))), cellOf())
	}
	a.tableInto(parent, t, p.at)
}

// Room in the service log: rows for about two years of services, and as many
// columns as can be written in.
const (
	logRows    = 14
	logColumns = 16
)

// logInto makes the service log: a column for each job that is due at intervals
// on this unit, in as many tables as they need.
func (a *assembly) logInto(parent ast.Node, p *piece) {
	var jobs []string
	for _, iv := range a.plan.Intervals {
		if words := a.lang.tasks[iv.Task]; words != nil && a.taskOf(iv.Task) != nil {
			jobs = append(jobs, a.plain(words.title))
		}
	}
	if len(jobs) == 0 {
		return
	}
	tables := (len(jobs) + logColumns - 1) / logColumns
	each := (len(jobs) + tables - 1) / tables
	for some := range slices.Chunk(jobs, each) {
		t := a.newTable(doc.TableLog, a.label("table.log"))
		heads := slices.Concat([]string{a.label("table.date"), a.label("table.distance")}, some, []string{a.label("table.by")})
		head := extast.NewTableHeader(extast.NewTableRow(nil))
		for _, h := range heads {
			head.AppendChild(head, cellOf(text(h)))
		}
		t.AppendChild(t, head)
		for range logRows {
			cells := make([]*extast.TableCell, len(heads))
			for i := range cells {
				cells[i] = cellOf()
			}
			a.row(t, cells...)
		}
		a.tableInto(parent, t, p.at)
	}
}

func (a *assembly) statementInto(parent ast.Node, p *piece) {
	s := a.lang.statements[p.fence.args[0]]
	for _, para := range s.paragraphs {
		n := a.paragraph(para)
		doc.SetOrigin(n, s.at)
		parent.AppendChild(parent, n)
	}
	if len(s.steps) > 0 {
		list := a.bullets(s.steps)
		list.Marker, list.Start = '.', 1
		doc.SetOrigin(list, s.at)
		parent.AppendChild(parent, list)
	}
}

// maxRules is how many ruled lines fill a page.
const maxRules = 40

// ruledLines reads how many lines a form has.
func ruledLines(text string) (n int, ok bool) {
	n, err := strconv.Atoi(text)
	return n, err == nil && n >= 1 && n <= maxRules
}

func (a *assembly) formInto(parent ast.Node, p *piece) {
	id := p.fence.args[0]
	rules := 1
	if len(p.fence.args) > 1 {
		rules, _ = ruledLines(p.fence.args[1]) // checked when the templates were loaded
	}
	n := &doc.Form{Label: a.label("form." + id), Rules: rules}
	doc.SetOrigin(n, p.at)
	parent.AppendChild(parent, n)
}

// troubleInto makes the entries of one system: symptom, causes, remedies, and
// when to stop.
func (a *assembly) troubleInto(parent ast.Node, p *piece) {
	system := p.fence.args[0]
	t := a.newTable(doc.TablePlain, fill(a.label("table.trouble"), map[string]string{"system": a.label("system." + system)}), "table.symptom", "table.cause", "table.do", "table.stop-when")
	for i := range a.templates.troubles {
		e := &a.templates.troubles[i]
		words := a.lang.troubles[e.ID.Value]
		if e.System.Value != system || words == nil || !e.when().Holds(a.build.Has) {
			continue
		}
		symptom := ast.NewEmphasis(2)
		a.inlinesInto(symptom, words.symptom)
		a.row(t, cellOf(symptom), a.lines(words.cause), a.lines(words.do), a.lines(words.stop))
	}
	a.tableInto(parent, t, p.at)
}

// lines puts those of several short texts that apply into one cell, a line each.
func (a *assembly) lines(list []piece) *extast.TableCell {
	cell := extast.NewTableCell()
	for i := range list {
		if !a.holds(&list[i]) {
			continue
		}
		if cell.HasChildren() {
			cell.AppendChild(cell, &doc.Break{})
		}
		a.inlinesInto(cell, list[i].inlines)
	}
	return cell
}

// taskOf finds a task of this unit.
func (a *assembly) taskOf(id string) *product.Task {
	for i := range a.build.Line.Tasks {
		if t := &a.build.Line.Tasks[i]; t.ID.Value == id && t.When().Holds(a.build.Has) {
			return t
		}
	}
	return nil
}

// tasksInto adds a section for every job of one system.
func (a *assembly) tasksInto(parent ast.Node, p *piece) {
	system := p.fence.args[0]
	section := parent.(*doc.Section) // checked when the templates were loaded
	for i := range a.build.Line.Tasks {
		t := &a.build.Line.Tasks[i]
		if t.System.Value != system || !t.When().Holds(a.build.Has) {
			continue
		}
		words := a.lang.tasks[t.ID.Value]
		if words == nil {
			a.findings.Add(codeTask.At(t.ID.At, "task %q has no words in %s/tasks", t.ID.Value, a.lang.name))
			continue
		}
		section.AppendChild(section, a.taskSection(t, words, section.Level+1))
	}
}

func (a *assembly) taskSection(t *product.Task, words *taskText, level int) *doc.Section {
	s := &doc.Section{ID: t.ID.Value, Level: level, Role: doc.RoleTask, Short: a.plain(words.title)}
	doc.SetOrigin(s, words.at)
	s.AppendChild(s, a.heading(level, 0, words.title, words.at))
	before := a.task
	a.task = t.ID.Value
	defer func() { a.task = before }()

	facts := a.newTable(doc.TableValues, "")
	when := extast.NewTableCell()
	a.intervalInto(when, t.ID.Value)
	a.row(facts, cellOf(text(a.label("table.when"))), when)
	if len(words.tools) > 0 {
		tools := extast.NewTableCell()
		a.inlinesInto(tools, words.tools)
		a.row(facts, cellOf(text(a.label("table.tools"))), tools)
	}
	if t.Trained.Value {
		a.row(facts, cellOf(text(a.label("table.who"))), cellOf(text(a.label("task.trained"))))
	}
	a.tableInto(s, facts, words.at)
	a.bodyInto(s, words.body)
	return s
}

// intervalInto writes when a task is due, from keyed sentences: no grammar
// stands in the program.
func (a *assembly) intervalInto(parent ast.Node, id string) {
	t := a.taskOf(id)
	if t == nil {
		return
	}
	switch trigger := t.Trigger.Value; trigger {
	case "interval", "every-loads", "age":
		if parts := a.countsInto(parent, t); parts == 0 {
			parent.AppendChild(parent, text(a.label("trigger."+trigger)))
		}
	default:
		a.sentence(parent, "trigger."+trigger, func(string) []ast.Node { return a.firstDistances(t) })
	}
}

// countsInto writes the ways an interval is counted and returns how many.
func (a *assembly) countsInto(parent ast.Node, t *product.Task) (parts int) {
	add := func(n ast.Node) { parent.AppendChild(parent, n) }
	of := "service." + t.ID.Value + "."
	_, inYears := a.values.Lookup(of + "years")
	for _, unit := range []string{"distance", "years", "months", "loads", "motor_hours"} {
		if unit == "months" && inYears {
			continue // the same interval, said more plainly
		}
		name := of + unit
		v, ok := a.values.Lookup(name)
		if !ok {
			continue
		}
		if parts++; parts > 1 {
			add(text(a.label("interval.or")))
		}
		key := "interval." + unit
		if n, _, _ := v.Number(a.print); n == 1 {
			key += ".one"
		}
		a.sentence(parent, key, func(string) []ast.Node { return []ast.Node{a.value(name, t.ID.At)} })
	}
	switch {
	case parts > 1 && a.terse:
		a.either = true
	case parts > 1:
		add(text(a.label("interval.first")))
	}
	return parts
}

// sentence writes a label, its one brace filled with nodes.
func (a *assembly) sentence(parent ast.Node, key string, filling func(string) []ast.Node) {
	label := a.label(key)
	for label != "" {
		before, rest, found := cutBrace(label)
		if before != "" {
			parent.AppendChild(parent, text(before))
		}
		if !found {
			return
		}
		name, after, _ := cutClose(rest)
		for _, n := range filling(name) {
			if n != nil {
				parent.AppendChild(parent, n)
			}
		}
		label = after
	}
}

// firstDistances gives the distances of a task that is due once, early.
func (a *assembly) firstDistances(t *product.Task) []ast.Node {
	var out []ast.Node
	for i := range t.At {
		if i > 0 {
			glue := "list.and"
			if i < len(t.At)-1 {
				glue = "list.comma"
			}
			out = append(out, text(a.label(glue)))
		}
		out = append(out, a.value(fmt.Sprintf("first.%s.%d", t.ID.Value, i+1), t.ID.At))
	}
	return out
}
