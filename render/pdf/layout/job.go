package layout

import (
	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/page"
	"ownerguide/render/pdf/paginate"
	"ownerguide/render/pdf/typeset"
)

// jobLine sets who may do a job, when it is due and with which tools, directly below its head.
func (s *setter) jobLine(n *doc.JobLine, st setting) []*box {
	e := st.element(finish.RoleP)
	var pieces []typeset.Piece
	add := func(list []doc.Inline, look page.Look) {
		pieces = append(pieces, s.inlines(list, look, e, st.origin)...)
	}
	space := func(text string) { pieces = append(pieces, typeset.Piece{Text: text, Look: st.table}) }
	if len(n.Who) > 0 {
		pieces = append(pieces, typeset.Piece{Text: s.Clean(doc.PlainText(n.Who...), st.origin), Look: chip, Mark: typeset.Framed})
		space(" ")
	}
	add(n.When, st.table.Bold())
	if len(n.Tools) > 0 {
		space(" · ")
		add(n.Tools, st.table)
	}
	lines := s.Lines(pieces, st.width-st.indent, typeset.Style{Leading: leading, Element: e})
	if len(lines) == 0 {
		return nil
	}
	b := &box{items: typeset.Stacked(lines, st.left+st.indent, 0), height: float64(len(lines)) * leading, free: true, name: &name{"line of a job", st.origin}}
	return []*box{b}
}

// octagonSize is the height of the mark of a limit.
const octagonSize = 10.5

// limit sets a limit, which is kept with what precedes it.
func (s *setter) limit(n *doc.Limit, st setting) []*box {
	e := st.element(finish.RoleP)
	pieces := s.inlines(n.Inlines, st.text, e, st.origin)
	lines := s.Lines(pieces, st.width-laneWidth, typeset.Style{Leading: st.leading, Element: e})
	out := lineBoxes(lines, st.left+laneWidth, insideItem, &name{"limit", st.origin})
	if len(out) == 0 {
		return nil
	}
	out[0].prepend(page.Octagon(st.left, (st.leading-octagonSize)/2, octagonSize))
	out[0].before = blockSpace
	out[len(out)-1].after = 6
	return out
}

// troubleOpeningLines is the number of lines up to which a trouble entry is kept on facing pages. It may continue in the next column, in view: if
// all were kept together, each would leave white space at the foot of some column.
const troubleOpeningLines = 14

// trouble sets a trouble entry: symptom, causes, remedies, and when to stop.
func (s *setter) trouble(n *doc.Trouble, st setting) []*box {
	st = st.under(&finish.Element{Role: finish.RoleDiv})
	symptom := s.textLines(n.Symptom, st.text.Bold(), st.left, st.width, st)
	if len(symptom) > 0 {
		head := symptom[0]
		s.partLine(head, st)
		head.height++
		head.free = false
	}
	out := symptom
	if len(n.Causes) > 0 {
		cause := s.textLines(n.Cause(), st.text, st.left+laneWidth, st.width-laneWidth, st)
		out = append(out, cause...)
	}
	if len(n.Remedies) > 0 {
		list := st.under(&finish.Element{Role: finish.RoleL, Numbering: "None"})
		for i, line := range n.Remedies {
			item := list.under(&finish.Element{Role: finish.RoleLI})
			label := item.element(finish.RoleLbl)
			boxes := s.textLines(line, st.text, st.left+laneWidth, st.width-laneWidth, item.under(&finish.Element{Role: finish.RoleLBody}))
			item.unnest()
			if len(boxes) == 0 {
				continue
			}
			boxes[0].prepend(s.label("→", st.left, st.text, st.leading, label))
			if i > 0 {
				boxes[0].before = itemSpace
			}
			out = append(out, boxes...)
		}
	}
	lines := len(out)
	for _, l := range n.Limits {
		boxes := s.anchored(l, st.at(l))
		lines += len(boxes)
		if len(boxes) > 0 {
			boxes[0].keepAt(sameOpening)
		}
		out = append(out, boxes...)
	}
	if len(out) > 0 {
		out[len(out)-1].after = blockSpace
	}
	var whole paginate.Break
	if lines <= troubleOpeningLines {
		whole = sameOpening
	}
	for i, b := range out[min(1, len(out)):] {
		if i < len(symptom)+1 { // the first cause or remedy stays with the symptom
			b.keep(ruleHead)
		}
		b.keepAt(whole)
	}
	return out
}

// textLines sets running text as consecutive boxes that are not aligned to the grid.
func (s *setter) textLines(list []doc.Inline, look page.Look, x, width float64, st setting) []*box {
	e := st.element(finish.RoleP)
	pieces := s.inlines(list, look, e, st.origin)
	out := lineBoxes(s.Lines(pieces, width, typeset.Style{Leading: st.leading, Element: e}), x, insideItem, &name{"line", st.origin})
	for _, b := range out {
		b.free = true
	}
	return out
}
