package template

import (
	"ownerguide/spec/logic"
	"ownerguide/spec/source"
)

type word = source.Given[string]

// entry is a section in the outline, independent of language: its place and condition.
type entry struct {
	ID word `yaml:"id,required" doc:"The section's id, which is its address. Its words are in the file of that name in templates/en/sections."`
	logic.Conditional
	Role   word               `yaml:"role" oneof:"cover contents statement form" doc:"What kind of section it is, where it is no plain one."`
	Point  word               `yaml:"point" doc:"Makes it a point of the walk-around: the part that carries its number in the drawing."`
	Part   word               `yaml:"part" doc:"Begins a part of the guide with this chapter, or with the first after it that a unit has: its name is the label part.NAME."`
	Listed source.Given[bool] `yaml:"listed" doc:"Whether the contents on paper name the section below its chapter, because it is looked up."`
	Card   word               `yaml:"card" oneof:"also only" doc:"Whether it also stands, or only stands, on the half-sheet card."`
	Leaf   word               `yaml:"leaf" oneof:"also only" doc:"Whether it also stands, or only stands, on the leaf that is signed at the hand-over."`
	Mail   word               `yaml:"mail" oneof:"also only" doc:"Whether it also stands, or only stands, in the mail to the buyer."`
	From   []word             `yaml:"from" doc:"Sections at whose end a line leads to this one: a trouble list is looked for at its part."`
	After  word               `yaml:"after" doc:"In a file of your own: the section it follows, in the same place of the outline."`
	In     word               `yaml:"in" doc:"In a file of your own: the section at whose end it stands."`
}

// The outline has three levels: chapters, sections, and parts of sections.
type (
	chapterEntry struct {
		entry
		Sections []sectionEntry `yaml:"sections" doc:"The sections of the chapter, in order."`
	}
	sectionEntry struct {
		entry
		Sections []entry `yaml:"sections" doc:"The parts of the section, in order."`
	}
)

// SystemsFolder is the folder, beside the files of one kind, of files that hold of all kinds what
// belongs together, such as one for each system of a maker's own.
const SystemsFolder = "systems"

// systemFile is such a file free of language, systemWords one in a language.
type (
	systemFile struct {
		Outline  []chapterEntry `yaml:"outline" doc:"Sections and points, as in outline.yaml."`
		Cautions []Caution      `yaml:"cautions" doc:"Hazards and their cautions, as in cautions.yaml."`
		Trouble  []Trouble      `yaml:"trouble" doc:"Trouble entries, as in trouble.yaml."`
	}
	systemWords struct {
		Sections source.Map[sectionText] `yaml:"sections" doc:"The words of sections and points by id, in place of a file of that name in sections."`
		Tasks    source.Map[jobText]     `yaml:"tasks" doc:"The words of jobs by id, in place of a file of that name in tasks."`
		Cautions source.Map[cautionFile] `yaml:"cautions" doc:"The words of cautions, as in cautions.yaml."`
		Trouble  source.Map[troubleFile] `yaml:"trouble" doc:"The words of trouble entries, as in trouble.yaml."`
		Glossary source.Map[termFile]    `yaml:"glossary" doc:"Terms, as in glossary.yaml."`
		Labels   source.Map[word]        `yaml:"labels" doc:"Short words, as in labels.yaml."`
	}
	sectionText struct {
		sectionHead
		Text word `yaml:"text,required" doc:"The Markdown of the section, behind a bar | in lines of its own."`
	}
	jobText struct {
		jobHead
		Text word `yaml:"text,required" doc:"The Markdown of the job, behind a bar | in lines of its own."`
	}
)

// sectionHead and jobHead are the front matter of Markdown files.
type (
	sectionHead struct {
		Title word `yaml:"title,required" doc:"The heading."`
		Short word `yaml:"short" doc:"A shorter heading for the edge of the page."`
	}
	jobHead struct {
		Title word   `yaml:"title,required" doc:"The heading of the job."`
		Tools word   `yaml:"tools" doc:"The tools it takes, in one line."`
		At    []word `yaml:"at" doc:"Sections that tell the job at their end, in place of a section of its own: the first of them that a unit has."`
	}
)

