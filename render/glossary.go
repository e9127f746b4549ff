package render

import (
	"slices"
	"strings"

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
	if len(a.terms) == 0 {
		return
	}
	var all strings.Builder
	for n := range doc.Walk(sections) {
		switch n := n.(type) {
		case *doc.Text:
			all.WriteString(n.Content)
		case *doc.Value:
			all.WriteString(n.Printed)
		default:
			all.WriteByte(' ') // separates the words of two blocks
		}
	}
	text := strings.ToLower(all.String())
	for _, t := range a.terms {
		own := strings.ToLower(doc.PlainText(t.list))
		var kept []*doc.Item
		for i, item := range t.list.Items {
			if word := strings.ToLower(t.words[i]); doc.Uses(text, word) > doc.Uses(own, word) {
				kept = append(kept, item)
			}
		}
		t.list.Items = kept
	}
	for s := range doc.All[*doc.Section](sections) {
		s.Blocks = slices.DeleteFunc(s.Blocks, func(b doc.Block) bool {
			return slices.ContainsFunc(a.terms, func(t terms) bool { return b == doc.Block(t.list) && len(t.list.Items) == 0 })
		})
	}
}
