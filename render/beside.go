package render

import (
	"ownerguide/render/doc"
)

// Two short documents stand beside the guide: the card, half a sheet that hangs
// where the work is done, and the mail the guide is sent with. Both are filled
// from the same sections, values and labels as the guide, so that they cannot
// differ from it. What a section says under card or mail in its front matter:
const (
	also = "also" // it stands in the guide and there
	only = "only" // it stands there and not in the guide
)

// inGuide tells whether a section is a part of the guide itself.
func (s *section) inGuide() bool { return s.card != only && s.mail != only }

// mailCannotHold lists the blocks that no mail program shows as they are meant.
var mailCannotHold = []string{"contents", "drawing", "form", "log", "logo", "provenance", "tasks"}

// checkBeside refuses blocks that make no sense outside the guide.
func (l *loader) checkBeside(s *section) {
	eachPiece(s.body, true, func(p *piece, _ bool) {
		if p.fence == nil {
			return
		}
		if s.card != "" && p.fence.kind == "contents" {
			l.findings.Add(codeFence.At(p.at, "a section for the card cannot hold the contents of the guide"))
		}
		for _, kind := range mailCannotHold {
			if s.mail != "" && p.fence.kind == kind {
				l.findings.Add(codeFence.At(p.at, "a section for the mail cannot hold a block of kind %s", kind))
			}
		}
	})
}

// besideTree makes the tree of a document beside the guide from the sections
// that this unit has and that ask for it. A section whose parent does not
// begins the tree anew: it is a side of the card.
func (a *assembly) besideTree(has map[string]*chosen, asks func(*section) string) (roots []*chosen) {
	in := map[string]*chosen{}
	for _, s := range a.base.sections {
		if asks(s) != "" && whole(has, s) {
			in[s.id] = &chosen{section: s, words: has[s.id].words}
		}
	}
	for _, s := range a.base.sections {
		c := in[s.id]
		switch {
		case c == nil:
		case in[s.parent] != nil:
			in[s.parent].children = append(in[s.parent].children, c)
		default:
			roots = append(roots, c)
		}
	}
	level(roots, 1)
	return roots
}

// whole tells whether a section and all it is part of belong to the unit.
func whole(has map[string]*chosen, s *section) bool {
	c := has[s.id]
	for c != nil && c.parent != "" {
		c = has[c.parent]
	}
	return c != nil
}

func level(list []*chosen, depth int) {
	for _, c := range list {
		c.level = depth
		level(c.children, depth+1)
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
	out.Card = nil
	out.Title = fill(a.label(title), map[string]string{"model": g.Model, "serial": g.Serial, "revision": g.Revision})
	out.Sections = nil
	for _, c := range tree {
		out.Sections = append(out.Sections, a.section(c))
	}
	return &out
}
