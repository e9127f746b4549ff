package doc

// Drawing is a picture as shapes, in points (1/72 in) on a sheet of Width by
// Height; x to the right, y down. The readers scale it as a whole to the width
// they have, so line weights and type sizes here are those of a sheet 480 points
// wide, the text width of a letter page; no text in it may be smaller than 11
// points there: on a phone the sheet is 340 pixels wide.
type Drawing struct {
	Width, Height float64
	Shapes        []Shape
}

// View is a drawing laid out for a column, 288 points wide, as wide as the text of
// a phone's page of 320 pixels, with no text under 12. What its signs mean is told
// below it in words.
type View struct {
	Drawing *Drawing
	Alt     string // what it shows, for who cannot see it
	Key     []KeyRow
}

// KeyRow tells what a sign in a view stands for; without a sign it is said of the whole.
type KeyRow struct {
	Sign, Text string
	To         string // the id it leads to, if any
}

// Shape is one of *Path, *Circle, *Label.
type Shape interface{ isShape() }

// Ink is how strong a line or a fill is. Drawings use greys only, so that they
// survive a black-and-white printer and a dark screen: readers map the inks.
// Only a maker's logo and the field of the cover have colours of their own.
type Ink int

// rgbInk marks an ink that is a colour.
const rgbInk = 1 << 24

// RGB makes an ink of a colour.
func RGB(r, g, b uint8) Ink { return Ink(rgbInk | int(r)<<16 | int(g)<<8 | int(b)) }

// RGB returns the colour of an ink; ok is false for the greys that readers map.
func (i Ink) RGB() (r, g, b uint8, ok bool) {
	return uint8(i >> 16), uint8(i >> 8), uint8(i), i&rgbInk != 0
}

// The inks, from none to the ink of the text.
const (
	None   Ink = iota
	Paper      // the background
	Faint      // ground, fills of far parts
	Pale       // fills of parts
	Middle     // dimension lines
	Full       // outlines, text
	Mark       // circles with a sign, what leads from them to a part; white stands out on it
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

// Segment is one step of a path: a straight line to To or, if Curve is set, a
// cubic Bézier with the controls C1 and C2. Move lifts the pen: the next stroke
// begins at To, and the one before is closed if the path is.
type Segment struct {
	To, C1, C2 Point
	Curve      bool
	Move       bool
}

// Path is a line of segments, closed or open.
type Path struct {
	Style
	From     Point
	Segments []Segment
	Closed   bool
	EvenOdd  bool // strokes inside one another leave holes, whichever way they run
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

// Anchor says which end of a label At is.
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

// LeastLabel is the size of the smallest label of a drawing; 0 where it has none.
func (d *Drawing) LeastLabel() (least float64) {
	for _, sh := range d.Shapes {
		if l, ok := sh.(*Label); ok && l.Size > 0 && (least == 0 || l.Size < least) {
			least = l.Size
		}
	}
	return least
}
