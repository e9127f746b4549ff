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

// DefaultLimit is the default number of orders of a model whose figures are calculated:
// some minutes' work.
const DefaultLimit = 20000

// Subject is the input of a proof.
type Subject struct {
	Line    *product.Line
	Texts   *Texts
	Inspect Inspect // draws the pictures; nil if there are none
	Limit   int     // maximum number of orders whose figures are calculated, for each model
	// Snapshot is what the texts said when they were last accepted, as returned by
	// [Texts.Snapshot]; without data there is none.
	Snapshot source.File
	// Trade reports whether a file covers all trailers and not only this line: such
	// a file may have conditions that no build of the line satisfies.
	Trade func(file string) bool
	// Inside reports whether a file is embedded in the program, where nobody can edit
	// it. Failures in such a text are reported at the first model that shows it. Inside
	// is nil if there are no embedded files.
	Inside func(file string) bool
}

// Model is the result for one model.
type Model struct {
	ID     string       `json:"model"`
	Builds logic.Number `json:"builds"`  // number of orders
	Worked int          `json:"figures"` // number of orders, and of further sums, whose figures were calculated
	// Extremes reports that the calculated orders include the extremes of what
	// options weigh, which cover all orders between them.
	Extremes bool `json:"extremes,omitempty"`
}

// Proof is the result for all claims.
type Proof struct {
	Models   []Model   `json:"models"`
	Claims   []Settled `json:"claims"`
	Failures []Failure `json:"findings"`
}

// Prove checks every claim for every orderable build of every model. The same subject
// gives the same proof.
func Prove(s Subject) *Proof {
	s, unfinished := s.finished()
	models, outcomes := settleAll(s, viewsOf(s), func(v *view) ([]outcome, int, bool) { return v.figures(s.Limit, s.Inspect) })
	p := &Proof{Models: models}
	p.Claims, p.Failures = join(append(outcomes, unfinished))
	for i := range p.Failures {
		p.Failures[i].toModel(s)
	}
	sortByPlace(p.Failures)
	return p
}

// viewsOf returns the views of all models.
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

// settleAll checks every claim for every model; figures checks those on figures, and returns
// the number of choices calculated.
func settleAll(s Subject, views []*view, figures func(*view) ([]outcome, int, bool)) (models []Model, outcomes [][]outcome) {
	has, lacks := make([]map[string]bool, len(views)), make([]map[string]bool, len(views))
	parallel.Each(len(views), func(i int) { has[i], lacks[i] = views[i].ranges() })
	constant := func(feature string) bool {
		in := func(m map[string]bool) bool { return m[feature] }
		return !slices.ContainsFunc(has, in) || !slices.ContainsFunc(lacks, in)
	}
	shared := func(file string) bool { return s.Trade != nil && s.Trade(file) }
	models, outcomes = make([]Model, len(views)), make([][]outcome, len(views), len(views)+3)
	unsettled := make([]bool, len(views))
	parallel.Each(len(views), func(i int) {
		v := views[i]
		models[i], outcomes[i] = Model{ID: v.model.ID, Builds: v.problem.Count(logic.CountStepsEach(len(views)))}, v.orders()
		defer func() {
			views[i], unsettled[i] = nil, v.spent() // a maker's forty models would not find room beside one another
			if unsettled[i] {
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
	if slices.Contains(unsettled, true) {
		// A model that was not settled might satisfy these.
		for i := range outcomes {
			outcomes[i] = slices.DeleteFunc(outcomes[i], func(o outcome) bool { return o.some && !o.held })
		}
	}
	for _, lang := range translations(s.Line, s.Texts) {
		outcomes = append(outcomes, language(s.Line, s.Texts, lang))
	}
	return models, append(outcomes, s.Texts.contradictions(), s.Texts.changes(s.Snapshot))
}

// HasErrors reports whether a claim failed without which guides may be wrong.
func (p *Proof) HasErrors() bool { return p.Findings().HasErrors() }

// Findings returns the failures as findings.
func (p *Proof) Findings() (list source.Findings) {
	for _, f := range p.Failures {
		list = append(list, f.Finding)
	}
	return list
}

// MarshalJSON returns the JSON of the finding with the witness, or null, added.
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
