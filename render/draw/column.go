package draw

import (
	"math"

	"ownerguide/render/doc"
)

// letter is the next sign of a column that no other place has.
func (c *canvas) letter() string {
	n := 0
	for _, row := range c.key {
		if row.Sign != "" {
			n++
		}
	}
	return string(rune('a' + n))
}

// mark points with a sign at a place; a row below the picture says what it is.
func (c *canvas) mark(sign, text string, at doc.Point) {
	c.marks = append(c.marks, mark{sign: sign, at: at})
	c.key = append(c.key, doc.KeyRow{Sign: sign, Text: text})
}

// cut closes a view of a column: what was drawn is made to fit its width, and what
// was pointed at gets its circles above and below. The next shapes begin another view.
func (c *canvas) cut(alt string) {
	if !c.column || len(c.shapes) == 0 {
		return
	}
	scale, dx := c.fit()
	for i, s := range c.shapes {
		c.shapes[i] = c.moved(s, scale, dx, 0)
	}
	for i := range c.marks {
		c.marks[i].at = pt(c.marks[i].at.X*scale+dx, c.marks[i].at.Y*scale)
	}
	edges := roomOf(c.shapes)
	up, down := share(c.marks, (edges.low+edges.top)/2)
	above := arrange(up, c.sign, 0, c.width, edges.low-gutter)
	below := arrange(down, c.sign, 0, c.width, edges.top+gutter)
	top := above.height() + margin
	if c.ends != [2]string{} {
		top += 1.6 * c.label
	}
	shift := top - edges.low
	for i, s := range c.shapes {
		c.shapes[i] = c.moved(s, 1, 0, shift)
	}
	view{y: shift}.shift(above.marks, below.marks)
	high := edges.top + shift
	c.stopRows(above, below, top, high)
	for i, anchor := range []doc.Anchor{doc.Start, doc.End} {
		if c.ends[i] != "" {
			c.text([]float64{margin, c.width - margin}[i], c.label, c.label, anchor, c.ends[i])
		}
	}
	c.views = append(c.views, &doc.View{Alt: alt, Key: c.key,
		Drawing: &doc.Drawing{Width: c.width, Height: high + below.height() + margin, Shapes: c.shapes}})
	c.shapes, c.marks, c.key, c.ends = nil, nil, nil, [2]string{}
}

// fit gives how what was drawn comes into the width: not at all where it was drawn
// for it.
func (c *canvas) fit() (scale, dx float64) {
	var lines []doc.Shape
	for _, s := range c.shapes {
		if _, text := s.(*doc.Label); !text {
			lines = append(lines, s)
		}
	}
	e := roomOf(lines)
	if e.front >= 0 && e.rear <= c.width {
		return 1, 0
	}
	scale = min(1, (c.width-2*margin)/(e.rear-e.front))
	return scale, (c.width-scale*(e.rear-e.front))/2 - scale*e.front
}

// moved is a shape at another scale and place. Lines keep their width, and texts the
// size that can be read.
func (c *canvas) moved(s doc.Shape, scale, dx, dy float64) doc.Shape {
	to := func(p doc.Point) doc.Point { return pt(p.X*scale+dx, p.Y*scale+dy) }
	switch s := s.(type) {
	case *doc.Circle:
		return &doc.Circle{Style: s.Style, Center: to(s.Center), Radius: s.Radius * scale}
	case *doc.Path:
		out := *s
		out.From, out.Segments = to(s.From), nil
		for _, g := range s.Segments {
			out.Segments = append(out.Segments, doc.Segment{To: to(g.To), C1: to(g.C1), C2: to(g.C2), Curve: g.Curve, Move: g.Move})
		}
		return &out
	case *doc.Label:
		out := *s
		out.At, out.Size = to(s.At), max(s.Size*scale, c.least)
		w := width(out.Text, out.Size)
		switch out.Anchor {
		case doc.Center:
			out.At.X = min(max(out.At.X, margin+w/2), c.width-margin-w/2)
		case doc.End:
			out.At.X = max(out.At.X, margin+w)
		default:
			out.At.X = min(out.At.X, c.width-margin-w)
		}
		return &out
	}
	return s
}

// roomOf is the room that shapes take on the sheet, y in low and top; a curve lies
// within its controls.
func roomOf(shapes []doc.Shape) extent {
	e := extent{front: math.Inf(1), rear: math.Inf(-1), low: math.Inf(1), top: math.Inf(-1)}
	take := func(p doc.Point, r float64) {
		e.front, e.rear = min(e.front, p.X-r), max(e.rear, p.X+r)
		e.low, e.top = min(e.low, p.Y-r), max(e.top, p.Y+r)
	}
	for _, s := range shapes {
		switch s := s.(type) {
		case *doc.Circle:
			take(s.Center, s.Radius)
		case *doc.Label:
			take(pt(s.At.X, s.At.Y-0.75*s.Size), 0)
			take(pt(s.At.X, s.At.Y+0.25*s.Size), 0)
		case *doc.Path:
			for _, p := range flat(s) {
				take(p, s.Width/2)
			}
		}
	}
	return e
}

// flat gives a path as corners, curves as short straight pieces.
func flat(s *doc.Path) []doc.Point {
	out := []doc.Point{s.From}
	const pieces = 8
	for _, g := range s.Segments {
		from := out[len(out)-1]
		for i := 1; g.Curve && i < pieces; i++ {
			u := float64(i) / pieces
			v := 1 - u
			at := func(a, b, c, d float64) float64 { return v*v*v*a + 3*v*v*u*b + 3*v*u*u*c + u*u*u*d }
			out = append(out, pt(at(from.X, g.C1.X, g.C2.X, g.To.X), at(from.Y, g.C1.Y, g.C2.Y, g.To.Y)))
		}
		out = append(out, g.To)
	}
	return out
}
