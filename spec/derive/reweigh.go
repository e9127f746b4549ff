package derive

import (
	"maps"

	"ownerguide/spec"
	"ownerguide/spec/product"
	"ownerguide/spec/source"
)

// Assessment is the result for a build, kept so that the same build with other weights can be assessed
// without calculating everything again.
type Assessment struct {
	Values   *Values
	Findings source.Findings
	Verdicts []Verdict

	run *run
}

// Build returns the build.
func (a *Assessment) Build() *spec.Build { return a.run.build }

// Reweigh assesses a build that differs from this one only in options that only weigh something, with the
// same result as [AssessClaims]. It recalculates only what reads the options of the unit, or reads a value that
// does, even if that value was missing. As printed, a figure in parentheses may differ by one in its last
// place, because the conversion of a figure depends on all figures of a unit.
func (a *Assessment) Reweigh(b *spec.Build, wanted func(claim string) bool) *Assessment {
	from := a.run
	r := assessing(b)
	r.from, r.strokeOf, r.stroke = from, from.strokeOf, from.stroke
	r.inValues, r.inLimits = from.inValues.forAny(), from.inLimits.forAny()
	if !from.onWeight[carePlan] {
		r.care = from.care
	}
	vs := &Values{run: r}
	r.partial = wanted != nil
	for _, v := range a.Values.list {
		if !from.onWeight[v.Decl.Name] {
			vs.list = append(vs.list, v)
		}
	}
	kept := len(vs.list)
	for name := range from.onWeight {
		if d := declarations[name]; d != nil && (!r.partial || wanted(name)) { // otherwise a limit, or the care
			vs.list = append(vs.list, r.result(d).values...)
		}
	}
	r.conversions = from.conversions.Clone()
	vs.complete(vs.list[kept:])
	out := &Assessment{Values: vs, run: r}
	for i, e := range from.checked {
		claim := e.limit.claim
		if r.partial && !wanted(claim) {
			continue
		}
		if from.onWeight[claim] {
			e = r.check(e.limit)
			out.Verdicts = append(out.Verdicts, r.verdict(e))
		} else {
			r.dependsOn[claim] = r.dependsOn[claim].Union(from.dependsOn[claim])
			out.Verdicts = append(out.Verdicts, a.Verdicts[i])
		}
		r.conclude(e, vs)
	}
	out.Findings = r.concluded()
	return out
}

// carePlan is the name of the schedule among the values in [run].onWeight.
const carePlan = "care of the unit"

// trace calls work and records under its name whether it read the unit's options. The enclosing
// work then has read them too.
func (r *run) trace(name string, work func()) {
	outer := r.readsWeight
	r.readsWeight = false
	r.tracing = append(r.tracing, name)
	read := r.build.TraceReads(work)
	if r.build.IsWatched() {
		r.dependsOn[name] = r.dependsOn[name].Union(read) // several limits may have one id
	}
	r.tracing = r.tracing[:len(r.tracing)-1]
	if r.readsWeight {
		r.onWeight[name] = true
	}
	r.readsWeight = r.readsWeight || outer
}

// weighing returns the options of the unit for callers that use only their weights and positions,
// which enter the figures as two sums.
func (e *Eval) weighing() []spec.ChosenOption {
	e.run.readsWeight = true
	return e.Build.Weighing()
}

// changed returns the options that were added after delivery.
func (e *Eval) changed() []spec.ChosenOption {
	e.run.readsWeight = true
	return e.Build.Changed()
}

// eachOption calls do with every option. The effect of a call may depend only on that option and on what was read before.
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

// partsRead is the parts that were read, and whether they are read for any weights of the options.
type partsRead map[*spec.Fitting]bool

func (p partsRead) has(f *spec.Fitting) bool { _, read := p[f]; return read }

// forAny returns those that are read for any weights.
func (p partsRead) forAny() partsRead {
	out := maps.Clone(p)
	maps.DeleteFunc(out, func(_ *spec.Fitting, any bool) bool { return !any })
	return out
}
