package derive

import (
	"ownerguide/spec"
	"ownerguide/spec/source"
)

// Verdict is how a limit fared on one build. What options weigh enters the
// figures by two sums: what they add to the empty weight W, and to the coupler
// weight M. With all else as it is, a limit that rests on W and M is kept in one
// of some ways, and the sums (W, M) at which a way is kept form a convex set: such
// as the empty weight being less than the rating, or a place in inches, affine
// over the cargo capacity, being at most another. So a way that is kept at the
// corners of a polygon is kept at all sums in it.
type Verdict struct {
	Code source.Code
	Sums bool   // the limit rests on W or M
	Ways []bool // which ways are kept; nil when it is not known in which ways it can be
}

// Judge is [Evaluate] that also gives the verdicts of the limits.
func Judge(b *spec.Build) *Judged { return JudgeOnly(b, nil) }

// JudgeOnly is Judge for some values, families and limits, by the names of their claims; nil for all. What they
// need besides is worked out too. It tells nothing of parts that nothing looks at.
func JudgeOnly(b *spec.Build, wanted func(claim string) bool) *Judged {
	r := newRun(b)
	j := &Judged{run: r}
	j.Values, j.Findings = r.evaluate(wanted)
	j.Verdicts = r.verdicts()
	return j
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
		v.Sums = v.Sums || r.restsOn(in.Name, onSums)
	}
	switch {
	case !v.Sums || e.limit.Convex || e.reason != "":
		v.Ways = []bool{len(e.found) == 0 || e.reason != ""} // which Evaluate reports
	case e.limit.Ways != nil:
		ways := r.eval()
		r.hangsOn[LimitClaim+e.limit.ID] = r.hangsOn[LimitClaim+e.limit.ID].And(r.build.Asking(func() {
			ways.attempt(func() { v.Ways = e.limit.Ways(ways) })
		}))
	}
	return v
}

// restsOn tells whether a value was worked out from one of those known to be; what
// it finds out is known from then on.
func (r *run) restsOn(name string, known map[string]bool) bool {
	if is, met := known[name]; met {
		return is
	}
	known[name] = false
	if v := r.values[name]; v != nil {
		for _, in := range v.Inputs {
			known[name] = known[name] || r.restsOn(in.Name, known)
		}
	}
	return known[name]
}
