package finish

import (
	"bytes"
	"math"
	"strconv"
)

// graphics is the current graphics state; Save pushes it, Restore pops it. An operator is written only if it changes something.
type graphics struct {
	fill, stroke  Color
	width         float64 // of lines, points
	round         bool
	dash          string // the operator
	font          int
	size, spacing float64
}

// startOfPage is the state at the start of a page: black, line width one point. Source: ISO 32000-1, 8.4.1.
var startOfPage = graphics{width: 1, dash: "[]0 d\n"}

// Color is red, green and blue, 0 to 255.
type Color struct{ R, G, B uint8 }

// Glyph is a glyph of a font.
type Glyph struct {
	Char    rune // that it stands for
	Number  uint16
	Advance int // in 1/1000 of the size
	Kern    int // added between the previous glyph and this one, in 1/1000 of the size
}

// Run is glyphs of one font, ready to be written. It is not modified, so documents may share it.
type Run struct {
	shown []byte // the operator that shows them
	used  characters
	count int // of glyphs
	along int // length in 1/1000 of the size
}

// NewRun returns a run of glyphs.
func NewRun(glyphs []Glyph) *Run {
	var room [256]byte // on the stack; few texts are longer
	shown, r := append(room[:0], "[("...), &Run{count: len(glyphs)}
	for i, g := range glyphs {
		if g.Kern != 0 && i > 0 {
			shown = strconv.AppendInt(append(shown, ')'), int64(-g.Kern), 10)
			shown = append(shown, '(')
			r.along += g.Kern
		}
		r.along += g.Advance
		c := character{codeOf(g.Char, g.Number), g.Number, g.Char}
		if r.used.add(c); c.code >= twoBytes {
			shown = append(shown, byte(c.code>>8)) // needs no escape
		}
		shown = appendStringByte(shown, byte(c.code))
	}
	r.shown = bytes.Clone(append(shown, ")]TJ\n"...))
	return r
}

// Text is a run on a baseline.
type Text struct {
	*Run
	Font    int // of the kit, from 1
	Size    float64
	Spacing float64 // added after each glyph, points
	Color   Color
	X, Y    float64 // start of the baseline
}

// Text paints text. Its position is written relative to that of the previous text, and omitted if it continues that text: the lines
// of a paragraph then differ only in their words, which deflate compresses well.
func (p *Pages) Text(t Text) {
	if !p.inside("text") {
		return
	}
	p.startText()
	p.FillColor(t.Color)
	if p.spacing != t.Spacing {
		p.operator("Tc", t.Spacing)
		p.spacing = t.Spacing
	}
	if p.font != t.Font || p.size != t.Size {
		p.selectFont(t)
		p.font, p.size = t.Font, t.Size
	}
	x, y := tenths(t.X), tenths(p.height-t.Y)
	if y != p.lineY || math.Abs(x-p.pen) > tolerance {
		p.operator("Td", x-p.lineX, y-p.lineY)
		p.lineX, p.lineY, p.pen = x, y, x
	}
	p.show(t)
	p.pen += t.length()
}

// show writes the glyphs of a text.
func (p *Pages) show(t Text) {
	p.use(t.Font, t.used)
	p.out = append(p.out, t.shown...)
}

// length returns the length of a text, in points.
func (t Text) length() float64 {
	return float64(t.along)*t.Size/1000 + t.Spacing*float64(t.count)
}

// formName plus a number from 0 is the resource name of a form XObject.
const formName = "/U"

// Form paints a text that occurs on many pages, such as the name of the unit, as a form
// XObject: pages refer to it and do not contain it, so that pages of two units can be
// the same bytes. The start of the text is the same for any words or, with endFixed, its
// end.
func (p *Pages) Form(t Text, endFixed bool) {
	if !p.inside("a form") {
		return
	}
	p.endText()
	begin := len(p.out)
	p.out = append(p.out, "BT\n"...)
	if endFixed {
		t.X += t.length()
		p.operator("Td", -t.length(), 0)
	}
	p.color("rg", t.Color)
	p.operator("Tc", t.Spacing)
	p.selectFont(t)
	p.show(t)
	p.out = append(p.out, "ET\n"...)
	form := p.out[begin:]
	n, known := p.forms[string(form)]
	if !known {
		n = len(p.forms)
		p.forms[string(form)] = n
	}
	p.out = append(p.out[:begin], "q\n"...)
	p.operator("cm", 1, 0, 0, 1, tenths(t.X), tenths(p.height-t.Y))
	p.out = strconv.AppendInt(append(p.out, formName...), int64(n), 10)
	p.out = append(p.out, " Do\nQ\n"...)
}

// selectFont writes the font and size of a text.
func (p *Pages) selectFont(t Text) {
	p.out = strconv.AppendInt(append(p.out, "/F"...), int64(t.Font), 10)
	p.out = append(p.out, ' ')
	p.operator("Tf", t.Size)
}

