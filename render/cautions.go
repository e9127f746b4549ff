package render

import (
	"cmp"
	"slices"

	"ownerguide/render/doc"
	"ownerguide/render/template"
)

// gravity is the rank of signal words, the gravest first.
var gravity = map[doc.Word]int{doc.Danger: 0, doc.Warning: 1, doc.Care: 2, doc.Notice: 3}

// fullHere is the argument after a caution's name that requires the full panel here.
const fullHere = "full"

// caution fills the block of a caution.
func (a *assembly) caution(_ *doc.Section, p *template.Block) []doc.Block {
	c := a.templates.Caution(p.Call.Arg(0))
	if !c.When.Holds(a.has) {
		return nil
	}
	return a.panel(c, p)
}

// panel returns a caution. In the guide it is without text until placePanels knows whether it is the one in full.
func (a *assembly) panel(c *template.Caution, p *template.Block) []doc.Block {
	words := a.lang.Cautions[c.ID.Value]
	if words == nil {
		a.noWords("caution", c.ID.Value, c.ID.At)
		return nil
	}
	n := &doc.Caution{Attributes: doc.Attributes{Origin: p.At}, Name: c.ID.Value, Word: doc.Word(c.Word.Value), Signal: a.label("signal." + c.Word.Value), Brief: a.brief}
	if a.beside { // documents beside the guide have no links into it
		a.fillPanel(n, words)
	} else {
		a.panels[n] = p
	}
	return []doc.Block{n}
}

// The rank of places for a panel in full, the best first: where the text asks for it,
// since those steps are done without turning pages; work described in steps; any other
// text; parts and jobs, which are used for reference; and never the list of the gravest.
const (
	asked = iota
	steps
	told
	lookedUp
	collected
)

// place is where a panel stands.
type place struct {
	n   *doc.Caution
	at  *doc.Block // nil if it is a part of another block
	fit int
}

// placePanels fills one panel of each caution in full, the first one of the best rank, and
// all others with a line that says what never to do and where the full panel is.
func (a *assembly) placePanels(sections []*doc.Section) {
	list := a.places(sections, steps, nil)
	full := map[string]place{} // by caution
	for _, p := range list {
		if best, met := full[p.n.Name]; p.fit != collected && (!met || p.fit < best.fit) {
			full[p.n.Name] = p
		}
	}
	for _, p := range list {
		n, id, words := p.n, "caution-"+p.n.Name, a.lang.Cautions[p.n.Name]
		linked := slices.ContainsFunc(words.Hazard, func(in template.Inline) bool { return in.Kind == template.Link })
		if best := full[n.Name].n; best != nil && best != n && (p.fit != collected || !linked) {
			n.Full, n.Brief = id, true
		} else if p.fit != collected {
			n.ID = id
		}
		fill := func() []doc.Block {
			if a.fillPanel(n, words); n.Full != "" && p.fit == collected {
				n.Avoid = nil // the list is an index of the panels, one line for each
			}
			return []doc.Block{n}
		}
		if p.at == nil {
			fill()
		} else {
			*p.at = a.share(keptKey{text: a.panels[n], about: n.Name, like: n.Full}, fill)[0]
		}
	}
}

// places appends the places of the panels in sections; no rank is better than best.
func (a *assembly) places(sections []*doc.Section, best int, list []place) []place {
	for _, s := range sections {
		fit := best
		if s.Role == doc.RoleStop || s.Role == doc.RoleTask {
			fit = lookedUp
		}
		for i, b := range s.Blocks {
			if part, ok := b.(*doc.Section); ok {
				list = a.places([]*doc.Section{part}, fit, list)
			} else if !doc.IsShared(b) {
				for n := range doc.All[*doc.Caution]([]doc.Block{b}) {
					p := place{n, &s.Blocks[i], fit}
					if b != doc.Block(n) {
						p.at = nil
					}
					switch call := a.panels[n].Call; {
					case call.Name == "safety":
						p.fit = collected
					case call.Arg(1) == fullHere:
						p.fit = asked
					case !haveSteps(s.Blocks[i:]):
						p.fit = max(fit, told)
					}
					list = append(list, p)
				}
			}
		}
	}
	return list
}

// haveSteps reports whether blocks contain an ordered list.
func haveSteps(blocks []doc.Block) bool {
	for l := range doc.All[*doc.List](blocks) {
		if l.Ordered {
			return true
		}
	}
	return false
}

// fillPanel fills in the text of a panel. Of how to avoid the hazard one that leads to another keeps the last line: what never to do.
func (a *assembly) fillPanel(n *doc.Caution, words *template.CautionWords) {
	hazard, avoid := words.Hazard, words.Avoid
	if n.Full != "" {
		avoid = avoid[max(len(avoid)-1, 0):]
		if words.Short != nil {
			hazard = words.Short
		}
	}
	n.Hazard = a.inlines(hazard)
	if !n.Brief {
		n.Consequence = a.inlines(words.Consequence)
	}
	for _, line := range avoid {
		n.Avoid = append(n.Avoid, a.inlines(line))
	}
}

// safety returns the gravest cautions of this unit, the gravest signal word first.
func (a *assembly) safety(_ *doc.Section, p *template.Block) (out []doc.Block) {
	var grave []*template.Caution
	for i := range a.templates.Cautions {
		if c := &a.templates.Cautions[i]; c.Grave.Value && c.When.Holds(a.has) {
			grave = append(grave, c)
		}
	}
	slices.SortStableFunc(grave, func(x, y *template.Caution) int {
		return cmp.Compare(gravity[doc.Word(x.Word.Value)], gravity[doc.Word(y.Word.Value)])
	})
	for _, c := range grave {
		out = append(out, a.panel(c, p)...)
	}
	return out
}
