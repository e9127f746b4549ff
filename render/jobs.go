package render

import (
	"fmt"
	"slices"
	"strings"

	"ownerguide/render/doc"
	"ownerguide/render/template"
	"ownerguide/spec/product"
	"ownerguide/spec/source"
)

// taskOf returns the task with an id if this unit has it.
func (a *assembly) taskOf(id string) *product.Task {
	if t := a.build.Line.Task(id); t != nil && t.When.Holds(a.has) {
		return t
	}
	return nil
}

// jobs returns a section for every job of one system.
func (a *assembly) jobs(in *doc.Section, p *template.Block) (out []doc.Block) {
	system := p.Call.Args[0]
	for _, t := range a.tasks {
		if t.System.Value != system || a.homes[t.ID.Value] != "" {
			continue
		}
		words := a.lang.Jobs[t.ID.Value]
		if words == nil {
			a.noWords("job", t.ID.Value, t.ID.At)
			continue
		}
		out = append(out, a.taskSection(t, words(), in.Level+1)) // that there is a section was checked when the templates were loaded
	}
	return out
}

// findHomes finds the jobs of this unit that are part of a section: checks before each trip are
// ticked there, and the schedule links to it.
func (a *assembly) findHomes() {
	a.tasks, a.homes = slices.Collect(a.build.Tasks()), map[string]string{}
	for _, t := range a.tasks {
		words := a.lang.Jobs[t.ID.Value]
		if words == nil {
			continue
		}
		homes := words().Home
		if at := slices.IndexFunc(homes, func(w source.Given[string]) bool { return a.anchors[w.Value] }); at >= 0 {
			a.homes[t.ID.Value] = homes[at].Value
		}
	}
}

// jobsAt returns the jobs at the end of a section.
func (a *assembly) jobsAt(section string) (out []doc.Block) {
	if a.beside {
		return nil
	}
	for _, t := range a.tasks {
		id := t.ID.Value
		if a.homes[id] != section {
			continue
		}
		before := a.task
		a.task, a.first = id, id
		body := &doc.Section{Attributes: doc.Attributes{ID: section}, Level: 3}
		a.bodyInto(body, a.lang.Jobs[id]().Body)
		out = append(out, body.Blocks...)
		a.task, a.first = before, ""
	}
	return out
}

func (a *assembly) taskSection(t *product.Task, words *template.JobWords, level int) *doc.Section {
	s := &doc.Section{Attributes: doc.Attributes{ID: t.ID.Value, Origin: words.At}, Level: level, Role: doc.RoleTask, Short: a.plain(words.Title)}
	s.Heading = a.heading(0, words.Title, words.At)
	before := a.task
	a.task = t.ID.Value
	defer func() { a.task = before }()

	s.Blocks = slices.Clip(a.share(keptKey{about: t.ID.Value}, func() []doc.Block {
		when, _ := a.interval(t.ID.Value) // which of several counts decides is said once, below the schedule
		line := &doc.JobLine{Attributes: doc.Attributes{Origin: words.At}, When: capital(when), Tools: a.inlines(words.Tools)}
		if t.Trained.Value {
			line.Who = []doc.Inline{text(a.label("task.trained"))}
		}
		return []doc.Block{line}
	}))
	a.bodyInto(s, words.Body)
	return s
}

// fullInterval returns when a task is due, including that the first of several counts decides.
func (a *assembly) fullInterval(id string) []doc.Inline {
	due, several := a.interval(id)
	if several {
		return a.sentence("interval.first", map[string][]doc.Inline{"intervals": due})
	}
	return due
}

// interval returns when a task is due, in labels: the program contains no grammar. Several
// reports that the first of several counts decides, which the caller may say once for many
// tasks. The result is empty for a task that this unit does not have.
func (a *assembly) interval(id string) (due []doc.Inline, several bool) {
	t := a.taskOf(id)
	if t == nil {
		return nil, false
	}
	switch trigger := t.Trigger.Value; trigger {
	case "interval", "every-loads", "age":
		if list := a.counts(t); len(list) > 0 {
			return a.list("list.or", "list.or", list...), len(list) > 1
		}
		return []doc.Inline{text(a.label("trigger." + trigger))}, false
	default:
		return a.sentence("trigger."+trigger, map[string][]doc.Inline{"at": a.firstDistances(t)}), false
	}
}

