package derive

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"ownerguide/spec"
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

// How the dated schedule is laid out.
const (
	planMonths = 24          // from delivery
	gatherDays = 14          // tasks due within these days share a visit
	monthDays  = 365.25 / 12 // a month of use
	weekDays   = 7           // loads are counted by the week
	farDays    = 36525       // a century, farther than any schedule looks
)

// Plan is the care of one unit: what is due on a date, what is due by a rule,
// and how often everything is due.
type Plan struct {
	Rules     []Rule         // in the order of the line's tasks
	Visits    []Visit        // by date; none when the unit has no delivery date or no expected use
	Intervals []TaskInterval // of every task that has one, in the order of the line's tasks
}

// Kinds of rule: the triggers of tasks, and two for intervals that no date fits.
const (
	RuleOften      = "often"       // an interval that comes round more than once a month
	RuleMotorHours = "motor-hours" // an interval in motor hours where nobody said how many there will be
)

// Rule is a task that is never dated.
type Rule struct {
	Task     string
	Kind     string              // a task's trigger, or one of the kinds above
	At       []quantity.Distance // of first-miles
	Interval product.Interval    // of every-loads, often and motor-hours
}

// Visit is one day on which tasks are due together.
type Visit struct {
	Number   int // from 1
	Date     quantity.Date
	Distance quantity.Distance // on the unit by then
	Loads    int               // carried by then
	Tasks    []string          // in the order of the line's tasks
	reasons  []Input           // what made each of them due: an interval, counted from an earlier visit or from the start, or an age
}

// TaskInterval is how often a task is due on this unit: the shortest that its
// fitted components ask for, taken apart for each way of counting.
type TaskInterval struct {
	Task     string
	Interval product.Interval
}

// plan gives the care of the unit, worked out once.
func (r *run) plan() *Plan {
	if r.care == nil {
		// The ages a task is due by are put down with the visit they bring about.
		ages := r.eval()
		p := plan(r.build, func(name string) (quantity.Date, bool) { return evalAge(ages, name) })
		r.care = &p
	}
	return r.care
}

// ageValues are the values that say by when an age task is due.
var ageValues = map[string]string{
	"replace-tires":             "tires.replace_by",
	"replace-breakaway-battery": "breakaway.replace_by",
}

// plan lays out the care of a unit. Due dates come from the expected use;
// each is the earlier of calendar and use and never later than either, and
// tasks due within two weeks are gathered on the earliest of their dates. An
// option fitted or taken off after delivery starts and stops its tasks on its
// date. Age gives the dates by which tires and breakaway battery are too old.
func plan(b *spec.Build, age func(value string) (quantity.Date, bool)) Plan {
	p := Plan{Intervals: intervals(b)}
	rate := usage(b.Sheet.Use)
	for _, task := range b.Line.Tasks {
		if !task.When.Holds(b.Has) {
			continue
		}
		id, trigger := task.ID.Value, task.Trigger.Value
		interval, has := taskInterval(b, id)
		switch trigger {
		case "age": // dated, or told as a value
		case "interval":
			if kind := rate.rule(interval); has && kind != "" {
				p.Rules = append(p.Rules, Rule{Task: id, Kind: kind, Interval: interval})
			}
		default:
			rule := Rule{Task: id, Kind: trigger, Interval: interval}
			for _, at := range task.At {
				rule.At = append(rule.At, at.Value)
			}
			p.Rules = append(p.Rules, rule)
		}
	}
	if b.Has("dated") {
		p.Visits = visits(b, rate, age)
	}
	return p
}

// intervals lists how often each task of a unit is due.
func intervals(b *spec.Build) (out []TaskInterval) {
	for _, task := range b.Line.Tasks {
		if !task.When.Holds(b.Has) {
			continue
		}
		if interval, has := taskInterval(b, task.ID.Value); has {
			out = append(out, TaskInterval{task.ID.Value, interval})
		}
	}
	return out
}

