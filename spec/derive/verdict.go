package derive

import (
	"slices"

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
	r := assessing(b)
	a := &Assessment{run: r}
	a.Values, a.Findings = r.evaluate(wanted)
	for _, e := range r.checked {
		a.Verdicts = append(a.Verdicts, r.verdict(e))
	}
	return a
}

// assessing returns a run that notes which limits are calculated from the sums of the weights of options.
func assessing(b *spec.Build) *run {
	r := newRun(b)
	r.onSums = map[string]bool{workedEmpty.Name(): true, workedCoupler.Name(): true}
	return r
}

func (r *run) verdict(e *Eval) Verdict {
	v := Verdict{Code: e.limit.Code(), Sums: e.onSums}
	switch {
	case !v.Sums || e.limit.Convex || e.reason != "":
		v.Ways = []bool{len(e.found) == 0 || e.reason != ""} // reported by Evaluate
	case e.limit.Ways != nil:
		ways := r.eval()
		r.dependsOn[e.limit.claim] = r.dependsOn[e.limit.claim].Union(r.build.TraceReads(func() {
			ways.attempt(func() { v.Ways = e.limit.Ways(ways) })
		}))
		ways.end()
	}
	return v
}

// WaysOf returns the ways in which a value exists; nil if its existence is convex.
func (a *Assessment) WaysOf(name string) (ways []bool) {
	if d := declarations[name]; d != nil && d.Ways != nil {
		e := a.run.eval()
		e.attempt(func() { ways = d.Ways(e) })
		e.end()
	}
	return ways
}

// isOnSums reports whether a value was calculated from the sums of the weights of options.
func (r *run) isOnSums(name string) bool {
	if is, met := r.onSums[name]; met {
		return is
	}
	r.onSums[name] = false
	if d := declarations[name]; d != nil {
		for _, v := range r.results[d.number].values {
			r.onSums[name] = slices.ContainsFunc(v.Inputs, func(in Input) bool { return r.isOnSums(in.Name) })
		}
	}
	return r.onSums[name]
}