// Caution is the language-independent part of a hazard and its panel.
type Caution struct {
	ID    word               `yaml:"id,required" doc:"The id of the hazard and its caution, by which texts place it."`
	Word  word               `yaml:"word,required" oneof:"danger warning caution notice" doc:"The signal word. Danger will kill or maim if it is not avoided, warning could, caution means minor or moderate injury, notice means property only."`
	Grave source.Given[bool] `yaml:"grave" doc:"Whether it also stands in the safety chapter."`
	In    []word             `yaml:"in" doc:"Sections and jobs that its panel opens. A text may also place it itself, before the step it protects."`
	logic.Conditional
}

type cautionFile struct {
	Hazard      word   `yaml:"hazard,required" doc:"What is dangerous."`
	Short       word   `yaml:"short" doc:"The hazard in a few words, for the lines that remind of the panel. Left out, it is told there in full."`
	Consequence word   `yaml:"consequence,required" doc:"What can happen."`
	Avoid       []word `yaml:"avoid,required" doc:"How to avoid it. Each entry begins with a verb, or with Never and a verb."`
}

// Trouble is the language-independent part of a trouble entry.
type Trouble struct {
	ID     word `yaml:"id,required" doc:"The entry's id."`
	System word `yaml:"system,required" doc:"The heading it is filed under."`
	logic.Conditional
}

type troubleFile struct {
	Symptom word   `yaml:"symptom,required" doc:"What the owner notices."`
	Short   word   `yaml:"short" doc:"The symptom in a few words behind the heading it is filed under, for the index. Left out, it is told there in full."`
	Cause   []word `yaml:"cause" doc:"Likely causes that no remedy names, the likeliest first."`
	Do      []word `yaml:"do,required" doc:"What to do, in order."`
	Stop    []word `yaml:"stop,required" doc:"When to stop using the unit."`
}

type statementFile struct {
	Title      word   `yaml:"title,required" doc:"The heading."`
	Language   word   `yaml:"language" doc:"The language it is prescribed in, such as es. English where it is left out."`
	Citation   word   `yaml:"citation,required" doc:"The regulation that prescribes the text."`
	Basis      word   `yaml:"basis,required" oneof:"memory read" doc:"How the wording is known."`
	Paragraphs []word `yaml:"paragraphs" doc:"The text, a paragraph an entry."`
	Steps      []word `yaml:"steps" doc:"The text as numbered steps."`
}

// FileShapes returns the kinds of YAML files among the templates, for documentation and
// editors.
func FileShapes() []source.FileShape {
	return []source.FileShape{
		{Name: "outline", Where: "templates/outline.yaml", Shape: source.ShapeFor[[]chapterEntry]()},
		{Name: "caution", Where: "templates/cautions.yaml", Shape: source.ShapeFor[[]Caution]()},
		{Name: "caution-words", Where: "templates/*/cautions.yaml", Shape: source.ShapeFor[source.Map[cautionFile]]()},
		{Name: "trouble", Where: "templates/trouble.yaml", Shape: source.ShapeFor[[]Trouble]()},
		{Name: "trouble-words", Where: "templates/*/trouble.yaml", Shape: source.ShapeFor[source.Map[troubleFile]]()},
		{Name: "section", Where: "the front matter of templates/*/sections/*.md", Shape: source.ShapeFor[sectionHead]()},
		{Name: "job", Where: "the front matter of templates/*/tasks/*.md", Shape: source.ShapeFor[jobHead]()},
		{Name: "glossary", Where: "templates/*/glossary.yaml", Shape: source.ShapeFor[source.Map[termFile]]()},
		{Name: "statement", Where: "templates/statements/*.yaml", Shape: source.ShapeFor[statementFile]()},
		{Name: "system", Where: "templates/systems/*.yaml", Shape: source.ShapeFor[systemFile]()},
		{Name: "system-words", Where: "templates/*/systems/*.yaml", Shape: source.ShapeFor[systemWords]()},
		{Name: "label", Where: "templates/*/labels.yaml", Shape: source.ShapeFor[source.Map[word]]()},
	}
}
