package layout

import (
	"strconv"
	"strings"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/page"
	"ownerguide/render/pdf/paginate"
	"ownerguide/render/pdf/typeset"
)

// Space between blocks; each then begins on the next grid line.
const (
	blockSpace = 2
	itemSpace  = 2
)

// blocks sets blocks one below another and keeps together what must not be separated.
func (s *setter) blocks(list []doc.Block, st setting) []*box {
	var out []*box
	first := st.first
	at := make([]int, 0, len(list)+1) // index of the first box of each block
	for i, n := range list {
		st.next, st.first = nil, first && i == 0
		if i+1 < len(list) {
			st.next = list[i+1]
		}
		boxes := s.anchored(n, st.at(n))
		at = append(at, len(out))
		out = append(out, boxes...)
	}
	at = append(at, len(out))
	for i, n := range list[:max(len(list)-1, 0)] {
		if next := at[i+1]; at[i] < next && next < len(out) {
			s.keepWithNext(n, list[i+1:], out[next:], st)
		}
		if _, limit := list[i+1].(*doc.Limit); limit && at[i] < at[i+1] && at[i+1] < len(out) {
			change(out, at[i+1]).keepAt(sameOpening)
			keepOnOpening(out[max(at[i], at[i+1]-linesOnOpening) : at[i+1]+1])
		}
		if isPanel(n) {
			last := i + panelAndSteps(list[i:])
			keepOnOpening(out[at[i]:min(at[last-1]+linesOnOpening, at[last])])
		}
	}
	return out
}

// linesOnOpening is the number of lines, a step or two, that are kept on facing pages with the panel before a list, and with the limit after
// it. The rest of the list may be overleaf: the panel is in view at its beginning and the limit at its end. Lists kept whole with their panel
// left a quarter of a column white at a page turn.
const linesOnOpening = 2

// keepWithNext keeps a block with what follows, if it is an introduction to that.
func (s *setter) keepWithNext(n doc.Block, next []doc.Block, boxes []*box, st setting) {
	switch n := n.(type) {
	case *doc.Paragraph:
		if introduces(n, next[0], st.role) {
			change(boxes, 0).keep(ruleHead)
		}
	case *doc.JobLine:
		change(boxes, 0).keep(ruleHead)
	case *doc.Caution:
		section := isSection(next[0])
		_, figure := next[0].(*doc.Figure)
		switch {
		case section && !n.Brief:
		case n.Brief && (section || figure):
			change(boxes, 0).keepAt(sameOpening)
		case n.Brief && followsSteps(next):
			change(boxes, 0).keep(ruleHead)
		case n.Brief:
		default:
			change(boxes, 0).keepAt(paginate.Break{Column: sameOpening.Column, Opening: sameOpening.Opening})
		}
	}
}

// followsSteps reports whether something other than cautions and sections follows: then a reminder belongs to it.
func followsSteps(next []doc.Block) bool {
	for _, n := range next {
		if _, caution := n.(*doc.Caution); !caution {
			return !isSection(n)
		}
	}
	return false
}

func isSection(n doc.Block) bool {
	_, section := n.(*doc.Section)
	return section
}

// isPanel reports whether a block is a full safety panel.
func isPanel(n doc.Block) bool {
	c, ok := n.(*doc.Caution)
	return ok && !c.Brief
}

// panelAndSteps returns the number of blocks at the beginning of list that must be in view together: consecutive panels, and the steps
// after them, which a paragraph or a reminder may introduce; without steps the block after the panels.
func panelAndSteps(list []doc.Block) int {
	n := 0
	for n < len(list) && isPanel(list[n]) {
		n++
	}
	for k := n; k < len(list) && k <= n+2; k++ {
		switch b := list[k].(type) {
		case *doc.List:
			if b.Ordered {
				return k + 1
			}
		case *doc.Paragraph, *doc.Caution:
			continue
		}
		break
	}
	if n > 1 || n == len(list) {
		return 1
	}
	if isSection(list[n]) {
		return 1
	}
	return n + 1
}

// anchored sets a block or a section, adds an anchor if a link leads to it, and marks it if it changed.
func (s *setter) anchored(n doc.Block, st setting) []*box {
	sec, section := n.(*doc.Section)
	if section && sec.Level <= 2 {
		clear(s.told)
	}
	set := func(own *setter, st setting) []*box { return own.setAnchored(n, st) }
	switch {
	case s.seen == nil:
		return set(s, st)
	case section:
		return s.fromCache(s.sections[sec.ID].key, s.sections[sec.ID].names, st, set)
	}
	return s.fromCache(doc.Key(n), doc.Names(n), st, set)
}

