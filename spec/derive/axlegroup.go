package derive

import (
	"fmt"
	"math"

	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
)

// Definitions of the federal law on Interstate highways. Sources: 23 USC 127(a) and
// 23 CFR 658.5, 658.17: axles within 40 in count as one, within 96 in as a tandem.
const (
	singleWithin quantity.Length = 40
	tandemWithin quantity.Length = 96
	singleMost   quantity.Mass   = 20000
	tandemMost   quantity.Mass   = 34000
	groupStep                    = 500 // lb, to which the bridge formula is rounded
)

// dragFrom is the distance of the outer axles from which a tight turn drags tires sideways
// enough to mention it. Judgement: two axles of this trade are 3 ft apart.
const dragFrom quantity.Length = 60

// groupMost returns the greatest legal weight in lb on so many axles whose outer ones are so
// far apart. Source: 23 USC 127(a)(2), W = 500 (LN/(N-1) + 12N + 36) for those further
// apart than a tandem.
func groupMost(axles int, apart quantity.Length) quantity.Mass {
	switch {
	case axles < 2 || apart <= singleWithin:
		return singleMost
	case apart <= tandemWithin:
		return tandemMost
	}
	n := float64(axles)
	w := 500 * (quantity.In(apart, "ft")*n/(n-1) + 12*n + 36)
	return quantity.Mass(groupStep * math.Round(w/groupStep))
}

// axleSpan returns the distance from the first to the last axle.
func axleSpan(e *Eval) quantity.Length {
	first, last := axlesAt(e)
	return last - first
}

var (
	_ = declare(Decl{Name: "axles.drag_span", When: when("not single-axle"), Round: wholeUp,
		Formula: "first axle to last axle, where that is 60 in or more: in a tight turn it drags their tires sideways",
		Source:  Source{Judgement, "the further apart, the more; two axles of a trailer usually stand 3 ft apart"}},
		func(e *Eval) quantity.Length {
			span := axleSpan(e)
			if span < dragFrom {
				e.Absent("the axles stand close together")
			}
			return span
		})

	axlesSpread = declare(Decl{Name: "axles.spread", When: when("tandem-axle"), Round: wholeDown,
		Formula: "front axle to rear axle, where that is more than 96 in: the law of the Interstate highways then counts each as a single axle",
		Source:  Source{Published, "23 USC 127(a) and 23 CFR 658.5, as quoted on public pages"}},
		func(e *Eval) quantity.Length {
			span := axleSpan(e)
			if span <= tandemWithin {
				e.Absent("the law counts the two axles together")
			}
			return span
		})

	_ = declare(Decl{Name: "axles.uneven", When: when("tandem-axle"), Round: wholeUp,
		Formula: "axles.spread ÷ axles.center: of what the front stands too high, the share by which the frame is lower over the rear axle than over the front one",
		Source:  Source{Arithmetic, "similar triangles; the load that moves with it depends on the springs, whose rate the line does not give"}},
		func(e *Eval) quantity.Percent { return unevenShare(Get(e, axlesSpread), Get(e, axleCenter)) })
)

// unevenShare returns how much further the frame sinks over the last axle than over the first,
// as a percentage of the excess height of the front.
func unevenShare(span, center quantity.Length) quantity.Percent {
	return quantity.Percent(100 * span / center)
}

var _ = limit(Limit{ID: "axle-group", When: when("market-us"), MaxReserve: 20,
	Protects: "axles that bear more together than the law allows break bridges, and the load is taken off at the weigh station",
	Check: func(e *Eval) {
		axles := allAs[product.Axle](e, placeAndSize)
		for i := range axleCount(e) {
			sum, labels := quantity.Mass(0), []figure{}
			for j := i; j < axleCount(e); j++ {
				first, last := axles[i].Fitting.At, axles[j].Fitting.At
				if first == nil || last == nil {
					return // axles.center reports it
				}
				sum += Get(e, gawr[j])
				labels = append(labels, of(e, gawr[j]))
				apart := last.X.Value - first.X.Value
				says := fmt.Sprintf("axle %d is labeled for %%s; Interstate law allows %%s", i+1)
				if j > i {
					says = fmt.Sprintf("axles %d to %d, %s from first to last, are labeled for %%s; Interstate law allows %%s", i+1, j+1, e.text(apart, wholeDown))
				}
				e.require(e.calculated("ratings.gawr of the axles", sum, wholeDown, labels[0], labels[1:]...), AtMost,
					e.calculated("most that the law allows on them, 23 USC 127(a)", groupMost(j-i+1, apart), wholeDown, entry(e, last.X), entry(e, first.X)), says)
			}
		}
	}})
