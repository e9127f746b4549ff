package finish

import (
	"fmt"
	"strconv"
)

// Pages is the painted pages of one document. Coordinates are points from the top left corner of the page. The first
// error stops painting and is returned by [Pages.Finish]. A Pages is for one goroutine and one file.
type Pages struct {
	painted
	width    float64
	contents [][]byte // of finished pages not yet compressed
	packed   [][]byte // of earlier pages, compressed
	count    int      // number of pages, including the current one
	out      []byte   // content of the pages not yet compressed
	begun    int      // where that of the current page begins
	open     bool     // inside a piece or an artifact
	unmarked bool     // nothing is painted in it yet
	element  *Element // owner of the open piece; nil for an artifact
	artifact ArtifactKind
	text     textObject
	lineX    float64 // start of the last text in the text object, in PDF coordinates
	lineY    float64
	pen      float64 // its end
	graphics         // current state
	saved    []graphics
	glyphs   []glyphSet     // glyphs used, by font
	pictures int            // number of the kit's pictures that are used
	forms    map[string]int // content of forms, with their numbers
	err      error
}

// painted is what the structure tree needs from the pages: what each element owns, and the anchors.
type painted struct {
	height  float64 // of every page
	owned   map[*Element]*owned
	spare   []owned    // memory for more
	all     []*link    // in painting order
	owners  [][]*owned // by page index and marked-content identifier
	anchors map[string]place
	order   int
	objects []int // object numbers of the pages, assigned later
}

// owned is what belongs to an element.
type owned struct {
	one    [1]piece // memory for pieces: most elements have one
	pieces []piece
	links  []*link
	frame  *Box  // position of a figure on its page
	node   *node // in the tree; nil until it is made
}

// of returns what belongs to an element.
func (p *painted) of(e *Element) *owned {
	o := p.owned[e]
	if o == nil {
		if len(p.spare) == 0 {
			p.spare = make([]owned, 256)
		}
		o, p.spare = &p.spare[0], p.spare[1:]
		p.owned[e] = o
	}
	return o
}

// piece is a marked-content sequence of an element.
type piece struct {
	page  int // index
	id    int // marked-content identifier, counted from 0 on each page
	order int // painting order among all pieces and links of the document
}

// link is a link annotation.
type link struct {
	element     *Element
	boxes       []Box  // one for each line it is on
	inside      bool   // the target is an anchor
	to          string // anchor or address
	words       string // read aloud
	page, order int
	object      int // its object number, assigned later
}

// place is a position on a page, in PDF coordinates (y upwards).
type place struct {
	page int
	y    float64
}

// NewPages returns an empty Pages for pages of one size, in points.
func NewPages(width, height float64) *Pages {
	return &Pages{width: width, out: (*buffers.Get().(*[]byte))[:0], forms: map[string]int{}, painted: painted{height: height,
		owned: map[*Element]*owned{}, anchors: map[string]place{}}}
}

// Page starts a page.
func (p *Pages) Page() {
	p.endPage()
	p.count++
	p.owners = append(p.owners, nil)
	p.graphics = startOfPage
}

// endPage finishes the current page, if any.
func (p *Pages) endPage() {
	if p.count == len(p.packed)+len(p.contents) {
		return
	}
	switch {
	case p.open:
		p.fail("a piece is not closed at the end of the page")
	case len(p.saved) > 0:
		p.fail("the graphics state is not restored at the end of the page")
	}
	p.endText()
	p.contents = append(p.contents, p.out[p.begun:len(p.out):len(p.out)])
	p.begun = len(p.out)
}

// fail records the first error.
func (p *Pages) fail(format string, args ...any) {
	if p.err == nil {
		p.err = fmt.Errorf("page %d: %w", p.count, fmt.Errorf(format, args...))
	}
}

// Pack ends the current page and compresses the content so far, to save memory until Finish. It returns the first error.
func (p *Pages) Pack() error {
	p.endPage()
	p.packed, p.contents = append(p.packed, deflateAll(p.contents)...), nil
	p.out, p.begun = p.out[:0], 0
	return p.err
}

