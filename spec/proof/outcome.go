package proof

import (
	"fmt"
	"slices"

	"ownerguide/spec/logic"
	"ownerguide/spec/source"
)

// outcome is the result of a claim about one thing for one model.
type outcome struct {
	code    source.Code
	at      source.Pos
	what    string // the violated claim in words; with code and position it is the claim's identity
	held    bool
	some    bool // the claim must hold for some model instead of all
	witness *Witness
	related []source.Related
	hint    string
}

// Settled is the number of results for one claim.
type Settled struct {
	Code   string `json:"code"`
	Claims int    `json:"claims"` // things it was checked for
	Failed int    `json:"failed"`
}

// Failure is a claim that does not hold.
type Failure struct {
	source.Finding
	Witness *Witness
}

// settle records a claim that no build may violate.
func (v *view) settle(out *[]outcome, code source.Code, at source.Pos, broken logic.Formula, related []source.Related, format string, args ...any) {
	o := outcome{code: code, at: at, what: fmt.Sprintf(format, args...), related: related}
	if holds, known := broken.Constant(); known && !holds {
		o.held = true
	} else {
		sure := true
		if o.witness, sure = v.genuine(broken); !sure {
			o.hint = "this build may have the figure, and others of its options lack it: not all were settled; mend first what is said of weights and load"
		}
		o.held = o.witness == nil
	}
	*out = append(*out, o)
}

// want records a claim that some build of some model must satisfy.
func (v *view) want(out *[]outcome, code source.Code, at source.Pos, wanted logic.Formula, format string, args ...any) {
	o := outcome{code: code, at: at, what: fmt.Sprintf(format, args...), some: true, held: v.solver.Possible(wanted)}
	if o.held && v.cover != nil {
		w, _ := v.genuine(wanted)
		o.held = w != nil
	}
	*out = append(*out, o)
}

// join combines the outcomes of all models: it returns one failure for each violated
// claim, with the smallest witness.
func join(models [][]outcome) (settled []Settled, failures []Failure) {
	type key struct {
		code, what string
		at         source.Pos
	}
	place := map[key]int{}
	var all []outcome
	for _, list := range models {
		for _, o := range list {
			k := key{o.code.ID, o.what, o.at}
			i, met := place[k]
			switch {
			case !met:
				place[k] = len(all)
				all = append(all, o)
			case o.some:
				all[i].held = all[i].held || o.held
			case !o.held && (all[i].held || smaller(o.witness, all[i].witness)):
				all[i] = o
			}
		}
	}
	counts := map[string]Settled{}
	failures = []Failure{}
	for _, o := range all {
		s := counts[o.code.ID]
		s.Claims++
		if !o.held {
			s.Failed++
			failures = append(failures, o.failure())
		}
		counts[o.code.ID] = s
	}
	for _, c := range Codes() {
		settled = append(settled, Settled{c.ID, counts[c.ID].Claims, counts[c.ID].Failed})
	}
	return settled, failures
}

// smaller reports whether a is a smaller witness than b.
func smaller(a, b *Witness) bool {
	return a != nil && b != nil && (len(a.Options) < len(b.Options) || len(a.Options) == len(b.Options) && len(a.Sheet) < len(b.Sheet))
}

func (o outcome) failure() Failure {
	f := o.code.At(o.at, "%s", o.what)
	if o.witness != nil {
		f.Message += ": " + o.witness.String()
	}
	if o.hint != "" {
		f = f.WithHint("%s", o.hint)
	}
	f.Related = slices.Clone(o.related)
	return Failure{f, o.witness}
}

// toModel moves a failure from an embedded text to the file of the model that shows it, with the
// text as a related position.
func (f *Failure) toModel(s Subject) {
	if s.Inside == nil || f.Witness == nil || !s.Inside(f.Pos.File) {
		return
	}
	if m := s.Line.Model(f.Witness.Model); !s.Inside(m.At.File) {
		f.Finding = f.MovedTo(m.At, "the text of the program that asks for it")
	}
}
