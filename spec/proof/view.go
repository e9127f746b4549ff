package proof

import (
	"maps"
	"slices"
	"strings"

	"ownerguide/spec"
	"ownerguide/spec/derive"
	"ownerguide/spec/logic"
	"ownerguide/spec/product"
)

// Witness is the smallest build that violates a claim.
type Witness struct {
	Model   string   `json:"model"`
	Options []string `json:"options"`
	Sheet   []string `json:"sheet"` // features that its sheet must bring, such as "dated"
}

// String returns the witness as printed.
func (w Witness) String() string {
	text := w.Model + " without options"
	if len(w.Options) > 0 {
		text = w.Model + " with " + strings.Join(w.Options, ", ")
	}
	if len(w.Sheet) > 0 {
		text += "; sheet: " + strings.Join(w.Sheet, ", ")
	}
	return text
}

// view is the encoding of one model for the solver.
type view struct {
	line     *product.Line
	texts    *Texts
	model    *product.Model
	problem  logic.Problem
	variants *spec.Variants
	solver   *logic.Solver         // over builds that can be ordered
	free     *logic.Solver         // over any choice of options, for questions about rules
	used     map[Kind][]*Reference // by kind, and by kind:name
	declares map[string]derive.Decl
	cover    *cover                   // of its figures, if weights left open whether some values exist
	exists   map[string]logic.Formula // formulas for the existence of values, in addition to their declarations; see figuring.outcomes
	known    map[string]logic.Formula // cache of conditions and atoms, by language and spelling
}

func newView(l *product.Line, texts *Texts, m *product.Model, used map[Kind][]*Reference, steps int) *view {
	v := &view{line: l, texts: texts, model: m, problem: l.Problem(m), variants: spec.NewVariants(l, m), used: used,
		declares: declarations(), exists: map[string]logic.Formula{}, known: map[string]logic.Formula{}}
	hold := v.problem.Formulas()
	for name, parent := range sheetWords() {
		hold = append(hold, logic.Implies(logic.Fact(wordFact(name)), logic.Fact(spec.SheetFact(parent))))
	}
	hold = append(hold, logic.Implies(logic.Fact(spec.SheetFact("dated")), logic.Fact(wordFact("sheet.delivered"))))
	v.solver, v.free = logic.NewSolver(steps, hold...), logic.NewSolver(steps)
	return v
}

// spent reports whether a solver is spent, so that some answers mean nothing.
func (v *view) spent() bool { return v.solver.Spent() || v.free.Spent() }

// sheetWords maps the words that a sheet need not have to the feature of sheets that have
// them.
func sheetWords() map[string]string {
	return map[string]string{
		"sheet.buyer.town": "buyer", "sheet.buyer.region": "buyer", "sheet.buyer.phone": "buyer", "sheet.buyer.email": "buyer",
		"sheet.dealer.town": "dealer", "sheet.dealer.region": "dealer", "sheet.dealer.phone": "dealer", "sheet.dealer.email": "dealer",
	}
}

func wordFact(name string) string { return "word " + name }

// condition returns a condition in a language as a formula.
func (v *view) condition(c logic.Condition, lang string) logic.Formula {
	key := lang + " " + c.String()
	if f, met := v.known[key]; met {
		return f
	}
	f := c.Substitute(func(name string) logic.Formula { return v.atom(name, lang) })
	v.known[key] = f
	return f
}

// atom returns a feature, or an atom of [Reference], as a formula.
func (v *view) atom(name, lang string) logic.Formula {
	kind, id, is := strings.Cut(name, ":")
	if !is {
		return v.variants.Feature(name)
	}
	key := lang + " " + name
	if f, met := v.known[key]; met {
		return f
	}
	v.known[key] = logic.Any() // a text that is shown only through itself is not shown
	f := v.meaning(Kind(kind), id, lang)
	v.known[key] = f
	return f
}

