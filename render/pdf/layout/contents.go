package layout

import (
	"fmt"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
)

// Measures of the contents.
const (
	swatchWide     = 20 // of the field with a chapter's number
	swatchHigh     = 15
	contentsIndent = 26
	contentsPage   = 30 // room for the page
)

// contents sets the table of contents: a line for each chapter, with the number of its tab, and below it the parts of it that are looked up,
// one behind the other. Points of the walk round are found on the picture that numbers them.
func (s *setter) contents(n *doc.Contents, st setting) ([]*box, error) {
	if len(n.Entries) == 0 {
		return nil, nil
	}
	st = st.under(&finish.Element{Role: finish.RoleTOC})
	var out []*box
	for i := 0; i < len(n.Entries); {
		entry := n.Entries[i]
		end := i + 1
		for end < len(n.Entries) && n.Entries[end].Level > entry.Level {
			end++
		}
		boxes, err := s.contentsEntry(entry, n.Entries[i+1:end], st)
		if err != nil {
			return nil, err
		}
		out = append(out, boxes...)
		i = end
	}
	return out, nil
}

// contentsEntry sets one chapter of the contents. All of its line is one link, and what is read aloud says the page too.
func (s *setter) contentsEntry(entry doc.Entry, parts []doc.Entry, st setting) ([]*box, error) {
	link, err := s.contentsLink(entry, st)
	if err != nil {
		return nil, err
	}
	ts := textStyle{leading: st.leading, element: link.Element}
	title := s.lines([]piece{{text: s.clean(entry.Title, st.origin), look: st.text.bold()}}, st.width-contentsIndent-contentsPage, ts)
	b := &box{name: "contents at " + where(st.origin), free: true, height: 3 + float64(max(len(title), 1))*st.leading + 3}
	b.items = append(b.items, rule(st.left, thinLine/2, st.left+st.width, thinLine/2, thinLine))
	if entry.Number != "" {
		b.items = append(b.items, &swatch{number: s.clean(entry.Number, st.origin), element: link.Element, width: swatchWide, height: swatchHigh, x: st.left, y: (3+st.leading+3-swatchHigh)/2 + thinLine})
	}
	b.items = append(b.items, stacked(title, st.left+contentsIndent, 3)...)
	page := piece{text: hole, look: st.text.bold(), page: entry.ID, element: link.Element}
	b.items = append(b.items, newPageNumber(page, st.left+st.width, 3+float64(max(len(title), 1)-1)*st.leading, st.leading))
	link.Box = finish.Box{X: st.left, W: st.width, H: b.height}
	b.items = append(b.items, link)
	out := []*box{b}

	var pieces []piece
	for _, part := range parts {
		if sec := s.sections[part.ID]; sec != nil && sec.Role == doc.RoleStop {
			continue
		}
		link, err := s.contentsLink(part, st)
		if err != nil {
			return nil, err
		}
		if len(pieces) > 0 {
			pieces = append(pieces, piece{text: " · ", look: st.table, element: pieces[len(pieces)-1].element})
		}
		to := &reference{element: link.Element, to: link.To, words: link.Words}
		pieces = append(pieces, piece{text: s.clean(part.Title, st.origin), look: st.table, element: link.Element, link: to},
			piece{text: "\u00a0" + hole, look: st.table, page: part.ID, element: link.Element, link: to})
	}
	lines := lineBoxes(s.lines(pieces, st.width-contentsIndent, textStyle{leading: st.leading}), st.left+contentsIndent, insideText, b.name)
	for i, l := range lines {
		l.free = true
		if i == 0 {
			l.keep(ruleHead)
		}
		if i == len(lines)-1 {
			l.height += 3
		}
	}
	return append(out, lines...), nil
}

// contentsLink makes the link of an entry.
func (s *setter) contentsLink(entry doc.Entry, st setting) (*Link, error) {
	if !s.anchors[entry.ID] {
		return nil, fmt.Errorf("%s: the contents list %q, but no part of this guide has that id", where(st.origin), entry.ID)
	}
	item := st.element(finish.RoleTOCI)
	e := &finish.Element{Role: finish.RoleLink}
	item.Children = []*finish.Element{e}
	return &Link{Element: e, To: "#" + entry.ID, Words: s.clean(entry.Title, st.origin) + ", " + s.word("see-page", "n", hole)}, nil
}
