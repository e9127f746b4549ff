package finish

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// node is an element with its position in the tree and its object.
type node struct {
	*Element
	*owned
	*rule
	parent   *node
	children []*node
	object   int // object number
	first    int // painting order of the first content in its subtree, or -1
}

// rule is the nesting allowed for a role.
type rule struct {
	under   []Role // allowed parents; nil: any that does not restrict its children
	holds   []Role // allowed children; nil: any that does not restrict its parents
	content bool   // whether it may own pieces of content
}

var (
	anywhere = &rule{content: true}
	grouping = &rule{}
)

// rules is the nesting of ISO 32000-1, 14.8.4, as far as a guide uses it, interpreted strictly.
var rules = map[Role]*rule{
	RoleDocument: grouping, RolePart: grouping, RoleSect: grouping, RoleDiv: grouping,
	RoleP: anywhere, RoleH1: anywhere, RoleH2: anywhere, RoleH3: anywhere, RoleH4: anywhere, RoleH5: anywhere, RoleH6: anywhere,
	RoleSpan: anywhere, RoleReference: anywhere, RoleLink: anywhere,
	RoleFigure: anywhere, RoleCaption: anywhere,
	RoleTOC:   {holds: []Role{RoleTOC, RoleTOCI, RoleCaption}},
	RoleTOCI:  {under: []Role{RoleTOC}, holds: []Role{RoleLbl, RoleReference, RoleP, RoleTOC, RoleLink}},
	RoleL:     {holds: []Role{RoleL, RoleLI, RoleCaption}},
	RoleLI:    {under: []Role{RoleL}, holds: []Role{RoleLbl, RoleLBody}},
	RoleLbl:   {under: []Role{RoleLI, RoleTOCI, RoleCaption}, content: true},
	RoleLBody: {under: []Role{RoleLI}, content: true},
	RoleTable: {holds: []Role{RoleTHead, RoleTBody, RoleTR, RoleCaption}},
	RoleTHead: {under: []Role{RoleTable}, holds: []Role{RoleTR}},
	RoleTBody: {under: []Role{RoleTable}, holds: []Role{RoleTR}},
	RoleTR:    {under: []Role{RoleTable, RoleTHead, RoleTBody}, holds: []Role{RoleTH, RoleTD}},
	RoleTH:    {under: []Role{RoleTR}, content: true},
	RoleTD:    {under: []Role{RoleTR}, content: true},
}

// tree is the checked and numbered structure tree.
type tree struct {
	nodes []*node // in reading order, the root first
	spare []node  // memory for further nodes
}

// newTree checks the elements against the rules and against what was painted.
func newTree(root *Element, p *painted) (*tree, error) {
	t := &tree{}
	if root == nil || root.Role != RoleDocument {
		return nil, fmt.Errorf("the root of the structure tree must have the role %s", RoleDocument)
	}
	if top, err := t.add(root, nil, p); err != nil {
		return nil, err
	} else if top.first < 0 {
		return nil, fmt.Errorf("nothing was painted for the structure tree")
	}
	for _, owners := range p.owners {
		for _, o := range owners {
			if o.node == nil {
				return nil, fmt.Errorf("content belongs to an element that is not in the structure tree")
			}
		}
	}
	for _, l := range p.all {
		if p.of(l.element).node == nil {
			return nil, fmt.Errorf("the element of the link to %q is not in the structure tree", l.to)
		}
	}
	return t, nil
}

// path returns the path of a node for an error message, such as "Document/Sect/P".
func (n *node) path() string {
	var names []string
	for ; n != nil; n = n.parent {
		names = append(names, string(n.Role))
	}
	slices.Reverse(names)
	return strings.Join(names, "/")
}

// add adds an element and its descendants. An element that occurs twice is an error, so cycles are found.
func (t *tree) add(e *Element, parent *node, p *painted) (*node, error) {
	if len(t.spare) == 0 {
		t.spare = make([]node, 500)
	}
	n := &t.spare[0]
	t.spare = t.spare[1:]
	*n = node{Element: e, owned: p.of(e), rule: rules[e.Role], parent: parent, first: -1}
	if n.rule == nil {
		return nil, fmt.Errorf("%s: role %q is not a standard structure type", n.path(), e.Role)
	}
	if n.node != nil {
		return nil, fmt.Errorf("%s: element is in the structure tree twice", n.path())
	}
	n.node = n
	t.nodes = append(t.nodes, n)
	for _, piece := range n.pieces {
		n.reached(piece.order)
	}
	for _, l := range n.links {
		n.reached(l.order)
	}
	if len(e.Children) > 0 {
		n.children = make([]*node, 0, len(e.Children))
	}
	for _, child := range e.Children {
		if child == nil {
			return nil, fmt.Errorf("%s: child is missing", n.path())
		}
		before := len(t.nodes)
		below, err := t.add(child, n, p)
		switch {
		case err != nil:
			return nil, err
		case below.first >= 0:
			n.reached(below.first)
		case child.Role != RoleTH && child.Role != RoleTD && !emptyRow(below):
			t.nodes = t.nodes[:before]
			continue
		}
		n.children = append(n.children, below)
	}
	if err := n.check(); err != nil {
		return nil, fmt.Errorf("%s: %w", n.path(), err)
	}
	return n, nil
}

