package derive

import (
	"ownerguide/spec"
	"ownerguide/spec/source"
)

// Verdict is the result of a limit on one build. The weights of options enter the figures only
// as two sums: what they add to the empty weight, W, and to the coupler weight, M. With
// everything else unchanged, a limit that depends on W and M can be kept in one of several ways,
// and the sums (W, M) for which a way is kept form a convex set: for example that the empty
// weight is less than the rating, or that a position in inches, affine over the cargo capacity,
// is at most another. So a way that is kept at the vertices of a polygon is kept for all sums
// in it.
type Verdict struct {
	Code source.Code
	Sums bool   // the limit depends on W or M
	Ways []bool // for each way whether it is kept; nil if the ways are not known
}

// Assess evaluates a build as [Evaluate] does, and also returns the verdicts of the limits.
func Assess(b *spec.Build) *Assessment { return AssessClaims(b, nil) }

// AssessClaims is Assess for the values, families and limits whose claims are wanted; nil stands for all. It also
// calculates what these need. It does not report parts that nothing reads.
func AssessClaims(b *spec.Build, wanted func(claim string) bool) *Assessment {
	r := newRun(b)
	a := &Assessment{run: r}
	a.Values, a.Findings = r.evaluate(wanted)
	a.Verdicts = r.verdicts()
	return a
}

func (r *run) verdicts() (out []Verdict) {
	onSums := map[string]bool{workedEmpty.name: true, workedCoupler.name: true}
	for _, e := range r.checked {
		out = append(out, r.verdict(e, onSums))
	}
	return out
}

func (r *run) verdict(e *Eval, onSums map[string]bool) Verdict {
	v := Verdict{Code: e.limit.Code()}
	for _, in := range e.inputs {
		v.Sums = v.Sums || r.isCalculatedFrom(in.Name, onSums)
	}
	switch {
	case !v.Sums || e.limit.Convex || e.reason != "":
		v.Ways = []bool{len(e.found) == 0 || e.reason != ""} // reported by Evaluate
	case e.limit.Ways != nil:
		ways := r.eval()
		r.dependsOn[LimitClaim+e.limit.ID] = r.dependsOn[LimitClaim+e.limit.ID].Union(r.build.TraceReads(func() {
			ways.attempt(func() { v.Ways = e.limit.Ways(ways) })
		}))
	}
	return v
}

// WaysOf returns the ways in which a value exists; nil if its existence is convex.
func (a *Assessment) WaysOf(name string) (ways []bool) {
	if d := declarations[name]; d != nil && d.Ways != nil {
		e := a.run.eval()
		e.attempt(func() { ways = d.Ways(e) })
	}
	return ways
}

// isCalculatedFrom reports whether a value was calculated from one of those known to depend on sums; the
// result is cached in known.
func (r *run) isCalculatedFrom(name string, known map[string]bool) bool {
	if is, met := known[name]; met {
		return is
	}
	known[name] = false
	if v := r.values[name]; v != nil {
		for _, in := range v.Inputs {
			known[name] = known[name] || r.isCalculatedFrom(in.Name, known)
		}
	}
	return known[name]
}
