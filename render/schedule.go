package render

import (
	"fmt"
	"slices"
	"strconv"
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

// visitsInto lists the visits: number, date, distance and loads by then, and
// the tasks. What is done together again and again is a set: it is told once,
// with its tasks as links and the figures they need, and named at each visit.
func (a *assembly) visitsInto(parent ast.Node, p *piece) {
	sets := a.jobSets()
	t := a.newTable(doc.TableSchedule, a.label("table.sets"), "table.set", "table.set-jobs")
	for _, set := range sets {
		if set.letter == "" {
			continue
		}
		tasks := extast.NewTableCell()
		for i, id := range set.tasks {
			if i > 0 {
				tasks.AppendChild(tasks, &doc.Break{})
			}
			a.taskLine(tasks, id)
		}
		a.row(t, cellOf(text(set.letter)), tasks)
	}
	a.tableInto(parent, t, p.at)
	t = a.newTable(doc.TableSchedule, a.label("table.schedule"), "table.visit", "table.date", "table.by-then", "table.tasks", "table.done")
	for i, v := range a.plan.Visits {
		base := fmt.Sprintf("visit.%02d", v.Number)
		byThen := cellOf(a.value(base+".distance", p.at), text(a.label("list.comma")))
		a.loadsBy(byThen, base, p.at)
		a.row(t, cellOf(text(strconv.Itoa(v.Number))), cellOf(a.value(base+".date", p.at)), byThen, a.visitCell(sets, i), cellOf(a.box()))
	}
	a.tableInto(parent, t, p.at)
}

// jobSet is the tasks that are due at the same visits.
type jobSet struct {
	letter string // empty when it is named by its tasks
	visits []int  // indices in the plan, in order
	tasks  []string
}

// jobSets puts the tasks together that are due at the same visits, those due
// most often first. Two tasks or more at two visits or more get a letter.
func (a *assembly) jobSets() (sets []*jobSet) {
	due := map[string][]int{}
	var order []string
	for i, v := range a.plan.Visits {
		for _, id := range v.Tasks {
			if a.lang.tasks[id] == nil {
				continue // reported where the job itself is written
			}
			if due[id] == nil {
				order = append(order, id)
			}
			due[id] = append(due[id], i)
		}
	}
	for _, id := range order {
		i := slices.IndexFunc(sets, func(s *jobSet) bool { return slices.Equal(s.visits, due[id]) })
		if i < 0 {
			sets, i = append(sets, &jobSet{visits: due[id]}), len(sets)
		}
		sets[i].tasks = append(sets[i].tasks, id)
	}
	slices.SortStableFunc(sets, func(x, y *jobSet) int { return len(y.visits) - len(x.visits) })
	letters := 0
	for _, s := range sets {
		if len(s.tasks) > 1 && len(s.visits) > 1 && letters < 26 {
			s.letter = string(rune('A' + letters))
			letters++
		}
	}
	return sets
}

// visitCell names what is done at one visit: sets by their letters, other
// tasks with the figures they need.
func (a *assembly) visitCell(sets []*jobSet, visit int) *extast.TableCell {
	cell := extast.NewTableCell()
	for _, s := range sets {
		if !slices.Contains(s.visits, visit) {
			continue
		}
		glue := func() {
			if cell.HasChildren() {
				cell.AppendChild(cell, text(a.label("list.semicolon")))
			}
		}
		if s.letter != "" {
			glue()
			cell.AppendChild(cell, text(fill(a.label("schedule.set"), map[string]string{"set": s.letter})))
			continue
		}
		for _, id := range s.tasks {
			glue()
			a.taskName(cell, id)
			a.taskFigures(cell, id)
		}
	}
	return cell
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
