package derive

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"

	"ownerguide/spec"
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

// Parameters of the dated schedule.
const (
	planMonths = 24          // from delivery
	gatherDays = 14          // tasks due within this many days share a visit
	monthDays  = 365.25 / 12 // a month of use
	weekDays   = 7           // loads are counted by the week
	farDays    = 36525       // a century, longer than any schedule
)

// Plan is the maintenance schedule of one unit: what is due on a date, what is due by a rule,
// and the intervals of all tasks.
type Plan struct {
	Rules     []Rule         // in the order of the line's tasks
	Visits    []Visit        // by date; empty if the unit has no delivery date or no expected use
	Intervals []TaskInterval // of every task that has one, in the order of the line's tasks
}

// Kinds of rule: the triggers of tasks, and two for intervals that have no date.
const (
	RuleOften      = "often"       // an interval shorter than a month
	RuleMotorHours = "motor-hours" // an interval in motor hours if the expected hours are not known
)

// Rule is a task that has no date.
type Rule struct {
	Task string
	Kind string              // a task's trigger, or one of the kinds above
	At   []quantity.Distance // for first-miles
}

// Visit is one day on which tasks are due together.
type Visit struct {
	Number   int // from 1
	Date     quantity.Date
	Distance quantity.Distance // driven by then
	Loads    int               // carried by then
	Tasks    []string          // in the order of the line's tasks
	reasons  []Input           // why each of them is due: an interval, counted from an earlier visit or from the start, or an age
}

// TaskInterval is the interval of a task on this unit: the shortest that its fitted components
// state, separately for each unit of counting.
type TaskInterval struct {
	Task     string
	Interval product.Interval
}

// plan returns the schedule of the unit, which is calculated once.
func (r *run) plan() *Plan {
	if r.care != nil {
		r.build.DependOn(r.dependsOn[carePlan])
	} else {
		// The ages by which a task is due are recorded with the visit that results.
		ages := r.eval()
		r.trace(carePlan, func() {
			p := plan(r.build, func(name string) (quantity.Date, bool) { return evalAge(ages, name) })
			r.care = &p
		})
		ages.end()
	}
	r.readsWeight = r.readsWeight || r.onWeight[carePlan]
	return r.care
}

// ageValues are the values with the date by which an age task is due.
var ageValues = map[string]string{
	"replace-tires":             "tires.replace_by",
	"replace-breakaway-battery": "breakaway.replace_by",
}

// plan calculates the schedule of a unit. Due dates follow from the expected use; each is the
// earlier of calendar and use, and tasks due within two weeks are combined on the earliest of
// their dates. The tasks of an option that is added or removed after delivery begin and end on
// its date. Age returns the dates by which tires and breakaway battery are too old.
func plan(b *spec.Build, age func(value string) (quantity.Date, bool)) Plan {
	p := Plan{Intervals: intervals(b)}
	rate := usage(b.Sheet.Use)
	for task := range b.Tasks() {
		id, trigger := task.ID.Value, task.Trigger.Value
		switch trigger {
		case "age": // it has a date, or a value
		case "interval":
			interval, has := taskInterval(b, id)
			if kind := rate.rule(&interval); has && kind != "" {
				p.Rules = append(p.Rules, Rule{Task: id, Kind: kind})
			}
		default:
			rule := Rule{Task: id, Kind: trigger}
			for _, at := range task.At {
				rule.At = append(rule.At, at.Value)
			}
			p.Rules = append(p.Rules, rule)
		}
	}
	slices.SortStableFunc(p.Rules, func(x, y Rule) int { return cmp.Compare(x.first(), y.first()) })
	if b.Has("dated") {
		p.Visits = visits(b, rate, duties(b, rate, age))
	}
	return p
}

// first returns the distance after which a rule is due for the first time; 0 if it does not depend on
// distance. Rules for the first miles are sorted by it.
func (r Rule) first() quantity.Distance {
	if len(r.At) == 0 {
		return 0
	}
	return r.At[0]
}

// intervals returns the intervals of the tasks of a unit.
func intervals(b *spec.Build) (out []TaskInterval) {
	for task := range b.Tasks() {
		if interval, has := taskInterval(b, task.ID.Value); has {
			out = append(out, TaskInterval{task.ID.Value, interval})
		}
	}
	return out
}

// taskInterval combines the intervals of the fitted components for a task.
func taskInterval(b *spec.Build, task string) (least product.Interval, ok bool) {
	for _, part := range partsRequiring(b, task) {
		every := part.Common.Service.Get(task)
		ok = true
		least.Every = shorter(least.Every, every.Every)
		least.Months = shorter(least.Months, every.Months)
		least.Loads = shorter(least.Loads, every.Loads)
		least.MotorHours = shorter(least.MotorHours, every.MotorHours)
	}
	return least, ok
}

