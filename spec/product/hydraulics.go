package product

import (
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// PowerUnit is the electric pump with its valve and reservoir.
type PowerUnit struct {
	Common
	Relief         pressure                         `yaml:"relief,required" doc:"The pressure at which the relief valve is set."`
	LoweringRelief pressure                         `yaml:"lowering_relief" within:"100 psi to 3,000 psi" doc:"The pressure at which a valve limits the pump on the way down, where there is one."`
	Flow           source.Given[quantity.FlowRate]  `yaml:"flow,required" doc:"The flow of the pump."`
	Motor          current                          `yaml:"motor_current,required" doc:"The current of the motor at relief."`
	Reservoir      source.Given[quantity.Volume]    `yaml:"reservoir,required" doc:"The usable volume of the reservoir."`
	Grade          count                            `yaml:"fluid_grade,required" oneof:"10 15 22 32 46 68 100 150" doc:"The viscosity grade of the fluid, ISO VG (ISO 3448)."`
	FluidIndex     count                            `yaml:"fluid_index" doc:"The viscosity index of the fluid."`
	FluidAt100     source.Given[quantity.Viscosity] `yaml:"fluid_at_100c" doc:"The kinematic viscosity of the fluid at 100 °C, from its data sheet."`
	StartLimit     source.Given[quantity.Viscosity] `yaml:"start_limit" within:"100 mm²/s to 10,000 mm²/s" doc:"The greatest viscosity at which the maker of the pump lets it start."`
	Acting         word                             `yaml:"acting,required" oneof:"single double" doc:"Whether it drives the cylinder one way or both."`
	Holding        word                             `yaml:"holding_valve,required" oneof:"none pilot-check counterbalance hose-break" doc:"What holds the load when a hose bursts. Only pressure opens a pilot check valve or a counterbalance valve; a hose break valve shuts when fluid rushes through it."`
	HoldingSetting pressure                         `yaml:"holding_setting" doc:"The pressure at which a counterbalance valve lets the load down, on its cap."`
	Control        word                             `yaml:"control,required" oneof:"corded-pendant radio" doc:"How it is worked."`
	Lowering       word                             `yaml:"manual_lowering,required" oneof:"screw lever hand-pump none" doc:"How the load comes down without power. A screw or lever opens a valve of the pump, which does nothing behind a holding valve that only pressure opens; a hand pump gives that pressure."`
	Disconnect     flag                             `yaml:"master_disconnect,required" doc:"Whether there is a switch that cuts all power."`
	DutyOn         source.Given[quantity.Duration]  `yaml:"duty_on" within:"10 s to 5 min" doc:"The longest the motor may run in one go. Left out, 3 min."`
}

// Cylinder is one kind of hydraulic cylinder with its place in the mechanism.
type Cylinder struct {
	Common
	Count     count    `yaml:"count,required" doc:"How many there are."`
	Bore      length   `yaml:"bore,required" doc:"The bore."`
	Rod       length   `yaml:"rod,required" doc:"The diameter of the rod."`
	Retracted length   `yaml:"retracted,required" doc:"The length from pin to pin, drawn in."`
	Extended  length   `yaml:"extended,required" doc:"The length from pin to pin, run out."`
	Rating    pressure `yaml:"rating,required" within:"500 psi to 10,000 psi" doc:"The working pressure."`
	Capacity  mass     `yaml:"capacity" doc:"The force it is rated for, where its maker states one."`
}

// Cushion is a damping cylinder of a gravity-tilt deck; it is not a lift cylinder.
type Cushion struct {
	Common
	Bore  length `yaml:"bore,required" within:"1 in to 8 in" doc:"The bore."`
	Valve word   `yaml:"valve,required" doc:"How the needle valve is set, in words."`
}

// Hose is the weakest hose or fitting of the circuit.
type Hose struct {
	Common
	Rating  pressure `yaml:"rating,required" within:"500 psi to 10,000 psi" doc:"The working pressure of the hose."`
	Fitting pressure `yaml:"fitting_rating,required" within:"500 psi to 10,000 psi" doc:"The working pressure of its fittings."`
	Years   count    `yaml:"replace_years,required" doc:"After how many years it is replaced."`
}
