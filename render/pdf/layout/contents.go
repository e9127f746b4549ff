package layout

import (
	"fmt"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/page"
	"ownerguide/render/pdf/typeset"
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
	ts := typeset.Style{Leading: st.leading, Element: link.Element}
	title := s.Lines([]typeset.Piece{{Text: s.Clean(entry.Title, st.origin), Look: st.text.Bold()}}, st.width-contentsIndent-contentsPage, ts)
	b := &box{name: "contents at " + where(st.origin), free: true, height: 3 + float64(max(len(title), 1))*st.leading + 3}
	b.items = append(b.items, page.Rule(st.left, thinLine/2, st.left+st.width, thinLine/2, thinLine))
	if entry.Number != "" {
		b.items = append(b.items, &typeset.Swatch{Number: s.Clean(entry.Number, st.origin), Element: link.Element, Width: swatchWide, Height: swatchHigh, X: st.left, Y: (3+st.leading+3-swatchHigh)/2 + thinLine})
	}
	b.items = append(b.items, typeset.Stacked(title, st.left+contentsIndent, 3)...)
	page := typeset.Piece{Text: typeset.Hole, Look: st.text.Bold(), Page: entry.ID, Element: link.Element}
	b.items = append(b.items, typeset.NewPageNumber(page, st.left+st.width, 3+float64(max(len(title), 1)-1)*st.leading, st.leading))
	link.Box = finish.Box{X: st.left, W: st.width, H: b.height}
	b.items = append(b.items, link)
	out := []*box{b}

	var pieces []typeset.Piece
	for _, part := range parts {
		if sec := s.sections[part.ID]; sec != nil && sec.Role == doc.RoleStop {
			continue
		}
		link, err := s.contentsLink(part, st)
		if err != nil {
			return nil, err
		}
		if len(pieces) > 0 {
			pieces = append(pieces, typeset.Piece{Text: " · ", Look: st.table, Element: pieces[len(pieces)-1].Element})
		}
		to := &typeset.Reference{Element: link.Element, To: link.To, Words: link.Words}
		pieces = append(pieces, typeset.Piece{Text: s.Clean(part.Title, st.origin), Look: st.table, Element: link.Element, Link: to},
			typeset.Piece{Text: "\u00a0" + typeset.Hole, Look: st.table, Page: part.ID, Element: link.Element, Link: to})
	}
	lines := lineBoxes(s.Lines(pieces, st.width-contentsIndent, typeset.Style{Leading: st.leading}), st.left+contentsIndent, insideText, b.name)
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
func (s *setter) contentsLink(entry doc.Entry, st setting) (*page.Link, error) {
	if !s.anchors[entry.ID] {
		return nil, fmt.Errorf("%s: the contents list %q, but no part of this guide has that id", where(st.origin), entry.ID)
	}
	item := st.element(finish.RoleTOCI)
	e := &finish.Element{Role: finish.RoleLink}
	item.Children = []*finish.Element{e}
	return &page.Link{Element: e, To: "#" + entry.ID, Words: s.Clean(entry.Title, st.origin) + ", " + s.word("see-page", "n", typeset.Hole)}, nil
}
