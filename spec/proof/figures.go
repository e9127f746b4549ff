package proof

import (
	"fmt"
	"slices"
	"strings"

	"ownerguide/spec"
	"ownerguide/spec/derive"
	"ownerguide/spec/logic"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

// Inspect checks what requires calculated figures: it draws the drawings of a unit, all or those for which which
// returns true. Each is a claim of the build, named [DrawingClaim] and the drawing's
// name.
type Inspect func(b *spec.Build, vs *derive.Values, which func(drawing string) bool) source.Findings

// DrawingClaim is the prefix of the claims of drawings.
const DrawingClaim = "drawing "

// figures settles figures, limits and drawings of a model. It returns the number of choices calculated, and whether
// they include extremes of the weights that stand for all choices
// between them.
func (v *view) figures(limit int, inspect Inspect) (out []outcome, worked int, extremes bool) {
	f := newFiguring(v, inspect)
	bear := bearing(v.model)
	if orders, few := v.orderable(bear, len(bear), min(limit, fewChoices)); few {
		for _, order := range orders {
			f.evaluate(order)
		}
		return f.outcomes(), len(orders), false
	}
	c := newCover(f, limit)
	c.settle()
	return f.outcomes(), len(f.orders) + c.reweighs, c.reweighs > 0
}

// fewChoices is the number of choices up to which all are calculated, even if a cover needs fewer: the smallest
// choice with each failure is then found.
const fewChoices = 200

// figuring calculates the figures of orders, with the bare sheet and the full one. It records the findings of limits
// and drawings, each with the smallest order that has it, and for which orders each value
// exists.
type figuring struct {
	*view
	inspect      Inspect
	sheets       [2]*sheet.Sheet    // bare and full
	names        []string           // of values whose existence must be known
	orders       map[string]bool    // orders calculated, by their options
	index        map[findingKey]int // index in out of the finding at each place
	trees        map[string]*decisionTree
	reserves     map[source.Pos]derive.Reserve
	scale        float64 // of the ratio above which a rating is too large: 1 but in tests
	out          []outcome
	dependencies *spec.Dependencies    // to watch builds with; nil if they are not watched
	assessed     [2]*derive.Assessment // the last results, for each sheet
}

// findingKey identifies a finding across builds.
type findingKey struct {
	code string
	at   source.Pos
}

func newFiguring(v *view, inspect Inspect) *figuring {
	f := &figuring{view: v, inspect: inspect, names: v.valueNames(), orders: map[string]bool{},
		index: map[findingKey]int{}, trees: map[string]*decisionTree{}, reserves: map[source.Pos]derive.Reserve{}, scale: 1}
	for i, full := range []bool{false, true} {
		s, findings := blank(v.line, v.model, full)
		if s == nil || findings.HasErrors() {
			f.sheets = [2]*sheet.Sheet{}
			f.unchecked("no sheet for %s can be made up: %s", v.model.ID, findings[0].Message)
			break
		}
		f.sheets[i] = s
	}
	return f
}

func (f *figuring) unchecked(format string, args ...any) {
	f.out = append(f.out, outcome{code: codeUnchecked, at: f.model.At, what: fmt.Sprintf(format, args...)})
}

func orderKey(order []string) string { return strings.Join(order, "\n") }

// evaluate calculates an order once, with each sheet.
func (f *figuring) evaluate(order []string) {
	if !f.orders[orderKey(order)] {
		f.evaluateClaims(order, [2]func(string) bool{})
	}
}

// evaluateClaims calculates the claims of an order that are wanted, with each sheet; nil stands for all.
func (f *figuring) evaluateClaims(order []string, wanted [2]func(claim string) bool) {
	f.orders[orderKey(order)] = true
	f.assessed = [2]*derive.Assessment{}
	for i, s := range f.sheets {
		b := f.build(s, order)
		if b == nil {
			continue
		}
		if f.dependencies != nil {
			b = b.Watched(f.dependencies)
		}
		a := derive.AssessClaims(b, wanted[i])
		vs, findings := a.Values, a.Findings
		f.assessed[i] = a
		if i == 0 {
			keepSmallest(f.reserves, vs.Reserves(nil))
			findings = append(findings, f.drawings(a, wanted[i])...)
		}
		if wanted[i] != nil && len(findings) > 0 { // findings and the conversion of figures depend on all claims together
			whole := derive.Assess(f.build(s, order))
			findings = whole.Findings
			if i == 0 {
				findings = append(findings, f.drawings(whole, nil)...)
			}
		}
		for _, found := range findings {
			found.Pos = f.placed(found)
			p := findingKey{found.Code, found.Pos}
			at, met := f.index[p]
			switch {
			case found.Severity == source.Note:
			case !met:
				f.index[p] = len(f.out)
				f.out = append(f.out, f.figure(found, order))
			case len(order) < len(f.out[at].witness.Options):
				f.out[at] = f.figure(found, order)
			}
		}
		for _, name := range f.names {
			if f.dependencies == nil && f.declared(name).When.Holds(b.Has) {
				f.addExample(name, order, vs.Has(name))
			}
		}
	}
}

// drawings draws those that are wanted.
func (f *figuring) drawings(a *derive.Assessment, wanted func(claim string) bool) source.Findings {
	if f.inspect == nil {
		return nil
	}
	return f.inspect(a.Build(), a.Values, func(drawing string) bool { return wanted == nil || wanted(DrawingClaim+drawing) })
}

func (f *figuring) addExample(name string, order []string, is bool) {
	if f.trees[name] == nil {
		f.trees[name] = &decisionTree{options: f.problem.Options}
	}
	f.trees[name].add(order, is)
}

// placed returns the position of a finding, independent of the sheet.
func (f *figuring) placed(found source.Finding) source.Pos {
	if found.Pos.File == sheetFile {
		return f.model.At
	}
	return found.Pos
}

// outcomes returns the findings, and expresses the existence of values as formulas.
func (f *figuring) outcomes() []outcome {
	for name, l := range f.trees {
		f.exists[name] = l.formula(name)
	}
	return append(f.out, ratingsNeeded(f.reserves, f.scale)...)
}

// keepSmallest keeps the smallest reserve of each entry.
func keepSmallest(least, rooms map[source.Pos]derive.Reserve) {
	for at, r := range rooms {
		if old, met := least[at]; !met || r.Factor/r.Max < old.Factor/old.Max {
			least[at] = r
		}
	}
}

// ratingsNeeded checks that some build needs a good part of each rating of a component, and of the hinge of a
// model. If no build comes near the rating, its figure or unit is probably mistyped.
func ratingsNeeded(rooms map[source.Pos]derive.Reserve, scale float64) (out []outcome) {
	for at, r := range rooms {
		if isRating(at, r) {
			out = append(out, outcome{code: codeRoomy, at: at, some: true, held: r.Factor < r.Max*scale,
				what: fmt.Sprintf("%s is %s, far more than any build asks of it", r.Path, r.Text)})
		}
	}
	return out
}

func isRating(at source.Pos, r derive.Reserve) bool {
	return strings.Contains(at.File, "components/") || strings.HasSuffix(r.Path, "hinge_rating")
}

func (v *view) build(s *sheet.Sheet, order []string) *spec.Build {
	if s == nil {
		return nil
	}
	own := *s
	own.Options = nil
	for _, id := range order {
		own.Options = append(own.Options, source.Given[string]{Value: id, Text: id, Set: true, At: source.Pos{File: sheetFile}})
	}
	own.VIN.Value = vinOf(v.line, v.model, order, 1)
	b, _ := spec.Resolve(v.line, &own)
	return b
}

// figure returns a finding on a build as an outcome.
func (v *view) figure(f source.Finding, order []string) outcome {
	var related []source.Related
	for _, r := range f.Related {
		if r.Pos.File != sheetFile {
			related = append(related, r)
		}
	}
	return outcome{code: source.Code{ID: f.Code, Severity: f.Severity}, at: f.Pos, what: f.Message,
		witness: &Witness{Model: v.model.ID, Options: append([]string{}, order...), Sheet: []string{}}, related: related}
}

// valueNames returns the names of values in texts, conditions and jobs.
func (v *view) valueNames() (names []string) {
	add := func(name string) {
		if derive.IsDeclared(name) {
			names = append(names, name)
		}
	}
	for i := range v.texts.References {
		u := &v.texts.References[i]
		if u.Kind == Value {
			add(u.Name)
		}
		for _, atom := range u.When.Facts() {
			if name, is := strings.CutPrefix(atom, string(Value)+":"); is {
				add(name)
			}
		}
	}
	for _, t := range v.line.Tasks {
		for _, w := range t.Values {
			add(w.Value)
		}
	}
	slices.Sort(names)
	return slices.Compact(names)
}

// decisionTree learns for which orders something is true, from examples, and expresses it as a formula.
type decisionTree struct {
	options []string
	orders  [][]string
	is      []bool
}

func (l *decisionTree) add(order []string, is bool) {
	l.orders, l.is = append(l.orders, order), append(l.is, is)
}

// formula returns a formula that is true for exactly those of the recorded orders. If the options do not decide, the
// formula leaves it open.
func (l *decisionTree) formula(name string) logic.Formula {
	all := make([]int, len(l.orders))
	for i := range all {
		all[i] = i
	}
	return l.split(all, name)
}

func (l *decisionTree) split(among []int, name string) logic.Formula {
	yes := 0
	for _, i := range among {
		if l.is[i] {
			yes++
		}
	}
	switch yes {
	case len(among):
		return logic.All()
	case 0:
		return logic.Any()
	}
	// The option that leaves the fewest undecided orders on its two sides.
	best, least := "", len(among)
	for _, option := range l.options {
		with, without, yesWith := 0, 0, 0
		for _, i := range among {
			if !slices.Contains(l.orders[i], option) {
				without++
				continue
			}
			with++
			if l.is[i] {
				yesWith++
			}
		}
		if with == 0 || without == 0 {
			continue
		}
		if mixed := min(yesWith, with-yesWith) + min(yes-yesWith, without-yes+yesWith); best == "" || mixed < least {
			best, least = option, mixed
		}
	}
	if best == "" {
		return logic.Fact(valueFact(name)) // it depends on the sheet
	}
	var with, without []int
	for _, i := range among {
		if slices.Contains(l.orders[i], best) {
			with = append(with, i)
		} else {
			without = append(without, i)
		}
	}
	return logic.Any(logic.All(logic.Fact(best), l.split(with, name)), logic.All(logic.Not(logic.Fact(best)), l.split(without, name)))
}

// sortByPlace sorts failures in the order of findings.
func sortByPlace(failures []Failure) {
	slices.SortStableFunc(failures, func(a, b Failure) int { return a.Compare(b.Finding) })
}
