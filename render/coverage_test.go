package render

import (
	"slices"
	"testing"

	"ownerguide/render/draw"
	"ownerguide/spec"
	"ownerguide/spec/source"
)

// needsNoStop lists features that the walk-around shows with another part.
var needsNoStop = map[string]string{
	"guard-exempt": "nothing is there to look at; a section says why",
}

// needsNoCare lists features whose part asks for no job of maintenance.
var needsNoCare = map[string]string{
	"document-holder": "a tube with a cap",
	"chocks":          "looked over at their stop, before each use",
	"guard-exempt":    "nothing is fitted",
}

// Every unit that can be ordered is looked at, with the barest sheet and with
// the fullest: whoever gets this trailer is warned of all that can hurt, and of
// nothing that is not there.
func TestEveryOrderableUnitIsCovered(t *testing.T) {
	t.Parallel()
	l, templates := embedded(t)
	vocabulary := l.Vocabulary()
	for _, word := range sheetWords {
		if !slices.Contains(vocabulary, word) {
			t.Fatalf("no sheet brings the feature %q", word)
		}
	}
	failures, units := newTally(), 0
	reached := newReached()
	for _, o := range orders() {
		sheet := &spec.Sheet{Model: source.Given[string]{Value: o.model.ID, Set: true}}
		for _, id := range o.options {
			sheet.Options = append(sheet.Options, source.Given[string]{Value: id, Set: true})
		}
		b, findings := l.Build(sheet)
		if b == nil {
			t.Fatalf("%s: %s", o, written(findings))
		}
		units++
		for _, features := range featuresOf(b) {
			r := read(templates, l, func(name string) bool { return features[name] })
			reached.add(r)
			r.checkWarned(failures, o)
			r.checkParts(failures, o, b)
			r.checkStops(failures, o, b)
			r.checkTroubles(failures, o)
		}
	}
	failures.report(t)
	if units < 1000 {
		t.Errorf("only %d units were looked at", units)
	}
	reached.report(t, templates, l)
}

// checkWarned holds hazards against cautions from both sides.
func (r *reading) checkWarned(failures *tally, o order) {
	covered := map[string]bool{}
	for id := range r.work {
		for _, h := range r.templates.caution(id).Hazards {
			covered[h.Value] = true
		}
	}
	present := map[string]bool{}
	for _, h := range r.line.Hazards {
		if !h.When().Holds(r.has) {
			continue
		}
		present[h.ID.Value] = true
		if !covered[h.ID.Value] {
			failures.add(o, "%s: hazard %s is there and no caution against it stands where the work is described", h.ID.At, h.ID.Value)
		}
	}
	for _, shown := range []map[string]bool{r.work, r.safety} {
		for id := range shown {
			c := r.templates.caution(id)
			if !slices.ContainsFunc(c.Hazards, func(h word) bool { return present[h.Value] }) {
				failures.add(o, "%s: caution %s is shown and none of its hazards is there", c.ID.At, id)
			}
		}
	}
	for i := range r.templates.cautions {
		if c := &r.templates.cautions[i]; c.Grave.Value && c.when().Holds(r.has) && !r.safety[c.ID.Value] {
			failures.add(o, "%s: grave caution %s is missing from the safety chapter", c.ID.At, c.ID.Value)
		}
	}
}

// checkParts: what a component brings along has its stop in the walk-around and
// a job that looks after it.
func (r *reading) checkParts(failures *tally, o order, b *spec.Build) {
	for i := range b.Parts {
		part := &b.Parts[i]
		for _, f := range part.Common.Features {
			if _, exempt := needsNoStop[f.Value]; !exempt && !r.hasStop(part, f.Value) {
				failures.add(o, "%s: %s brings %s, and no stop shows it", f.At, part.Component, f.Value)
			}
			if _, exempt := needsNoCare[f.Value]; !exempt && !r.hasCare(part, f.Value) {
				failures.add(o, "%s: %s brings %s, and no job looks after it", f.At, part.Component, f.Value)
			}
		}
	}
}

func (r *reading) hasStop(part *spec.Fitting, feature string) bool {
	return slices.ContainsFunc(r.stops, func(s *section) bool {
		return s.stop.Value == part.Place || s.stop.Value == part.Kind || asksFor(s.when, feature) || speaksOf(s.conditions, feature)
	})
}

// hasCare is true when the component itself says how often a job is due, or a
// job or a line of one is there because of the feature.
func (r *reading) hasCare(part *spec.Fitting, feature string) bool {
	for id := range r.tasks {
		if part.Common.Service.Get(id) != nil || speaksOf(r.templates.languages[Base].tasks[id].conditions, feature) {
			return true
		}
	}
	return slices.ContainsFunc(r.line.Tasks, func(task spec.Task) bool {
		return r.tasks[task.ID.Value] && asksFor(task.When(), feature)
	})
}

// checkStops: every number of the walk-around has a part to point at.
func (r *reading) checkStops(failures *tally, o order, b *spec.Build) {
	for _, s := range r.stops {
		fitted := slices.ContainsFunc(b.Parts, func(p spec.Fitting) bool { return p.Place == s.stop.Value || p.Kind == s.stop.Value })
		if !fitted && !slices.Contains(draw.Landmarks(), s.stop.Value) {
			failures.add(o, "%s: stop %s points at %s, which is not fitted", s.at, s.id, s.stop.Value)
		}
	}
}

// checkTroubles: whoever finds their trouble also finds why, what to do and
// when to stop.
func (r *reading) checkTroubles(failures *tally, o order) {
	for id := range r.troubles {
		words := r.templates.languages[Base].troubles[id]
		for what, lines := range map[string][]piece{"cause": words.cause, "remedy": words.do, "word on when to stop": words.stop} {
			if !slices.ContainsFunc(lines, func(p piece) bool { return p.when.Holds(r.has) && len(p.figures) == 0 }) {
				failures.add(o, "%s: trouble entry %s has no %s for this unit", words.at, id, what)
			}
		}
	}
}

// reached gathers what any unit gets to read.
type reached struct{ sections, tasks, troubles, cautions map[string]bool }

func newReached() *reached {
	return &reached{map[string]bool{}, map[string]bool{}, map[string]bool{}, map[string]bool{}}
}

func (all *reached) add(r *reading) {
	for _, m := range []struct{ to, from map[string]bool }{
		{all.sections, r.sections}, {all.sections, r.beside}, {all.tasks, r.tasks}, {all.troubles, r.troubles}, {all.cautions, r.work},
	} {
		for id := range m.from {
			m.to[id] = true
		}
	}
}

// report names what nobody ever gets to read.
func (all *reached) report(t *testing.T, templates *Templates, l *spec.Line) {
	for _, s := range templates.languages[Base].sections {
		if !all.sections[s.id] {
			t.Errorf("%s: no unit that can be ordered has section %s", s.at, s.id)
		}
	}
	for _, task := range l.Tasks {
		if !all.tasks[task.ID.Value] {
			t.Errorf("%s: no unit that can be ordered is told of the job %s", task.ID.At, task.ID.Value)
		}
	}
	for _, e := range templates.troubles {
		if !all.troubles[e.ID.Value] {
			t.Errorf("%s: no unit that can be ordered has trouble entry %s", e.ID.At, e.ID.Value)
		}
	}
	for _, c := range templates.cautions {
		if !all.cautions[c.ID.Value] {
			t.Errorf("%s: no section or job shows caution %s", c.ID.At, c.ID.Value)
		}
	}
}
