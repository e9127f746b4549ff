package render

import (
	"ownerguide/render/doc"
	"ownerguide/render/template"
)

// pointList lists the points with links, in the order of the walk.
func (a *assembly) pointList(_ *doc.Section, p *template.Block) []doc.Block {
	return a.listPoints(p, a.pointLink)
}

// listPoints returns a list with a line for each point; nothing if there are none.
func (a *assembly) listPoints(p *template.Block, line func(*chosen) []doc.Inline) []doc.Block {
	a.note(aboutPoints, "")
	list := &doc.List{Attributes: doc.Attributes{Origin: p.At}, Tight: true}
	for _, s := range a.pointSections() {
		list.Items = append(list.Items, itemOf(line(s)...))
	}
	if len(list.Items) == 0 {
		return nil
	}
	return []doc.Block{list}
}

// pointLink returns a link to a point, with its mark.
func (a *assembly) pointLink(s *chosen) []doc.Inline {
	return []doc.Inline{&doc.PointMark{Number: s.point}, text(" "), entry(a.internalLink(s.ID, a.plain(s.words.Title)))}
}

func (a *assembly) pointSections() (out []*chosen) {
	var walk func(list []*chosen)
	walk = func(list []*chosen) {
		for _, c := range list {
			if c.point > 0 {
				out = append(out, c)
			}
			walk(c.children)
		}
	}
	walk(a.chosen)
	return out
}

// handover lists the points of this unit with checkboxes.
func (a *assembly) handover(_ *doc.Section, p *template.Block) []doc.Block {
	return a.listPoints(p, func(s *chosen) []doc.Inline { return append([]doc.Inline{a.box()}, a.pointLink(s)...) })
}
