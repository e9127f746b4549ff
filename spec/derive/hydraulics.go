package derive

import (
	"fmt"
	"math"

	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

var (
	hydraulicsOn     = when("hydraulics")
	hydraulicsStated = Source{Stated, "the maker of the power unit"}
	cylinderStated   = Source{Stated, "the cylinder maker's drawing"}
)

// reservoirUse is the fraction of the usable reservoir that one full stroke may draw, by
// judgement: the rest is for foam, slope and a slow leak.
const reservoirUse = 0.8

// Cylinders: a unit has one kind, one or two of it in parallel.

var cylinderCount = ofPart(Decl{Name: "cylinder.count", When: hydraulicsOn, Formula: "cylinders that lift together", Source: cylinderStated}, func(c *product.Cylinder) source.Given[int] { return c.Count })

var cylinderArea = declare(Decl{
	Name: "cylinder.area", Engineer: true, When: hydraulicsOn, Round: hundredthDown,
	Formula: "π ÷ 4 × bore², of one cylinder",
	Source:  Source{Published, "fluid-power handbooks: A = π D² / 4"},
}, func(e *Eval) quantity.Area {
	return boreArea(Read(e, fitted[product.Cylinder](e).Bore))
})

var cylinderRing = declare(Decl{
	Name: "cylinder.rod_side_area", When: hydraulicsOn, Engineer: true, Round: hundredthDown,
	Formula: "π ÷ 4 × (bore² − rod²), of one cylinder",
	Source:  Source{Published, "fluid-power handbooks: the ring around the rod"},
}, func(e *Eval) quantity.Area {
	c := fitted[product.Cylinder](e)
	bore, rod := Read(e, c.Bore), Read(e, c.Rod)
	if rod <= 0 || rod >= bore {
		e.Absent("a rod of %s does not fit a bore of %s", c.Rod.Text, c.Bore.Text)
	}
	return boreArea(bore) - boreArea(rod)
})

var cylinderStroke = declare(Decl{
	Name: "cylinder.stroke", Engineer: true, When: hydraulicsOn, Round: quantity.Rounding{Step: 0.01},
	Formula: "length extended − length retracted, pin to pin",
	Source:  arithmetic,
}, func(e *Eval) quantity.Length {
	c := fitted[product.Cylinder](e)
	out, in := Read(e, c.Extended), Read(e, c.Retracted)
	if out <= in {
		e.Absent("a cylinder of %s extended and %s retracted has no stroke", c.Extended.Text, c.Retracted.Text)
	}
	return out - in
})

var cylinderForce = declare(Decl{
	Name: "cylinder.force_at_relief", Engineer: true, When: hydraulicsOn, Round: quantity.Rounding{Side: quantity.Down, Step: 10, MetricStep: 10},
	Formula: "hydraulics.relief × cylinder.area × cylinder.count",
	Source:  Source{Published, "fluid-power handbooks: F = P A"},
}, func(e *Eval) quantity.Mass {
	return pushForce(Get(e, hydraulicsRelief), Get(e, cylinderArea)) * quantity.Mass(Get(e, cylinderCount))
})

// boreArea returns the area of a circle of a diameter, in in².
func boreArea(d quantity.Length) quantity.Area {
	return quantity.SquareInches(math.Pi / 4 * float64(d) * float64(d))
}

// pushForce returns pressure × area, in lb.
func pushForce(p quantity.Pressure, a quantity.Area) quantity.Mass {
	return quantity.Pounds(float64(p) * float64(a))
}

// pressureFor returns force ÷ area, in psi; zero for no area.
func pressureFor(force quantity.Mass, a quantity.Area) quantity.Pressure {
	if a <= 0 {
		return 0
	}
	return quantity.PSI(float64(force) / float64(a))
}

// swept returns the volume an area sweeps along a stroke, in US gallons of 231 in³.
func swept(a quantity.Area, stroke quantity.Length) quantity.Volume {
	return quantity.Gallons(float64(a) * float64(stroke) / 231)
}

// The power unit and its circuit.

var hydraulicsRelief = ofPart(Decl{Name: "hydraulics.relief", When: hydraulicsOn, Round: statedMost, Formula: "pressure at which the relief valve is set to open", Source: hydraulicsStated},
	func(u *product.PowerUnit) source.Given[quantity.Pressure] { return u.Relief })

var _ = declare(Decl{
	Name: "hydraulics.fluid", When: hydraulicsOn,
	Formula: "viscosity grade by ISO 3448: its number is the viscosity at 40 °C in mm²/s, give or take a tenth",
	Source:  hydraulicsStated,
}, func(e *Eval) Text {
	return Text(fluidGrade(Read(e, fitted[product.PowerUnit](e).Grade)))
})

// fluidGrade formats a viscosity grade as in ISO 3448.
func fluidGrade(grade int) string { return fmt.Sprintf("ISO VG %d", grade) }

var (
	_ = powerUnitWord("acting", "whether the pump also pulls the deck or box down", func(u *product.PowerUnit) source.Given[string] { return u.Acting })
	_ = powerUnitWord("holding", "the valve that holds the load when the pump stops or a hose fails", func(u *product.PowerUnit) source.Given[string] { return u.Holding })
	_ = powerUnitWord("control", "how the pump is worked", func(u *product.PowerUnit) source.Given[string] { return u.Control })
	_ = powerUnitWord("lowering", "how the deck or box is lowered by hand", func(u *product.PowerUnit) source.Given[string] { return u.Lowering })
)

func powerUnitWord(name, words string, of func(*product.PowerUnit) source.Given[string]) Key[Text] {
	return textOfPart(Decl{Name: "hydraulics." + name, When: hydraulicsOn, Formula: words, Source: hydraulicsStated}, of)
}

var _ = declare(Decl{
	Name: "hydraulics.side", Aside: true, When: hydraulicsOn, Formula: "the side of the trailer that the power unit is on", Source: fromLine,
}, func(e *Eval) Text {
	p := positioned[product.PowerUnit](e, "the line does not say where the power unit is")
	Read(e, p.Fitting.At.X)
	switch p.Fitting.On {
	case "left", "right":
		return Text(p.Fitting.On + "-side")
	}
	return "middle"
})

var _ = declare(Decl{
	Name: "hydraulics.behind_coupler", Aside: true, When: hydraulicsOn, Formula: "from the middle of the coupler back to the front of the power unit", Source: fromLine,
}, func(e *Eval) quantity.Length {
	return Read(e, positioned[product.PowerUnit](e, "the line does not say where the power unit is").Fitting.At.X)
})

var hydraulicsMotor = ofPart(Decl{Name: "hydraulics.motor_current", When: hydraulicsOn, Engineer: true, Round: asStated, Formula: "current of the pump motor at relief", Source: hydraulicsStated},
	func(u *product.PowerUnit) source.Given[quantity.Current] { return u.Motor })

var hydraulicsVolume = declare(Decl{
	Name: "hydraulics.volume", Engineer: true, When: hydraulicsOn, Round: hundredthUp,
	Formula: "cylinder.area × cylinder.stroke × cylinder.count: fluid for one full raise",
	Source:  Source{Published, "fluid-power handbooks: gal = A × stroke / 231"},
}, func(e *Eval) quantity.Volume {
	return swept(Get(e, cylinderArea), Get(e, cylinderStroke)) * quantity.Volume(Get(e, cylinderCount))
})

var hydraulicsLower = declare(Decl{
	Name: "hydraulics.volume_lower", When: when("hydraulics and double-acting"), Engineer: true, Round: hundredthUp,
	Formula: "cylinder.rod_side_area × cylinder.stroke × cylinder.count: fluid for one full lowering under power",
	Source:  Source{Published, "fluid-power handbooks: gal = A × stroke / 231"},
}, func(e *Eval) quantity.Volume {
	return swept(Get(e, cylinderRing), Get(e, cylinderStroke)) * quantity.Volume(Get(e, cylinderCount))
})

// hydraulicsFall is the amount by which the reservoir is lower with the deck up. The rod side
// of a double-acting cylinder returns its fluid.
var hydraulicsFall = declare(Decl{
	Name: "hydraulics.reservoir_fall", When: hydraulicsOn, Engineer: true, Round: hundredthUp,
	Formula: "hydraulics.volume, less hydraulics.volume_lower where the cylinder is double acting",
	Source:  arithmetic,
}, func(e *Eval) quantity.Volume {
	back, _ := Try(e, hydraulicsLower)
	return Get(e, hydraulicsVolume) - back
})

var hydraulicsReservoir = ofPart(Decl{Name: "hydraulics.reservoir", When: hydraulicsOn, Round: quantity.Rounding{Stated: true, Step: 0.1, MetricStep: 0.1}, Formula: "usable volume of the reservoir", Source: hydraulicsStated},
	func(u *product.PowerUnit) source.Given[quantity.Volume] { return u.Reservoir })

var hydraulicsReservoirNeed = declare(Decl{
	Name: "hydraulics.reservoir_needed", When: hydraulicsOn, Engineer: true, Round: hundredthUp,
	Formula: "hydraulics.reservoir_fall ÷ 0.8",
	Source:  Source{Judgement, "a fifth of the reservoir stays in it, so that the pump never draws air"},
}, func(e *Eval) quantity.Volume { return Get(e, hydraulicsFall) / reservoirUse })

var hydraulicsRaise = declare(Decl{
	Name: "hydraulics.raise_time", When: hydraulicsOn, Engineer: true,
	Round:   quantity.Rounding{Side: quantity.Up, US: "s", Metric: "s"},
	Formula: "hydraulics.volume ÷ flow of the pump",
	Source:  Source{Published, "fluid-power handbooks: time = volume / flow"},
}, func(e *Eval) quantity.Duration {
	return fillTime(e, Get(e, hydraulicsVolume))
})

// hydraulicsCycle is the running time of the motor for one raise and one lowering.
var hydraulicsCycle = declare(Decl{
	Name: "hydraulics.cycle_time", When: hydraulicsOn, Engineer: true,
	Round:   quantity.Rounding{Side: quantity.Up, US: "s", Metric: "s"},
	Formula: "(hydraulics.volume + hydraulics.volume_lower where the cylinder is double acting) ÷ flow of the pump",
	Source:  arithmetic,
}, func(e *Eval) quantity.Duration {
	down, _ := Try(e, hydraulicsLower)
	return fillTime(e, Get(e, hydraulicsVolume)+down)
})

func fillTime(e *Eval, v quantity.Volume) quantity.Duration {
	flow := Read(e, fitted[product.PowerUnit](e).Flow)
	if flow <= 0 {
		e.Absent("a pump without flow")
	}
	return quantity.Minutes(float64(v) / float64(flow))
}

var _ = ofPart(Decl{Name: "hydraulics.hose_years", When: hydraulicsOn, Formula: "years after which hoses are replaced, whatever they look like", Source: Source{Stated, "the hose maker"}},
	func(h *product.Hose) source.Given[int] { return h.Years })

var _ = declare(Decl{
	Name: "hydraulics.hose_replace_by", When: hydraulicsOn,
	Formula: "date of manufacture, or of fitting where the hoses came later, + hydraulics.hose_years",
	Source:  Source{Stated, "the hose maker"},
}, func(e *Eval) quantity.Date {
	p, ok := first[product.Hose](e)
	if !ok {
		e.Absent("no hose is fitted")
	}
	return yearsAfterFitting(e, p.Fitting, p.Data.Years)
})

// hydraulicsWeakest is the least pressure rating of the circuit's parts.
var hydraulicsWeakest = declare(Decl{
	Name: "hydraulics.weakest", When: hydraulicsOn, Engineer: true, Round: wholeDown,
	Formula: "the least of the working pressures of cylinder, hose and fitting",
	Source:  arithmetic,
}, func(e *Eval) quantity.Pressure {
	hose := fitted[product.Hose](e)
	return min(Read(e, fitted[product.Cylinder](e).Rating), Read(e, hose.Rating), Read(e, hose.Fitting))
})

// rodSidePressure is the pressure around the rod if fluid cannot leave there while the pump
// pushes at relief: a blocked hose, or a valve left closed.
var rodSidePressure = declare(Decl{
	Name: "hydraulics.rod_side_pressure", When: when("hydraulics and double-acting"), Engineer: true, Round: wholeUp,
	Formula: "hydraulics.relief × cylinder.area ÷ cylinder.rod_side_area",
	Source:  Source{Published, "fluid-power handbooks: pressure intensification, forces on both sides of the piston are equal"},
}, func(e *Eval) quantity.Pressure {
	return pressureFor(pushForce(Get(e, hydraulicsRelief), Get(e, cylinderArea)), Get(e, cylinderRing))
})

var _ = limit(Limit{ID: "relief-cylinder", When: hydraulicsOn,
	Protects: "a cylinder pushed past its rating bursts or bends under a raised load",
	Check: func(e *Eval) {
		c, unit := fitted[product.Cylinder](e), fitted[product.PowerUnit](e)
		relief := entry(e, unit.Relief)
		e.require(relief, AtMost, entry(e, c.Rating),
			"the relief valve opens at %s; the cylinder is rated for %s")
		if c.Capacity.Set {
			each := e.calculated("push of one cylinder at relief", pushForce(unit.Relief.Value, Get(e, cylinderArea)), wholeUp, relief)
			e.require(each, AtMost, entry(e, c.Capacity),
				"at a relief setting of "+relief.Text+" one cylinder pushes %s; its maker allows %s")
		}
	}})

var _ = limit(Limit{ID: "relief-hose", When: hydraulicsOn,
	Protects: "a hose or fitting run past its rating bursts: the load falls and the jet goes through skin",
	Check: func(e *Eval) {
		hose, unit := fitted[product.Hose](e), fitted[product.PowerUnit](e)
		for _, part := range []struct {
			name   string
			rating source.Given[quantity.Pressure]
		}{{"hose", hose.Rating}, {"hose fitting", hose.Fitting}} {
			e.require(entry(e, unit.Relief), AtMost, entry(e, part.rating),
				"the relief valve opens at %s; the "+part.name+" is rated for %s")
		}
	}})

var _ = limit(Limit{ID: "rod-side-pressure", When: when("hydraulics and double-acting"),
	Protects: "fluid shut in around the rod stands far above relief pressure and bursts the weakest part",
	Check: func(e *Eval) {
		if short(Get(e, hydraulicsWeakest), Get(e, hydraulicsRelief)) {
			return // relief-cylinder or relief-hose reports it
		}
		e.require(of(e, rodSidePressure), AtMost, of(e, hydraulicsWeakest),
			"with the rod side shut, relief pressure becomes %s there; the weakest part is rated for %s")
	}})

// reservoirMost is the greatest ratio of the reservoir to the fluid of a full raise. Common practice.
const reservoirMost = 6

var _ = limit(Limit{ID: "reservoir", MaxReserve: 4, When: hydraulicsOn,
	Protects: "a reservoir that runs empty lets the pump draw air, and the deck stops short or drops",
	Check: func(e *Eval) {
		holds := of(e, hydraulicsReservoir)
		e.require(holds, AtLeast, of(e, hydraulicsReservoirNeed), "the reservoir holds %s; a full raise needs %s")
		e.require(holds, AtMost, e.calculated("six times the fluid of a full raise, common practice", reservoirMost*Get(e, hydraulicsVolume), hundredthDown, of(e, hydraulicsVolume)),
			"the reservoir holds %s; six times what a full raise takes is %s")
	}})
