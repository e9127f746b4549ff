package spec

import (
	"slices"

	"ownerguide/spec/logic"
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

// cause is the origin of a derived feature. Its two methods, for one unit and for all units
// of a model, must agree.
type cause interface {
	// from returns the position of the origin; ok is false for a unit without the feature.
	from(b *Build) (from source.Pos, ok bool)
	// over returns the formula for the feature, called name, over options and sheet facts.
	over(v *Variants, name string) logic.Formula
}

// constant returns the formula that always holds, or never.
func constant(holds bool) logic.Formula {
	if holds {
		return logic.All()
	}
	return logic.Any()
}

// sheetSays is a cause that depends on the sheet.
type sheetSays func(*sheet.Sheet) (source.Pos, bool)

func (c sheetSays) from(b *Build) (source.Pos, bool)          { return c(b.Sheet) }
func (sheetSays) over(_ *Variants, name string) logic.Formula { return logic.Fact(SheetFact(name)) }

// hauls is a cause that depends on what the model is made to carry.
type hauls string

func (c hauls) from(b *Build) (source.Pos, bool) {
	return b.Model.Hauls.At, b.Model.Hauls.Value == string(c)
}

func (c hauls) over(v *Variants, _ string) logic.Formula {
	return constant(v.model.Hauls.Value == string(c))
}

// partIs is a cause that holds if a part satisfies a condition; the origin is the first such part.
type partIs func(data any) bool

func (c partIs) from(b *Build) (source.Pos, bool) {
	for i := range b.parts {
		if c(b.parts[i].Data) {
			return b.parts[i].From, true
		}
	}
	return source.Pos{}, false
}

func (c partIs) over(v *Variants, _ string) logic.Formula {
	return v.fitted(func(p *PossiblePart) bool { return c(p.Data) })
}

// part returns partIs for parts of one type.
func part[T any](is func(*T) bool) partIs {
	return func(data any) bool { t, ok := data.(*T); return ok && is(t) }
}

// fitted returns the cause that holds if there is a part of one type.
func fitted[T any]() partIs { return part(func(*T) bool { return true }) }

// not is the negation of a cause.
type not struct{ cause cause }

func (c not) from(b *Build) (source.Pos, bool) {
	_, there := c.cause.from(b)
	return b.Model.At, !there
}

func (c not) over(v *Variants, name string) logic.Formula {
	return logic.Not(c.cause.over(v, name))
}

// all is the conjunction of several causes; the origin is that of the first.
type all []cause

func (c all) from(b *Build) (source.Pos, bool) {
	at, ok := c[0].from(b)
	for _, further := range c[1:] {
		_, holds := further.from(b)
		ok = ok && holds
	}
	return at, ok
}

func (c all) over(v *Variants, name string) logic.Formula {
	var each []logic.Formula
	for _, x := range c {
		each = append(each, x.over(v, name))
	}
	return logic.All(each...)
}

// axles is a cause that depends on the number of axles.
type axles int

func (n axles) from(b *Build) (source.Pos, bool) {
	all := All[*product.Axle](b)
	if len(all) != int(n) {
		return source.Pos{}, false
	}
	return all[n-1].Fitting.From, true
}

func (n axles) over(v *Variants, _ string) logic.Formula {
	var places []logic.Formula
	for _, place := range v.places {
		f := v.fitted(func(p *PossiblePart) bool { return p.Place == place && p.Kind == "axle" })
		if holds, known := f.Constant(); !known || holds {
			places = append(places, f)
		}
	}
	return exactly(int(n), places)
}

// exactly returns the formula that exactly n of the formulas hold. It is built from the last
// formula on: hold[k] says that exactly k of the formulas processed so far hold. Its size is
// linear in their number.
func exactly(n int, formulas []logic.Formula) logic.Formula {
	hold := make([]logic.Formula, n+1) // 0 to n of the formulas processed so far hold
	for k := range hold {
		hold[k] = logic.Any()
	}
	hold[0] = logic.All()
	for _, f := range slices.Backward(formulas) {
		for k := n; k >= 0; k-- {
			with := logic.Any()
			if k > 0 {
				with = logic.All(f, hold[k-1])
			}
			hold[k] = logic.Any(with, logic.All(logic.Not(f), hold[k]))
		}
	}
	return hold[n]
}

// gvwrIs is a cause that depends on the gross weight rating on the label.
type gvwrIs func(quantity.Mass) bool

func (c gvwrIs) from(b *Build) (source.Pos, bool) { r := b.GVWR(); return r.At, c(r.Value) }

func (c gvwrIs) over(v *Variants, _ string) logic.Formula {
	// The lowest rating of the options chosen counts, see [Build.GVWR].
	return v.decided(float64(v.model.GVWR.Value), func(o *product.Option) (float64, bool) { return float64(o.GVWR.Value), o.GVWR.Set },
		func(a, b float64) bool { return a < b }, func(own float64) bool { return c(quantity.Mass(own)) })
}

// sizeIs is a cause that holds if an outer dimension is at least so much.
type sizeIs struct {
	of    func(product.Size) length
	least quantity.Length
}

func (c sizeIs) from(b *Build) (source.Pos, bool) {
	own := c.of(b.Overall())
	return own.At, own.Value >= c.least
}

func (c sizeIs) over(v *Variants, _ string) logic.Formula {
	// The largest dimension of the options chosen counts, see [Build.Overall].
	return v.decided(float64(c.of(v.model.Overall).Value), func(o *product.Option) (float64, bool) {
		if o.Overall == nil {
			return 0, false
		}
		return float64(c.of(*o.Overall).Value), true
	}, func(a, b float64) bool { return a > b }, func(own float64) bool { return own >= float64(c.least) })
}

// sold is a cause that depends on the market of the line.
type sold string

func (c sold) from(b *Build) (source.Pos, bool) {
	m := &b.Line.Maker
	at := m.Market.At
	if !m.Market.Set {
		at = m.ID.At
	}
	return at, m.Sold() == string(c)
}

func (c sold) over(v *Variants, _ string) logic.Formula {
	return constant(v.line.Maker.Sold() == string(c))
}
