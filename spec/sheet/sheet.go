package sheet

import (
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// Shorthands for entries with their positions.
type (
	word  = source.Given[string]
	count = source.Given[int]
	mass  = source.Given[quantity.Mass]
	date  = source.Given[quantity.Date]
)

// CopyName is the name of the copy of a build sheet in the folder of its guide.
const CopyName = "sheet.yaml"

// Sheet is a build sheet.
type Sheet struct {
	File      string   // as the user typed it; "-" for standard input
	Data      []byte   // as read
	Faulty    bool     // a part of it was refused: values that then cannot be calculated are not reported again
	Serial    word     `yaml:"serial,required" doc:"The unit's serial number, unique. It names the folder of its guide, so it is made of letters, digits, hyphens, underscores and dots."`
	VIN       word     `yaml:"vin,required" doc:"The vehicle identification number, 17 characters, as on the certification label."`
	Model     word     `yaml:"model,required" doc:"The model's id, as the product line lists it."`
	ModelYear count    `yaml:"model_year,required" doc:"The model year in the vehicle identification number, four digits."`
	Built     date     `yaml:"built,required" doc:"The day the unit was finished, such as 2027-03-02."`
	Issued    date     `yaml:"issued,required" doc:"The date of this guide, such as 2027-03-05. It is printed on the cover; the program never looks at the clock."`
	Delivered date     `yaml:"delivered" doc:"The day the buyer took the unit over. Together with use it gives the service schedule its dates."`
	Revision  word     `yaml:"revision,required" doc:"A for the first guide of a unit, then B, C and so on without I, O and Q."`
	Language  word     `yaml:"language" doc:"The language of the guide, such as en. English where it is left out."`
	Units     word     `yaml:"units" oneof:"us metric" doc:"Which units this owner reads first, us or metric. Left out, it is the maker's choice."`
	Options   []word   `yaml:"options" doc:"The options the unit was built with. Write [] where there are none."`
	Added     []Change `yaml:"added" doc:"Options fitted after delivery, each with its date."`
	Removed   []Change `yaml:"removed" doc:"Options taken off after delivery, each with its date."`
	Measured  Measured `yaml:"measured" doc:"What was weighed on the finished unit. Weights left out are worked out and marked as calculated."`
	Placard   mass     `yaml:"placard_cargo" doc:"The greatest weight of cargo printed on the unit's tire and loading label. The guide never allows more."`
	Use       *Use     `yaml:"use" doc:"What the buyer expects to do with the unit. Without it the service schedule has intervals and no dates."`
	Buyer     *Person  `yaml:"buyer" doc:"Who buys the unit."`
	Dealer    *Person  `yaml:"dealer" doc:"Who sells the unit, and whom the owner calls first."`
	Fitted    Fitted   `yaml:"fitted" doc:"Serial numbers and date codes of what was bolted on, for recalls and replacement."`
	Notes     word     `yaml:"notes" doc:"Anything else to print in this guide, in the owner's language. It may have several lines."`
}

// Change is an option added or removed after delivery.
type Change struct {
	Option word `yaml:"option,required" doc:"The option's id."`
	Date   date `yaml:"date,required" doc:"The day it was done, such as 2027-06-30."`
}

// Measured is the weights measured on the finished unit.
type Measured struct {
	Empty     mass `yaml:"empty_weight" doc:"The weight of the whole unit without load."`
	OnCoupler mass `yaml:"tongue_weight" doc:"The weight on the coupler, without load."`
}

// Use is what the buyer expects to do; the dated schedule depends on it.
type Use struct {
	PerMonth           source.Given[quantity.Distance] `yaml:"distance_per_month,required" doc:"How far the unit is towed in a month."`
	LoadsPerWeek       count                           `yaml:"loads_per_week,required" doc:"How many loads it carries in a week, as a whole number."`
	Already            source.Given[quantity.Distance] `yaml:"driven_already" doc:"How far a carrier towed it to the buyer."`
	MotorHoursPerMonth count                           `yaml:"motor_hours_per_month" doc:"How long the pump motor runs in a month, in whole hours."`
}

// Person is a buyer or a dealer.
type Person struct {
	Name   word `yaml:"name,required" doc:"The name of the person or company."`
	Town   word `yaml:"town" doc:"The town."`
	Region word `yaml:"region" doc:"The state, province or country."`
	Phone  word `yaml:"phone" doc:"The phone number."`
	Email  word `yaml:"email" doc:"One mail address."`
}

// Fitted is the serial-numbered parts of the unit, for recalls and replacement.
type Fitted struct {
	Axles []FittedPart `yaml:"axles" doc:"Each axle with its serial number."`
	Tires []FittedTire `yaml:"tires" doc:"Each tire with its date code, spare included."`
	Parts []FittedPart `yaml:"parts" doc:"Other parts with serial numbers of their own."`
}

// FittedPart is a component with its own serial number.
type FittedPart struct {
	Place  word `yaml:"place,required" doc:"Where it is fitted. Axles are single, or front and rear, or front, middle and rear; parts are named as under parts in the model's file."`
	Serial word `yaml:"serial,required" doc:"The serial number on the part."`
}

// FittedTire is a tire with its date code.
type FittedTire struct {
	Place word `yaml:"place,required" doc:"Where it runs, such as left front, right rear outer or spare. On a single axle it is left or right."`
	DOT   word `yaml:"dot,required" doc:"The date code on the sidewall, week and year in four digits, such as 3426 for week 34 of 2026. The whole code will do."`
}
