package doc

// Drawing is a list of shapes, in points (1/72 in) on a sheet of Width by
// Height; x to the right, y down. Readers scale it as a whole to the width
// available. Line widths and type sizes are meant for a sheet 480 points wide, the
// text width of a letter page. No text may be smaller than 11 points there: on a phone
// the sheet is 340 pixels wide.
type Drawing struct {
	Width, Height float64
	Shapes        []Shape
}

// View is a drawing laid out for a column 288 points wide, the text width of a phone's
// page of 320 pixels, with no text smaller than 12 points. Its signs are explained in
// words below it.
type View struct {
	Drawing *Drawing
	Alt     string // text alternative
	Key     []KeyRow
}

// KeyRow explains a sign in a view, or the whole view if it has no sign.
type KeyRow struct {
	Sign, Text string
	To         string // the id it links to, if any
}

// Shape is a *Path, *Circle or *Label.
type Shape interface{ isShape() }

// Ink is the strength of a line or fill. Drawings use only grays, which readers map, so that
// they work on a black-and-white printer and on a dark screen.
// Only a maker's logo and the field of the cover have colors of their own.
type Ink int

// rgbInk marks an ink that is a color.
const rgbInk = 1 << 24

// RGB returns the ink of a color.
func RGB(r, g, b uint8) Ink { return Ink(rgbInk | int(r)<<16 | int(g)<<8 | int(b)) }

// RGB returns the color of an ink; ok is false for the grays that readers map.
func (i Ink) RGB() (r, g, b uint8, ok bool) {
	return uint8(i >> 16), uint8(i >> 8), uint8(i), i&rgbInk != 0
}

// The inks, from none to that of text.
const (
	None   Ink = iota
	Paper      // the background
	Faint      // ground, fills of far parts
	Pale       // fills of parts
	Middle     // dimension lines
	Full       // outlines, text
	Mark       // circles with a sign and their leaders; white is readable on it
	Signal     // what the reader must find: bands, keep-out zones (a hatch or dash goes with it)
)

// Style is how a shape is drawn.
type Style struct {
	Line  Ink
	Width float64 // of the line, in points
	Dash  []float64
	Fill  Ink
}

// Point is a place on the sheet.
type Point struct{ X, Y float64 }

// Segment is one segment of a path: a straight line to To or, if Curve is set, a
// cubic Bézier with the control points C1 and C2. Move starts a new subpath at To; the
// previous one is closed if the path is.
type Segment struct {
	To, C1, C2 Point
	Curve      bool
	Move       bool
}

// Along returns the point of a segment that begins at from, with t from 0 to 1.
func (g Segment) Along(from Point, t float64) Point {
	if !g.Curve {
		return Point{X: from.X + t*(g.To.X-from.X), Y: from.Y + t*(g.To.Y-from.Y)}
	}
	u := 1 - t
	mix := func(a, b, c, d float64) float64 { return u*u*u*a + 3*u*u*t*b + 3*u*t*t*c + t*t*t*d }
	return Point{X: mix(from.X, g.C1.X, g.C2.X, g.To.X), Y: mix(from.Y, g.C1.Y, g.C2.Y, g.To.Y)}
}

// Path is a sequence of segments, closed or open.
type Path struct {
	Style
	From     Point
	Segments []Segment
	Closed   bool
	EvenOdd  bool // the even-odd fill rule
}

// Circle is a circle.
type Circle struct {
	Style
	Center Point
	Radius float64
}

// Label is a line of text.
type Label struct {
	At     Point // on the baseline
	Text   string
	Size   float64 // points
	Bold   bool
	Anchor Anchor
	Turn   float64 // degrees, counter-clockwise about At
	Ink    Ink
}

// Anchor is the part of a label that is at At.
type Anchor int

// The anchors.
const (
	Start Anchor = iota
	Center
	End
)

func (*Path) isShape()   {}
func (*Circle) isShape() {}
func (*Label) isShape()  {}

// LeastLabel returns the size of the smallest label of a drawing; 0 if it has none.
func (d *Drawing) LeastLabel() (least float64) {
	for _, sh := range d.Shapes {
		if l, ok := sh.(*Label); ok && l.Size > 0 && (least == 0 || l.Size < least) {
			least = l.Size
		}
	}
	return least
}
