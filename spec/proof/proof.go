package proof

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"ownerguide/spec/logic"
	"ownerguide/spec/parallel"
	"ownerguide/spec/product"
	"ownerguide/spec/source"
)

// DefaultLimit is how many orders of a model have their figures
// worked out; some minutes' work.
const DefaultLimit = 20000

// Subject is what is proved.
type Subject struct {
	Line    *product.Line
	Texts   *Texts
	Inspect Inspect // tries drawings; nil when there are none to try
	Limit   int     // of orders with figures, for each model
	// Snapshot is what the texts said when somebody last accepted it, as
	// [Texts.Snapshot] lists it; without data there is none.
	Snapshot source.File
	// Trade tells of a file whether it speaks of all trailers and not of this
	// line alone: such a file may have conditions that no build of the line meets.
	Trade func(file string) bool
	// Inside tells of a file that it is inside the program, where nobody can edit
	// it. What fails in such a text is told at the model that is the first to show
	// it; nil when every file is at hand.
	Inside func(file string) bool
}

// Model is what the proof says of one model.
type Model struct {
	ID     string       `json:"model"`
	Builds logic.Number `json:"builds"`  // orders there are
	Worked int          `json:"figures"` // orders whose figures were worked out, and sums beside
	// Extremes tells that some are the extremes of what options weigh, between
	// which all others lie.
	Extremes bool `json:"extremes,omitempty"`
}

// Proof is what became of all claims.
type Proof struct {
	Models   []Model   `json:"models"`
	Claims   []Settled `json:"claims"`
	Failures []Failure `json:"findings"`
}

// Prove settles every claim for every orderable build of every model. The same
// subject gives the same proof.
func Prove(s Subject) *Proof {
	s, unfinished := s.finished()
	models, outcomes := settleAll(s, viewsOf(s), func(v *view) ([]outcome, int, bool) { return v.figures(s.Limit, s.Inspect) })
	p := &Proof{Models: models, Failures: []Failure{}}
	p.Claims, p.Failures = join(append(outcomes, unfinished))
	for i := range p.Failures {
		p.Failures[i].toModel(s)
	}
	sortByPlace(p.Failures)
	return p
}

// viewsOf makes the views of all models.
func viewsOf(s Subject) []*view {
	used := map[Kind][]*Reference{}
	for i := range s.Texts.References {
		u := &s.Texts.References[i]
		used[u.Kind] = append(used[u.Kind], u)
		named := u.Kind + ":" + Kind(u.Name)
		used[named] = append(used[named], u)
	}
	views := make([]*view, len(s.Line.Models))
	for i, m := range s.Line.Models {
		views[i] = newView(s.Line, s.Texts, m, used, logic.SolverStepsEach(len(views)))
	}
	return views
}

// settleAll settles every claim for every model; figures settles those on
// figures, and tells of how many choices.
func settleAll(s Subject, views []*view, figures func(*view) ([]outcome, int, bool)) (models []Model, outcomes [][]outcome) {
	has, lacks := make([]map[string]bool, len(views)), make([]map[string]bool, len(views))
	parallel.Each(len(views), func(i int) { has[i], lacks[i] = views[i].ranges() })
	constant := func(feature string) bool {
		in := func(m map[string]bool) bool { return m[feature] }
		return !slices.ContainsFunc(has, in) || !slices.ContainsFunc(lacks, in)
	}
	shared := func(file string) bool { return s.Trade != nil && s.Trade(file) }
	models, outcomes = make([]Model, len(views)), make([][]outcome, len(views), len(views)+3)
	parallel.Each(len(views), func(i int) {
		v := views[i]
		models[i], outcomes[i] = Model{ID: v.model.ID, Builds: v.problem.Count(logic.CountStepsEach(len(views)))}, v.orders()
		defer func() {
			if v.unsettled() {
				outcomes[i] = []outcome{{code: codeUnsettled, at: v.model.At, what: fmt.Sprintf(
					"%s was not settled in %d steps of the solver: its rules, or conditions in the texts, tie too many options together", v.model.ID, logic.SolverStepsEach(len(views)))}}
			}
		}()
		if !v.solver.Possible() {
			return
		}
		var found []outcome
		found, models[i].Worked, models[i].Extremes = figures(v)
		outcomes[i] = slices.Concat(outcomes[i], found, v.components(), v.warnings(shared), v.names(), v.figuresTold(), v.gates(shared, constant), v.care(), v.switchedOff())
	})
	if slices.ContainsFunc(views, (*view).unsettled) {
		// Some model might do what none of the others does.
		for i := range outcomes {
			outcomes[i] = slices.DeleteFunc(outcomes[i], func(o outcome) bool { return o.some && !o.held })
		}
	}
	for _, lang := range translations(s.Line, s.Texts) {
		outcomes = append(outcomes, language(s.Line, s.Texts, lang))
	}
	return models, append(outcomes, s.Texts.contrary(), s.Texts.lost(s.Snapshot))
}

// HasErrors tells whether a claim failed that keeps guides from being right.
func (p *Proof) HasErrors() bool { return p.Findings().HasErrors() }

// Findings gives the failures as findings.
func (p *Proof) Findings() (list source.Findings) {
	for _, f := range p.Failures {
		list = append(list, f.Finding)
	}
	return list
}

// MarshalJSON gives the finding's own shape, with the witness, or null, beside it.
func (f Failure) MarshalJSON() ([]byte, error) {
	finding, err := json.Marshal(f.Finding)
	if err != nil {
		return nil, err
	}
	witness, err := json.Marshal(f.Witness)
	if err != nil {
		return nil, err
	}
	return []byte(strings.TrimSuffix(string(finding), "}") + `,"witness":` + string(witness) + "}"), nil
}
