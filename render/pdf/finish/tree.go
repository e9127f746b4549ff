package finish

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
)

// node is an element in the tree.
type node struct {
	*Element
	*rule
	object int   // object number
	depth  int   // in the tree
	own    int32 // its first content, or 0
	first  int32 // the first content in its subtree, or 0
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

// tree writes the structure tree and checks it against the rules and against what was painted.
type tree struct {
	*file
	*painted
	kids []node // children of the elements begun, innermost last
}

// maxTree limits the depth of the tree, so that a cycle is an error.
const maxTree = 100

// add writes an element and its descendants. Of what is left out nothing stays.
func (t *tree) add(e *Element, parent node) (node, error) {
	own := &t.owners[t.index[e]] // owner 0, without content, if it is not in the index
	n := node{Element: e, rule: rules[e.Role], object: len(t.bodies), depth: parent.depth + 1, own: own.first, first: own.first}
	switch {
	case n.rule == nil:
		return n, fmt.Errorf("%s: role %q is not a standard structure type", e.Role, e.Role)
	case own.object != 0 || n.depth > maxTree:
		return n, fmt.Errorf("%s: element is in the structure tree twice", e.Role)
	}
	if n.own != 0 {
		own.object = n.object
	}
	t.bodies = append(t.bodies, body{})
	begin := len(t.kids)
	for _, child := range e.Children {
		if child == nil {
			return n, fmt.Errorf("%s: child is missing", e.Role)
		}
		below, err := t.add(child, n)
		if err != nil {
			return n, fmt.Errorf("%s/%w", e.Role, err)
		}
		if below.object < len(t.bodies) { // not left out
			t.kids = append(t.kids, below)
		}
		if below.first != 0 && (n.first == 0 || below.first < n.first) {
			n.first = below.first
		}
	}
	if err := t.check(n, parent); err != nil {
		return n, fmt.Errorf("%s: %w", e.Role, err)
	}
	if kids := t.kids[begin:]; n.first != 0 || e.Role == RoleTH || e.Role == RoleTD || e.Role == RoleTR && len(kids) > 0 {
		t.write(n, parent, kids)
	} else {
		t.bodies = t.bodies[:n.object]
	}
	t.kids = t.kids[:begin]
	return n, nil
}

// check checks one node against the rules.
func (t *tree) check(n, parent node) error {
	if parent.Element != nil {
		if n.Role == RoleDocument || n.under != nil && !slices.Contains(n.under, parent.Role) || parent.holds != nil && !slices.Contains(parent.holds, n.Role) {
			return fmt.Errorf("role %s may not stand under %s", n.Role, parent.Role)
		}
	}
	linked := false
	for i := n.own; i != 0; i = t.contents[i].next {
		linked = linked || t.contents[i].link
	}
	switch {
	case n.own != 0 && !n.content:
		return fmt.Errorf("role %s only groups others and may not own content", n.Role)
	case n.Role == RoleFigure && n.Alt == "":
		return fmt.Errorf("role %s needs alternative text", n.Role)
	case n.Role == RoleLink && !linked:
		return fmt.Errorf("role %s has no link annotation", n.Role)
	case n.Role == RoleTH && n.Scope != ScopeColumn && n.Scope != ScopeRow:
		return fmt.Errorf("role %s needs a scope of column or row", n.Role)
	case n.Role != RoleTH && n.Scope != "":
		return fmt.Errorf("role %s may not have a scope", n.Role)
	case n.Numbering != "" && (n.Role != RoleL || !slices.Contains(numberings, n.Numbering)):
		return fmt.Errorf("role %s may not have the list numbering %q", n.Role, n.Numbering)
	case n.Role == RoleFigure && n.own == 0:
		if _, framed := t.frames[n.Element]; framed {
			return fmt.Errorf("role %s has a box and owns no content that would say on which page", n.Role)
		}
	}
	return nil
}

// numberings is the list attribute ListNumbering of ISO 32000-1, 14.8.5.5.
var numberings = []string{"None", "Disc", "Circle", "Square", "Decimal", "UpperRoman", "LowerRoman", "UpperAlpha", "LowerAlpha"}

// writeTree writes the structure tree, the links and the parent tree. It returns the tree's object number.
func (f *file) writeTree(root *Element, p *painted) (int, error) {
	if root == nil || root.Role != RoleDocument {
		return 0, fmt.Errorf("the root of the structure tree must have the role %s", RoleDocument)
	}
	number := f.reserve()
	for i := range p.links {
		p.links[i].object = f.reserve()
		f.writeLink(&p.links[i], p.count+i, p.height)
	}
	t := tree{file: f, painted: p}
	top, err := t.add(root, node{object: number})
	switch {
	case err != nil:
		return 0, err
	case top.first == 0:
		return 0, errors.New("nothing was painted for the structure tree")
	case slices.ContainsFunc(p.owners[1:], func(o owner) bool { return o.object == 0 }):
		return 0, errors.New("content or a link belongs to an element that is not in the structure tree")
	}

	// The parent tree maps a page's index to the owners of its pieces, and a link's number to its element.
	b, rest := append(f.scratch[:0], "<</Nums["...), p.contents[1:]
	for i := range p.count {
		b = append(strconv.AppendInt(b, int64(i), 10), '[')
		for ; len(rest) > 0 && int(rest[0].page) == i; rest = rest[1:] {
			if !rest[0].link {
				b = append(appendReference(b, "", p.owners[rest[0].owner].object), ' ')
			}
		}
		b = append(b, "]\n"...)
	}
	for i, l := range p.links {
		b = appendReference(strconv.AppendInt(b, int64(p.count+i), 10), " ", p.owners[p.index[l.element]].object)
		b = append(b, '\n')
	}
	f.scratch = append(b, "]>>"...)
	parents := f.add(f.scratch)

	f.put(number, plainBody, fmt.Appendf(nil, "<</Type/StructTreeRoot/K %d 0 R/ParentTree %d 0 R/ParentTreeNextKey %d>>", top.object, parents, p.count+len(p.links)))
	return number, nil
}

// writeLink writes a link annotation. Key is its number in the parent tree.
func (f *file) writeLink(l *link, key int, height float64) {
	// Whole points suffice, rounded outwards: the area is only touched.
	around := [4]float64{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)} // left, bottom, right, top
	var room [64]byte
	quads := room[:0]
	for _, box := range l.boxes {
		left, bottom, right, top := math.Floor(exact(box.X)), math.Floor(exact(height-box.Y-box.H)), math.Ceil(exact(box.X+box.W)), math.Ceil(exact(height-box.Y))
		around = [4]float64{min(around[0], left), min(around[1], bottom), max(around[2], right), max(around[3], top)}
		quads = appendNumbers(quads, left, top, right, top, left, bottom, right, bottom) // the order that readers expect
	}
	b := append(f.scratch[:0], "<</Type/Annot/Subtype/Link/Rect["...)
	b = append(bytes.TrimSpace(appendNumbers(b, around[:]...)), "]/Border[0 0 0]/F 4/StructParent "...)
	b = appendText(append(strconv.AppendInt(b, int64(key), 10), "/Contents"...), l.words)
	if len(l.boxes) > 1 {
		b = append(append(append(b, "/QuadPoints["...), bytes.TrimSpace(quads)...), ']')
	}
	if l.inside {
		b = append(appendBytes(append(b, "/Dest"...), l.to), ">>"...)
	} else {
		b = append(appendBytes(append(b, "/A<</S/URI/URI"...), l.to), ">>>>"...)
	}
	f.scratch = b
	f.put(l.object, plainBody, b)
}

