package template

import (
	"maps"
	"slices"
	"strings"

	"ownerguide/render/doc"
	"ownerguide/spec/logic"
	"ownerguide/spec/proof"
	"ownerguide/spec/source"
)

// Base is the language that every other one translates.
const Base = source.BaseLanguage

// Templates are all templates of a run. They are never changed once loaded and
// may be used by several goroutines.
type Templates struct {
	Files        []source.File // every file read, in order
	Style        string        // style sheet of the page
	Pictures     []source.File // of the maker's own, not looked into
	Snapshot     source.File   // what the texts of the first layer said when it was accepted; without data where it has none
	Outline      []*Section    // the chapters, in order
	Cautions     []Caution
	Troubles     []Trouble
	Texts        *proof.Texts // everything the texts say, under which condition and where
	sections     []*Section   // all of the outline
	languages    map[string]*Language
	program      Program
	unusedLabels []proof.Reference // labels of the maker's own that no text asks for
	weakened     []weakened        // what a layer says anew and asks for less
}

// Section is a section of the guide as the outline has it, free of language.
type Section struct {
	ID     string
	At     source.Pos
	Role   doc.Role
	When   logic.Condition
	Point  word   // kind or place of the part that carries the point's number; set in a point of the walk-around alone
	Part   word   // begins a part of the guide; set in chapters alone
	Listed bool   // the contents on paper name it
	From   []word // sections that end with a line that leads here
	Card   string // [Also], [Only], or "" where the card has nothing of it
	Leaf   string // the same for the hand-over leaf
	Mail   string // the same for the mail
	Parent *Section
	Parts  []*Section // in order
}

// Three short documents stand beside the guide: the card, half a sheet that hangs
// where the work is done, the leaf that is signed at the hand-over, and the mail
// the guide is sent with. They are filled from the same sections, values and labels as the guide, so that they cannot
// differ from it. What a section says of them:
const (
	Also = "also" // it stands in the guide and there
	Only = "only" // it stands there and not in the guide
)

// InGuide reports whether a section is a part of the guide itself.
func (s *Section) InGuide() bool { return s.Card != Only && s.Leaf != Only && s.Mail != Only }

// Language is what the templates say in one language.
type Language struct {
	Name       string
	LabelsFile string // where its labels stand, for findings
	Sections   map[string]*SectionWords
	Jobs       map[string]*JobWords
	Cautions   map[string]*CautionWords
	Troubles   map[string]*TroubleWords
	Labels     map[string]source.Given[string]
	Glossary   []TermWords // in order
	Statements map[string]*Statement
	Plurals    doc.Plurals
	Units      map[string]string // how a figure is written with a unit, by the unit's symbol
}

// UnitLabel is what the keys of labels begin with that say how a figure with a unit is written;
// the unit's symbol follows.
const UnitLabel = "unit."

// SectionWords are the words of a section.
type SectionWords struct {
	At    source.Pos
	Title []Inline
	Short string // may be empty
	Body  []Block
}

// JobWords are the words of a maintenance job.
type JobWords struct {
	At    source.Pos
	Title []Inline
	Tools []Inline
	Home  []source.Given[string] // sections that tell it, the first that a unit has; none for one of its own
	Body  []Block
}

// CautionWords are the words of a caution.
type CautionWords struct {
	At          source.Pos
	Hazard      []Inline
	Short       []Inline // the hazard in a reminder; nil where it is told in full there, too
	Consequence []Inline
	Avoid       [][]Inline
}

// TroubleWords are the words of a trouble entry. Each line may hang on a
// condition of its own.
type TroubleWords struct {
	At      source.Pos
	Symptom []Inline
	Short   []Inline // the symptom in the index; nil where it is told in full there, too
	Cause   []Block
	Do      []Block
	Stop    []Block
}

// Statement is a text that the law prescribes.
type Statement struct {
	At         source.Pos
	Lang       string // that the law prescribes it in
	Title      string
	Citation   string
	Basis      string // how the wording is known
	Paragraphs [][]Inline
	Steps      [][]Inline
}

// Program is what the program that fills the templates brings to them.
type Program struct {
	Directives []Directive
	Words      []string // names of the texts of sheet and line that a placeholder can name
	Landmarks  []string // places of a unit that a point of the walk-around can stand at, though they are no parts
	Labels     []string // labels that every language must have, whatever the texts ask for
}

func (p *Program) directive(name string) *Directive {
	return find(p.Directives, func(d Directive) bool { return d.Name == name })
}

// Language finds the words in a language: where there are none for its region or script,
// those without it (RFC 4647, lookup; from memory). Nil when there are none.
func (t *Templates) Language(tag string) *Language {
	for t.languages[tag] == nil && strings.Contains(tag, "-") {
		tag = tag[:strings.LastIndexByte(tag, '-')]
	}
	return t.languages[tag]
}

// Languages lists the languages there are words for, sorted.
func (t *Templates) Languages() []string { return slices.Sorted(maps.Keys(t.languages)) }

// Sections lists every section in the order of the outline, a section before
// its parts. The list is shared and not to be changed.
func (t *Templates) Sections() []*Section { return t.sections }

// flatten lists sections, each before its parts.
func flatten(list []*Section) (all []*Section) {
	for _, s := range list {
		all = append(append(all, s), flatten(s.Parts)...)
	}
	return all
}

// Caution finds a caution, or nil.
func (t *Templates) Caution(id string) *Caution {
	return find(t.Cautions, func(c Caution) bool { return c.ID.Value == id })
}

func (t *Templates) trouble(id string) *Trouble {
	return find(t.Troubles, func(e Trouble) bool { return e.ID.Value == id })
}

func (t *Templates) section(id string) *Section {
	if s := find(t.sections, func(s *Section) bool { return s.ID == id }); s != nil {
		return *s
	}
	return nil
}

// find returns the first element that is looked for, or nil.
func find[T any](list []T, is func(T) bool) *T {
	if i := slices.IndexFunc(list, is); i >= 0 {
		return &list[i]
	}
	return nil
}

func keys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }
