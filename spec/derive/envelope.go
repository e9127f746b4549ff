package derive

import (
	"ownerguide/spec"
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// Owners compare the stated height of a unit with bridges, so no part may be higher. Only
// parts with both a place and a size in the line can be checked; ramps and racks that fold are
// entered in their position on the road.
var _ = limit(Limit{ID: "part-above-overall",
	Protects: "a part that stands higher than the stated height of the unit hits the bridge the owner was told it clears",
	Check: func(e *Eval) {
		stated := entry(e, e.Build.OverallHigh())
		e.eachPart(func(p *spec.Fitting) {
			if p.At == nil || p.Size == nil {
				return
			}
			foot, high := entry(e, p.At.Z), entry(e, p.Size.High)
			top := e.calculated("top of "+p.Place, p.At.Z.Value+p.Size.High.Value, wholeUp, foot, high)
			if deck, is := p.Data.(*product.Deck); is && deck.RailHeight.Set {
				top = e.calculated("top of its rails", p.At.Z.Value+p.Size.High.Value+deck.RailHeight.Value, wholeUp, foot, high, entry(e, deck.RailHeight))
			}
			e.require(stated, AtLeast, top, "the unit is said to be %s high, but its "+p.Place+" stands %s above ground")
		})
	}})

// A part's own dimensions and its size and place on the model are in two files. Inside dimensions may be
// a fifth less than the size; outside dimensions may differ by a tenth, heights above the road by some inches,
// and the center of what rises by some of its length. Judgement.
const (
	heightPlay = quantity.Length(2)
	centerPlay = 0.15
)

var _ = limit(Limit{ID: "part-size", NoMargin: true,
	Protects: "a ramp drawn half as long as it is, or a box drawn deeper, gives a wrong slope and a wrong fill line",
	Check: func(e *Eval) {
		e.eachPart(func(p *spec.Fitting) {
			if p.Size == nil {
				return
			}
			fits := func(what string, own source.Given[quantity.Length], room quantity.Length, least, most float64) {
				if share := float64(own.Value / room); own.Set && (share < least || share > most) {
					e.report(wrong(e, own, "%s of %s is %s; the model gives %s a room of %s", what, p.Component, own.Text, p.Place, e.text(room, asStated)).WithRelated(p.From, "its size"))
				}
			}
			stands := func(what string, own source.Given[quantity.Length], low, high quantity.Length) {
				if p.At != nil && own.Set && (own.Value < low || own.Value > high) {
					e.report(wrong(e, own, "%s of %s is %s; by its place and size it lies between %s and %s", what, p.Component, own.Text, e.text(low, wholeDown), e.text(high, wholeUp)).WithRelated(p.From, "its place"))
				}
			}
			var at product.Point
			if p.At != nil {
				at = *p.At
			}
			foot, top := at.Z.Value-heightPlay, at.Z.Value+p.Size.High.Value+heightPlay
			middle := func(front, rear quantity.Length, what string, own source.Given[quantity.Length]) {
				off := centerPlay * (rear - front)
				stands(what, own, (front+rear)/2-off, (front+rear)/2+off)
			}
			switch part := p.Data.(type) {
			case *product.Coupler:
				for _, low := range []source.Given[quantity.Length]{part.BallHeightLow, part.RingHeightLow, part.PlateLow} {
					stands("the lowest height", low, foot, top)
				}
			case *product.Jack:
				fits("travel", part.Travel, p.Size.High.Value, 0, 1)
			case *product.RearGuard:
				stands("height", part.Height, foot, at.Z.Value+heightPlay)
			case *product.Deck:
				fits("inside_width", part.Inside, p.Size.Wide.Value, 0.8, 1)
				middle(at.X.Value+part.Fixed.Value, at.X.Value+p.Size.Long.Value, "tilting_center", part.TiltCenter)
			case *product.StockBody:
				if walls := quantity.Area(float64((2*p.Size.Long.Value + p.Size.Wide.Value) * p.Size.High.Value)); part.Open.Value > walls {
					e.report(wrong(e, part.Open, "open_area of %s is %s; its sides and its rear have %s", p.Component, part.Open.Text, e.text(walls, wholeDown)).WithRelated(p.From, "its size"))
				}
			case *product.Ramp:
				if part.Gate.Value {
					fits("width", part.Width, p.Size.Wide.Value, 0.9, 1.1)
				} else {
					fits("width", part.Width, p.Size.Wide.Value, 0, 0.5) // of one of two
				}
				if part.Stow.Value != "fold-flat" {
					fits("length", part.Length, max(p.Size.Long.Value, p.Size.High.Value), 0.9, 1.1)
				}
			case *product.Rack:
				fits("height", part.Height, p.Size.High.Value, 0.9, 1.1)
			case *product.DumpBox:
				fits("inside_length", part.Long, p.Size.Long.Value, 0.8, 1)
				fits("inside_width", part.Wide, p.Size.Wide.Value, 0.8, 1)
				fits("side_height", part.Tall, p.Size.High.Value, 0.8, 1)
				middle(at.X.Value, at.X.Value+p.Size.Long.Value, "center", part.Center)
			}
		})
	}})

// Limits of the space of the parts that have a place and a size, relative to the stated size of a unit: not
// all parts have one, and a simplified outline may exceed the size by an inch. Judgement.
const (
	leastTaken = 0.55
	mostOver   = quantity.Length(1)
)

var _ = limit(Limit{ID: "overall-size", NoMargin: true,
	Protects: "an overall size that is half or twice what the parts take up sends the owner under a bridge, through a gate or onto a ferry that the unit does not fit",
	Check: func(e *Eval) {
		for i, way := range []string{"long", "wide", "high"} {
			ends := func(p *spec.Fitting) (near, far float64, placed bool) {
				if p.At == nil || p.Size == nil {
					return 0, 0, false
				}
				at := [3]quantity.Length{p.At.X.Value, p.At.Y.Value, p.At.Z.Value}[i]
				return float64(at), float64(at + [3]quantity.Length{p.Size.Long.Value, p.Size.Wide.Value, p.Size.High.Value}[i]), true
			}
			e.subclaim(way, func() {
				stated := [3]func() source.Given[quantity.Length]{e.Build.OverallLong, e.Build.OverallWide, e.Build.OverallHigh}[i]()
				far, any := e.Build.Largest(func(p *spec.Fitting) (float64, bool) { _, far, ok := ends(p); return far, ok })
				near, _ := e.Build.Largest(func(p *spec.Fitting) (float64, bool) { near, _, ok := ends(p); return -near, ok })
				taken := quantity.Length(far)
				if i < 2 || near > 0 { // height counts from the ground
					taken += quantity.Length(near)
				}
				if any && taken > 0 && (taken > stated.Value+mostOver || taken < leastTaken*stated.Value) {
					e.report(wrong(e, stated, "the unit is said to be %s %s; its parts take up %s", stated.Text, way, e.text(taken, wholeUp)))
				}
			})
		}
	}})

// optionPlay is how far beyond its parts the center of an option's weight may be, because of brackets. Judgement.
const optionPlay = quantity.Length(18)

var _ = limit(Limit{ID: "option-center", NoMargin: true,
	Protects: "the weight of an option counted in a wrong place moves the band for the load",
	Check: func(e *Eval) {
		e.eachOption(func(o spec.ChosenOption) {
			front, rear, placed := quantity.Length(9999), quantity.Length(-9999), len(o.Option.Parts) > 0
			for _, p := range o.Option.Parts {
				if placed = placed && p.Value.At != nil && p.Value.Size != nil; placed {
					front, rear = min(front, p.Value.At.X.Value), max(rear, p.Value.At.X.Value+p.Value.Size.Long.Value)
				}
			}
			if c := o.Option.Center; placed && c.Set && (c.Value < front-optionPlay || c.Value > rear+optionPlay) {
				e.report(wrong(e, c, "%s weighs at %s; its parts stand from %s to %s behind the coupler", o.ID, c.Text, e.text(front, asStated), e.text(rear, asStated)))
			}
		})
	}})
