package derive

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"

	"ownerguide/spec"
	"ownerguide/spec/logic"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// Basis is the reliability of a source.
type Basis int

// The bases.
const (
	Published  Basis = iota // a named regulation, standard or handbook
	Stated                  // stated by a label, a component maker or the sheet
	Practice                // common practice in the trade, no published source
	Memory                  // a published figure, from memory, to be checked against the original
	Judgement               // this project's own safety margin, marked as such
	Arithmetic              // follows from its inputs by definition
)

// Source is the source of a formula or figure.
type Source struct {
	Basis Basis
	Name  string // regulation with section, standard with edition …; for Judgement the reason
}

// String returns the source as printed; never empty.
func (s Source) String() string {
	switch s.Basis {
	case Practice:
		return strings.TrimSuffix("common practice, no source: "+s.Name, ": ")
	case Memory:
		return s.Name + " (from memory)"
	case Judgement:
		return "judgement: " + s.Name
	case Arithmetic:
		if s.Name == "" {
			return "arithmetic"
		}
	}
	return s.Name
}

// Decl is the declaration of a value.
type Decl struct {
	Name     string          // system.figure, lower case: tires.cold_pressure
	When     logic.Condition // the value exists for builds where this holds
	Round    quantity.Rounding
	Formula  string // in words, with the names of its inputs
	Source   Source
	Aside    bool // not every owner who has the figure needs to see it
	Engineer bool // only for checks and the calculations, never printed for the owner
	// Ways is set if the value comes and goes with option weights. It returns, for each way in which the
	// value can exist, whether it does; each holds for a convex set of weights, see [Verdict]. Builds that
	// lack the value are a convex set, too.
	Ways func(*Eval) []bool
}

// Text is a value that is text: an id that is printed by a label of the language, or verbatim
// text such as the name of a part.
type Text string

// Key is a declared value of type T: a type of package quantity, [Text], int or
// quantity.Date.
type Key[T any] struct{ of *declaration }

// Name returns the value's name.
func (k Key[T]) Name() string { return k.of.Name }

// Input is an input of a value: another value, or an entry of sheet or line.
type Input struct {
	Name string     // name of a value; empty for an entry
	Path string     // path of an entry in the data; empty for a value
	Text string     // as written; empty for a value, which [Value.Print] prints
	At   source.Pos // position of an entry
}

// Value is one figure of one unit.
type Value struct {
	*Decl  // its own, or that of its family
	Name   string
	Exact  any // the figure before rounding: a quantity.Quantity, Text, int or quantity.Date
	Inputs []Input

	conversions *quantity.Conversions // of the unit; nil until all its values are known
	text        string                // in English; empty until then
}

// Print formats the figure in the notation of a language and a maker.
func (v *Value) Print(p quantity.Print) string {
	if v.text != "" && v.conversions.Plain(p) {
		return v.text
	}
	switch x := v.Exact.(type) {
	case quantity.Quantity:
		return v.conversions.Text(p, x, v.Round)
	case quantity.Date:
		return x.String()
	}
	return fmt.Sprint(v.Exact)
}

// Number returns the printed figure and its unit for programs; ok is false for text and
// dates.
func (v *Value) Number(p quantity.Print) (number float64, unit string, ok bool) {
	switch x := v.Exact.(type) {
	case quantity.Quantity:
		number, unit = p.Rounded(x, v.Round)
		return number, unit, true
	case int:
		return float64(x), "", true
	}
	return 0, "", false
}

// declaration is a Decl with its function. A family has a function for its members
// instead.
type declaration struct {
	Decl
	number  int // of the result in each run
	compute func(*Eval) any
	members func(*Eval) []*Value
}

// member calculates one value of a family whose size depends on the unit, such as the visits of the
// service schedule; suffix is appended to the family's name after a dot. Its inputs are those it reads itself, after those that the
// family has read before for all members.
func (e *Eval) member(suffix string, compute func(*Eval) any) *Value {
	family := len(e.run.read)
	defer func() { e.run.read = e.run.read[:family] }()
	return e.value(e.of.Name+"."+suffix, compute)
}

