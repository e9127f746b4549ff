package render

import (
	"cmp"
	"slices"

	"ownerguide/render/doc"
	"ownerguide/render/template"
	"ownerguide/spec/source"
)

// gravity gives the order of signal words, the gravest first.
var gravity = map[doc.Word]int{doc.Danger: 0, doc.Warning: 1, doc.Care: 2, doc.Notice: 3}

// fullHere is the word behind a caution's name where its panel stands in full.
const fullHere = "full"

// caution fills the block of a caution.
func (a *assembly) caution(_ *doc.Section, p *template.Block) []doc.Block {
	c := a.templates.Caution(p.Call.Arg(0))
	if !c.When.Holds(a.has) {
		return nil
	}
	return a.panel(c, p)
}

// panel returns a caution in full. A wall of equal panels is not read: once the
// guide is whole, placePanels leaves one of each.
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

// How fit a place is for a panel in full, the fittest first: one that its text
// asks for, since the steps there are worked with no other page in hand; work
// told in steps; any other text; and parts and jobs, which are looked up.
const (
	asked = iota
	steps
	told
	lookedUp
)

// placePanels makes every panel of a guide but one of each caution a line that
// says what never to do and where the panel stands. That is the first of the
// fittest places.
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
		full := slices.MinFunc(list, func(x, y place) int { return cmp.Compare(x.fit, y.fit) }).n // the first of the least
		full.ID = "caution-" + name
		for _, p := range list {
			if p.n != full {
				a.remind(p.n, a.lang.Cautions[name], full.ID)
			}
		}
	}
}

// eachPanel visits the panels below sections, with how fit their place is; with
// best, none is fitter than that.
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

// haveSteps reports whether there are steps in blocks.
func haveSteps(blocks []doc.Block) bool {
	for l := range doc.All[*doc.List](blocks) {
		if l.Ordered {
			return true
		}
	}
	return false
}

// emptyPanel starts a safety panel.
func (a *assembly) emptyPanel(c *template.Caution, at source.Pos) *doc.Caution {
	return &doc.Caution{Attributes: doc.Attributes{Origin: at}, Name: c.ID.Value, Word: doc.Word(c.Word.Value), Signal: a.label("signal." + c.Word.Value)}
}

// fillPanel writes what a panel says.
func (a *assembly) fillPanel(n *doc.Caution, words *template.CautionWords, avoid [][]template.Inline) {
	n.Hazard = a.inlines(words.Hazard)
	if !n.Brief {
		n.Consequence = a.inlines(words.Consequence)
	}
	for _, line := range avoid {
		n.Avoid = append(n.Avoid, a.inlines(line))
	}
}

// remind makes a panel a line that leads to the panel in full. Of how to avoid
// the hazard it says the last: what never to do.
func (a *assembly) remind(n *doc.Caution, words *template.CautionWords, full string) {
	n.Brief, n.Full, n.Hazard, n.Consequence, n.Avoid = true, full, nil, nil, nil
	a.fillPanel(n, words, words.Avoid[max(len(words.Avoid)-1, 0):])
	if words.Short != nil {
		n.Hazard = a.inlines(words.Short)
	}
}

// safety repeats the gravest cautions of this unit, the gravest word first.
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
		if a.beside { // from there nothing leads into the guide
			out = append(out, a.panel(c, p)...)
			continue
		}
		n := a.emptyPanel(c, p.At)
		out = append(out, n)
		a.grave = append(a.grave, n)
	}
	return out
}

// fillGrave writes the panels of the gravest dangers once the guide is whole.
// One that stands with its work in full is a line that leads to it.
func (a *assembly) fillGrave(sections []*doc.Section) {
	full := map[string]string{} // where each caution stands in full
	for c := range doc.All[*doc.Caution](sections) {
		if c.ID != "" {
			full[c.Name] = c.ID
		}
	}
	for _, n := range a.grave {
		words := a.lang.Cautions[n.Name]
		if words == nil {
			continue // that is reported where the caution is filled
		}
		linked := slices.ContainsFunc(words.Hazard, func(in template.Inline) bool { return in.Kind == template.Link })
		if place := full[n.Name]; place != "" && !linked {
			a.remind(n, words, place)
			n.Avoid = nil // the list is an index of the panels, a line for each
		} else {
			a.fillPanel(n, words, words.Avoid)
		}
	}
}
