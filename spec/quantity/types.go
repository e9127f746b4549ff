package quantity

// Quantity is any of the types below, for code that prints or lists them.
type Quantity interface {
	// Dimension tells what is measured.
	Dimension() Dimension
	// Base gives the number in the base unit of the type.
	Base() float64
}

// Count counts things; it has no unit.
type Count float64

// Dimension implements [Quantity].
func (Count) Dimension() Dimension { return Number }

// Base gives the number.
func (q Count) Base() float64 { return float64(q) }

// ParseScalar reads a number with its unit; the error names the units that are allowed.
func (q *Count) ParseScalar(text string) error { return parseInto(text, Number, (*float64)(q)) }

// Mass is a weight, or a force as the trade states it, in pounds.
type Mass float64

// Dimension implements [Quantity].
func (Mass) Dimension() Dimension { return Weight }

// Base gives the number in lb.
func (q Mass) Base() float64 { return float64(q) }

// ParseScalar reads a number with its unit; the error names the units that are allowed.
func (q *Mass) ParseScalar(text string) error { return parseInto(text, Weight, (*float64)(q)) }

// Pounds makes a Mass from a number in lb.
func Pounds(x float64) Mass { return Mass(x) }

// Length is in inches.
type Length float64

// Dimension implements [Quantity].
func (Length) Dimension() Dimension { return Long }

// Base gives the number in in.
func (q Length) Base() float64 { return float64(q) }

// ParseScalar reads a number with its unit; the error names the units that are allowed.
func (q *Length) ParseScalar(text string) error { return parseInto(text, Long, (*float64)(q)) }

// Inches makes a Length from a number in in.
func Inches(x float64) Length { return Length(x) }

// Distance is a distance on the road, in miles.
type Distance float64

// Dimension implements [Quantity].
func (Distance) Dimension() Dimension { return Road }

// Base gives the number in mi.
func (q Distance) Base() float64 { return float64(q) }

// ParseScalar reads a number with its unit; the error names the units that are allowed.
func (q *Distance) ParseScalar(text string) error { return parseInto(text, Road, (*float64)(q)) }

// Miles makes a Distance from a number in mi.
func Miles(x float64) Distance { return Distance(x) }

// Pressure is in pounds per square inch.
type Pressure float64

// Dimension implements [Quantity].
func (Pressure) Dimension() Dimension { return Force2Area }

// Base gives the number in psi.
func (q Pressure) Base() float64 { return float64(q) }

// ParseScalar reads a number with its unit; the error names the units that are allowed.
func (q *Pressure) ParseScalar(text string) error { return parseInto(text, Force2Area, (*float64)(q)) }

// PSI makes a Pressure from a number in psi.
func PSI(x float64) Pressure { return Pressure(x) }

// Torque is in pound-feet.
type Torque float64

// Dimension implements [Quantity].
func (Torque) Dimension() Dimension { return Twist }

// Base gives the number in lb-ft.
func (q Torque) Base() float64 { return float64(q) }

// ParseScalar reads a number with its unit; the error names the units that are allowed.
func (q *Torque) ParseScalar(text string) error { return parseInto(text, Twist, (*float64)(q)) }

// PoundFeet makes a Torque from a number in lb-ft.
func PoundFeet(x float64) Torque { return Torque(x) }

// Volume is in US gallons.
type Volume float64

// Dimension implements [Quantity].
func (Volume) Dimension() Dimension { return Space }

// Base gives the number in gal.
func (q Volume) Base() float64 { return float64(q) }

// ParseScalar reads a number with its unit; the error names the units that are allowed.
func (q *Volume) ParseScalar(text string) error { return parseInto(text, Space, (*float64)(q)) }

// Gallons makes a Volume from a number in gal.
func Gallons(x float64) Volume { return Volume(x) }

// FlowRate is in US gallons a minute.
type FlowRate float64

// Dimension implements [Quantity].
func (FlowRate) Dimension() Dimension { return Flow }

// Base gives the number in gpm.
func (q FlowRate) Base() float64 { return float64(q) }

// ParseScalar reads a number with its unit; the error names the units that are allowed.
func (q *FlowRate) ParseScalar(text string) error { return parseInto(text, Flow, (*float64)(q)) }

// GallonsPerMinute makes a FlowRate from a number in gpm.
func GallonsPerMinute(x float64) FlowRate { return FlowRate(x) }

// Current is in amperes.
type Current float64

// Dimension implements [Quantity].
func (Current) Dimension() Dimension { return Ampere }

// Base gives the number in A.
func (q Current) Base() float64 { return float64(q) }

// ParseScalar reads a number with its unit; the error names the units that are allowed.
func (q *Current) ParseScalar(text string) error { return parseInto(text, Ampere, (*float64)(q)) }

// Amperes makes a Current from a number in A.
func Amperes(x float64) Current { return Current(x) }

// Voltage is in volts.
type Voltage float64

// Dimension implements [Quantity].
func (Voltage) Dimension() Dimension { return Volt }

// Base gives the number in V.
func (q Voltage) Base() float64 { return float64(q) }

// ParseScalar reads a number with its unit; the error names the units that are allowed.
func (q *Voltage) ParseScalar(text string) error { return parseInto(text, Volt, (*float64)(q)) }

