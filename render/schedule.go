package render

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"ownerguide/render/doc"
	"ownerguide/render/template"
	"ownerguide/spec/derive"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// schedule returns the service schedule: with the argument visits the days on which jobs are
// due, otherwise all jobs by interval.
func (a *assembly) schedule(_ *doc.Section, p *template.Block) []doc.Block {
	if p.Call.Args[0] == "visits" {
		return a.visits(p)
	}
	return a.jobList(p)
}

// dueGroup is jobs that are due at the same time.
type dueGroup struct {
	when  []doc.Inline
	short string   // the same in a word or two, for the table of visits
	tasks []string // in the order of the line
}

// ruleKinds is the order of jobs without an interval of their own.
var ruleKinds = []string{"before-trip", "first-miles", "first-load", "every-loads", "often", "motor-hours"}

// storageKinds come last.
var storageKinds = []string{"before-storage", "after-storage"}

// dueGroups groups the jobs of the unit by when they are due.
func (a *assembly) dueGroups() (groups []*dueGroup) {
	if a.groups != nil {
		return a.groups
	}
	defer func() { a.groups = groups }()
	byWhen, seen := map[string]*dueGroup{}, map[string]bool{}
	add := func(id string) {
		if seen[id] || a.lang.Jobs[id] == nil { // a job without text is reported where it is written
			return
		}
		seen[id] = true
		when, _ := a.interval(id)
		key := doc.PlainText(when...)
		g := byWhen[key]
		if g == nil {
			g = &dueGroup{when: when}
			byWhen[key] = g
			groups = append(groups, g)
		}
		g.tasks = append(g.tasks, id)
	}
	rules := func(kinds []string) {
		for _, kind := range kinds {
			for _, r := range a.values.Plan.Rules {
				if r.Kind == kind {
					add(r.Task)
				}
			}
		}
	}
	rules(ruleKinds)
	order, intervals := map[string]string{}, slices.Clone(a.values.Plan.Intervals)
	for _, iv := range intervals {
		order[iv.Task] = a.intervalOrder(iv)
	}
	slices.SortStableFunc(intervals, func(x, y derive.TaskInterval) int { return strings.Compare(order[x.Task], order[y.Task]) })
	for _, iv := range intervals {
		add(iv.Task)
	}
	rules(storageKinds)
	return groups
}

// intervalOrder returns a sort key: more frequent jobs first, and of two with the same
// number of months the one with the shorter distance.
func (a *assembly) intervalOrder(iv derive.TaskInterval) string {
	count := func(unit string) float64 {
		if v, ok := a.values.Lookup("service." + iv.Task + "." + unit); ok {
			if n, _, ok := v.Number(a.print); ok {
				return n
			}
		}
		return 0
	}
	months := count("months")
	if years := count("years"); years > 0 {
		months = 12 * years
	}
	return fmt.Sprintf("%09.1f %09.1f", months, 999999-count("distance"))
}

// shortIntervals sets a short name of the interval for each group that is due on a visit: in
// months or years, otherwise by distance, otherwise both. Only groups that are due on the
// same visits may have the same name.
func (a *assembly) shortIntervals(groups []*dueGroup) {
	taken := map[string][]int{}
	name := func(counts int) {
		for _, g := range groups {
			names := a.intervalNames(g.tasks[0])
			due := a.dueOn(g)
			if g.short != "" || len(due) == 0 || len(names) != counts {
				continue
			}
			if len(names) > 1 {
				names = append(names, doc.Join(a.label("list.or"), names...))
			}
			for _, n := range names {
				g.short = n
				if taken[n] == nil || slices.Equal(taken[n], due) {
					break
				}
			}
			taken[g.short] = due
		}
	}
	name(1) // those with only one possible name first
	name(2)
	name(3)
}

// dueOn returns the numbers of the visits on which a group is due.
func (a *assembly) dueOn(g *dueGroup) (due []int) {
	for _, v := range a.values.Plan.Visits {
		if slices.ContainsFunc(g.tasks, func(id string) bool { return slices.Contains(v.Tasks, id) }) {
			due = append(due, v.Number)
		}
	}
	return due
}

// intervalNames returns the interval of a job in months or years, by distance and by motor
// hours, each without its second unit.
func (a *assembly) intervalNames(id string) (out []string) {
	for _, unit := range []string{"years", "months", "distance", "motor_hours"} {
		v, ok := a.values.Lookup("service." + id + "." + unit)
		if !ok || unit == "months" && len(out) > 0 {
			continue
		}
		first, _ := doc.FirstUnit(a.label(doc.BothUnits), a.printed(v, source.Pos{}))
		if unit != "distance" {
			n, _, _ := v.Number(a.print)
			first = doc.Fill(a.label(a.counted("visit."+unit, n)), "n", first)
		}
		out = append(out, first)
	}
	return out
}

