package product

import (
	"bytes"
	"cmp"
	"slices"
	"strings"

	"ownerguide/spec/logic"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// SwitchOff removes something of the program's from the units that satisfy a condition,
// or from all if there is none. Somebody takes responsibility in writing: proof, check
// and record report it each time.
type SwitchOff struct {
	Hazard  word `yaml:"hazard" doc:"The id of a hazard: its caution is left out."`
	Task    word `yaml:"task" doc:"The id of a maintenance task: it is not due."`
	Trouble word `yaml:"trouble" doc:"The id of a trouble entry."`
	Section word `yaml:"section" doc:"The id of a section, with its parts, or of a point of the walk-around."`
	logic.Conditional
	Reason word `yaml:"reason,required" doc:"Why, in a sentence that an engineer would sign. The proof, every check and the record tell it."`
	By     word `yaml:"by,required" doc:"Who answers for it."`
}

// Of returns the kind of what is switched off, and its id with the position.
func (s *SwitchOff) Of() (kind string, id source.Given[string]) {
	for _, of := range []struct {
		kind string
		id   word
	}{{"hazard", s.Hazard}, {"task", s.Task}, {"trouble entry", s.Trouble}, {"section", s.Section}} {
		if of.id.Set {
			return of.kind, of.id
		}
	}
	return "", word{}
}

// String returns the name of what is switched off, such as "hazard sway".
func (s *SwitchOff) String() string {
	kind, id := s.Of()
	return kind + " " + id.Value
}

// SwitchedOffFor returns the entry that switches off, for a unit with the features has, an id
// that occurs in a dotted name such as sway or service.grease-hubs; nil if there is none.
func (m *Maker) SwitchedOffFor(name string, has func(feature string) bool) *SwitchOff {
	for i := range m.SwitchedOff {
		s := &m.SwitchedOff[i]
		if _, id := s.Of(); slices.Contains(strings.Split(name, "."), id.Value) && s.When.Holds(has) {
			return s
		}
	}
	return nil
}

// Left returns a condition without the units for which this is switched off.
func (s *SwitchOff) Left(of logic.Condition) logic.Condition {
	return of.And(logic.Condition{Formula: logic.Not(s.When.Formula)})
}

// switchOff switches off tasks, and checks every entry.
func (r *lineReader) switchOff() {
	l := r.line
	first := map[string]source.Pos{}
	for i := range l.Maker.SwitchedOff {
		s := &l.Maker.SwitchedOff[i]
		kind, id := s.Of()
		things := slices.DeleteFunc([]word{s.Hazard, s.Task, s.Trouble, s.Section}, func(w word) bool { return !w.Set })
		if n := len(things); n != 1 {
			r.Findings.Add(codeSwitchedOff.At(s.Reason.At, "this names %d things; expected one of hazard, task, trouble and section", n))
			continue
		}
		if at, twice := first[s.String()]; twice {
			r.Findings.Add(codeSwitchedOff.At(id.At, "%s is switched off a second time; join the conditions with or", s).WithRelated(at, "first here"))
			continue
		}
		first[s.String()] = id.At
		if s.Reason.Value != "" && len(bytes.Fields([]byte(s.Reason.Value))) < 3 {
			r.Findings.Add(codeSwitchedOff.At(s.Reason.At, "the reason is %q; expected a sentence that says why the owner is safe without it", s.Reason.Value))
		}
		if kind != "task" {
			continue
		}
		task := l.Task(id.Value)
		if task == nil {
			r.Findings.Add(codeSwitchedOff.At(id.At, "there is no task %q", id.Value).DidYouMean(id.Value, l.taskIDs(), ""))
			continue
		}
		l.lost[id.Value] = task.When
		task.When = s.Left(task.When)
	}
}

// ownTasks merges a line's tasks.yaml, a copy of the program's file, over that file: an
// entry may ask for more, and findings then point at a file that the maker has.
// An unchanged copy does not count as a file of the line.
func (r *lineReader) ownTasks(program source.File) {
	const name = "tasks.yaml"
	if !r.Has(name) {
		return
	}
	var own []Task
	if !r.read(name, &own) {
		return
	}
	at := len(r.Files) - 1
	if bytes.Equal(source.Text(r.Files[at].Data), source.Text(program.Data)) {
		r.Files = slices.Delete(r.Files, at, at+1)
	}
	for _, t := range own {
		i := slices.IndexFunc(r.line.Tasks, func(p Task) bool { return p.ID.Value == t.ID.Value })
		if i < 0 {
			r.line.Tasks = append(r.line.Tasks, t)
			continue
		}
		if what := t.weaker(&r.line.Tasks[i]); what != "" {
			r.Findings.Add(codeSwitchedOff.At(t.ID.At, "task %s of the program is said anew and %s", t.ID.Value, what).
				WithHint("leave it as it was, and say under switched_off in line.yaml for which units, and why, it does not hold"))
		}
		r.line.Tasks[i] = t
	}
}

// weaker returns in what respect a task asks for less than another one; empty if in none.
func (t *Task) weaker(than *Task) string {
	longer := func(is, was *Interval) bool {
		return was != nil && (is == nil || later(is.Every, was.Every) || later(is.Months, was.Months) || later(is.Loads, was.Loads) || later(is.MotorHours, was.MotorHours))
	}
	switch {
	case !t.When.ImpliedBy(than.When):
		return "is for fewer units"
	case t.Trigger.Value != than.Trigger.Value || t.System.Value != than.System.Value:
		return "has another trigger or system"
	case longer(t.AtMost, than.AtMost):
		return "may be done less often"
	case slices.ContainsFunc(than.At, func(d source.Given[quantity.Distance]) bool { return t.early(d.Value) < than.early(d.Value) }):
		return "is first due later"
	case than.Trained.Value && !t.Trained.Value:
		return "is no longer left to a trained person"
	}
	return ""
}

// later reports whether an entry of an interval asks for less than another one.
func later[T cmp.Ordered](is, was source.Given[T]) bool {
	return was.Set && (!is.Set || is.Value > was.Value)
}

// early returns the number of distances up to one at which a task is due.
func (t *Task) early(to quantity.Distance) (n int) {
	for _, at := range t.At {
		if at.Value <= to {
			n++
		}
	}
	return n
}
