package draw

import (
	"math"
	"slices"

	"ownerguide/render/doc"
)

// canvas collects the shapes of one drawing; all lengths are points on the
// sheet, y down.
type canvas struct {
	form
	shapes []doc.Shape
	ends   [2]string // what stands at the upper corners of a column
	marks  []mark    // what the signs of a column point at
	key    []doc.KeyRow
	views  []*doc.View // of a column, closed
}

func (c *canvas) add(s doc.Shape) { c.shapes = append(c.shapes, s) }

func pt(x, y float64) doc.Point { return doc.Point{X: x, Y: y} }

// Styles that drawings share.
var (
	outline   = doc.Style{Line: doc.Full, Width: 1.2}
	thin      = doc.Style{Line: doc.Full, Width: 0.8}
	dimension = doc.Style{Line: doc.Middle, Width: 0.8}
	part      = doc.Style{Line: doc.Full, Width: 1.2, Fill: doc.Pale}
	white     = doc.Style{Line: doc.Full, Width: 1.2, Fill: doc.Paper}
	far       = doc.Style{Line: doc.Middle, Width: 0.8, Fill: doc.Faint}
	behind    = doc.Style{Line: doc.Middle, Width: 0.8, Dash: []float64{3, 2}} // the far side, hidden
	solid     = doc.Style{Line: doc.Full, Width: 0.8, Fill: doc.Full}
	strong    = doc.Style{Line: doc.Full, Width: 2.2}
	signal    = doc.Style{Line: doc.Signal, Width: 1.6}
	warning   = doc.Style{Line: doc.Signal, Width: 0.9} // of a hatch
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

// rounded draws a rectangle with round corners.
func (c *canvas) rounded(s doc.Style, x, y, w, h, r float64) {
	const k = 0.4477 // 1 less the control length of a quarter circle, 0.5523
	p := &doc.Path{Style: s, From: pt(x+r, y), Closed: true}
	corner := func(lx, ly, c1x, c1y, c2x, c2y, tx, ty float64) {
		p.Segments = append(p.Segments, doc.Segment{To: pt(lx, ly)},
			doc.Segment{Curve: true, C1: pt(c1x, c1y), C2: pt(c2x, c2y), To: pt(tx, ty)})
	}
	corner(x+w-r, y, x+w-k*r, y, x+w, y+k*r, x+w, y+r)
	corner(x+w, y+h-r, x+w, y+h-k*r, x+w-k*r, y+h, x+w-r, y+h)
	corner(x+r, y+h, x+k*r, y+h, x, y+h-k*r, x, y+h-r)
	corner(x, y+r, x, y+k*r, x+k*r, y, x+r, y)
	c.add(p)
}

func (c *canvas) circle(s doc.Style, x, y, r float64) {
	c.add(&doc.Circle{Style: s, Center: pt(x, y), Radius: r})
}

// curve draws one cubic curve.
func (c *canvas) curve(s doc.Style, from, c1, c2, to doc.Point) {
	c.add(&doc.Path{Style: s, From: from, Segments: []doc.Segment{{Curve: true, C1: c1, C2: c2, To: to}}})
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
	a := math.Atan2(y2-y1, x2-x1)
	c.line(s, x1, y1, x2-headLong*math.Cos(a), y2-headLong*math.Sin(a))
	c.head(s.Line, x2, y2, a)
}

const headLong = 7 // of an arrow head, in points

// head draws the head of an arrow that points along an angle, in radians on
// the sheet, y down.
func (c *canvas) head(ink doc.Ink, x, y, a float64) {
	const half = 2.8
	bx, by := x-headLong*math.Cos(a), y-headLong*math.Sin(a)
	c.polyline(doc.Style{Line: ink, Width: 0.8, Fill: ink}, true, pt(x, y),
		pt(bx-half*math.Sin(a), by+half*math.Cos(a)), pt(bx+half*math.Sin(a), by-half*math.Cos(a)))
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

// turning draws an arc with an arrow head at its end.
func (c *canvas) turning(s doc.Style, x, y, r, from, to float64) {
	c.arc(s, x, y, r, from, to)
	a := to * math.Pi / 180
	along := -a - math.Pi/2 // counter-clockwise on the sheet
	if to < from {
		along += math.Pi
	}
	c.head(s.Line, x+r*math.Cos(a), y-r*math.Sin(a), along)
}

// hatch fills a polygon with slanting lines, which stay visible in black and
// white where a tint would not. Gap is between lines, along x.
func (c *canvas) hatch(s doc.Style, gap float64, corners ...doc.Point) {
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range corners {
		low, high = min(low, p.X+p.Y), max(high, p.X+p.Y)
	}
	for sum := low + gap/2; sum < high; sum += gap {
		var xs []float64 // where the line x+y=sum crosses the sides
		for i, a := range corners {
			b := corners[(i+1)%len(corners)]
			da, db := a.X+a.Y-sum, b.X+b.Y-sum
			if (da < 0) != (db < 0) {
				xs = append(xs, a.X+(b.X-a.X)*da/(da-db))
			}
		}
		slices.Sort(xs)
		for i := 0; i+1 < len(xs); i += 2 {
			if xs[i+1]-xs[i] > 0.5 {
				c.line(s, xs[i], sum-xs[i], xs[i+1], sum-xs[i+1])
			}
		}
	}
}
