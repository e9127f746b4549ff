package derive

import (
	"math"

	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

// rates is the use of a unit per day.
type rates struct {
	miles, loads, hours float64 // per day; 0 if unknown or none
	already             float64 // miles driven by a delivery carrier
	known               bool    // whether the buyer stated anything
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

// rule returns the kind of rule as which an interval is printed; empty if it is dated.
func (r rates) rule(i *product.Interval) string {
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

// monthly reports whether an interval is short only by the calendar: one month is not more
// often than monthly, though February is shorter than the average.
func monthly(r rates, i *product.Interval) bool {
	return r.days(&product.Interval{Every: i.Every, Loads: i.Loads, MotorHours: i.MotorHours}) >= monthDays-1e-9
}

// days returns the length of an interval at this rate, with months of average length; infinite
// if nothing ends it.
func (r rates) days(i *product.Interval) float64 {
	days := r.useDays(i, 0)
	if i.Months.Set {
		days = min(days, float64(i.Months.Value)*monthDays)
	}
	return days
}

// useDays returns the number of days after which use alone ends an interval that began with
// some miles already driven.
func (r rates) useDays(i *product.Interval, driven float64) float64 {
	days := math.Inf(1)
	end := func(set bool, amount, perDay float64) {
		if set && perDay > 0 {
			days = min(days, amount/perDay)
		}
	}
	end(i.Every.Set, max(0, float64(i.Every.Value)-driven), r.miles)
	if i.Every.Set && driven >= float64(i.Every.Value) {
		days = 0 // overdue on delivery, even for an owner who never drives
	}
	end(i.Loads.Set, float64(i.Loads.Value), r.loads)
	end(i.MotorHours.Set, float64(i.MotorHours.Value), r.hours)
	return days
}

// duty is one reason for one task: the interval of a component in its place, or an age that is
// reached on a date.
type duty struct {
	task     string
	place    string            // of the component; for an age the name of the value
	part     string            // the component
	interval *product.Interval // since the last time; nil for an age
	by       quantity.Date     // for an age; otherwise zero
	starts   quantity.Date     // first day the component is on the unit
	since    quantity.Date     // first day of the one whose place it took, or starts
	ends     quantity.Date     // day on which it is removed; zero if it stays
	counts   quantity.Date     // day from which calendar months count before the first time
	driven   float64           // miles that count before the first time
}

// due returns the day on which this duty is due, from the day on which the task was last done;
// zero last means never. ok is false if nothing ends the interval.
func (d *duty) due(r rates, last quantity.Date) (day quantity.Date, ok bool) {
	from, driven := d.counts, d.driven
	if !d.by.IsZero() {
		if !last.IsZero() {
			return day, false // the interval of the new part starts then, after this plan
		}
		return later(d.by, d.starts), true
	}
	used := d.since
	if !last.IsZero() && !last.Before(d.since) {
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

// reason returns the entry that makes the duty due on that day; the first if there are several.
// For an age it is the value.
func (d *duty) reason(r rates, last, day quantity.Date) Input {
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
		only := *d
		only.interval = &alone.interval
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
