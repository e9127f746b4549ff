package layout

import (
	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/page"
	"ownerguide/render/pdf/paginate"
	"ownerguide/render/pdf/typeset"
)

// Dimensions of the contents.
const (
	swatchWide     = 20 // the field with a chapter's number
	swatchHigh     = 15
	contentsIndent = 26
	contentsPage   = 30 // width of the page number
)

// contents sets the table of contents: a line for each chapter, with its number as on the tab, and below it its reference sections in one
// paragraph. Points of the walk-around are found on the picture that numbers them.
func (s *setter) contents(n *doc.Contents, st setting) []*box {
	if len(n.Entries) == 0 {
		return nil
	}
	st = st.under(&finish.Element{Role: finish.RoleTOC})
	var out []*box
	part, begins := "", false // the name of a part is above
	for i := 0; i < len(n.Entries); {
		entry := n.Entries[i]
		if entry.Part != part {
			part = entry.Part
			out = append(out, s.contentsPart(part, st))
			begins = true
		}
		end := i + 1
		for end < len(n.Entries) && n.Entries[end].Level > entry.Level {
			end++
		}
		boxes := s.contentsEntry(entry, n.Entries[i+1:end], st)
		if begins && len(boxes) > 0 {
			boxes[0].keep(ruleHead)
		}
		begins = false
		out = append(out, boxes...)
		i = end
	}
	return out
}

// contentsEntry sets one chapter of the contents. The whole line is one link, which is read aloud with the page number.
func (s *setter) contentsEntry(entry doc.Entry, parts []doc.Entry, st setting) []*box {
	if entry.ID == "" {
		return s.indexGroup(entry.Title, parts, st)
	}
	link := s.contentsLink(entry, st)
	ts := typeset.Style{Leading: st.leading, Element: link.Element}
	title := s.Lines([]typeset.Piece{{Text: s.Clean(entry.Title, st.origin), Look: st.text.Bold()}}, st.width-contentsIndent-contentsPage, ts)
	b := &box{name: &name{"contents", st.origin}, free: true, height: 3 + float64(max(len(title), 1))*st.leading + 3}
	b.items = append(b.items, page.Rule(st.left, thinLine/2, st.left+st.width, thinLine/2, thinLine))
	if entry.Number != "" {
		b.items = append(b.items, &typeset.Swatch{Number: s.Clean(entry.Number, st.origin), Element: link.Element, Open: entry.Part != s.firstPart, Width: swatchWide, Height: swatchHigh, X: st.left, Y: (3+st.leading+3-swatchHigh)/2 + thinLine})
	}
	b.items = append(b.items, typeset.Stacked(title, st.left+contentsIndent, 3)...)
	page := typeset.Piece{Text: typeset.Hole, Look: st.text.Bold(), Page: entry.ID, Element: link.Element}
	b.items = append(b.items, typeset.NewPageNumber(page, st.left+st.width, 3+float64(max(len(title), 1)-1)*st.leading, st.leading))
	link.Box = finish.Box{X: st.left, W: st.width, H: b.height}
	b.items = append(b.items, link)
	return append([]*box{b}, s.contentsParts(nil, parts, b.name, contentsIndent, st)...)
}

// indexGroup sets the entries of an index under one head.
func (s *setter) indexGroup(title string, entries []doc.Entry, st setting) []*box {
	e := &finish.Element{Role: finish.RoleP}
	st.element(finish.RoleTOCI).Children = []*finish.Element{e}
	head := []typeset.Piece{{Text: s.Clean(title, st.origin) + "\u00a0\u00a0", Look: st.table.Bold(), Element: e}}
	lines := s.contentsParts(head, entries, &name{"index", st.origin}, 0, st)
	if len(lines) == 0 {
		return nil
	}
	first := lines[0]
	for i, it := range first.items {
		first.items[i] = it.Moved(0, 3)
	}
	first.height += 3
	first.prepend(page.Rule(st.left, thinLine/2, st.left+st.width, thinLine/2, thinLine))
	first.ends = paginate.Break{}
	return lines
}

// contentsPart sets the name of a part of the guide above its chapters, which is not a link.
func (s *setter) contentsPart(title string, st setting) *box {
	e := &finish.Element{Role: finish.RoleP}
	st.element(finish.RoleTOCI).Children = []*finish.Element{e}
	lines := s.Lines([]typeset.Piece{{Text: s.Clean(title, st.origin), Look: st.text.Bold()}}, st.width, typeset.Style{Leading: st.leading, Element: e})
	b := &box{name: &name{"contents", st.origin}, before: 6, height: 3 + float64(len(lines))*st.leading + 3}
	b.items = append([]page.Item{page.Rule(st.left, thinLine/2, st.left+st.width, thinLine/2, thinLine)}, typeset.Stacked(lines, st.left, 3)...)
	return b
}

// contentsParts sets the reference sections of a chapter in one paragraph, after the given pieces,
// which are not links.
func (s *setter) contentsParts(pieces []typeset.Piece, parts []doc.Entry, is *name, indent float64, st setting) (out []*box) {
	before, last := len(pieces), ""
	for _, part := range parts {
		if !part.Listed {
			continue
		}
		link := s.contentsLink(part, st)
		title := part.Title
		again := len(pieces) > before && title == last // the same title occurs in another place too
		switch last = title; {
		case again:
			pieces = append(pieces, typeset.Piece{Text: ",", Look: st.table, Element: pieces[len(pieces)-1].Element})
		case len(pieces) > before:
			pieces = append(pieces, typeset.Piece{Text: " · ", Look: st.table, Element: pieces[len(pieces)-1].Element})
		}
		if sec := s.sections[part.ID]; sec != nil && sec.Short != "" && indent > 0 {
			title = sec.Short // as in the tab of its page
		}
		to := &typeset.Reference{Element: link.Element, To: link.To, Words: link.Words}
		if !again {
			pieces = append(pieces, typeset.Piece{Text: s.Clean(title, st.origin), Look: st.table, Element: link.Element, Link: to})
		}
		pieces = append(pieces, typeset.Piece{Text: "\u00a0" + typeset.Hole, Look: st.table, Page: part.ID, Element: link.Element, Link: to})
	}
	lines := lineBoxes(s.Lines(pieces, st.width-indent, typeset.Style{Leading: st.leading}), st.left+indent, insideText, is)
	for i, l := range lines {
		l.free = true
		if i == 0 {
			l.keep(ruleHead)
		}
		if i == len(lines)-1 {
			l.height += 3
		}
	}
	return append(out, lines...)
}

// contentsLink returns the link of an entry.
func (s *setter) contentsLink(entry doc.Entry, st setting) *page.Link {
	if !s.leads(entry.ID) {
		s.fail("%s: the contents list %q, but no part of this guide has that id", where(st.origin), entry.ID)
	}
	item := st.element(finish.RoleTOCI)
	e := &finish.Element{Role: finish.RoleLink}
	item.Children = []*finish.Element{e}
	return &page.Link{Element: e, To: "#" + entry.ID, Words: s.word("link-page", "link", s.Clean(entry.Title, st.origin), "n", typeset.Hole)}
}