// Begin opens a piece that belongs to the element; End closes it. Pieces do not nest and do not cross pages. An
// element may have many, on several pages. A piece in which nothing is painted is omitted.
func (p *Pages) Begin(e *Element) {
	if !p.openPiece() {
		return
	}
	if e == nil {
		p.fail("a piece belongs to no element")
		return
	}
	p.element = e
}

// openPiece opens a piece if one may be opened here.
func (p *Pages) openPiece() bool {
	switch {
	case p.count == 0:
		p.fail("nothing can be painted before the first page")
		return false
	case p.open:
		p.fail("a piece is opened inside another")
	}
	p.open, p.unmarked = true, true
	return true
}

// mark writes the BDC of the open piece before its first content.
func (p *Pages) mark() {
	if !p.unmarked {
		return
	}
	p.unmarked = false
	e := p.element
	if e == nil {
		p.out = append(p.out, artifacts[p.artifact]...)
		return
	}
	page := p.count - 1
	id, o := len(p.owners[page]), p.of(e)
	p.owners[page] = append(p.owners[page], o)
	if o.pieces == nil {
		o.pieces = o.one[:0]
	}
	o.pieces = append(o.pieces, piece{page, id, p.order})
	p.order++
	p.out = append(append(append(p.out, '/'), e.Role...), "<</MCID "...)
	p.out = append(strconv.AppendInt(p.out, int64(id), 10), ">>BDC\n"...)
}

// ArtifactKind is the kind of an artifact.
type ArtifactKind uint8

// The kinds of artifact.
const (
	Layout ArtifactKind = iota // rules, frames, fills, repeated table heads
	Header                     // running head
	Footer                     // running foot, page number
)

// artifacts are the operators that begin an artifact, by kind.
var artifacts = [...]string{
	Layout: "/Artifact<</Type/Layout>>BDC\n",
	Header: "/Artifact<</Type/Pagination/Subtype/Header>>BDC\n",
	Footer: "/Artifact<</Type/Pagination/Subtype/Footer>>BDC\n",
}

// Artifact opens an artifact, which is not read aloud; End closes it.
func (p *Pages) Artifact(kind ArtifactKind) {
	if p.openPiece() {
		p.element, p.artifact = nil, kind
	}
}

// End closes the open piece.
func (p *Pages) End() {
	if !p.open {
		p.fail("a piece is closed that was not opened")
	}
	if p.text == pieceText {
		p.endText()
	}
	if !p.unmarked {
		p.out = append(p.out, "EMC\n"...)
	}
	p.open, p.unmarked = false, false
}

// Anchor names the position at height y of the current page, for links and bookmarks. Names are unique in the document.
func (p *Pages) Anchor(name string, y float64) {
	if _, ok := p.anchors[name]; ok || name == "" {
		p.fail("anchor %q is empty or there twice", name)
	}
	p.anchors[name] = place{p.count - 1, p.height - y}
}

// Frame is the position of a figure on the page of its first piece.
func (p *Pages) Frame(e *Element, box Box) { p.of(e).frame = &box }

// LinkTo puts a link to an anchor on a rectangle of the current page. The anchor may be defined later. The element's role is
// Link; a link broken over two lines has two rectangles and one element, and is one annotation if both are on one page. Words are read aloud, such as "Go to Wheels, page 12".
func (p *Pages) LinkTo(e *Element, box Box, anchor, words string) {
	p.link(&link{element: e, boxes: []Box{box}, inside: true, to: anchor, words: words})
}

// LinkOut puts a link to an external address on a rectangle, such as "https:", "mailto:" or "tel:", in ASCII.
func (p *Pages) LinkOut(e *Element, box Box, address, words string) {
	p.link(&link{element: e, boxes: []Box{box}, to: address, words: words})
}

func (p *Pages) link(l *link) {
	if l.element == nil || l.element.Role != RoleLink || l.words == "" {
		p.fail("link to %q needs an element in the role of Link, and words", l.to)
		return
	}
	l.page, l.order = p.count-1, p.order
	o := p.of(l.element)
	if n := len(o.links); n > 0 {
		if last := o.links[n-1]; last.page == l.page && last.inside == l.inside && last.to == l.to && last.words == l.words {
			last.boxes = append(last.boxes, l.boxes...)
			return
		}
	}
	p.order++
	o.links = append(o.links, l)
	p.all = append(p.all, l)
}