// value calculates a value of the declaration.
func (e *Eval) value(name string, compute func(*Eval) any) *Value {
	return &Value{Decl: &e.of.Decl, Name: name, Exact: compute(e), Inputs: slices.Clone(e.inputs())}
}

// readMember returns a member with the value of one entry.
func readMember[T any](e *Eval, suffix string, g source.Given[T]) *Value {
	return e.member(suffix, func(e *Eval) any { return Read(e, g) })
}

// family registers values whose number depends on the unit: Decl.Name is their common
// prefix.
func family(d Decl, members func(*Eval) []*Value) { register(&declaration{Decl: d, members: members}) }

func register(d *declaration) *declaration {
	if _, twice := declarations[d.Name]; twice {
		panic("derive: value declared twice: " + d.Name)
	}
	d.number = len(declarations)
	declarations[d.Name] = d
	return d
}

// declarations are all declared values. They are registered during package initialization and
// immutable afterwards.
var declarations = make(map[string]*declaration, 512)

// declare registers a value. It must be called during package initialization.
func declare[T any](d Decl, compute func(*Eval) T) Key[T] {
	return Key[T]{register(&declaration{Decl: d, compute: func(e *Eval) any { return compute(e) }})}
}

// Declared returns all declarations, sorted by name. The list is shared and must not be
// modified.
func Declared() []Decl { return declared() }

var declared = sync.OnceValue(func() (out []Decl) {
	for _, d := range sorted() {
		out = append(out, d.Decl)
	}
	return out
})

// sorted returns all declarations, sorted by name.
var sorted = sync.OnceValue(func() []*declaration {
	return slices.SortedFunc(maps.Values(declarations), func(a, b *declaration) int { return strings.Compare(a.Name, b.Name) })
})

// Eval is one evaluation of one formula. It is not safe for concurrent use; each unit has its
// own.
type Eval struct {
	Build   *spec.Build
	run     *run
	from    int          // its inputs begin here in those of the run
	of      *declaration // what is being calculated; nil while a limit is checked
	limit   *Limit       // the limit being checked
	margins []*Margin    // of the limit
	found   []source.Finding
	onSums  bool   // the limit reads a value that was calculated from the sums of option weights; only noted for an assessment
	reason  string // why the value cannot be calculated; empty if it can
}

type run struct {
	build    *spec.Build
	results  []result  // by number of the declaration
	read     []Input   // by the evaluations under way, the innermost last
	inValues partsRead // by some value
	inLimits partsRead // by some limit
	care     *Plan     // nil until calculated
	strokeOf strokeOf
	stroke   []step // worked out last

	partial     bool                  // only what is wanted is calculated, and the rest when it is looked up, without printed texts
	conversions *quantity.Conversions // nil until all values are known
	checked     []*Eval               // evaluations of the limits
	findings    source.Findings       // of the limits
	unchecked   source.Findings       // of those that could not be checked
	onSums      map[string]bool       // for an assessment: the values of which it is known whether they were calculated from the sums of option weights

	readsWeight bool                      // the current calculation has read the unit's options
	onWeight    map[string]bool           // values and families that did, and limits as "limit ID"
	dependsOn   map[string]spec.OptionSet // for a watched build: the options that each depends on
	tracing     []string                  // the current calculations, the innermost last
	readBy      map[*spec.Fitting][]string
	from        *run // the run of the same build with other weights; usually nil
}

// result is what became of a declaration.
type result struct {
	underWay, done bool
	unfit          bool     // not for this build
	values         []*Value // none if it is absent; several are of a family
	absent         string   // why it could not be calculated
}

