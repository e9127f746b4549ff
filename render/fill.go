package render

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"ownerguide/render/doc"
	"ownerguide/render/template"
	"ownerguide/spec/derive"
	"ownerguide/spec/source"
)

// bodyInto fills the blocks of a section. A heading opens a section that extends to the
// next heading of the same or a higher level; without content it is
// omitted.
func (a *assembly) bodyInto(s *doc.Section, body []template.Block) {
	for i, n := 0, 0; i < len(body); i++ {
		b := &body[i]
		if b.Kind != template.Heading {
			s.Blocks = append(s.Blocks, a.shared(s, b)...)
			continue
		}
		end := template.HeadingEnd(body, i)
		n++
		if b.When.Holds(a.has) {
			sub := &doc.Section{Attributes: doc.Attributes{ID: cmp.Or(a.first, fmt.Sprintf("%s-%d", s.ID, n))}, Level: min(s.Level+1, 6), Role: doc.RolePlain}
			a.first = ""
			sub.Heading = a.heading(0, b.Inlines, b.At)
			sub.Short = a.plain(b.Inlines)
			a.bodyInto(sub, body[i+1:end])
			if len(sub.Blocks) > 0 {
				s.Blocks = append(s.Blocks, sub)
			}
		}
		i = end - 1
	}
}

// exists reports whether the unit has a value or a word of sheet or line.
func (a *assembly) exists(name string) bool {
	if derive.IsDeclared(name) {
		_, ok := a.values.Lookup(name)
		return ok
	}
	_, there := a.word(name)
	return there
}

// blocks fills a block. The result is empty if the block does not apply to the unit or has
// no content for it. In is the parent section, nil inside a list.
func (a *assembly) blocks(in *doc.Section, b *template.Block) []doc.Block {
	if !b.When.Holds(a.has) {
		return nil
	}
	from := doc.Attributes{Origin: b.At}
	switch b.Kind {
	case template.Paragraph:
		if list := a.inlines(b.Inlines); len(list) > 0 {
			return []doc.Block{&doc.Paragraph{Attributes: from, Inlines: list}}
		}
	case template.Limit:
		if list := a.inlines(b.Inlines); len(list) > 0 {
			return []doc.Block{&doc.Limit{Attributes: from, Inlines: list}}
		}
	case template.List:
		list := &doc.List{Attributes: from, Ordered: b.Ordered, Tight: b.Tight}
		if b.Ordered {
			list.Start = b.Start
		}
		for i := range b.Blocks {
			if item := a.item(&b.Blocks[i]); item != nil {
				list.Items = append(list.Items, item)
			}
		}
		if len(list.Items) > 0 {
			return []doc.Block{list}
		}
	case template.Table:
		if t := a.table(b); t != nil {
			return []doc.Block{t}
		}
	case template.CallBlock:
		return a.templates.rows[b.Call.Name].fill(a, in, b)
	}
	return nil
}

// item fills a list item; nil if nothing in it applies to the unit.
func (a *assembly) item(b *template.Block) *doc.Item {
	if !b.When.Holds(a.has) {
		return nil
	}
	item := &doc.Item{Attributes: doc.Attributes{Origin: b.At}}
	for i := range b.Blocks {
		item.Blocks = append(item.Blocks, a.blocks(nil, &b.Blocks[i])...)
	}
	if len(item.Blocks) == 0 {
		return nil
	}
	return item
}

// table copies a Markdown table without the rows that do not apply. It returns nil if no
// row is left.
func (a *assembly) table(b *template.Block) *doc.Table {
	t := &doc.Table{Attributes: doc.Attributes{Origin: b.At}, Role: doc.TablePlain}
	for i := range b.Blocks {
		row := &b.Blocks[i]
		if !row.When.Holds(a.has) {
			continue
		}
		n := &doc.Row{}
		for j := range row.Blocks {
			cell := a.cell(row.Blocks[j].Inlines)
			if j < len(b.Aligns) {
				cell.Align = b.Aligns[j]
			}
			n.Cells = append(n.Cells, cell)
		}
		if row.Kind == template.HeadRow {
			t.Head = n
		} else {
			t.Rows = append(t.Rows, n)
		}
	}
	if len(t.Rows) == 0 {
		return nil
	}
	if toWrite(t) {
		t.Role = doc.TableLog
	}
	return t
}