// tolerance is an invisible distance, in points.
const tolerance = 0.06

// appendStringByte appends a byte of a literal string. Source: ISO 32000-1, 7.3.4.2; an unescaped line end may be read as another one.
func appendStringByte(b []byte, c byte) []byte {
	switch c {
	case '(', ')', '\\':
		return append(b, '\\', c)
	case '\n':
		return append(b, `\n`...)
	case '\r':
		return append(b, `\r`...)
	}
	return append(b, c)
}

// textObject is where the current text object (BT to ET) was begun. Marked content and text objects must not overlap.
// Source: ISO 32000-1, 14.6.1.
type textObject uint8

const (
	noText      textObject = iota
	pieceText              // inside the open piece; ends with it
	betweenText            // before a piece; consecutive texts share it
)

// startText makes sure that a text object is open, and writes the BDC of a piece just opened.
func (p *Pages) startText() {
	if p.text == noText {
		p.out = append(p.out, "BT\n"...)
		p.lineX, p.lineY, p.pen = 0, 0, 0
		p.text = pieceText
		if p.unmarked {
			p.text = betweenText
		}
	}
	p.mark()
}

// endText ends the text object, so that something else can be painted. A piece inside it continues as another piece of its element.
func (p *Pages) endText() {
	if p.text == betweenText && p.open && !p.unmarked {
		p.out = append(p.out, "EMC\n"...)
		p.unmarked = true
	}
	if p.text != noText {
		p.out = append(p.out, "ET\n"...)
		p.text = noText
	}
	p.mark()
}

// inside reports whether a piece is open, and fails if not.
func (p *Pages) inside(what string) bool {
	if !p.open {
		p.fail("%s is painted outside every piece", what)
	}
	return p.open
}

// tenths rounds a position on a page: a dot of a good printer is larger.
func tenths(v float64) float64 { return math.Round(exact(v)*10) / 10 }

// hundredths rounds a coordinate in a shape, so that curves stay smooth.
func hundredths(v float64) float64 { return math.Round(exact(v)*100) / 100 }

// exact removes the error of adding lengths, so that it does not matter in which order they were added: sums in hundredths of a point are
// often exactly between two tenths.
func exact(v float64) float64 { return math.Round(v*1e6) / 1e6 }

// Picture paints picture n of the kit, counted from 0, into a box.
func (p *Pages) Picture(n int, b Box) {
	if !p.inside("a picture") {
		return
	}
	p.pictures = max(p.pictures, n+1)
	p.endText()
	p.out = append(p.out, "q\n"...)
	p.operator("cm", b.W, 0, 0, b.H, b.X, p.height-b.Y-b.H)
	p.out = strconv.AppendInt(append(p.out, pictureName...), int64(n), 10)
	p.out = append(p.out, " Do\nQ\n"...)
}

// Save pushes the graphics state (colors, line width, transformation). It must be restored on the same page.
func (p *Pages) Save() {
	p.endText()
	p.saved = append(p.saved, p.graphics)
	p.out = append(p.out, "q\n"...)
}

// Restore pops the graphics state.
func (p *Pages) Restore() {
	last := len(p.saved) - 1
	if last < 0 {
		p.fail("the graphics state is restored without having been saved")
		return
	}
	p.endText()
	p.graphics, p.saved = p.saved[last], p.saved[:last]
	p.out = append(p.out, "Q\n"...)
}

// Transform multiplies the coordinates of everything that follows until Restore: x' = a·x + c·y + e, y' = b·x + d·y + f, with y
// downwards from the top of the page.
func (p *Pages) Transform(a, b, c, d, e, f float64) {
	p.endText()
	h := p.height // PDF's y is upwards: flip, transform, flip back
	p.operator("cm", a, -b, -c, d, e+c*h, h-d*h-f)
}

// FillColor sets the fill color.
func (p *Pages) FillColor(c Color) {
	if c != p.fill {
		p.color("rg", c)
		p.fill = c
	}
}

// StrokeColor sets the stroke color.
func (p *Pages) StrokeColor(c Color) {
	if c != p.stroke {
		p.color("RG", c)
		p.stroke = c
	}
}

func (p *Pages) color(op string, c Color) {
	part := func(v uint8) float64 { return math.Round(float64(v)*1000/255) / 1000 }
	p.operator(op, part(c.R), part(c.G), part(c.B))
}

// LineWidth sets the width of lines, in points.
func (p *Pages) LineWidth(w float64) {
	if w != p.width {
		p.operator("w", w)
		p.graphics.width = w
	}
}

// Dash sets the dash pattern; without lengths lines are solid.
func (p *Pages) Dash(lengths []float64) {
	before := len(p.out)
	p.out = append(appendNumbers(append(p.out, '['), lengths...), "]0 d\n"...)
	if operator := p.out[before:]; string(operator) == p.dash {
		p.out = p.out[:before]
	} else {
		p.dash = string(operator)
	}
}

