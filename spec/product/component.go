package product

import (
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// Shorthands for figures with their positions.
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

// Common is the entries that every component has. They are optional unless a comment says otherwise.
type Common struct {
	Extension
	Part     word                 `yaml:"part_number" doc:"Your part number, for lists of wear parts."`
	Features []word               `yaml:"features" doc:"Features of your own that a unit gains by having it. What follows from its kind and figures is not written."`
	Weight   mass                 `yaml:"weight" doc:"What one weighs, where an owner may have to lift it."`
	Service  source.Map[Interval] `yaml:"service" doc:"How often each task is due, by the task's id."`
	Source   word                 `yaml:"source" doc:"Where its ratings come from."`
	NoStop   word                 `yaml:"no_stop" doc:"Why the walk-around need not show what it brings."`
	NoCare   word                 `yaml:"no_care" doc:"Why nothing it brings needs care."`
}

// Interval is how often a task is due: whichever of the entries set comes first.
type Interval struct {
	Every      source.Given[quantity.Distance] `yaml:"distance" doc:"Due after this distance."`
	Months     count                           `yaml:"months" doc:"Due after this many months."`
	Loads      count                           `yaml:"loads" doc:"Due after this many loads."`
	MotorHours count                           `yaml:"motor_hours" doc:"Due after this many hours of the pump motor."`
}

// Axle is one axle with its springs, hubs and brakes.
type Axle struct {
	Common
	Beam        mass       `yaml:"beam,required" doc:"The rating of the beam."`
	Spring      mass       `yaml:"spring,required" doc:"The rating of the pair of springs, or of the torsion element."`
	Hub         mass       `yaml:"hub,required" doc:"The rating of the pair of hubs with their bearings."`
	Brake       *Brake     `yaml:"brake" doc:"The brakes of this axle. Leave it out on an axle without brakes."`
	Suspension  word       `yaml:"suspension,required" oneof:"leaf torsion" refused:"air walking-beam coil" doc:"Leaf springs or torsion."`
	Alone       flag       `yaml:"no_equalizer" doc:"Leaf springs that hang by themselves: no equalizer joins them to those of the next axle."`
	Bearings    word       `yaml:"bearings,required" oneof:"ported repack sealed oil-bath" doc:"How the wheel bearings are lubricated."`
	HubOil      word       `yaml:"hub_oil" doc:"Of oil-bath hubs: the grade of the oil, such as SAE 90."`
	Studs       count      `yaml:"studs,required" oneof:"4 5 6 8 10" doc:"Studs on each hub."`
	StudSize    word       `yaml:"stud_size,required" doc:"The thread, such as 1/2-20."`
	Track       length     `yaml:"track" within:"40 in to 100 in" doc:"From hub face to hub face."`
	HubPlay     *PlayRange `yaml:"end_play" doc:"The end play allowed in the bearings."`
	UBoltTorque torque     `yaml:"u_bolt_torque" within:"25 lb-ft to 300 lb-ft" doc:"The torque of the nuts on the U-bolts."`
}

// PlayRange is the least and greatest end play.
type PlayRange struct {
	Low  length `yaml:"low,required" doc:"The least."`
	High length `yaml:"high,required" within:"0.0005 in to 0.02 in" doc:"The greatest."`
}

// Brake is the pair of brakes of one axle. Electric brakes have magnets, which pull the
// shoes against a drum; hydraulic ones have a cylinder in each wheel, operated by the
// fluid of an [Actuator].
type Brake struct {
	Kind           word                              `yaml:"kind,required" oneof:"electric hydraulic" refused:"air vacuum mechanical" doc:"What works the brakes."`
	Form           word                              `yaml:"form" oneof:"drum disc" doc:"Drums with shoes or rotors with pads. Left out on electric brakes, it is drum."`
	Rating         mass                              `yaml:"rating,required" doc:"The axle load the pair is rated for."`
	Magnets        count                             `yaml:"magnets" doc:"Electric brakes: magnets on the axle, both sides together."`
	Resistance     source.Given[quantity.Resistance] `yaml:"resistance" within:"2.4 ohm to 5 ohm" doc:"Electric brakes: the lowest resistance allowed of one magnet."`
	ResistanceHigh source.Given[quantity.Resistance] `yaml:"resistance_high" within:"2.4 ohm to 5 ohm" doc:"Electric brakes: the highest resistance of a sound magnet."`
	LiningLimit    length                            `yaml:"lining_limit,required" within:"0.03 in to 0.5 in" doc:"The thickness at which linings or pads are replaced."`
	DrumLimit      length                            `yaml:"drum_limit" within:"6.5 in to 17 in" doc:"The greatest diameter of the drum."`
	RotorLimit     length                            `yaml:"rotor_limit" within:"0.2 in to 1.7 in" doc:"Disc brakes: the least thickness of the rotor."`
	FreeBacking    flag                              `yaml:"free_backing" doc:"Whether hydraulic drums let go when the wheel turns backward."`
}

// Disc reports whether pads grip a rotor; otherwise shoes press on a drum.
func (b *Brake) Disc() bool { return b.Form.Value == "disc" }

// Actuator provides the pressure of hydraulic brakes: from the push of the trailer on its
// coupler, or from an electric pump controlled by the brake controller of the tow
// vehicle. A surge actuator is part of the coupler and has a breakaway lever of its own.
type Actuator struct {
	Common
	Kind       word     `yaml:"kind,required" oneof:"surge electric-over-hydraulic" doc:"What makes the pressure: the push of the trailer, or an electric pump."`
	Form       word     `yaml:"brakes,required" oneof:"drum disc" doc:"The brakes its pressure and valve are made for."`
	Pressure   pressure `yaml:"pressure,required" within:"400 psi to 3,000 psi" doc:"The greatest pressure it gives."`
	Fluid      word     `yaml:"fluid,required" oneof:"dot-3 dot-4 dot-5.1" doc:"The brake fluid it takes."`
	Gross      mass     `yaml:"gross" within:"1,000 lb to 20,000 lb" doc:"Surge: the trailer weight it is rated for."`
	Vertical   mass     `yaml:"vertical" doc:"Surge: the weight on the coupler it is rated for."`
	LeastShare percent  `yaml:"coupler_share_low" doc:"Surge: the least share of the loaded weight that its maker wants on the coupler."`
	Travel     length   `yaml:"travel" within:"0.3 in to 4 in" doc:"Surge: how far its slide may move back before the brakes are adjusted or bled."`
	Reverse    word     `yaml:"reverse" oneof:"solenoid pin free-backing" doc:"Surge: what keeps the brakes off while backing."`
	Valve      current  `yaml:"reverse_current" doc:"Surge with a solenoid: what its valve draws from the reverse lamps."`
	Current    current  `yaml:"current" doc:"Electric-over-hydraulic: the most its pump draws."`
	Holding    current  `yaml:"holding_current" doc:"Electric-over-hydraulic: what it draws on average while the breakaway switch holds the brakes."`
}

// Tire is a tire, with the data on its sidewall.
type Tire struct {
	Common
	Size        word                         `yaml:"size,required" doc:"The size on the sidewall."`
	LoadRange   word                         `yaml:"load_range,required" doc:"The load range on the sidewall."`
	Single      mass                         `yaml:"single,required" doc:"The maximum load of a single tire."`
	Dual        mass                         `yaml:"dual" doc:"The maximum load of one tire of a dual pair."`
	Cold        pressure                     `yaml:"cold_pressure,required" within:"15 psi to 160 psi" doc:"The cold pressure at that load."`
	IndexSingle count                        `yaml:"load_index" doc:"The load index for single fitment, as in ISO 4000-1."`
	IndexDual   count                        `yaml:"load_index_dual" doc:"The load index for dual fitment, as in ISO 4000-1."`
	SpeedLimit  source.Given[quantity.Speed] `yaml:"speed_limit" within:"45 mph to 100 mph" doc:"The speed of the speed symbol. Left out, it is 65 mph."`
	Diameter    length                       `yaml:"diameter,required" doc:"The overall diameter."`
	Width       length                       `yaml:"width,required" doc:"The overall width."`
	AgeLimit    count                        `yaml:"age_limit_years,required" doc:"After how many years it is replaced whatever its tread."`
	Kind        word                         `yaml:"kind,required" oneof:"special-trailer light-truck passenger" doc:"What the tire is made for."`
	LeastTread  length                       `yaml:"least_tread,required" within:"0.03 in to 0.1875 in" doc:"The tread depth at which it is replaced."`
}

// Wheel is one rim with its nuts.
type Wheel struct {
	Common
	Load     mass     `yaml:"load,required" doc:"The load it is rated for."`
	MaxCold  pressure `yaml:"max_pressure,required" within:"15 psi to 160 psi" doc:"The highest cold pressure it is rated for."`
	Studs    count    `yaml:"studs,required" oneof:"4 5 6 8 10" doc:"Stud holes."`
	StudSize word     `yaml:"stud_size,required" doc:"The thread of its nuts, such as 1/2-20."`
	Torque   torque   `yaml:"torque,required" within:"30 lb-ft to 650 lb-ft" doc:"The final torque of the nuts, from the maker of the wheel. There is no usual figure to take instead."`
	Stages   []torque `yaml:"stages,required" doc:"The torques of each turn of tightening, rising, with the final torque last."`
	Socket   length   `yaml:"socket" within:"0.6 in to 1.4 in" doc:"The socket that fits the nuts, across flats."`
	Material word     `yaml:"material,required" oneof:"steel aluminum" doc:"What it is made of."`
	Dual     flag     `yaml:"dual" doc:"Whether it is made for dual fitment."`
	Ring     flag     `yaml:"clamping_ring" doc:"Whether its nuts press on a clamping ring that holds the pair, not on the wheel."`
	Width    length   `yaml:"width" doc:"The width of the rim, or of the dual pair."`
	Rim      length   `yaml:"rim" doc:"The diameter of the rim that the tire sits on, such as 16 in."`
}

// Coupler is the front end of the trailer: a socket that closes over a ball of the tow
// vehicle, a ring for its pintle hook, or a plate with a kingpin for the jaws of a fifth
// wheel. The latch of a pintle hook and the jaws are part of the tow vehicle.
type Coupler struct {
	Common
	Kind           word   `yaml:"kind,required" oneof:"ball gooseneck-ball pintle-ring kingpin" refused:"fifth-wheel drawbar" doc:"What it couples to: a ball, a ball in a truck bed, a pintle hook, or, with a kingpin, a fifth wheel."`
	Ball           length `yaml:"ball" doc:"Of a coupler for a ball: the diameter of the ball."`
	Gross          mass   `yaml:"gross,required" doc:"The trailer weight it is rated for."`
	Vertical       mass   `yaml:"vertical,required" doc:"The weight on it that it is rated for."`
	BallHeightLow  length `yaml:"ball_height_low" doc:"Of a coupler for a ball: the lowest height of the top of the ball with the unit level."`
	BallHeightHigh length `yaml:"ball_height_high" doc:"Of a coupler for a ball: the greatest height of the top of the ball with the unit level."`
	Latch          word   `yaml:"latch" oneof:"lever-and-pin collar spring-plunger" doc:"Of a coupler for a ball: how it closes."`
	Ring           length `yaml:"ring" doc:"Of a pintle ring: its inside diameter."`
	RingSection    length `yaml:"ring_section" within:"1 in to 1.75 in" doc:"Of a pintle ring: how thick its metal is when new."`
	RingHeightLow  length `yaml:"ring_height_low" within:"14 in to 40 in" doc:"Of a pintle ring: the lowest height of its middle with the unit level."`
	RingHeightHigh length `yaml:"ring_height_high" within:"14 in to 40 in" doc:"Of a pintle ring: the greatest height of its middle with the unit level."`
	Pin            length `yaml:"kingpin" doc:"Of a kingpin: its diameter when new."`
	PlateLow       length `yaml:"plate_height_low" within:"34 in to 60 in" doc:"Of a kingpin: the lowest height of the underside of its plate with the unit level."`
	PlateHigh      length `yaml:"plate_height_high" within:"34 in to 60 in" doc:"Of a kingpin: the greatest height of the underside of its plate with the unit level."`
	Adjustable     flag   `yaml:"adjustable" doc:"Whether its height can be set."`
	BoltTorque     torque `yaml:"bolt_torque" within:"60 lb-ft to 650 lb-ft" doc:"The torque of the bolts that hold it at its height."`
	ScrewTorque    torque `yaml:"set_screw_torque" within:"20 lb-ft to 250 lb-ft" doc:"Of a gooseneck: the torque of the set screws that keep the inner tube from moving."`
}

// Pintle reports whether it is a ring for a pintle hook.
func (c *Coupler) Pintle() bool { return c.Kind.Value == "pintle-ring" }

// Kingpin reports whether it is a kingpin for a fifth wheel.
func (c *Coupler) Kingpin() bool { return c.Kind.Value == "kingpin" }

// TakesBall reports whether it closes over a ball.
func (c *Coupler) TakesBall() bool { return !c.Pintle() && !c.Kingpin() }

// Chain is the pair of safety chains with their attachments.
type Chain struct {
	Common
	Count    count  `yaml:"count,required" doc:"How many chains."`
	Grade    count  `yaml:"grade,required" oneof:"30 43 70 80 100" doc:"The grade of the chain."`
	Size     word   `yaml:"size,required" doc:"The size, such as 3/8 in or 10 mm."`
	Breaking mass   `yaml:"breaking,required" doc:"The least breaking force of one chain."`
	Hook     mass   `yaml:"hook_breaking,required" doc:"The breaking force of the hook."`
	Tab      mass   `yaml:"tab_breaking,required" doc:"The breaking force of the tab or eye on the trailer."`
	Length   length `yaml:"length" within:"18 in to 150 in" doc:"The length of one chain."`
}

// Jack is a landing jack, or a pair, with its motor or power unit if it has one. Jacks
// that steady the tail are supports.
type Jack struct {
	Common
	Kind     word    `yaml:"kind,required" oneof:"top-crank side-crank electric hydraulic" doc:"How it is worked: by a handle, by a motor, or by a power unit of its own."`
	Count    count   `yaml:"count,required" doc:"How many jacks."`
	Apart    flag    `yaml:"apart" doc:"Of two with handles: whether each has a handle of its own. Else one handle turns both."`
	Lift     mass    `yaml:"lift,required" doc:"What one can lift."`
	Static   mass    `yaml:"static" doc:"What one can hold without lifting."`
	DropLeg  flag    `yaml:"drop_leg" doc:"Whether it has a drop leg."`
	Swivel   flag    `yaml:"swivel" doc:"Whether it swings up along the frame for the road, on a pin."`
	Wheel    flag    `yaml:"wheel" doc:"Whether it stands on a wheel, to push the unit by hand."`
	Raises   word    `yaml:"raises" oneof:"clockwise counterclockwise" doc:"With a handle: which way it turns to raise the unit, as fitted, seen from the handle."`
	Current  current `yaml:"current" doc:"Electric and hydraulic: the most its motor draws."`
	Fluid    word    `yaml:"fluid" doc:"Hydraulic: the fluid that the maker of its power unit names, such as ISO VG 32."`
	TwoSpeed flag    `yaml:"two_speed" doc:"Whether it has two speeds."`
	Travel   length  `yaml:"travel" within:"5 in to 60 in" doc:"How far it moves."`
}

// Breakaway is the switch, lanyard and battery that apply the brakes if the unit comes
// off the tow vehicle.
type Breakaway struct {
	Common
	Battery      charge `yaml:"battery,required" within:"2 Ah to 40 Ah" doc:"The capacity of its battery at the 20-hour rate."`
	Peukert      number `yaml:"peukert" doc:"The exponent that the maker of the battery gives for high currents. Left out, it is 1.15."`
	BatteryYears count  `yaml:"battery_years,required" doc:"After how many years its battery is replaced."`
	TestButton   flag   `yaml:"test_button" doc:"Whether the case has a button that shows the charge."`
}

// Connector is the plug to the tow vehicle.
type Connector struct {
	Common
	Kind word    `yaml:"kind,required" oneof:"four-flat four-round five-flat five-round six-round seven-blade seven-round" refused:"six-square seven-pin thirteen-pin" doc:"The kind of plug. A seven-round is that of heavy trucks (SAE J560)."`
	Feed current `yaml:"feed_rating" within:"1 A to 60 A" doc:"What each contact for ground, brakes, charge and auxiliary is rated for. Without it, they count as contacts for lamps."`
	Lamp current `yaml:"lamp_rating" within:"1 A to 40 A" doc:"What each other contact is rated for. Without it, they carry 7.5 A."`
	Pins []Pin   `yaml:"pins,required" doc:"The contacts."`
}

// Pin is one contact: its place on the face, its function and the usual color.
type Pin struct {
	Place    word `yaml:"place,required" doc:"Where it is on the face, as the standard names it: of a round plug, the mark moulded beside it."`
	Function word `yaml:"function,required" oneof:"ground tail left right brake charge reverse auxiliary markers left-turn stop right-turn tail-plate" doc:"What it does. The last five are the contacts of a seven-round plug, which feed turn signals and stop lamps, markers and tail lamps apart."`
	Color    word `yaml:"color,required" doc:"The usual color of its wire."`
}

// Circuit is an electrical feed with its fuse and wire.
type Circuit struct {
	Common
	Feeds    word    `yaml:"feeds,required" oneof:"brakes lamps reverse pump winch jack charger solar charge-line" doc:"What it feeds, or what feeds the battery through it."`
	Fuse     current `yaml:"fuse" doc:"Its fuse. Leave it out where the tow vehicle protects the feed; what hangs on the battery of the trailer has one."`
	Gauge    word    `yaml:"wire_gauge,required" oneof:"18 16 14 12 10 8 6 4 3 2 1 1/0 2/0 3/0 4/0" doc:"The wire gauge, AWG."`
	OneWay   length  `yaml:"one_way,required" doc:"The length of the conductor out. The way back is as long."`
	Load     current `yaml:"load" doc:"The current drawn in use. Only lamps need it: of everything else it follows from the parts."`
	Ampacity current `yaml:"ampacity,required" doc:"What the wire may carry as installed."`
}

// Lamps is the set of lamps and reflectors fitted.
type Lamps struct {
	Common
	Kind     word      `yaml:"kind,required" oneof:"led bulb" doc:"The kind of lamp."`
	Fitted   []LampSet `yaml:"fitted,required" doc:"How many there are of each duty."`
	TapeSide length    `yaml:"tape_side" doc:"Reflective sheeting, the total length on each side."`
	TapeRear length    `yaml:"tape_rear" doc:"Reflective sheeting, the total length across the rear."`
}

// LampSet is the number of lamps or reflectors of one duty.
type LampSet struct {
	Duty  word  `yaml:"duty,required" oneof:"tail stop turn side-marker-front side-marker-rear side-marker-middle reflex-front reflex-rear-side reflex-rear reflex-middle plate clearance-front clearance-rear identification" doc:"What the lamp or reflector is for."`
	Color word  `yaml:"color,required" oneof:"red amber white" doc:"Its color."`
	Count count `yaml:"count,required" doc:"How many."`
}

// Deck is a load floor.
type Deck struct {
	Common
	Fixed        length `yaml:"fixed" doc:"The length that stays level."`
	Tilting      length `yaml:"tilting" doc:"The length that tilts."`
	Dovetail     length `yaml:"dovetail" doc:"The length of the sloping tail."`
	DovetailDrop length `yaml:"dovetail_drop" doc:"How far the tail drops."`
	Inside       length `yaml:"inside_width,required" doc:"The width between the rails."`
	Boards       word   `yaml:"boards" oneof:"treated-pine hardwood plywood steel aluminum" doc:"What it is laid with."`
	RailHeight   length `yaml:"rail_height" doc:"The height of the side rails."`
	EdgeRoller   flag   `yaml:"edge_roller" doc:"Whether a roller at the front edge of what tilts keeps a winch rope off that edge."`
	TiltWeight   mass   `yaml:"tilting_weight" doc:"The empty weight of what tilts."`
	TiltCenter   length `yaml:"tilting_center" doc:"How far behind the coupler that weight acts."`
}

// Anchor is one kind of tie-down point.
type Anchor struct {
	Common
	Kind  word  `yaml:"kind,required" oneof:"d-ring e-track stake-pocket rub-rail transom-strap" doc:"The kind of tie-down point. Of E-track, one fitting in it counts as one. A transom strap is the eye at the rear of a boat trailer with the strap on it."`
	Count count `yaml:"count,required" doc:"How many."`
	Limit mass  `yaml:"working_load,required" within:"300 lb to 25,000 lb" doc:"The working load limit of one."`
}

// Box is a storage box.
type Box struct {
	Common
	Kind      word `yaml:"kind,required" oneof:"front underbody" doc:"Where it stands. It says which texts speak of it."`
	LoadLimit mass `yaml:"load_limit,required" doc:"What may be carried in it."`
	Lock      word `yaml:"lock" doc:"How it locks, such as key or padlock."`
}

// WinchPlate is a mounting for a winch.
type WinchPlate struct {
	Common
	Rating mass `yaml:"rating,required" doc:"The pull that plate and fixing can take."`
}

// Winch is an electric winch.
type Winch struct {
	Common
	Pull       mass                            `yaml:"pull,required" doc:"The pull at which it stalls, on the first layer of rope."`
	Rope       word                            `yaml:"rope,required" oneof:"wire synthetic" doc:"The kind of rope."`
	RopeSize   length                          `yaml:"rope_size,required" within:"0.18 in to 0.7 in" doc:"The diameter of the rope, such as 0.3125 in."`
	RopeBreak  mass                            `yaml:"rope_breaking,required" doc:"The least breaking force of the rope."`
	HookBreak  mass                            `yaml:"hook_breaking,required" doc:"The breaking force of its hook."`
	Drum       length                          `yaml:"drum,required" within:"1.5 in to 8 in" doc:"The diameter of the empty drum."`
	DrumWidth  length                          `yaml:"drum_width,required" within:"2 in to 24 in" doc:"The width of the drum between its flanges."`
	RopeLength length                          `yaml:"rope_length,required" within:"25 ft to 200 ft" doc:"The length of the rope."`
	Current    current                         `yaml:"current,required" doc:"The current at the rated pull."`
	Remote     word                            `yaml:"remote" oneof:"corded radio" doc:"The kind of remote control."`
	DutyOn     source.Given[quantity.Duration] `yaml:"duty_on,required" within:"10 s to 5 min" doc:"The longest pull in one go."`
	DutyRest   source.Given[quantity.Duration] `yaml:"duty_rest,required" doc:"How long to rest after it."`
}

// Rack is a headache rack: a barrier at the front of the deck.
type Rack struct {
	Common
	Height length `yaml:"height,required" doc:"The height above the deck."`
}

// Prop is the bar or leg that holds a raised deck or box.
type Prop struct {
	Common
	Rating    mass   `yaml:"rating,required" doc:"What one can hold."`
	Count     count  `yaml:"count,required" doc:"How many there are."`
	EmptyOnly flag   `yaml:"empty_only,required" doc:"Whether it may hold an empty deck or box only."`
	Handle    length `yaml:"handle,required" doc:"How far its handle reaches from the outer side of the prop toward the outer side of deck or box. It has to end outside, with its pin, so that nobody reaches under."`
	Angle     angle  `yaml:"angle" within:"4 deg to 70 deg" doc:"How far deck or box has to be raised for it to swing up. Without it, the guide says only that it must swing up."`
}

// Lock is a device that holds a deck down on the road.
type Lock struct {
	Common
	Kind   word  `yaml:"kind,required" oneof:"clamp latch" doc:"The kind of lock."`
	Rating mass  `yaml:"rating,required" doc:"What one holds against a deck that wants to rise."`
	Count  count `yaml:"count" doc:"How many stand side by side; one where left out."`
}

// Support is a stabilizer or rear support leg: one that drops and is held by a pin, or
// a jack with a handle of its own.
type Support struct {
	Common
	Jack   flag  `yaml:"jack" doc:"Whether each is a jack with a handle. Else it is a leg that drops and is held by a pin."`
	Lowers word  `yaml:"lowers" oneof:"clockwise counterclockwise" doc:"With a handle: which way it turns to press its foot down, seen from the handle."`
	Count  count `yaml:"count,required" doc:"How many there are."`
	Rating mass  `yaml:"rating,required" doc:"What one can hold."`
}

// Ramp is a pair of ramps.
type Ramp struct {
	Common
	Length  length `yaml:"length,required" doc:"The length of one ramp."`
	Rating  mass   `yaml:"pair_rating,required" doc:"What the pair can carry."`
	Width   length `yaml:"width" doc:"The width of one ramp."`
	Stow    word   `yaml:"stow,required" oneof:"slide-in stand-up fold-flat" doc:"How they travel."`
	Gate    flag   `yaml:"gate" doc:"True for one ramp that closes the rear like a gate."`
	Springs flag   `yaml:"springs" doc:"True where springs help to raise them."`
	Latch   mass   `yaml:"latch_rating" doc:"Of one that stands up on the road: what its latches hold together against a pull at its middle."`
	Release flag   `yaml:"inside_release" doc:"Of a gate that closes a body: whether who is shut in can let go of it from within while its lock pins are in."`
}

// DumpBox is a dumping body.
type DumpBox struct {
	Common
	Long   length `yaml:"inside_length,required" doc:"The length inside."`
	Wide   length `yaml:"inside_width,required" doc:"The width inside."`
	Tall   length `yaml:"side_height,required" doc:"The height of the sides."`
	Empty  mass   `yaml:"empty_weight,required" doc:"The weight of what rises, empty."`
	Center length `yaml:"center,required" doc:"How far behind the coupler that weight acts."`
}

// Body encloses a load floor with walls and a roof.
type Body struct {
	Common
	Tall    length  `yaml:"inside_height,required" doc:"The height inside, from the floor to what hangs lowest below the roof."`
	Opening Opening `yaml:"opening,required" doc:"The clear opening at the rear."`
	Vents   count   `yaml:"vents,required" doc:"Openings in its walls that cannot be shut, one high and one low on each side make four."`
	Release flag    `yaml:"inside_release,required" doc:"Whether every door that a person can be shut in by opens from within without a key. A ramp gate says so of itself."`
}

// Opening is an opening across the unit.
type Opening struct {
	Wide length `yaml:"wide,required" doc:"The width."`
	High length `yaml:"high,required" doc:"The height."`
}

// Cradle supports the hull of a boat.
type Cradle struct {
	Common
	Kind word   `yaml:"kind,required" oneof:"bunks rollers" doc:"What carries the hull."`
	Long length `yaml:"length,required" doc:"From the front end of what carries the hull to its rear end."`
	Boat mass   `yaml:"boat_weight,required" doc:"The heaviest boat it carries, with motor, fuel and gear."`
	Hull length `yaml:"hull_length,required" within:"80 in to 600 in" doc:"The longest hull it supports up to its transom."`
}

// WinchStand is on the tongue of a boat trailer: a stop for the bow, a hand winch, and a
// chain for the road. Moving it along the tongue moves the boat.
type WinchStand struct {
	Common
	Pull       mass   `yaml:"pull,required" doc:"What the winch pulls by hand."`
	StrapBreak mass   `yaml:"strap_breaking,required" doc:"The least breaking force of the winch strap with its hook."`
	Strap      mass   `yaml:"strap_working_load,required" doc:"The working load limit of the winch strap with its hook."`
	Chain      mass   `yaml:"chain_working_load,required" within:"300 lb to 25,000 lb" doc:"The working load limit of the bow chain."`
	Travel     length `yaml:"travel,required" within:"2 in to 80 in" doc:"How far it can be moved along the tongue."`
	BoltTorque torque `yaml:"bolt_torque,required" within:"15 lb-ft to 200 lb-ft" doc:"The torque of the bolts that clamp it to the tongue."`
}

// Tarp is a load cover.
type Tarp struct {
	Common
	Kind word `yaml:"kind,required" oneof:"crank pull" doc:"How it is drawn."`
}

// Gate is the rear gate of a dump box.
type Gate struct {
	Common
	Kind   word          `yaml:"kind,required" oneof:"barn spreader combination" doc:"How it opens."`
	Latch  mass          `yaml:"latch_rating" doc:"What its latches hold together of a load that presses on it."`
	Spread *SpreadLimits `yaml:"spread" doc:"The limits for driving while the box spreads. Leave it out where that is not allowed."`
}

// SpreadLimits limits driving with the box partly raised.
type SpreadLimits struct {
	Angle angle                        `yaml:"angle,required" within:"5 deg to 30 deg" doc:"The greatest angle of the box."`
	Speed source.Given[quantity.Speed] `yaml:"speed,required" within:"0.5 mph to 10 mph" doc:"The greatest speed."`
}

// RearGuard is the rear impact guard, or the reason there is none.
type RearGuard struct {
	Common
	Kind    word   `yaml:"kind,required" oneof:"guard wheels-back low-chassis special-purpose" doc:"The guard, or why there is none."`
	Height  length `yaml:"height" doc:"The height of its lower edge."`
	Forward length `yaml:"forward" doc:"How far it stands ahead of the rear."`
}

// Plain is a component with only the common entries: chocks, a document holder, a
// hand hold, posts that guide a boat, or anything else a maker fits.
type Plain struct {
	Common
	Kind  word  `yaml:"kind" oneof:"chocks document-holder hand-hold guide-posts side-door roof-vent interior-lamps escape-door floor-mats" doc:"What it is, if it is one of those the program has texts for."`
	Count count `yaml:"count" doc:"How many there are."`

	Figures source.Map[Figure] `yaml:"figures" doc:"Figures of your own that words can name, by an id of each: {at_most.ID} or {at_least.ID}."`
}

// Figure is a figure that a maker states for a part unknown to the program. It is
// printed, and is not used in any formula.
type Figure struct {
	Most   source.Given[quantity.Any] `yaml:"at_most" doc:"A figure that is not to be passed, such as 500 lb. It is rounded down."`
	Least  source.Given[quantity.Any] `yaml:"at_least" doc:"A figure that is to be reached. It is rounded up."`
	Source word                       `yaml:"source,required" doc:"Where the figure comes from: a label, a drawing, the paper of the part's maker."`
}

// Components are all components of a line, by kind. Ids are unique across kinds.
type Components struct {
	Tasks       []Task                 `yaml:"tasks" doc:"Maintenance tasks of your own, beside those the program knows."`
	Axles       source.Map[Axle]       `yaml:"axles" doc:"Axles with their springs, hubs and brakes."`
	Tires       source.Map[Tire]       `yaml:"tires" doc:"Tires, with what their sidewalls state."`
	Wheels      source.Map[Wheel]      `yaml:"wheels" doc:"Wheels with their nuts."`
	Couplers    source.Map[Coupler]    `yaml:"couplers" doc:"Couplers."`
	Chains      source.Map[Chain]      `yaml:"chains" doc:"Pairs of safety chains."`
	Jacks       source.Map[Jack]       `yaml:"jacks" doc:"Landing jacks."`
	Breakaways  source.Map[Breakaway]  `yaml:"breakaways" doc:"Breakaway switches with their batteries."`
	Actuators   source.Map[Actuator]   `yaml:"actuators" doc:"What gives hydraulic brakes their pressure."`
	Connectors  source.Map[Connector]  `yaml:"connectors" doc:"Plugs to the tow vehicle."`
	Circuits    source.Map[Circuit]    `yaml:"circuits" doc:"Electrical feeds with fuse and wire."`
	Lamps       source.Map[Lamps]      `yaml:"lamps" doc:"Sets of lamps and reflectors."`
	Decks       source.Map[Deck]       `yaml:"decks" doc:"Load floors."`
	Anchors     source.Map[Anchor]     `yaml:"anchors" doc:"Tie-down points."`
	Boxes       source.Map[Box]        `yaml:"boxes" doc:"Storage boxes."`
	WinchPlates source.Map[WinchPlate] `yaml:"winch_plates" doc:"Plates that a winch bolts to."`
	Winches     source.Map[Winch]      `yaml:"winches" doc:"Electric winches."`
	Racks       source.Map[Rack]       `yaml:"racks" doc:"Barriers at the front of the deck."`
	Spares      source.Map[Spare]      `yaml:"spares" doc:"Mounts for a spare wheel."`
	PowerUnits  source.Map[PowerUnit]  `yaml:"power_units" doc:"Hydraulic power units."`
	Cylinders   source.Map[Cylinder]   `yaml:"cylinders" doc:"Lift cylinders."`
	Cushions    source.Map[Cushion]    `yaml:"cushions" doc:"Cushion cylinders of gravity decks."`
	Hoses       source.Map[Hose]       `yaml:"hoses" doc:"The weakest hose of a hydraulic circuit."`
	Batteries   source.Map[Battery]    `yaml:"batteries" doc:"Deep-cycle batteries."`
	Chargers    source.Map[Charger]    `yaml:"chargers" doc:"Battery chargers for house current."`
	Solars      source.Map[Solar]      `yaml:"solar_chargers" doc:"Solar panels with their controllers."`
	ChargeLines source.Map[ChargeLine] `yaml:"charge_lines" doc:"What charges the battery from the tow vehicle."`
	Props       source.Map[Prop]       `yaml:"props" doc:"What holds a raised deck or box."`
	Locks       source.Map[Lock]       `yaml:"locks" doc:"What holds a deck down on the road."`
	Supports    source.Map[Support]    `yaml:"supports" doc:"Stabilizers and rear supports."`
	Ramps       source.Map[Ramp]       `yaml:"ramps" doc:"Pairs of ramps."`
	DumpBoxes   source.Map[DumpBox]    `yaml:"dump_boxes" doc:"Dump boxes."`
	Bodies      source.Map[Body]       `yaml:"bodies" doc:"Walls and roof over a load floor."`
	StockBodies source.Map[StockBody]  `yaml:"stock_bodies" doc:"Bodies for animals, over a load floor."`
	Cradles     source.Map[Cradle]     `yaml:"cradles" doc:"What boats lie on."`
	WinchStands source.Map[WinchStand] `yaml:"winch_stands" doc:"Stands with bow stop and hand winch."`
	Tarps       source.Map[Tarp]       `yaml:"tarps" doc:"Covers."`
	Gates       source.Map[Gate]       `yaml:"gates" doc:"Rear gates of dump boxes."`
	RearGuards  source.Map[RearGuard]  `yaml:"rear_guards" doc:"Rear impact guards, or why there is none."`
	Others      source.Map[Plain]      `yaml:"others" doc:"Anything without figures, such as chocks."`
}
