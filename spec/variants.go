package spec

import (
	"slices"

	"ownerguide/spec/logic"
	"ownerguide/spec/product"
	"ownerguide/spec/source"
)

// Variants is everything that can be ordered of one model: for each part and feature, a
// formula that says when a unit has it. Facts of the formulas are the options' ids, and
// [SheetFact] of what a sheet may say. Which options can be combined is not part of the
// formulas; see [product.Line.Problem].
type Variants struct {
	line   *product.Line
	model  *product.Model
	parts  []PossiblePart
	places []string // each once, in the order of first occurrence
	known  map[string]logic.Formula
}

// PossiblePart is a component in a place, with the condition for it.
type PossiblePart struct {
	Fitting
	When logic.Formula
}

// SheetFact returns the fact that a build sheet brings a feature, such as "dated".
func SheetFact(feature string) string { return "sheet " + feature }

// NewVariants returns the Variants of a model.
func NewVariants(l *product.Line, m *product.Model) *Variants {
	v := &Variants{line: l, model: m, known: map[string]logic.Formula{}}
	v.fit()
	return v
}

// Parts returns every component that can be in a place, places in the order of the line.
func (v *Variants) Parts() []PossiblePart { return v.parts }

// fit is [fit] for all choices at once: a part that is put in a place later replaces the
// previous one.
func (v *Variants) fit() {
	clear := func(place, option string) {
		for i := range v.parts {
			if v.parts[i].Place == place {
				v.parts[i].When = logic.All(v.parts[i].When, logic.Not(logic.Fact(option)))
			}
		}
	}
	put := func(item source.Item[product.Part], when logic.Formula) {
		c, _ := v.line.Component(item.Value.Use.Value)
		if !slices.Contains(v.places, item.Key) {
			v.places = append(v.places, item.Key)
		}
		for i := range v.parts {
			if p := &v.parts[i]; p.Place == item.Key && p.Component == c.ID {
				p.When = logic.Any(p.When, when)
				return
			}
		}
		v.parts = append(v.parts, PossiblePart{Fitting{Place: item.Key, Kind: c.Kind, Component: c.ID, From: item.KeyAt, Common: c.Common, Data: c.Data}, when})
	}
	for _, item := range v.model.Parts {
		put(item, logic.All())
	}
	for _, o := range v.model.Options {
		for _, place := range o.Value.Without {
			clear(place.Value, o.Key)
		}
		for _, item := range o.Value.Parts {
			clear(item.Key, o.Key)
			put(item, logic.Fact(o.Key))
		}
	}
}

// fitted returns the formula that a part for which is returns true is fitted.
func (v *Variants) fitted(is func(*PossiblePart) bool) logic.Formula {
	var any []logic.Formula
	for i := range v.parts {
		if is(&v.parts[i]) {
			any = append(any, v.parts[i].When)
		}
	}
	return logic.Any(any...)
}

// Fitted returns the formula that a unit has a part of a kind or in a place of that name.
func (v *Variants) Fitted(kindOrPlace string) logic.Formula {
	return v.fitted(func(p *PossiblePart) bool { return p.Kind == kindOrPlace || p.Place == kindOrPlace })
}

// Feature returns the formula that a unit has a feature, which never holds if nothing brings it.
func (v *Variants) Feature(name string) logic.Formula {
	if f, known := v.known[name]; known {
		return f
	}
	has := func(words []word) bool { return slices.Contains(source.Values(words), name) }
	var any []logic.Formula
	if has(v.model.Features) {
		var kept []logic.Formula
		for _, o := range v.model.Options {
			if has(o.Value.Drops) {
				kept = append(kept, logic.Not(logic.Fact(o.Key)))
			}
		}
		any = append(any, logic.All(kept...))
	}
	for _, o := range v.model.Options {
		if has(o.Value.Features) {
			any = append(any, logic.Fact(o.Key))
		}
	}
	any = append(any, v.fitted(func(p *PossiblePart) bool { return has(p.Common.Features) }))
	for _, d := range derivations {
		if d.name == name {
			any = append(any, d.cause.over(v, name))
		}
	}
	v.known[name] = logic.Any(any...)
	return v.known[name]
}

// decided returns the formula that is holds for the figure that counts. Among the options chosen
// that state the figure, the first in the order before counts; if there are none, that of the model.
func (v *Variants) decided(model float64, of func(*product.Option) (figure float64, states bool), before func(a, b float64) bool, is func(float64) bool) logic.Formula {
	type stated struct {
		figure float64
		chosen logic.Formula
	}
	var all []stated
	for i := range v.model.Options {
		o := &v.model.Options[i]
		if figure, states := of(&o.Value); states {
			all = append(all, stated{figure, logic.Fact(o.Key)})
		}
	}
	slices.SortStableFunc(all, func(a, b stated) int {
		switch {
		case before(a.figure, b.figure):
			return -1
		case before(b.figure, a.figure):
			return 1
		}
		return 0
	})
	var any []logic.Formula
	none := logic.All() // no option earlier in the order is chosen
	for _, s := range all {
		if is(s.figure) {
			any = append(any, logic.All(none, s.chosen))
		}
		none = logic.All(none, logic.Not(s.chosen))
	}
	if is(model) {
		any = append(any, none)
	}
	return logic.Any(any...)
}
