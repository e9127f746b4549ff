package derive

import (
	"math"
	"strconv"
	"strings"

	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

func init() {
	family(Decl{
		Name: "service", Round: statedMost,
		Formula: "for each task the shortest interval its fitted components ask for, in distance, months (and years where they come out even), loads and motor hours; whichever comes first",
		Source:  Source{Stated, "the component makers' service entries in the product line"},
	}, func(e *Eval) (out []*Value) {
		e.eachInterval(func(t TaskInterval) {
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
		})
		return out
	})
	family(Decl{
		Name: "first", Round: statedMost,
		Formula: "for each task that is due once, early on, the distances on the unit at which it is",
		Source:  Source{Practice, "the base list of tasks, unless the line gives its own"},
	}, func(e *Eval) (out []*Value) {
		e.eachTask(func(task *product.Task) {
			for i, at := range task.At {
				out = append(out, readMember(e, task.ID.Value+"."+strconv.Itoa(i+1), at))
			}
		})
		return out
	})
	family(Decl{
		Name: "visit", When: when("dated"), Round: quantity.Rounding{Side: quantity.Down, Step: 10, MetricStep: 10},
		Formula: "from delivery for 24 months: each task on the earlier of calendar and use since it was last done; tasks due within 14 days on the earliest of their days; distance and loads from the expected use, distance with driven_already",
		Source:  Source{Arithmetic, "intervals of the product line and use expected by the buyer"},
	}, func(e *Eval) (out []*Value) {
		s, use := e.Build.Sheet, e.Build.Sheet.Use
		var visits []Visit
		e.Build.TraceDetached(func() { visits = e.run.plan().Visits })
		if e.Build.IsWatched() {
			e.run.noteVisits(e)
		}
		for _, v := range visits {
			day := v.day()
			_, n, _ := strings.Cut(visitName(v.Number), ".")
			out = append(out, e.member(n+".date", func(e *Eval) any {
				Read(e, s.Delivered)
				Read(e, use.PerMonth)
				readGiven(e, use.LoadsPerWeek)
				readGiven(e, use.MotorHoursPerMonth)
				readGiven(e, use.Already)
				e.reads(v.reasons...)
				return v.Date
			}), e.member(n+".distance", func(e *Eval) any {
				e.reads(day)
				Read(e, s.Delivered)
				Read(e, use.PerMonth)
				readGiven(e, use.Already)
				return v.Distance
			}), e.member(n+".loads", func(e *Eval) any {
				e.reads(day)
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
	}
	return Read(e, e.Build.Sheet.Use.Already)
})

// readGiven reads an optional entry.
func readGiven[T any](e *Eval, g source.Given[T]) {
	if g.Set {
		Read(e, g)
	}
}

// evalAge reads an age value through an evaluation, so that it is recorded as an input.
func evalAge(e *Eval, name string) (quantity.Date, bool) {
	if declarations[name] == nil {
		return quantity.Date{}, false
	}
	return Try(e, Key[quantity.Date]{declarations[name]})
}

var _ = limit(Limit{ID: "task-interval", NoMargin: true,
	Protects: "care that nobody says how often to give is never given",
	Check: func(e *Eval) {
		e.eachTask(func(task *product.Task) {
			trigger := task.Trigger.Value
			if trigger != "interval" && trigger != "every-loads" {
				return
			}
			interval, ok := taskInterval(e.Build, task.ID.Value)
			switch {
			case !ok:
				e.report(wrong(e, task.ID, "%s belongs to this unit, but no fitted component says how often it is due", task.ID.Value).
					WithHint("write it under service of the component it is about, as %s: { months: … }, from its maker's paper", task.ID.Value))
			case trigger == "every-loads" && !interval.Loads.Set:
				e.report(wrong(e, task.ID, "%s is due by loads, but no fitted component says after how many", task.ID.Value))
			case interval == product.Interval{}:
				e.report(wrong(e, task.ID, "%s has a service entry that names no interval", task.ID.Value))
			}
		})
	}})

// wholeYears returns an interval of two years or more in years if it is a whole number: nobody
// counts seventy-two months. The result is unset for other intervals.
func wholeYears(months source.Given[int]) source.Given[int] {
	const inYear = 12
	if !months.Set || months.Value < 2*inYear || months.Value%inYear != 0 {
		return source.Given[int]{}
	}
	months.Value /= inYear
	return months
}

var _ = limit(Limit{ID: "task-too-often", Severity: source.Warning, MaxReserve: 1000,
	Protects: "care that is asked for more than once a day is not given at all",
	Check: func(e *Eval) {
		use := e.Build.Sheet.Use
		if use == nil {
			return
		}
		rate := usage(use)
		e.eachInterval(func(t TaskInterval) {
			// The sheet is the first thing to check; the interval is a related entry.
			days, entries := rate.days(&t.Interval), []Input{inputOf(use.LoadsPerWeek)}
			for _, i := range []source.Given[int]{t.Interval.Loads, t.Interval.MotorHours} {
				if i.Set {
					entries = append(entries, inputOf(i))
				}
			}
			if math.IsInf(days, 1) {
				return
			}
			comes := e.calculated("days from one "+t.Task+" to the next", quantity.Count(days), hundredthDown, figure{from: append(entries, inputOf(use.PerMonth))})
			e.require(comes, AtLeast, e.fromRule(Source{Judgement, "nobody does it more often than once a day"}, quantity.Count(1), quantity.Rounding{}), t.Task+" comes round every %s days at the use expected; expected at most %s a day")
		})
	}})

// eachTask calls do with every task of the unit. The effect of a call may depend only on that task and on what was read before.
func (e *Eval) eachTask(do func(*product.Task)) {
	for i := range e.Build.Line.Tasks {
		task := &e.Build.Line.Tasks[i]
		e.subclaim(task.ID.Value, func() {
			if task.When.Holds(e.Build.Has) {
				do(task)
			}
		})
	}
}

// eachInterval is eachTask for tasks that have an interval.
func (e *Eval) eachInterval(do func(TaskInterval)) {
	e.eachTask(func(task *product.Task) {
		if interval, has := taskInterval(e.Build, task.ID.Value); has {
			do(TaskInterval{task.ID.Value, interval})
		}
	})
}
