package product

import (
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// StockBody is a livestock body: walls with openings, a roof, gates and a floor for hooves.
type StockBody struct {
	Common
	Tall       length                      `yaml:"inside_height,required" doc:"The height inside, from the floor to what hangs lowest below the roof."`
	Opening    Opening                     `yaml:"opening,required" doc:"The clear opening of the rear gate."`
	Open       source.Given[quantity.Area] `yaml:"open_area,required" doc:"The area of all openings in its walls that cannot be shut."`
	Heaviest   mass                        `yaml:"heaviest_animal,required" doc:"The heaviest animal it is made for."`
	Hoof       mass                        `yaml:"hoof_load,required" doc:"What the floor carries on one hoof."`
	CenterGate flag                        `yaml:"center_gate" doc:"Whether a gate across the middle makes two compartments."`
	Reach      flag                        `yaml:"center_gate_reach" doc:"Whether the center gate is swung, latched and pinned from outside, through the openings in the walls."`
	Latch      mass                        `yaml:"latch_rating" doc:"What the latches of the rear gate hold together of animals that press on it."`
	SlamLatch  flag                        `yaml:"slam_latch" doc:"Whether the gates latch by themselves when they are swung shut."`
	Release    flag                        `yaml:"inside_release,required" doc:"Whether a person who is shut in can open a gate or door from within without a key."`
}
