package product

import (
	"bytes"
	"cmp"
	"slices"

	"ownerguide/spec/logic"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// Line is a maker's product line: the maker, what can be ordered, the components, and
// the rules.
type Line struct {
	Maker      Maker
	Components Components
	Shared     source.Map[Option]         // the options that models may share, in the order of the files
	Models     []*Model                   // in the order of line.yaml
	Tasks      []Task                     // in the order of the files
	Texts      map[string]*Texts          // by language
	Logo       *source.File               // the maker's, not decoded; nil if there is none
	Files      []source.File              // every file read, in order, for digests and citations
	Proved     bool                       // the files passed a proof and were not checked when they were read
	Systems    []string                   // the systems of the program's tasks
	lost       map[string]logic.Condition // of tasks that are switched off: condition of the units that would have them
	byID       map[string]Component       // index, set by Load
}

// Lost returns the condition of the units that would have a task that is switched off.
func (l *Line) Lost(task string) logic.Condition { return l.lost[task] }

// HasWord reports whether a word occurs in a file of the line, as a place or as a word for
// a part.
func (l *Line) HasWord(word string) bool {
	return slices.ContainsFunc(l.Files, func(f source.File) bool { return bytes.Contains(f.Data, []byte(word)) })
}

// Model returns the model with an id, or nil.
func (l *Line) Model(id string) *Model {
	for _, m := range l.Models {
		if m.ID == id {
			return m
		}
	}
	return nil
}

// Task returns the task with an id, or nil.
func (l *Line) Task(id string) *Task {
	for i := range l.Tasks {
		if l.Tasks[i].ID.Value == id {
			return &l.Tasks[i]
		}
	}
	return nil
}

func (l *Line) taskIDs() (ids []string) {
	for _, t := range l.Tasks {
		ids = append(ids, t.ID.Value)
	}
	return ids
}

// Maker is the content of line.yaml.
type Maker struct {
	ID          word                     `yaml:"id,required" doc:"A short name for the maker in small letters, digits and hyphens."`
	Name        word                     `yaml:"name,required" doc:"The maker's name as it is printed."`
	Notice      word                     `yaml:"notice" doc:"A sentence printed in every guide, such as that the line is invented."`
	WMI         word                     `yaml:"wmi,required" doc:"Positions 1 to 3 of the maker's vehicle identification numbers."`
	Small       word                     `yaml:"small_maker" doc:"Positions 12 to 14 of them, needed where the third character of wmi is 9."`
	Address     []word                   `yaml:"address,required" doc:"The postal address, one entry a line."`
	Phone       word                     `yaml:"phone,required" doc:"The phone number owners call."`
	Email       word                     `yaml:"email,required" doc:"The mail address owners write to."`
	Web         word                     `yaml:"web" doc:"The address of the maker's page."`
	Market      word                     `yaml:"market" oneof:"us ca other" doc:"Where the units are sold, us where it is left out. It decides which prescribed texts are printed and, where units is left out, which units come first. What the program does not cover there is told."`
	Units       word                     `yaml:"units" oneof:"us metric" doc:"Which units are printed first, us or metric. The other system follows in parentheses."`
	Logo        word                     `yaml:"logo" doc:"Your logo, a file beside line.yaml that ends in .svg or .png. It stands on the cover; an SVG has plain shapes only, with text turned into outlines."`
	Colors      *Colors                  `yaml:"colors" doc:"Colors of your own on the cover. Those of cautions stay as they are."`
	Version     word                     `yaml:"version,required" doc:"The version of this product line. Change it whenever you release a new state of the files."`
	Models      []word                   `yaml:"models,required" doc:"The ids of the models. Each one has a file of that name in the folder models."`
	Materials   source.Map[Material]     `yaml:"materials" doc:"Bulk materials for which guides of dump boxes print a fill depth."`
	SwitchedOff []SwitchOff              `yaml:"switched_off" doc:"What of the program's hazards, tasks, trouble entries and sections does not hold for your units, each with a reason. Prescribed texts, and the sections with them, stay."`
	Statements  source.Map[Confirmation] `yaml:"statements" doc:"Prescribed texts that you have held against the law in force, with date and initials."`
}

// Colors are the maker's colors on the cover. Those of cautions are fixed.
type Colors struct {
	Cover word `yaml:"cover,required" doc:"The color of the field across the cover and of the bar on a screen, in quotes, such as \"#1a4d2e\"."`
	Words word `yaml:"words" doc:"The color of the words on it, white where it is left out. The two must stand out from each other."`
}

// Sold returns the market of the line.
func (m *Maker) Sold() string { return cmp.Or(m.Market.Value, "us") }

// uncovered is what the program does not cover in a market. From memory; nobody has
// compared it with the law in force.
var uncovered = map[string]string{
	"ca": "the Motor Vehicle Safety Regulations (certification label with the national safety mark, lamps, tires and rear guard are checked against United States rules), " +
		"the text on reporting defects to Transport Canada, French beside English, and the rules of the provinces on brakes, plates and inspection",
	"other": "any law but that of the United States: approval, label and plates, lamps, brakes, couplings, speed, and the texts that have to be printed",
}

// Print returns the maker's notation for figures, in English: which system of units
// comes first.
func (m *Maker) Print() quantity.Print {
	p := quantity.English
	if m.Units.Value == "metric" || !m.Units.Set && m.Sold() != "us" {
		p.System = quantity.Metric
	}
	return p
}

// Material is a bulk material with its density.
type Material struct {
	Density source.Given[quantity.Density] `yaml:"density,required" within:"20 lb/ft³ to 160 lb/ft³" doc:"The density of the material as it is loaded. Take the figure for wet material."`
	Source  word                           `yaml:"source,required" doc:"Where the density comes from."`
}

// Confirmation is who compared a prescribed text with the regulation, and when.
type Confirmation struct {
	Confirmed source.Given[quantity.Date] `yaml:"confirmed,required" doc:"The day the text was compared, such as 2027-01-15."`
	Initials  word                        `yaml:"initials,required" doc:"Who compared it."`
}

// Model is a model of the line: the content of models/ID.yaml.
type Model struct {
	ID string // from line.yaml
	At source.Pos
	Extension
	VINCode      word                         `yaml:"vin_code,required" doc:"Positions 4 to 8 of this model's vehicle identification numbers."`
	Hauls        word                         `yaml:"hauls,required" oneof:"cargo equipment vehicles bulk boats livestock" refused:"horses liquids tank poles logs people" doc:"What the model is made to carry. What it is not made for is named in the guide."`
	Features     []word                       `yaml:"features" doc:"Words of your own for what every unit of this model has or is, for cautions, tasks and texts of your own. What follows from the parts is not written."`
	GVWR         mass                         `yaml:"gvwr,required" doc:"The gross vehicle weight rating on the certification label."`
	GAWR         []mass                       `yaml:"gawr,required" doc:"The gross axle weight ratings on the label, front axle first."`
	Empty        mass                         `yaml:"empty_weight,required" doc:"The weight without load and without any option."`
	OnCoupler    mass                         `yaml:"coupler_weight,required" doc:"The part of the empty weight that the coupler carries."`
	ShareLow     percent                      `yaml:"coupler_share_low,required" doc:"The least share of the loaded weight that belongs on the coupler."`
	ShareHigh    percent                      `yaml:"coupler_share_high,required" doc:"The greatest share of the loaded weight that belongs on the coupler."`
	Overall      Size                         `yaml:"overall,required" doc:"The outer size, coupler included, with deck or box down."`
	SpeedLimit   source.Given[quantity.Speed] `yaml:"speed_limit" doc:"Your own speed limit, where it is lower than that of the tires."`
	Hinge        Point                        `yaml:"hinge" doc:"The hinge of a tilting deck or a dump box."`
	HingeRating  mass                         `yaml:"hinge_rating" doc:"What the hinge bears, all its pins and brackets together, by whoever designed it. Needed where a deck tilts or a box dumps."`
	RaisedAngle  angle                        `yaml:"raised_angle" doc:"How far the lift cylinder, run out, raises deck or box by its drawing. It is held against what hinge, pins and stroke give. Needed where a cylinder lifts."`
	CylinderFoot Point                        `yaml:"cylinder_foot" doc:"The pin of the lift cylinder on the frame."`
	CylinderHead Point                        `yaml:"cylinder_head" doc:"The pin of the lift cylinder on the deck or box, with that down."`
	NeckLow      length                       `yaml:"neck_low" doc:"Of a gooseneck: the least height of the neck's underside above level ground, from the ball back to neck_end."`
	NeckEnd      length                       `yaml:"neck_end" doc:"Of a gooseneck: how far behind the ball the neck comes down."`
	LiftLimit    mass                         `yaml:"lift_limit" doc:"The heaviest load that may be lifted. Left out, it is the cargo capacity."`
	Longer       *Longer                      `yaml:"longer" doc:"How it is longer than the model it extends."`
	Parts        source.Map[Part]             `yaml:"parts,required" doc:"What sits where. Each place names the component used there."`
	Options      source.Map[Option]           `yaml:"options" doc:"What can be ordered, in the order in which it is listed."`
	Rules        []Rule                       `yaml:"rules" doc:"Rules over groups of options."`
}

// Point is a position in the geometry (see the package comment).
type Point struct {
	X length `yaml:"x,required" doc:"How far behind the center of the coupler."`
	Y length `yaml:"y" doc:"How far to the left of the middle. A minus sign means to the right."`
	Z length `yaml:"z,required" doc:"How high above level ground."`
}

// Size is an extent along x, y and z.
type Size struct {
	Long length `yaml:"long,required" doc:"The length."`
	Wide length `yaml:"wide,required" doc:"The width."`
	High length `yaml:"high,required" doc:"The height."`
}

// Part is a component in its place. At is the center of a wheel or pin; for anything
// box-like, the front right lower corner.
type Part struct {
	Use  word   `yaml:"use,required" doc:"The id of the component fitted here."`
	At   *Point `yaml:"at" doc:"Where it is, as the center of a wheel or pin, or else as the front right lower corner."`
	Size *Size  `yaml:"size" doc:"The extent of anything box-like."`
	On   word   `yaml:"on" oneof:"right left both" doc:"The side it is on. Both where it is left out."`
}

// Option is an option of a model.
type Option struct {
	Extension
	Features []word           `yaml:"features" doc:"Features of your own that the unit gains by it."`
	Drops    []word           `yaml:"drops" doc:"Features of the model that it takes away."`
	Weighs   mass             `yaml:"weighs" doc:"What it adds to the empty weight. A minus sign means that it makes the unit lighter."`
	Center   length           `yaml:"center" doc:"How far behind the coupler that weight acts."`
	Parts    source.Map[Part] `yaml:"parts" doc:"What it adds, or puts in the place of a part of the same name."`
	Without  []word           `yaml:"without" doc:"Places that it leaves empty."`
	Requires []Demand         `yaml:"requires" doc:"What it needs, each with the reason."`
	Excludes []Demand         `yaml:"excludes" doc:"What it does not go with, each with the reason."`
	GVWR     mass             `yaml:"gvwr" doc:"The gross vehicle weight rating with this option, where it changes the label."`
	GAWR     []mass           `yaml:"gawr" doc:"The axle ratings with this option, where it changes the label."`
	Overall  *Size            `yaml:"overall" doc:"The outer size with this option."`
	VINCode  word             `yaml:"vin_code" doc:"Positions 4 to 8 of the vehicle identification number with this option, a dot for each that stays as in the model's, such as ..3.. for a third axle."`
	Source   word             `yaml:"source" doc:"Where its figures come from."`
}

// Demand is a requires or excludes entry: one option, or several of which any one counts.
type Demand struct {
	Option  word   `yaml:"option" doc:"One option."`
	AnyOf   []word `yaml:"any_of" doc:"Several options, of which any one will do."`
	Because word   `yaml:"because,required" doc:"The id of the reason. Its words are under because in text/en.yaml."`
}

// Rule is a rule on a group of options.
type Rule struct {
	ExactlyOne []word `yaml:"exactly_one" doc:"Options of which a unit has one and only one."`
	AtMostOne  []word `yaml:"at_most_one" doc:"Options of which a unit has one or none."`
	Because    word   `yaml:"because,required" doc:"The id of the reason. Its words are under because in text/en.yaml."`
}

// Texts are the texts of a line in one language: text/LANG.yaml.
type Texts struct {
	Models     source.Map[ModelText]  `yaml:"models" doc:"Name and summary of each model, by id."`
	Options    source.Map[OptionText] `yaml:"options" doc:"Name and description of each option, by id."`
	Components source.Map[word]       `yaml:"components" doc:"The name of each component, by id. Left out, it is that of the component it extends, or of the option with its id."`
	Because    source.Map[word]       `yaml:"because" doc:"The reason of each rule, by id. It finishes a sentence such as \"X needs Y\"."`
	Materials  source.Map[word]       `yaml:"materials" doc:"The name of each bulk material, by id."`
	Notice     word                   `yaml:"notice" doc:"The maker's notice in this language."`
}

// ModelText is the name and description of a model.
type ModelText struct {
	Name    word `yaml:"name,required" doc:"The name on the cover."`
	Summary word `yaml:"summary,required" doc:"What it is, in one sentence."`
}

// OptionText is the name and description of an option as in a price list.
type OptionText struct {
	Name     word `yaml:"name,required" doc:"The name, as in the price list."`
	Describe word `yaml:"describe,required" doc:"What it is, in one sentence."`
}

// Task is a maintenance task, independent of language. A task with the trigger interval is
// due as the service entries of the fitted components say.
type Task struct {
	ID word `yaml:"id,required" doc:"The task's id. Its words are in the file of that name in templates/en/tasks."`
	// The heading: coupling, brakes, tires …
	System  word                              `yaml:"system,required" doc:"The system it is filed under: one of the program's, or one of yours. A block tasks SYSTEM in a section shows its jobs."`
	Trigger word                              `yaml:"trigger,required" oneof:"before-trip first-miles first-load every-loads interval before-storage after-storage age" doc:"What makes it due. With interval it is due as often as the service entries of the fitted components say."`
	At      []source.Given[quantity.Distance] `yaml:"at" doc:"For the trigger first-miles, the distances at which it is due."`
	logic.Conditional
	Values  []word    `yaml:"values" doc:"Names of the values a person needs for it."`
	Trained flag      `yaml:"trained" doc:"Whether it needs a trained person."`
	AtMost  *Interval `yaml:"at_most" doc:"The longest interval that a component may ask for; a longer one is refused."`
}
