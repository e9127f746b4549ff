package pdf

import (
	"fmt"
	"strconv"
	"strings"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
	"ownerguide/spec/source"
)

// setting is how blocks are set at one place of the tree.
type setting struct {
	left, width  float64 // of running text, in the text area
	outer        bool    // headings, wide tables and pictures may use the whole text area
	text         look
	leading      float64
	small        look // tables
	smallLeading float64
	note         look // captions
	below        float64
	parent       *finish.Element
	depth        int // of the section around
	role         doc.Role
	skip         doc.Inline  // a box that was made the label of a list item
	origin       source.Pos  // of what is set or, if it has none, of what it stands in
	next         []doc.Block // what follows in the same place of the tree
	beside       float64     // kept free at the right of a title
	pictureLimit float64     // greatest height of a picture; 0: what the page holds
}

// outermost is the setting of a chapter: running text in the measure, everything wide in the whole text area.
func (l *layout) outermost(root *finish.Element) setting {
	s := setting{
		left: l.sheet.hang(), width: l.sheet.text() - l.sheet.hang(), outer: true,
		text: body, leading: bodyLeading, small: small, smallLeading: smallLeading, note: note,
		below: 5, parent: root,
	}
	if l.sheet.card {
		s.text, s.leading = cardBody, cardLeading
		s.small, s.smallLeading, s.note = cardBody, cardLeading, cardLabel
		s.below = 5
	}
	return s
}

// under is a setting whose elements belong to e.
func (s setting) under(e *finish.Element) setting {
	s.parent.Children = append(s.parent.Children, e)
	s.parent = e
	return s
}

// element adds an element to the setting's parent.
func (s setting) element(role finish.Role) *finish.Element {
	e := &finish.Element{Role: role}
	s.parent.Children = append(s.parent.Children, e)
	return e
}

// at is the setting for a part of the document.
func (s setting) at(n doc.Part) setting {
	if at := n.Attr().Origin; at != (source.Pos{}) {
		s.origin = at
	}
	return s
}

// where says where what is set comes from, for an error message.
func (s setting) where() string { return where(s.origin) }

// blocks sets blocks below one another.
func (l *layout) blocks(list []doc.Block, s setting) ([]*slab, error) {
	var out []*slab
	for i, n := range list {
		s.next = list[i+1:]
		slabs, err := l.anchored(n, s)
		if err != nil {
			return nil, err
		}
		out = append(out, slabs...)
	}
	return out, nil
}

// anchored sets a block, makes it reachable if a link leads to it, and marks it if it changed.
func (l *layout) anchored(n doc.Block, s setting) ([]*slab, error) {
	slabs, err := l.block(n, s.at(n))
	if id := n.Attr().ID; err == nil && len(slabs) > 0 && l.wanted[id] { // the id of a section is no longer among them
		slabs[0].put(&anchor{name: id})
	}
	return marked(n, slabs), err
}

// block sets one block. The types here and in the flattener are all there are: what is not listed is refused, because a panel that is
// skipped without a word could be the one that matters.
func (l *layout) block(n doc.Block, s setting) ([]*slab, error) {
	switch n := n.(type) {
	case *doc.Section:
		return l.section(n, s)
	case *doc.Paragraph:
		return l.paragraph(n, s)
	case *doc.List:
		return l.list(n, s)
	case *doc.Table:
		return l.table(n, s)
	case *doc.Contents:
		return l.contents(n, s)
	case *doc.Caution:
		return l.caution(n, s)
	case *doc.Figure:
		return l.figure(n, s)
	case *doc.Logo:
		return l.logoBlock(n, s)
	case *doc.Form:
		return l.form(n, s)
	}
	return nil, doc.Unknown(n, s.origin)
}

