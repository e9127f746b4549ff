package render

import (
	"slices"

	"ownerguide/render/doc"
	"ownerguide/render/record"
	"ownerguide/render/template"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

// sinceID is the id of the placeholder for the changes since the earlier revision. It
// remains, with a text that says so, if the earlier revision is not available.
const sinceID = "since-revision"

// changes returns the placeholder for the changes since the earlier revision, and a table
// of the options added and removed after delivery.
func (a *assembly) changes(_ *doc.Section, p *template.Block) []doc.Block {
	since := &doc.Paragraph{Attributes: doc.Attributes{ID: sinceID, Origin: p.At, History: true}, Inlines: []doc.Inline{text(a.label("since.unknown"))}}
	t := a.newTable(doc.TablePlain, a.label("table.changes"), "table.option", "table.change", "table.date")
	s := a.build.Sheet
	for _, list := range []struct {
		changes []sheet.Change
		label   string
	}{{s.Added, "change.added"}, {s.Removed, "change.removed"}} {
		for _, c := range list.changes {
			row(t, cellOf(text(a.optionText(c.Option.Value).Name.Value)), cellOf(text(a.label(list.label))), cellOf(text(a.date(c.Date.Value))))
		}
	}
	return append([]doc.Block{since}, rowsOf(t, p.At)...)
}

// tellChanges writes the differences from the earlier revision into a guide, marks every
// block that the earlier one does not have word for word, and cancels the visits that only
// the earlier one has. Now is the record of this guide.
func (a *assembly) tellChanges(g *doc.Guide, earlier, now *record.Record) {
	a.dropVisits(g, earlier)
	known := map[string][]string{}
	for _, s := range earlier.Sections {
		known[s.ID] = s.Blocks
	}
	for s := range doc.Sections(g.Sections) {
		for _, part := range record.Blocks(s) {
			if s.Role != doc.RoleContents && !slices.Contains(known[s.ID], record.BlockDigest(part)) {
				part.Attr().Changed = true
			}
		}
		room := slices.IndexFunc(s.Blocks, func(b doc.Block) bool { return b.Attr().ID == sinceID })
		if room >= 0 {
			told := a.tell(s, everNew(g.Sections), s.Blocks[room].Attr().Origin, record.Compare(earlier, now), earlier.ByLine)
			s.Blocks, g.Index = slices.Concat(s.Blocks[:room], told, s.Blocks[room+1:]), nil
		}
	}
}

// tell returns the blocks that replace the placeholder for the changes. EverNew is the
// sections that always change, byLine the names of figures that differ because of the
// line.
func (a *assembly) tell(s *doc.Section, everNew []string, at source.Pos, c *record.Changes, byLine []string) []doc.Block {
	told := &telling{a, at, nil, []string{"revision", c.From.Revision, "date", a.isoDate(c.From.Issued)}}
	told.list("since.options.added", c.Options.Added, false)
	told.list("since.options.removed", c.Options.Removed, false)
	told.figures("since.figures", c.Values, func(name string) bool { return !slices.Contains(byLine, name) })
	told.figures("since.line", c.Values, func(name string) bool { return slices.Contains(byLine, name) })
	told.list("since.cautions.added", c.Cautions.Added, false)
	told.list("since.cautions.removed", c.Cautions.Removed, false)
	told.list("since.tasks.added", c.Tasks.Added, true)
	told.list("since.tasks.removed", c.Tasks.Removed, false)
	told.list("since.stops.added", c.Stops.Added, true)
	told.list("since.stops.removed", c.Stops.Removed, false)
	told.list("since.sections.added", record.Without(c.Sections.Added, append(record.IDs(c.Tasks.Added, c.Stops.Added), s.ID)...), true)
	told.list("since.sections.removed", record.Without(c.Sections.Removed, record.IDs(c.Tasks.Removed, c.Stops.Removed)...), false)
	told.list("since.sections.changed", record.Without(c.Sections.Changed, append(everNew, s.ID)...), true)

	intro := "since.nothing"
	if len(told.blocks) > 0 {
		intro = "since.intro"
	}
	out := append([]doc.Block{told.say(intro)}, told.blocks...)
	for _, b := range out {
		b.Attr().History = true
	}
	return out
}

// telling is the list of changes while it is written.
type telling struct {
	*assembly
	at     source.Pos
	blocks []doc.Block
	words  []string // for the placeholders of labels: name, word
}

func (t *telling) say(label string) doc.Block {
	return &doc.Paragraph{Attributes: doc.Attributes{Origin: t.at}, Inlines: []doc.Inline{text(doc.Fill(t.label(label), t.words...))}}
}

func (t *telling) list(label string, names []record.Named, link bool) {
	if len(names) == 0 {
		return
	}
	items := &doc.List{Attributes: doc.Attributes{Origin: t.at}, Tight: true}
	for _, n := range names {
		var line doc.Inline = text(n.Text)
		if link {
			line = t.internalLink(n.ID, n.Text)
		}
		items.Items = append(items.Items, itemOf(line))
	}
	t.blocks = append(t.blocks, t.say(label), items)
}

// figures lists the figures that differ and have a label in a table of the guide; those in
// running text have a change bar.
func (t *telling) figures(label string, values []record.ValueChange, of func(name string) bool) {
	table := t.newTable(doc.TablePlain, t.label(label), "table.figure", "table.was", "table.is")
	for _, v := range values {
		if v.Printed && v.Label != "" && of(v.Name) {
			row(table, cellOf(text(v.Label)), cellOf(t.side(v.Old)), cellOf(t.side(v.New)))
		}
	}
	t.blocks = append(t.blocks, rowsOf(table, t.at)...)
}

// side returns an old or new figure, or the label for none.
func (t *telling) side(figure string) doc.Inline {
	if figure == "" {
		return text(t.label("since.none"))
	}
	if l, ok := t.lang.Labels["enum."+figure]; ok {
		return text(l.Value)
	}
	if day := t.isoDate(figure); day != figure {
		return text(day)
	}
	return text(numberUnit().ReplaceAllString(figure, "$1\u00a0$2"))
}

// everNew returns the sections that differ in every revision: the cover, which has the
// date, and the contents.
func everNew(sections []*doc.Section) (out []string) {
	for _, s := range sections {
		if s.Role == doc.RoleCover || s.Role == doc.RoleContents {
			out = append(out, s.ID)
		}
	}
	return out
}
