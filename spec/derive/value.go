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

// Basis says how far a source can be trusted.
type Basis int

// The kinds of source a value can rest on.
const (
	Published  Basis = iota // a regulation, standard or handbook, named
	Stated                  // what a label, a component maker or the sheet states
	Practice                // common practice in the trade, no published source
	Memory                  // a published figure, from memory, to be checked against the original
	Judgement               // this project's own safety margin, said so
	Arithmetic              // follows from its inputs by definition
)

// Source says where a formula or figure comes from.
type Source struct {
	Basis Basis
	Name  string // regulation with section, standard with edition …; for Judgement the reason
}

// String gives the source as it is printed; never empty.
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

// Decl declares one value.
type Decl struct {
	Name     string          // system.figure, lower case: tires.cold_pressure
	When     logic.Condition // the value exists for builds where this holds
	Round    quantity.Rounding
	Formula  string // in words, with the names of what it uses
	Source   Source
	Gaps     bool // where two builds have it, one whose options weigh something between may lack it; see [Verdict]
	Aside    bool // not every owner who has the figure needs to be told it
	Engineer bool // for checks and the calculation sheet only, never printed for the owner
}

// Text is a value that is a word: an enumerated id whose printed form the
// labels of a language give, or a verbatim text such as a part's own name.
type Text string

// Key is a declared value of a known type T: a type of package quantity,
// [Text], int or quantity.Date.
type Key[T any] struct{ name string }

// Name gives the value's name.
func (k Key[T]) Name() string { return k.name }

// Input is one thing a value was worked out from: another value, or an entry
// of sheet or line.
type Input struct {
	Name string     // of a value; empty for an entry
	Path string     // of an entry: its place in the data; empty for a value
	Text string     // as printed or as written
	At   source.Pos // of an entry
}

// Value is one figure of one unit.
type Value struct {
	Decl
	Exact  any // a quantity.Quantity, Text, int or quantity.Date: the figure before rounding
	Inputs []Input

	conversions *quantity.Conversions // of the unit; nil until all its values are known
	text        string                // as the inputs of others have it; empty until then
	family      string                // it is a member of; empty for others
}

// Print gives the figure as a language and a maker write it.
func (v *Value) Print(p quantity.Print) string {
	switch x := v.Exact.(type) {
	case quantity.Quantity:
		return v.conversions.Text(p, x, v.Round)
	case quantity.Date:
		return x.String()
	}
	return fmt.Sprint(v.Exact)
}

// Number gives the printed figure and its unit for programs; ok is false for
// words and dates.
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

// declaration is a Decl with its formula as code. A family gives its members
// instead of one figure.
type declaration struct {
	Decl
	compute func(*Eval) any
	members func(*Eval) []Member
}

// Member is one value of a family whose size depends on the unit, such as the
// visits of the service schedule.
type Member struct {
	Suffix string // appended to the family's name after a dot
	Exact  any    // as in [Value]
	Inputs []Input
}

// member works out one member. Its inputs are what it reads itself, after what
// the family had read by then for all of them.
func (e *Eval) member(suffix string, compute func(*Eval) any) Member {
	own := &Eval{Build: e.Build, run: e.run, parts: e.parts, inputs: slices.Clone(e.inputs)}
	exact := compute(own)
	return Member{suffix, exact, own.inputs}
}

// readMember makes a member of one entry.
func readMember[T any](e *Eval, suffix string, g source.Given[T]) Member {
	return e.member(suffix, func(e *Eval) any { return Read(e, g) })
}

// family registers values whose number depends on the unit: Decl.Name is the
// prefix they share.
func family(d Decl, members func(*Eval) []Member) { register(&declaration{Decl: d, members: members}) }

func register(d *declaration) {
	if _, twice := declarations[d.Name]; twice {
		panic("derive: value declared twice: " + d.Name)
	}
	declarations[d.Name] = d
}

// declarations is filled while the package is initialised
// and never changes afterwards.
var declarations = make(map[string]*declaration, 512)

// declare registers a value. Called only while the package is initialised.
func declare[T any](d Decl, compute func(*Eval) T) Key[T] {
	register(&declaration{Decl: d, compute: func(e *Eval) any { return compute(e) }})
	return Key[T]{d.Name}
}

// Declared lists every value that can exist: name and condition, sorted by
// name. The list is shared and not to be changed.
func Declared() []Decl { return declared() }

var declared = sync.OnceValue(func() []Decl {
	out := make([]Decl, 0, len(declarations))
	for _, d := range declarations {
		out = append(out, d.Decl)
	}
	slices.SortFunc(out, func(a, b Decl) int { return strings.Compare(a.Name, b.Name) })
	return out
})

// Eval is one evaluation of one formula. It is not safe for use by several
// goroutines; each unit has its own.
type Eval struct {
	Build   *spec.Build
	run     *run
	parts   looked // at, by the values or by the limits
	inputs  []Input
	limit   *Limit   // that is checked; nil while a value is worked out
	margins []Margin // of the limit
	found   []source.Finding
	reason  string // why the value cannot be worked out; empty while it can
}

