package product

import (
	"cmp"
	"math"
	"reflect"
	"slices"
	"strings"

	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// codeLinePlausible reports figures that no check of ratings would find.
var codeLinePlausible = codes.Error("line-plausible", "a decimal point in the wrong place is printed as it stands: tires filled to 8 psi instead of 80 fail on the road")

// codeLineCare reports intervals that no check of figures would find.
var codeLineCare = codes.Error("line-care", "care asked for ten times too seldom is not given: hubs run dry, nuts work loose, hoses burst")

// Usual sizes, complete enough for everything on the market, in inches. Common practice, no source.
var (
	ballSizes = []quantity.Length{1.875, 2, 2.3125, 3, 50 / 25.4} // of balls for couplers
	ringSizes = []quantity.Length{2, 2.5, 3}                      // inside diameters of rings for hooks
	pinSizes  = []quantity.Length{2}                              // SAE J700; larger ones are for loads beyond these trailers
)

// Heights of the top of a ball. Common practice, no source.
const (
	ballHeights    = "11 in to 32 in" // behind a tow vehicle
	ballHeightsBed = "34 in to 60 in" // above a truck's bed, from the ground
)

// mostYears is the maximum life of rubber and batteries, in years.
const mostYears = 12

// anchorLimits are the greatest working loads of one anchor of each kind, in pounds: d-rings reach what the
// bound of the figure allows. Common practice, no source.
var anchorLimits = map[string]quantity.Mass{"stake-pocket": 5000, "rub-rail": 5000, "e-track": 2500, "transom-strap": 3500}

// lightest is the minimum weight of a body by its floor, in pounds per square foot.
const lightest = 5

// Limits of one figure of a part as a fraction of another. Common practice, no source.
const (
	mostVertical    = 0.20 // of the gross rating of a coupler behind the tow vehicle
	mostVerticalBed = 0.33 // of the gross rating of a coupler over the rear axle
	mostStatic      = 2    // times the lift of a jack
	mostOfClass     = 2    // times the rating of the weakest part of an axle, for the rating of any part
	mostEmptyShare  = 1.4  // times the greatest share of the loaded weight on the coupler, when empty
	mostWorking     = 0.5  // of the breaking force of a strap: a third is usual
	leastRadius     = 0.75 // of the radius of a tire, for the height of an axle above the road
	mostRadius      = 1.15
	mostHolding     = 0.95 // of the greatest current of an actuator's pump, for the average while it holds
	leastRamp       = 1.75 // pounds per ft² of a ramp: a sheet of aluminum 1/8 in thick
	mostRamp        = 41   // a plate of steel 1 in thick
	leastPerHour    = 0.15 // pounds per Ah of a battery
	mostPerHour     = 1.2
	leastSpare      = 20 // pounds of a wheel with its tire
	mostSpare       = 400
	wheelsOfAxle    = 2
	leastPull       = 8 // pounds of a winch per ampere of its motor at stall
	mostPull        = 80
	leastLifted     = 30 // pounds of a jack per ampere of its motor
	mostLifted      = 400
	leastOutput     = 0.65 // of the short-circuit current of a solar panel, for what it charges with
)

// Limits of the number of things that one component stands for. Common practice, no
// source.
const (
	mostAnchors = 60
	mostOthers  = 6 // batteries, cylinders, jacks, legs, locks, props
)

// plausible checks figures of a part that depend on each other, and sizes that must be
// from a list. Ranges are in the tags of the fields: see within.
func (c *lineCheck) plausible(data any) {
	switch part := data.(type) {
	case *Axle:
		if part.Brake != nil {
			if m := part.Brake.Magnets; m.Set && m.Value > 0 && m.Value != wheelsOfAxle {
				c.add(codeLinePlausible.At(m.At, "magnets is %d; the two brakes of an axle have one each", m.Value))
			}
		}
		c.oneClass(part)
		if part.UBoltTorque.Set && part.Suspension.Value == "torsion" {
			c.add(codeLineKind.At(part.UBoltTorque.At, "torsion axles have no U-bolts").WithHint("delete u_bolt_torque, or write suspension: leaf"))
		}
	case *Coupler:
		if part.Ball.Set && !oneOf(ballSizes, part.Ball) {
			c.add(codeLinePlausible.At(part.Ball.At, "ball is %s; couplers are made for 1 7/8, 2, 2 5/16 and 3 in and for 50 mm", part.Ball.Text))
		}
		if part.Ring.Set && !oneOf(ringSizes, part.Ring) {
			c.add(codeLinePlausible.At(part.Ring.At, "ring is %s; rings for pintle hooks are made with 2, 2 1/2 and 3 in inside", part.Ring.Text))
		}
		if part.Pin.Set && !oneOf(pinSizes, part.Pin) {
			c.add(codeLinePlausible.At(part.Pin.At, "kingpin is %s; the kingpin of SAE J700 has 2 in", part.Pin.Text))
		}
		heights, share := ballHeights, mostVertical
		if part.Kind.Value == "gooseneck-ball" || part.Kingpin() {
			heights, share = ballHeightsBed, mostVerticalBed
		}
		for _, h := range []length{part.BallHeightLow, part.BallHeightHigh} {
			c.within(heights, h.Value, h.At, h.Path, h.Text)
		}
		atMost(c, "vertical", part.Vertical, share, "gross", part.Gross)
	case *Deck:
		c.heavyEnough("tilting_weight", part.TiltWeight, part.Tilting.Value, part.Inside.Value)
	case *DumpBox:
		c.heavyEnough("empty_weight", part.Empty, part.Long.Value, part.Wide.Value)
	case *Model:
		c.restsOnCoupler(part)
		if most := part.GVWR.Value - part.Empty.Value; part.LiftLimit.Set && part.LiftLimit.Value > most {
			c.add(codeLinePlausible.At(part.LiftLimit.At, "lift_limit is %s; with a gvwr of %s and an empty weight of %s there is no such load", part.LiftLimit.Text, part.GVWR.Text, part.Empty.Text))
		}
		c.standsOnTires(part)
	case *WinchStand:
		atMost(c, "strap_working_load", part.Strap, mostWorking, "strap_breaking", part.StrapBreak)
	case *Winch:
		c.draws(part.Current, "pulls", part.Pull, leastPull, mostPull)
	case *Actuator:
		atMost(c, "vertical", part.Vertical, mostVertical, "gross", part.Gross)
		if part.Current.Set && part.Holding.Set && part.Holding.Value > mostHolding*part.Current.Value {
			c.add(codeLinePlausible.At(part.Holding.At, "holding_current is %s; with the %s that its pump draws while it runs it draws less on average", part.Holding.Text, part.Current.Text).
				WithRelated(part.Current.At, "current stands here"))
		}
	case *Ramp:
		if part.Width.Set {
			area := squareFeet(part.Length.Value, part.Width.Value)
			c.weighs(part.Weight, leastRamp*area, mostRamp*area, "a ramp of its size")
		}
	case *Support:
		c.count(part.Count, mostOthers)
	case *Prop:
		c.count(part.Count, mostOthers)
	case *Lock:
		c.count(part.Count, mostOthers)
	case *Cylinder:
		c.count(part.Count, mostOthers)
	case *StockBody:
		atMost(c, "hoof_load", part.Hoof, 1, "heaviest_animal", part.Heaviest)
	case *Battery:
		c.count(part.Count, mostOthers)
		if low, high := part.ChargeLow, part.ChargeHigh; low.Set && high.Set && low.Value > high.Value {
			c.add(codeLinePlausible.At(low.At, "charge_voltage_low is %s, charge_voltage_high %s; expected a rising range", low.Text, high.Text))
		}
		c.weighs(part.Weight, leastPerHour*float64(part.Capacity.Value), mostPerHour*float64(part.Capacity.Value), "a battery of its capacity")
	case *Spare:
		c.weighs(part.Weight, leastSpare, mostSpare, "a wheel with its tire")
	case *Breakaway:
		c.years("battery_years", part.BatteryYears)
		c.replaced(&part.Common, "replace-breakaway-battery", part.BatteryYears)
	case *Hose:
		c.years("replace_years", part.Years)
	case *Jack:
		c.count(part.Count, mostOthers)
		atMost(c, "static", part.Static, mostStatic, "lift", part.Lift)
		c.draws(part.Current, "lifts", part.Lift, leastLifted, mostLifted)
	case *Tire:
		c.years("age_limit_years", part.AgeLimit)
		c.replaced(&part.Common, "replace-tires", part.AgeLimit)
	case *Anchor:
		c.count(part.Count, mostAnchors)
		if most := anchorLimits[part.Kind.Value]; most > 0 && part.Limit.Value > most {
			c.add(codeLinePlausible.At(part.Limit.At, "working_load is %s; one %s holds at most %.0f lb", part.Limit.Text, part.Kind.Value, float64(most)))
		}
	case *Cradle:
		atMost(c, "length", part.Long, 1, "hull_length", part.Hull)
	case *Solar:
		atLeast(c, "output", part.Output, leastOutput, "short_circuit", part.ShortCircuit)
		atMost(c, "sun_hours_winter", part.SunWinter, 1, "sun_hours", part.SunSummer)
	}
}

// within checks a figure against a range such as "15 psi to 160 psi" outside of which no
// part of a road trailer is: wide enough for all there are, and narrow enough that a
// pressure ten times too small or too large is outside. Common practice, no source.
func (c *lineCheck) within(bounds string, q quantity.Quantity, at source.Pos, path, text string) {
	if bounds == "" || q.Base() <= 0 { // figures that are not positive have been reported
		return
	}
	low, high, _ := strings.Cut(bounds, " to ")
	least, most := bound(q, low), bound(q, high)
	if q.Base() >= least.Base() && q.Base() <= most.Base() {
		return
	}
	stated := quantity.Rounding{Stated: true}
	c.add(codeLinePlausible.At(at, "%s is %s; on a road trailer it lies between %s and %s", path[strings.LastIndex(path, ".")+1:], text, quantity.English.Text(least, stated), quantity.English.Text(most, stated)).
		WithHint("look whether the decimal point or a zero is in the wrong place"))
}

// bound parses a figure of the program's own, of the same dimension as like.
func bound(like quantity.Quantity, text string) quantity.Quantity {
	read := reflect.New(reflect.TypeOf(like))
	if err := read.Interface().(source.ScalarParser).ParseScalar(text); err != nil {
		panic("product: a bound: " + err.Error())
	}
	return read.Elem().Interface().(quantity.Quantity)
}

// oneClass compares the ratings of the parts of an axle: they are made and sold as a set.
func (c *lineCheck) oneClass(a *Axle) {
	type rating struct {
		key string
		mass
	}
	ratings := []rating{{"beam", a.Beam}, {"spring", a.Spring}, {"hub", a.Hub}}
	if a.Brake != nil {
		ratings = append(ratings, rating{"rating of the brakes", a.Brake.Rating})
	}
	least := ratings[0]
	for _, r := range ratings {
		if r.Set && r.Value < least.Value {
			least = r
		}
	}
	for _, r := range ratings {
		if least.Value > 0 && r.Value > mostOfClass*least.Value {
			c.add(codeLinePlausible.At(r.At, "%s is %s; with a %s of %s one axle hardly has more than twice that", r.key, r.Text, least.key, least.Text).
				WithRelated(least.At, "the weakest part stands here").
				WithHint("look whether the decimal point or a zero is in the wrong place"))
		}
	}
}

// restsOnCoupler compares the two weights of a model: the share on the coupler when empty must
// be at least what the loaded trailer needs, or it sways on the way home.
func (c *lineCheck) restsOnCoupler(m *Model) {
	if m.Empty.Value <= 0 || m.OnCoupler.Value <= 0 || m.ShareHigh.Value <= m.ShareLow.Value {
		return // reported elsewhere
	}
	share := 100 * float64(m.OnCoupler.Value) / float64(m.Empty.Value)
	least, most := float64(m.ShareLow.Value), mostEmptyShare*float64(m.ShareHigh.Value)
	if share < least || share > most {
		c.add(codeLinePlausible.At(m.OnCoupler.At, "coupler_weight is %s, %.1f %% of empty_weight; with %s to %s on the coupler when loaded, the empty unit has %.3g to %.3g %% there",
			m.OnCoupler.Text, share, m.ShareLow.Text, m.ShareHigh.Text, least, most).
			WithRelated(m.Empty.At, "empty_weight stands here"))
	}
}

// bulkDensities are the published densities of common loads, in lb/ft³, by the id of the material.
// Source: a public engineering table of dirt and mud.
var bulkDensities = map[string]float64{
	"sand": 97, "wet-sand": 119, "gravel": 105, "wet-gravel": 125, "loam": 80, "topsoil": 78, "clay": 100, "wet-clay": 110, "mud": 108,
}

// A density may be this share of the published one at least and at most. The lower bound is
// the tighter one: too light a figure lets the owner overload the box. Judgement.
const bulkLess, bulkMore = 0.95, 1.3

// bulk compares the density of a material with the published one.
func (c *lineCheck) bulk(id string, given source.Given[quantity.Density]) {
	if usual, d := bulkDensities[id], float64(given.Value); usual > 0 && d > 0 && (d < bulkLess*usual || d > bulkMore*usual) {
		c.add(codeLinePlausible.At(given.At, "%s is %s; published is %.0f lb/ft³, and a load has between %.0f and %.0f", id, given.Text, usual, bulkLess*usual, bulkMore*usual).
			WithHint("look whether the figure is that of another material, or of a dry one"))
	}
}

// oneOf reports whether a length is one of the usual sizes, with a tolerance for metric
// parts.
func oneOf(sizes []quantity.Length, given length) bool {
	return slices.ContainsFunc(sizes, func(s quantity.Length) bool { return math.Abs(float64(s-given.Value)) < 0.02 })
}

func (c *lineCheck) heavyEnough(key string, given mass, long, wide quantity.Length) {
	if area := float64(long) * float64(wide) / 144; given.Set && area > 0 && float64(given.Value) < lightest*area {
		c.add(codeLinePlausible.At(given.At, "%s is %s; a floor of %.0f ft² weighs at least %.0f lb", key, given.Text, area, lightest*area))
	}
}

// count checks a number of things against the most that a trailer has.
func (c *lineCheck) count(given count, most int) {
	if given.Value > most {
		c.add(codeLinePlausible.At(given.At, "count is %d; expected at most %d", given.Value, most).
			WithHint("look whether a digit is too many"))
	}
}

// weighs compares the weight of a part with that usual for its size.
func (c *lineCheck) weighs(given mass, least, most float64, what string) {
	if w := float64(given.Value); given.Set && (w < least || w > most) {
		c.add(codeLinePlausible.At(given.At, "weight is %s; %s weighs between %.0f and %.0f lb", given.Text, what, least, most).
			WithHint("look whether the decimal point or a zero is in the wrong place"))
	}
}

func (c *lineCheck) years(key string, given count) {
	if given.Set && given.Value > mostYears {
		c.add(codeLinePlausible.At(given.At, "%s is %s; what ages on a trailer is replaced within %d years", key, given.Text, mostYears))
	}
}

// replaced compares the interval after which something is replaced with the years it lasts.
func (c *lineCheck) replaced(part *Common, task string, years count) {
	if due := part.Service.Get(task); due != nil && due.Months.Set && years.Set && due.Months.Value > 12*years.Value {
		c.add(codeLineCare.At(due.Months.At, "%s comes round after %s months; the part lasts %s years", task, due.Months.Text, years.Text).
			WithRelated(years.At, "its years stand here"))
	}
}

// draws compares the current of a motor with what it moves, in pounds per ampere.
func (c *lineCheck) draws(given current, does string, load mass, least, most float64) {
	if lb := float64(load.Value); given.Set && (lb < least*float64(given.Value) || lb > most*float64(given.Value)) {
		c.add(codeLinePlausible.At(given.At, "current is %s; the motor of what %s %s draws between %.1f and %.1f A", given.Text, does, load.Text, lb/most, lb/least))
	}
}

// atMost compares a figure with another one of the same part.
func atMost[T ~float64](c *lineCheck, key string, given source.Given[T], share float64, of string, whole source.Given[T]) {
	if given.Set && whole.Set && float64(given.Value) > share*float64(whole.Value) {
		c.add(codeLinePlausible.At(given.At, "%s is %s; with %s of %s it is at most %.2g times that", key, given.Text, of, whole.Text, share))
	}
}

// atLeast is atMost the other way.
func atLeast[T ~float64](c *lineCheck, key string, given source.Given[T], share float64, of string, whole source.Given[T]) {
	if given.Set && whole.Set && float64(given.Value) < share*float64(whole.Value) {
		c.add(codeLinePlausible.At(given.At, "%s is %s; with %s of %s it is at least %.2g times that", key, given.Text, of, whole.Text, share))
	}
}

// standsOnTires compares the height of the axles with the radius of the tires, which load
// compresses by some tenths: those of the model and of its options.
func (c *lineCheck) standsOnTires(m *Model) {
	var tires []*Tire
	var axles []*Point
	for _, p := range m.EveryPart() {
		switch data := c.byID[p.Value.Use.Value].Data.(type) {
		case *Tire:
			tires = append(tires, data)
		case *Axle:
			if p.Value.At != nil {
				axles = append(axles, p.Value.At)
			}
		}
	}
	for _, at := range axles {
		for _, tire := range tires {
			if radius := tire.Diameter.Value / 2; tire.Diameter.Set && (at.Z.Value < leastRadius*radius || at.Z.Value > mostRadius*radius) {
				c.add(codeLinePlausible.At(at.Z.At, "the middle of the axle is %s above the road; the tires are %s across", at.Z.Text, tire.Diameter.Text).
					WithRelated(tire.Diameter.At, "the tires"))
			}
		}
	}
}

// side compares the side of a part as stated for the owner with its coordinates, which
// drawings and the walk-around use.
func (c *lineCheck) side(p *Part) {
	if p.At == nil || !p.On.Set || p.On.Value == "both" {
		return
	}
	middle := p.At.Y.Value
	if p.Size != nil {
		middle += p.Size.Wide.Value / 2
	}
	on := "left"
	if middle < 0 {
		on = "right"
	}
	if middle != 0 && on != p.On.Value {
		c.add(codeLinePlausible.At(p.On.At, "%s is said to be on the %s; its middle, by at and size, is on the %s", p.Use.Value, p.On.Value, on).
			WithRelated(p.At.Y.At, "y is measured to the left"))
	}
}

// oftenEnough compares a component's interval with the longest that its task allows.
func (c *lineCheck) oftenEnough(id string, asked *Interval) {
	if t := c.Task(id); t != nil && t.AtMost != nil {
		tooLong(c, id, asked.Every, t.AtMost.Every, "")
		tooLong(c, id, asked.Months, t.AtMost.Months, " months")
		tooLong(c, id, asked.Loads, t.AtMost.Loads, " loads")
		tooLong(c, id, asked.MotorHours, t.AtMost.MotorHours, " hours of the motor")
	}
}

func tooLong[T cmp.Ordered](c *lineCheck, id string, asked, most source.Given[T], unit string) {
	if asked.Set && most.Set && asked.Value > most.Value {
		c.add(codeLineCare.At(asked.At, "%s comes round after %s%s; expected at most %s%s", id, asked.Text, unit, most.Text, unit).
			WithHint("look whether a zero is too many or the unit is another"))
	}
}