// taskInterval combines what the fitted components ask of a task.
func taskInterval(b *spec.Build, task string) (least product.Interval, ok bool) {
	for _, part := range b.Parts {
		if every := part.Common.Service.Get(task); every != nil {
			ok = true
			least.Every = sooner(least.Every, every.Every)
			least.Months = sooner(least.Months, every.Months)
			least.Loads = sooner(least.Loads, every.Loads)
			least.MotorHours = sooner(least.MotorHours, every.MotorHours)
		}
	}
	return least, ok
}

// sooner gives the smaller of two entries, the first of equals.
func sooner[T cmp.Ordered](a, b source.Given[T]) source.Given[T] {
	if !a.Set || b.Set && b.Value < a.Value {
		return b
	}
	return a
}

// rates is how much a unit is used in a day.
type rates struct {
	miles, loads, hours float64 // a day; 0 where unknown or none
	already             float64 // miles, by a delivery carrier
	known               bool    // whether the buyer said anything
}

func usage(u *sheet.Use) rates {
	if u == nil {
		return rates{}
	}
	return rates{
		miles:   float64(u.PerMonth.Value) / monthDays,
		loads:   float64(u.LoadsPerWeek.Value) / weekDays,
		hours:   float64(u.MotorHoursPerMonth.Value) / monthDays,
		already: float64(u.Already.Value),
		known:   true,
	}
}

// rule gives the kind of rule an interval is printed as; empty when it is dated.
func (r rates) rule(i product.Interval) string {
	if i.MotorHours.Set && !i.Every.Set && !i.Months.Set && !i.Loads.Set && r.hours == 0 {
		return RuleMotorHours
	}
	if i.Loads.Set && !i.Every.Set && !i.Months.Set && !i.MotorHours.Set && r.loads == 0 {
		return "every-loads"
	}
	if r.known && r.days(i) < monthDays-1e-9 && !monthly(r, i) {
		return RuleOften
	}
	return ""
}

// monthly is true of an interval that only the calendar makes short: one month
// is not more often than monthly, though February has fewer days than average.
func monthly(r rates, i product.Interval) bool {
	return r.days(product.Interval{Every: i.Every, Loads: i.Loads, MotorHours: i.MotorHours}) >= monthDays-1e-9
}

// days gives how long an interval lasts at this rate, calendar months at their
// average; infinite when nothing ends it.
func (r rates) days(i product.Interval) float64 {
	days := r.useDays(i, 0)
	if i.Months.Set {
		days = min(days, float64(i.Months.Value)*monthDays)
	}
	return days
}

// useDays gives after how many days use alone ends an interval that began with
// some miles already driven.
func (r rates) useDays(i product.Interval, driven float64) float64 {
	days := math.Inf(1)
	end := func(set bool, amount, perDay float64) {
		if set && perDay > 0 {
			days = min(days, amount/perDay)
		}
	}
	end(i.Every.Set, max(0, float64(i.Every.Value)-driven), r.miles)
	if i.Every.Set && driven >= float64(i.Every.Value) {
		days = 0 // overdue on arrival, even for an owner who never drives
	}
	end(i.Loads.Set, float64(i.Loads.Value), r.loads)
	end(i.MotorHours.Set, float64(i.MotorHours.Value), r.hours)
	return days
}

// duty is one reason for one task: what one component in its place asks, or an
// age that is reached on a date.
type duty struct {
	task     string
	place    string           // of the component; for an age the value's name
	interval product.Interval // from the last time
	by       quantity.Date    // of an age; zero otherwise
	starts   quantity.Date    // first day the component is on the unit
	ends     quantity.Date    // day it comes off; zero while it stays
	counts   quantity.Date    // from which day calendar months count before the first time
	driven   float64          // miles that count before the first time
}

// due gives the day this duty is due, when the task was last done on a day;
// zero last means never. ok is false when nothing ends the interval.
func (d duty) due(r rates, last quantity.Date) (day quantity.Date, ok bool) {
	from, driven := d.counts, d.driven
	if !d.by.IsZero() {
		if !last.IsZero() {
			return day, false // the new part starts a life of its own, beyond this plan
		}
		return later(d.by, d.starts), true
	}
	used := d.starts
	if !last.IsZero() && !last.Before(d.starts) {
		from, used, driven = last, last, 0
	}
	if days := r.useDays(d.interval, driven); days < farDays {
		day, ok = used.AddDays(int(math.Floor(days+1e-9))), true
	}
	if d.interval.Months.Set {
		if month := from.AddMonths(d.interval.Months.Value); !ok || month.Before(day) {
			day, ok = month, true
		}
	}
	if !last.IsZero() && !last.Before(day) {
		day = last.AddDays(1) // a task is not due twice on one day
	}
	return later(day, d.starts), ok
}

