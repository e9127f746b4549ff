package render

import (
	"slices"

	"ownerguide/render/doc"
	"ownerguide/render/template"
)

// terms is a list of terms with their explanations.
type terms struct {
	list  *doc.List
	words []string // of the items
}

// glossary lists all terms; when the guide is complete, dropTerms keeps those it uses.
func (a *assembly) glossary(_ *doc.Section, p *template.Block) []doc.Block {
	var lines [][]template.Inline
	var words []string
	for i := range a.lang.Glossary {
		if t := &a.lang.Glossary[i]; t.When.Holds(a.has) {
			lines, words = append(lines, t.Line), append(words, t.Term)
		}
	}
	if len(lines) == 0 {
		return nil
	}
	list := a.bullets(lines)
	list.Origin = p.At
	a.terms = append(a.terms, terms{list, words})
	return []doc.Block{list}
}

// dropTerms removes from the glossaries the terms that the guide does not use elsewhere.
func (a *assembly) dropTerms(sections []*doc.Section) {
	for _, t := range a.terms {
		used := doc.UsedTerms(sections, t.list, t.words)
		var kept []*doc.Item
		for i, item := range t.list.Items {
			if used[t.words[i]] {
				kept = append(kept, item)
			}
		}
		if t.list.Items = kept; len(kept) > 0 {
			continue
		}
		for s := range doc.Sections(sections) {
			s.Blocks = slices.DeleteFunc(s.Blocks, func(b doc.Block) bool { return b == doc.Block(t.list) })
		}
	}
}
