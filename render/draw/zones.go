package draw

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"ownerguide/render/doc"
)

// point is a stop where it stands on the unit, in inches: along it, and up or, seen
// from above, to its left.
type point struct {
	Stop
	along, across float64
	hidden        bool
}

// seen is the unit from one side: how it is drawn with the middle of the coupler at a
// place of the sheet, and how far it reaches.
type seen struct {
	draw  func(c *canvas, v view)
	reach extent // across in low and top
	sign  float64
}

// Measures of a zone. A circle wants its room on the sheet and a part is known by
// what is around it.
const (
	zonePoints  = 9
	zoneLongest = 110.0 // in
	zoneLeast   = 62.0  // in
	zoneAround  = 10.0  // in, beyond its outermost points
	zoneTallest = 230.0 // on the sheet
)

// zones draws a picture with points for a column: the whole unit, or, where it has more
// points than can be told apart there, the whole unit with letters and each lettered
// zone enlarged.
func (c *canvas) zones(s *Subject, of seen, points []point, alt string) {
	slices.SortStableFunc(points, func(a, b point) int { return cmp.Compare(a.along, b.along) })
	cuts := cutZones(points)
	whole := of.reach
	if len(cuts) == 1 {
		c.window(s, of, whole, points)
		c.cut(alt)
		return
	}
	v := c.window(s, of, whole, nil)
	top := roomOf(c.shapes).low - 2*c.sign - 8
	var middles []float64
	for _, zone := range cuts {
		a, b := v.at(zone[0].along, 0).X-3, v.at(zone[len(zone)-1].along, 0).X+3
		c.line(outline, a, top+2*c.sign+3, b, top+2*c.sign+3)
		middles = append(middles, (a+b)/2)
	}
	for i, x := range spread(middles, 2*c.sign+2, c.sign+2, c.width-c.sign-2) {
		c.circled(x, top+c.sign, string(rune('A'+i)))
	}
	c.key = append(c.key, doc.KeyRow{Text: s.words("zones")})
	c.cut(alt)
	for i, zone := range cuts {
		letter := string(rune('A' + i))
		w := extent{front: zone[0].along - zoneAround, rear: zone[len(zone)-1].along + zoneAround, low: math.Inf(1), top: math.Inf(-1)}
		if short := zoneLeast - (w.rear - w.front); short > 0 {
			w.front, w.rear = w.front-short/2, w.rear+short/2
		}
		for _, p := range zone {
			w.low, w.top = min(w.low, p.across-1.6*zoneAround), max(w.top, p.across+1.6*zoneAround)
		}
		w.low, w.top = max(w.low, whole.low), min(w.top, whole.top)
		c.window(s, of, w, zone)
		c.ends[0] = letter
		c.cut(s.words("zone.alt", "zone", letter, "stops", s.stopList(stopsIn(zone))))
	}
}

// window draws what lies in a part of the unit, as large as the width allows, and
// points at its points.
func (c *canvas) window(s *Subject, of seen, w extent, points []point) view {
	room := c.width - 2*margin
	v := view{scale: min(room/(w.rear-w.front), zoneTallest/(w.top-w.low))}
	v.x = c.width/2 - (w.front+w.rear)/2*v.scale
	scratch := &canvas{form: c.form}
	of.draw(scratch, v)
	a, b := v.at(w.front, of.sign*w.top), v.at(w.rear, of.sign*w.low)
	frame := extent{front: max(a.X, 0), rear: min(b.X, c.width), low: min(a.Y, b.Y) - 1, top: max(a.Y, b.Y) + 1}
	for _, shape := range scratch.shapes {
		c.shapes = append(c.shapes, clipped(shape, frame)...)
	}
	points = slices.SortedFunc(slices.Values(points), func(a, b point) int { return cmp.Compare(a.Number, b.Number) })
	for _, p := range points {
		c.marks = append(c.marks, mark{sign: strconv.Itoa(p.Number), at: v.at(p.along, of.sign*p.across)})
		text := p.Title
		if p.hidden {
			text += " " + s.words("on-right")
		}
		c.key = append(c.key, doc.KeyRow{Sign: strconv.Itoa(p.Number), Text: text, To: p.ID})
	}
	return v
}

func stopsIn(points []point) (stops []Stop) {
	for _, p := range points {
		stops = append(stops, p.Stop)
	}
	slices.SortFunc(stops, func(a, b Stop) int { return cmp.Compare(a.Number, b.Number) })
	return stops
}

// cutZones shares points, sorted along the unit, out to zones: as few and as short as
// can be. With few enough points the whole unit is one.
func cutZones(points []point) [][]point {
	n := len(points)
	if n <= zonePoints {
		return [][]point{points}
	}
	least, from := make([]float64, n+1), make([]int, n+1)
	for end := 1; end <= n; end++ {
		least[end] = math.Inf(1)
		for start := max(0, end-zonePoints); start < end; start++ {
			long := (points[end-1].along - points[start].along) / zoneLongest
			cost := least[start] + 1 + 0.6*long*long
			if long > 1 {
				cost += 10 * long // as one of a few points that are far apart
			}
			if end-start == 1 {
				cost += 0.3
			}
			if cost < least[end] {
				least[end], from[end] = cost, start
			}
		}
	}
	var out [][]point
	for end := n; end > 0; end = from[end] {
		out = append(out, points[from[end]:end])
	}
	slices.Reverse(out)
	return out
}

// clipped gives what of a shape lies in a frame, y in low and top.
func clipped(s doc.Shape, frame extent) []doc.Shape {
	e := roomOf([]doc.Shape{s})
	switch {
	case e.front >= frame.front && e.rear <= frame.rear && e.low >= frame.low && e.top <= frame.top:
		return []doc.Shape{s}
	case e.rear < frame.front || e.front > frame.rear || e.top < frame.low || e.low > frame.top:
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
			corners = append(corners, pt(s.Center.X+s.Radius*cos, s.Center.Y+s.Radius*sin))
		}
	case *doc.Path:
		style, corners, closed = s.Style, flat(s), s.Closed
	default:
		return nil
	}
	var c canvas
	if style.Fill != doc.None {
		if in := filled(corners, frame); len(in) > 2 {
			c.polyline(doc.Style{Fill: style.Fill}, true, in...)
		}
	}
	style.Fill = doc.None
	if style.Line == doc.None {
		return c.shapes
	}
	if closed {
		corners = append(corners, corners[0])
	}
	var run []doc.Point
	end := func() {
		if len(run) > 1 {
			c.polyline(style, false, run...)
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
	return c.shapes
}

// sides are the four sides of a frame, each as how far inside it a point is.
func sides(f extent) [4]func(doc.Point) float64 {
	return [4]func(doc.Point) float64{
		func(p doc.Point) float64 { return p.X - f.front }, func(p doc.Point) float64 { return f.rear - p.X },
		func(p doc.Point) float64 { return p.Y - f.low }, func(p doc.Point) float64 { return f.top - p.Y },
	}
}

// filled cuts a polygon at each side of a frame in turn (Sutherland and Hodgman).
func filled(corners []doc.Point, frame extent) []doc.Point {
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

// stretch gives the part of a straight line that lies in a frame.
func stretch(a, b doc.Point, frame extent) (from, to doc.Point, ok bool) {
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
	return pt(a.X+share*(b.X-a.X), a.Y+share*(b.Y-a.Y))
}
