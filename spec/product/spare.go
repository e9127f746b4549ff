package product

import (
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// Spare is a mount for a spare wheel. Its tire and wheel are like those on the axles unless
// Own is set.
type Spare struct {
	Common
	Mount   word        `yaml:"mount,required" doc:"Where the mount is, such as tongue, front-wall or under-deck."`
	ForDual flag        `yaml:"for_dual" doc:"Whether it carries the wheel of a dual pair."`
	Hoist   mass        `yaml:"hoist" doc:"Of a mount below the deck that lowers the wheel on a cable: what its winch is rated for."`
	Own     *SpareWheel `yaml:"wheel" doc:"Tire and wheel, where they are unlike those the unit runs on."`
}

// SpareWheel is a wheel with a tire unlike those on the axles.
type SpareWheel struct {
	Size       word                         `yaml:"size,required" doc:"The size on the sidewall."`
	LoadRange  word                         `yaml:"load_range,required" doc:"The load range on the sidewall."`
	Load       mass                         `yaml:"load,required" doc:"What tire and wheel can carry, the lesser of the two; on dual wheels as one of the pair."`
	Cold       pressure                     `yaml:"cold_pressure,required" within:"15 psi to 160 psi" doc:"The cold pressure at that load."`
	Diameter   length                       `yaml:"diameter,required" doc:"The overall diameter."`
	Studs      count                        `yaml:"studs,required" oneof:"4 5 6 8 10" doc:"Stud holes."`
	StudSize   word                         `yaml:"stud_size,required" doc:"The thread of its nuts, such as 1/2-20."`
	Torque     torque                       `yaml:"torque,required" within:"30 lb-ft to 650 lb-ft" doc:"The final torque of its nuts, from the maker of the wheel."`
	SpeedLimit source.Given[quantity.Speed] `yaml:"speed_limit" within:"20 mph to 65 mph" doc:"Of one that only takes you to a tire shop: the most its maker allows."`
}
