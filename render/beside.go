package render

import (
	"ownerguide/render/doc"
	"ownerguide/render/template"
)

// besideTree makes the tree of a document beside the guide from the sections
// that this unit has and that ask for it. A section whose parent does not
// begins the tree anew: it is a side of the card or the leaf.
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

// belongs reports whether a section and all it is part of belong to the unit.
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

// besideOf fills a document that goes with a guide; nil when no section is for
// it. Title is the label that names it.
func (a *assembly) besideOf(g *doc.Guide, tree []*chosen, title string) *doc.Guide {
	if len(tree) == 0 {
		return nil
	}
	a.beside, a.drawn = true, map[string]int{}
	defer func() { a.beside = false }()
	out := *g
	out.Card, out.Leaf = nil, nil
	out.Title = doc.Fill(a.label(title), "model", g.Model, "serial", g.Serial, "revision", g.Revision)
	out.Sections = nil
	for _, c := range tree {
		out.Sections = append(out.Sections, a.section(c))
	}
	return &out
}
