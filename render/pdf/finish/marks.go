package finish

// firstMark is the dash phase of the first mark. A page is some hundred points wide, so no drawing has a dash this long.
const firstMark = 1_000_000

// Marks records what lies between the calls to gopdf. Each method writes one mark into the current page and remembers what
// it stands for. One Marks belongs to one document; it is not for use by several goroutines.
type Marks struct {
	write   func(dash []float64, phase float64)
	records []record
}

// NewMarks makes the record for one document. Its argument is the SetCustomLineType method of the gopdf document, which must
// count in points.
func NewMarks(setCustomLineType func(dash []float64, phase float64)) *Marks {
	return &Marks{write: setCustomLineType}
}

// record is what one mark stands for.
type record struct {
	op      operation
	element *Element // begin, link
	kind    ArtifactKind
	name    string // anchor: its name; link: the anchor or address it leads to
	words   string // link: what is read aloud
	box     Box    // link; anchor: X and Y; clip
	path    Path   // draw
	paint   Paint
	matrix  [6]float64 // transform
	number  float64    // cap, join
}

type operation uint8

const (
	opBegin operation = iota
	opArtifact
	opEnd
	opAnchor
	opLinkTo
	opLinkOut
	opSave
	opRestore
	opTransform
	opCap
	opJoin
	opDraw
)

func (m *Marks) add(r record) {
	m.write(nil, float64(firstMark+len(m.records)))
	m.records = append(m.records, r)
}

// Begin opens a piece of content that belongs to the element; End closes it. Pieces never nest and never go over a page. An
// element may have many, on several pages.
func (m *Marks) Begin(e *Element) { m.add(record{op: opBegin, element: e}) }

// ArtifactKind says why a piece is not part of the text.
type ArtifactKind uint8

// The kinds of artifact.
const (
	Layout ArtifactKind = iota // rules, frames, fills, repeated table heads
	Header                     // running head
	Footer                     // running foot, page number
)

// Artifact opens a piece that is not read aloud; End closes it.
func (m *Marks) Artifact(kind ArtifactKind) { m.add(record{op: opArtifact, kind: kind}) }

// End closes the open piece.
func (m *Marks) End() { m.add(record{op: opEnd}) }

// Anchor names the place at height y of the current page, for links and bookmarks. Names are unique in the document.
func (m *Marks) Anchor(name string, y float64) {
	m.add(record{op: opAnchor, name: name, box: Box{Y: y}})
}

// LinkTo lays a link over a rectangle of the current page that leads to an anchor, defined before or after. The element's role is
// Link; a link broken over two lines has two rectangles and one element. Words are what is read aloud, as "Go to Wheels, page 12".
func (m *Marks) LinkTo(e *Element, box Box, anchor, words string) {
	m.add(record{op: opLinkTo, element: e, box: box, name: anchor, words: words})
}

// LinkOut lays a link over a rectangle that leads to an address outside, as "https:", "mailto:" or "tel:", in ASCII.
func (m *Marks) LinkOut(e *Element, box Box, address, words string) {
	m.add(record{op: opLinkOut, element: e, box: box, name: address, words: words})
}

// Save keeps the graphics state (colours, line width, clipping, transformation) until Restore. Both stand on the same page.
func (m *Marks) Save() { m.add(record{op: opSave}) }

// Restore takes the graphics state back to the last Save.
func (m *Marks) Restore() { m.add(record{op: opRestore}) }

// Transform multiplies the coordinates of all that follows, until Restore: x' = a·x + c·y + e, y' = b·x + d·y + f, y counted
// downwards from the top of the page.
func (m *Marks) Transform(a, b, c, d, e, f float64) {
	m.add(record{op: opTransform, matrix: [6]float64{a, b, c, d, e, f}})
}

// LineCap sets how strokes end, until Restore.
func (m *Marks) LineCap(c Cap) { m.add(record{op: opCap, number: float64(c)}) }

// LineJoin sets how strokes turn, until Restore.
func (m *Marks) LineJoin(j Join) { m.add(record{op: opJoin, number: float64(j)}) }

// Cap is the end of a stroke.
type Cap uint8

// The ends of a stroke.
const (
	ButtCap Cap = iota
	RoundCap
	SquareCap
)

// Join is the corner of a stroke.
type Join uint8

// The corners of a stroke.
const (
	MiterJoin Join = iota
	RoundJoin
	BevelJoin
)

// Paint says what is done with a path.
type Paint uint8

// What is done with a path. The even-odd rule leaves holes where subpaths overlap.
const (
	Stroke Paint = iota
	Fill
	FillEvenOdd
	FillStroke
	Clip        // nothing outside is drawn until Restore
	ClipEvenOdd // the same with the even-odd rule
)

// Path is a list of lines and curves, in points. The zero Path is empty.
type Path struct{ segments []segment }

type segment struct {
	verb byte // the PDF operator: m, l, c or h
	at   [6]float64
}

// MoveTo starts a new subpath.
func (p *Path) MoveTo(x, y float64) { p.add('m', x, y) }

// LineTo draws a straight line.
func (p *Path) LineTo(x, y float64) { p.add('l', x, y) }

// CurveTo draws a cubic Bézier curve with two control points.
func (p *Path) CurveTo(x1, y1, x2, y2, x, y float64) { p.add('c', x1, y1, x2, y2, x, y) }

// Close draws a line back to the start of the subpath and joins the ends.
func (p *Path) Close() { p.add('h') }

// Rectangle adds a closed rectangle.
func (p *Path) Rectangle(b Box) {
	p.MoveTo(b.X, b.Y)
	p.LineTo(b.X+b.W, b.Y)
	p.LineTo(b.X+b.W, b.Y+b.H)
	p.LineTo(b.X, b.Y+b.H)
	p.Close()
}

func (p *Path) add(verb byte, at ...float64) {
	s := segment{verb: verb}
	copy(s.at[:], at)
	p.segments = append(p.segments, s)
}

// Draw paints a path with the colours and the line width set through gopdf.
func (m *Marks) Draw(p Path, paint Paint) { m.add(record{op: opDraw, path: p, paint: paint}) }