// reason gives the entry that alone makes the duty due on the day it is due;
// of several the first. Of an age it is the value of that name.
func (d duty) reason(r rates, last, day quantity.Date) Input {
	if !d.by.IsZero() {
		return Input{Name: d.place, Text: d.by.String()}
	}
	i := d.interval
	for _, alone := range []struct {
		interval product.Interval
		entry    Input
	}{
		{product.Interval{Months: i.Months}, inputOf(i.Months)}, {product.Interval{Every: i.Every}, inputOf(i.Every)},
		{product.Interval{Loads: i.Loads}, inputOf(i.Loads)}, {product.Interval{MotorHours: i.MotorHours}, inputOf(i.MotorHours)},
	} {
		only := d
		only.interval = alone.interval
		if then, ok := only.due(r, last); ok && then == day {
			return alone.entry
		}
	}
	return Input{}
}

func inputOf[T any](g source.Given[T]) Input { return Input{Path: g.Path, Text: g.Text, At: g.At} }

func later(a, b quantity.Date) quantity.Date {
	if a.Before(b) {
		return b
	}
	return a
}

// visits walks from delivery to the end of the plan. A task's next due date
// counts from the day it was done, not from the day it was due, so that no gap
// is longer than the interval.
func visits(b *spec.Build, r rates, age func(string) (quantity.Date, bool)) []Visit {
	start := b.Sheet.Delivered.Value
	end := start.AddMonths(planMonths)
	duties := duties(b, r, age)
	last, visited := map[string]quantity.Date{}, map[quantity.Date]Input{}
	var out []Visit
	for {
		due, because := map[string]quantity.Date{}, map[string]duty{}
		var first quantity.Date
		for _, d := range duties {
			day, ok := d.due(r, last[d.task])
			if !ok || end.Before(day) || !d.ends.IsZero() && !day.Before(d.ends) {
				continue
			}
			if known, has := due[d.task]; !has || day.Before(known) {
				due[d.task], because[d.task] = day, d
			}
			if first.IsZero() || day.Before(first) {
				first = day
			}
		}
		if first.IsZero() {
			return out
		}
		v := Visit{Number: len(out) + 1, Date: first}
		days := float64(start.DaysUntil(first))
		v.Distance = quantity.Miles(r.already + days*r.miles)
		v.Loads = int(math.Floor(days*r.loads + 1e-9))
		for _, task := range b.Line.Tasks {
			id := task.ID.Value
			// A component that is not on the unit yet cannot be cared for early.
			if day, ok := due[id]; ok && first.DaysUntil(day) <= gatherDays && present(duties, id, first) {
				v.Tasks = append(v.Tasks, id)
				if since, before := visited[last[id]]; before && !slices.ContainsFunc(v.reasons, func(in Input) bool { return in.Name == since.Name }) {
					v.reasons = append(v.reasons, since)
				}
				v.reasons = append(v.reasons, because[id].reason(r, last[id], day))
				last[id] = first
			}
		}
		visited[first] = Input{Name: visitName(v.Number) + ".date", Text: first.String()}
		out = append(out, v)
	}
}

// visitName gives the prefix of a visit's values.
func visitName(number int) string { return fmt.Sprintf("visit.%02d", number) }

// present tells whether any component that asks for a task is on the unit on a day.
func present(duties []duty, task string, on quantity.Date) bool {
	return slices.ContainsFunc(duties, func(d duty) bool {
		return d.task == task && !on.Before(d.starts) && (d.ends.IsZero() || on.Before(d.ends))
	})
}

