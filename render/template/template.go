package template

import (
	"iter"
	"maps"
	"slices"
	"strings"
	"sync"

	"ownerguide/render/doc"
	"ownerguide/spec/logic"
	"ownerguide/spec/parallel"
	"ownerguide/spec/product"
	"ownerguide/spec/proof"
	"ownerguide/spec/source"
)

// Base is the language that every other one is translated from.
const Base = source.BaseLanguage

// Templates are all templates of a run. They are immutable once loaded and safe for
// concurrent use.
type Templates struct {
	Files        []source.File // every file read, in order
	Style        string        // style sheet of the page
	Pictures     []source.File // the maker's own, not decoded
	Outline      []*Section    // the chapters, in order
	Cautions     []Caution
	Troubles     []Trouble
	Snapshot     func() source.File       // what the texts of the first layer said when it was accepted; without data if it has none
	Prescribed   func() []proof.Reference // references to prescribed texts, in order
	Proved       bool                     // the files passed a proof and were not checked when they were read
	Off          []proof.SwitchedOff      // what the line switches off
	prepared     *sync.Once               // by Prepare
	complete     func()                   // compiles what is not compiled yet; fills texts and unusedLabels
	texts        *proof.Texts
	sections     []*Section // all of the outline
	languages    map[string]*Language
	program      Program
	unusedLabels []proof.Reference // the maker's labels that no text uses
	weakened     []weakened        // what a layer redefines and weakens
}

// Section is a section of the outline, independent of language.
type Section struct {
	ID     string
	At     source.Pos
	Role   doc.Role
	When   logic.Condition
	Point  word   // kind or place of the part with the point's number; set only in a point of the walk-around
	Part   word   // begins a part of the guide; set only in chapters
	Listed bool   // included in the contents on paper
	From   []word // sections that end with a link to this one
	Card   string // [Also], [Only], or "" if the section is not on the card
	Leaf   string // the same for the hand-over leaf
	Mail   string // the same for the mail
	Parent *Section
	Parts  []*Section // in order
}

// Three short documents go with the guide: the card, half a sheet that hangs where the
// work is done, the leaf that is signed at the hand-over, and the mail the guide is sent
// with. They are filled from the same sections, values and labels as the guide, so that
// they cannot differ from it. A section is in such a document
const (
	Also = "also" // and in the guide
	Only = "only" // and not in the guide
)

// InGuide reports whether a section is a part of the guide itself.
func (s *Section) InGuide() bool { return s.Card != Only && s.Leaf != Only && s.Mail != Only }

// Language is the texts in one language.
type Language struct {
	Name       string
	LabelsFile string // name of the file where a label is to be added, for findings
	Sections   map[string]func() *SectionWords
	Jobs       map[string]func() *JobWords
	Cautions   map[string]*CautionWords
	Troubles   map[string]*TroubleWords
	Labels     map[string]source.Given[string]
	Glossary   []TermWords // in order
	Statements map[string]*Statement
	Plurals    doc.Plurals
	Units      map[string]string // notation of a figure with a unit, by the unit's symbol
	statements map[string]bool   // sections and jobs whose file has the word statement, and so may have a prescribed text
}

// UnitLabel is the prefix of the keys of labels with the notation of a figure with a unit;
// the unit's symbol follows.
const UnitLabel = "unit."

// SectionWords is the text of a section.
type SectionWords struct {
	At    source.Pos
	Title []Inline
	Short string // may be empty
	Body  []Block
}

// JobWords is the text of a maintenance job.
type JobWords struct {
	At    source.Pos
	Title []Inline
	Tools []Inline
	Home  []source.Given[string] // sections that contain it, in order of preference; empty if it has its own
	Body  []Block
}

// CautionWords is the text of a caution.
type CautionWords struct {
	At          source.Pos
	Hazard      []Inline
	Short       []Inline // the hazard in a reminder; nil if that has the full text
	Consequence []Inline
	Avoid       [][]Inline
}

// TroubleWords is the text of a trouble entry. Each line may have its own condition.
type TroubleWords struct {
	At      source.Pos
	Symptom []Inline
	Short   []Inline // the symptom in the index; nil if that has the full text
	Cause   []Block
	Do      []Block
	Stop    []Block
}

// Statement is a text prescribed by law.
type Statement struct {
	At         source.Pos
	Lang       string // the language prescribed by the law
	Title      string
	Citation   string
	Basis      string // how the wording is known
	Paragraphs [][]Inline
	Steps      [][]Inline
}

// Program is what the program contributes to the templates.
type Program struct {
	Directives []Directive
	Words      []string // names of the texts of sheet and line that a placeholder can have
	Landmarks  []string // places where a point of the walk-around can be, apart from parts
	Labels     []string // labels that every language must have, whether texts use them or not
}

func (p *Program) directive(name string) *Directive {
	return find(p.Directives, func(d *Directive) bool { return d.Name == name })
}

// Language returns the texts in a language, or those of the language without region or
// script if there are none (RFC 4647, lookup; from memory). It returns nil if there are none.
func (t *Templates) Language(tag string) *Language {
	for t.languages[tag] == nil && strings.Contains(tag, "-") {
		tag = tag[:strings.LastIndexByte(tag, '-')]
	}
	return t.languages[tag]
}

// Texts returns what the texts say, with conditions and positions. For that all of them are compiled.
func (t *Templates) Texts() *proof.Texts {
	t.complete()
	return t.texts
}

// Prepare compiles the texts of the first unit of a run on all processors: its sections in a language, and its jobs.
// All others are compiled when they are reached.
func (t *Templates) Prepare(language string, has func(feature string) bool, jobs iter.Seq[*product.Task]) {
	t.prepared.Do(func() {
		lang := t.Language(language)
		if lang == nil {
			return
		}
		var compile []func()
		for _, s := range t.sections {
			if words := lang.Sections[s.ID]; words != nil && s.When.Holds(has) {
				compile = append(compile, func() { words() })
			}
		}
		for job := range jobs {
			if words := lang.Jobs[job.ID.Value]; words != nil {
				compile = append(compile, func() { words() })
			}
		}
		parallel.Each(len(compile), func(i int) { compile[i]() })
	})
}

// Languages returns the languages of the texts, sorted.
func (t *Templates) Languages() []string { return slices.Sorted(maps.Keys(t.languages)) }

// Sections returns all sections in the order of the outline, a section before its
// children. The list is shared and must not be modified.
func (t *Templates) Sections() []*Section { return t.sections }

// flatten returns sections and their descendants, each before its children.
func flatten(list []*Section) (all []*Section) {
	for _, s := range list {
		all = append(append(all, s), flatten(s.Parts)...)
	}
	return all
}

// Caution returns the caution with an id, or nil.
func (t *Templates) Caution(id string) *Caution {
	return find(t.Cautions, func(c *Caution) bool { return c.ID.Value == id })
}

func (t *Templates) trouble(id string) *Trouble {
	return find(t.Troubles, func(e *Trouble) bool { return e.ID.Value == id })
}

func (t *Templates) section(id string) *Section {
	if s := find(t.sections, func(s **Section) bool { return (*s).ID == id }); s != nil {
		return *s
	}
	return nil
}

// find returns the first element for which is returns true, or nil.
func find[T any](list []T, is func(*T) bool) *T {
	for i := range list {
		if is(&list[i]) {
			return &list[i]
		}
	}
	return nil
}

// mapped gives what each of a list stands for.
func mapped[T, R any](list []T, of func(T) R) []R {
	out := make([]R, len(list))
	for i, each := range list {
		out[i] = of(each)
	}
	return out
}

func keys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }
