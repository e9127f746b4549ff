package render

import (
	"fmt"
	"slices"
	"strconv"

	"ownerguide/render/doc"
	"ownerguide/render/template"
	"ownerguide/spec/source"
)

// schedule writes the service schedule in one of three forms: dated (the
// visits), rules (what has no date) and table (every task with its interval).
func (a *assembly) schedule(_ *doc.Section, p *template.Block) []doc.Block {
	switch p.Call.Args[0] {
	case "dated":
		return a.visits(p)
	case "rules":
		return a.rules(p)
	default:
		return a.intervals(p)
	}
}

// visits lists the visits: number, date, distance and loads by then, and the
// tasks. What is done together again and again is a set: it is told once, with
// its tasks as links and the figures they need, and named at each visit.
func (a *assembly) visits(p *template.Block) []doc.Block {
	sets := a.jobSets()
	t := a.newTable(doc.TableSchedule, a.label("table.sets"), "table.set", "table.set-jobs")
	for _, set := range sets {
		if set.letter == "" {
			continue
		}
		tasks := cellOf()
		for i, id := range set.tasks {
			if i > 0 {
				tasks.Inlines = append(tasks.Inlines, &doc.Break{})
			}
			tasks.Inlines = append(tasks.Inlines, a.taskLine(id)...)
		}
		row(t, cellOf(text(set.letter)), tasks)
	}
	out := rowsOf(t, p.At)
	t = a.newTable(doc.TableSchedule, a.label("table.schedule"), "table.visit", "table.date", "table.by-then", "table.tasks", "table.done")
	for i, v := range a.values.Plan.Visits {
		base := fmt.Sprintf("visit.%02d", v.Number)
		byThen := slices.Concat(a.value(base+".distance", p.At), []doc.Inline{text(a.label("list.comma"))}, a.loadsBy(base, p.At))
		row(t, cellOf(text(strconv.Itoa(v.Number))), cellOf(a.value(base+".date", p.At)...), cellOf(byThen...), cellOf(a.visitTasks(sets, i)...), cellOf(a.box()))
	}
	return append(out, rowsOf(t, p.At)...)
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
	for i, v := range a.values.Plan.Visits {
		for _, id := range v.Tasks {
			if a.lang.Jobs[id] == nil {
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

// visitTasks names what is done at one visit: sets by their letters, other tasks
// with the figures they need.
func (a *assembly) visitTasks(sets []*jobSet, visit int) (out []doc.Inline) {
	for _, s := range sets {
		if !slices.Contains(s.visits, visit) {
			continue
		}
		glue := func() {
			if len(out) > 0 {
				out = append(out, text(a.label("list.semicolon")))
			}
		}
		if s.letter != "" {
			glue()
			out = append(out, text(fill(a.label("schedule.set"), map[string]string{"set": s.letter})))
			continue
		}
		for _, id := range s.tasks {
			glue()
			out = append(out, a.taskName(id)...)
			out = append(out, a.taskFigures(id)...)
		}
	}
	return out
}

// loadsBy says how many loads the unit has carried by a visit.
func (a *assembly) loadsBy(visit string, at source.Pos) []doc.Inline {
	return a.sentence("schedule.loads", func(string) []doc.Inline { return a.value(visit+".loads", at) })
}

// taskLine is a task's title as a link, and the figures a person needs for it.
func (a *assembly) taskLine(id string) []doc.Inline {
	words := a.lang.Jobs[id]
	if words == nil {
		return nil // reported where the job itself is written
	}
	return append([]doc.Inline{a.internalLink(id, a.plain(words.Title))}, a.taskFigures(id)...)
}

// taskName is a task's title without a link: a visit names so many that page
// numbers would hide them.
func (a *assembly) taskName(id string) []doc.Inline {
	if words := a.lang.Jobs[id]; words != nil {
		return a.inlines(words.Title)
	}
	return nil
}

// taskFigures are the figures a person needs for a task.
func (a *assembly) taskFigures(id string) (out []doc.Inline) {
	t := a.taskOf(id)
	if t == nil {
		return nil
	}
	glue := "list.colon"
	for _, w := range t.Values {
		if _, ok := a.values.Lookup(w.Value); !ok {
			continue
		}
		out = append(out, text(a.label(glue)))
		out = append(out, a.value(w.Value, w.At)...)
		glue = "list.comma"
	}
	return out
}

// ruleKinds is the order in which undated rules are printed.
var ruleKinds = []string{"before-trip", "first-miles", "first-load", "every-loads", "often", "motor-hours", "before-storage", "after-storage"}

func (a *assembly) rules(p *template.Block) []doc.Block {
	t := a.newTable(doc.TableSchedule, a.label("table.rules"), "table.when", "table.tasks")
	for _, kind := range ruleKinds {
		// Tasks with the same sentence share a row.
		rows := map[string]*doc.Cell{}
		for _, r := range a.values.Plan.Rules {
			if r.Kind != kind || a.lang.Jobs[r.Task] == nil {
				continue
			}
			when := cellOf(a.interval(r.Task)...)
			key := doc.PlainText(when)
			tasks, seen := rows[key]
			if !seen {
				tasks = cellOf()
				rows[key] = tasks
				row(t, when, tasks)
			} else {
				tasks.Inlines = append(tasks.Inlines, &doc.Break{})
			}
			tasks.Inlines = append(tasks.Inlines, a.taskLine(r.Task)...)
		}
	}
	return rowsOf(t, p.At)
}

func (a *assembly) intervals(p *template.Block) []doc.Block {
	t := a.newTable(doc.TableSchedule, a.label("table.intervals"), "table.task", "table.how-often")
	for _, iv := range a.values.Plan.Intervals {
		if task := a.taskLine(iv.Task); len(task) > 0 {
			row(t, cellOf(task...), cellOf(a.interval(iv.Task)...))
		}
	}
	return rowsOf(t, p.At)
}
