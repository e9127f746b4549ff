package render

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"ownerguide/render/doc"
	"ownerguide/render/draw"
	"ownerguide/render/logo"
	"ownerguide/spec/derive"
	"ownerguide/spec/product"
	"ownerguide/spec/source"
)

// fences is every kind of block the program fills. In is the section the block
// stands in directly, nil inside a list.
var fences map[string]func(a *assembly, in *doc.Section, p *piece) []doc.Block

func init() {
	// Filled here because the functions refer back to the map through tasks,
	// whose bodies hold fences of their own.
	fences = map[string]func(*assembly, *doc.Section, *piece) []doc.Block{
		"caution":    (*assembly).caution,
		"safety":     (*assembly).safety,
		"drawing":    (*assembly).drawing,
		"logo":       (*assembly).logo,
		"values":     (*assembly).valueTable,
		"numbers":    (*assembly).valueTable,
		"due":        (*assembly).due,
		"contents":   (*assembly).contentsBlock,
		"schedule":   (*assembly).schedule,
		"tasks":      (*assembly).tasks,
		"trouble":    (*assembly).trouble,
		"as-built":   (*assembly).asBuilt,
		"changes":    (*assembly).changes,
		"fitted":     (*assembly).fitted,
		"stops":      (*assembly).stopList,
		"handover":   (*assembly).handover,
		"log":        (*assembly).log,
		"provenance": (*assembly).provenanceTable,
		"statement":  (*assembly).statement,
		"form":       (*assembly).form,
	}
}

// fence fills a block. That its kind and the id behind it exist was checked
// when the templates were loaded.
func (a *assembly) fence(in *doc.Section, p *piece) []doc.Block {
	return fences[p.fence.kind](a, in, p)
}

func (a *assembly) caution(_ *doc.Section, p *piece) (out []doc.Block) {
	for i := range a.templates.cautions {
		c := &a.templates.cautions[i]
		if c.ID.Value == p.fence.args[0] && c.When.Holds(a.build.Has) {
			out = append(out, a.panel(c, p.at)...)
		}
	}
	return out
}

// panel gives a caution. A wall of equal panels is not read: within a chapter
// the first is given in full, each further one in two lines that still say what
// to do.
func (a *assembly) panel(c *caution, at source.Pos) []doc.Block {
	words := a.lang.cautions[c.ID.Value]
	if words == nil {
		return nil // reported when the templates were loaded
	}
	n := a.emptyPanel(c, at)
	n.Brief = a.brief || a.shown[n.Name]
	a.fillPanel(n, words)
	a.shown[n.Name] = true
	return []doc.Block{n}
}

// emptyPanel starts a safety panel.
func (a *assembly) emptyPanel(c *caution, at source.Pos) *doc.Caution {
	return &doc.Caution{Attributes: doc.Attributes{Origin: at}, Name: c.ID.Value, Word: doc.Word(c.Word.Value), Signal: a.label("signal." + c.Word.Value)}
}

// fillPanel writes what a panel says.
func (a *assembly) fillPanel(n *doc.Caution, words *cautionText) {
	n.Hazard = a.inlines(words.hazard)
	if !n.Brief {
		n.Consequence = a.inlines(words.consequence)
	}
	for _, line := range words.avoid {
		n.Avoid = append(n.Avoid, a.inlines(line))
	}
}

func (a *assembly) bullets(lines [][]inline) *doc.List {
	list := &doc.List{Tight: true}
	for _, line := range lines {
		list.Items = append(list.Items, itemOf(a.inlines(line)...))
	}
	return list
}

func itemOf(line ...doc.Inline) *doc.Item {
	return &doc.Item{Blocks: []doc.Block{&doc.Paragraph{Inlines: line}}}
}

// safety repeats the gravest cautions of this unit, the gravest word first.
func (a *assembly) safety(_ *doc.Section, p *piece) (out []doc.Block) {
	var grave []*caution
	for i := range a.templates.cautions {
		if c := &a.templates.cautions[i]; c.Grave.Value && c.When.Holds(a.build.Has) {
			grave = append(grave, c)
		}
	}
	slices.SortStableFunc(grave, func(x, y *caution) int {
		return cmp.Compare(signalWords[doc.Word(x.Word.Value)], signalWords[doc.Word(y.Word.Value)])
	})
	for _, c := range grave {
		if a.beside { // from there nothing leads into the guide
			out = append(out, a.panel(c, p.at)...)
			continue
		}
		n := a.emptyPanel(c, p.at)
		out = append(out, n)
		a.grave = append(a.grave, n)
	}
	return out
}

