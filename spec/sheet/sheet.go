package sheet

import (
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// Shorthands for entries that carry the place where they were written.
type (
	word  = source.Given[string]
	count = source.Given[int]
	mass  = source.Given[quantity.Mass]
	date  = source.Given[quantity.Date]
)

// CopyName is the name of the copy of a build sheet that stands beside its guide.
const CopyName = "sheet.yaml"

// DefaultLanguage is the language of a guide whose sheet names none.
const DefaultLanguage = "en"

// Sheet is a build sheet: what the plant writes for one serial number.
type Sheet struct {
	File      string   // as the user typed it; "-" for standard input
	Data      []byte   // as read
	Faulty    bool     // a part of it was refused: what then cannot be worked out is no news
	Serial    word     `yaml:"serial,required"`
	VIN       word     `yaml:"vin,required"`
	Model     word     `yaml:"model,required"`
	ModelYear count    `yaml:"model_year,required"`
	Built     date     `yaml:"built,required"`
	Issued    date     `yaml:"issued,required"`   // date of this guide; the program reads no clock
	Delivered date     `yaml:"delivered"`         // service life starts here
	Revision  word     `yaml:"revision,required"` // A–Z without I, O, Q, then AA …
	Language  word     `yaml:"language"`          // en where left out
	Options   []word   `yaml:"options"`
	Added     []Change `yaml:"added"`   // options fitted after delivery
	Removed   []Change `yaml:"removed"` // options taken off after delivery
	Measured  Measured `yaml:"measured"`
	Use       *Use     `yaml:"use"`
	Buyer     *Person  `yaml:"buyer"`
	Dealer    *Person  `yaml:"dealer"`
	Fitted    Fitted   `yaml:"fitted"`
	Notes     word     `yaml:"notes"`
}

// Change is an option fitted or taken off after delivery.
type Change struct {
	Option word `yaml:"option,required"`
	Date   date `yaml:"date,required"`
}

// Measured is what was weighed on the finished unit.
type Measured struct {
	Empty     mass `yaml:"empty_weight"`
	OnCoupler mass `yaml:"tongue_weight"`
}

// Use is what the buyer expects to do; it drives the dated schedule.
type Use struct {
	PerMonth           source.Given[quantity.Distance] `yaml:"distance_per_month,required"`
	LoadsPerWeek       count                           `yaml:"loads_per_week,required"`
	Already            source.Given[quantity.Distance] `yaml:"driven_already"` // by a delivery carrier
	MotorHoursPerMonth count                           `yaml:"motor_hours_per_month"`
}

// Person is a buyer or a dealer.
type Person struct {
	Name   word `yaml:"name,required"`
	Town   word `yaml:"town"`
	Region word `yaml:"region"`
	Phone  word `yaml:"phone"`
	Email  word `yaml:"email"`
}

// Fitted is what was bolted on, for recalls and replacement.
type Fitted struct {
	Axles []FittedPart `yaml:"axles"`
	Tires []FittedTire `yaml:"tires"`
	Parts []FittedPart `yaml:"parts"`
}

// FittedPart is a component with its own serial number.
type FittedPart struct {
	Place  word `yaml:"place,required"`
	Serial word `yaml:"serial,required"`
}

// FittedTire is a tire with its date code.
type FittedTire struct {
	Place word `yaml:"place,required"`
	DOT   word `yaml:"dot,required"` // week and year, four digits; last digits of the full code are accepted
}