// section sets a chapter or a part of one.
func (l *layout) section(n *doc.Section, s setting) ([]*slab, error) {
	s = s.at(n)
	if !s.outer {
		return nil, doc.Unknown(n, s.origin)
	}
	s = s.under(&finish.Element{Role: finish.RoleSect})
	s.depth, s.role = n.Level, n.Role
	switch n.Role {
	case doc.RoleCover:
		s.left, s.width = 0, l.sheet.text()
	case doc.RoleStatement:
		s.small, s.note = s.small.sized(statementSize), s.note.sized(statementSize)
	}
	out, err := l.sectionBlocks(n, s)
	if err != nil {
		return nil, err
	}
	if over := pileHeight(out) - l.sheet.room(); n.Role == doc.RoleCover && over > 0 {
		// The cover is one page, if its picture gives way; in a booklet the numbers may have to stand together behind it.
		if limit := l.coverPicture - over; limit >= leastCoverPicture {
			s.parent.Children, s.pictureLimit = nil, limit
			if out, err = l.sectionBlocks(n, s); err != nil {
				return nil, err
			}
		}
	}
	if len(out) == 0 {
		out = []*slab{{name: "empty section", after: free}}
	}
	out[0].put(&anchor{name: n.ID})
	if n.Level <= 1 {
		out[0].opens = l.chapters[n]
	}
	return out, nil
}

// leastCoverPicture is the height below which the cover's picture is not shrunk.
const leastCoverPicture = 100

// pileHeight is the height of slabs on top of each other.
func pileHeight(slabs []*slab) float64 {
	_, h := pile(slabs)
	return h
}

// sectionBlocks sets the heading of a section and what stands below it.
func (l *layout) sectionBlocks(n *doc.Section, s setting) ([]*slab, error) {
	out, list, err := l.titled(n, s)
	if err != nil {
		return nil, err
	}
	titles := len(out)
	for i, c := range list {
		s.next = list[i+1:]
		slabs, err := l.anchored(c, s)
		if err != nil {
			return nil, err
		}
		// What a job needs is of no use on another page than its first step.
		if _, table := c.(*doc.Table); table && n.Role == doc.RoleTask && len(out) == titles && len(slabs) > 0 && len(s.next) > 0 {
			slabs[len(slabs)-1].after = ugly
		}
		out = append(out, slabs...)
	}
	// A heading wants two lines with it, so a paragraph of one line stays with what follows.
	if titles > 0 && len(out) > titles+1 && out[titles].lone && out[titles].after == free {
		out[titles].after = ugly
	}
	if last := len(out) - 1; last > titles && out[last].lone && out[last-1].after == free {
		out[last-1].after = slight
	}
	return out, nil
}

// barRoom is the height of the bar below a chapter's heading, with the space above it.
const barRoom = 10

// heading sets a heading; number is that of a chapter or section and hangs before it in grey. A job gets a band, so that jobs are found
// when leafing; a chapter's heading has a bar below it, a section's a line above.
func (l *layout) heading(n *doc.Heading, s setting, depth int, number string) ([]*slab, error) {
	s = s.at(n)
	hl := l.sheet.heading(depth)
	if s.role == doc.RoleCover && depth <= 1 {
		hl = coverTitle
	}
	e := s.element(headingRole(depth))
	pieces, err := l.inlines(n.Inlines, hl.look, e, s)
	if err != nil {
		return nil, err
	}
	left, width := 0.0, s.left+s.width
	if !s.outer || depth > 3 { // small headings stand with their text
		left, width = s.left, s.width
	}
	job := s.role == doc.RoleTask && depth == s.depth && s.outer
	pad := 0.0
	if job {
		pad = 8
	}
	var label []line
	indent := 0.0
	if number != "" {
		text := []piece{{text: l.clean(number, s.origin), look: hl.look.inked(middle)}}
		label = l.set(text, width, textStyle{leading: hl.leading, element: e})
		if len(label) != 1 {
			return nil, fmt.Errorf("%s: the number %q of a heading does not fit on a line", s.where(), number)
		}
		indent = label[0].width + hl.size*0.5
	}
	lines := l.set(pieces, width-indent-2*pad-s.beside, textStyle{leading: hl.leading, balanced: true, element: e})
	if len(lines) == 0 {
		return nil, nil
	}

	out := &slab{above: hl.above, below: hl.below, after: wrong, bound: true, section: depth == s.depth && s.outer, name: "heading at " + s.where()}
	textHeight := float64(len(lines)) * hl.leading
	switch {
	case job:
		out.items = []item{rectangle(tag{}, 0, 0, width, textHeight+8, pale), rectangle(tag{}, 0, 0, 3, textHeight+8, black)}
		out.height = 4
	case depth == 2 && s.outer && s.role != doc.RoleCover:
		out.items = []item{rule(tag{}, 0, 0, width, 0, 0.6, middle)}
		out.height = 7
	}
	for _, ln := range label {
		out.items = append(out.items, shift(ln.items, left+pad, out.height)...)
	}
	for i, ln := range lines {
		out.items = append(out.items, shift(ln.items, left+indent+pad, out.height+float64(i)*hl.leading)...)
	}
	out.height += textHeight
	switch {
	case job:
		out.height += 4
	case depth <= 1 && s.outer:
		out.items = append(out.items, rectangle(tag{}, left, out.height+barRoom-2, width, 2, black))
		out.height += barRoom
	}
	return []*slab{out}, nil
}

