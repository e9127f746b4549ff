package render

import (
	"strings"

	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"

	"ownerguide/render/doc"
)

// dueInto lists jobs by when they are due: those due at the same time share a
// row, and what decides between two counts is said once below.
func (a *assembly) dueInto(parent ast.Node, p *piece) {
	a.terse, a.either = true, false
	defer func() { a.terse = false }()
	t := a.newTable(doc.TableValues, a.argumentOr(p, ""))
	rows := map[string]*extast.TableCell{}
	for i := range p.fence.body {
		line := &p.fence.body[i]
		if !a.applies(line.when, line.figures) {
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
