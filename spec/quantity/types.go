package quantity

import (
	"errors"
	"strings"
)

// Quantity is implemented by all types below, for code that prints or lists them.
type Quantity interface {
	// Dimension returns what is measured.
	Dimension() Dimension
	// Base returns the number in the base unit of the type.
	Base() float64
}

// Of is a figure of one dimension: the number in its base unit. Figures of different
// dimensions are different types, so that pounds are never added to inches.
type Of[D measure] float64

// Dimension implements [Quantity].
func (Of[D]) Dimension() Dimension {
	var d D
	return d.dimension()
}

// Base returns the number in the base unit.
func (q Of[D]) Base() float64 { return float64(q) }

// ParseScalar parses a number with its unit; the error names the units that are allowed.
func (q *Of[D]) ParseScalar(text string) error { return parseInto(text, q.Dimension(), (*float64)(q)) }

// The types of figures, each with its base unit.
type (
	// Count counts things; it has no unit.
	Count = Of[count]
	// Mass is a weight, or a force as the trade states it, in pounds.
	Mass = Of[mass]
	// Length is in inches.
	Length = Of[length]
	// Distance is a distance on the road, in miles.
	Distance = Of[distance]
	// Pressure is in pounds per square inch.
	Pressure = Of[pressure]
	// Torque is in pound-feet.
	Torque = Of[torque]
	// Volume is in US gallons.
	Volume = Of[volume]
	// FlowRate is in US gallons a minute.
	FlowRate = Of[flowRate]
	// Current is in amperes.
	Current = Of[current]
	// Voltage is in volts.
	Voltage = Of[voltage]
	// Charge is in ampere-hours.
	Charge = Of[charge]
	// Resistance is in ohms.
	Resistance = Of[resistance]
	// Duration is in minutes.
	Duration = Of[duration]
	// Angle is in degrees.
	Angle = Of[angle]
	// Percent is a share of a whole, in percent.
	Percent = Of[percent]
	// Temperature is in degrees Fahrenheit.
	Temperature = Of[temperature]
	// TemperatureDifference is in degrees Fahrenheit; 9 °F of it are 5 °C.
	TemperatureDifference = Of[temperatureDifference]
	// Area is in square inches.
	Area = Of[area]
	// Density is in pounds per cubic foot.
	Density = Of[density]
	// Viscosity is kinematic, in square millimeters a second.
	Viscosity = Of[viscosity]
	// Speed is in miles per hour.
	Speed = Of[speed]
)

// Pounds returns x lb as a Mass.
func Pounds(x float64) Mass { return Mass(x) }

// Inches returns x in as a Length.
func Inches(x float64) Length { return Length(x) }

// Miles returns x mi as a Distance.
func Miles(x float64) Distance { return Distance(x) }

// PSI returns x psi as a Pressure.
func PSI(x float64) Pressure { return Pressure(x) }

// Gallons returns x gal as a Volume.
func Gallons(x float64) Volume { return Volume(x) }

// Minutes returns x min as a Duration.
func Minutes(x float64) Duration { return Duration(x) }

// Degrees returns x deg as an Angle.
func Degrees(x float64) Angle { return Angle(x) }

// Fahrenheit returns x °F as a Temperature.
func Fahrenheit(x float64) Temperature { return Temperature(x) }

// SquareInches returns x in² as an Area.
func SquareInches(x float64) Area { return Area(x) }

// MilesPerHour returns x mph as a Speed.
func MilesPerHour(x float64) Speed { return Speed(x) }

// measure ties a type to its dimension.
type measure interface{ dimension() Dimension }

type (
	count                 struct{}
	mass                  struct{}
	length                struct{}
	distance              struct{}
	pressure              struct{}
	torque                struct{}
	volume                struct{}
	flowRate              struct{}
	current               struct{}
	voltage               struct{}
	charge                struct{}
	resistance            struct{}
	duration              struct{}
	angle                 struct{}
	percent               struct{}
	temperature           struct{}
	temperatureDifference struct{}
	area                  struct{}
	density               struct{}
	viscosity             struct{}
	speed                 struct{}
)

func (count) dimension() Dimension                 { return DimCount }
func (mass) dimension() Dimension                  { return DimMass }
func (length) dimension() Dimension                { return DimLength }
func (distance) dimension() Dimension              { return DimDistance }
func (pressure) dimension() Dimension              { return DimPressure }
func (torque) dimension() Dimension                { return DimTorque }
func (volume) dimension() Dimension                { return DimVolume }
func (flowRate) dimension() Dimension              { return DimFlowRate }
func (current) dimension() Dimension               { return DimCurrent }
func (voltage) dimension() Dimension               { return DimVoltage }
func (charge) dimension() Dimension                { return DimCharge }
func (resistance) dimension() Dimension            { return DimResistance }
func (duration) dimension() Dimension              { return DimDuration }
func (angle) dimension() Dimension                 { return DimAngle }
func (percent) dimension() Dimension               { return DimPercent }
func (temperature) dimension() Dimension           { return DimTemperature }
func (temperatureDifference) dimension() Dimension { return DimTemperatureDifference }
func (area) dimension() Dimension                  { return DimArea }
func (density) dimension() Dimension               { return DimDensity }
func (viscosity) dimension() Dimension             { return DimViscosity }
func (speed) dimension() Dimension                 { return DimSpeed }

// Any is a quantity whose dimension is that of the unit it was written in. Quantity is
// not nil after a successful ParseScalar.
type Any struct{ Quantity Quantity }

// ParseScalar parses a number with a unit of any dimension.
func (a *Any) ParseScalar(text string) error {
	for _, read := range []func(string) (Quantity, error){of[mass], of[length], of[distance], of[pressure], of[torque], of[volume], of[flowRate], of[current],
		of[voltage], of[charge], of[resistance], of[duration], of[angle], of[percent], of[temperature], of[temperatureDifference], of[area], of[speed]} {
		q, err := read(text)
		if err == nil {
			a.Quantity = q
			return nil
		}
	}
	var m Mass
	if err := m.ParseScalar(text); !strings.Contains(err.Error(), "does not fit here") {
		return err
	}
	return errors.New("no such unit; expected a number with one, such as 500 lb, 48 in or 12 V")
}

func of[D measure](text string) (Quantity, error) {
	var q Of[D]
	err := q.ParseScalar(text)
	return q, err
}