func (s *setter) setAnchored(n doc.Block, st setting) []*box {
	seen := s.seen
	if !isSection(n) {
		s.seen = nil
	}
	boxes := s.block(n, st)
	s.seen = seen
	if id := n.Attr().ID; len(boxes) > 0 && s.wanted[id] {
		b := change(boxes, 0)
		b.anchors = append(b.anchors, id)
	}
	return marked(n, boxes)
}

// block sets one block. Any type not listed here or in the flattener is refused, because a panel that is silently skipped could be
// the one that matters.
func (s *setter) block(n doc.Block, st setting) []*box {
	if lang := n.Attr().Lang; lang != "" {
		st = st.under(&finish.Element{Role: finish.RoleDiv, Lang: lang})
	}
	switch n := n.(type) {
	case *doc.Section:
		return s.section(n, st)
	case *doc.Paragraph:
		return s.paragraph(n, st)
	case *doc.List:
		return s.list(n, st)
	case *doc.Table:
		return s.table(n, st)
	case *doc.Contents:
		return s.contents(n, st)
	case *doc.Caution:
		return s.caution(n, st)
	case *doc.JobLine:
		return s.jobLine(n, st)
	case *doc.Limit:
		return s.limit(n, st)
	case *doc.Trouble:
		return s.trouble(n, st)
	case *doc.Figure:
		return s.figure(n, st)
	case *doc.Logo:
		return s.logo(n, st)
	case *doc.Form:
		return s.form(n, st)
	}
	s.fail("%w", doc.Unknown(n, st.origin))
	return nil
}

// chapter sets a chapter.
func (s *setter) chapter(n *doc.Section, st setting) []*box {
	fresh := st.fresh
	st.fresh = false
	boxes := s.section(n, st)
	if n.Role == doc.RoleContents && n.Part == "" {
		// Whom to call and the contents are one page: a single line of them on the next page would be overlooked.
		for i := 1; i < len(boxes); i++ {
			change(boxes, i).keepAt(paginate.Break{Opening: ruleSingle, Leaf: ruleSingle})
		}
	}
	if fresh {
		change(boxes, 0).newPage = true
	}
	return marked(n, boxes)
}

// section sets a chapter or a section of one. There is at least one box.
func (s *setter) section(n *doc.Section, st setting) []*box {
	if !st.outer {
		s.fail("%w", doc.Unknown(n, st.origin))
		return nil
	}
	st = st.at(n).under(&finish.Element{Role: finish.RoleSect})
	st.depth, st.role, st.within = n.Level, n.Role, n.ID
	if n.Role == doc.RoleStatement {
		st.table, st.caption = st.table.Sized(max(st.table.Size, statement)), st.caption.Sized(max(st.caption.Size, statement))
	}
	set := s.sectionBlocks
	if n.Role == doc.RoleCover {
		set = s.cover
	}
	out := set(n, st)
	if len(out) == 0 {
		out = []*box{{name: &name{what: "empty section"}}}
	}
	b := change(out, 0)
	b.anchors = append(b.anchors, n.ID)
	return out
}

// sectionBlocks sets the heading of a section and its blocks. A heading is kept with two lines of text.
func (s *setter) sectionBlocks(n *doc.Section, st setting) []*box {
	out := s.head(n, st)
	heads := len(out)
	if n.Role == doc.RoleStop {
		st.indent = laneWidth
	}
	st.first = heads > 0
	below := s.blocks(n.Blocks, st)
	if heads > 0 && len(below) > 0 {
		change(below, 0).keep(ruleHead)
		if len(below) > 1 && below[0].height <= st.leading {
			change(below, 1).keep(ruleHead)
		}
	}
	if heads > 0 && n.Level <= 1 {
		room := float64(minChapterStart)
		for i, b := range below {
			if room -= b.height; room < 0 || b.span {
				break
			}
			b = change(below, i)
			b.ends.Opening, b.ends.Leaf = b.ends.Opening+shortStartCost, b.ends.Leaf+shortStartCost
		}
	}
	return append(out, below...)
}

// A page break within the first minChapterStart points of a chapter costs shortStartCost more, so that a chapter with little room at the foot of a
// page begins on the next one where that costs little.
const (
	minChapterStart = 140
	shortStartCost  = 30
)

// paragraph sets running text.
func (s *setter) paragraph(n *doc.Paragraph, st setting) []*box {
	e := st.element(finish.RoleP)
	pieces := s.inlines(n.Inlines, st.text, e, st.origin)
	lines := s.Lines(pieces, st.width-st.indent, typeset.Style{Leading: st.leading, Element: e})
	out := lineBoxes(lines, st.left+st.indent, insideText, &name{"line", st.origin})
	if len(out) == 0 {
		return nil
	}
	out[0].before = blockSpace
	switch {
	case isHead(n, st.next) && isSchedule(st.next): // the interval above its jobs: a line of the schedule
		out[0].before, out[0].free = scheduleHead, true
	case isHead(n, st.next):
		out[0].before = 6
	}
	return out
}

