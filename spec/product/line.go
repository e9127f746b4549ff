package product

import (
	"bytes"
	"slices"

	"ownerguide/spec/logic"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// Line is a maker's whole product line: who makes it, what can be ordered, of
// which components, under which rules.
type Line struct {
	Maker      Maker
	Components Components
	Models     []*Model             // in the order of line.yaml
	Hazards    []Hazard             // the program's own, then the line's additions
	Tasks      []Task               // likewise
	Texts      map[string]*Texts    // by language
	Logo       *File                // the maker's, not looked into; nil without one
	Files      []File               // everything read, in order, for digests and for "where does this come from"
	byID       map[string]Component // filled once, by Load
}

// File is one file that was read.
type File struct {
	Name string
	Data []byte
}

// Says tells whether a word stands in a file of the line: a place, or what a part
// is called in its own data.
func (l *Line) Says(word string) bool {
	return slices.ContainsFunc(l.Files, func(f File) bool { return bytes.Contains(f.Data, []byte(word)) })
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

// Maker is who builds the units: the content of line.yaml.
type Maker struct {
	ID         word                     `yaml:"id,required"`
	Name       word                     `yaml:"name,required"`
	Notice     word                     `yaml:"notice"`       // printed in every guide, such as "invented for demonstration"
	WMI        word                     `yaml:"wmi,required"` // VIN positions 1–3
	Small      word                     `yaml:"small_maker"`  // VIN positions 12–14 where position 3 is 9
	Address    []word                   `yaml:"address,required"`
	Phone      word                     `yaml:"phone,required"`
	Email      word                     `yaml:"email,required"`
	Web        word                     `yaml:"web"`
	Units      word                     `yaml:"units" oneof:"us metric"` // which system comes first; us when left out
	Logo       word                     `yaml:"logo"`                    // file in the line's folder, .svg or .png
	Colors     *Colors                  `yaml:"colors"`
	Version    word                     `yaml:"version,required"` // of the line
	Models     []word                   `yaml:"models,required"`  // model ids; models/ID.yaml each
	Materials  source.Map[Material]     `yaml:"materials"`        // bulk materials, for fill depths
	Hazards    []Hazard                 `yaml:"hazards"`          // added to the program's own
	Tasks      []Task                   `yaml:"tasks"`
	Statements source.Map[Confirmation] `yaml:"statements"` // prescribed texts the maker has held against the law in force
}

// Colors are the maker's own on the cover. Those of cautions are everybody's.
type Colors struct {
	Cover word `yaml:"cover,required"` // of the field across the cover
	Words word `yaml:"words"`          // on it; white when left out
}

// Print is how the maker wants figures written, in English: which system comes
// first.
func (m *Maker) Print() quantity.Print {
	p := quantity.English
	if m.Units.Value == "metric" {
		p.System = quantity.Metric
	}
	return p
}

// Material is a bulk material with its density.
type Material struct {
	Density source.Given[quantity.Density] `yaml:"density,required"`
	Source  word                           `yaml:"source,required"`
}

// Confirmation says who held a prescribed text against the regulation, and when.
type Confirmation struct {
	Confirmed source.Given[quantity.Date] `yaml:"confirmed,required"`
	Initials  word                        `yaml:"initials,required"`
}

// Model is one model of the line: the content of models/ID.yaml.
type Model struct {
	ID           string // from line.yaml
	At           source.Pos
	VINCode      word                         `yaml:"vin_code,required"`                                    // VIN positions 4–8
	Hauls        word                         `yaml:"hauls,required" oneof:"cargo equipment vehicles bulk"` // what it is made to carry
	Features     []word                       `yaml:"features"`                                             // of the maker's own, for texts of the maker's own
	GVWR         mass                         `yaml:"gvwr,required"`
	GAWR         []mass                       `yaml:"gawr,required"`              // as labelled, front axle first
	Empty        mass                         `yaml:"empty_weight,required"`      // without any option
	OnCoupler    mass                         `yaml:"coupler_weight,required"`    // of that, carried by the coupler
	ShareLow     percent                      `yaml:"coupler_share_low,required"` // of loaded weight, that belongs on the coupler
	ShareHigh    percent                      `yaml:"coupler_share_high,required"`
	Overall      Size                         `yaml:"overall,required"` // coupler included; height with the deck or box down
	SpeedLimit   source.Given[quantity.Speed] `yaml:"speed_limit"`      // the maker's own, where lower than the tires'
	Hinge        Point                        `yaml:"hinge"`            // of a tilting deck or dump box
	CylinderFoot Point                        `yaml:"cylinder_foot"`    // pin on the frame
	CylinderHead Point                        `yaml:"cylinder_head"`    // pin on the deck, deck down
	LiftLimit    mass                         `yaml:"lift_limit"`       // heaviest load the maker allows to be lifted; cargo capacity where left out
	Parts        source.Map[Part]             `yaml:"parts,required"`   // place → component
	Options      source.Map[Option]           `yaml:"options"`
	Rules        []Rule                       `yaml:"rules"` // over groups of options
}

// Point is a place in the geometry (see the package comment).
type Point struct {
	X length `yaml:"x,required"`
	Y length `yaml:"y"`
	Z length `yaml:"z,required"`
}

// Size is an extent along x, y and z.
type Size struct {
	Long length `yaml:"long,required"`
	Wide length `yaml:"wide,required"`
	High length `yaml:"high,required"`
}

// Part is a component in its place. At is the centre of a wheel or pin; for a
// box-like thing the front right lower corner.
type Part struct {
	Use  word   `yaml:"use,required"` // component id
	At   *Point `yaml:"at"`
	Size *Size  `yaml:"size"`
	On   word   `yaml:"on" oneof:"right left both"` // both when left out
}

// Option is one thing a customer can order on a model.
type Option struct {
	Features []word           `yaml:"features"`
	Drops    []word           `yaml:"drops"`   // features of the model that it takes away
	Weighs   mass             `yaml:"weighs"`  // added to the empty weight; may be negative
	Center   length           `yaml:"center"`  // x of that weight, for the coupler weight
	Parts    source.Map[Part] `yaml:"parts"`   // added, or put in the place of a part of the same name
	Without  []word           `yaml:"without"` // places left empty
	Requires []Demand         `yaml:"requires"`
	Excludes []Demand         `yaml:"excludes"`
	GVWR     mass             `yaml:"gvwr"` // where the option changes the certification label
	GAWR     []mass           `yaml:"gawr"`
	Overall  *Size            `yaml:"overall"`
	Source   word             `yaml:"source"`
}

// Demand is a requires or excludes entry: one option, or any one of several.
type Demand struct {
	Option  word   `yaml:"option"`
	AnyOf   []word `yaml:"any_of"`
	Because word   `yaml:"because,required"` // id of the reason in text/LANG.yaml
}

// Rule holds over a group of options.
type Rule struct {
	ExactlyOne []word `yaml:"exactly_one"`
	AtMostOne  []word `yaml:"at_most_one"`
	Because    word   `yaml:"because,required"`
}

// Texts are the words of a line in one language: text/LANG.yaml.
type Texts struct {
	Models     source.Map[ModelText]  `yaml:"models"`
	Options    source.Map[OptionText] `yaml:"options"`
	Components source.Map[word]       `yaml:"components"` // component id → name
	Because    source.Map[word]       `yaml:"because"`
	Materials  source.Map[word]       `yaml:"materials"`
	Notice     word                   `yaml:"notice"` // the maker's notice in this language
}

// ModelText names and describes a model.
type ModelText struct {
	Name    word `yaml:"name,required"`
	Summary word `yaml:"summary,required"` // one sentence
}

// OptionText names and describes an option as a salesperson would.
type OptionText struct {
	Name     word `yaml:"name,required"`
	Describe word `yaml:"describe,required"` // one sentence
}

// Hazard is something that can hurt, and the features that bring it.
type Hazard struct {
	ID     word   `yaml:"id,required"`
	Needs  []word `yaml:"needs"`
	Any    []word `yaml:"any"`
	Unless []word `yaml:"unless"`
}

// Task is one item of care, language-free. A task with trigger interval is due
// as often as the fitted components' service entries say.
type Task struct {
	ID word `yaml:"id,required"`
	// heading it is filed under: coupling, brakes, tires …
	System  word                              `yaml:"system,required" oneof:"coupling chains breakaway brakes connector lamps tires wheels hubs suspension deck tiedown box winch rack hydraulics tilt dump ramps battery jack frame storage"`
	Trigger word                              `yaml:"trigger,required" oneof:"before-trip first-miles first-load every-loads interval before-storage after-storage age"`
	At      []source.Given[quantity.Distance] `yaml:"at"` // of first-miles
	Needs   []word                            `yaml:"needs"`
	Any     []word                            `yaml:"any"`
	Unless  []word                            `yaml:"unless"`
	Values  []word                            `yaml:"values"`  // names of values a person needs for it
	Trained flag                              `yaml:"trained"` // needs a trained person
}

// When gives the condition under which the hazard is present.
func (h Hazard) When() logic.Condition { return condition(h.Needs, h.Any, h.Unless, h.ID.At) }

// When gives the condition under which the task belongs to a build.
func (t Task) When() logic.Condition { return condition(t.Needs, t.Any, t.Unless, t.ID.At) }

func condition(needs, any, unless []word, at source.Pos) logic.Condition {
	c := logic.New(source.Values(needs), source.Values(any), source.Values(unless))
	c.Pos = at
	return c
}
