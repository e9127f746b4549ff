package proof

import (
	"fmt"
	"slices"
	"strings"

	"ownerguide/spec"
	"ownerguide/spec/derive"
	"ownerguide/spec/logic"
	"ownerguide/spec/source"
)

// languages returns the languages of the texts, in order.
func (t *Texts) languages() (list []string) {
	for _, u := range t.References {
		if !slices.Contains(list, u.Lang) {
			list = append(list, u.Lang)
		}
	}
	return list
}

// warnings checks that everybody who meets a hazard is warned of it. A caution shared by all
// makers need not apply to any build of this line.
func (v *view) warnings(shared func(file string) bool) (out []outcome) {
	for _, lang := range v.texts.languages() {
		for _, c := range v.texts.Cautions {
			there, shown := v.condition(c.When, lang), v.anyUse(Panel, c.ID, lang, false)
			v.settle(&out, codeHazard, c.At, logic.All(there, logic.Not(shown)), nil,
				"hazard %s is there and its caution does not stand where the work is described (%s)", c.ID, lang)
			if c.Grave {
				v.settle(&out, codeGrave, c.At, logic.All(there, logic.Not(v.anyUse(Safety, c.ID, lang, false))), nil,
					"grave caution %s is missing from the collection of the gravest (%s)", c.ID, lang)
			}
			if _, off := c.When.Constant(); !shared(c.At.File) && !(off && !c.When.Always()) {
				v.want(&out, codeUnshown, c.At, shown, "no section or job of any build shows caution %s (%s)", c.ID, lang)
			}
		}
	}
	return out
}

// switchedOff reports what the maker switched off, with the smallest build that lacks it.
func (v *view) switchedOff() (out []outcome) {
	for _, s := range v.texts.SwitchedOff {
		lacks := v.condition(s.When, "")
		v.settle(&out, codeSwitchedOff, s.At, lacks, nil, "%s", s)
		v.want(&out, codeOffIdle, s.At, lacks, "%s is switched off for no build that would have it", s.What)
	}
	return out
}

// names checks that everything texts refer to is there whenever they are shown.
func (v *view) names() (out []outcome) {
	for i := range v.texts.References {
		u := &v.texts.References[i]
		shown := func() logic.Formula { return v.condition(u.When, u.Lang) }
		switch u.Kind {
		case Value:
			d := v.declared(u.Name)
			v.settle(&out, codeValue, u.At, v.missing(u), nil, "{%s} is named in %s and has no figure (%s)", u.Name, u.In, orAlways(d.When))
		case Word:
			v.settle(&out, codeWord, u.At, v.missing(u), nil, "{%s} is named in %s and there is nothing to print", u.Name, u.In)
		case Link:
			target := logic.Any(v.anyUse(Section, u.Name, u.Lang, false), v.atom(string(Job)+":"+u.Name, u.Lang))
			v.settle(&out, codeLink, u.At, logic.All(shown(), logic.Not(target)), v.placeOf(Section, u.Name), "%s refers to %s, which the guide does not have", u.In, u.Name)
		case Stop:
			if !u.Landmark {
				v.settle(&out, codeStopIdle, u.At, logic.All(shown(), logic.Not(v.variants.Fitted(u.Name))), nil, "the stop of %s points at %s, which is not fitted", u.In, u.Name)
			}
		}
	}
	return out
}

// missing returns the formula that a reference is shown and its value is not there. It never holds
// for a reference whose condition tests the value.
func (v *view) missing(u *Reference) logic.Formula {
	if u.When.HasConjunct(string(Value) + ":" + u.Name) {
		return logic.Any()
	}
	return logic.All(v.condition(u.When, u.Lang), logic.Not(v.existsFormula(u.Name)))
}

func orAlways(c logic.Condition) string {
	if c.Always() {
		return "it exists unless an entry is missing"
	}
	return "it exists where " + c.String()
}

// placeOf returns the positions of the references of a kind and name.
func (v *view) placeOf(kind Kind, name string) (related []source.Related) {
	for _, u := range v.named(kind, name) {
		related = append(related, source.Related{Pos: u.At, Message: string(kind) + " " + name + ", shown where " + u.When.String()})
	}
	return related
}

