package render

import (
	"ownerguide/render/doc"
	"ownerguide/render/template"
)

// besideTree returns the tree of a document beside the guide: the sections that this unit
// has and that asks returns a value for. A section whose parent is not in the document is
// a root: a side of the card or the leaf.
func (a *assembly) besideTree(has map[string]*chosen, asks func(*template.Section) string) (roots []*chosen) {
	in := map[string]*chosen{}
	for _, s := range a.templates.Sections() {
		if asks(s) == "" || has[s.ID] == nil {
			continue
		}
		c := &chosen{Section: s, words: has[s.ID].words, level: 1}
		in[s.ID] = c
		if s.Parent != nil && in[s.Parent.ID] != nil {
			in[s.Parent.ID].add(c)
		} else {
			roots = append(roots, c)
		}
	}
	return roots
}

// add adds a section below another.
func (c *chosen) add(child *chosen) {
	child.level = c.level + 1
	c.children = append(c.children, child)
}

// besideOf fills a document beside the guide; nil if it has no sections. Title is the
// label of its title.
func (a *assembly) besideOf(g *doc.Guide, tree []*chosen, title string) *doc.Guide {
	if len(tree) == 0 {
		return nil
	}
	a.beside, a.drawn = true, map[string]int{}
	defer func() { a.beside = false }()
	out := *g
	out.Card, out.Leaf, out.Index = nil, nil, nil
	out.Title = doc.Fill(a.label(title), "model", g.Model, "serial", g.Serial, "revision", g.Revision)
	out.Sections = nil
	for _, c := range tree {
		out.Sections = append(out.Sections, a.section(c))
	}
	return &out
}