// jobList lists every job once, grouped by interval, with the day of its next visit and
// a check box. Jobs before each trip are ticked elsewhere and only named here.
func (a *assembly) jobList(p *template.Block) (out []doc.Block) {
	next := a.nextDays(p.At)
	for _, g := range a.dueGroups() {
		when := []doc.Inline{&doc.Emphasis{Strong: true, Inlines: capital(g.when)}}
		head := &doc.Paragraph{Attributes: doc.Attributes{Origin: p.At}, Inlines: when}
		out = append(out, head)
		if a.taskOf(g.tasks[0]).Trigger.Value == "before-trip" {
			var jobs []doc.Inline
			for i, id := range g.tasks {
				if i > 0 {
					jobs = append(jobs, text(" · "))
				}
				jobs = append(jobs, entry(a.taskLink(id)))
			}
			head.Inlines = a.sentence("schedule.before-trip", map[string][]doc.Inline{"when": when, "jobs": jobs})
			continue
		}
		t := a.newTable(doc.TableSchedule, doc.PlainText(g.when...))
		for _, id := range g.tasks {
			row(t, cellOf(entry(a.taskLink(id))), cellOf(next[id]...), cellOf(a.box()))
		}
		out = append(out, t)
	}
	return append(out, &doc.Paragraph{Attributes: doc.Attributes{Origin: p.At}, Inlines: []doc.Inline{text(a.label("interval.either"))}})
}

// capital capitalizes the first letter.
func capital(words []doc.Inline) []doc.Inline {
	if len(words) == 0 {
		return nil
	}
	if first, ok := words[0].(*doc.Text); ok {
		r, size := utf8.DecodeRuneInString(first.Content)
		words = slices.Clone(words)
		words[0] = text(string(unicode.ToUpper(r)) + first.Content[size:])
	}
	return words
}

// nextDays returns the first day of each job that has one: that of its first visit, or when
// a part is too old. A job of the first miles that were driven already on delivery is
// overdue.
func (a *assembly) nextDays(at source.Pos) map[string][]doc.Inline {
	next := map[string][]doc.Inline{}
	for _, r := range a.values.Plan.Rules {
		if use := a.build.Sheet.Use; use != nil && len(r.At) > 0 && use.Already.Set && r.At[0] <= use.Already.Value {
			next[r.Task] = []doc.Inline{text(a.label("schedule.overdue"))}
		}
	}
	for _, v := range a.values.Plan.Visits {
		for _, id := range v.Tasks {
			if next[id] == nil {
				next[id] = a.value(fmt.Sprintf("visit.%02d.date", v.Number), at)
			}
		}
	}
	for _, t := range a.tasks {
		if t.Trigger.Value != "age" {
			continue
		}
		for _, w := range t.Values {
			if v, ok := a.values.Lookup(w.Value); ok {
				if _, day := v.Exact.(quantity.Date); !day {
					continue
				}
				next[t.ID.Value] = a.value(w.Value, at)
			}
		}
	}
	return next
}

// dot marks in the table of visits what is due.
const dot = "•"

// visits returns a table of the days on which jobs are due, with the distance by then and a
// dot in the column of each interval with jobs due.
func (a *assembly) visits(p *template.Block) []doc.Block {
	t := a.newTable(doc.TableSchedule, a.label("table.schedule"), "table.visit", "table.date", "table.by-then")
	groups := a.dueGroups()
	a.shortIntervals(groups)
	var due [][]int // the visits with a dot in each column
	for _, g := range intervalColumns(groups) {
		t.Head.Cells = append(t.Head.Cells, cellOf(text(g.short)))
		due = append(due, a.dueOn(g))
	}
	for _, v := range a.values.Plan.Visits {
		base := fmt.Sprintf("visit.%02d", v.Number)
		cells := []*doc.Cell{cellOf(text(strconv.Itoa(v.Number)+"\u00a0"), a.box()), cellOf(a.value(base+".date", p.At)...), cellOf(a.firstUnit(base+".distance", p.At)...)}
		for _, on := range due {
			c := &doc.Cell{Align: doc.AlignCenter}
			if slices.Contains(on, v.Number) {
				c.Inlines = []doc.Inline{&doc.Emphasis{Strong: true, Inlines: []doc.Inline{text(dot)}}}
			}
			cells = append(cells, c)
		}
		row(t, cells...)
	}
	return rowsOf(t, p.At)
}

// intervalColumns returns one group for each name: those with the same are due together.
func intervalColumns(groups []*dueGroup) (out []*dueGroup) {
	for _, g := range groups {
		if g.short != "" && !slices.ContainsFunc(out, func(c *dueGroup) bool { return c.short == g.short }) {
			out = append(out, g)
		}
	}
	return out
}

// firstUnit returns a figure without its second unit.
func (a *assembly) firstUnit(name string, at source.Pos) []doc.Inline {
	out := a.value(name, at)
	for _, n := range out {
		if v, ok := n.(*doc.Value); ok {
			v.Printed, _ = doc.FirstUnit(a.label(doc.BothUnits), v.Printed)
		}
	}
	return out
}

// taskLink returns a task's title as a link.
func (a *assembly) taskLink(id string) doc.Inline {
	return a.internalLink(id, a.plain(a.lang.Jobs[id]().Title))
}

// taskName returns a task's title without a link, for visits, where there would be too many
// page numbers.
func (a *assembly) taskName(id string) []doc.Inline {
	if words := a.lang.Jobs[id]; words != nil {
		return a.inlines(words().Title)
	}
	return nil
}

// taskFigures returns the figures needed for a task.
func (a *assembly) taskFigures(id string) []doc.Inline {
	t := a.taskOf(id)
	if t == nil {
		return nil
	}
	var figures [][]doc.Inline
	for _, w := range t.Values {
		if _, ok := a.values.Lookup(w.Value); ok {
			figures = append(figures, a.value(w.Value, w.At))
		}
	}
	return a.list("list.comma", "list.comma", figures...)
}