// fillGrave writes the panels of the gravest dangers once the guide is whole.
// One that stands with its work in full is brief there, and leads to it.
func (a *assembly) fillGrave(sections []*doc.Section) {
	full := map[string]*doc.Section{} // where each caution stands in full first
	for n := range doc.Walk(sections) {
		s, ok := n.(*doc.Section)
		if !ok {
			continue
		}
		for _, b := range s.Blocks {
			if c, ok := b.(*doc.Caution); ok && !c.Brief && len(c.Hazard) > 0 && full[c.Name] == nil {
				full[c.Name] = s
			}
		}
	}
	for _, n := range a.grave {
		words := a.lang.cautions[n.Name]
		if words == nil {
			continue // reported when the templates were loaded
		}
		place := full[n.Name]
		linked := slices.ContainsFunc(words.hazard, func(in inline) bool { return in.kind == inlineLink })
		n.Brief = place != nil && !linked
		a.fillPanel(n, words)
		if n.Brief {
			n.Hazard = []doc.Inline{&doc.Link{To: "#" + place.ID, Inlines: n.Hazard}}
		}
	}
}

// logo puts the maker's logo on the cover; without one nothing stands there.
func (a *assembly) logo(_ *doc.Section, p *piece) []doc.Block {
	n, findings := logoOf(a.build.Line)
	a.findings.Add(findings...)
	if n == nil {
		return nil
	}
	n.Origin = p.at
	return []doc.Block{n}
}

// logoOf reads a line's logo; nil without one, and with findings.
func logoOf(l *product.Line) (*doc.Logo, source.Findings) {
	if l.Logo == nil {
		return nil, nil
	}
	return logo.Read(l.Logo.Name, l.Logo.Data, l.Maker.Name.Value)
}

