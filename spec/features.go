package spec

import (
	"cmp"
	"slices"

	"ownerguide/spec/product"
	"ownerguide/spec/source"
)

// gatherFeatures returns the features of the unit: those that a maker wrote in model, options
// and components, and those that follow from the unit itself, see [derivations].
func (b *Build) gatherFeatures() []Feature {
	from := map[string]source.Pos{}
	bring := func(name string, at source.Pos) {
		if _, known := from[name]; !known {
			from[name] = at
		}
	}
	bringAll := func(names []source.Given[string]) {
		for _, n := range names {
			bring(n.Value, n.At)
		}
	}
	bringAll(b.Model.Features)
	for _, o := range b.options {
		for _, n := range o.Option.Drops {
			delete(from, n.Value)
		}
	}
	for _, o := range b.options {
		bringAll(o.Option.Features)
	}
	for _, p := range b.parts {
		bringAll(p.Common.Features)
	}
	for _, d := range derivations {
		if at, ok := d.cause.from(b); ok {
			bring(d.name, at)
		}
	}
	var features []Feature
	for name, at := range from {
		features = append(features, Feature{name, at})
	}
	slices.SortFunc(features, func(a, b Feature) int { return cmp.Compare(a.Name, b.Name) })
	return features
}

// DerivedFeatures returns the derived features, each with its condition in words.
func DerivedFeatures() map[string]string {
	all := map[string]string{}
	for _, d := range derivations {
		all[d.name] = d.when
	}
	return all
}

// SheetFeatures returns the features that depend on the build sheet only, not on the order.
func SheetFeatures() (names []string) {
	for _, d := range derivations {
		if _, says := d.cause.(sheetSays); says {
			names = append(names, d.name)
		}
	}
	return names
}

// PartFeatures returns the features of a component by itself: those its maker wrote, and
// those that follow from its kind and data.
func PartFeatures(p *Fitting) (features []Feature) {
	for _, own := range p.Common.Features {
		features = append(features, Feature{own.Value, own.At})
	}
	for _, d := range derivations {
		if is, alone := d.cause.(partIs); alone && is(p.Data) {
			features = append(features, Feature{d.name, p.From})
		}
	}
	return features
}

// Vocabulary returns every feature that a condition over this line can name, sorted, each
// once.
func Vocabulary(l *product.Line) []string {
	names := source.Values(l.Provided())
	for _, d := range derivations {
		names = append(names, d.name)
	}
	slices.Sort(names)
	return slices.Compact(names)
}
