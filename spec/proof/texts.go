package proof

import (
	"ownerguide/spec/logic"
	"ownerguide/spec/source"
)

// Kind says what a text names.
type Kind string

// Kinds of use.
const (
	Value     Kind = "value"     // a figure
	Word      Kind = "word"      // a text of sheet or line
	Panel     Kind = "caution"   // a caution where the work is described
	Safety    Kind = "safety"    // a grave caution in the collection of them
	Drawing   Kind = "drawing"   // a picture
	Glossary  Kind = "glossary"  // the list of terms
	Picture   Kind = "picture"   // a picture of the maker's own
	Link      Kind = "link"      // a section or job that is referred to
	Section   Kind = "section"   // a section that is there
	Stop      Kind = "stop"      // a stop of the walk-around; the name is the part it points at
	Jobs      Kind = "jobs"      // all jobs of a system
	Job       Kind = "job"       // the words of one job
	Task      Kind = "task"      // how often a job is due
	Trouble   Kind = "trouble"   // a trouble entry
	Statement Kind = "statement" // a prescribed text
	Schedule  Kind = "schedule"  // a schedule, with the figures each job needs
	Label     Kind = "label"     // words of the language by their id
	Asked     Kind = "asked"     // a value, or a word of sheet or line, that a condition asks for
)

// Reference is one place where a text names something. Beside features its condition
// has atoms, spelt kind:name, that are true where a thing of that kind is: of
// Value and Word that it exists, of Task that the unit has the job, of the
// others that it is shown. The condition of a text that is shown through
// another, such as the words of a caution, is that atom.
type Reference struct {
	Kind     Kind
	Name     string
	When     logic.Condition
	At       source.Pos
	Lang     string
	In       string   // such as "section brakes"
	Beside   bool     // it stands beside the guide alone: on its card or in its mail
	Speaks   []string // of Stop and Job: features that conditions in it are about
	Landmark bool     // of Stop: it points at a place that every unit has
}

// Gate is a condition somebody wrote.
type Gate struct {
	What  string          // such as "section brakes"
	In    string          // the text that a condition on a block stands in, such as "section brakes"
	Own   logic.Condition // as written
	Where logic.Condition // what all around it asks
	Lang  string          // whose texts' atoms it means
	Front bool            // of a section, caution, hazard …, not of a block in a text
	At    source.Pos
}

// Caution is a hazard with the panel against it, whatever its words.
type Caution struct {
	ID    string
	Word  string // the signal word
	Grave bool
	When  logic.Condition // the hazard is there
	At    source.Pos
}

// SwitchedOff is what a maker has taken off some units, with the reason.
type SwitchedOff struct {
	What, Reason, By string          // such as "hazard sway"
	When             logic.Condition // it would be there, and is not
	At               source.Pos
}

// String tells what, why and who answers for it.
func (s SwitchedOff) String() string {
	return s.What + " is switched off: " + s.Reason + " (" + s.By + ")"
}

// Words says that a language has words for something.
type Words struct {
	Lang, Kind, ID string
	At             source.Pos
}

// Passage is a block, a line or a label of a text. A translation has the same passages in the same order.
type Passage struct {
	Lang, In string
	Kind     string   // what a person would call it, such as "step"
	When     string   // its own condition as written, "" for none
	Names    []string // figures, words and addresses that it names, boxes to tick, sorted
	Words    string   // what it says, without what it names
	At       source.Pos
}

// Texts is what all templates say, in a fixed order.
type Texts struct {
	Passages    []Passage
	Never       map[string][]string // by language, the words of which a text that forbids something has one
	References  []Reference
	Gates       []Gate
	Cautions    []Caution
	Watched     []string            // the words of the base language whose order in each text a snapshot keeps
	Order       map[string][]string // of each text of the base language: watched words, numbers, figures and cautions, as they follow each other
	Forbids     map[string]int      // how many passages of each text of the base language forbid something
	Items       map[string]int      // how many steps and points each text of the base language has, and ways to avoid each hazard
	SwitchedOff []SwitchedOff
	Words       []Words
}