// appendReference appends a reference to an object, after a key.
func appendReference(b []byte, key string, object int) []byte {
	return append(strconv.AppendInt(append(b, key...), int64(object), 10), " 0 R"...)
}

// appendContent appends a content to the children of its element. A piece on the element's own page is a bare number; otherwise it names its page.
func (t *tree) appendContent(b []byte, c content, page int32) []byte {
	switch {
	case c.link:
		b = appendReference(b, "<</Type/OBJR/Obj ", t.links[c.id].object)
		return append(appendReference(b, "/Pg ", t.objects[c.page]), ">>"...)
	case c.page != page:
		b = appendReference(b, "<</Type/MCR/Pg ", t.objects[c.page])
		return append(strconv.AppendInt(append(b, "/MCID "...), int64(c.id), 10), ">>"...)
	}
	return append(strconv.AppendInt(b, int64(c.id), 10), ' ')
}

// write writes an element, with its contents and its children in the order in which they were painted.
func (t *tree) write(n, parent node, kids []node) {
	b := appendReference(append(append(t.scratch[:0], "<</S/"...), n.Role...), "/P ", parent.object)
	for _, a := range [...]struct{ key, text string }{{"/T", n.Title}, {"/Alt", n.Alt}, {"/ActualText", n.ActualText}, {"/Lang", n.Lang}} {
		if a.text != "" {
			b = appendText(append(b, a.key...), a.text)
		}
	}
	page := int32(-1) // of the first piece
	for i := n.own; i != 0 && page < 0; i = t.contents[i].next {
		if c := t.contents[i]; !c.link {
			page = c.page
			b = appendReference(b, "/Pg ", t.objects[page])
		}
	}
	b = append(t.appendAttributes(b, n.Element), "/K["...)
	next := n.own
	for _, k := range kids {
		for ; next != 0 && next < k.first; next = t.contents[next].next {
			b = t.appendContent(b, t.contents[next], page)
		}
		b = append(appendReference(b, "", k.object), ' ')
	}
	for ; next != 0; next = t.contents[next].next {
		b = t.appendContent(b, t.contents[next], page)
	}
	t.scratch = append(b, "]>>"...)
	kind := plainBody
	if n.Alt != "" { // alternative texts have units of measure
		kind = ownBody
	}
	t.put(n.object, kind, t.scratch)
}

// appendAttributes appends the attributes of a cell, a list or a figure.
func (t *tree) appendAttributes(b []byte, e *Element) []byte {
	switch {
	case e.Scope != "":
		return append(append(append(b, "/A<</O/Table/Scope/"...), e.Scope...), ">>"...)
	case e.Numbering != "":
		return append(append(append(b, "/A<</O/List/ListNumbering/"...), e.Numbering...), ">>"...)
	case e.Role == RoleFigure:
		if box, framed := t.frames[e]; framed {
			b = appendNumbers(append(b, "/A<</O/Layout/Placement/Block/BBox["...), box.X, t.height-box.Y-box.H, box.X+box.W, t.height-box.Y)
			return append(bytes.TrimSpace(b), "]>>"...)
		}
	}
	return b
}
