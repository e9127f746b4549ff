package derive

import (
	"cmp"
	"reflect"
	"regexp"
	"strings"

	"ownerguide/spec"
	"ownerguide/spec/source"
)

// Values and limits read the parts of a unit through the functions of this file, which record
// what was read. A part that nothing reads is reported: its ratings would be silently ignored.

// first returns the unit's first part of a type; ok is false if there is none.
func first[T any](e *Eval) (p spec.Placed[*T], ok bool) {
	return firstWhere(e, func(*T) bool { return true })
}

// firstWhere returns the unit's first part of a type for which is returns true.
func firstWhere[T any](e *Eval, is func(*T) bool) (p spec.Placed[*T], ok bool) {
	for _, p := range spec.All[*T](e.Build) {
		if is(p.Data) {
			e.markRead(p.Fitting)
			return p, true
		}
	}
	return p, false
}

// all returns the unit's parts of a type, in order.
func all[T any](e *Eval) []spec.Placed[*T] {
	parts := spec.All[*T](e.Build)
	for _, p := range parts {
		e.markRead(p.Fitting)
	}
	return parts
}

// allAs is all for callers that use only the result of project for each part. The result must be comparable.
func allAs[T any](e *Eval, project func(*spec.Fitting) any) (parts []spec.Placed[*T]) {
	for _, p := range e.Build.PartsAs(func(p *spec.Fitting) bool { _, is := p.Data.(*T); return is }, project) {
		e.markRead(p)
		parts = append(parts, spec.Placed[*T]{Fitting: p, Data: p.Data.(*T)})
	}
	return parts
}

// placeAndSize projects a part to its position and size, counted to nothing.
func placeAndSize(p *spec.Fitting) any { return [2]any{p.At, p.Size} }
func counted(*spec.Fitting) any        { return nil }

// markRead records that a part was read.
func (e *Eval) markRead(p *spec.Fitting) {
	parts := e.run.inValues
	if e.limit != nil {
		parts = e.run.inLimits
	}
	parts[p] = parts[p] || !e.run.readsWeight
	if n := len(e.run.tracing); n > 0 && e.Build.IsWatched() {
		e.run.readBy[p] = append(e.run.readBy[p], e.run.tracing[n-1])
	}
}

// eachPart calls do with every part. The effect of a call may depend only on that part and on what was read before.
// In a watched build each part is a subclaim.
func (e *Eval) eachPart(do func(*spec.Fitting)) {
	for _, place := range e.Build.Places() {
		e.subclaim(place, func() {
			if p := e.Build.In(place); p != nil {
				do(p)
			}
		})
	}
}

// each is eachPart for the parts of one type.
func each[T any](e *Eval, do func(*T)) {
	e.eachPart(func(p *spec.Fitting) {
		if data, is := p.Data.(*T); is {
			e.markRead(p)
			do(data)
		}
	})
}

// subclaim calls do as a subclaim of the current claim. Nothing else of the limit or value may depend on its effects.
func (e *Eval) subclaim(name string, do func()) {
	n := len(e.run.tracing)
	e.Build.Subclaim(e.run.tracing[n-1], name, func() { e.attempt(do) })
}

// hasPart reports whether the unit has a part of a type, without reading any.
func hasPart[T any](e *Eval) bool {
	_, ok := spec.First[*T](e.Build)
	return ok
}

// fitted returns the unit's first component of a type. If there is none the value is
// absent.
func fitted[T any](e *Eval) *T {
	p, ok := first[T](e)
	if !ok {
		e.Absent("the unit has no %s", strings.ToLower(strings.Join(capitalized.FindAllString(reflect.TypeFor[T]().Name(), -1), " ")))
	}
	return p.Data
}

var capitalized = regexp.MustCompile("[A-Z][a-z]*")

// positioned returns the unit's first part of a type. If there is none, or it has no position, the
// value is absent for the reason why.
func positioned[T any](e *Eval, why string) spec.Placed[*T] {
	p, ok := first[T](e)
	if !ok || p.Fitting.At == nil {
		e.Absent("%s", why)
	}
	return p
}

// ofPart declares a value that is an entry of the fitted part P. Its source is the maker of the
// part unless the declaration has another.
func ofPart[P, T any](d Decl, entry func(*P) source.Given[T]) Key[T] {
	d.Source = cmp.Or(d.Source, fromPart)
	return declare(d, func(e *Eval) T { return Read(e, entry(fitted[P](e))) })
}

// textOfPart is ofPart for an entry that is a word.
func textOfPart[P any](d Decl, entry func(*P) source.Given[string]) Key[Text] {
	d.Source = cmp.Or(d.Source, fromPart)
	return declare(d, func(e *Eval) Text { return Text(Read(e, entry(fitted[P](e)))) })
}

// PartIgnored is the code of a part that nothing reads.
const PartIgnored = "part-ignored"

var partIgnoredCode = source.Code{ID: PartIgnored, Severity: source.Error,
	Protects: "the ratings of a part that nothing looks at may be too low, and the guide tells those of another"}

// ignored returns a finding for each part that no value reads although values read another part of its kind. If
// no value reads the kind, what limits read counts instead.
func (r *run) ignored() (findings source.Findings) {
	for _, parts := range []partsRead{r.inValues, r.inLimits} {
		seen := map[string]*spec.Fitting{}
		for _, p := range r.build.Parts() {
			if parts.has(p) && seen[p.Kind] == nil {
				seen[p.Kind] = p
			}
		}
		for _, p := range r.build.Parts() {
			if other := seen[p.Kind]; other != nil && !parts.has(p) && !r.inValues.has(p) {
				hint := "describe parts that are alike as one component with their count; others of the kind cannot be told apart yet"
				if p.Kind == "jack" {
					hint = "the steps to raise and lower the front are told of one kind of jack: two alike are one component with count: 2, and apart: true where each has a handle; " +
						"an option puts another kind into the place of the first; one carried for a flat battery stands under others, with a section of its own; jacks that steady the tail are supports with jack: true"
				}
				findings.Add(partIgnoredCode.At(p.From, "no figure of the guide is worked out from %s in the place %s", p.Component, p.Place).
					WithRelated(other.From, "the %s that is looked at", p.Kind).
					WithHint("%s", hint))
			}
		}
	}
	return findings.Sorted()
}
