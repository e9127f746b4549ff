package draw

import (
	"math"

	"ownerguide/render/doc"
)

// sheetWidth is the width of every drawing, in points: the text width of a
// letter page.
const sheetWidth = 480

// Type sizes on the sheet, in points. Nothing is smaller than the least.
const (
	leastSize = 11
	labelSize = 12
)

// canvas collects the shapes of one drawing; all lengths are points on the
// sheet, y down.
type canvas struct{ shapes []doc.Shape }

func (c *canvas) add(s doc.Shape) { c.shapes = append(c.shapes, s) }

// sheet closes the drawing at a height.
func (c *canvas) sheet(height float64) *doc.Drawing {
	return &doc.Drawing{Width: sheetWidth, Height: height, Shapes: c.shapes}
}

func pt(x, y float64) doc.Point { return doc.Point{X: x, Y: y} }

// Styles that drawings share.
var (
	outline   = doc.Style{Line: doc.Full, Width: 1.2}
	thin      = doc.Style{Line: doc.Full, Width: 0.8}
	dimension = doc.Style{Line: doc.Middle, Width: 0.8}
	part      = doc.Style{Line: doc.Full, Width: 1.2, Fill: doc.Pale}
	far       = doc.Style{Line: doc.Middle, Width: 0.8, Fill: doc.Faint}
	signal    = doc.Style{Line: doc.Signal, Width: 1.6}
)

// polyline draws straight lines through points.
func (c *canvas) polyline(s doc.Style, closed bool, points ...doc.Point) {
	p := &doc.Path{Style: s, From: points[0], Closed: closed}
	for _, q := range points[1:] {
		p.Segments = append(p.Segments, doc.Segment{To: q})
	}
	c.add(p)
}

func (c *canvas) line(s doc.Style, x1, y1, x2, y2 float64) {
	c.polyline(s, false, pt(x1, y1), pt(x2, y2))
}

func (c *canvas) rect(s doc.Style, x, y, w, h float64) {
	c.polyline(s, true, pt(x, y), pt(x+w, y), pt(x+w, y+h), pt(x, y+h))
}

func (c *canvas) circle(s doc.Style, x, y, r float64) {
	c.add(&doc.Circle{Style: s, Center: pt(x, y), Radius: r})
}

// text puts a line of text with its baseline at y.
func (c *canvas) text(x, y, size float64, anchor doc.Anchor, words string) {
	c.add(&doc.Label{At: pt(x, y), Text: words, Size: size, Anchor: anchor, Ink: doc.Full})
}

func (c *canvas) bold(x, y, size float64, anchor doc.Anchor, words string) {
	c.add(&doc.Label{At: pt(x, y), Text: words, Size: size, Anchor: anchor, Ink: doc.Full, Bold: true})
}

// arrow draws a line with a filled head at its end.
func (c *canvas) arrow(s doc.Style, x1, y1, x2, y2 float64) {
	const long, half = 7, 2.8
	a := math.Atan2(y2-y1, x2-x1)
	bx, by := x2-long*math.Cos(a), y2-long*math.Sin(a)
	c.line(s, x1, y1, bx, by)
	head := doc.Style{Line: s.Line, Width: s.Width, Fill: s.Line}
	c.polyline(head, true, pt(x2, y2), pt(bx-half*math.Sin(a), by+half*math.Cos(a)), pt(bx+half*math.Sin(a), by-half*math.Cos(a)))
}

// arc draws part of a circle as Bézier curves; angles in degrees, counter-clockwise
// from the right as seen on the sheet.
func (c *canvas) arc(s doc.Style, x, y, r, from, to float64) {
	at := func(deg float64) doc.Point {
		a := deg * math.Pi / 180
		return pt(x+r*math.Cos(a), y-r*math.Sin(a))
	}
	steps := max(1, int(math.Ceil(math.Abs(to-from)/45)))
	step := (to - from) / float64(steps)
	p := &doc.Path{Style: s, From: at(from)}
	for i := range steps {
		a, b := from+float64(i)*step, from+float64(i+1)*step
		k := 4.0 / 3 * math.Tan((b-a)*math.Pi/720) * r
		ra, rb := a*math.Pi/180, b*math.Pi/180
		pa, pb := at(a), at(b)
		p.Segments = append(p.Segments, doc.Segment{Curve: true, To: pb,
			C1: pt(pa.X-k*math.Sin(ra), pa.Y-k*math.Cos(ra)),
			C2: pt(pb.X+k*math.Sin(rb), pb.Y+k*math.Cos(rb))})
	}
	c.add(p)
}

// hatch fills a rectangle with slanting lines, which stay visible in black and
// white where a tint would not.
func (c *canvas) hatch(s doc.Style, x, y, w, h, gap float64) {
	for d := gap; d < w+h; d += gap {
		x1, y1 := x+math.Min(d, w), y+math.Max(0, d-w)
		x2, y2 := x+math.Max(0, d-h), y+math.Min(d, h)
		c.line(s, x1, y1, x2, y2)
	}
}

// width estimates how wide a text prints, in points: a generous average, since
// the readers use their own typefaces.
func width(words string, size float64) float64 {
	return float64(len([]rune(words))) * size * 0.56
}