// Volts makes a Voltage from a number in V.
func Volts(x float64) Voltage { return Voltage(x) }

// Charge is in ampere-hours.
type Charge float64

// Dimension implements [Quantity].
func (Charge) Dimension() Dimension { return AmpereHour }

// Base gives the number in Ah.
func (q Charge) Base() float64 { return float64(q) }

// ParseScalar reads a number with its unit; the error names the units that are allowed.
func (q *Charge) ParseScalar(text string) error { return parseInto(text, AmpereHour, (*float64)(q)) }

// AmpereHours makes a Charge from a number in Ah.
func AmpereHours(x float64) Charge { return Charge(x) }

// Resistance is in ohms.
type Resistance float64

// Dimension implements [Quantity].
func (Resistance) Dimension() Dimension { return Ohm }

// Base gives the number in ohm.
func (q Resistance) Base() float64 { return float64(q) }

// ParseScalar reads a number with its unit; the error names the units that are allowed.
func (q *Resistance) ParseScalar(text string) error { return parseInto(text, Ohm, (*float64)(q)) }

// Ohms makes a Resistance from a number in ohm.
func Ohms(x float64) Resistance { return Resistance(x) }

// Duration is in minutes.
type Duration float64

// Dimension implements [Quantity].
func (Duration) Dimension() Dimension { return Time }

// Base gives the number in min.
func (q Duration) Base() float64 { return float64(q) }

// ParseScalar reads a number with its unit; the error names the units that are allowed.
func (q *Duration) ParseScalar(text string) error { return parseInto(text, Time, (*float64)(q)) }

// Minutes makes a Duration from a number in min.
func Minutes(x float64) Duration { return Duration(x) }

// Angle is in degrees.
type Angle float64

// Dimension implements [Quantity].
func (Angle) Dimension() Dimension { return Turn }

// Base gives the number in deg.
func (q Angle) Base() float64 { return float64(q) }

// ParseScalar reads a number with its unit; the error names the units that are allowed.
func (q *Angle) ParseScalar(text string) error { return parseInto(text, Turn, (*float64)(q)) }

// Degrees makes a Angle from a number in deg.
func Degrees(x float64) Angle { return Angle(x) }

// Percent is a share of a whole, in percent.
type Percent float64

// Dimension implements [Quantity].
func (Percent) Dimension() Dimension { return Share }

// Base gives the number in percent.
func (q Percent) Base() float64 { return float64(q) }

// ParseScalar reads a number with its unit; the error names the units that are allowed.
func (q *Percent) ParseScalar(text string) error { return parseInto(text, Share, (*float64)(q)) }

// Temperature is in degrees Fahrenheit.
type Temperature float64

// Dimension implements [Quantity].
func (Temperature) Dimension() Dimension { return Heat }

// Base gives the number in °F.
func (q Temperature) Base() float64 { return float64(q) }

// ParseScalar reads a number with its unit; the error names the units that are allowed.
func (q *Temperature) ParseScalar(text string) error { return parseInto(text, Heat, (*float64)(q)) }

// Fahrenheit makes a Temperature from a number in °F.
func Fahrenheit(x float64) Temperature { return Temperature(x) }

// Area is in square inches.
type Area float64

// Dimension implements [Quantity].
func (Area) Dimension() Dimension { return Surface }

// Base gives the number in in².
func (q Area) Base() float64 { return float64(q) }

// ParseScalar reads a number with its unit; the error names the units that are allowed.
func (q *Area) ParseScalar(text string) error { return parseInto(text, Surface, (*float64)(q)) }

// SquareInches makes a Area from a number in in².
func SquareInches(x float64) Area { return Area(x) }

// Density is in pounds per cubic foot.
type Density float64

// Dimension implements [Quantity].
func (Density) Dimension() Dimension { return Packing }

// Base gives the number in lb/ft³.
func (q Density) Base() float64 { return float64(q) }

// ParseScalar reads a number with its unit; the error names the units that are allowed.
func (q *Density) ParseScalar(text string) error { return parseInto(text, Packing, (*float64)(q)) }

// PoundsPerCubicFoot makes a Density from a number in lb/ft³.
func PoundsPerCubicFoot(x float64) Density { return Density(x) }

// Viscosity is kinematic, in square millimetres a second.
type Viscosity float64

// Dimension implements [Quantity].
func (Viscosity) Dimension() Dimension { return Thickness }

// Base gives the number in mm²/s.
func (q Viscosity) Base() float64 { return float64(q) }

// ParseScalar reads a number with its unit; the error names the units that are allowed.
func (q *Viscosity) ParseScalar(text string) error { return parseInto(text, Thickness, (*float64)(q)) }

// SquareMillimetresPerSecond makes a Viscosity from a number in mm²/s.
func SquareMillimetresPerSecond(x float64) Viscosity { return Viscosity(x) }

// Speed is in miles per hour.
type Speed float64

// Dimension implements [Quantity].
func (Speed) Dimension() Dimension { return Pace }

// Base gives the number in mph.
func (q Speed) Base() float64 { return float64(q) }

// ParseScalar reads a number with its unit; the error names the units that are allowed.
func (q *Speed) ParseScalar(text string) error { return parseInto(text, Pace, (*float64)(q)) }

// MilesPerHour makes a Speed from a number in mph.
func MilesPerHour(x float64) Speed { return Speed(x) }
