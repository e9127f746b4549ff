package layout

import (
	"slices"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/page"
	"ownerguide/render/pdf/paginate"
	"ownerguide/render/pdf/typeset"
	"ownerguide/spec/source"
)

// Rules on column breaks, by weight. All are kept if possible; see [paginate.Never].
const (
	ruleSingle  = paginate.Never       // no single line and no single item of a list
	ruleOpening = 10 * paginate.Never  // content that is worked through is on facing pages
	ruleHead    = 100 * paginate.Never // no introduction ends a column
)

// Costs of allowed column breaks.
const (
	insideText  = 2 // inside a paragraph
	insideItem  = 5 // inside an item of a list
	insideTable = 5
	orphanLine  = 24 // one line of running text is alone at the foot or head of a column
	pageTurn    = 2  // added if the leaf must be turned inside a block
)

// sameOpening is the cost of a break between blocks that belong together but may be in different columns if both are in view: a panel and its
// steps, steps and their limit.
var sameOpening = paginate.Break{Column: 12, Opening: 24, Leaf: ruleOpening}

// box is an unbreakable unit: a line, a row, a panel. Its items are relative to the left edge of its column, or of the text area if it
// spans, and to its own top.
type box struct {
	items         []page.Item
	open          *typeset.Open // instead of the items, if they contain page numbers
	anchors       []string
	height        float64
	bar           float64 // height of the mark of a change at its left
	before, after float64 // space; the maximum of two neighbors counts, and none at the head of a column
	free          bool    // its top need not be on a grid line
	span          bool
	newPage       bool
	settled       bool           // its items are final
	shared        bool           // it is in the cache, see [change]
	ends          paginate.Break // cost of a column break before it
	repeat        *repeated      // repeated above it if it begins a column
	name          *name          // kind and position, for error messages
}

// name is the kind and the position of a box. It is formatted only for error messages.
type name struct {
	what string
	at   source.Pos
}

func (n name) String() string { return n.what + " at " + where(n.at) }

// repeated is the head row of a table, to be repeated.
type repeated struct {
	items  []page.Item
	open   *typeset.Open
	height float64
}

// prepend inserts an item before the others.
func (b *box) prepend(it page.Item) { b.items = append([]page.Item{it}, b.items...) }

// change returns a box of a list, to be modified: a copy in the place of one from the cache, which other guides have too.
func change(list []*box, i int) *box {
	if list[i].shared {
		own := *list[i]
		own.shared, own.anchors = false, slices.Clip(own.anchors)
		list[i] = &own
	}
	return list[i]
}

// marked adds bars to the boxes of a changed part.
func marked(n doc.Part, boxes []*box) []*box {
	if !n.Attr().Changed {
		return boxes
	}
	for i := range boxes {
		b := change(boxes, i)
		b.bar = max(b.bar, b.height)
	}
	return boxes
}

// keep raises the cost of a break before a box to at least p.
func (b *box) keep(p paginate.Penalty) { b.keepAt(paginate.Everywhere(p)) }

// keepAt raises the cost of a break before a box to at least p, by the kind of break.
func (b *box) keepAt(p paginate.Break) {
	b.ends.Column, b.ends.Opening, b.ends.Leaf = max(b.ends.Column, p.Column), max(b.ends.Opening, p.Opening), max(b.ends.Leaf, p.Leaf)
}

// keepTogether keeps boxes together.
func keepTogether(boxes []*box, p paginate.Penalty) {
	for i := 1; i < len(boxes); i++ {
		change(boxes, i).keep(p)
	}
}

// keepOnOpening keeps boxes on facing pages.
func keepOnOpening(boxes []*box) {
	for i := 1; i < len(boxes); i++ {
		change(boxes, i).keepAt(paginate.Break{Leaf: ruleOpening})
	}
}

// gap returns the space between two boxes.
func gap(a, b *box) float64 { return max(a.after, b.before) }

// stack places boxes one below another as one unbreakable group of items.
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

// chapter is the data for running heads and tabs.
type chapter struct {
	number string
	title  string
	part   string
	later  bool // it is in a later part than the first
	index  int  // among the numbered chapters, from 0
	cover  bool
	fresh  bool // it begins a page
}

// setting is the context in which blocks are set at one position in the tree.
type setting struct {
	left, width float64 // of the column; marks are at left
	indent      float64 // of running text: 0, or the lane in an entry
	text        page.Look
	table       page.Look
	caption     page.Look
	leading     float64
	outer       bool // it is the column itself: wide tables and figures may span
	full        float64
	parent      *finish.Element
	depth       int // of the enclosing section
	role        doc.Role
	origin      source.Pos // position of what is set or, if it has none, of its parent
	next        doc.Block  // the following sibling
	first       bool       // only the section's head is above
	fresh       bool       // it is a chapter that begins a page
	within      string     // id of the section
}

// outermost returns the setting of a chapter.
func (s *setter) outermost(root *finish.Element) setting {
	st := setting{
		width: s.format.ColumnWidth, full: s.format.TextWidth(), outer: true, text: body, table: tableText, caption: caption, leading: leading, parent: root,
	}
	if s.format.Card {
		st.text, st.table, st.caption, st.leading = cardText, cardText, cardLabel, cardLeading
	}
	return st
}

// under returns a setting whose elements are children of e.
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

// unnest makes a paragraph that is alone in the body of a list item the body: a nested paragraph would add nothing. The body is the last
// child of the setting's parent.
func (st setting) unnest() {
	body := &st.parent.Children[len(st.parent.Children)-1]
	if list := (*body).Children; len(list) == 1 && list[0].Role == finish.RoleP {
		list[0].Role = finish.RoleLBody
		*body = list[0]
	}
}

// at returns the setting for a part of the document.
func (st setting) at(n doc.Part) setting {
	if at := n.Attr().Origin; at != (source.Pos{}) {
		st.origin = at
	}
	return st
}

// indented returns the setting of content next to the lane of marks.
func (st setting) indented() setting {
	st.left, st.width, st.indent, st.outer = st.left+laneWidth, st.width-laneWidth, 0, false
	return st
}

// spanning returns the setting of content as wide as the page.
func (st setting) spanning() setting {
	st.left, st.width, st.indent = 0, st.full, 0
	return st
}

// lineBoxes returns a box for each line of a paragraph, with at least two lines on each side of a column break. A single line is allowed
// if the text continues in the next column of the same page; anywhere else it is overlooked.
func lineBoxes(lines []*typeset.Line, x float64, inside paginate.Penalty, is *name) []*box {
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
				out[i].ends.Column = orphanLine
			}
		default:
			out[i].ends = paginate.Break{Column: inside, Opening: inside, Leaf: inside + pageTurn}
		}
	}
	return out
}
