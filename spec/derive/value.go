package derive

import (
	"fmt"
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
type Key[T any] struct{ name string }

// Name returns the value's name.
func (k Key[T]) Name() string { return k.name }

// Input is an input of a value: another value, or an entry of sheet or line.
type Input struct {
	Name string     // name of a value; empty for an entry
	Path string     // path of an entry in the data; empty for a value
	Text string     // as printed or as written
	At   source.Pos // position of an entry
}

// Value is one figure of one unit.
type Value struct {
	Decl
	Exact  any // the figure before rounding: a quantity.Quantity, Text, int or quantity.Date
	Inputs []Input

	conversions *quantity.Conversions // of the unit; nil until all its values are known
	text        string                // as printed in the inputs of others; empty until then
	family      string                // its family; empty if it is in none
}

// Print formats the figure in the notation of a language and a maker.
func (v *Value) Print(p quantity.Print) string {
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
	compute func(*Eval) any
	members func(*Eval) []Member
}

// Member is one value of a family whose size depends on the unit, such as the visits of the
// service schedule.
type Member struct {
	Suffix string // appended to the family's name after a dot
	Exact  any    // as in [Value]
	Inputs []Input
}

// member calculates one member. Its inputs are those it reads itself, after those that the
// family has read before for all members.
func (e *Eval) member(suffix string, compute func(*Eval) any) Member {
	own := &Eval{Build: e.Build, run: e.run, parts: e.parts, inputs: slices.Clone(e.inputs)}
	exact := compute(own)
	return Member{suffix, exact, own.inputs}
}

// readMember returns a member with the value of one entry.
func readMember[T any](e *Eval, suffix string, g source.Given[T]) Member {
	return e.member(suffix, func(e *Eval) any { return Read(e, g) })
}

// family registers values whose number depends on the unit: Decl.Name is their common
// prefix.
func family(d Decl, members func(*Eval) []Member) { register(&declaration{Decl: d, members: members}) }

func register(d *declaration) {
	if _, twice := declarations[d.Name]; twice {
		panic("derive: value declared twice: " + d.Name)
	}
	declarations[d.Name] = d
}

// declarations are all declared values. They are registered during package initialization and
// immutable afterwards.
var declarations = make(map[string]*declaration, 512)

// declare registers a value. It must be called during package initialization.
func declare[T any](d Decl, compute func(*Eval) T) Key[T] {
	register(&declaration{Decl: d, compute: func(e *Eval) any { return compute(e) }})
	return Key[T]{d.Name}
}

// Declared returns all declarations, sorted by name. The list is shared and must not be
// modified.
func Declared() []Decl { return declared() }

var declared = sync.OnceValue(func() []Decl {
	out := make([]Decl, 0, len(declarations))
	for _, d := range declarations {
		out = append(out, d.Decl)
	}
	slices.SortFunc(out, func(a, b Decl) int { return strings.Compare(a.Name, b.Name) })
	return out
})

// Eval is one evaluation of one formula. It is not safe for concurrent use; each unit has its
// own.
type Eval struct {
	Build   *spec.Build
	run     *run
	parts   partsRead // parts read by the values or by the limits
	inputs  []Input
	limit   *Limit   // the limit being checked; nil while a value is calculated
	margins []Margin // of the limit
	found   []source.Finding
	reason  string // why the value cannot be calculated; empty if it can
}

type run struct {
	build    *spec.Build
	values   map[string]*Value
	absent   map[string]string
	active   map[string]bool
	inValues partsRead // parts read by some value
	inLimits partsRead // parts read by some limit
	care     *Plan     // nil until calculated
	strokeOf strokeOf
	stroke   []step // worked out last

	conversions *quantity.Conversions // nil until all values are known
	checked     []*Eval               // evaluations of the limits

	readsWeight bool                      // the current calculation has read the unit's options
	onWeight    map[string]bool           // values and families that did, and limits as "limit ID"
	dependsOn   map[string]spec.OptionSet // for a watched build: the options that each depends on
	tracing     []string                  // the current calculations, the innermost last
	readBy      map[*spec.Fitting][]string
	from        *run // the run of the same build with other weights; usually nil
}

func newRun(b *spec.Build) *run {
	return &run{build: b, values: map[string]*Value{}, absent: map[string]string{}, active: map[string]bool{},
		inValues: newPartsRead(), inLimits: newPartsRead(), onWeight: map[string]bool{}, dependsOn: map[string]spec.OptionSet{}, readBy: map[*spec.Fitting][]string{}}
}

// eval returns an Eval for a value.
func (r *run) eval() *Eval { return &Eval{Build: r.build, run: r, parts: r.inValues} }

// Get reads another value and records it as an input. If it is absent, the value being
// calculated is absent too.
func Get[T any](e *Eval, k Key[T]) T {
	v := e.run.value(k.name)
	if v == nil {
		e.Absent("%s: %s", k.name, e.run.absent[k.name])
	}
	e.inputs = append(e.inputs, Input{Name: k.name, Text: v.text}) // if empty, convert sets it
	return v.Exact.(T)
}

// Try reads a value that a unit may lack; if it does, ok is false and nothing is
// recorded.
func Try[T any](e *Eval, k Key[T]) (x T, ok bool) {
	if e.run.value(k.name) == nil {
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
	e.inputs = append(e.inputs, Input{Path: g.Path, Text: g.Text, At: g.At})
	return g.Value
}

// featurePath is the Path of an [Input] for a feature on which the formula depends; its position
// is the feature's origin.
const featurePath = "features"

// Has reports whether the unit has a feature, and records it as an input.
func (e *Eval) Has(feature string) bool {
	from, has := e.Build.BroughtFrom(feature)
	if has {
		e.inputs = append(e.inputs, Input{Path: featurePath, Text: feature, At: from})
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
func (r *run) value(name string) *Value {
	if v, done := r.values[name]; done {
		r.readsWeight = r.readsWeight || r.onWeight[name]
		r.build.DependOn(r.dependsOn[name])
		return v
	}
	if r.from != nil && !r.from.onWeight[name] {
		if v, done := r.from.values[name]; done {
			r.values[name], r.absent[name] = v, r.from.absent[name]
			r.dependsOn[name] = r.from.dependsOn[name]
			r.build.DependOn(r.dependsOn[name])
			return v
		}
	}
	d, known := declarations[name]
	switch {
	case !known:
		panic("derive: no value is declared as " + name)
	case r.active[name]:
		panic("derive: value depends on itself: " + name)
	}
	if d.compute == nil {
		panic("derive: " + name + " is a family; read its members through Values")
	}
	r.active[name] = true
	e, v := r.eval(), &Value{Decl: d.Decl}
	r.trace(name, func() {
		switch {
		case !d.When.Holds(r.build.Has):
			v, r.absent[name] = nil, "not for this build ("+d.When.String()+")"
		case e.attempt(func() { v.Exact = d.compute(e) }):
			v.Inputs = e.inputs
		default:
			v, r.absent[name] = nil, e.reason
		}
	})
	delete(r.active, name)
	r.values[name] = v
	return v
}

// family calculates the members of a family.
func (r *run) family(d *declaration) []*Value {
	e := r.eval()
	var members []Member
	r.trace(d.Name, func() {
		if !d.When.Holds(r.build.Has) {
			r.absent[d.Name] = "not for this build (" + d.When.String() + ")"
		} else if !e.attempt(func() { members = d.members(e) }) {
			members, r.absent[d.Name] = nil, e.reason
		}
	})
	var out []*Value
	for _, m := range members {
		v := &Value{Decl: d.Decl, Exact: m.Exact, Inputs: m.Inputs, family: d.Name}
		v.Name = d.Name + "." + m.Suffix
		out = append(out, v)
	}
	return out
}

// Evaluate calculates every value of a build and checks every limit. The reasons for absent
// values are returned by [Values.WhyAbsent]; findings are unsorted. A limit that could not be
// checked is itself an error, unless another error already explains why.
func Evaluate(b *spec.Build) (*Values, source.Findings) { return newRun(b).evaluate(nil) }

// evaluate calculates the values and limits whose claims are wanted; nil stands for all.
func (r *run) evaluate(wanted func(claim string) bool) (*Values, source.Findings) {
	b := r.build
	vs := &Values{byName: map[string]*Value{}, absent: r.absent, run: r, partial: wanted != nil}
	for _, decl := range Declared() {
		d := declarations[decl.Name]
		if vs.partial && !wanted(d.Name) {
			continue
		}
		if d.members != nil {
			vs.list = append(vs.list, r.family(d)...)
		} else if v := r.value(d.Name); v != nil {
			vs.list = append(vs.list, v)
		}
	}
	slices.SortFunc(vs.list, func(a, b *Value) int { return strings.Compare(a.Name, b.Name) })
	for _, v := range vs.list {
		vs.byName[v.Name] = v
	}
	r.conversions = quantity.NewConversions(b.Print().System)
	vs.convert(vs.list)
	if !vs.partial {
		vs.Plan = *r.plan()
	}
	var findings, unchecked source.Findings
	for _, l := range limits {
		if vs.partial && !wanted(LimitClaim+l.ID) {
			continue
		}
		e := &Eval{Build: b, run: r, parts: r.inLimits, limit: l}
		var checked bool
		r.trace(LimitClaim+l.ID, func() {
			if checked = l.When.Holds(b.Has); checked {
				e.attempt(func() { l.Check(e) })
			}
		})
		if checked {
			r.conclude(e, vs, &findings, &unchecked)
		}
	}
	if !vs.partial {
		findings.Add(r.ignored()...)
	}
	slices.SortStableFunc(vs.margins, func(a, b Margin) int { return strings.Compare(a.Code.ID, b.Code.ID) })
	if !b.Faulty && !findings.HasErrors() {
		findings.Add(unchecked...)
	}
	return vs, findings
}

// conclude records the findings of a limit.
func (r *run) conclude(e *Eval, vs *Values, findings, unchecked *source.Findings) {
	r.checked = append(r.checked, e)
	if e.reason == "" {
		findings.Add(e.found...)
		vs.margins = append(vs.margins, e.margins...)
		return
	}
	f := e.limit.Code().At(r.build.Sheet.Model.At, "cannot be checked: %s", e.reason)
	f.Severity = source.Error
	unchecked.Add(f)
}
