package derive

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"ownerguide/spec"
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

func scheduleOf(t testing.TB, s string, edits ...edit) Plan {
	t.Helper()
	b := rising(t, s, edits...)
	vs, _ := Evaluate(b)
	return vs.Plan
}

// tried keeps the tasks of the small line; the program's own are not its subject.
func tried(tasks []string) (out []string) {
	for _, task := range tasks {
		if strings.HasPrefix(task, "try-") {
			out = append(out, task)
		}
	}
	return out
}

// visitText writes the visits of the small line's tasks, one a line.
func visitText(p Plan, upTo int) string {
	var b strings.Builder
	for _, v := range p.Visits[:min(upTo, len(p.Visits))] {
		fmt.Fprintf(&b, "%d %s %s %d: %s\n", v.Number, v.Date,
			quantity.English.Text(v.Distance, declarations["visit"].Round), v.Loads, strings.Join(tried(v.Tasks), " "))
	}
	return b.String()
}

// Worked on the calendar by hand: delivered 20 January 2026, 900 miles a month
// (29.6 a day), six loads a week. Every month the coupler; every three months
// the hubs, since 3,000 miles take 3.3 months; every six months the pump.
func TestScheduleVisits(t *testing.T) {
	want := `1 2026-02-20 910 mi (1,460 km) 26: try-month
2 2026-03-20 1,740 mi (2,800 km) 50: try-month
3 2026-04-20 2,660 mi (4,280 km) 77: try-month try-quarter
4 2026-05-20 3,540 mi (5,690 km) 102: try-month
5 2026-06-20 4,460 mi (7,170 km) 129: try-month
6 2026-07-20 5,350 mi (8,600 km) 155: try-month try-quarter try-pump
`
	if got := visitText(scheduleOf(t, tiltSheet+use), 6); got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
}

// What comes round more than once a month, or goes by loads, trips or first
// miles, is a rule and never has a date.
func TestScheduleRules(t *testing.T) {
	p := scheduleOf(t, tiltSheet+use)
	got := map[string]string{}
	for _, r := range p.Rules {
		got[r.Task] = r.Kind
		if r.Task == "try-first" && (len(r.At) != 2 || r.At[1] != 200) {
			t.Errorf("try-first is due at %v", r.At)
		}
	}
	for _, i := range p.Intervals {
		if i.Task == "try-loads" && i.Interval.Loads.Value != 2 {
			t.Errorf("try-loads is due after %d loads", i.Interval.Loads.Value)
		}
	}
	want := map[string]string{"try-first": "first-miles", "try-loads": "every-loads", "try-often": RuleOften, "try-hours": RuleMotorHours}
	for task, kind := range want {
		if got[task] != kind {
			t.Errorf("%s is a rule of kind %q, want %q", task, got[task], kind)
		}
	}
	for _, v := range p.Visits {
		for _, task := range v.Tasks {
			if want[task] != "" {
				t.Errorf("%s is dated %s", task, v.Date)
			}
		}
	}
	// With motor hours known, the fifty-hour service gets dates.
	p = scheduleOf(t, tiltSheet+strings.Replace(use, "loads_per_week: 6", "loads_per_week: 6, motor_hours_per_month: 10", 1))
	if slices.ContainsFunc(p.Rules, func(r Rule) bool { return r.Task == "try-hours" }) {
		t.Error("try-hours is still a rule")
	}
	if !slices.ContainsFunc(p.Visits, func(v Visit) bool { return slices.Contains(v.Tasks, "try-hours") }) {
		t.Error("try-hours has no date")
	}
}

// Without delivery or use there are no dates; intervals are there all the same.
func TestScheduleUndated(t *testing.T) {
	p := scheduleOf(t, tiltSheet)
	if len(p.Visits) != 0 {
		t.Errorf("%d visits without a date of delivery", len(p.Visits))
	}
	for _, i := range p.Intervals {
		if i.Task == "try-quarter" {
			if i.Interval.Every.Value != 3000 || i.Interval.Months.Value != 3 {
				t.Errorf("try-quarter every %v mi or %d months", i.Interval.Every.Value, i.Interval.Months.Value)
			}
			return
		}
	}
	t.Error("try-quarter has no interval")
}

// Miles the carrier drove count: the first hub service comes earlier, and one
// already overdue is due on the day of delivery.
func TestScheduleDrivenAlready(t *testing.T) {
	first := func(s string) string {
		for _, v := range scheduleOf(t, s).Visits {
			if slices.Contains(v.Tasks, "try-quarter") {
				return v.Date.String()
			}
		}
		return "never"
	}
	with := func(miles string) string {
		return tiltSheet + strings.Replace(use, "loads_per_week: 6", "loads_per_week: 6, driven_already: "+miles, 1)
	}
	// 3,000 − 2,100 = 900 miles are a month of 30.4 days: 19 February; the
	// coupler is due on the 20th and comes along.
	for miles, want := range map[string]string{"0 mi": "2026-04-20", "2100 mi": "2026-02-19", "3500 mi": "2026-01-20"} {
		if got := first(with(miles)); got != want {
			t.Errorf("%s driven: first hub service %s, want %s", miles, got, want)
		}
	}
}