// toWrite reports whether a table has a column to fill in: one with a head and empty cells.
func toWrite(t *doc.Table) bool {
	if t.Head == nil {
		return false
	}
	for i, head := range t.Head.Cells {
		filled := func(r *doc.Row) bool { return i < len(r.Cells) && len(r.Cells[i].Inlines) > 0 }
		if len(head.Inlines) > 0 && !slices.ContainsFunc(t.Rows, filled) {
			return true
		}
	}
	return false
}

func (a *assembly) inlines(list []template.Inline) (out []doc.Inline) {
	for i := range list {
		in := &list[i]
		switch in.Kind {
		case template.Text:
			out = append(out, text(in.Text))
		case template.Placeholder:
			out = append(out, a.placeholder(in)...)
		case template.Emphasis:
			out = append(out, &doc.Emphasis{Strong: in.Strong, Inlines: a.inlines(in.Inlines)})
		case template.Link:
			out = append(out, a.link(in)...)
		case template.Box:
			out = append(out, a.box())
		case template.Break:
			out = append(out, &doc.Break{})
		}
	}
	return out
}

// plain returns inlines as plain text, for running heads and drawings.
func (a *assembly) plain(list []template.Inline) string {
	return doc.PlainText(a.inlines(list)...)
}

func (a *assembly) box() *doc.Box {
	if a.boxes == a.firstBox {
		a.note(aboutBox, "")
	}
	a.boxes++
	return &doc.Box{ID: fmt.Sprintf("tick-%s-%d", a.filling.ID, a.boxes)}
}

// link returns a link. In documents beside the guide a link into the guide is only its
// words, since the guide may not be at hand.
func (a *assembly) link(in *template.Inline) []doc.Inline {
	if a.beside && strings.HasPrefix(in.Text, "#") {
		return a.inlines(in.Inlines)
	}
	return []doc.Inline{&doc.Link{To: a.told(in.Text), Origin: in.At, Inlines: a.inlines(in.Inlines)}}
}

// internalLink returns a link to a section or task of this guide; only the words in
// documents beside the guide.
func (a *assembly) internalLink(id, words string) doc.Inline {
	if a.beside {
		return text(words)
	}
	return &doc.Link{To: a.told("#" + id), Inlines: []doc.Inline{text(words)}}
}

// entry marks a link as an entry of a reference list.
func entry(n doc.Inline) doc.Inline {
	if l, ok := n.(*doc.Link); ok {
		l.Listed = true
	}
	return n
}

// told returns an address; the address of a job that is part of a section is that of the section.
func (a *assembly) told(address string) string {
	a.note(aboutAddress, address)
	return a.addressOf(address)
}

func (a *assembly) addressOf(address string) string {
	if home := a.homes[strings.TrimPrefix(address, "#")]; home != "" {
		return "#" + home
	}
	return address
}

// checkLinks reports the links of a guide without a target.
func (a *assembly) checkLinks(g *doc.Guide) {
	for s := range doc.Sections(g.Sections) {
		a.anchors[s.ID] = true
	}
	for l := range doc.All[*doc.Link](g.Sections) {
		target, internal := strings.CutPrefix(l.To, "#")
		if internal && !a.anchors[target] {
			a.findings.Add(a.deadLink(target, l.Origin))
		}
	}
}

func (a *assembly) deadLink(target string, at source.Pos) source.Finding {
	f := template.CodeLink.At(at, "this guide has no section %q", target)
	for _, s := range a.templates.Sections() {
		switch {
		case s.ID != target:
		case s.Card == template.Only:
			return f.WithHint("that section is on the card only")
		case s.Leaf == template.Only:
			return f.WithHint("that section is on the hand-over leaf only")
		case s.Mail == template.Only:
			return f.WithHint("that section is in the mail only")
		default:
			return f.WithHint("that section is not for this unit; put the condition under which it is there in front of this paragraph")
		}
	}
	return f.DidYouMean(target, keys(a.anchors), "")
}
