package template

import (
	"slices"

	"ownerguide/spec/logic"
	"ownerguide/spec/proof"
	"ownerguide/spec/source"
)

// TermWords explains a term in a language.
type TermWords struct {
	At   source.Pos
	Term string // the term as used in texts
	Line []Inline
	When logic.Condition
}

type termFile struct {
	Term word `yaml:"term,required" doc:"The term as the texts use it, such as GVWR. A guide that does not use it leaves it out."`
	Says word `yaml:"says,required" doc:"What goes on behind the term to a sentence that says in plain words what it means. It can begin with a condition."`
}

// glossary reads the glossary of a language, in the order of its file.
func (l *loader) glossary(lang *Language, beside []source.Map[termFile]) {
	name := lang.Name + "/glossary.yaml"
	if !l.folder.Has(name) && len(slices.Concat(beside...)) == 0 {
		return
	}
	for _, item := range source.ReadMap(l.folder, name, beside) {
		v := item.Value
		line := []Inline{{Kind: Emphasis, Strong: true, Inlines: []Inline{{Kind: Text, Text: v.Term.Value, At: v.Term.At}}, At: v.Term.At}}
		line = append(line, Inline{Kind: Text, Text: " ", At: v.Says.At})
		says := compileLine(v.Says.Value, v.Says.At, &l.folder.Findings)
		lang.Glossary = append(lang.Glossary, TermWords{item.KeyAt, v.Term.Value, append(line, says.Inlines...), says.When})
	}
}

// terms collects from the glossary, which is printed where its block is.
func (c *collector) terms() {
	for i := range c.lang.Glossary {
		t := &c.lang.Glossary[i]
		c.in = "the glossary"
		c.passage("term", t.When.String(), t.At, t.Line)
		c.inlines(t.Line, c.gate(t.When, atom(proof.Glossary, "all")))
	}
}