// An option fitted after delivery brings its care from its day. The care of one
// taken off is in no visit, not even in those before: the guide that tells of the
// change has no such part and does not say how to do it.
func TestScheduleRetrofit(t *testing.T) {
	dates := func(s, task string, edits ...edit) (out []string) {
		for _, v := range scheduleOf(t, s, edits...).Visits {
			if slices.Contains(v.Tasks, task) {
				out = append(out, v.Date.String())
			}
		}
		return out
	}
	added := tiltSheet + use + "added: [ { option: front-box, date: 2026-09-10 } ]\n"
	if got := dates(added, "try-box"); len(got) == 0 || got[0] < "2026-09-10" || got[0] > "2026-11-10" {
		t.Errorf("a box fitted 10 September is first due %v", got)
	}
	removed := tiltSheet + use + "removed: [ { option: power-tilt, date: 2026-09-10 } ]\n"
	if got := dates(removed, "try-pump"); len(got) > 0 {
		t.Errorf("a pump taken off 10 September is due %v", got)
	}
	if got := dates(tiltSheet+use, "try-pump"); len(got) < 4 {
		t.Errorf("a pump that stays is due %v", got)
	}
	// A part that stays through a change keeps its own count.
	if a, b := dates(added, "try-pump"), dates(tiltSheet+use, "try-pump"); a[0] != b[0] {
		t.Errorf("a box fitted later moves the pump from %v to %v", b, a)
	}
	// So does the fluid of a pump that gets another control.
	radio := []edit{{"power_units:\n", "power_units:\n  pump-radio: { extends: pump, control: radio }\n"}, {"  pump: pump\n", "  pump: pump\n  pump-radio: pump-radio\n"},
		{"parts: { box-front: { use: box-front } }", "parts: { box-front: { use: box-front }, power-unit: { use: pump-radio } }"}}
	if a, b := dates(added, "try-pump", radio...), dates(tiltSheet+use, "try-pump"); a[0] != b[0] || len(a) != len(b) {
		t.Errorf("another control of the pump moves its fluid from %v to %v", b, a)
	}
	later := strings.Replace(tiltSheet, "[power-tilt]", "[]", 1) + use + "added: [ { option: power-tilt, date: 2026-03-05 } ]\n"
	if got := dates(later, "try-pump"); len(got) == 0 || got[0] < "2026-03-05" || got[0] > "2026-09-05" {
		t.Errorf("a pump fitted 5 March is first due %v", got)
	}
}

// Tires six years old on a unit delivered late come up for age inside the plan.
func TestScheduleAge(t *testing.T) {
	s := strings.Replace(tiltSheet+use, "delivered: 2026-01-20", "delivered: 2031-01-20", 1)
	for _, v := range scheduleOf(t, s).Visits {
		if slices.Contains(v.Tasks, "try-age") {
			if v.Date.String() > "2032-01-10" {
				t.Errorf("tires of January 2026 are replaced on %s, past six years", v.Date)
			}
			return
		}
	}
	t.Error("tires that pass six years inside the plan are never replaced")
}

// The visits are published as values, under the numbers they are printed with.
func TestScheduleValues(t *testing.T) {
	b := rising(t, tiltSheet+use)
	vs, _ := Evaluate(b)
	p := vs.Plan
	for _, v := range p.Visits {
		name := fmt.Sprintf("visit.%02d", v.Number)
		if d := figureOf[quantity.Date](t, vs, name+".date"); d != v.Date {
			t.Errorf("%s.date is %s, the visit %s", name, d, v.Date)
		}
		if n := figureOf[int](t, vs, name+".loads"); n != v.Loads {
			t.Errorf("%s.loads is %d, the visit %d", name, n, v.Loads)
		}
	}
	if got := figureOf[quantity.Distance](t, vs, "service.try-quarter.distance"); got != 3000 {
		t.Errorf("service.try-quarter.distance is %v", got)
	}
	if got := figureOf[int](t, vs, "service.try-quarter.months"); got != 3 {
		t.Errorf("service.try-quarter.months is %v", got)
	}
}

func TestScheduleTaskWithoutInterval(t *testing.T) {
	_, findings := Evaluate(rising(t, tiltSheet, edit{"service: { try-month: { months: 1 } }", "features: [x]"}))
	if !slices.ContainsFunc(findings, func(f source.Finding) bool {
		return f.Code == "task-interval" && strings.Contains(f.Message, "try-month")
	}) {
		t.Error("a task no component asks for goes unnoticed")
	}
}

