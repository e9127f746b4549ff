package render

import (
	"slices"

	"github.com/yuin/goldmark/ast"

	"ownerguide/render/doc"
	"ownerguide/render/record"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

// sinceID is the paragraph that stands for what changed since the earlier
// revision until that is known. A guide made where the earlier one is not at
// hand keeps it, and it says so.
const sinceID = "since-revision"

// changesInto leaves room for what changed since the earlier revision, then
// lists the options fitted and taken off after delivery.
func (a *assembly) changesInto(parent ast.Node, p *piece) {
	since := ast.NewParagraph()
	since.AppendChild(since, text(a.label("since.unknown")))
	doc.SetID(since, sinceID)
	doc.SetOrigin(since, p.at)
	parent.AppendChild(parent, since)

	t := a.newTable(doc.TablePlain, a.label("table.changes"), "table.option", "table.change", "table.date")
	s := a.build.Sheet
	for _, list := range []struct {
		changes []sheet.Change
		label   string
	}{{s.Added, "change.added"}, {s.Removed, "change.removed"}} {
		for _, c := range list.changes {
			a.row(t, cellOf(text(a.optionText(c.Option.Value).Name.Value)), cellOf(text(a.label(list.label))), cellOf(text(c.Date.Value.String())))
		}
	}
	a.tableInto(parent, t, p.at)
}

// TellChanges writes into a guide what is different from the earlier revision,
// marks every block that the earlier one does not have word for word, and takes
// off the visits that only the earlier one has. Now
// is the record of this guide, made before.
func (t *Templates) TellChanges(g *doc.Guide, earlier, now *record.Record) source.Findings {
	a := &assembly{templates: t, base: t.languages[Base], lang: t.languages[g.Lang]}
	a.dropVisits(g, earlier)
	known := map[string][]string{}
	for _, s := range earlier.Sections {
		known[s.ID] = s.Blocks
	}
	_ = ast.Walk(g.Root, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		s, ok := n.(*doc.Section)
		if !ok || !entering {
			return ast.WalkContinue, nil
		}
		var room ast.Node
		for _, block := range record.Blocks(s) {
			switch {
			case doc.ID(block) == sinceID:
				room = block
			case s.Role != doc.RoleContents && !slices.Contains(known[s.ID], record.BlockDigest(block)):
				doc.SetChanged(block)
			}
		}
		if room != nil {
			a.tell(s, room, record.Compare(earlier, now))
		}
		return ast.WalkContinue, nil
	})
	return a.findings
}

// tell puts the changes in the place of the paragraph that held room for them.
func (a *assembly) tell(s *doc.Section, room ast.Node, c *record.Changes) {
	told := &telling{a, doc.Origin(room), ast.NewDocument(), map[string]string{"revision": c.From.Revision, "date": c.From.Issued}}
	told.list("since.options.added", c.Options.Added, false)
	told.list("since.options.removed", c.Options.Removed, false)
	told.figures(c.Values)
	told.list("since.cautions.added", c.Cautions.Added, false)
	told.list("since.cautions.removed", c.Cautions.Removed, false)
	told.list("since.tasks.added", c.Tasks.Added, true)
	told.list("since.tasks.removed", c.Tasks.Removed, false)
	told.list("since.stops.added", c.Stops.Added, true)
	told.list("since.stops.removed", c.Stops.Removed, false)
	told.list("since.sections.added", without(c.Sections.Added, append(ids(c.Tasks.Added, c.Stops.Added), s.ID)...), true)
	told.list("since.sections.removed", without(c.Sections.Removed, ids(c.Tasks.Removed, c.Stops.Removed)...), false)
	told.list("since.sections.changed", without(c.Sections.Changed, append(everNew(s.Parent()), s.ID)...), true)

	intro := "since.nothing"
	if told.root.HasChildren() {
		intro = "since.intro"
	}
	s.InsertBefore(s, room, told.sentence(intro))
	for n := told.root.FirstChild(); n != nil; n = told.root.FirstChild() {
		s.InsertBefore(s, room, n)
	}
	s.RemoveChild(s, room)
}

// telling is the list of changes being written.
type telling struct {
	*assembly
	at    source.Pos
	root  ast.Node
	words map[string]string // for the braces of labels
}

func (t *telling) sentence(label string) ast.Node {
	n := ast.NewParagraph()
	n.AppendChild(n, text(fill(t.label(label), t.words)))
	doc.SetOrigin(n, t.at)
	return n
}

func (t *telling) list(label string, names []record.Named, link bool) {
	if len(names) == 0 {
		return
	}
	items := ast.NewList('-')
	items.IsTight = true
	doc.SetOrigin(items, t.at)
	for _, n := range names {
		line, item := ast.NewParagraph(), ast.NewListItem(0)
		if link {
			line.AppendChild(line, t.internalLink(n.ID, n.Text))
		} else {
			line.AppendChild(line, text(n.Text))
		}
		item.AppendChild(item, line)
		items.AppendChild(items, item)
	}
	t.root.AppendChild(t.root, t.sentence(label))
	t.root.AppendChild(t.root, items)
}

// figures lists the figures that differ, as far as tables of the guide give
// them a name; those in running text have their mark in the margin.
func (t *telling) figures(values []record.ValueChange) {
	table := t.newTable(doc.TablePlain, t.label("since.figures"), "table.figure", "table.was", "table.is")
	for _, v := range values {
		if v.Printed && v.Label != "" {
			t.row(table, cellOf(text(v.Label)), cellOf(t.side(v.Old)), cellOf(t.side(v.New)))
		}
	}
	t.tableInto(t.root, table, t.at)
}

// side is a figure as it was or is; none when that guide has no such figure.
func (t *telling) side(figure string) ast.Node {
	if figure == "" {
		return text(t.label("since.none"))
	}
	if l, ok := t.lang.labels["enum."+figure]; ok {
		return text(l.Value)
	}
	return text(numberUnit.ReplaceAllString(figure, "$1\u00a0$2"))
}

// everNew are the sections that differ in every revision, whatever changed:
// the cover, which carries the date, and the contents.
func everNew(root ast.Node) (out []string) {
	for n := root.FirstChild(); n != nil; n = n.NextSibling() {
		if s, ok := n.(*doc.Section); ok && (s.Role == doc.RoleCover || s.Role == doc.RoleContents) {
			out = append(out, s.ID)
		}
	}
	return out
}

func without(list []record.Named, ids ...string) (out []record.Named) {
	for _, n := range list {
		if !slices.Contains(ids, n.ID) {
			out = append(out, n)
		}
	}
	return out
}

func ids(lists ...[]record.Named) (out []string) {
	for _, list := range lists {
		for _, n := range list {
			out = append(out, n.ID)
		}
	}
	return out
}
