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
		if asks(s) != "" && belongs(has, s) {
			in[s.ID] = &chosen{Section: s, words: has[s.ID].words}
		}
	}
	for _, s := range a.templates.Sections() {
		c := in[s.ID]
		switch {
		case c == nil:
		case s.Parent != nil && in[s.Parent.ID] != nil:
			around := in[s.Parent.ID]
			around.children = append(around.children, c)
		default:
			roots = append(roots, c)
		}
	}
	setLevels(roots, 1)
	return roots
}

// belongs reports whether the unit has a section and all its ancestors.
func belongs(has map[string]*chosen, s *template.Section) bool {
	for up := s; up != nil; up = up.Parent {
		if has[up.ID] == nil {
			return false
		}
	}
	return true
}

func setLevels(list []*chosen, depth int) {
	for _, c := range list {
		c.level = depth
		setLevels(c.children, depth+1)
	}
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