// emptyRow reports whether a node is a table row of empty cells.
func emptyRow(n *node) bool { return n.Role == RoleTR && len(n.children) > 0 }

func (n *node) reached(order int) {
	if n.first < 0 || order < n.first {
		n.first = order
	}
}

// check checks one node against the rules.
func (n *node) check() error {
	if n.parent != nil {
		if n.Role == RoleDocument || n.under != nil && !slices.Contains(n.under, n.parent.Role) ||
			n.parent.holds != nil && !slices.Contains(n.parent.holds, n.Role) {
			return fmt.Errorf("role %s may not stand under %s", n.Role, n.parent.Role)
		}
	}
	if !n.content && len(n.pieces) > 0 {
		return fmt.Errorf("role %s only groups others and may not own content", n.Role)
	}
	framed := n.frame != nil
	switch {
	case n.Role == RoleFigure && n.Alt == "":
		return fmt.Errorf("role %s needs alternative text", n.Role)
	case n.Role == RoleLink && len(n.links) == 0:
		return fmt.Errorf("role %s has no link annotation", n.Role)
	case n.Role == RoleTH && n.Scope != ScopeColumn && n.Scope != ScopeRow:
		return fmt.Errorf("role %s needs a scope of column or row", n.Role)
	case n.Role != RoleTH && n.Scope != "":
		return fmt.Errorf("role %s may not have a scope", n.Role)
	case n.Numbering != "" && (n.Role != RoleL || !slices.Contains(numberings, n.Numbering)):
		return fmt.Errorf("role %s may not have the list numbering %q", n.Role, n.Numbering)
	case framed && n.Role != RoleFigure:
		return fmt.Errorf("role %s may not have a box", n.Role)
	case framed && len(n.pieces) == 0:
		return fmt.Errorf("role %s has a box and owns no content that would say on which page", n.Role)
	}
	return nil
}

// numberings is the list attribute ListNumbering of ISO 32000-1, 14.8.5.5.
var numberings = []string{"None", "Disc", "Circle", "Square", "Decimal", "UpperRoman", "LowerRoman", "UpperAlpha", "LowerAlpha"}

// writeTree writes the structure tree, the links and the parent tree. It returns the tree's object number.
func (f *file) writeTree(t *tree, p *painted) int {
	root := f.reserve()
	f.bodies = slices.Grow(f.bodies, len(t.nodes)+2*len(p.all))
	for _, n := range t.nodes {
		n.object = f.reserve()
	}
	for i, l := range p.all {
		l.object = f.reserve()
		f.writeLink(l, len(p.objects)+i, p)
	}
	for _, n := range t.nodes {
		f.writeNode(n, root, p)
	}

	// The parent tree maps a page's index to the owners of its pieces, and a link's number to its element.
	b := []byte("<</Nums[")
	for i, owners := range p.owners {
		b = fmt.Appendf(b, "%d[", i)
		for _, o := range owners {
			b = appendReference(b, o.node.object)
		}
		b = append(b, "]\n"...)
	}
	for i, l := range p.all {
		b = fmt.Appendf(b, "%d %d 0 R\n", len(p.objects)+i, p.of(l.element).node.object)
	}
	parents := f.add(append(b, "]>>"...))

	f.put(root, fmt.Appendf(nil, "<</Type/StructTreeRoot/K %d 0 R/ParentTree %d 0 R/ParentTreeNextKey %d>>", t.nodes[0].object, parents, len(p.objects)+len(p.all)))
	return root
}

func (f *file) writeLink(l *link, key int, p *painted) {
	// Whole points suffice, rounded outwards: the area is only touched.
	around := [4]float64{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)} // left, bottom, right, top
	var quads []byte
	for _, box := range l.boxes {
		left, bottom, right, top := math.Floor(exact(box.X)), math.Floor(exact(p.height-box.Y-box.H)), math.Ceil(exact(box.X+box.W)), math.Ceil(exact(p.height-box.Y))
		around = [4]float64{min(around[0], left), min(around[1], bottom), max(around[2], right), max(around[3], top)}
		for _, v := range []float64{left, top, right, top, left, bottom, right, bottom} { // the order that readers expect
			quads = append(appendNumber(quads, v), ' ')
		}
	}
	b := fmt.Appendf(nil, "<</Type/Annot/Subtype/Link/Rect[%v %v %v %v]/Border[0 0 0]/F 4/StructParent %d/Contents%s",
		around[0], around[1], around[2], around[3], key, textString(l.words))
	if len(l.boxes) > 1 {
		b = fmt.Appendf(b, "/QuadPoints[%s]", bytes.TrimSpace(quads))
	}
	if l.inside {
		b = fmt.Appendf(b, "/Dest%s>>", byteString(l.to))
	} else {
		b = fmt.Appendf(b, "/A<</S/URI/URI%s>>>>", byteString(l.to))
	}
	f.put(l.object, b)
}

