package product

import (
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// Shorthands for figures that carry the place where they were written.
type (
	mass     = source.Given[quantity.Mass]
	length   = source.Given[quantity.Length]
	pressure = source.Given[quantity.Pressure]
	torque   = source.Given[quantity.Torque]
	count    = source.Given[int]
	word     = source.Given[string]
	flag     = source.Given[bool]
	current  = source.Given[quantity.Current]
	charge   = source.Given[quantity.Charge]
	percent  = source.Given[quantity.Percent]
	angle    = source.Given[quantity.Angle]
	number   = source.Given[quantity.Count]
)

// Common is what every component has. Optional unless a comment says otherwise.
type Common struct {
	Part     word                 `yaml:"part_number"` // the maker's own, for wear-part lists
	Features []word               `yaml:"features"`    // of the maker's own, that a build gains by having it
	Weight   mass                 `yaml:"weight"`      // of one, where the owner may have to lift it
	Service  source.Map[Interval] `yaml:"service"`     // task id → how often
	Source   word                 `yaml:"source"`      // where the ratings come from; "invented" in the demonstration line
	NoStop   word                 `yaml:"no_stop"`     // why the walk-around need not show what it brings
	NoCare   word                 `yaml:"no_care"`     // why nothing it brings needs care
}

// Interval is how often a task is due: the earliest of those that are set.
type Interval struct {
	Every      source.Given[quantity.Distance] `yaml:"distance"`
	Months     count                           `yaml:"months"`
	Loads      count                           `yaml:"loads"`
	MotorHours count                           `yaml:"motor_hours"`
}

// Axle is one axle with its springs, hubs and brakes.
type Axle struct {
	Common
	Beam        mass       `yaml:"beam,required"`   // rating of the beam
	Spring      mass       `yaml:"spring,required"` // rating of the pair of springs or the torsion element
	Hub         mass       `yaml:"hub,required"`    // rating of the pair of hubs with bearings
	Brake       *Brake     `yaml:"brake"`           // absent on an axle without brakes
	Suspension  word       `yaml:"suspension,required" oneof:"leaf torsion"`
	Bearings    word       `yaml:"bearings,required" oneof:"ported repack sealed"`
	Studs       count      `yaml:"studs,required" oneof:"4 5 6 8 10"` // per hub
	StudSize    word       `yaml:"stud_size,required"`                // thread, such as 1/2-20
	Track       length     `yaml:"track"`                             // hub face to hub face
	HubPlay     *PlayRange `yaml:"end_play"`                          // allowed bearing end play
	UBoltTorque torque     `yaml:"u_bolt_torque"`
}

// PlayRange is the least and greatest end play.
type PlayRange struct {
	Low  length `yaml:"low,required"`
	High length `yaml:"high,required"`
}

// Brake is what acts on the two wheels of one axle.
type Brake struct {
	Kind        word                              `yaml:"kind,required" oneof:"electric"`
	Rating      mass                              `yaml:"rating,required"`       // axle load the pair is rated for
	Magnets     count                             `yaml:"magnets,required"`      // on the axle, both sides together
	Resistance  source.Given[quantity.Resistance] `yaml:"resistance,required"`   // of one magnet, the lowest allowed
	LiningLimit length                            `yaml:"lining_limit,required"` // replace at or below this thickness
	DrumLimit   length                            `yaml:"drum_limit"`            // greatest drum diameter
}

// Tire is one tire as its sidewall states it.
type Tire struct {
	Common
	Size        word                         `yaml:"size,required"`
	LoadRange   word                         `yaml:"load_range,required"`
	Single      mass                         `yaml:"single,required"`        // maximum load, single fitment
	Dual        mass                         `yaml:"dual"`                   // maximum load of one of a dual pair
	Cold        pressure                     `yaml:"cold_pressure,required"` // at that load
	IndexSingle count                        `yaml:"load_index"`             // ISO 4000-1
	IndexDual   count                        `yaml:"load_index_dual"`
	SpeedLimit  source.Given[quantity.Speed] `yaml:"speed_limit"`       // from the speed symbol; 65 mph where there is none
	Diameter    length                       `yaml:"diameter,required"` // overall, loaded close enough for drawings
	Width       length                       `yaml:"width,required"`
	AgeLimit    count                        `yaml:"age_limit_years,required"`
	Kind        word                         `yaml:"kind,required" oneof:"special-trailer light-truck passenger"`
	LeastTread  length                       `yaml:"least_tread,required"`
}

// Wheel is one rim with its nuts.
type Wheel struct {
	Common
	Load     mass     `yaml:"load,required"`
	MaxCold  pressure `yaml:"max_pressure,required"`
	Studs    count    `yaml:"studs,required" oneof:"4 5 6 8 10"`
	StudSize word     `yaml:"stud_size,required"`
	Torque   torque   `yaml:"torque,required"` // final, from the wheel maker; never a default
	Stages   []torque `yaml:"stages,required"` // rising, the last one the final torque
	Socket   length   `yaml:"socket"`          // across flats of the nut
	Material word     `yaml:"material,required" oneof:"steel aluminum"`
	Dual     flag     `yaml:"dual"`  // made for dual fitment
	Width    length   `yaml:"width"` // of the rim, or of the dual pair
}

// Coupler is the part that takes the ball.
type Coupler struct {
	Common
	Kind           word   `yaml:"kind,required" oneof:"ball gooseneck-ball"`
	Ball           length `yaml:"ball,required"` // diameter
	Gross          mass   `yaml:"gross,required"`
	Vertical       mass   `yaml:"vertical,required"`
	BallHeightLow  length `yaml:"ball_height_low,required"` // top of ball above ground with the unit level
	BallHeightHigh length `yaml:"ball_height_high,required"`
	Latch          word   `yaml:"latch,required" oneof:"lever-and-pin collar spring-plunger"`
	Adjustable     flag   `yaml:"adjustable"`
	BoltTorque     torque `yaml:"bolt_torque"` // of the bolts that hold an adjustable one at its height
}

// Chain is the pair of safety chains with what holds them.
type Chain struct {
	Common
	Count    count  `yaml:"count,required"`
	Grade    count  `yaml:"grade,required" oneof:"30 43 70 80 100"`
	Size     word   `yaml:"size,required"`     // such as 3/8 in or 10 mm
	Breaking mass   `yaml:"breaking,required"` // least, of one chain
	Hook     mass   `yaml:"hook_breaking,required"`
	Tab      mass   `yaml:"tab_breaking,required"` // the weld tab or eye on the trailer
	Length   length `yaml:"length"`
}

// Jack is one landing jack, or a pair.
type Jack struct {
	Common
	Kind     word   `yaml:"kind,required" oneof:"top-crank side-crank hydraulic"`
	Count    count  `yaml:"count,required"`
	Lift     mass   `yaml:"lift,required"` // of one
	Static   mass   `yaml:"static"`        // holding only
	DropLeg  flag   `yaml:"drop_leg"`
	Swivel   flag   `yaml:"swivel"`                                             // pulls a pin and swings up along the frame for the road
	Wheel    flag   `yaml:"wheel"`                                              // stands on a wheel, to push the unit by hand
	Raises   word   `yaml:"raises,required" oneof:"clockwise counterclockwise"` // as fitted, seen from the handle
	TwoSpeed flag   `yaml:"two_speed"`
	Travel   length `yaml:"travel"`
}

// Breakaway is the switch, lanyard and battery that put the brakes on when the
// unit comes off the tow vehicle.
type Breakaway struct {
	Common
	Battery      charge `yaml:"battery,required"`       // rated at 20 h
	Peukert      number `yaml:"peukert"`                // the battery maker's exponent; 1.15 is used where there is none
	BatteryYears count  `yaml:"battery_years,required"` // replace after
	TestButton   flag   `yaml:"test_button"`            // a charge indicator on the case
}

// Connector is the plug to the tow vehicle.
type Connector struct {
	Common
	Kind word  `yaml:"kind,required" oneof:"four-flat seven-blade seven-round"`
	Pins []Pin `yaml:"pins,required"`
}

// Pin is one contact: its place on the face, what it does and the usual colour.
type Pin struct {
	Place    word `yaml:"place,required"` // as the standard names it: "1 o'clock", "3"
	Function word `yaml:"function,required" oneof:"ground tail left right brake charge reverse auxiliary stop"`
	Color    word `yaml:"color,required"`
}

// Circuit is one feed: its fuse and its wire.
type Circuit struct {
	Common
	Feeds    word    `yaml:"feeds,required" oneof:"brakes lamps pump winch charger"`
	Fuse     current `yaml:"fuse"`                // absent where the tow vehicle protects the feed
	Gauge    count   `yaml:"wire_gauge,required"` // AWG, aught sizes as 0
	OneWay   length  `yaml:"one_way,required"`    // length of the conductor out; the way back is as long
	Load     current `yaml:"load"`                // drawn in use; for brakes it is derived
	Ampacity current `yaml:"ampacity,required"`   // of the wire as installed, from its maker
}

// Lamps is the set of lamps and reflectors fitted.
type Lamps struct {
	Common
	Kind     word      `yaml:"kind,required" oneof:"led bulb"`
	Fitted   []LampSet `yaml:"fitted,required"`
	TapeSide length    `yaml:"tape_side"` // reflective sheeting, total length on each side
	TapeRear length    `yaml:"tape_rear"`
}

// LampSet is how many lamps or reflectors of one duty are fitted.
type LampSet struct {
	Duty  word  `yaml:"duty,required" oneof:"tail stop turn side-marker-front side-marker-rear side-marker-middle reflex-front reflex-rear-side reflex-rear reflex-middle plate clearance-front clearance-rear identification"`
	Color word  `yaml:"color,required" oneof:"red amber white"`
	Count count `yaml:"count,required"`
}

// Deck is a load floor.
type Deck struct {
	Common
	Fixed        length `yaml:"fixed"`    // length that does not tilt, at the front
	Tilting      length `yaml:"tilting"`  // length that tilts
	Dovetail     length `yaml:"dovetail"` // sloping tail
	DovetailDrop length `yaml:"dovetail_drop"`
	Inside       length `yaml:"inside_width,required"`
	Boards       word   `yaml:"boards" oneof:"treated-pine hardwood steel aluminum"` // what the load stands on
	RailHeight   length `yaml:"rail_height"`
	TiltWeight   mass   `yaml:"tilting_weight"` // empty weight of what tilts, for the lift balance
	TiltCenter   length `yaml:"tilting_center"` // its centre of gravity, x from the coupler
}

// Anchor is one kind of tie-down point.
type Anchor struct {
	Common
	Kind  word  `yaml:"kind,required" oneof:"d-ring stake-pocket rub-rail"`
	Count count `yaml:"count,required"`
	Limit mass  `yaml:"working_load,required"` // of one
}

// Box is a storage box.
type Box struct {
	Common
	Kind      word `yaml:"kind,required" oneof:"front underbody"`
	LoadLimit mass `yaml:"load_limit,required"`
	Lock      word `yaml:"lock"` // key, padlock
}

// WinchPlate is a mounting for a winch.
type WinchPlate struct {
	Common
	Rating mass `yaml:"rating,required"` // pull it and its fixing can take
}

// Winch is an electric winch.
type Winch struct {
	Common
	Pull       mass                            `yaml:"pull,required"` // stall pull on the first layer
	Rope       word                            `yaml:"rope,required" oneof:"wire synthetic"`
	RopeSize   word                            `yaml:"rope_size,required"`
	RopeLength length                          `yaml:"rope_length"`
	Current    current                         `yaml:"current,required"` // at rated pull
	Remote     word                            `yaml:"remote" oneof:"corded radio"`
	DutyOn     source.Given[quantity.Duration] `yaml:"duty_on,required"` // longest pull in one go
	DutyRest   source.Given[quantity.Duration] `yaml:"duty_rest,required"`
}

// Rack is a barrier at the front of the deck.
type Rack struct {
	Common
	Height length `yaml:"height,required"`
}

// Spare is a spare wheel's mount; the tire and wheel are the unit's own.
type Spare struct {
	Common
	Mount   word `yaml:"mount,required"` // tongue, front-wall, under-deck …
	ForDual flag `yaml:"for_dual"`       // carries the wheel of a dual pair
}

// PowerUnit is the electric pump with its valve and reservoir.
type PowerUnit struct {
	Common
	Relief     pressure                         `yaml:"relief,required"` // as set
	Flow       source.Given[quantity.FlowRate]  `yaml:"flow,required"`
	Motor      current                          `yaml:"motor_current,required"` // at relief
	Reservoir  source.Given[quantity.Volume]    `yaml:"reservoir,required"`     // usable
	Grade      count                            `yaml:"fluid_grade,required"`   // ISO 3448 viscosity grade
	FluidIndex count                            `yaml:"fluid_index"`            // viscosity index
	FluidAt100 source.Given[quantity.Viscosity] `yaml:"fluid_at_100c"`          // kinematic viscosity at 100 °C from the fluid's data sheet
	StartLimit source.Given[quantity.Viscosity] `yaml:"start_limit"`            // greatest the pump maker allows at start
	Acting     word                             `yaml:"acting,required" oneof:"single double"`
	Holding    word                             `yaml:"holding_valve,required" oneof:"none pilot-check counterbalance hose-break"`
	Control    word                             `yaml:"control,required" oneof:"corded-pendant radio"`
	Lowering   word                             `yaml:"manual_lowering,required" oneof:"screw lever hand-pump none"`
	Disconnect flag                             `yaml:"master_disconnect,required"`
}

// Cylinder is one kind of hydraulic cylinder with its place in the mechanism.
type Cylinder struct {
	Common
	Count     count    `yaml:"count,required"`
	Bore      length   `yaml:"bore,required"`
	Rod       length   `yaml:"rod,required"`
	Retracted length   `yaml:"retracted,required"` // pin to pin
	Extended  length   `yaml:"extended,required"`
	Rating    pressure `yaml:"rating,required"` // working pressure
	Capacity  mass     `yaml:"capacity"`        // force its maker rates it for, where stated
}

// Cushion slows a gravity deck; it is no lift cylinder.
type Cushion struct {
	Common
	Bore  length `yaml:"bore,required"`
	Valve word   `yaml:"valve,required"` // needle valve setting in words the line's text explains
}

// Hose is the weakest hose or fitting of the circuit.
type Hose struct {
	Common
	Rating  pressure `yaml:"rating,required"`
	Fitting pressure `yaml:"fitting_rating,required"`
	Years   count    `yaml:"replace_years,required"`
}

// Battery is a deep-cycle battery.
type Battery struct {
	Common
	Kind       word   `yaml:"kind,required" oneof:"flooded agm"`
	Capacity   charge `yaml:"capacity,required"` // at the 20 h rate
	Peukert    number `yaml:"peukert"`
	PlanCycles count  `yaml:"plan_cycles,required"` // lifts an owner may plan on from one full charge
	Count      count  `yaml:"count,required"`
}

// Charger is a mains battery charger.
type Charger struct {
	Common
	Output current `yaml:"output,required"`
	Inlet  word    `yaml:"inlet,required"` // such as flush inlet, 120 V
}

// Prop is the bar or leg that holds a raised deck or box.
type Prop struct {
	Common
	Rating    mass  `yaml:"rating,required"`
	Count     count `yaml:"count,required"`
	EmptyOnly flag  `yaml:"empty_only,required"`
	Angle     angle `yaml:"angle"` // how far deck or box is raised when it swings up
}

// Lock is a device that holds a deck down on the road.
type Lock struct {
	Common
	Kind word `yaml:"kind,required" oneof:"clamp latch"`
}

// Support is a stabiliser or rear support leg.
type Support struct {
	Common
	Count  count `yaml:"count,required"`
	Rating mass  `yaml:"rating,required"` // of one
}

// Ramp is a pair of ramps.
type Ramp struct {
	Common
	Length  length `yaml:"length,required"`
	Rating  mass   `yaml:"pair_rating,required"`
	Width   length `yaml:"width"`
	Stow    word   `yaml:"stow,required" oneof:"slide-in stand-up fold-flat"`
	Gate    flag   `yaml:"gate"`    // one ramp across the rear that closes it
	Springs flag   `yaml:"springs"` // help to raise it
}

// DumpBox is a dumping body.
type DumpBox struct {
	Common
	Long   length `yaml:"inside_length,required"`
	Wide   length `yaml:"inside_width,required"`
	Tall   length `yaml:"side_height,required"`
	Empty  mass   `yaml:"empty_weight,required"` // of the body that rises
	Center length `yaml:"center,required"`       // its centre of gravity, x from the coupler
}

// Tarp is a load cover.
type Tarp struct {
	Common
	Kind word `yaml:"kind,required" oneof:"crank pull"`
}

// Gate is the rear closing of a dump box.
type Gate struct {
	Common
	Kind   word          `yaml:"kind,required" oneof:"barn spreader combination"`
	Spread *SpreadLimits `yaml:"spread"` // only where driving while spreading is allowed by the maker
}

// SpreadLimits bounds driving with the box partly raised.
type SpreadLimits struct {
	Angle angle                        `yaml:"angle,required"`
	Speed source.Given[quantity.Speed] `yaml:"speed,required"`
}

// RearGuard is the rear impact guard, or the reason there is none.
type RearGuard struct {
	Common
	Kind    word   `yaml:"kind,required" oneof:"guard wheels-back low-chassis special-purpose"`
	Height  length `yaml:"height"`  // of its lower edge above ground
	Forward length `yaml:"forward"` // of its face ahead of the rear
}

// Plain is a component with nothing but its common entries: chocks, a document
// holder, a hand hold, or whatever else a maker fits.
type Plain struct {
	Common
	Kind  word  `yaml:"kind" oneof:"chocks document-holder hand-hold"` // what the program has texts for
	Count count `yaml:"count"`
}

// Components are all a line offers, by kind. Ids are unique over all kinds.
type Components struct {
	Axles       source.Map[Axle]       `yaml:"axles"`
	Tires       source.Map[Tire]       `yaml:"tires"`
	Wheels      source.Map[Wheel]      `yaml:"wheels"`
	Couplers    source.Map[Coupler]    `yaml:"couplers"`
	Chains      source.Map[Chain]      `yaml:"chains"`
	Jacks       source.Map[Jack]       `yaml:"jacks"`
	Breakaways  source.Map[Breakaway]  `yaml:"breakaways"`
	Connectors  source.Map[Connector]  `yaml:"connectors"`
	Circuits    source.Map[Circuit]    `yaml:"circuits"`
	Lamps       source.Map[Lamps]      `yaml:"lamps"`
	Decks       source.Map[Deck]       `yaml:"decks"`
	Anchors     source.Map[Anchor]     `yaml:"anchors"`
	Boxes       source.Map[Box]        `yaml:"boxes"`
	WinchPlates source.Map[WinchPlate] `yaml:"winch_plates"`
	Winches     source.Map[Winch]      `yaml:"winches"`
	Racks       source.Map[Rack]       `yaml:"racks"`
	Spares      source.Map[Spare]      `yaml:"spares"`
	PowerUnits  source.Map[PowerUnit]  `yaml:"power_units"`
	Cylinders   source.Map[Cylinder]   `yaml:"cylinders"`
	Cushions    source.Map[Cushion]    `yaml:"cushions"`
	Hoses       source.Map[Hose]       `yaml:"hoses"`
	Batteries   source.Map[Battery]    `yaml:"batteries"`
	Chargers    source.Map[Charger]    `yaml:"chargers"`
	Props       source.Map[Prop]       `yaml:"props"`
	Locks       source.Map[Lock]       `yaml:"locks"`
	Supports    source.Map[Support]    `yaml:"supports"`
	Ramps       source.Map[Ramp]       `yaml:"ramps"`
	DumpBoxes   source.Map[DumpBox]    `yaml:"dump_boxes"`
	Tarps       source.Map[Tarp]       `yaml:"tarps"`
	Gates       source.Map[Gate]       `yaml:"gates"`
	RearGuards  source.Map[RearGuard]  `yaml:"rear_guards"`
	Others      source.Map[Plain]      `yaml:"others"`
}