// isSchedule reports whether a block is jobs of the schedule without a head.
func isSchedule(n doc.Block) bool {
	t, ok := n.(*doc.Table)
	return ok && t.Role == doc.TableSchedule && t.Head == nil
}

// isHead reports whether a paragraph is only bold text with something below it.
func isHead(n *doc.Paragraph, next doc.Block) bool {
	if len(n.Inlines) != 1 || next == nil {
		return false
	}
	e, ok := n.Inlines[0].(*doc.Emphasis)
	return ok && e.Strong
}

// introduces reports whether a paragraph is an introduction to what follows: it is a head, ends with a colon, or precedes the steps of a job.
func introduces(n *doc.Paragraph, next doc.Block, role doc.Role) bool {
	_, list := next.(*doc.List)
	return isHead(n, next) || strings.HasSuffix(doc.PlainText(n), ":") || list && role == doc.RoleTask
}

// list sets a list. Numbers, checkboxes and bullets are in the lane, text next to it.
func (s *setter) list(n *doc.List, st setting) []*box {
	e := &finish.Element{Role: finish.RoleL, Numbering: "Disc"}
	if n.Ordered {
		e.Numbering = "Decimal"
	}
	st = st.under(e)
	var out []*box
	var begins []int // index of the first box of each item
	for i, item := range n.Items {
		boxes := s.listItem(item, st.at(item), n.Ordered, n.Start+i)
		if len(boxes) == 0 {
			continue
		}
		boxes[0].before = itemSpace
		boxes[0].free = len(out) > 0
		begins = append(begins, len(out))
		out = append(out, marked(item, boxes)...)
	}
	for i, at := range begins {
		last := len(out)
		if i+1 < len(begins) {
			last = begins[i+1]
		}
		switch {
		case i == 0:
		case i == 1 && at-begins[0] < loneItemLines || i == len(begins)-1 && last-at < loneItemLines:
			out[at].keep(ruleSingle)
		default:
			out[at].ends = paginate.Break{Leaf: pageTurn}
		}
	}
	return out
}

// leastWidth is the width below which nested lists are not indented further.
const leastWidth = 60

// loneItemLines is the number of lines from which an item of a list may be alone at the foot or head of a column: nobody overlooks two
// lines there, and keeping them with the next item leaves more white space.
const loneItemLines = 2

// listItem sets one item. Its mark is in the first box of its text, so that they cannot be separated.
func (s *setter) listItem(n *doc.Item, st setting, ordered bool, number int) []*box {
	st = st.under(&finish.Element{Role: finish.RoleLI})
	label := st.element(finish.RoleLbl)
	blocks, first := n.CutMark()
	var mark page.Item
	switch point := first.(type) {
	case *doc.Box:
		label.ActualText = "☐"
		mark = typeset.TickBox(page.Tag{Element: label}, st.left, 1.6)
	case *doc.PointMark:
		mark = &typeset.Disc{Number: strconv.Itoa(point.Number), Element: label, X: st.left, Y: st.leading / 2, Size: discInList}
	}
	switch {
	case mark != nil:
	case ordered:
		mark = s.label(strconv.Itoa(number), st.left, st.text.Bold(), st.leading, label)
	default:
		mark = s.label("•", st.left+bulletAt, st.text, st.leading, label)
	}
	in := st.under(&finish.Element{Role: finish.RoleLBody}).indented()
	beside := len(blocks) > 0
	if beside {
		_, beside = blocks[0].(*doc.Paragraph)
	}
	if in.width < leastWidth {
		in.left, in.width, beside = st.left, st.width, false
	}
	out := s.blocks(blocks, in)
	st.unnest()
	if !beside || len(out) == 0 {
		if len(out) > 0 {
			out[0].keep(ruleHead)
		}
		return append([]*box{{items: []page.Item{mark}, height: st.leading, name: &name{"list label", st.origin}}}, out...)
	}
	out[0].prepend(mark)
	// Inside an item the text is kept together more than a paragraph: a line or two of it must not be alone.
	for _, b := range out[1:] {
		if b.ends.Column == insideText {
			b.ends = paginate.Break{Column: insideItem, Opening: insideItem, Leaf: insideItem + pageTurn}
		}
	}
	return out
}

// label returns the mark of a list item as text.
func (s *setter) label(text string, x float64, look page.Look, leading float64, e *finish.Element) page.Item {
	return &page.Text{Tag: page.Tag{Element: e}, X: x, Y: look.Baseline(leading), Words: text + " ", Look: look}
}
