package derive

// The stated height of a unit is what an owner measures a bridge against, so
// no part in its place may stand above it. Only parts with both a place and a
// size in the line can be held to it; ramps and racks that fold are entered as
// they stand on the road.
var _ = limit(Limit{ID: "part-above-overall",
	Protects: "a part that stands higher than the stated height of the unit hits the bridge the owner was told it clears",
	Check: func(e *Eval) {
		stated := entry(e, e.Build.Overall().High)
		for _, p := range e.Build.Parts {
			if p.At == nil || p.Size == nil {
				continue
			}
			foot, high := entry(e, p.At.Z), entry(e, p.Size.High)
			top := e.worked("top of "+p.Place, p.At.Z.Value+p.Size.High.Value, wholeUp, foot, high)
			e.demand(stated, AtLeast, top, "the unit is said to be %s high, but its "+p.Place+" stands %s above ground")
		}
	}})