type run struct {
	build    *spec.Build
	values   map[string]*Value
	absent   map[string]string
	active   map[string]bool
	inValues looked // parts that some value looks at
	inLimits looked // parts that some limit looks at
	care     *Plan  // nil until it is worked out
	strokeOf strokeOf
	stroke   []step // worked out last

	conversions *quantity.Conversions // nil until all values are known
	checked     []*Eval               // of the limits

	weighs   bool                      // what is being worked out has looked at what the unit's options are
	onWeight map[string]bool           // values and families that did, and limits as "limit ID"
	hangsOn  map[string]spec.OptionSet // of a build that is watched: on what they hang
	noting   []string                  // what is being worked out, the innermost last
	lookedBy map[*spec.Fitting][]string
	from     *run // of the same build with other weights; nil of most
}

func newRun(b *spec.Build) *run {
	return &run{build: b, values: map[string]*Value{}, absent: map[string]string{}, active: map[string]bool{},
		inValues: newLooked(), inLimits: newLooked(), onWeight: map[string]bool{}, hangsOn: map[string]spec.OptionSet{}, lookedBy: map[*spec.Fitting][]string{}}
}

// eval begins the evaluation of a value.
func (r *run) eval() *Eval { return &Eval{Build: r.build, run: r, parts: r.inValues} }

// Get reads another value and records that it was read. A value that is
// absent makes the one being worked out absent too.
func Get[T any](e *Eval, k Key[T]) T {
	v := e.run.value(k.name)
	if v == nil {
		e.Absent("%s: %s", k.name, e.run.absent[k.name])
	}
	e.inputs = append(e.inputs, Input{Name: k.name, Text: v.text}) // or convert writes it
	return v.Exact.(T)
}

// Try reads a value that a unit may lack; ok is false, and nothing is recorded,
// when it does.
func Try[T any](e *Eval, k Key[T]) (x T, ok bool) {
	if e.run.value(k.name) == nil {
		return x, false
	}
	return Get(e, k), true
}

// Read takes an entry of the sheet or the line and records that it was read.
// An entry that was left out makes the value absent.
func Read[T any](e *Eval, g source.Given[T]) T {
	if !g.Set {
		e.Absent("an entry it needs was left out")
	}
	e.inputs = append(e.inputs, Input{Path: g.Path, Text: g.Text, At: g.At})
	return g.Value
}

// featurePath is the Path of an [Input] that says which entry gave the unit a
// feature the formula turned on.
const featurePath = "features"

// Has tells whether the unit has a feature, and records who brought it.
func (e *Eval) Has(feature string) bool {
	from, has := e.Build.BroughtFrom(feature)
	if has {
		e.inputs = append(e.inputs, Input{Path: featurePath, Text: feature, At: from})
	}
	return has
}

// print is how figures stand in what this package writes itself: the inputs of a
// value and its findings. The words around them are English.
func (e *Eval) print() quantity.Print { return e.Build.Print() }

// text writes a figure of a finding.
func (e *Eval) text(q quantity.Quantity, r quantity.Rounding) string {
	return e.run.conversions.Text(e.print(), q, r)
}

// when reads a condition, for declarations; "" is of what every build has.
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

// Absent ends the evaluation: the value cannot be worked out for this unit, and why.
func (e *Eval) Absent(format string, args ...any) { panic(absent(fmt.Sprintf(format, args...))) }

// absent is why an evaluation was ended.
type absent string

// attempt runs an evaluation to its end, or until it finds out that a value is absent;
// then the reason is kept.
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

// value works out a value on first use.
func (r *run) value(name string) *Value {
	if v, done := r.values[name]; done {
		r.weighs = r.weighs || r.onWeight[name]
		r.build.Note(r.hangsOn[name])
		return v
	}
	if r.from != nil && !r.from.onWeight[name] {
		if v, done := r.from.values[name]; done {
			r.values[name], r.absent[name] = v, r.from.absent[name]
			r.hangsOn[name] = r.from.hangsOn[name]
			r.build.Note(r.hangsOn[name])
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
	r.note(name, func() {
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

// family works out the members of a family.
func (r *run) family(d *declaration) []*Value {
	e := r.eval()
	var members []Member
	r.note(d.Name, func() {
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

// Evaluate works out every value of a build and checks every limit. Values
// that are absent are listed by [Values.WhyAbsent]; findings are unsorted. A
// limit that could not be checked is itself an error, unless another error
// already explains why.
func Evaluate(b *spec.Build) (*Values, source.Findings) { return newRun(b).evaluate(nil) }

// evaluate works out the values and limits that are wanted by the names of their claims, nil for all.
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
		r.note(LimitClaim+l.ID, func() {
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

// conclude takes down what a limit found.
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
