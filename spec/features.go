package spec

import (
	"cmp"
	"slices"
	"strconv"

	"ownerguide/spec/logic"
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

// derivation is a feature that follows from sheet, ratings or parts.
type derivation struct {
	name  string
	cause cause
}

// cause is what brings a derived feature. It is asked in two ways that must
// agree: of one unit, and of all units of a model at once.
type cause interface {
	// from gives the place that brings the feature; ok is false for a unit without it.
	from(b *Build) (from source.Pos, ok bool)
	// when says for which choices of options the feature is there.
	when(v *Variants, name string) logic.Formula
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
		if at, ok := d.cause.from(b); ok {
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
	braked := func(data any) bool { a, ok := data.(*product.Axle); return ok && a.Brake != nil }
	wide := extent{func(s product.Size) length { return s.Wide }, wideFrom}
	list := []derivation{
		{"dated", sheetSays(func(s *sheet.Sheet) (source.Pos, bool) {
			return s.Delivered.At, s.Delivered.Set && s.Use != nil
		})},
		{"revised", sheetSays(func(s *sheet.Sheet) (source.Pos, bool) {
			return s.Revision.At, s.Revision.Set && s.Revision.Value != firstRevision
		})},
		{"measured", sheetSays(func(s *sheet.Sheet) (source.Pos, bool) { return s.Measured.Empty.At, s.Measured.Empty.Set })},
		{"measured-tongue", sheetSays(func(s *sheet.Sheet) (source.Pos, bool) {
			return s.Measured.OnCoupler.At, s.Measured.OnCoupler.Set
		})},
		{"buyer", sheetSays(func(s *sheet.Sheet) (source.Pos, bool) { return person(s.Buyer) })},
		{"dealer", sheetSays(func(s *sheet.Sheet) (source.Pos, bool) { return person(s.Dealer) })},
		{"notes", sheetSays(func(s *sheet.Sheet) (source.Pos, bool) { return s.Notes.At, s.Notes.Set })},
		{"fitted-tires", sheetSays(func(s *sheet.Sheet) (source.Pos, bool) {
			for _, t := range s.Fitted.Tires {
				return t.Place.At, true
			}
			return source.Pos{}, false
		})},
		{"fitted-axles", sheetSays(func(s *sheet.Sheet) (source.Pos, bool) {
			for _, a := range s.Fitted.Axles {
				return a.Place.At, true
			}
			return source.Pos{}, false
		})},
		{"carrier-miles", sheetSays(func(s *sheet.Sheet) (source.Pos, bool) {
			if u := s.Use; u != nil {
				return u.Already.At, u.Already.Set
			}
			return source.Pos{}, false
		})},
		{"retrofitted", sheetSays(func(s *sheet.Sheet) (source.Pos, bool) {
			for _, c := range slices.Concat(s.Added, s.Removed) {
				return c.Option.At, true
			}
			return source.Pos{}, false
		})},
		{"braked", partIs(braked)},
		{"unbraked", noPartIs(braked)},
		{"over-10000-lb", gvwrIs(func(r quantity.Mass) bool { return r > heavyAbove })},
		{"to-10000-lb", gvwrIs(func(r quantity.Mass) bool { return r <= heavyAbove })},
		{"guard-range", gvwrIs(func(r quantity.Mass) bool { return r >= guardFrom })},
		{"wide-80", wide},
		{"conspicuity", both{wide, gvwrIs(func(r quantity.Mass) bool { return r > heavyAbove })}},
		{"length-30-ft", extent{func(s product.Size) length { return s.Long }, longFrom}},
		{"holding-valve", part(func(p *product.PowerUnit) bool { return p.Holding.Value != "none" })},
		{"hand-pump", part(func(p *product.PowerUnit) bool { return p.Lowering.Value == "hand-pump" })},
		{"coupler-adjustable", part(func(c *product.Coupler) bool { return c.Adjustable.Value })},
		{"jack-drop-leg", part(func(j *product.Jack) bool { return j.DropLeg.Value })},
		{"jack-pair", part(func(j *product.Jack) bool { return j.Count.Value >= 2 })},
		{"jack-swivel", part(func(j *product.Jack) bool { return j.Swivel.Value })},
		{"jack-two-speed", part(func(j *product.Jack) bool { return j.TwoSpeed.Value })},
		{"jack-wheel", part(func(j *product.Jack) bool { return j.Wheel.Value })},
		{"prop-pair", part(func(p *product.Prop) bool { return p.Count.Value >= 2 })},
		{"cylinder-pair", part(func(c *product.Cylinder) bool { return c.Count.Value >= 2 })},
		{"battery-pair", part(func(x *product.Battery) bool { return x.Count.Value >= 2 })},
		{"leaf-springs", part(func(a *product.Axle) bool { return a.Suspension.Value == "leaf" })},
		{"torsion", part(func(a *product.Axle) bool { return a.Suspension.Value == "torsion" })},
	}
	for i, name := range []string{"single-axle", "tandem-axle", "triple-axle"} {
		list = append(list, derivation{name, axles(i + 1)})
	}
	for _, kind := range []string{"ported", "repack", "sealed"} {
		list = append(list, derivation{"hubs-" + kind, part(func(a *product.Axle) bool { return a.Bearings.Value == kind })})
	}
	for _, kind := range []string{"flooded", "agm"} {
		list = append(list, derivation{kind + "-battery", part(func(x *product.Battery) bool { return x.Kind.Value == kind })})
	}
	for _, kind := range []string{"steel", "aluminum"} {
		list = append(list, derivation{"wheels-" + kind, part(func(w *product.Wheel) bool { return w.Material.Value == kind })})
	}
	for _, how := range []string{"slide-in", "stand-up", "fold-flat"} {
		list = append(list, derivation{"ramps-" + how, part(func(r *product.Ramp) bool { return r.Stow.Value == how })})
	}
	for _, kind := range []string{"single", "double"} {
		list = append(list, derivation{kind + "-acting", part(func(p *product.PowerUnit) bool { return p.Acting.Value == kind })})
	}
	for _, kind := range []string{"four-flat", "seven-blade", "seven-round"} {
		list = append(list, derivation{"connector-" + kind, part(func(c *product.Connector) bool { return c.Kind.Value == kind })})
	}
	for _, n := range []int{4, 5, 6, 8, 10} {
		list = append(list, derivation{"studs-" + strconv.Itoa(n), part(func(w *product.Wheel) bool { return w.Studs.Value == n })})
	}
	return list
}

// sheetSays brings a feature by what stands in the sheet.
type sheetSays func(*sheet.Sheet) (source.Pos, bool)

func (c sheetSays) from(b *Build) (source.Pos, bool)          { return c(b.Sheet) }
func (sheetSays) when(_ *Variants, name string) logic.Formula { return logic.Fact(SheetFact(name)) }

// partIs brings a feature by the first part that is as asked.
type partIs func(data any) bool

func (c partIs) from(b *Build) (source.Pos, bool) {
	for i := range b.Parts {
		if c(b.Parts[i].Data) {
			return b.Parts[i].From, true
		}
	}
	return source.Pos{}, false
}

func (c partIs) when(v *Variants, _ string) logic.Formula {
	return v.fitted(func(p *PossiblePart) bool { return c(p.Data) })
}

// part is partIs for parts of one type.
func part[T any](is func(T) bool) partIs {
	return func(data any) bool { t, ok := data.(T); return ok && is(t) }
}

// noPartIs brings a feature where no part is as asked.
type noPartIs func(data any) bool

func (c noPartIs) from(b *Build) (source.Pos, bool) {
	_, there := partIs(c).from(b)
	return b.Model.At, !there
}

func (c noPartIs) when(v *Variants, name string) logic.Formula {
	return logic.Not(partIs(c).when(v, name))
}

// axles brings a feature by the number of axles.
type axles int

func (n axles) from(b *Build) (source.Pos, bool) {
	all := All[*product.Axle](b)
	if len(all) != int(n) {
		return source.Pos{}, false
	}
	return all[n-1].Fitting.From, true
}

func (n axles) when(v *Variants, _ string) logic.Formula {
	var places []logic.Formula
	for _, place := range v.places {
		f := v.fitted(func(p *PossiblePart) bool { return p.Place == place && p.Kind == "axle" })
		if holds, known := f.Constant(); !known || holds {
			places = append(places, f)
		}
	}
	return exactly(int(n), places)
}

// exactly says that so many of the formulas hold.
func exactly(n int, formulas []logic.Formula) logic.Formula {
	switch {
	case n < 0 || n > len(formulas):
		return logic.Any()
	case len(formulas) == 0:
		return logic.All()
	}
	first, rest := formulas[0], formulas[1:]
	return logic.Any(logic.All(first, exactly(n-1, rest)), logic.All(logic.Not(first), exactly(n, rest)))
}

// gvwrIs brings a feature by the weight rating on the label.
type gvwrIs func(quantity.Mass) bool

func (c gvwrIs) from(b *Build) (source.Pos, bool) { r := b.GVWR(); return r.At, c(r.Value) }

func (c gvwrIs) when(v *Variants, _ string) logic.Formula {
	// The lowest rating of the options chosen counts, see [Build.GVWR].
	return v.decided(float64(v.model.GVWR.Value), func(o *product.Option) (float64, bool) { return float64(o.GVWR.Value), o.GVWR.Set },
		func(a, b float64) bool { return a < b }, func(own float64) bool { return c(quantity.Mass(own)) })
}

// extent brings a feature by an outer size of at least so much.
type extent struct {
	of    func(product.Size) length
	least quantity.Length
}

func (c extent) from(b *Build) (source.Pos, bool) {
	own := c.of(b.Overall())
	return own.At, own.Value >= c.least
}

func (c extent) when(v *Variants, _ string) logic.Formula {
	// The largest extent of the options chosen counts, see [Build.Overall].
	return v.decided(float64(c.of(v.model.Overall).Value), func(o *product.Option) (float64, bool) {
		if o.Overall == nil {
			return 0, false
		}
		return float64(c.of(*o.Overall).Value), true
	}, func(a, b float64) bool { return a > b }, func(own float64) bool { return own >= float64(c.least) })
}

// both brings a feature by two causes together, from the place of the first.
type both [2]cause

func (c both) from(b *Build) (source.Pos, bool) {
	at, ok := c[0].from(b)
	_, second := c[1].from(b)
	return at, ok && second
}

func (c both) when(v *Variants, name string) logic.Formula {
	return logic.All(c[0].when(v, name), c[1].when(v, name))
}

func person(p *sheet.Person) (source.Pos, bool) {
	if p == nil {
		return source.Pos{}, false
	}
	return p.Name.At, true
}

// Vocabulary lists every feature a unit of this line can have, sorted, each once.
func Vocabulary(l *product.Line) []string {
	words := append(derivedFeatures(), source.Values(l.Provided())...)
	slices.Sort(words)
	return slices.Compact(words)
}
