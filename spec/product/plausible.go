package product

import (
	"cmp"
	"math"
	"slices"

	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// codeLinePlausible is about figures that no check of ratings would stop at.
var codeLinePlausible = codes.Error("line-plausible", "a decimal point in the wrong place is printed as it stands: tires filled to 8 psi instead of 80 fail on the road")

// codeLineCare is about intervals that no check of figures would stop at.
var codeLineCare = codes.Error("line-care", "care asked for ten times too seldom is not given: hubs run dry, nuts work loose, hoses burst")

// Bounds that no part of a road trailer lies beyond, wide enough for all there
// are and narrow enough that a pressure ten times too small or too large falls
// outside. Common practice, no source.
const (
	leastPressure = quantity.Pressure(15)
	mostPressure  = quantity.Pressure(160)
	leastTorque   = quantity.Torque(30)
	mostTorque    = quantity.Torque(650)
)

// Sizes of the trade, likewise wide, in inches. Common practice, no source.
var (
	ballSizes  = []quantity.Length{1.875, 2, 2.3125, 3, 50 / 25.4} // what couplers are made for
	ringSizes  = []quantity.Length{2, 2.5, 3}                      // inside, that hooks are made for
	ringThick  = [2]quantity.Length{1, 1.75}
	ringHeight = [2]quantity.Length{14, 40}
	socketSize = [2]quantity.Length{0.6, 1.4}
	drumSize   = [2]quantity.Length{6.5, 17}
	ballHeight = [2]quantity.Length{11, 32} // behind a tow vehicle
	bedHeight  = [2]quantity.Length{34, 60} // above a truck's bed, from the ground
	rotorSize  = [2]quantity.Length{0.2, 1.7}
	playSize   = [2]quantity.Length{0.0005, 0.02}
	liningSize = [2]quantity.Length{0.03, 0.5}
)

// What else of figures lies between, with years that rubber and batteries last.
var (
	tireSpeed   = [2]quantity.Speed{45, 100}
	anchorLoad  = [2]quantity.Mass{300, 25000}
	boltTorque  = [2]quantity.Torque{15, 650}
	brakeForce  = [2]quantity.Pressure{400, 3000}
	heaped      = [2]quantity.Density{20, 160}
	fluidForce  = [2]quantity.Pressure{500, 10000} // of cylinders and hoses
	magnetCoil  = [2]quantity.Resistance{1.5, 10}
	store       = [2]quantity.Charge{20, 500} // of one battery for a pump or winch
	breakStore  = [2]quantity.Charge{2, 40}
	charging    = [2]quantity.Current{1, 100}
	giving      = [2]quantity.Current{20, 600}
	filling     = [2]quantity.Voltage{13.8, 15}
	panel       = [2]quantity.Voltage{17, 150}
	sunny       = [2]quantity.Duration{30, 8 * 60}
	ropeLength  = [2]quantity.Length{25 * 12, 200 * 12}
	ropeSize    = [2]quantity.Length{0.18, 0.7}
	winchDrum   = [2]quantity.Length{1.5, 8}
	chainLength = [2]quantity.Length{18, 150}
	propTilt    = [2]quantity.Angle{4, 70}
	creeping    = [2]quantity.Speed{0.5, 10} // while a box spreads
	spreadTilt  = [2]quantity.Angle{5, 40}
	mostYears   = 12
)

// lightest is the least that a body weighs for its floor, in pounds a square foot.
const lightest = 5

// What one figure of a part is at most as a share of another. Common practice, no source.
const (
	mostVertical    = 0.20 // of the gross rating of a coupler behind the tow vehicle
	mostVerticalBed = 0.33 // of that of a gooseneck coupler
	mostStatic      = 2    // times what a jack lifts
	leastPull       = 8    // pounds of a winch for each ampere of its motor at stall
	mostPull        = 80
)

// plausible looks at pressures, torques and sizes that owners set or measure by hand, and at ratings
// of one part that hang together.
func (c *lineCheck) plausible(data any) {
	switch part := data.(type) {
	case *Axle:
		if part.Brake != nil {
			between(c, "drum_limit", part.Brake.DrumLimit, drumSize[0], drumSize[1])
			between(c, "rotor_limit", part.Brake.RotorLimit, rotorSize[0], rotorSize[1])
			between(c, "resistance", part.Brake.Resistance, magnetCoil[0], magnetCoil[1])
			between(c, "resistance_high", part.Brake.ResistanceHigh, magnetCoil[0], magnetCoil[1])
			between(c, "lining_limit", part.Brake.LiningLimit, liningSize[0], liningSize[1])
		}
		if part.HubPlay != nil {
			between(c, "high", part.HubPlay.High, playSize[0], playSize[1])
		}
		between(c, "u_bolt_torque", part.UBoltTorque, boltTorque[0], boltTorque[1])
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
		between(c, "ring_section", part.RingSection, ringThick[0], ringThick[1])
		between(c, "ring_height_low", part.RingHeightLow, ringHeight[0], ringHeight[1])
		between(c, "ring_height_high", part.RingHeightHigh, ringHeight[0], ringHeight[1])
		heights, share := ballHeight, mostVertical
		if part.Kind.Value == "gooseneck-ball" {
			heights, share = bedHeight, mostVerticalBed
		}
		between(c, "ball_height_low", part.BallHeightLow, heights[0], heights[1])
		between(c, "ball_height_high", part.BallHeightHigh, heights[0], heights[1])
		atMost(c, "vertical", part.Vertical, share, "gross", part.Gross)
		between(c, "bolt_torque", part.BoltTorque, boltTorque[0], boltTorque[1])
		between(c, "set_screw_torque", part.ScrewTorque, boltTorque[0], boltTorque[1])
	case *Actuator:
		between(c, "pressure", part.Pressure, brakeForce[0], brakeForce[1])
	case *Material:
		between(c, "density", part.Density, heaped[0], heaped[1])
	case *Deck:
		c.heavyEnough("tilting_weight", part.TiltWeight, part.Tilting.Value, part.Inside.Value)
	case *DumpBox:
		c.heavyEnough("empty_weight", part.Empty, part.Long.Value, part.Wide.Value)
	case *Anchor:
		between(c, "working_load", part.Limit, anchorLoad[0], anchorLoad[1])
	case *Cylinder:
		between(c, "rating", part.Rating, fluidForce[0], fluidForce[1])
	case *Battery:
		between(c, "capacity", part.Capacity, store[0], store[1])
		between(c, "charge_voltage_low", part.ChargeLow, filling[0], filling[1])
		between(c, "charge_voltage_high", part.ChargeHigh, filling[0], filling[1])
		between(c, "discharge_current", part.GivesMost, giving[0], giving[1])
	case *Charger:
		between(c, "output", part.Output, charging[0], charging[1])
		between(c, "voltage", part.Volts, filling[0], filling[1])
	case *Solar:
		between(c, "output", part.Output, charging[0], charging[1])
		between(c, "voltage", part.Volts, filling[0], filling[1])
		between(c, "open_voltage", part.OpenVoltage, panel[0], panel[1])
		between(c, "sun_hours", part.SunSummer, sunny[0], sunny[1])
		between(c, "sun_hours_winter", part.SunWinter, sunny[0], sunny[1])
	case *ChargeLine:
		between(c, "output", part.Output, charging[0], charging[1])
		between(c, "voltage", part.Volts, filling[0], filling[1])
	case *Winch:
		between(c, "rope_length", part.RopeLength, ropeLength[0], ropeLength[1])
		between(c, "rope_size", part.RopeSize, ropeSize[0], ropeSize[1])
		between(c, "drum", part.Drum, winchDrum[0], winchDrum[1])
		if pull := float64(part.Pull.Value); part.Current.Set && (pull < leastPull*float64(part.Current.Value) || pull > mostPull*float64(part.Current.Value)) {
			c.add(codeLinePlausible.At(part.Current.At, "current is %s; a winch that pulls %s draws between %.0f and %.0f A", part.Current.Text, part.Pull.Text, pull/mostPull, pull/leastPull))
		}
	case *Chain:
		between(c, "length", part.Length, chainLength[0], chainLength[1])
	case *Prop:
		between(c, "angle", part.Angle, propTilt[0], propTilt[1])
	case *Gate:
		if part.Spread != nil {
			between(c, "speed", part.Spread.Speed, creeping[0], creeping[1])
			between(c, "angle", part.Spread.Angle, spreadTilt[0], spreadTilt[1])
		}
	case *Breakaway:
		between(c, "battery", part.Battery, breakStore[0], breakStore[1])
		c.years("battery_years", part.BatteryYears)
	case *Hose:
		between(c, "rating", part.Rating, fluidForce[0], fluidForce[1])
		between(c, "fitting_rating", part.Fitting, fluidForce[0], fluidForce[1])
		c.years("replace_years", part.Years)
	case *Jack:
		atMost(c, "static", part.Static, mostStatic, "lift", part.Lift)
	case *Tire:
		between(c, "speed_limit", part.SpeedLimit, tireSpeed[0], tireSpeed[1])
		c.years("age_limit_years", part.AgeLimit)
		between(c, "cold_pressure", part.Cold, leastPressure, mostPressure)
	case *Wheel:
		between(c, "max_pressure", part.MaxCold, leastPressure, mostPressure)
		between(c, "torque", part.Torque, leastTorque, mostTorque)
		between(c, "socket", part.Socket, socketSize[0], socketSize[1])
	}
}

func between[Q interface {
	~float64
	quantity.Quantity
}](c *lineCheck, key string, given source.Given[Q], least, most Q) {
	if !given.Set || given.Value <= 0 || given.Value >= least && given.Value <= most { // what is not positive was told
		return
	}
	stated := quantity.Rounding{Stated: true}
	c.add(codeLinePlausible.At(given.At, "%s is %s; on a road trailer it lies between %s and %s", key, given.Text, quantity.English.Text(least, stated), quantity.English.Text(most, stated)).
		WithHint("look whether the decimal point or a zero is in the wrong place"))
}

// oneOf tells whether a length is one of the sizes of the trade, which metric
// parts stand close to.
func oneOf(sizes []quantity.Length, given length) bool {
	return slices.ContainsFunc(sizes, func(s quantity.Length) bool { return math.Abs(float64(s-given.Value)) < 0.02 })
}

func (c *lineCheck) heavyEnough(key string, given mass, long, wide quantity.Length) {
	if area := float64(long) * float64(wide) / 144; given.Set && area > 0 && float64(given.Value) < lightest*area {
		c.add(codeLinePlausible.At(given.At, "%s is %s; a floor of %.0f ft² weighs at least %.0f lb", key, given.Text, area, lightest*area))
	}
}

func (c *lineCheck) years(key string, given count) {
	if given.Set && given.Value > mostYears {
		c.add(codeLinePlausible.At(given.At, "%s is %s; what ages on a trailer is replaced within %d years", key, given.Text, mostYears))
	}
}

// atMost holds a rating against another one of the same part.
func atMost(c *lineCheck, key string, given mass, share float64, of string, whole mass) {
	if given.Set && whole.Set && float64(given.Value) > share*float64(whole.Value) {
		c.add(codeLinePlausible.At(given.At, "%s is %s; with %s of %s it is at most %.2g times that", key, given.Text, of, whole.Text, share))
	}
}

// oftenEnough holds a component's interval against the longest that its task stands.
func (c *lineCheck) oftenEnough(id string, asked *Interval) {
	for _, t := range c.Tasks {
		if t.ID.Value == id && t.AtMost != nil {
			tooLong(c, id, asked.Every, t.AtMost.Every, "")
			tooLong(c, id, asked.Months, t.AtMost.Months, " months")
			tooLong(c, id, asked.Loads, t.AtMost.Loads, " loads")
			tooLong(c, id, asked.MotorHours, t.AtMost.MotorHours, " hours of the motor")
		}
	}
}

func tooLong[T cmp.Ordered](c *lineCheck, id string, asked, most source.Given[T], unit string) {
	if asked.Set && most.Set && asked.Value > most.Value {
		c.add(codeLineCare.At(asked.At, "%s comes round after %s%s; expected at most %s%s", id, asked.Text, unit, most.Text, unit).
			WithHint("look whether a zero is too many or the unit is another"))
	}
}
