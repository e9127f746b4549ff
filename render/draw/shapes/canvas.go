// Package shapes provides what all drawings of a guide are made of: a canvas that collects
// lines, texts and dimensions, callouts, rows of numbered balloons, and clipping. It
// does not know about trailers or output formats. Lengths are points on the sheet,
// y down.
package shapes

import (
	"math"
	"slices"

	"ownerguide/render/doc"
)

// Canvas collects the shapes of one drawing. A drawing for a narrow column has its texts
// below the picture, and may have several views, one below another.
type Canvas struct {
	Form
	Shapes []doc.Shape
	Ends   [2]string // labels at the upper corners of a column
	Marks  []Mark    // places that the signs of a column point at
	Key    []doc.KeyRow
	Views  []*doc.View // finished views of a column
}

// add appends a shape on top of the others.
func (c *Canvas) add(s doc.Shape) { c.Shapes = append(c.Shapes, s) }

// Pt returns the point at x and y.
func Pt(x, y float64) doc.Point { return doc.Point{X: x, Y: y} }

// Polyline draws straight lines through points.
func (c *Canvas) Polyline(s doc.Style, closed bool, points ...doc.Point) {
	p := &doc.Path{Style: s, From: points[0], Closed: closed, Segments: make([]doc.Segment, len(points)-1)}
	for i, q := range points[1:] {
		p.Segments[i].To = q
	}
	c.add(p)
}

// Line draws a straight line.
func (c *Canvas) Line(s doc.Style, x1, y1, x2, y2 float64) {
	c.Polyline(s, false, Pt(x1, y1), Pt(x2, y2))
}

// Rect draws a rectangle with its upper left corner at x, y.
func (c *Canvas) Rect(s doc.Style, x, y, w, h float64) {
	c.Polyline(s, true, Pt(x, y), Pt(x+w, y), Pt(x+w, y+h), Pt(x, y+h))
}

// RoundedRect draws a rectangle with rounded corners.
func (c *Canvas) RoundedRect(s doc.Style, x, y, w, h, r float64) {
	const k = 0.4477 // 1 minus the control length of a quarter circle, 0.5523
	p := &doc.Path{Style: s, From: Pt(x+r, y), Closed: true}
	corner := func(lx, ly, c1x, c1y, c2x, c2y, tx, ty float64) {
		p.Segments = append(p.Segments, doc.Segment{To: Pt(lx, ly)},
			doc.Segment{Curve: true, C1: Pt(c1x, c1y), C2: Pt(c2x, c2y), To: Pt(tx, ty)})
	}
	corner(x+w-r, y, x+w-k*r, y, x+w, y+k*r, x+w, y+r)
	corner(x+w, y+h-r, x+w, y+h-k*r, x+w-k*r, y+h, x+w-r, y+h)
	corner(x+r, y+h, x+k*r, y+h, x, y+h-k*r, x, y+h-r)
	corner(x, y+r, x, y+k*r, x+k*r, y, x+r, y)
	c.add(p)
}

// Circle draws a circle around x and y.
func (c *Canvas) Circle(s doc.Style, x, y, r float64) {
	c.add(&doc.Circle{Style: s, Center: Pt(x, y), Radius: r})
}

// Curve draws one cubic curve.
func (c *Canvas) Curve(s doc.Style, from, c1, c2, to doc.Point) {
	c.add(&doc.Path{Style: s, From: from, Segments: []doc.Segment{{Curve: true, C1: c1, C2: c2, To: to}}})
}

// Text writes a line of text with its baseline at y.
func (c *Canvas) Text(x, y, size float64, anchor doc.Anchor, words string) {
	c.add(&doc.Label{At: Pt(x, y), Text: words, Size: size, Anchor: anchor, Ink: doc.Full})
}

// BoldText is Text in bold.
func (c *Canvas) BoldText(x, y, size float64, anchor doc.Anchor, words string) {
	c.add(&doc.Label{At: Pt(x, y), Text: words, Size: size, Anchor: anchor, Ink: doc.Full, Bold: true})
}

// Arrow draws a line with a filled head at its end.
func (c *Canvas) Arrow(s doc.Style, x1, y1, x2, y2 float64) {
	a := math.Atan2(y2-y1, x2-x1)
	c.Line(s, x1, y1, x2-ArrowHeadLength*math.Cos(a), y2-ArrowHeadLength*math.Sin(a))
	c.ArrowHead(s.Line, x2, y2, a)
}

// ArrowHeadLength is the length of an arrow head, in points.
const ArrowHeadLength = 7

// ArrowHead draws the head of an arrow that points in direction a, in radians on the sheet,
// y down.
func (c *Canvas) ArrowHead(ink doc.Ink, x, y, a float64) {
	const half = 2.8
	bx, by := x-ArrowHeadLength*math.Cos(a), y-ArrowHeadLength*math.Sin(a)
	c.Polyline(doc.Style{Line: ink, Width: 0.8, Fill: ink}, true, Pt(x, y),
		Pt(bx-half*math.Sin(a), by+half*math.Cos(a)), Pt(bx+half*math.Sin(a), by-half*math.Cos(a)))
}

// Arc draws part of a circle as Bézier curves; angles in degrees, counterclockwise from
// the right as seen on the sheet.
func (c *Canvas) Arc(s doc.Style, x, y, r, from, to float64) {
	at := func(deg float64) doc.Point {
		a := deg * math.Pi / 180
		return Pt(x+r*math.Cos(a), y-r*math.Sin(a))
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
			C1: Pt(pa.X-k*math.Sin(ra), pa.Y-k*math.Cos(ra)),
			C2: Pt(pb.X+k*math.Sin(rb), pb.Y+k*math.Cos(rb))})
	}
	c.add(p)
}

// ArcArrow draws an arc with an arrow head at its end.
func (c *Canvas) ArcArrow(s doc.Style, x, y, r, from, to float64) {
	c.Arc(s, x, y, r, from, to)
	a := to * math.Pi / 180
	along := -a - math.Pi/2 // counterclockwise on the sheet
	if to < from {
		along += math.Pi
	}
	c.ArrowHead(s.Line, x+r*math.Cos(a), y-r*math.Sin(a), along)
}

// Hatch fills a polygon with slanting lines, which stay visible in black and white where
// a tint would not. Gap is the distance of lines along x.
func (c *Canvas) Hatch(s doc.Style, gap float64, corners ...doc.Point) {
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
				c.Line(s, xs[i], sum-xs[i], xs[i+1], sum-xs[i+1])
			}
		}
	}
}