// headingRole is the role of a heading by depth; the standard has six.
func headingRole(depth int) finish.Role {
	return [...]finish.Role{finish.RoleH1, finish.RoleH2, finish.RoleH3, finish.RoleH4, finish.RoleH5, finish.RoleH6}[min(max(depth, 1), 6)-1]
}

// paragraph sets running text, one slab a line, two lines at least on each side of a page end.
func (l *layout) paragraph(n *doc.Paragraph, s setting) ([]*slab, error) {
	e := s.element(finish.RoleP)
	pieces, err := l.inlines(n.Inlines, s.text, e, s)
	if err != nil {
		return nil, err
	}
	out := l.slabs(l.set(pieces, s.width, textStyle{leading: s.leading, element: e}), s.left, s.leading, "line at "+s.where())
	if len(out) == 0 {
		return nil, nil
	}
	last := out[len(out)-1]
	last.below = s.below
	switch {
	case heads(n, s.next): // as good as a heading
		out[0].above, last.below, last.after = 8, 2, wrong
		out[0].lone = false
	case len(s.next) > 0 && strings.HasSuffix(doc.PlainText(n), ":"): // it introduces that
		last.after = ugly
	}
	return out, nil
}

// slabs makes a slab of each line and keeps single lines from being left alone.
func (l *layout) slabs(lines []line, left, leading float64, name string) []*slab {
	out := make([]*slab, len(lines))
	for i, ln := range lines {
		out[i] = &slab{items: shift(ln.items, left, 0), height: leading, name: name, lone: len(lines) == 1}
		if len(lines) > 1 && (i == 0 || i == len(lines)-2) {
			out[i].after = ugly
		}
	}
	return out
}

// heads tells whether a paragraph is nothing but words in bold with something below them.
func heads(n *doc.Paragraph, next []doc.Block) bool {
	if len(n.Inlines) != 1 || len(next) == 0 {
		return false
	}
	e, ok := n.Inlines[0].(*doc.Emphasis)
	return ok && e.Strong
}

// Indents of lists.
const (
	bulletIndent = 14
	numberIndent = 22
	boxIndent    = 20
	leastWidth   = 60 // a list too deep to indent further puts its labels on lines of their own
)

// list sets a list. Numbers hang, in bold; a box to tick stands in place of a bullet.
func (l *layout) list(n *doc.List, s setting) ([]*slab, error) {
	e := &finish.Element{Role: finish.RoleL, Numbering: "Disc"}
	if n.Ordered {
		e.Numbering = "Decimal"
	}
	s = s.under(e)
	below := s.below
	s.below = 2.5
	if n.Tight {
		s.below = 1.5
	}
	out, ends, err := l.listItems(n, s)
	if err != nil {
		return nil, err
	}
	noneAlone(out, ends)
	if s.outer && len(n.Items) > manyItems && (l.sheet.card || !n.Ordered) {
		e.Children = nil
		half := s
		half.width = (s.width - columnGutter) / 2
		narrow, halves, err := l.listItems(n, half)
		if err != nil {
			return nil, err
		}
		// In a guide only what is short: a list of sentences reads better as one.
		both, mostly := l.sideBySide(narrow, halves, half.width+columnGutter), len(n.Items)+len(n.Items)/8
		if both != nil && (l.sheet.card || len(narrow) <= mostly && both.height < l.sheet.room()/2) {
			out = []*slab{both}
		} else {
			e.Children = nil
			if out, ends, err = l.listItems(n, s); err != nil {
				return nil, err
			}
			noneAlone(out, ends)
		}
	}
	if len(out) > 0 {
		out[len(out)-1].below = below
	}
	return out, nil
}

