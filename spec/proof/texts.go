package proof

import (
	"ownerguide/spec/logic"
	"ownerguide/spec/source"
)

// Kind is the kind of thing a text refers to.
type Kind string

// The kinds.
const (
	Value     Kind = "value"     // a figure
	Word      Kind = "word"      // a text of sheet or line
	Panel     Kind = "caution"   // a caution where the work is described
	Safety    Kind = "safety"    // a grave caution in the collection of them
	Drawing   Kind = "drawing"   // a picture
	Glossary  Kind = "glossary"  // the glossary
	Picture   Kind = "picture"   // a picture of the maker's own
	Link      Kind = "link"      // a link to a section or job
	Section   Kind = "section"   // a section that is shown
	Stop      Kind = "stop"      // a stop of the walk-around; the name is the part it points at
	Jobs      Kind = "jobs"      // all jobs of a system
	Job       Kind = "job"       // the text of one job
	Task      Kind = "task"      // how often a job is due
	Trouble   Kind = "trouble"   // a trouble entry
	Troubles  Kind = "troubles"  // all trouble entries of a system
	Statement Kind = "statement" // a prescribed text
	Schedule  Kind = "schedule"  // a schedule, with the figures each job needs
	Label     Kind = "label"     // a label by its key
	Asked     Kind = "asked"     // a value, or a word of sheet or line, whose existence a condition tests
)

// Reference is one place where a text refers to something. Its condition may contain, besides
// features, atoms written kind:name, which are true if a thing of that kind is there: for
// Value and Word that it exists, for Task that the unit has the job, for the others that it
// is shown. The condition of a text that is shown as part of another, such as the text of a
// caution, is that atom.
type Reference struct {
	Kind     Kind
	Name     string
	When     logic.Condition
	At       source.Pos
	Lang     string
	In       string   // such as "section brakes"
	Beside   bool     // it is only in a document beside the guide: on its card or in its mail
	Speaks   []string // for Stop and Job: features in its conditions
	Landmark bool     // for Stop: it points at a place that every unit has
}

// Gate is a condition in line or templates.
type Gate struct {
	What  string          // such as "section brakes"
	In    string          // for a condition on a block, the text that contains it, such as "section brakes"
	Own   logic.Condition // as written
	Where logic.Condition // conjunction of the surrounding conditions
	Lang  string          // language of the texts that its atoms refer to
	Front bool            // the condition of a whole section, caution, hazard …, not of a block in a text
	At    source.Pos
}

// Caution is a hazard with its panel, independent of language.
type Caution struct {
	ID    string
	Word  string // the signal word
	Grave bool
	When  logic.Condition // condition of the hazard
	At    source.Pos
}

// SwitchedOff is what a maker has switched off for some units, with the reason.
type SwitchedOff struct {
	What, Reason, By string          // such as "hazard sway"
	When             logic.Condition // the unit would have it otherwise
	At               source.Pos
}

// String returns what is switched off, why, and who is responsible.
func (s SwitchedOff) String() string {
	return s.What + " is switched off: " + s.Reason + " (" + s.By + ")"
}

// Words records that a language has a text for something.
type Words struct {
	Lang, Kind, ID string
	At             source.Pos
}

// Passage is a block, a line or a label of a text. A translation has the same passages in the same order.
type Passage struct {
	Lang, In string
	Kind     string   // its kind in words for a user, such as "step"
	When     string   // its own condition as written; "" if none
	Names    []string // figures, words and addresses that it names, checkboxes, sorted
	Words    string   // its text without the names
	Said     string   // its text with the names in their places
	At       source.Pos
}

// Texts is the content of all templates, in a fixed order.
type Texts struct {
	Passages    []Passage
	Never       map[string][]string // by language: words that express a prohibition
	References  []Reference
	Gates       []Gate
	Cautions    []Caution
	SwitchedOff []SwitchedOff
	Words       []Words
}