// duties lists what is dated over the whole plan. A unit that was changed after
// delivery is looked at as it was between the changes; a job of what it no longer
// has is left out, since its guide does not tell how to do it.
func duties(b *spec.Build, r rates, age func(string) (quantity.Date, bool)) []duty {
	delivered := b.Sheet.Delivered.Value
	var out []duty
	stages := stages(b)
	for n, stage := range stages {
		for _, task := range stage.build.Line.Tasks {
			if !task.When.Holds(stage.build.Has) || !task.When.Holds(b.Has) {
				continue
			}
			for _, d := range stageDuties(stage.build, task, r) {
				d.starts, d.counts = stage.from, stage.from
				if stage.from == delivered {
					d.driven = r.already
					if task.Trigger.Value == "age" {
						d.counts = b.Sheet.Built.Value
					}
				}
				if n+1 < len(stages) {
					d.ends = stages[n+1].from
				}
				out = extend(out, d)
			}
		}
	}
	for _, task := range b.Line.Tasks {
		id := task.ID.Value
		name, known := ageValues[id]
		if !known || task.Trigger.Value != "age" || !task.When.Holds(b.Has) {
			continue
		}
		if by, ok := age(name); ok {
			out = append(out, duty{task: id, place: name, by: by, starts: delivered})
		}
	}
	return out
}

// stageDuties lists what the components fitted at one time ask of a task.
func stageDuties(b *spec.Build, task product.Task, r rates) []duty {
	trigger := task.Trigger.Value
	if trigger != "interval" && trigger != "age" {
		return nil
	}
	interval, _ := taskInterval(b, task.ID.Value)
	if trigger == "interval" && r.rule(interval) != "" {
		return nil // a rule, never dated
	}
	var out []duty
	for _, part := range b.Parts {
		if every := part.Common.Service.Get(task.ID.Value); every != nil {
			out = append(out, duty{task: task.ID.Value, place: part.Place + " " + part.Component, interval: *every})
		}
	}
	return out
}

// extend adds a duty, or lengthens the one that stands for the same component
// staying on through a change.
func extend(list []duty, d duty) []duty {
	for i := range list {
		if list[i].task == d.task && list[i].place == d.place && list[i].ends == d.starts {
			list[i].ends = d.ends
			return list
		}
	}
	return append(list, d)
}

// stage is the unit as it was from a day on.
type stage struct {
	from  quantity.Date
	build *spec.Build
}

// stages gives the unit at delivery and after each change of its options. A
// state that cannot be built, such as one between two options swapped on
// different days, is passed over.
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

// until keeps the changes made by a day.
func until(changes []sheet.Change, day quantity.Date) []sheet.Change {
	var out []sheet.Change
	for _, c := range changes {
		if !day.Before(c.Date.Value) {
			out = append(out, c)
		}
	}
	return out
}

// addedWith gives the later fitting of the option that brought a part; nil for
// a part that was there from the start.
func addedWith(b *spec.Build, f *spec.Fitting) *sheet.Change {
	for _, o := range b.Options {
		if o.Change == nil {
			continue
		}
		if part := o.Option.Parts.Get(f.Place); part != nil && part.Use.Value == f.Component {
			return o.Change
		}
	}
	return nil
}

