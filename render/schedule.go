package render

import (
	"fmt"
	"strings"

	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"

	"ownerguide/render/doc"
	"ownerguide/spec/source"
)

func cutBrace(s string) (before, after string, found bool) { return strings.Cut(s, "{") }
func cutClose(s string) (inside, after string, found bool) { return strings.Cut(s, "}") }

// scheduleInto writes the service schedule in one of three forms: dated (the
// visits), rules (what has no date) and table (every task with its interval).
func (a *assembly) scheduleInto(parent ast.Node, p *piece) {
	switch p.fence.args[0] {
	case "dated":
		a.visitsInto(parent, p)
	case "rules":
		a.rulesInto(parent, p)
	case "table":
		a.intervalsInto(parent, p)
	}
}

// visitsInto lists the visits: date, distance and loads by then, the tasks as
// links, and the figures they need.
func (a *assembly) visitsInto(parent ast.Node, p *piece) {
	t := a.newTable(doc.TableSchedule, a.label("table.schedule"), "table.date", "table.by-then", "table.tasks", "table.done")
	for _, v := range a.plan.Visits {
		base := fmt.Sprintf("visit.%02d", v.Number)
		byThen := cellOf(a.value(base+".distance", p.at), &doc.Break{})
		a.loadsBy(byThen, base, p.at)
		tasks := extast.NewTableCell()
		for i, id := range v.Tasks {
			if i > 0 {
				tasks.AppendChild(tasks, text(a.label("list.semicolon")))
			}
			a.taskName(tasks, id)
			a.taskFigures(tasks, id)
		}
		a.row(t, cellOf(a.value(base+".date", p.at)), byThen, tasks, cellOf(a.box()))
	}
	a.tableInto(parent, t, p.at)
}

// loadsBy writes how many loads the unit has carried by a visit.
func (a *assembly) loadsBy(parent ast.Node, visit string, at source.Pos) {
	a.sentence(parent, "schedule.loads", func(string) []ast.Node { return []ast.Node{a.value(visit+".loads", at)} })
}

// taskLine writes a task's title as a link, and the figures a person needs for it.
func (a *assembly) taskLine(parent ast.Node, id string) {
	words := a.lang.tasks[id]
	if words == nil {
		return // reported where the job itself is written
	}
	parent.AppendChild(parent, a.internalLink(id, a.plain(words.title)))
	a.taskFigures(parent, id)
}

// taskName writes a task's title without a link: a visit names so many that
// page numbers would hide them.
func (a *assembly) taskName(parent ast.Node, id string) {
	if words := a.lang.tasks[id]; words != nil {
		a.inlinesInto(parent, words.title)
	}
}

// taskFigures writes the figures a person needs for a task.
func (a *assembly) taskFigures(parent ast.Node, id string) {
	t := a.taskOf(id)
	if t == nil {
		return
	}
	glue := "list.colon"
	for _, w := range t.Values {
		if _, ok := a.values.Lookup(w.Value); !ok {
			continue
		}
		parent.AppendChild(parent, text(a.label(glue)))
		parent.AppendChild(parent, a.value(w.Value, w.At))
		glue = "list.comma"
	}
}

// ruleKinds is the order in which undated rules are printed.
var ruleKinds = []string{"before-trip", "first-miles", "first-load", "every-loads", "often", "motor-hours", "before-storage", "after-storage"}

func (a *assembly) rulesInto(parent ast.Node, p *piece) {
	t := a.newTable(doc.TableSchedule, a.label("table.rules"), "table.when", "table.tasks")
	for _, kind := range ruleKinds {
		// Tasks with the same sentence share a row.
		rows := map[string]*extast.TableCell{}
		for _, r := range a.plan.Rules {
			if r.Kind != kind || a.lang.tasks[r.Task] == nil {
				continue
			}
			when := extast.NewTableCell()
			a.intervalInto(when, r.Task)
			key := doc.PlainText(when)
			tasks, seen := rows[key]
			if !seen {
				tasks = extast.NewTableCell()
				rows[key] = tasks
				a.row(t, when, tasks)
			} else {
				tasks.AppendChild(tasks, &doc.Break{})
			}
			a.taskLine(tasks, r.Task)
		}
	}
	a.tableInto(parent, t, p.at)
}

func (a *assembly) intervalsInto(parent ast.Node, p *piece) {
	t := a.newTable(doc.TableSchedule, a.label("table.intervals"), "table.task", "table.how-often")
	for _, iv := range a.plan.Intervals {
		task := extast.NewTableCell()
		a.taskLine(task, iv.Task)
		if !task.HasChildren() {
			continue
		}
		when := extast.NewTableCell()
		a.intervalInto(when, iv.Task)
		a.row(t, task, when)
	}
	a.tableInto(parent, t, p.at)
}