// noneAlone keeps the first and the last item of a list with the one beside it, unless it is long enough to stand alone.
func noneAlone(slabs []*slab, ends []int) {
	begin := 0
	for i, end := range ends[:max(len(ends)-1, 0)] {
		first, last := i == 0 && end-begin < standsAlone, i == len(ends)-2 && ends[i+1]-end < standsAlone
		if (first || last) && end > 0 && slabs[end-1].after == free {
			slabs[end-1].after = slight
		}
		begin = end
	}
}

// standsAlone is the number of lines from which an item of a list may be alone on a page.
const standsAlone = 3

// listItems sets the items of a list below each other; ends are the numbers of slabs after each.
func (l *layout) listItems(n *doc.List, s setting) (out []*slab, ends []int, err error) {
	number := n.Start
	for _, li := range n.Items {
		slabs, err := l.listItem(li, s.at(li), n.Ordered, number)
		if err != nil {
			return nil, nil, err
		}
		if len(slabs) > 0 {
			slabs[len(slabs)-1].below = s.below
		}
		out = append(out, marked(li, slabs)...)
		ends = append(ends, len(out))
		number++
	}
	return out, ends, nil
}

// A list of more items than this may have two columns.
const (
	manyItems    = 12
	columnGutter = 14
)

// sideBySide sets the items of a list in two columns, the second dx further right, as low as they get; nil if the page cannot hold that.
func (l *layout) sideBySide(slabs []*slab, ends []int, dx float64) *slab {
	var best *slab
	for _, n := range ends {
		left, right := slabs[:n], slabs[n:]
		items, height := pile(left)
		more, other := pile(right)
		if height = max(height, other); best == nil || height <= best.height {
			best = &slab{items: append(items, shift(more, dx, 0)...), height: height, name: slabs[0].name}
		}
	}
	if best == nil || best.height > l.sheet.room() {
		return nil
	}
	return best
}

// listItem sets one item. Its label goes into the first slab of what it labels, so that no page end can part the two.
func (l *layout) listItem(n *doc.Item, s setting, ordered bool, number int) ([]*slab, error) {
	s = s.under(&finish.Element{Role: finish.RoleLI})
	label := s.element(finish.RoleLbl)
	mark, indent := piece{text: "•", look: s.text, element: label}, float64(bulletIndent)
	switch box := firstBox(n); {
	case box != nil:
		mark, indent = piece{sign: ticked, look: s.text, element: label}, boxIndent
		label.ActualText = "☐"
		s.skip = box
	case ordered:
		mark, indent = piece{text: strconv.Itoa(number) + ".", look: s.text.bold(), element: label}, numberIndent
	}
	marks := l.set([]piece{mark}, l.sheet.text(), textStyle{leading: s.leading, element: label})
	if len(marks) != 1 {
		return nil, fmt.Errorf("%s: cannot set the label of a list item", s.where())
	}
	indent = max(indent, marks[0].width+5)
	head := &slab{items: shift(marks[0].items, s.left, 0), height: s.leading, after: wrong, name: "list label at " + s.where()}

	in := s.under(&finish.Element{Role: finish.RoleLBody})
	deep := s.width-indent < leastWidth
	if !deep {
		in.left, in.width = s.left+indent, s.width-indent
	}
	in.outer = false
	out, err := l.blocks(n.Blocks, in)
	if err != nil {
		return nil, err
	}
	if deep || len(out) == 0 {
		if len(out) == 0 {
			head.after = free
		}
		return append([]*slab{head}, out...), nil
	}
	out[0].items = append(head.items, out[0].items...)
	out[0].bound = ordered
	out[0].height = max(out[0].height, head.height)
	return out, nil
}

// firstBox finds the box to tick that begins a list item.
func firstBox(n *doc.Item) doc.Inline {
	if len(n.Blocks) == 0 {
		return nil
	}
	first, ok := n.Blocks[0].(*doc.Paragraph)
	if !ok || len(first.Inlines) == 0 {
		return nil
	}
	if b, ok := first.Inlines[0].(*doc.Box); ok {
		return b
	}
	return nil
}