func (v *view) meaning(kind Kind, id, lang string) logic.Formula {
	switch kind {
	case Value, Word:
		return v.existsFormula(id)
	case Task:
		return v.applies(id)
	case Job:
		t := v.line.Task(id)
		if t == nil {
			return logic.Any()
		}
		return logic.All(v.applies(id), v.anyUse(Jobs, t.System.Value, lang, false))
	case Panel:
		return logic.Any(v.anyUse(Panel, id, lang, true), v.anyUse(Safety, id, lang, true))
	default:
		return v.anyUse(kind, id, lang, true)
	}
}

// anyUse returns the formula that a reference of a kind and name is shown; references in
// documents beside the guide count if beside is set.
func (v *view) anyUse(kind Kind, name, lang string, beside bool) logic.Formula {
	return v.anyOf(v.named(kind, name), lang, func(u *Reference) bool { return beside || !u.Beside })
}

// anyOf returns the formula that one of some references in a language is shown.
func (v *view) anyOf(uses []*Reference, lang string, which func(*Reference) bool) logic.Formula {
	var any []logic.Formula
	for _, u := range uses {
		if u.Lang == lang && which(u) {
			any = append(any, v.condition(u.When, lang))
		}
	}
	return logic.Any(any...)
}

// named returns the references of a kind and name, in the order of the texts.
func (v *view) named(kind Kind, name string) []*Reference { return v.used[kind+":"+Kind(name)] }

// applies returns the formula that a unit has a job.
func (v *view) applies(id string) logic.Formula {
	if t := v.line.Task(id); t != nil {
		return v.condition(t.When, "")
	}
	return logic.Any()
}

// existsFormula returns the formula that a value or a word exists.
func (v *view) existsFormula(name string) logic.Formula {
	if derive.IsDeclared(name) {
		return logic.All(v.condition(v.declared(name).When, ""), v.exists[name])
	}
	kind, rest, _ := strings.Cut(name, ".")
	maker := v.line.Maker
	switch {
	case kind == "part":
		return v.variants.Fitted(rest)
	case name == "sheet.buyer.name":
		return logic.Fact(spec.SheetFact("buyer"))
	case name == "sheet.dealer.name":
		return logic.Fact(spec.SheetFact("dealer"))
	case name == "sheet.notes":
		return logic.Fact(spec.SheetFact("notes"))
	case name == "sheet.delivered" || sheetWords()[name] != "":
		return logic.Fact(wordFact(name))
	case name == "maker.web" && !maker.Web.Set, name == "maker.notice" && !maker.Notice.Set:
		return logic.Any()
	}
	return logic.All()
}

// declarations returns all declared values by name.
func declarations() map[string]derive.Decl {
	all := map[string]derive.Decl{}
	for _, d := range derive.Declared() {
		all[d.Name] = d
	}
	return all
}

// declared returns the declaration of a value, which may be that of its family.
func (v *view) declared(name string) derive.Decl {
	if d, own := v.declares[name]; own {
		return d
	}
	return v.declares[derive.FamilyOf(name)]
}

// witness returns the smallest build that satisfies a formula; nil if there is none.
func (v *view) witness(f logic.Formula) *Witness {
	if v.cover != nil {
		f = logic.All(append(slices.Clone(v.cover.learned.formulas), f)...)
	}
	options, ok := v.solver.Smallest(v.problem.Options, f)
	if !ok {
		return nil
	}
	var facts []string
	for _, feature := range spec.SheetFeatures() {
		facts = append(facts, spec.SheetFact(feature))
	}
	for _, name := range slices.Sorted(maps.Keys(sheetWords())) {
		facts = append(facts, wordFact(name))
	}
	facts = append(facts, wordFact("sheet.delivered"))
	says, _ := v.solver.Smallest(facts, append(exactly(v.problem.Options, options), f)...)
	w := &Witness{Model: v.model.ID, Options: append([]string{}, options...), Sheet: []string{}}
	for _, fact := range says {
		_, name, _ := strings.Cut(fact, " ")
		w.Sheet = append(w.Sheet, name)
	}
	return w
}
