package spec

import (
	"cmp"
	"slices"
	"strconv"

	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// derivation is a feature that follows from sheet, ratings or parts. From gives
// the place that brings it; ok is false for a unit without it.
type derivation struct {
	name string
	from func(b *Build) (from source.Pos, ok bool)
}

// gatherFeatures lists what the unit has: the model's features without those an
// option takes away, then those of options, components and derivations.
func (b *Build) gatherFeatures() []Feature {
	from := map[string]source.Pos{}
	bring := func(words []word) {
		for _, w := range words {
			if _, known := from[w.Value]; !known {
				from[w.Value] = w.At
			}
		}
	}
	bring(b.Model.Features)
	for _, o := range b.Options {
		for _, w := range o.Option.Drops {
			delete(from, w.Value)
		}
	}
	for _, o := range b.Options {
		bring(o.Option.Features)
	}
	for _, p := range b.Parts {
		bring(p.Common.Features)
	}
	for _, d := range derivations() {
		if at, ok := d.from(b); ok {
			bring([]word{{Value: d.name, At: at}})
		}
	}
	var features []Feature
	for name, at := range from {
		features = append(features, Feature{name, at})
	}
	slices.SortFunc(features, func(a, b Feature) int { return cmp.Compare(a.Name, b.Name) })
	return features
}

func derivedFeatures() []string {
	var names []string
	for _, d := range derivations() {
		names = append(names, d.name)
	}
	return names
}

// Limits of the law that conditions refer to.
const (
	heavyAbove    = quantity.Mass(10000) // 49 CFR 390.5 and 393.11 speak of more than 10,000 lb
	guardFrom     = quantity.Mass(10000) // 49 CFR 571.224 applies from 10,000 lb on
	wideFrom      = quantity.Length(80)  // 49 CFR 571.108: 80 in or more
	longFrom      = quantity.Length(360) // 49 CFR 571.108: 30 ft or more
	firstRevision = "A"
)

func derivations() []derivation {
	list := []derivation{
		{"dated", func(b *Build) (source.Pos, bool) {
			return b.Sheet.Delivered.At, b.Sheet.Delivered.Set && b.Sheet.Use != nil
		}},
		{"revised", func(b *Build) (source.Pos, bool) {
			return b.Sheet.Revision.At, b.Sheet.Revision.Set && b.Sheet.Revision.Value != firstRevision
		}},
		{"measured", func(b *Build) (source.Pos, bool) { return b.Sheet.Measured.Empty.At, b.Sheet.Measured.Empty.Set }},
		{"measured-tongue", func(b *Build) (source.Pos, bool) {
			return b.Sheet.Measured.OnCoupler.At, b.Sheet.Measured.OnCoupler.Set
		}},
		{"buyer", func(b *Build) (source.Pos, bool) { return person(b.Sheet.Buyer) }},
		{"dealer", func(b *Build) (source.Pos, bool) { return person(b.Sheet.Dealer) }},
		{"notes", func(b *Build) (source.Pos, bool) { return b.Sheet.Notes.At, b.Sheet.Notes.Set }},
		{"fitted-tires", func(b *Build) (source.Pos, bool) {
			for _, t := range b.Sheet.Fitted.Tires {
				return t.Place.At, true
			}
			return source.Pos{}, false
		}},
		{"fitted-axles", func(b *Build) (source.Pos, bool) {
			for _, a := range b.Sheet.Fitted.Axles {
				return a.Place.At, true
			}
			return source.Pos{}, false
		}},
		{"carrier-miles", func(b *Build) (source.Pos, bool) {
			if u := b.Sheet.Use; u != nil {
				return u.Already.At, u.Already.Set
			}
			return source.Pos{}, false
		}},
		{"retrofitted", func(b *Build) (source.Pos, bool) {
			for _, c := range slices.Concat(b.Sheet.Added, b.Sheet.Removed) {
				return c.Option.At, true
			}
			return source.Pos{}, false
		}},
		{"braked", func(b *Build) (source.Pos, bool) { return b.brakes() }},
		{"unbraked", func(b *Build) (source.Pos, bool) { _, braked := b.brakes(); return b.Model.At, !braked }},
		{"over-10000-lb", func(b *Build) (source.Pos, bool) { r := b.GVWR(); return r.At, r.Value > heavyAbove }},
		{"to-10000-lb", func(b *Build) (source.Pos, bool) { r := b.GVWR(); return r.At, r.Value <= heavyAbove }},
		{"guard-range", func(b *Build) (source.Pos, bool) { r := b.GVWR(); return r.At, r.Value >= guardFrom }},
		{"wide-80", func(b *Build) (source.Pos, bool) { w := b.Overall().Wide; return w.At, w.Value >= wideFrom }},
		{"conspicuity", func(b *Build) (source.Pos, bool) {
			w := b.Overall().Wide
			return w.At, w.Value >= wideFrom && b.GVWR().Value > heavyAbove
		}},
		{"length-30-ft", func(b *Build) (source.Pos, bool) { l := b.Overall().Long; return l.At, l.Value >= longFrom }},
		{"holding-valve", part(func(p *PowerUnit) bool { return p.Holding.Value != "none" })},
		{"jack-drop-leg", part(func(j *Jack) bool { return j.DropLeg.Value })},
		{"jack-pair", part(func(j *Jack) bool { return j.Count.Value >= 2 })},
		{"jack-swivel", part(func(j *Jack) bool { return j.Swivel.Value })},
		{"prop-pair", part(func(p *Prop) bool { return p.Count.Value >= 2 })},
		{"cylinder-pair", part(func(c *Cylinder) bool { return c.Count.Value >= 2 })},
		{"battery-pair", part(func(x *Battery) bool { return x.Count.Value >= 2 })},
		{"leaf-springs", part(func(a *Axle) bool { return a.Suspension.Value == "leaf" })},
		{"torsion", part(func(a *Axle) bool { return a.Suspension.Value == "torsion" })},
	}
	for i, name := range []string{"single-axle", "tandem-axle", "triple-axle"} {
		list = append(list, derivation{name, func(b *Build) (source.Pos, bool) {
			axles := All[*Axle](b)
			if len(axles) != i+1 {
				return source.Pos{}, false
			}
			return axles[i].Fitting.From, true
		}})
	}
	for _, kind := range []string{"ported", "repack", "sealed"} {
		list = append(list, derivation{"hubs-" + kind, part(func(a *Axle) bool { return a.Bearings.Value == kind })})
	}
	for _, kind := range []string{"flooded", "agm"} {
		list = append(list, derivation{kind + "-battery", part(func(x *Battery) bool { return x.Kind.Value == kind })})
	}
	for _, kind := range []string{"steel", "aluminum"} {
		list = append(list, derivation{"wheels-" + kind, part(func(w *Wheel) bool { return w.Material.Value == kind })})
	}
	for _, how := range []string{"slide-in", "stand-up", "fold-flat"} {
		list = append(list, derivation{"ramps-" + how, part(func(r *Ramp) bool { return r.Stow.Value == how })})
	}
	for _, kind := range []string{"single", "double"} {
		list = append(list, derivation{kind + "-acting", part(func(p *PowerUnit) bool { return p.Acting.Value == kind })})
	}
	for _, kind := range []string{"four-flat", "seven-blade", "seven-round"} {
		list = append(list, derivation{"connector-" + kind, part(func(c *Connector) bool { return c.Kind.Value == kind })})
	}
	for _, n := range []int{4, 5, 6, 8, 10} {
		list = append(list, derivation{"studs-" + strconv.Itoa(n), part(func(w *Wheel) bool { return w.Studs.Value == n })})
	}
	return list
}

// part makes a derivation of the first fitting of a type that is as asked.
func part[T any](is func(T) bool) func(b *Build) (source.Pos, bool) {
	return func(b *Build) (source.Pos, bool) {
		for _, p := range All[T](b) {
			if is(p.Data) {
				return p.Fitting.From, true
			}
		}
		return source.Pos{}, false
	}
}

func person(p *Person) (source.Pos, bool) {
	if p == nil {
		return source.Pos{}, false
	}
	return p.Name.At, true
}

func (b *Build) brakes() (source.Pos, bool) {
	return part(func(a *Axle) bool { return a.Brake != nil })(b)
}