func newRun(b *spec.Build) *run {
	return &run{build: b, results: make([]result, len(declarations)),
		inValues: partsRead{}, inLimits: partsRead{}, onWeight: map[string]bool{}, dependsOn: map[string]spec.OptionSet{}, readBy: map[*spec.Fitting][]string{}}
}

// eval returns an Eval for a value.
func (r *run) eval() *Eval { return &Eval{Build: r.build, run: r, from: len(r.read)} }

// inputs returns what the evaluation has read so far. They stay until it ends.
func (e *Eval) inputs() []Input { return e.run.read[e.from:] }

// end ends the evaluation.
func (e *Eval) end() { e.run.read = e.run.read[:e.from] }

// reads records inputs.
func (e *Eval) reads(inputs ...Input) { e.run.read = append(e.run.read, inputs...) }

// Get reads another value and records it as an input. If it is absent, the value being
// calculated is absent too.
func Get[T any](e *Eval, k Key[T]) T {
	v := e.run.value(k.of)
	if v == nil {
		e.Absent("%s: %s", k.Name(), e.run.whyAbsent(k.of))
	}
	e.reads(Input{Name: v.Name})
	return v.Exact.(T)
}

// Try reads a value that a unit may lack; if it does, ok is false and nothing is
// recorded.
func Try[T any](e *Eval, k Key[T]) (x T, ok bool) {
	if e.run.value(k.of) == nil {
		return x, false
	}
	return Get(e, k), true
}

// Read reads an entry of the sheet or the line and records it as an input. If the entry is
// missing, the value is absent.
func Read[T any](e *Eval, g source.Given[T]) T {
	if !g.Set {
		e.Absent("an entry it needs was left out")
	}
	e.reads(inputOf(g))
	return g.Value
}

// featurePath is the Path of an [Input] for a feature on which the formula depends; its position
// is the feature's origin.
const featurePath = "features"

// Has reports whether the unit has a feature, and records it as an input.
func (e *Eval) Has(feature string) bool {
	from, has := e.Build.BroughtFrom(feature)
	if has {
		e.reads(Input{Path: featurePath, Text: feature, At: from})
	}
	return has
}

// print returns the notation for figures that this package formats itself: inputs of values and
// findings, which are in English.
func (e *Eval) print() quantity.Print { return e.Build.Print() }

// text formats a figure of a finding.
func (e *Eval) text(q quantity.Quantity, r quantity.Rounding) string {
	return e.run.conversions.Text(e.print(), q, r)
}

// when parses a condition for declarations; "" always holds.
func when(text string) logic.Condition {
	if text == "" {
		return logic.Condition{}
	}
	c, err := logic.ParseCondition(text)
	if err != nil {
		panic("derive: condition " + text + ": " + err.Error())
	}
	return c
}

// Absent ends the evaluation: the value cannot be calculated for this unit, for a reason.
func (e *Eval) Absent(format string, args ...any) { panic(absent(fmt.Sprintf(format, args...))) }

// absent is the reason why an evaluation ended.
type absent string

// attempt runs an evaluation to its end or until a value is absent; then the reason is
// kept.
func (e *Eval) attempt(run func()) (complete bool) {
	defer func() {
		switch p := recover().(type) {
		case nil:
		case absent:
			e.reason = string(p)
		default:
			panic(p)
		}
	}()
	run()
	return true
}

// value returns a value, calculated on first use.
func (r *run) value(d *declaration) *Value {
	if values := r.result(d).values; values != nil {
		return values[0]
	}
	return nil
}

// result returns what becomes of a declaration.
func (r *run) result(d *declaration) *result {
	own := &r.results[d.number]
	if known := r.known(d); known.done && !own.done {
		*own, r.dependsOn[d.Name] = *known, r.from.dependsOn[d.Name]
	}
	switch {
	case own.underWay:
		panic("derive: value depends on itself: " + d.Name)
	case own.done:
		r.readsWeight = r.readsWeight || r.onWeight[d.Name]
		r.build.DependOn(r.dependsOn[d.Name])
	default:
		own.underWay = true
		r.trace(d.Name, func() { *own = r.calculate(d) })
	}
	return own
}

