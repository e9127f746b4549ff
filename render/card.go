package render

import (
	"strings"

	"ownerguide/render/doc"
)

// due lists jobs by when they are due: those due at the same time share a
// row, and what decides between two counts is said once below.
func (a *assembly) due(_ *doc.Section, p *piece) []doc.Block {
	a.terse, a.either = true, false
	defer func() { a.terse = false }()
	t := a.newTable(doc.TableValues, a.argumentOr(p, ""))
	rows := map[string]*doc.Cell{}
	for i := range p.fence.body {
		line := &p.fence.body[i]
		if !line.when.Holds(a.has) {
			continue
		}
		when := cellOf(a.interval(strings.TrimPrefix(line.name, "interval."))...)
		key := doc.PlainText(when)
		if key == "" {
			continue // not a job of this unit
		}
		what, seen := rows[key]
		if seen {
			what.Inlines = append(what.Inlines, text(a.label("list.comma")))
		} else {
			what = cellOf()
			rows[key] = what
			row(t, when, what)
		}
		what.Inlines = append(what.Inlines, a.inlines(line.label)...)
	}
	out := rowsOf(t, p.at)
	if a.either {
		out = append(out, &doc.Paragraph{Attributes: doc.Attributes{Origin: p.at}, Inlines: []doc.Inline{text(a.label("interval.either"))}})
	}
	return out
}