// figuresTold checks that a figure in some text is shown to everyone who has it.
func (v *view) figuresTold() (out []outcome) {
	for _, lang := range v.texts.languages() {
		first := map[string]*Reference{}
		var order []string
		for i := range v.texts.References {
			if u := &v.texts.References[i]; u.Kind == Value && u.Lang == lang && first[u.Name] == nil && !v.declared(u.Name).Aside {
				first[u.Name] = u
				order = append(order, u.Name)
			}
		}
		scheduled := map[string][]logic.Formula{}
		for _, t := range v.line.Tasks {
			for _, w := range t.Values {
				if t.Trigger.Value == "age" { // the schedule shows the date
					scheduled[w.Value] = append(scheduled[w.Value], logic.All(v.condition(t.When, ""), v.anyUse(Schedule, "jobs", lang, false)))
				}
			}
		}
		for _, name := range order {
			told := logic.Any(append(scheduled[name], v.anyUse(Value, name, lang, true))...)
			v.settle(&out, codeUntold, first[name].At, logic.All(v.existsFormula(name), logic.Not(told)), nil,
				"%s tells {%s}, and there are owners with this figure who are told it nowhere", first[name].In, name)
		}
	}
	return out
}

// gates checks that conditions of whole texts can be true, and can be false. A condition on a
// feature that all units of the line have, or none, says nothing about this line, and a
// hazard may be on every build.
func (v *view) gates(shared func(file string) bool, constant func(feature string) bool) (out []outcome) {
	for _, g := range v.texts.Gates {
		own := v.condition(g.Own, g.Lang)
		if holds, known := g.Own.Constant(); !g.Front || shared(g.At.File) || known && !holds { // switched off everywhere
			continue
		}
		v.want(&out, codeCondition, g.At, logic.All(own, v.condition(g.Where, g.Lang)), "%s is for no build that can be ordered", g.What)
		if !g.Own.Always() && !v.hazard(g) && !slices.ContainsFunc(g.Own.Facts(), constant) {
			v.want(&out, codeAlways, g.At, logic.Not(own), "%s has the condition %s, which every build meets", g.What, g.Own)
		}
	}
	return out
}

// hazard reports whether a condition is that of a hazard, which may be on all builds.
func (v *view) hazard(g Gate) bool {
	return slices.ContainsFunc(v.texts.Cautions, func(c Caution) bool { return c.At == g.At })
}

// ranges returns, for the features in conditions of whole texts, whether a build of the model can
// have them, and can lack them.
func (v *view) ranges() (has, lacks map[string]bool) {
	has, lacks = map[string]bool{}, map[string]bool{}
	for _, g := range v.texts.Gates {
		for _, f := range g.Own.Facts() {
			if _, met := has[f]; !met && g.Front {
				is := v.atom(f, g.Lang)
				has[f], lacks[f] = v.solver.Possible(is), v.solver.Possible(logic.Not(is))
			}
		}
	}
	return has, lacks
}

// contradictions checks that no condition in a text contradicts the surrounding conditions, for any set
// of features, independent of the line.
func (t *Texts) contradictions() (out []outcome) {
	solver := logic.NewSolver(logic.SolverSteps)
	for _, g := range t.Gates {
		if holds, known := g.Where.Constant(); g.Front || known && !holds { // what is switched off everywhere
			continue
		}
		o := outcome{code: codeContrary, at: g.At, what: g.What + " contradicts what is asked around it, so nobody gets to read this"}
		o.held = solver.Possible(g.Own.And(g.Where).Substitute(logic.Fact))
		if solver.Spent() {
			return append(out, outcome{code: codeUnsettled, at: g.At, what: fmt.Sprintf(
				"whether %s contradicts what is asked around it was not settled in %d steps of the solver, nor for what stands behind it", g.What, logic.SolverSteps)})
		}
		out = append(out, o)
	}
	return out
}

