package product

import (
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// codeLinePlausible is about figures that no check of ratings would stop at.
var codeLinePlausible = codes.Error("line-plausible", "a decimal point in the wrong place is printed as it stands: tires filled to 8 psi instead of 80 fail on the road")

// Bounds that no part of a road trailer lies beyond, wide enough for all there
// are and narrow enough that a pressure ten times too small or too large falls
// outside. Common practice, no source.
const (
	leastPressure = quantity.Pressure(15)
	mostPressure  = quantity.Pressure(160)
	leastTorque   = quantity.Torque(30)
	mostTorque    = quantity.Torque(650)
)

// plausible looks at pressures and torques, which owners set by hand.
func (c *lineCheck) plausible(data any) {
	switch part := data.(type) {
	case *Tire:
		between(c, "cold_pressure", part.Cold, leastPressure, mostPressure)
	case *Wheel:
		between(c, "max_pressure", part.MaxCold, leastPressure, mostPressure)
		between(c, "torque", part.Torque, leastTorque, mostTorque)
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
