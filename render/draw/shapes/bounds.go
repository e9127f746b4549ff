package shapes

import (
	"math"

	"ownerguide/render/doc"
)

// Box is a rectangle on the sheet; y is downwards.
type Box struct{ Left, Right, Top, Bottom float64 }

// Bounds returns the bounding box of shapes; for a curve that of its control points.
func Bounds(shapes []doc.Shape) Box {
	e := Box{Left: math.Inf(1), Right: math.Inf(-1), Top: math.Inf(1), Bottom: math.Inf(-1)}
	take := func(p doc.Point, r float64) {
		e.Left, e.Right = min(e.Left, p.X-r), max(e.Right, p.X+r)
		e.Top, e.Bottom = min(e.Top, p.Y-r), max(e.Bottom, p.Y+r)
	}
	for _, s := range shapes {
		switch s := s.(type) {
		case *doc.Circle:
			take(s.Center, s.Radius)
		case *doc.Label:
			take(Pt(s.At.X, s.At.Y-0.75*s.Size), 0)
			take(Pt(s.At.X, s.At.Y+0.25*s.Size), 0)
		case *doc.Path:
			for _, p := range flat(s) {
				take(p, s.Width/2)
			}
		}
	}
	return e
}

// flat returns a path as a polyline, with curves approximated.
func flat(s *doc.Path) []doc.Point {
	out := append(make([]doc.Point, 0, 1+len(s.Segments)), s.From)
	const pieces = 8
	for _, g := range s.Segments {
		from := out[len(out)-1]
		for i := 1; g.Curve && i < pieces; i++ {
			out = append(out, g.Along(from, float64(i)/pieces))
		}
		out = append(out, g.To)
	}
	return out
}

// RoundStep returns the smallest of 1, 2, 5 × 10ⁿ that is at least x.
func RoundStep(x float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(x)))
	for _, f := range []float64{1, 2, 5} {
		if f*power >= x {
			return f * power
		}
	}
	return 10 * power
}