// counts returns the counts of an interval, one for each unit.
func (a *assembly) counts(t *product.Task) (list [][]doc.Inline) {
	of := "service." + t.ID.Value + "."
	_, inYears := a.lookup(of + "years")
	for _, unit := range []string{"distance", "years", "months", "loads", "motor_hours"} {
		if unit == "months" && inYears {
			continue // the same interval in a simpler form
		}
		if v, ok := a.lookup(of + unit); ok {
			n, _, _ := v.Number(a.print)
			list = append(list, a.sentence(a.counted("interval."+unit, n), map[string][]doc.Inline{"n": a.value(of+unit, t.ID.At)}))
		}
	}
	return list
}

// firstDistances returns the distances of a task that is due once, early.
func (a *assembly) firstDistances(t *product.Task) []doc.Inline {
	var list [][]doc.Inline
	for i := range t.At {
		list = append(list, a.value(fmt.Sprintf("first.%s.%d", t.ID.Value, i+1), t.ID.At))
	}
	return a.list("list.comma", "list.and", list...)
}

// logRows is the number of rows that fill the page of the service log, and logTires how
// many fewer there are if the tire codes are written below.
const (
	logRows  = 22
	logTires = 3
)

// log returns the service log. The jobs of the first miles and of the first load are
// entered already.
func (a *assembly) log(_ *doc.Section, p *template.Block) []doc.Block {
	t := a.newTable(doc.TableLog, a.label("table.log"), "table.date", "table.distance", "table.task", "table.by")
	job := func(words ...doc.Inline) { row(t, cellOf(), cellOf(), cellOf(words...), cellOf()) }
	for _, r := range a.values.Plan.Rules {
		task := a.taskOf(r.Task)
		if task == nil || a.lang.Jobs[r.Task] == nil || r.Kind != "first-miles" && r.Kind != "first-load" {
			continue
		}
		if len(task.At) == 0 {
			job(a.taskName(r.Task)...)
		}
		for i := range task.At {
			job(a.colon(a.taskName(r.Task), a.value(fmt.Sprintf("first.%s.%d", r.Task, i+1), p.At))...)
		}
	}
	rows := logRows
	if a.anchors["service-log-tires"] {
		rows -= logTires
	}
	for len(t.Rows) < rows {
		job()
	}
	return rowsOf(t, p.At)
}

// due lists jobs by when they are due: those due at the same time share a row, and which of
// several counts decides is said once below.
func (a *assembly) due(_ *doc.Section, p *template.Block) []doc.Block {
	either := false
	t := a.newTable(doc.TableValues, a.argumentOr(p, ""))
	rows := map[string]*doc.Cell{}
	for i := range p.Call.Lines {
		line := &p.Call.Lines[i]
		if !line.When.Holds(a.has) {
			continue
		}
		interval, several := a.interval(strings.TrimPrefix(line.Name, "interval."))
		either = either || several
		when := cellOf(capital(interval)...)
		key := doc.PlainText(when)
		if key == "" {
			continue // not a job of this unit
		}
		what, seen := rows[key]
		if !seen {
			what = cellOf()
			rows[key] = what
			row(t, when, what)
			what.Inlines = a.inlines(line.Inlines)
			continue
		}
		what.Inlines = a.list("list.comma", "list.comma", what.Inlines, a.inlines(line.Inlines))
	}
	out := rowsOf(t, p.At)
	if either {
		out = append(out, &doc.Paragraph{Attributes: doc.Attributes{Origin: p.At}, Inlines: []doc.Inline{text(a.label("interval.either"))}})
	}
	return out
}