func init() {
	family(Decl{
		Name: "service", Round: statedMost,
		Formula: "for each task the shortest interval its fitted components ask for, in distance, months (and years where they come out even), loads and motor hours; whichever comes first",
		Source:  Source{Stated, "the component makers' service entries in the product line"},
	}, func(e *Eval) []Member {
		var out []Member
		for _, t := range e.run.plan().Intervals {
			if t.Interval.Every.Set {
				out = append(out, readMember(e, t.Task+".distance", t.Interval.Every))
			}
			for _, n := range []struct {
				suffix string
				given  source.Given[int]
			}{{".months", t.Interval.Months}, {".years", wholeYears(t.Interval.Months)}, {".loads", t.Interval.Loads}, {".motor_hours", t.Interval.MotorHours}} {
				if n.given.Set {
					out = append(out, readMember(e, t.Task+n.suffix, n.given))
				}
			}
		}
		return out
	})
	family(Decl{
		Name: "visit", When: when("dated"), Round: quantity.Rounding{Side: quantity.Down, Step: 10, MetricStep: 10},
		Formula: "from delivery for 24 months: each task on the earlier of calendar and use since it was last done; tasks due within 14 days on the earliest of their days; distance and loads from the expected use, distance with driven_already",
		Source:  Source{Arithmetic, "intervals of the product line and use expected by the buyer"},
	}, func(e *Eval) []Member {
		s, use := e.Build.Sheet, e.Build.Sheet.Use
		var out []Member
		for _, v := range e.run.plan().Visits {
			day := Input{Name: visitName(v.Number) + ".date", Text: v.Date.String()}
			_, n, _ := strings.Cut(visitName(v.Number), ".")
			out = append(out, e.member(n+".date", func(e *Eval) any {
				Read(e, s.Delivered)
				Read(e, use.PerMonth)
				readGiven(e, use.LoadsPerWeek)
				readGiven(e, use.MotorHoursPerMonth)
				readGiven(e, use.Already)
				e.inputs = append(e.inputs, v.reasons...)
				return v.Date
			}), e.member(n+".distance", func(e *Eval) any {
				e.inputs = append(e.inputs, day)
				Read(e, s.Delivered)
				Read(e, use.PerMonth)
				readGiven(e, use.Already)
				return v.Distance
			}), e.member(n+".loads", func(e *Eval) any {
				e.inputs = append(e.inputs, day)
				Read(e, s.Delivered)
				readGiven(e, use.LoadsPerWeek)
				return v.Loads
			}))
		}
		return out
	})
}

var drivenAlready = declare(Decl{
	Name: "use.driven_already", When: when("carrier-miles"), Round: asStated,
	Formula: "as on the build sheet: how far a delivery carrier drives the unit before hand-over", Source: fromSheet,
}, func(e *Eval) quantity.Distance {
	if e.Build.Sheet.Use == nil {
		e.Absent("the sheet says nothing of the use")
		return 0
	}
	return Read(e, e.Build.Sheet.Use.Already)
})

// readGiven reads an entry that may have been left out.
func readGiven[T any](e *Eval, g source.Given[T]) {
	if g.Set {
		Read(e, g)
	}
}

// evalAge reads an age value through an evaluation, so that it is on record.
func evalAge(e *Eval, name string) (quantity.Date, bool) {
	if _, known := declarations[name]; !known {
		return quantity.Date{}, false
	}
	return Try(e, Key[quantity.Date]{name})
}

var taskIntervalCode = source.Code{ID: "task-interval", Severity: source.Error,
	Protects: "care that nobody says how often to give is never given"}

var _ = limit(Limit{Code: taskIntervalCode, Check: func(e *Eval) []source.Finding {
	var out []source.Finding
	for _, task := range e.Build.Line.Tasks {
		trigger := task.Trigger.Value
		if trigger != "interval" && trigger != "every-loads" || !task.When.Holds(e.Build.Has) {
			continue
		}
		interval, ok := taskInterval(e.Build, task.ID.Value)
		switch {
		case !ok:
			out = append(out, wrong(taskIntervalCode, task.ID, "%s belongs to this unit, but no fitted component says how often it is due", task.ID.Value).
				WithHint("write it under service of the component it is about, as %s: { months: … }, from its maker's paper", task.ID.Value))
		case trigger == "every-loads" && !interval.Loads.Set:
			out = append(out, wrong(taskIntervalCode, task.ID, "%s is due by loads, but no fitted component says after how many", task.ID.Value))
		case interval == product.Interval{}:
			out = append(out, wrong(taskIntervalCode, task.ID, "%s has a service entry that names no interval", task.ID.Value))
		}
	}
	return out
}})

// wholeYears gives an interval of two years or more that comes out even in
// years: nobody counts seventy-two months. It is unset for any other.
func wholeYears(months source.Given[int]) source.Given[int] {
	const inYear = 12
	if !months.Set || months.Value < 2*inYear || months.Value%inYear != 0 {
		return source.Given[int]{}
	}
	months.Value /= inYear
	return months
}