// calculate calculates a value, or the members of a family.
func (r *run) calculate(d *declaration) result {
	own := result{done: true, unfit: !d.When.Holds(r.build.Has)}
	if own.unfit {
		return own
	}
	e := r.eval()
	e.of = d
	if !e.attempt(func() {
		if d.members != nil {
			own.values = d.members(e)
			sortByName(own.values)
		} else {
			own.values = []*Value{e.value(d.Name, d.compute)}
		}
	}) {
		own.absent = e.reason
	}
	e.end()
	return own
}

// known returns what became of a declaration, without calculating it.
func (r *run) known(d *declaration) *result {
	own := &r.results[d.number]
	if !own.done && !own.underWay && r.from != nil && !r.from.onWeight[d.Name] {
		return r.from.known(d)
	}
	return own
}

// find returns a value by name; nil if there is none.
func (r *run) find(name string) *Value {
	d := declarationOf(name)
	if d == nil || r == nil {
		return nil
	}
	known := r.known(d)
	if r.partial && !known.done {
		known = r.result(d)
	}
	v := named(known.values, name)
	if v != nil && v.conversions == nil {
		v.conversions = r.conversions
	}
	return v
}

// whyAbsent returns why a value is absent.
func (r *run) whyAbsent(d *declaration) string {
	known := r.known(d)
	if known.unfit {
		return "not for this build (" + d.When.String() + ")"
	}
	return known.absent
}

// Evaluate calculates every value of a build and checks every limit. The reasons for absent
// values are returned by [Values.WhyAbsent]; findings are unsorted. A limit that could not be
// checked is itself an error, unless another error already explains why.
func Evaluate(b *spec.Build) (*Values, source.Findings) { return newRun(b).evaluate(nil) }

// evaluate calculates the values and limits whose claims are wanted; nil stands for all.
func (r *run) evaluate(wanted func(claim string) bool) (*Values, source.Findings) {
	vs := &Values{run: r}
	r.partial = wanted != nil
	for _, d := range sorted() {
		if !r.partial || wanted(d.Name) {
			vs.list = append(vs.list, r.result(d).values...)
		}
	}
	r.conversions = quantity.NewConversions(r.build.Print().System)
	vs.complete(vs.list)
	for _, l := range limits {
		if r.partial && !wanted(l.claim) {
			continue
		}
		if e := r.check(l); e != nil {
			r.conclude(e, vs)
		}
	}
	return vs, r.concluded()
}

// check checks a limit; nil if it does not apply to the build.
func (r *run) check(l *Limit) (e *Eval) {
	r.trace(l.claim, func() {
		if !l.When.Holds(r.build.Has) {
			return
		}
		e = r.eval()
		e.limit = l
		e.attempt(func() { l.Check(e) })
		if r.onSums != nil {
			e.onSums = slices.ContainsFunc(e.inputs(), func(in Input) bool { return r.isOnSums(in.Name) })
		}
		e.end()
	})
	return e
}

// conclude records the findings of a limit.
func (r *run) conclude(e *Eval, vs *Values) {
	r.checked = append(r.checked, e)
	if e.reason == "" {
		r.findings.Add(e.found...)
		vs.margins = append(vs.margins, e.margins...)
		return
	}
	f := e.limit.Code().At(r.build.Sheet.Model.At, "cannot be checked: %s", e.reason)
	f.Severity = source.Error
	r.unchecked.Add(f)
}

// concluded returns the findings of all limits.
func (r *run) concluded() source.Findings {
	if !r.partial {
		r.findings.Add(r.ignored()...)
	}
	if !r.build.Faulty && !r.findings.HasErrors() {
		r.findings.Add(r.unchecked...)
	}
	return r.findings
}
