package derive

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"ownerguide/spec"
	"ownerguide/spec/product"
	"ownerguide/spec/source"
)

// Judged is what became of a build, kept so that the same build with other weights
// is judged without working all of it out again.
type Judged struct {
	Values   *Values
	Findings source.Findings
	Verdicts []Verdict

	run *run
}

// Build gives the build.
func (j *Judged) Build() *spec.Build { return j.run.build }

// Reweigh judges a build that differs from this one in nothing but options that only
// weigh: it gives what [JudgeOnly] gives of it. Nothing is worked out anew but what looked at the
// options of the unit, or at a value that did, even if only to find it missing. In print a figure in
// brackets may be another by one in its last place: all figures of a unit decide how each is converted.
func (j *Judged) Reweigh(b *spec.Build, wanted func(claim string) bool) *Judged {
	from := j.run
	r := newRun(b)
	r.from, r.strokeOf, r.stroke = from, from.strokeOf, from.stroke
	r.inValues.all, r.inLimits.all = maps.Clone(from.inValues.anyWeight), maps.Clone(from.inLimits.anyWeight)
	if !from.onWeight[carePlan] {
		r.care = from.care
	}
	vs := &Values{byName: make(map[string]*Value, len(j.Values.byName)), absent: r.absent, run: r, partial: wanted != nil}
	for _, v := range j.Values.list {
		if !from.onWeight[cmp.Or(v.family, v.Name)] {
			vs.list = append(vs.list, v)
		}
	}
	kept := len(vs.list)
	for name := range from.onWeight {
		switch d := declarations[name]; {
		case d == nil || vs.partial && !wanted(name): // a limit, or the care
		case d.members != nil:
			vs.list = append(vs.list, r.family(d)...)
		default:
			if v := r.value(name); v != nil {
				vs.list = append(vs.list, v)
			}
		}
	}
	for _, v := range vs.list {
		vs.byName[v.Name] = v
	}
	r.conversions = from.conversions.Clone()
	vs.convert(vs.list[kept:])
	slices.SortFunc(vs.list, func(a, b *Value) int { return strings.Compare(a.Name, b.Name) })
	for name, why := range from.absent {
		if !from.onWeight[name] {
			r.absent[name] = why
		}
	}
	if !vs.partial {
		vs.Plan = *r.plan()
	}
	out := &Judged{Values: vs, run: r}
	var findings, unchecked source.Findings
	onSums := map[string]bool{workedEmpty.name: true, workedCoupler.name: true}
	for i, e := range from.checked {
		if vs.partial && !wanted(LimitClaim+e.limit.ID) {
			continue
		}
		if from.onWeight[LimitClaim+e.limit.ID] {
			e = &Eval{Build: b, run: r, parts: r.inLimits, limit: e.limit}
			r.note(LimitClaim+e.limit.ID, func() { e.attempt(func() { e.limit.Check(e) }) })
			out.Verdicts = append(out.Verdicts, r.verdict(e, onSums))
		} else {
			r.hangsOn[LimitClaim+e.limit.ID] = r.hangsOn[LimitClaim+e.limit.ID].And(from.hangsOn[LimitClaim+e.limit.ID])
			out.Verdicts = append(out.Verdicts, j.Verdicts[i])
		}
		r.conclude(e, vs, &findings, &unchecked)
	}
	if !vs.partial {
		findings.Add(r.ignored()...)
	}
	slices.SortStableFunc(vs.margins, func(a, b Margin) int { return cmp.Compare(a.Code.ID, b.Code.ID) })
	if !b.Faulty && !findings.HasErrors() {
		findings.Add(unchecked...)
	}
	out.Findings = findings
	return out
}

// carePlan stands among values in [run].onWeight.
const carePlan = "care of the unit"

// note works something out and notes by its name whether it looked at the unit's
// options. What it is a part of did so too.
func (r *run) note(name string, work func()) {
	outer := r.weighs
	r.weighs = false
	r.noting = append(r.noting, name)
	asked := r.build.Asking(work)
	r.hangsOn[name] = r.hangsOn[name].And(asked) // several limits may have one id
	r.noting = r.noting[:len(r.noting)-1]
	if r.weighs {
		r.onWeight[name] = true
	}
	r.weighs = r.weighs || outer
}

// known gives a value that was worked out before.
func (r *run) known(name string) *Value {
	if v, done := r.values[name]; done || r.from == nil {
		return v
	}
	return r.from.values[name]
}

// weighing are those of the unit, of which nothing is asked but what they weigh and where: that enters
// the figures by two sums.
func (e *Eval) weighing() []spec.ChosenOption {
	e.run.weighs = true
	return e.Build.Weighing()
}

// changed are those that were fitted after delivery.
func (e *Eval) changed() []spec.ChosenOption {
	e.run.weighs = true
	return e.Build.Changed()
}

// eachOption does something with every option, which may turn on that option and on what was looked at before.
func (e *Eval) eachOption(do func(spec.ChosenOption)) {
	for i := range e.Build.Model.Options {
		o := &e.Build.Model.Options[i]
		e.subclaim(o.Key, func() {
			for _, chosen := range e.Build.OptionsWhere(func(other *product.Option) bool { return other == &o.Value }) {
				do(chosen)
			}
		})
	}
}

// looked are parts that were looked at, and those of them that would have been
// whatever the options weigh.
type looked struct{ all, anyWeight map[*spec.Fitting]bool }

func newLooked() looked { return looked{map[*spec.Fitting]bool{}, map[*spec.Fitting]bool{}} }