// partsRequiring returns the parts that have an interval for a task.
func partsRequiring(b *spec.Build, task string) []*spec.Fitting {
	return b.PartsWhere(func(p *spec.Fitting) bool { return p.Common.Service.Get(task) != nil })
}

// shorter returns the smaller of two entries, the first if they are equal.
func shorter[T cmp.Ordered](a, b source.Given[T]) source.Given[T] {
	if !a.Set || b.Set && b.Value < a.Value {
		return b
	}
	return a
}

// dueTask is a task with its duties.
type dueTask struct {
	id      string
	duties  []*duty
	last    quantity.Date // on which it was done; zero if never
	since   Input         // the date of that visit
	day     quantity.Date // on which it is due next; zero if it is not due until the end
	because *duty         // the duty that makes it due then
}

// next finds the day on which a task is due next, from the day on which it was last done.
func (t *dueTask) next(r rates, end quantity.Date) {
	t.day = quantity.Date{}
	for _, d := range t.duties {
		day, ok := d.due(r, t.last)
		if ok && !end.Before(day) && (d.ends.IsZero() || day.Before(d.ends)) && (t.day.IsZero() || day.Before(t.day)) {
			t.day, t.because = day, d
		}
	}
}

// visits returns the visits from delivery to the end of the plan. A task's next due date is
// counted from the day it was done, not from the day it was due, so that no gap is longer than
// the interval.
func visits(b *spec.Build, r rates, duties []duty) []Visit {
	start := b.Sheet.Delivered.Value
	end := start.AddMonths(planMonths)
	var tasks []dueTask
	for _, task := range b.Line.Tasks {
		t := dueTask{id: task.ID.Value}
		for i := range duties {
			if duties[i].task == t.id {
				t.duties = append(t.duties, &duties[i])
			}
		}
		if t.next(r, end); !t.day.IsZero() {
			tasks = append(tasks, t)
		}
	}
	var out []Visit
	var reasons []Input // of the current visit
	for {
		var first quantity.Date
		for _, t := range tasks {
			if first.IsZero() || !t.day.IsZero() && t.day.Before(first) {
				first = t.day
			}
		}
		if first.IsZero() {
			return out
		}
		v := Visit{Number: len(out) + 1, Date: first}
		days := float64(start.DaysUntil(first))
		v.Distance = quantity.Miles(r.already + days*r.miles)
		v.Loads = int(math.Floor(days*r.loads + 1e-9))
		now := v.day()
		for i := range tasks {
			t := &tasks[i]
			present := func(d *duty) bool { return !first.Before(d.starts) && (d.ends.IsZero() || first.Before(d.ends)) }
			// A component that is not on the unit yet cannot be serviced early.
			if t.day.IsZero() || first.DaysUntil(t.day) > gatherDays || !slices.ContainsFunc(t.duties, present) {
				continue
			}
			v.Tasks = append(v.Tasks, t.id)
			if !t.last.IsZero() && !slices.Contains(reasons, t.since) {
				reasons = append(reasons, t.since)
			}
			reasons = append(reasons, t.because.reason(r, t.last, t.day))
			t.last, t.since = first, now
			t.next(r, end)
		}
		v.reasons, reasons = slices.Clone(reasons), reasons[:0]
		out = append(out, v)
	}
}

// day returns the date of the visit as an input of others.
func (v *Visit) day() Input { return Input{Name: visitName(v.Number) + ".date"} }

// noteVisits records for each number of visits what it depends on: a single task that is due as often
// by itself. Other tasks bring its dates forward, which does not reduce the number, or add visits.
func (r *run) noteVisits(e *Eval) {
	b := r.build
	rate := usage(b.Sheet.Use)
	alone := map[string]int{} // by task: the number of visits for it alone
	everything := b.TraceDetached(func() {
		byTask := map[string][]duty{}
		for _, d := range duties(b, rate, func(string) (quantity.Date, bool) { return quantity.Date{}, false }) {
			byTask[d.task] = append(byTask[d.task], d)
		}
		for task, duties := range byTask {
			alone[task] = len(visits(b, rate, duties))
		}
		r.plan()
	})
	for n := range mostVisits {
		e.subclaim(fmt.Sprintf("%02d", n+1), func() {
			for _, task := range slices.Sorted(maps.Keys(alone)) {
				if alone[task] > n {
					b.Line.Task(task).When.Holds(b.Has)
					partsRequiring(b, task)
					return
				}
			}
			b.DependOn(everything)
		})
	}
}

