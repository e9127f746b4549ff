package render

import (
	"cmp"
	"fmt"
	"slices"

	"ownerguide/render/doc"
	"ownerguide/render/template"
	"ownerguide/spec/source"
)

// gravity gives the order of signal words, the gravest first.
var gravity = map[doc.Word]int{doc.Danger: 0, doc.Warning: 1, doc.Care: 2, doc.Notice: 3}

// caution fills the block of a caution.
func (a *assembly) caution(_ *doc.Section, p *template.Block) []doc.Block {
	c := a.templates.Caution(p.Call.Arg(0))
	if !c.When.Holds(a.has) {
		return nil
	}
	return a.panel(c, p.At)
}

// panel gives a caution. A wall of equal panels is not read: within a chapter
// the first is given in full, each further one as a line that says what never to
// do and where the panel stands.
func (a *assembly) panel(c *template.Caution, at source.Pos) []doc.Block {
	words := a.lang.Cautions[c.ID.Value]
	if words == nil {
		a.noWords("caution", c.ID.Value, c.ID.At)
		return nil
	}
	n := a.emptyPanel(c, at)
	full := a.shown[n.Name]
	switch {
	case a.brief:
		n.Brief = true
		a.fillPanel(n, words, words.Avoid)
	case full != "":
		a.remind(n, words, full)
	default:
		a.fillPanel(n, words, words.Avoid)
		n.ID = "caution-" + n.Name
		if a.panels[n.Name]++; a.panels[n.Name] > 1 {
			n.ID = fmt.Sprintf("%s-%d", n.ID, a.panels[n.Name])
		}
		a.shown[n.Name] = n.ID
	}
	return []doc.Block{n}
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
	n.Brief, n.Full = true, full
	a.fillPanel(n, words, words.Avoid[max(len(words.Avoid)-1, 0):])
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
			out = append(out, a.panel(c, p.At)...)
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
	full := map[string]string{} // where each caution stands in full first
	for n := range doc.Walk(sections) {
		if c, ok := n.(*doc.Caution); ok && !c.Brief && len(c.Hazard) > 0 && full[c.Name] == "" {
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
		} else {
			a.fillPanel(n, words, words.Avoid)
		}
	}
}