// Round sets whether lines have round ends and corners.
func (p *Pages) Round(round bool) {
	if round == p.round {
		return
	}
	style := 0.0
	if round {
		style = 1
	}
	p.operator("J", style)
	p.operator("j", style)
	p.round = round
}

// Paint is what is done with a path.
type Paint uint8

// The ways to paint. The even-odd rule leaves holes where subpaths overlap.
const (
	Stroke Paint = iota
	Fill
	FillEvenOdd
	FillStroke
)

// paintOperators are the operators that end a path, by Paint.
var paintOperators = [...]string{Stroke: "S\n", Fill: "f\n", FillEvenOdd: "f*\n", FillStroke: "B\n"}

// Point is a position, in points.
type Point struct{ X, Y float64 }

// Step is one segment of an outline: a move, a line, a curve or a close. The last point is its end.
type Step struct {
	Verb byte // m, l, c or h, as in PDF
	At   [3]Point
}

// Draw paints an outline, moved by x, y, with the current colors and line width.
func (p *Pages) Draw(steps []Step, x, y float64, paint Paint) {
	switch {
	case !p.inside("a path"):
		return
	case len(steps) == 0 || steps[0].Verb != 'm' || int(paint) >= len(paintOperators):
		p.fail("a path is empty or does not begin with a move")
		return
	}
	p.endText()
	var origin Point // of the coordinates
	round := tenths
	recurs := len(steps) > rectangleSteps
	if recurs { // relative to its start, a repeated shape has the same numbers everywhere, which deflate compresses well
		round = hundredths
		origin = Point{steps[0].At[2].X + x, p.height - (steps[0].At[2].Y + y)}
		p.out = append(p.out, "q\n"...)
		p.operator("cm", 1, 0, 0, 1, tenths(origin.X), tenths(origin.Y))
	}
	place := func(a Point) (float64, float64) {
		return round(a.X + x - origin.X), round(p.height - (a.Y + y) - origin.Y)
	}
	for len(steps) > 0 {
		if isRectangle(steps) {
			left, top := place(steps[0].At[2])
			right, bottom := place(steps[2].At[2])
			p.operator("re", left, top, right-left, bottom-top)
			steps = steps[rectangleSteps:]
			continue
		}
		var points []Point // of the step
		switch st := &steps[0]; st.Verb {
		case 'm', 'l':
			points = st.At[2:]
		case 'c':
			points = st.At[:]
		}
		for _, a := range points {
			p.numbers(place(a))
		}
		p.out = append(p.out, steps[0].Verb, '\n')
		steps = steps[1:]
	}
	p.out = append(p.out, paintOperators[paint]...)
	if recurs {
		p.out = append(p.out, "Q\n"...)
	}
}

// rectangleSteps is the number of steps of a rectangle: move, three lines, and close.
const rectangleSteps = 5

// isRectangle reports whether an outline begins with a rectangle, for which PDF has a short operator.
func isRectangle(s []Step) bool {
	if len(s) < rectangleSteps || s[1].Verb != 'l' || s[2].Verb != 'l' || s[3].Verb != 'l' || s[4].Verb != 'h' {
		return false
	}
	a, b, c, d := s[0].At[2], s[1].At[2], s[2].At[2], s[3].At[2]
	return s[0].Verb == 'm' && a.Y == b.Y && b.X == c.X && c.Y == d.Y && d.X == a.X
}

// operator writes operands and an operator.
func (p *Pages) operator(op string, operands ...float64) {
	p.numbers(operands...)
	p.out = append(append(p.out, op...), '\n')
}

// numbers writes operands.
func (p *Pages) numbers(operands ...float64) {
	for _, v := range operands {
		if !(math.Abs(v) <= 1e6) { // true for NaN too
			p.fail("number %v in the drawing is out of range", v)
			return
		}
	}
	p.out = appendNumbers(p.out, operands...)
}

// appendNumbers appends numbers, each with a space behind it.
func appendNumbers(b []byte, list ...float64) []byte {
	for _, v := range list {
		b = append(appendNumber(b, v), ' ')
	}
	return b
}

// appendNumber appends a number with at most four decimals in PDF syntax: no exponent, no negative zero.
func appendNumber(b []byte, v float64) []byte {
	n := int64(math.Round(v * 1e4))
	if n < 0 {
		b, n = append(b, '-'), -n
	}
	b = strconv.AppendInt(b, n/1e4, 10)
	if n %= 1e4; n != 0 {
		b = append(b, '.', byte('0'+n/1000), byte('0'+n/100%10), byte('0'+n/10%10), byte('0'+n%10))
		b = bytes.TrimRight(b, "0")
	}
	return b
}
