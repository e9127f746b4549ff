package render

import (
	"cmp"
	"slices"

	"ownerguide/render/doc"
	"ownerguide/render/template"
	"ownerguide/spec/source"
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

// panel returns a caution in full. Readers ignore repeated panels: when the guide is
// complete, placePanels reduces all but one of each.
func (a *assembly) panel(c *template.Caution, p *template.Block) []doc.Block {
	words := a.lang.Cautions[c.ID.Value]
	if words == nil {
		a.noWords("caution", c.ID.Value, c.ID.At)
		return nil
	}
	n := a.emptyPanel(c, p.At)
	n.Brief = a.brief
	a.fillPanel(n, words, words.Avoid)
	if p.Call.Arg(1) == fullHere {
		a.fullHere[n] = true
	}
	return []doc.Block{n}
}

// The rank of places for a panel in full, the best first: where the text asks for it,
// since those steps are done without turning pages; work described in steps; any other
// text; and parts and jobs, which are used for reference.
const (
	asked = iota
	steps
	told
	lookedUp
)

// placePanels keeps one panel of each caution in full, the first one of the best rank, and
// reduces all others to a line that says what never to do and where the full panel
// is.
func (a *assembly) placePanels(sections []*doc.Section) {
	type place struct {
		n   *doc.Caution
		fit int
	}
	var order []string
	places := map[string][]place{}
	a.eachPanel(sections, steps, func(n *doc.Caution, fit int) {
		if a.fullHere[n] {
			fit = asked
		}
		if places[n.Name] == nil {
			order = append(order, n.Name)
		}
		places[n.Name] = append(places[n.Name], place{n, fit})
	})
	for _, name := range order {
		list := places[name]
		full := slices.MinFunc(list, func(x, y place) int { return cmp.Compare(x.fit, y.fit) }).n // MinFunc returns the first minimum
		full.ID = "caution-" + name
		for _, p := range list {
			if p.n != full {
				a.remind(p.n, a.lang.Cautions[name], full.ID)
			}
		}
	}
}

// eachPanel visits the panels in sections with the rank of their place; no rank is better than
// best.
func (a *assembly) eachPanel(sections []*doc.Section, best int, visit func(n *doc.Caution, fit int)) {
	for _, s := range sections {
		fit := best
		if s.Role == doc.RoleStop || s.Role == doc.RoleTask {
			fit = lookedUp
		}
		for i, b := range s.Blocks {
			switch b := b.(type) {
			case *doc.Section:
				a.eachPanel([]*doc.Section{b}, fit, visit)
			default:
				for c := range doc.All[*doc.Caution]([]doc.Block{b}) {
					if len(c.Hazard) > 0 {
						here := fit
						if !haveSteps(s.Blocks[i:]) {
							here = max(here, told)
						}
						visit(c, here)
					}
				}
			}
		}
	}
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

// emptyPanel returns a panel without text.
func (a *assembly) emptyPanel(c *template.Caution, at source.Pos) *doc.Caution {
	return &doc.Caution{Attributes: doc.Attributes{Origin: at}, Name: c.ID.Value, Word: doc.Word(c.Word.Value), Signal: a.label("signal." + c.Word.Value)}
}

// fillPanel fills in the text of a panel.
func (a *assembly) fillPanel(n *doc.Caution, words *template.CautionWords, avoid [][]template.Inline) {
	n.Hazard = a.inlines(words.Hazard)
	if !n.Brief {
		n.Consequence = a.inlines(words.Consequence)
	}
	for _, line := range avoid {
		n.Avoid = append(n.Avoid, a.inlines(line))
	}
}

// remind reduces a panel to a line that links to the full panel. Of how to avoid the
// hazard it keeps the last line: what never to do.
func (a *assembly) remind(n *doc.Caution, words *template.CautionWords, full string) {
	n.Brief, n.Full, n.Hazard, n.Consequence, n.Avoid = true, full, nil, nil, nil
	a.fillPanel(n, words, words.Avoid[max(len(words.Avoid)-1, 0):])
	if words.Short != nil {
		n.Hazard = a.inlines(words.Short)
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
		if a.beside { // documents beside the guide have no links into it
			out = append(out, a.panel(c, p)...)
			continue
		}
		n := a.emptyPanel(c, p.At)
		out = append(out, n)
		a.grave = append(a.grave, n)
	}
	return out
}

// fillGrave fills the panels of the gravest hazards when the guide is complete. One that is
// in full elsewhere becomes a line that links to it.
func (a *assembly) fillGrave(sections []*doc.Section) {
	full := map[string]string{} // id of the full panel of each caution
	for c := range doc.All[*doc.Caution](sections) {
		if c.ID != "" {
			full[c.Name] = c.ID
		}
	}
	for _, n := range a.grave {
		words := a.lang.Cautions[n.Name]
		if words == nil {
			continue // reported where the caution is filled
		}
		linked := slices.ContainsFunc(words.Hazard, func(in template.Inline) bool { return in.Kind == template.Link })
		if place := full[n.Name]; place != "" && !linked {
			a.remind(n, words, place)
			n.Avoid = nil // the list is an index of the panels, one line for each
		} else {
			a.fillPanel(n, words, words.Avoid)
		}
	}
}