// rectangle formats a box as a PDF rectangle, lower left corner first.
func rectangle(b Box, height float64) string {
	out := []byte{'['}
	for _, v := range []float64{b.X, height - b.Y - b.H, b.X + b.W, height - b.Y} {
		out = append(appendNumber(out, v), ' ')
	}
	out[len(out)-1] = ']'
	return string(out)
}

// appendReference appends a reference to a list.
func appendReference(b []byte, object int) []byte {
	return append(strconv.AppendInt(b, int64(object), 10), " 0 R "...)
}

// contentItem is a piece or a link among the children of an element.
type contentItem struct {
	order, page int
	id          int // of a piece
	object      int // of a link; 0 for a piece
}

// append appends the child. A piece on the element's own page is a bare number; otherwise it names its page.
func (k contentItem) append(b []byte, page int, pages []int) []byte {
	switch {
	case k.object != 0:
		return fmt.Appendf(b, "<</Type/OBJR/Obj %d 0 R/Pg %d 0 R>>", k.object, pages[k.page])
	case k.page != page:
		return fmt.Appendf(b, "<</Type/MCR/Pg %d 0 R/MCID %d>>", pages[k.page], k.id)
	}
	return append(strconv.AppendInt(b, int64(k.id), 10), ' ')
}

// contents appends the pieces and links of an element in painting order, and returns the page of its first piece, or -1.
func (o *owned) contents(own []contentItem) (all []contentItem, page int) {
	page = -1
	for i, c := range o.pieces {
		if i == 0 {
			page = c.page
		}
		own = append(own, contentItem{order: c.order, page: c.page, id: c.id})
	}
	for _, l := range o.links {
		own = append(own, contentItem{order: l.order, page: l.page, object: l.object})
	}
	slices.SortFunc(own, func(a, b contentItem) int { return a.order - b.order })
	return own, page
}

func (f *file) writeNode(n *node, root int, p *painted) {
	parent := root
	if n.parent != nil {
		parent = n.parent.object
	}
	if cap(f.memory)-len(f.memory) < 1<<9 {
		f.memory = make([]byte, 0, 1<<15)
	}
	begin := len(f.memory)
	b := append(append(append(f.memory, "<</S/"...), n.Role...), "/P "...)
	b = append(strconv.AppendInt(b, int64(parent), 10), " 0 R"...)
	for _, a := range []struct{ key, text string }{{"T", n.Title}, {"Alt", n.Alt}, {"ActualText", n.ActualText}, {"Lang", n.Lang}} {
		if a.text != "" {
			b = fmt.Appendf(b, "/%s%s", a.key, textString(a.text))
		}
	}

	var room [8]contentItem // on the stack; few elements have more
	own, page := n.contents(room[:0])
	if page >= 0 {
		b = append(strconv.AppendInt(append(b, "/Pg "...), int64(p.objects[page]), 10), " 0 R"...)
	}
	b = append(b, n.attributes(p.height)...)
	b = append(b, "/K["...)
	for _, c := range n.children {
		for len(own) > 0 && c.first >= 0 && own[0].order < c.first {
			b = own[0].append(b, page, p.objects)
			own = own[1:]
		}
		b = appendReference(b, c.object)
	}
	for _, k := range own {
		b = k.append(b, page, p.objects)
	}
	put := f.put
	if n.Alt != "" { // alternative texts have units of measure
		put = f.putOwn
	}
	b = append(b, "]>>"...)
	f.memory = b
	put(n.object, b[begin:len(b):len(b)])
}

// attributes returns the attribute entry of a cell, a list or a figure.
func (n *node) attributes(height float64) string {
	switch {
	case n.Scope != "":
		return fmt.Sprintf("/A<</O/Table/Scope/%s>>", n.Scope)
	case n.Numbering != "":
		return fmt.Sprintf("/A<</O/List/ListNumbering/%s>>", n.Numbering)
	case n.frame != nil:
		return fmt.Sprintf("/A<</O/Layout/Placement/Block/BBox%s>>", rectangle(*n.frame, height))
	}
	return ""
}
