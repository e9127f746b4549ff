package render

import (
	"strings"

	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"

	"ownerguide/render/doc"
)

// The card is half a sheet that hangs where the work is done. It is filled
// from the same sections, values and labels as the guide, so that the two
// cannot differ. What a section says under card in its front matter:
const (
	cardAlso = "also" // it stands in the guide and on the card
	cardOnly = "only" // it stands on the card and not in the guide
)

// chooseCard makes the tree of the card from the sections that this unit has.
// A section whose parent is not on the card begins a side of it.
func (a *assembly) chooseCard(has map[string]*chosen) {
	card := map[string]*chosen{}
	for _, s := range a.base.sections {
		if s.card != "" && whole(has, s) {
			card[s.id] = &chosen{section: s, words: has[s.id].words}
		}
	}
	for _, s := range a.base.sections {
		c := card[s.id]
		switch {
		case c == nil:
		case card[s.parent] != nil:
			card[s.parent].children = append(card[s.parent].children, c)
		default:
			a.card = append(a.card, c)
		}
	}
	level(a.card, 1)
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

// cardOf fills the card that goes with a guide; nil when no section is for it.
func (a *assembly) cardOf(g *doc.Guide) *doc.Guide {
	if len(a.card) == 0 {
		return nil
	}
	a.onCard, a.drawn = true, map[string]int{}
	defer func() { a.onCard = false }()
	card := *g
	card.Title = fill(a.label("card-title"), map[string]string{"model": g.Model, "serial": g.Serial})
	card.Root = ast.NewDocument()
	for _, c := range a.card {
		card.Root.AppendChild(card.Root, a.section(c))
	}
	return &card
}

// dueInto lists jobs by when they are due: those due at the same time share a
// row, and what decides between two counts is said once below.
func (a *assembly) dueInto(parent ast.Node, p *piece) {
	a.terse, a.either = true, false
	defer func() { a.terse = false }()
	t := a.newTable(doc.TableValues, a.argumentOr(p, ""))
	rows := map[string]*extast.TableCell{}
	for i := range p.fence.body {
		line := &p.fence.body[i]
		if !a.applies(line.when, line.values) {
			continue
		}
		when := extast.NewTableCell()
		a.intervalInto(when, strings.TrimPrefix(line.name, "interval."))
		key := doc.PlainText(when)
		if key == "" {
			continue // not a job of this unit
		}
		what, seen := rows[key]
		if seen {
			what.AppendChild(what, text(a.label("list.comma")))
		} else {
			what = extast.NewTableCell()
			rows[key] = what
			a.row(t, when, what)
		}
		a.inlinesInto(what, line.label)
	}
	a.tableInto(parent, t, p.at)
	if a.either {
		n := ast.NewParagraph()
		n.AppendChild(n, text(a.label("interval.either")))
		doc.SetOrigin(n, p.at)
		parent.AppendChild(parent, n)
	}
}
