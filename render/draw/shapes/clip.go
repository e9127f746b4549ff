package shapes

import (
	"math"

	"ownerguide/render/doc"
)

// Clip returns the parts of a shape that are in a frame.
func Clip(s doc.Shape, frame Box) []doc.Shape {
	e := Bounds([]doc.Shape{s})
	switch {
	case e.Left >= frame.Left && e.Right <= frame.Right && e.Top >= frame.Top && e.Bottom <= frame.Bottom:
		return []doc.Shape{s}
	case e.Right < frame.Left || e.Left > frame.Right || e.Bottom < frame.Top || e.Top > frame.Bottom:
		return nil
	}
	var style doc.Style
	var corners []doc.Point
	closed := true
	switch s := s.(type) {
	case *doc.Circle:
		style = s.Style
		for i := range 48 {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / 48)
			corners = append(corners, Pt(s.Center.X+s.Radius*cos, s.Center.Y+s.Radius*sin))
		}
	case *doc.Path:
		style, corners, closed = s.Style, flat(s), s.Closed
	default:
		return nil
	}
	var c Canvas
	if style.Fill != doc.None {
		if in := filled(corners, frame); len(in) > 2 {
			c.Polyline(doc.Style{Fill: style.Fill}, true, in...)
		}
	}
	style.Fill = doc.None
	if style.Line == doc.None {
		return c.Shapes
	}
	if closed {
		corners = append(corners, corners[0])
	}
	var run []doc.Point
	end := func() {
		if len(run) > 1 {
			c.Polyline(style, false, run...)
		}
		run = nil
	}
	for i := range len(corners) - 1 {
		a, b, ok := stretch(corners[i], corners[i+1], frame)
		if !ok || len(run) > 0 && run[len(run)-1] != a {
			end()
		}
		if ok {
			if len(run) == 0 {
				run = append(run, a)
			}
			run = append(run, b)
		}
	}
	end()
	return c.Shapes
}

// sides returns the distance functions of the four sides of a frame, positive inside.
func sides(f Box) [4]func(doc.Point) float64 {
	return [4]func(doc.Point) float64{
		func(p doc.Point) float64 { return p.X - f.Left }, func(p doc.Point) float64 { return f.Right - p.X },
		func(p doc.Point) float64 { return p.Y - f.Top }, func(p doc.Point) float64 { return f.Bottom - p.Y },
	}
}

// filled clips a polygon at each side of a frame in turn (Sutherland and Hodgman).
func filled(corners []doc.Point, frame Box) []doc.Point {
	for _, inside := range sides(frame) {
		var kept []doc.Point
		for i, b := range corners {
			a := corners[(i+len(corners)-1)%len(corners)]
			da, db := inside(a), inside(b)
			if (da < 0) != (db < 0) {
				kept = append(kept, between(a, b, da/(da-db)))
			}
			if db >= 0 {
				kept = append(kept, b)
			}
		}
		corners = kept
	}
	return corners
}

// stretch returns the part of a line segment that is in a frame.
func stretch(a, b doc.Point, frame Box) (from, to doc.Point, ok bool) {
	for _, inside := range sides(frame) {
		da, db := inside(a), inside(b)
		switch {
		case da < 0 && db < 0:
			return a, b, false
		case da < 0:
			a = between(a, b, da/(da-db))
		case db < 0:
			b = between(a, b, da/(da-db))
		}
	}
	return a, b, true
}

func between(a, b doc.Point, share float64) doc.Point {
	return Pt(a.X+share*(b.X-a.X), a.Y+share*(b.Y-a.Y))
}
