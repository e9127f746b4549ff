package derive

import (
	"math"

	"ownerguide/spec"
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
)

const (
	// shortestRun is the length from one post to the next, with a bend at each. Judgement.
	shortestRun = quantity.Length(18)
	// runMost is the greatest ratio of the length of a wire to that of the unit. Judgement.
	runMost = 2
	// ampacityLeast is the least fraction of its table value that a wire carries: bundled with more
	// than forty others. Source: NEC table 310.15(C)(1), from memory.
	ampacityLeast = 0.35
)

// wireEnds returns the parts that a circuit connects; ok is false if one has no place.
func wireEnds(e *Eval, c *product.Circuit) (from, to *spec.Fitting, ok bool) {
	f := feedOf(c)
	from = f.from(e)
	for _, end := range f.to {
		if to = end(e); to != nil && to.At != nil {
			break
		}
	}
	return from, to, from != nil && from.At != nil && to != nil && to.At != nil
}

// placed returns the first part of a type; nil if there is none.
func placed[P any](e *Eval) *spec.Fitting {
	if parts := allAs[P](e, placeAndSize); len(parts) > 0 {
		return parts[0].Fitting
	}
	return nil
}

// farAxle returns the last axle with electric brakes: the whole current is assumed up to its end.
func farAxle(e *Eval) (last *spec.Fitting) {
	electric := func(p *spec.Fitting) bool {
		brake := p.Data.(*product.Axle).Brake
		return brake != nil && brake.Kind.Value == "electric"
	}
	for _, p := range allAs[product.Axle](e, func(p *spec.Fitting) any { return [2]any{placeAndSize(p), electric(p)} }) {
		if electric(p.Fitting) {
			last = p.Fitting
		}
	}
	return last
}

// between returns the distance of two intervals along one axis of the geometry.
func between(from, long, other, otherLong quantity.Length) float64 {
	return float64(max(other-from-long, from-other-otherLong, 0))
}

// gap returns the shortest distance of two parts.
func gap(e *Eval, a, b *spec.Fitting) quantity.Length {
	extent := func(f *spec.Fitting) (x, y, z, long, wide, high quantity.Length) {
		x, y, z = Read(e, f.At.X), f.At.Y.Value, Read(e, f.At.Z)
		if f.Size != nil {
			long, wide, high = Read(e, f.Size.Long), Read(e, f.Size.Wide), Read(e, f.Size.High)
		}
		return
	}
	ax, ay, az, al, aw, ah := extent(a)
	bx, by, bz, bl, bw, bh := extent(b)
	return quantity.Inches(math.Hypot(math.Hypot(between(ax, al, bx, bl), between(ay, aw, by, bw)), between(az, ah, bz, bh)))
}

var _ = limit(Limit{ID: "wire-run", MaxReserve: 1000,
	Protects: "a wire drawn shorter than its way hides what it loses: brakes at its end pull weakly",
	Check: func(e *Eval) {
		each(e, func(c *product.Circuit) {
			Read(e, c.Feeds)
			from, to, ok := wireEnds(e, c)
			if !ok {
				return
			}
			run := entry(e, c.OneWay)
			way := e.calculated("from "+from.Place+" to "+to.Place+", straight, and no less than from post to post", max(gap(e, from, to), shortestRun), wholeUp, entry(e, from.At.X), entry(e, to.At.X))
			e.require(run, AtLeast, way, "the wire to the "+c.Feeds.Value+" is %s long one way; what it joins stands %s apart")
			e.require(run, AtMost, e.calculated("twice the length of the unit, by judgement", runMost*Get(e, lengthOverall), wholeDown, of(e, lengthOverall)),
				"the wire to the "+c.Feeds.Value+" is %s long one way; expected at most %s")
		})
	}})

var _ = limit(Limit{ID: "wire-stout", MaxReserve: 1000,
	Protects: "a wire said to be far thicker than its current needs is mostly a thinner one, and hides what that loses",
	Check: func(e *Eval) {
		for _, p := range all[product.Circuit](e) {
			c := p.Data
			least := e.calculated("0.35 of 33 CFR 183.425 table 5: bundled with more than forty others", ampacityLeast*ampacities[Read(e, c.Gauge)], tenthUp, entry(e, c.Gauge))
			e.require(entry(e, c.Ampacity), AtLeast, least,
				"the wire to the "+c.Feeds.Value+" is said to carry %s; AWG "+c.Gauge.Value+" carries %s however it is laid")
		}
	}})
