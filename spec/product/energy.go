package product

import (
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

type voltage = source.Given[quantity.Voltage]

// Battery is a deep-cycle battery of 12 V. A lithium battery has four LiFePO4 cells in
// series and a battery management system that disconnects them before they are harmed.
type Battery struct {
	Common
	Kind       word    `yaml:"kind,required" oneof:"flooded agm lifepo4" refused:"lithium-ion gel" doc:"The kind of battery: lead with fluid or sealed, or lithium iron phosphate."`
	Capacity   charge  `yaml:"capacity,required" within:"20 Ah to 500 Ah" doc:"The capacity at the 20-hour rate."`
	Peukert    number  `yaml:"peukert" doc:"The exponent that the maker of the battery gives for high currents."`
	PlanCycles count   `yaml:"plan_cycles,required" doc:"The lifts an owner may plan on from one full charge."`
	Count      count   `yaml:"count,required" doc:"How many there are."`
	ChargeLow  voltage `yaml:"charge_voltage_low" within:"13.8 V to 15 V" doc:"The lowest voltage at which its maker has it filled. Lithium, solar panel and charge line ask for it."`
	ChargeHigh voltage `yaml:"charge_voltage_high" within:"13.8 V to 15 V" doc:"The highest voltage at which its maker has it filled. Lithium, solar panel and charge line ask for it."`
	ChargeMost current `yaml:"charge_current" doc:"The most that one of them may be charged with. Lithium asks for it."`
	GivesMost  current `yaml:"discharge_current" within:"20 A to 600 A" doc:"Lithium: the most that the management circuit of one lets through without cutting off."`
	ColdCutoff flag    `yaml:"cold_cutoff" doc:"Lithium: whether its management circuit stops charging below freezing."`
}

// Charger is a battery charger for house current.
type Charger struct {
	Common
	Output current `yaml:"output,required" within:"1 A to 100 A" doc:"The charging current."`
	Inlet  word    `yaml:"inlet,required" doc:"The kind of inlet: the id of a label enum.ID such as flush-lid, or words that are the same in every language."`
	Suits  word    `yaml:"suits" oneof:"lead lifepo4 both" doc:"The batteries it is made for and set to as fitted. Left out, it is lead."`
	Volts  voltage `yaml:"voltage" within:"13.8 V to 15 V" doc:"The voltage at which it fills the battery, as set."`
}

// Solar is a solar panel with the controller that charges a battery from it.
type Solar struct {
	Common
	Output            current                         `yaml:"output,required" within:"1 A to 100 A" doc:"What it charges with in full sun."`
	ShortCircuit      current                         `yaml:"short_circuit,required" doc:"The short-circuit current on the panel's label; of several side by side, all of it."`
	OpenVoltage       voltage                         `yaml:"open_voltage,required" within:"17 V to 150 V" doc:"The open-circuit voltage on the panel's label; of several in a row, all of it."`
	ControllerCurrent current                         `yaml:"controller_current,required" doc:"The panel current that the controller is rated for."`
	ControllerVoltage voltage                         `yaml:"controller_voltage,required" doc:"The panel voltage that the controller is rated for."`
	Suits             word                            `yaml:"suits,required" oneof:"lead lifepo4 both" doc:"The batteries that the controller is made for."`
	Volts             voltage                         `yaml:"voltage,required" within:"13.8 V to 15 V" doc:"The voltage at which it fills the battery, as set."`
	SunSummer         source.Given[quantity.Duration] `yaml:"sun_hours,required" within:"30 min to 480 min" doc:"Hours of full sun on a summer day that you reckon with, as the panel lies."`
	SunWinter         source.Given[quantity.Duration] `yaml:"sun_hours_winter,required" within:"30 min to 480 min" doc:"The same on a winter day."`
}

// ChargeLine charges the battery from the tow vehicle through the charge contact of the
// plug, by a relay that connects the two or by a DC-DC converter.
type ChargeLine struct {
	Common
	Kind   word    `yaml:"kind,required" oneof:"relay dc-dc" doc:"A relay, or a converter from direct current to direct current."`
	Input  current `yaml:"input,required" doc:"The most it draws from the tow vehicle."`
	Output current `yaml:"output,required" within:"1 A to 100 A" doc:"The most it charges with."`
	Suits  word    `yaml:"suits,required" oneof:"lead lifepo4 both" doc:"The batteries it is made for."`
	Volts  voltage `yaml:"voltage" within:"13.8 V to 15 V" doc:"Converter: the voltage at which it fills the battery, as set."`
}
