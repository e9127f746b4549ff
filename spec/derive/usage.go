package derive

import (
	"math"

	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

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