// mostVisits is the greatest number of a visit that a text may name.
const mostVisits = 99

// visitName returns the prefix of the names of a visit's values.
func visitName(number int) string { return fmt.Sprintf("visit.%02d", number) }

// duties returns everything dated in the plan. A unit that was changed after delivery is
// considered in each state between the changes; jobs for what it no longer has are left out,
// since its guide does not describe them.
func duties(b *spec.Build, r rates, age func(string) (quantity.Date, bool)) (out []duty) {
	delivered := b.Sheet.Delivered.Value
	stages := stages(b)
	for n, stage := range stages {
		for task := range stage.build.Tasks() {
			if !task.When.Holds(b.Has) {
				continue
			}
			for _, d := range stageDuties(stage.build, task, r) {
				d.starts, d.since, d.counts = stage.from, stage.from, stage.from
				if stage.from == delivered {
					d.driven = r.already
					if task.Trigger.Value == "age" {
						d.counts = b.Sheet.Built.Value
					}
				}
				if n+1 < len(stages) {
					d.ends = stages[n+1].from
				}
				out = extend(out, d, task.Trigger.Value == "age")
			}
		}
	}
	for task := range b.Tasks() {
		id := task.ID.Value
		name, known := ageValues[id]
		if !known || task.Trigger.Value != "age" {
			continue
		}
		if by, ok := age(name); ok {
			out = append(out, duty{task: id, place: name, by: by, starts: delivered})
		}
	}
	return out
}

// stageDuties returns the duties of the components in one state of the unit for a task.
func stageDuties(b *spec.Build, task *product.Task, r rates) []duty {
	trigger := task.Trigger.Value
	if trigger != "interval" && trigger != "age" {
		return nil
	}
	interval, _ := taskInterval(b, task.ID.Value)
	if trigger == "interval" && r.rule(&interval) != "" {
		return nil // a rule, without date
	}
	var out []duty
	for _, part := range partsRequiring(b, task.ID.Value) {
		out = append(out, duty{task: task.ID.Value, place: part.Place, part: part.Component, interval: part.Common.Service.Get(task.ID.Value)})
	}
	return out
}

// extend adds a duty, or extends the duty of the same component if it stays on through a
// change. What takes the place of another goes on with its count, except for age: a pump with
// another control comes to the same fluid and fittings.
func extend(list []duty, d duty, age bool) []duty {
	for i := range list {
		switch was := &list[i]; {
		case was.task != d.task || was.place != d.place || was.ends != d.starts:
		case was.part == d.part:
			was.ends = d.ends
			return list
		case !age:
			d.since, d.counts, d.driven = was.since, was.counts, was.driven
		}
	}
	return append(list, d)
}

// stage is the state of the unit from a day on.
type stage struct {
	from  quantity.Date
	build *spec.Build
}

// stages returns the states of the unit at delivery and after each change of its options. A
// state that cannot be built, such as one between two options exchanged on different days, is
// skipped.
func stages(b *spec.Build) []stage {
	delivered := b.Sheet.Delivered.Value
	days := []quantity.Date{delivered}
	for _, c := range slices.Concat(b.Sheet.Added, b.Sheet.Removed) {
		if delivered.Before(c.Date.Value) {
			days = append(days, c.Date.Value)
		}
	}
	slices.SortFunc(days, func(a, b quantity.Date) int { return b.DaysUntil(a) })
	days = slices.Compact(days)
	if len(days) == 1 {
		return []stage{{delivered, b}}
	}
	var out []stage
	for i, day := range days {
		then := b
		if i < len(days)-1 {
			s := *b.Sheet
			s.Added, s.Removed = until(s.Added, day), until(s.Removed, day)
			then, _ = spec.Resolve(b.Line, &s)
		}
		if then != nil {
			out = append(out, stage{day, then})
		}
	}
	out[0].from = delivered
	return out
}

// until returns the changes made by a day.
func until(changes []sheet.Change, day quantity.Date) (out []sheet.Change) {
	for _, c := range changes {
		if !day.Before(c.Date.Value) {
			out = append(out, c)
		}
	}
	return out
}

// yearsAfterFitting returns the day that comes some years after a part was fitted: when the unit was
// built, or when the option that brought the part was added.
func yearsAfterFitting(e *Eval, f *spec.Fitting, years source.Given[int]) quantity.Date {
	months, fitted := 12*Read(e, years), e.Build.Sheet.Built
	for _, o := range e.Build.Changed() {
		if part := o.Option.Parts.Get(f.Place); part != nil && part.Use.Value == f.Component {
			fitted = o.Change.Date
			break
		}
	}
	return Read(e, fitted).AddMonths(months)
}
