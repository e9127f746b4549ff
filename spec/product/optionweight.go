package product

import (
	"math"
	"slices"

	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// An option may weigh this many times less or more than its parts usually do: wide enough
// for every make and for reinforcement of the frame, narrow enough to find a misplaced decimal point.
const (
	weightLess = 4
	weightMore = 8
)

// Below this weight a typing error has no relevant effect.
const weightMatters = 20 // lb

// Usual weights of parts in lb, by the unit of what determines them. Common
// practice, no source; steel weighs 0.284 lb/in³.
const (
	boxSheet       = 3.5  // per ft² of the outside of a storage box
	rackSteel      = 6    // per ft² of a headache rack
	rampSteel      = 6    // per ft² of a ramp
	winchShare     = 0.01 // fraction of the pull of a winch
	plateShare     = 0.005
	supportShare   = 0.007 // fraction of the rating of a leg
	leadPerHour    = 0.65  // per Ah
	lithiumPerHour = 0.27
	pumpAlone      = 60 // a pump with motor and valves
	fluidPerGallon = 7.3
	cylinderSteel  = 0.17 // per in³ between the ends of a cylinder, half an inch wider than its bore
	tarpWeight     = 60
	propWeight     = 30
	cushionWeight  = 30
	lockWeight     = 40
	anchorWeight   = 2
)

// usualWeight returns the usual weight of a part in lb; ok is false if it depends on more
// than the figures of the component.
func usualWeight(p Component, size *Size) (lb float64, ok bool) {
	if p.Common == nil {
		return 0, false // there is no such component; line-component reports it
	}
	weight := float64(p.Common.Weight.Value)
	switch d := p.Data.(type) {
	case *Battery:
		each := leadPerHour
		if d.Kind.Value == "lifepo4" {
			each = lithiumPerHour
		}
		if weight == 0 {
			weight = each * float64(d.Capacity.Value)
		}
		return weight * float64(max(1, d.Count.Value)), true
	case *Spare:
		return weight, weight > 0
	case *DumpBox:
		return float64(d.Empty.Value), true
	case *Ramp:
		if weight == 0 {
			weight = rampSteel * squareFeet(d.Length.Value, d.Width.Value)
		}
		if !d.Gate.Value {
			weight *= 2
		}
		return weight, weight > 0
	case *Winch:
		return winchShare * float64(d.Pull.Value), true
	case *WinchPlate:
		return plateShare * float64(d.Rating.Value), true
	case *Box:
		if size == nil {
			return 0, false
		}
		l, w, h := size.Long.Value, size.Wide.Value, size.High.Value
		return boxSheet * 2 * (squareFeet(l, w) + squareFeet(l, h) + squareFeet(w, h)), true
	case *Rack:
		if size == nil {
			return 0, false
		}
		return rackSteel * squareFeet(size.Wide.Value, d.Height.Value), true
	case *Support:
		return supportShare * float64(d.Rating.Value) * float64(d.Count.Value), true
	case *PowerUnit:
		return pumpAlone + fluidPerGallon*quantity.In(d.Reservoir.Value, "gal"), true
	case *Cylinder:
		across := float64(d.Bore.Value) + 0.5
		return cylinderSteel * math.Pi / 4 * across * across * float64(d.Retracted.Value) * float64(d.Count.Value), true
	case *Tarp:
		return tarpWeight, true
	case *Prop:
		return propWeight * float64(d.Count.Value), true
	case *Cushion:
		return cushionWeight, true
	case *Lock:
		return lockWeight * float64(max(1, d.Count.Value)), true
	case *Anchor:
		return anchorWeight * float64(d.Count.Value), d.Kind.Value == "d-ring" || d.Kind.Value == "stake-pocket"
	case *Plain:
		return weight * float64(max(1, d.Count.Value)), weight > 0
	case *Circuit, *Hose, *Charger, *ChargeLine, *Connector, *Breakaway:
		return 0, true // negligible
	}
	return 0, false
}

func squareFeet(long, wide quantity.Length) float64 { return float64(long) * float64(wide) / 144 }

// optionWeight compares the weight of an option with the usual weight of the parts it adds,
// less that of the parts it removes. A part that several options add may be counted with another.
func (c *lineCheck) optionWeight(m *Model, item *source.Item[Option]) {
	key, o := item.Key, &item.Value
	if !o.Weighs.Set {
		for _, p := range o.Parts {
			if lb, ok := usualWeight(c.byID[p.Value.Use.Value], p.Value.Size); !ok || lb > 0 {
				c.add(codeLineFigure.At(item.KeyAt, "option %s brings %s and does not say what it weighs", key, p.Value.Use.Value).
					WithHint("give weighs and center, from a scale; weighs: 0 lb where it takes the place of a part as heavy"))
				return
			}
		}
		return
	}
	var least, most float64
	for _, p := range o.Parts {
		size := p.Value.Size
		before := m.Parts.Get(p.Key)
		if before != nil && before.Use.Value == p.Value.Use.Value {
			continue // it stays, in another place or size
		}
		if size == nil && before != nil {
			size = before.Size
		}
		adds, ok := usualWeight(c.byID[p.Value.Use.Value], size)
		if !ok {
			return
		}
		most += adds
		if !m.othersBring(p.Key, key) {
			least += adds
		}
		if before != nil && !c.takes(before, &least, &most) {
			return
		}
	}
	for _, place := range o.Without {
		if before := m.Parts.Get(place.Value); before != nil && !c.takes(before, &least, &most) {
			return
		}
	}
	w := float64(o.Weighs.Value)
	if lighter := most < -weightMatters && w > weightMatters; lighter || least >= weightMatters && (w < least/weightLess || w > most*weightMore) {
		c.add(codeLinePlausible.At(o.Weighs.At, "%s weighs %s; the parts it brings, less those it takes away, usually weigh %.0f lb", key, o.Weighs.Text, most).
			WithHint("look whether the decimal point or a zero is in the wrong place"))
	}
}

// takes subtracts a removed part; it returns false if its weight is unknown.
func (c *lineCheck) takes(p *Part, least, most *float64) bool {
	lb, ok := usualWeight(c.byID[p.Use.Value], p.Size)
	*least, *most = *least-lb, *most-lb
	return ok
}

// othersBring reports whether another option, one that does not require the option but,
// also adds a part in a place.
func (m *Model) othersBring(place, but string) bool {
	for _, o := range m.Options {
		needsIt := slices.ContainsFunc(o.Value.Requires, func(d Demand) bool { return d.Option.Value == but })
		if o.Key != but && !needsIt && o.Value.Parts.Get(place) != nil {
			return true
		}
	}
	return false
}
