package layout

import (
	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/page"
	"ownerguide/render/pdf/paginate"
	"ownerguide/render/pdf/typeset"
	"ownerguide/spec/source"
)

// Rules of where columns and pages end, by what gives way last. All are kept where they can be; see [paginate.Never].
const (
	ruleSingle = paginate.Never       // no line and no item of a list alone
	ruleLeaf   = 10 * paginate.Never  // what is worked through stands on one opening
	ruleHead   = 100 * paginate.Never // nothing that only announces what follows ends a column
)

// Costs of ends that are allowed.
const (
	insideText  = 2 // a paragraph goes on in the next column
	insideItem  = 5 // an item of a list does
	insideTable = 5
	loneLine    = 24 // one line of running text stands at the foot or head of a column
	turnsLeaf   = 2  // added where the leaf is turned inside any block
)

// inSight is the cost of an end between what belongs together, a panel and its steps, steps and their limit, where both are in sight.
var inSight = paginate.Break{Column: 12, Opening: 24, Leaf: ruleLeaf}

// box is what no column end parts: a line, a row, a panel. Its items count from the left edge of its column, or of the text area if it
// spans, and from its own top.
type box struct {
	items         []page.Item
	height        float64
	before, after float64 // space; of two neighbours the greater counts, and at the head of a column there is none
	free          bool    // it follows the one before without going down to the grid
	span          bool
	newPage       bool
	ends          paginate.Break // what it costs to end a column before it
	repeat        *repeated      // set above it again where it begins a column
	chapter       *chapter       // it begins one
	name          name           // kind and place, for error messages
}

// name is what a box is and where it comes from. It is put in words for an error message alone.
type name struct {
	what string
	at   source.Pos
}

func (n name) String() string { return n.what + " at " + where(n.at) }

// repeated is the head row of a table, as it is repeated.
type repeated struct {
	items  []page.Item
	height float64
}

// prepend sets an item before the others.
func (b *box) prepend(it page.Item) { b.items = append([]page.Item{it}, b.items...) }

// keep makes it cost at least p to end a column before a box.
func (b *box) keep(p paginate.Penalty) { b.keepAt(paginate.Everywhere(p)) }

// keepAt makes it cost at least so much, by the kind of end.
func (b *box) keepAt(p paginate.Break) {
	b.ends.Column, b.ends.Opening, b.ends.Leaf = max(b.ends.Column, p.Column), max(b.ends.Opening, p.Opening), max(b.ends.Leaf, p.Leaf)
}

// keepTogether joins boxes to the first of them.
func keepTogether(boxes []*box, p paginate.Penalty) {
	for _, b := range boxes[min(1, len(boxes)):] {
		b.keep(p)
	}
}

// onOneOpening keeps boxes from being parted where the leaf is turned.
func onOneOpening(boxes []*box) {
	for _, b := range boxes[min(1, len(boxes)):] {
		b.ends.Leaf = max(b.ends.Leaf, ruleLeaf)
	}
}

// gap is the space between two boxes.
func gap(a, b *box) float64 { return max(a.after, b.before) }

// stack puts boxes below one another as one group of items, for what is never parted.
func stack(boxes []*box) (items []page.Item, height float64) {
	for i, b := range boxes {
		if i > 0 {
			height += gap(boxes[i-1], b)
		}
		items = page.AppendShifted(items, b.items, 0, height)
		height += b.height
	}
	return items, height
}

// chapter is what running heads and tabs say.
type chapter struct {
	number string
	title  string
	part   string
	later  bool // it is in another part than the first
	index  int  // among the numbered chapters, from 0
	cover  bool
}

// setting is how blocks are set at one place of the tree.
type setting struct {
	left, width float64 // of the column: its marks stand at left
	indent      float64 // of running text: 0, or the lane in an entry
	text        page.Look
	table       page.Look
	caption     page.Look
	leading     float64
	outer       bool // it is the column itself: wide tables and figures may span
	full        float64
	parent      *finish.Element
	depth       int // of the section around
	role        doc.Role
	origin      source.Pos  // of what is set or, if it has none, of what it stands in
	next        []doc.Block // what follows in the same place of the tree
	first       bool        // nothing but the section's head stands above
}

// outermost is the setting of a chapter.
func (s *setter) outermost(root *finish.Element) setting {
	st := setting{
		width: s.format.ColumnWidth, full: s.format.TextWidth(), outer: true, text: body, table: tableText, caption: caption, leading: leading, parent: root,
	}
	if s.format.Card {
		st.text, st.table, st.caption, st.leading = cardText, cardText, cardLabel, cardLeading
	}
	return st
}

// under is a setting whose elements belong to e.
func (st setting) under(e *finish.Element) setting {
	st.parent.Children = append(st.parent.Children, e)
	st.parent = e
	return st
}

// element adds an element to the setting's parent.
func (st setting) element(role finish.Role) *finish.Element {
	e := &finish.Element{Role: role}
	st.parent.Children = append(st.parent.Children, e)
	return e
}

// at is the setting for a part of the document.
func (st setting) at(n doc.Part) setting {
	if at := n.Attr().Origin; at != (source.Pos{}) {
		st.origin = at
	}
	return st
}

// inLane is the setting of what stands beside the marks of a column.
func (st setting) inLane() setting {
	st.left, st.width, st.indent, st.outer = st.left+laneWidth, st.width-laneWidth, 0, false
	return st
}

// spanning is the setting of what is as wide as the page.
func (st setting) spanning() setting {
	st.left, st.width, st.indent = 0, st.full, 0
	return st
}

// lineBoxes makes a box of each line of a paragraph, two at least on each side of a column's end. Of running text one may stand alone where
// the text goes on beside it, on the same page: everywhere else it is overlooked.
func lineBoxes(lines []*typeset.Line, x float64, inside paginate.Penalty, is name) []*box {
	out, boxes, items := make([]*box, len(lines)), make([]box, len(lines)), make([]page.Item, len(lines))
	for i, l := range lines {
		l.X += x
		items[i] = l
		boxes[i] = box{items: items[i : i+1 : i+1], height: l.Leading, name: is, free: i > 0}
		out[i] = &boxes[i]
		switch {
		case i == 0:
		case i == 1 || i == len(lines)-1:
			out[i].keep(ruleSingle)
			if inside == insideText {
				out[i].ends.Column = loneLine
			}
		default:
			out[i].ends = paginate.Break{Column: inside, Opening: inside, Leaf: inside + turnsLeaf}
		}
	}
	return out
}