// care checks that fitted parts are shown in the walk-around and maintained.
func (v *view) care() (out []outcome) {
	for _, lang := range v.texts.languages() {
		for _, p := range v.variants.Parts() {
			for _, f := range spec.PartFeatures(&p.Fitting) {
				if !p.Common.NoStop.Set {
					v.settle(&out, codeStop, f.From, logic.All(p.When, logic.Not(v.stopFor(&p.Fitting, f.Name, lang))), nil,
						"%s brings %s, and no stop of the walk-around shows it (%s)", p.Component, f.Name, lang)
				}
				if !p.Common.NoCare.Set {
					v.settle(&out, codeCare, f.From, logic.All(p.When, logic.Not(v.careFor(&p.Fitting, f.Name, lang))), nil,
						"%s brings %s, and no job looks after it (%s)", p.Component, f.Name, lang)
				}
			}
			for _, s := range p.Common.Service {
				v.settle(&out, codeService, s.KeyAt, logic.All(p.When, logic.Not(v.applies(s.Key))), nil,
					"%s says how often %s is due, and the unit has no such job (it is for %s)", p.Component, s.Key, v.jobIsFor(s.Key))
			}
		}
		for _, t := range v.line.Tasks {
			id, when := t.ID.Value, v.condition(t.When, "")
			job := v.atom(string(Job)+":"+id, lang)
			v.settle(&out, codeJob, t.ID.At, logic.All(when, logic.Not(job)), nil, "job %s is due and no section describes the jobs of %s (%s)", id, t.System.Value, lang)
			for _, w := range t.Values {
				if derive.IsDeclared(w.Value) && t.Trigger.Value != "age" { // the schedule shows the date
					v.settle(&out, codeJobFigure, w.At, logic.All(job, v.existsFormula(w.Value), logic.Not(v.saidIn("job "+id, w.Value, lang))), nil,
						"job %s is done to {%s}, and its words do not say so (%s)", id, w.Value, lang)
				}
			}
			if trigger := t.Trigger.Value; trigger == "interval" || trigger == "every-loads" {
				v.settle(&out, codeInterval, t.ID.At, logic.All(when, logic.Not(v.served(id))), nil, "job %s is due at intervals and no fitted part says at which", id)
			}
		}
		for _, g := range v.texts.Gates {
			if id, is := strings.CutPrefix(g.What, "trouble entry "); is {
				v.settle(&out, codeTrouble, g.At, logic.All(v.condition(g.Own, ""), logic.Not(v.anyUse(Trouble, id, lang, false))), nil,
					"trouble entry %s applies and no section shows it (%s)", id, lang)
			}
		}
	}
	return out
}

// stopFor returns the formula that a stop shows a part: it points at the part or at its kind,
// or its conditions mention the feature.
func (v *view) stopFor(p *spec.Fitting, feature, lang string) logic.Formula {
	return v.anyOf(v.used[Stop], lang, func(u *Reference) bool {
		return u.Name == p.Place || u.Name == p.Kind || slices.Contains(u.Speaks, feature)
	})
}

// careFor returns the formula that a job maintains a part: the part has an interval for it, or
// the job's condition or text mentions the feature.
func (v *view) careFor(p *spec.Fitting, feature, lang string) logic.Formula {
	var any []logic.Formula
	for _, t := range v.line.Tasks {
		id := t.ID.Value
		speaks := slices.ContainsFunc(v.named(Job, id), func(u *Reference) bool { return u.Lang == lang && slices.Contains(u.Speaks, feature) })
		if speaks || p.Common.Service.Get(id) != nil || slices.Contains(t.When.Facts(), feature) {
			any = append(any, v.atom(string(Job)+":"+id, lang))
		}
	}
	return logic.Any(any...)
}

// jobIsFor returns the condition of a job in words.
func (v *view) jobIsFor(job string) string {
	if t := v.line.Task(job); t != nil && !t.When.Always() {
		return t.When.String()
	}
	return "every unit"
}

// served returns the formula that a fitted part has an interval for a job.
func (v *view) served(job string) logic.Formula {
	var any []logic.Formula
	for _, p := range v.variants.Parts() {
		if p.Common.Service.Get(job) != nil {
			any = append(any, p.When)
		}
	}
	return logic.Any(any...)
}

// saidIn returns the formula that a text shows a figure.
func (v *view) saidIn(in, name, lang string) logic.Formula {
	return v.anyOf(v.named(Value, name), lang, func(u *Reference) bool { return u.In == in })
}
