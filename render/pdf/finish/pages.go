package finish

import (
	"fmt"
	"strconv"

	"ownerguide/spec/parallel"
)

// Pages is the painted pages of one document. Coordinates are points from the top left corner of the page. The first
// error stops painting and is returned by [Pages.Finish]. A Pages is for one goroutine and one file.
type Pages struct {
	painted
	width    float64
	out      []byte   // content of the pages not yet compressed
	from     int      // where the current part begins in it
	parts    []part   // of those pages
	ends     []int    // where those of each finished page end
	packed   [][]byte // content of earlier pages, compressed
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
	used     []characters   // by font
	pictures int            // number of the kit's pictures that are used
	forms    map[string]int // content of forms, with their numbers
	file     file           // made by Finish
	fresh    *Painted       // the part whose content has just been painted
	err      error
}

// painted is what the structure tree needs from the pages: what each element owns, and the anchors. It has numbers instead of pointers,
// so that the collector has nothing to follow.
type painted struct {
	height   float64 // of every page
	count    int     // number of pages, including the current one
	marked   int     // pieces on the current page
	index    map[*Element]int32
	owners   []owner   // by index; 0 is not used
	contents []content // of all elements, in painting order; 0 is not used
	links    []link
	boxes    []Box            // memory for those of links
	frames   map[*Element]Box // positions of figures on their pages
	anchors  map[string]place
	objects  []int // object numbers of the pages, assigned later
}

// owner is an element that owns content.
type owner struct {
	first, last int32 // of its contents
	object      int   // object number in the structure tree; 0 until it is there
}

// content is a piece (a marked-content sequence) or a link of an element.
type content struct {
	owner int32
	next  int32 // the next content of the owner, or 0
	page  int32 // index
	id    int32 // marked-content identifier, counted from 0 on each page; of a link its index
	link  bool
}

// link is a link annotation.
type link struct {
	element *Element
	boxes   []Box  // one for each line it is on
	inside  bool   // the target is an anchor
	to      string // anchor or address
	words   string // read aloud
	page    int
	object  int // its object number, assigned later
}

// place is a position on a page, in PDF coordinates (y upwards).
type place struct {
	page int
	y    float64
}

// own appends a content to those of an element.
func (p *painted) own(e *Element, c content) {
	n := int32(len(p.contents))
	var known bool
	if c.owner, known = p.index[e]; known {
		p.contents[p.owners[c.owner].last].next = n
	} else {
		c.owner = int32(len(p.owners))
		p.index[e] = c.owner
		p.owners = append(p.owners, owner{first: n})
	}
	p.owners[c.owner].last = n
	c.page = int32(p.count - 1)
	p.contents = append(p.contents, c)
}

// finished holds the memory of finished documents, to be used again: a guide needs some 4 MB.
var finished = parallel.Spare[*Pages]{New: empty}

func empty() *Pages {
	return &Pages{forms: map[string]int{}, file: file{streams: map[int][]byte{}}, painted: painted{
		index: map[*Element]int32{}, frames: map[*Element]Box{}, anchors: map[string]place{},
	}}
}

// NewPages returns an empty Pages for pages of one size, in points.
func NewPages(width, height float64) *Pages {
	p := finished.Get()
	p.begin(width, height)
	return p
}

func (p *Pages) begin(width, height float64) {
	p.width, p.height = width, height
	p.owners, p.contents = append(p.owners, owner{}), append(p.contents, content{})
}

// release forgets the document and puts the memory back.
func (p *Pages) release(to *parallel.Spare[*Pages]) {
	clear(p.index)
	clear(p.frames)
	clear(p.anchors)
	clear(p.forms)
	clear(p.links)
	clear(p.parts)
	clear(p.packed)
	clear(p.used)
	clear(p.file.streams)
	to.Put(&Pages{
		out: p.out[:0], parts: p.parts[:0], ends: p.ends[:0], packed: p.packed[:0], saved: p.saved[:0], used: p.used[:0], forms: p.forms, file: p.file,
		painted: painted{
			index: p.index, owners: p.owners[:0], contents: p.contents[:0], links: p.links[:0], boxes: p.boxes[:0],
			frames: p.frames, anchors: p.anchors, objects: p.objects[:0],
		},
	})
}

// Page starts a page.
func (p *Pages) Page() {
	p.endPage()
	p.count++
	p.marked = 0
	p.graphics = startOfPage
}

// endPage finishes the current page, if any.
func (p *Pages) endPage() {
	if p.count == len(p.packed)+len(p.ends) {
		return
	}
	switch {
	case p.open:
		p.fail("a piece is not closed at the end of the page")
	case len(p.saved) > 0:
		p.fail("the graphics state is not restored at the end of the page")
	}
	p.endPart()
	p.ends = append(p.ends, len(p.parts))
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
	before := len(p.packed)
	p.packed = append(p.packed, make([][]byte, len(p.ends))...)
	parallel.Each(len(p.ends), func(i int) {
		begin := 0
		if i > 0 {
			begin = p.ends[i-1]
		}
		p.packed[before+i] = p.pack(p.parts[begin:p.ends[i]])
	})
	clear(p.parts)
	p.out, p.from, p.parts, p.ends = p.out[:0], 0, p.parts[:0], p.ends[:0]
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
	p.own(e, content{id: int32(p.marked)})
	p.out = append(append(append(p.out, '/'), e.Role...), "<</MCID "...)
	p.out = append(strconv.AppendInt(p.out, int64(p.marked), 10), ">>BDC\n"...)
	p.marked++
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
func (p *Pages) Frame(e *Element, box Box) {
	if e.Role != RoleFigure {
		p.fail("role %s may not have a box", e.Role)
	}
	p.frames[e] = box
}

// LinkTo puts a link to an anchor on a rectangle of the current page. The anchor may be defined later. The element's role is
// Link; a link broken over two lines has two rectangles and one element, and is one annotation if both are on one page. Words are read aloud, such as "Go to Wheels, page 12".
func (p *Pages) LinkTo(e *Element, box Box, anchor, words string) {
	p.link(box, link{element: e, inside: true, to: anchor, words: words})
}

// LinkOut puts a link to an external address on a rectangle, such as "https:", "mailto:" or "tel:", in ASCII.
func (p *Pages) LinkOut(e *Element, box Box, address, words string) {
	p.link(box, link{element: e, to: address, words: words})
}

func (p *Pages) link(box Box, l link) {
	if l.element == nil || l.element.Role != RoleLink || l.words == "" {
		p.fail("link to %q needs an element in the role of Link, and words", l.to)
		return
	}
	l.page = p.count - 1
	for i := len(p.links) - 1; i >= 0 && p.links[i].page == l.page; i-- {
		if last := &p.links[i]; last.element == l.element {
			if last.inside == l.inside && last.to == l.to && last.words == l.words {
				last.boxes = append(last.boxes, box)
				return
			}
			break
		}
	}
	n := len(p.boxes)
	p.boxes = append(p.boxes, box)
	l.boxes = p.boxes[n:len(p.boxes):len(p.boxes)]
	p.own(l.element, content{id: int32(len(p.links)), link: true})
	p.links = append(p.links, l)
}