// randomUnit draws a unit that is nothing but tasks and components asking for
// them.
func randomUnit(t *rapid.T) *spec.Build {
	b := &spec.Build{Sheet: &sheet.Sheet{}, Line: &product.Line{}, Model: &product.Model{}}
	var parts []*spec.Fitting
	start := quantity.Date{Year: 2026, Month: 1, Day: 1}.AddDays(rapid.IntRange(0, 1500).Draw(t, "start"))
	b.Sheet.Delivered, b.Sheet.Built = given(start), given(start.AddDays(-rapid.IntRange(0, 400).Draw(t, "stood")))
	b.Sheet.Use = &sheet.Use{
		PerMonth:     given(quantity.Miles(float64(rapid.IntRange(0, 5000).Draw(t, "miles a month")))),
		LoadsPerWeek: given(rapid.IntRange(0, 30).Draw(t, "loads a week")),
		Already:      given(quantity.Miles(float64(rapid.IntRange(0, 3000).Draw(t, "driven")))),
	}
	maybe := func(name string) bool { return rapid.Bool().Draw(t, name) }
	for n := range rapid.IntRange(1, 8).Draw(t, "tasks") {
		id := fmt.Sprintf("task-%d", n)
		b.Line.Tasks = append(b.Line.Tasks, product.Task{ID: given(id), Trigger: given("interval")})
		for range rapid.IntRange(1, 2).Draw(t, "components") {
			every := product.Interval{Months: given(rapid.IntRange(1, 30).Draw(t, "months"))}
			if maybe("by distance") {
				every.Every = given(quantity.Miles(float64(rapid.IntRange(50, 15000).Draw(t, "distance"))))
				if maybe("only") {
					every.Months = source.Given[int]{}
				}
			}
			if maybe("by loads") {
				every.Loads = given(rapid.IntRange(1, 400).Draw(t, "loads"))
			}
			service := source.Map[product.Interval]{{Key: id, Value: every}}
			parts = append(parts, &spec.Fitting{Place: fmt.Sprint(len(parts)), Common: &product.Common{Service: service}})
		}
	}
	return b.WithParts(parts)
}

// No visit is later than calendar or use allows since the task was last done;
// visits stand apart by more than they are gathered over, inside the plan, and
// the same unit gets the same plan.
func TestScheduleProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := randomUnit(t)
		p := plan(b, noAge)
		if !reflect.DeepEqual(p, plan(b, noAge)) {
			t.Fatal("two plans of one unit differ")
		}
		rule := map[string]bool{}
		for _, r := range p.Rules {
			rule[r.Task] = true
		}
		start := b.Sheet.Delivered.Value
		end := start.AddMonths(24)
		for i, v := range p.Visits {
			if v.Date.Before(start) || end.Before(v.Date) || len(v.Tasks) == 0 || v.Number != i+1 {
				t.Errorf("visit %d on %s with %v, plan %s to %s", v.Number, v.Date, v.Tasks, start, end)
			}
			if i > 0 && p.Visits[i-1].Date.DaysUntil(v.Date) <= gatherDays {
				t.Errorf("visits on %s and %s were not gathered", p.Visits[i-1].Date, v.Date)
			}
		}
		for _, interval := range p.Intervals {
			if rule[interval.Task] {
				continue
			}
			// Every gap between one time and the next, and from the last to the end.
			last, miles, loads := start, float64(0), 0.0
			check := func(day quantity.Date, distance float64, what string) {
				months, every, n := interval.Interval.Months, interval.Interval.Every, interval.Interval.Loads
				carried := float64(start.DaysUntil(day)) * float64(b.Sheet.Use.LoadsPerWeek.Value) / 7
				if months.Set && last.AddMonths(months.Value).Before(day) {
					t.Errorf("%s %s on %s, %d months after %s", interval.Task, what, day, months.Value, last)
				}
				// A unit delivered past its first service has it on the first day.
				if every.Set && distance-miles > float64(every.Value)+1e-6 && day != start {
					t.Errorf("%s %s at %v mi, %v after %v", interval.Task, what, distance, every.Value, miles)
				}
				if n.Set && carried-loads > float64(n.Value)+1e-6 {
					t.Errorf("%s %s after %v loads, %d allowed after %v", interval.Task, what, carried, n.Value, loads)
				}
				last, miles, loads = day, distance, carried
			}
			for _, v := range p.Visits {
				if slices.Contains(v.Tasks, interval.Task) {
					check(v.Date, float64(v.Distance), "done")
				}
			}
			days := float64(start.DaysUntil(end))
			check(end, float64(b.Sheet.Use.Already.Value)+days*float64(b.Sheet.Use.PerMonth.Value)/monthDays, "not done by the end")
		}
	})
}

// Gathering only ever moves a task to an earlier day: done at a visit, a task
// was due on that day or within two weeks after it.
func TestGatherProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := randomUnit(t)
		r := usage(b.Sheet.Use)
		list := duties(b, r, noAge)
		last := map[string]quantity.Date{}
		for _, v := range plan(b, noAge).Visits {
			for _, task := range v.Tasks {
				var due quantity.Date
				for _, d := range list {
					if day, ok := d.due(r, last[task]); d.task == task && ok && (due.IsZero() || day.Before(due)) {
						due = day
					}
				}
				if off := v.Date.DaysUntil(due); due.IsZero() || off < 0 || off > gatherDays {
					t.Errorf("%s is due %s and done %s", task, due, v.Date)
				}
				last[task] = v.Date
			}
		}
	})
}

// noAge is for plans of units whose tires and batteries nobody dated.
func noAge(string) (quantity.Date, bool) { return quantity.Date{}, false }