func (a *assembly) drawing(_ *doc.Section, p *piece) []doc.Block {
	id := p.fence.args[0]
	subject := draw.Subject{Build: a.build, Values: a.values, Plan: a.plan, Stops: a.stops, Label: a.label, Figure: a.figure}
	drawing, alt, err := draw.Draw(id, subject)
	if err != nil {
		a.findings.Add(codeDrawing.At(p.at, "drawing %q: %v", id, err))
		return nil
	}
	n := &doc.Figure{Attributes: doc.Attributes{ID: "drawing-" + id, Origin: p.at}, Name: id, Alt: alt, Drawing: drawing, Wide: true}
	for _, line := range p.fence.body {
		if line.when.Holds(a.has) {
			n.Caption = joined(n.Caption, a.plain(line.label))
		}
	}
	if a.drawn[id]++; a.drawn[id] > 1 { // the same drawing may stand in two places
		n.ID = fmt.Sprintf("%s-%d", n.ID, a.drawn[id])
	}
	return []doc.Block{n}
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

// valueTable makes a table of labels and figures. A line whose value the unit
// does not have is left out.
func (a *assembly) valueTable(_ *doc.Section, p *piece) []doc.Block {
	role := doc.TableValues
	if p.fence.kind == "numbers" {
		role = doc.TableNumbers
	}
	t := a.newTable(role, a.argumentOr(p, ""))
	for i := range p.fence.body {
		line := &p.fence.body[i]
		if !line.when.Holds(a.has) {
			continue
		}
		var figure []doc.Inline
		if task, ok := strings.CutPrefix(line.name, "interval."); ok {
			if figure = a.interval(task); len(figure) == 0 {
				continue
			}
		} else {
			switch {
			case !a.exists(line.name):
				continue
			case derive.IsDeclared(line.name):
				figure = a.value(line.name, line.at)
			default:
				w, _ := a.word(line.name)
				figure = []doc.Inline{wordNode(w)}
			}
		}
		row(t, a.cell(line.label), cellOf(figure...))
	}
	return rowsOf(t, p.at)
}

func (a *assembly) argumentOr(p *piece, otherwise string) string {
	if len(p.fence.args) > 0 {
		return a.label("table." + p.fence.args[0])
	}
	return otherwise
}

// newTable starts a table; heads are label keys, none for a table without head.
func (a *assembly) newTable(role doc.TableRole, caption string, heads ...string) *doc.Table {
	t := &doc.Table{Role: role, Caption: caption}
	if len(heads) == 0 {
		return t
	}
	t.Head = &doc.Row{}
	for _, key := range heads {
		t.Head.Cells = append(t.Head.Cells, cellOf(text(a.label(key))))
	}
	return t
}

func cellOf(words ...doc.Inline) *doc.Cell { return &doc.Cell{Inlines: words} }

func (a *assembly) cell(list []inline) *doc.Cell { return cellOf(a.inlines(list)...) }

func row(t *doc.Table, cells ...*doc.Cell) { t.Rows = append(t.Rows, &doc.Row{Cells: cells}) }

// rowsOf gives a table unless it has no row beside its head.
func rowsOf(t *doc.Table, at source.Pos) []doc.Block {
	if len(t.Rows) == 0 {
		return nil
	}
	t.Origin = at
	return []doc.Block{t}
}

func text(s string) *doc.Text { return &doc.Text{Content: s} }

func (a *assembly) contentsBlock(_ *doc.Section, p *piece) []doc.Block {
	n := &doc.Contents{Attributes: doc.Attributes{Origin: p.at}}
	a.contents = append(a.contents, n)
	return []doc.Block{n}
}

func (a *assembly) asBuilt(_ *doc.Section, p *piece) []doc.Block {
	t := a.newTable(doc.TablePlain, a.label("table.options"), "table.option", "table.what-it-is")
	for _, o := range a.build.Options {
		words := a.optionText(o.ID)
		name := words.Name.Value
		if o.Change != nil {
			name += fill(a.label("option-since"), map[string]string{"date": o.Change.Date.Value.String()})
		}
		row(t, cellOf(text(name)), cellOf(text(words.Describe.Value)))
	}
	return rowsOf(t, p.at)
}

func (a *assembly) fitted(_ *doc.Section, p *piece) []doc.Block {
	t := a.newTable(doc.TablePlain, a.label("table.fitted"), "table.place", "table.mark")
	fitted := a.build.Sheet.Fitted
	for _, f := range fitted.Axles { // the sheet only says which: front, rear
		row(t, cellOf(text(a.label("kind.axle")+a.label("list.comma")+f.Place.Value)), cellOf(text(f.Serial.Value)))
	}
	for _, f := range fitted.Parts {
		row(t, cellOf(text(a.placeName(f.Place.Value))), cellOf(text(f.Serial.Value)))
	}
	for _, f := range fitted.Tires {
		row(t, cellOf(text(a.label("kind.tire")+a.label("list.comma")+f.Place.Value)), cellOf(text("DOT "+f.DOT.Value)))
	}
	return rowsOf(t, p.at)
}

// placeName gives a place on the unit in words; one that only the maker's line
// has is printed as the line calls it.
func (a *assembly) placeName(place string) string {
	if l, ok := a.lang.labels["place."+place]; ok {
		return l.Value
	}
	return place
}

// stopList lists the stops with links, in the order of the walk.
func (a *assembly) stopList(_ *doc.Section, p *piece) []doc.Block {
	list := &doc.List{Attributes: doc.Attributes{Origin: p.at}, Tight: true}
	for _, s := range a.stopSections() {
		list.Items = append(list.Items, itemOf(a.stopLink(s)...))
	}
	if len(list.Items) == 0 {
		return nil
	}
	return []doc.Block{list}
}

// stopLink names a stop, with its mark.
func (a *assembly) stopLink(s *chosen) []doc.Inline {
	return []doc.Inline{&doc.PointMark{Number: s.stop}, text(" "), a.internalLink(s.id, a.plain(s.words.title))}
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

// handover makes the record: every stop of this unit with a box to tick.
func (a *assembly) handover(_ *doc.Section, p *piece) []doc.Block {
	t := a.newTable(doc.TablePlain, a.label("table.handover"), "table.done", "table.stop", "table.remarks")
	for _, s := range a.stopSections() {
		row(t, cellOf(a.box()), cellOf(a.stopLink(s)...), cellOf())
	}
	return rowsOf(t, p.at)
}

// Room in the service log: rows for about two years of services, and as many
// columns as can be written in.
const (
	logRows    = 14
	logColumns = 16
)

// log makes the service log: a column for each job that is due at intervals on
// this unit, in as many tables as they need.
func (a *assembly) log(_ *doc.Section, p *piece) (out []doc.Block) {
	var jobs []string
	for _, iv := range a.plan.Intervals {
		if words := a.lang.tasks[iv.Task]; words != nil && a.taskOf(iv.Task) != nil {
			jobs = append(jobs, a.plain(words.title))
		}
	}
	if len(jobs) == 0 {
		return nil
	}
	tables := (len(jobs) + logColumns - 1) / logColumns
	each := (len(jobs) + tables - 1) / tables
	for some := range slices.Chunk(jobs, each) {
		t := a.newTable(doc.TableLog, a.label("table.log"))
		t.Head = &doc.Row{}
		for _, h := range slices.Concat([]string{a.label("table.date"), a.label("table.distance")}, some, []string{a.label("table.by")}) {
			t.Head.Cells = append(t.Head.Cells, cellOf(text(h)))
		}
		for range logRows {
			cells := make([]*doc.Cell, len(t.Head.Cells))
			for i := range cells {
				cells[i] = cellOf()
			}
			row(t, cells...)
		}
		out = append(out, rowsOf(t, p.at)...)
	}
	return out
}

func (a *assembly) statement(_ *doc.Section, p *piece) (out []doc.Block) {
	s := a.lang.statements[p.fence.args[0]]
	from := doc.Attributes{Origin: s.at}
	for _, para := range s.paragraphs {
		out = append(out, &doc.Paragraph{Attributes: from, Inlines: a.inlines(para)})
	}
	if len(s.steps) > 0 {
		list := a.bullets(s.steps)
		list.Attributes, list.Ordered, list.Start = from, true, 1
		out = append(out, list)
	}
	return out
}

// maxRules is how many ruled lines fill a page.
const maxRules = 40

// ruledLines reads how many lines a form has.
func ruledLines(text string) (n int, ok bool) {
	n, err := strconv.Atoi(text)
	return n, err == nil && n >= 1 && n <= maxRules
}

func (a *assembly) form(_ *doc.Section, p *piece) []doc.Block {
	rules := 1
	if len(p.fence.args) > 1 {
		rules, _ = ruledLines(p.fence.args[1]) // checked when the templates were loaded
	}
	return []doc.Block{&doc.Form{Attributes: doc.Attributes{Origin: p.at}, Label: a.label("form." + p.fence.args[0]), Rules: rules}}
}

// trouble makes the entries of one system: symptom, causes, remedies, and when
// to stop.
func (a *assembly) trouble(_ *doc.Section, p *piece) []doc.Block {
	system := p.fence.args[0]
	t := a.newTable(doc.TablePlain, fill(a.label("table.trouble"), map[string]string{"system": a.label("system." + system)}), "table.symptom", "table.cause", "table.do", "table.stop-when")
	for i := range a.templates.troubles {
		e := &a.templates.troubles[i]
		words := a.lang.troubles[e.ID.Value]
		if e.System.Value != system || words == nil || !e.When.Holds(a.build.Has) {
			continue
		}
		symptom := &doc.Emphasis{Strong: true, Inlines: a.inlines(words.symptom)}
		row(t, cellOf(symptom), a.lines(words.cause), a.lines(words.do), a.lines(words.stop))
	}
	return rowsOf(t, p.at)
}

// lines puts those of several short texts that apply into one cell, a line each.
func (a *assembly) lines(list []piece) *doc.Cell {
	cell := cellOf()
	for i := range list {
		if !a.holds(&list[i]) {
			continue
		}
		if len(cell.Inlines) > 0 {
			cell.Inlines = append(cell.Inlines, &doc.Break{})
		}
		cell.Inlines = append(cell.Inlines, a.inlines(list[i].inlines)...)
	}
	return cell
}

// taskOf finds a task of this unit.
func (a *assembly) taskOf(id string) *product.Task {
	for i := range a.build.Line.Tasks {
		if t := &a.build.Line.Tasks[i]; t.ID.Value == id && t.When.Holds(a.build.Has) {
			return t
		}
	}
	return nil
}

// tasks gives a section for every job of one system.
func (a *assembly) tasks(in *doc.Section, p *piece) (out []doc.Block) {
	system := p.fence.args[0]
	for i := range a.build.Line.Tasks {
		t := &a.build.Line.Tasks[i]
		if t.System.Value != system || !t.When.Holds(a.build.Has) {
			continue
		}
		words := a.lang.tasks[t.ID.Value]
		if words == nil {
			a.findings.Add(codeTask.At(t.ID.At, "task %q has no words in %s/tasks", t.ID.Value, a.lang.name))
			continue
		}
		out = append(out, a.taskSection(t, words, in.Level+1)) // that there is a section was checked when the templates were loaded
	}
	return out
}

func (a *assembly) taskSection(t *product.Task, words *taskText, level int) *doc.Section {
	s := &doc.Section{Attributes: doc.Attributes{ID: t.ID.Value, Origin: words.at}, Level: level, Role: doc.RoleTask, Short: a.plain(words.title)}
	s.Heading = a.heading(0, words.title, words.at)
	before := a.task
	a.task = t.ID.Value
	defer func() { a.task = before }()

	facts := a.newTable(doc.TableValues, "")
	row(facts, cellOf(text(a.label("table.when"))), cellOf(a.interval(t.ID.Value)...))
	if len(words.tools) > 0 {
		row(facts, cellOf(text(a.label("table.tools"))), a.cell(words.tools))
	}
	if t.Trained.Value {
		row(facts, cellOf(text(a.label("table.who"))), cellOf(text(a.label("task.trained"))))
	}
	s.Blocks = rowsOf(facts, words.at)
	a.bodyInto(s, words.body)
	return s
}

// interval says when a task is due, in keyed sentences: no grammar stands in the
// program. Nothing for a task that this unit does not have.
func (a *assembly) interval(id string) []doc.Inline {
	t := a.taskOf(id)
	if t == nil {
		return nil
	}
	switch trigger := t.Trigger.Value; trigger {
	case "interval", "every-loads", "age":
		if counts := a.counts(t); len(counts) > 0 {
			return counts
		}
		return []doc.Inline{text(a.label("trigger." + trigger))}
	default:
		return a.sentence("trigger."+trigger, func(string) []doc.Inline { return a.firstDistances(t) })
	}
}

// counts says how an interval is counted.
func (a *assembly) counts(t *product.Task) (out []doc.Inline) {
	of := "service." + t.ID.Value + "."
	_, inYears := a.values.Lookup(of + "years")
	counted := 0
	for _, unit := range []string{"distance", "years", "months", "loads", "motor_hours"} {
		if unit == "months" && inYears {
			continue // the same interval, said more plainly
		}
		name := of + unit
		v, ok := a.values.Lookup(name)
		if !ok {
			continue
		}
		if counted++; counted > 1 {
			out = append(out, text(a.label("interval.or")))
		}
		key := "interval." + unit
		if n, _, _ := v.Number(a.print); n == 1 {
			key += ".one"
		}
		out = append(out, a.sentence(key, func(string) []doc.Inline { return a.value(name, t.ID.At) })...)
	}
	switch {
	case counted > 1 && a.terse:
		a.either = true
	case counted > 1:
		out = append(out, text(a.label("interval.first")))
	}
	return out
}

// sentence gives a label, its one brace filled with nodes.
func (a *assembly) sentence(key string, filling func(string) []doc.Inline) (out []doc.Inline) {
	label := a.label(key)
	for label != "" {
		before, rest, found := strings.Cut(label, "{")
		if before != "" {
			out = append(out, text(before))
		}
		if !found {
			return out
		}
		name, after, _ := strings.Cut(rest, "}")
		out = append(out, filling(name)...)
		label = after
	}
	return out
}

// firstDistances gives the distances of a task that is due once, early.
func (a *assembly) firstDistances(t *product.Task) []doc.Inline {
	var out []doc.Inline
	for i := range t.At {
		if i > 0 {
			glue := "list.and"
			if i < len(t.At)-1 {
				glue = "list.comma"
			}
			out = append(out, text(a.label(glue)))
		}
		out = append(out, a.value(fmt.Sprintf("first.%s.%d", t.ID.Value, i+1), t.ID.At)...)
	}
	return out
}
