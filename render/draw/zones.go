package draw

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"ownerguide/render/doc"
	"ownerguide/render/draw/shapes"
)

// point is a stop with its coordinates on the unit, in inches: along it, and up or, seen
// from above, to its left.
type point struct {
	Stop
	along, across float64
	hidden        bool
}

// projection is a view of the unit: a function that draws it with the coupler's center at a
// position on the sheet, and its extent.
type projection struct {
	draw  func(c *canvas, v view)
	reach extent // across in low and top
	sign  float64
}

// Dimensions of a zone. A circle needs room on the sheet, and a part is recognized by its
// surroundings.
const (
	zonePoints  = 9
	zoneLongest = 110.0 // in
	zoneLeast   = 62.0  // in
	zoneAround  = 10.0  // beyond its outermost points
	zoneTallest = 230.0 // on the sheet
)

// zones draws a picture with points for a column: the whole unit or, if it has too many
// points for that, the whole unit with letters and each lettered zone
// enlarged.
func (c *canvas) zones(s *Subject, of projection, points []point, alt string) {
	slices.SortStableFunc(points, func(a, b point) int { return cmp.Compare(a.along, b.along) })
	cuts := cutZones(points)
	whole := of.reach
	if len(cuts) == 1 {
		c.window(s, of, whole, points)
		c.FinishView(alt)
		return
	}
	v := c.window(s, of, whole, nil)
	top := shapes.Bounds(c.Shapes).Top - 2*c.BalloonRadius - 8
	var middles []float64
	for _, zone := range cuts {
		a, b := v.at(zone[0].along, 0).X-3, v.at(zone[len(zone)-1].along, 0).X+3
		c.Line(outline, a, top+2*c.BalloonRadius+3, b, top+2*c.BalloonRadius+3)
		middles = append(middles, (a+b)/2)
	}
	for i, x := range shapes.Spread(middles, 2*c.BalloonRadius+2, c.BalloonRadius+2, c.Width-c.BalloonRadius-2) {
		c.Balloon(x, top+c.BalloonRadius, string(rune('A'+i)))
	}
	c.Key = append(c.Key, doc.KeyRow{Text: s.words("zones")})
	c.FinishView(alt)
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
		c.Ends[0] = letter
		c.FinishView(s.words("zone.alt", "zone", letter, "stops", s.stopList(stopsIn(zone))))
	}
}

// window draws a part of the unit as large as the width allows, with marks for
// its points.
func (c *canvas) window(s *Subject, of projection, w extent, points []point) view {
	room := c.Width - 2*shapes.Margin
	v := view{scale: min(room/(w.rear-w.front), zoneTallest/(w.top-w.low))}
	v.x = c.Width/2 - (w.front+w.rear)/2*v.scale
	scratch := &canvas{shapes.Canvas{Form: c.Form}}
	of.draw(scratch, v)
	a, b := v.at(w.front, of.sign*w.top), v.at(w.rear, of.sign*w.low)
	frame := shapes.Box{Left: max(a.X, 0), Right: min(b.X, c.Width), Top: min(a.Y, b.Y) - 1, Bottom: max(a.Y, b.Y) + 1}
	for _, shape := range scratch.Shapes {
		c.Shapes = append(c.Shapes, shapes.Clip(shape, frame)...)
	}
	points = slices.SortedFunc(slices.Values(points), func(a, b point) int { return cmp.Compare(a.Number, b.Number) })
	for _, p := range points {
		c.Marks = append(c.Marks, shapes.Mark{Sign: strconv.Itoa(p.Number), At: v.at(p.along, of.sign*p.across)})
		text := p.Title
		if p.hidden {
			text = s.words("on-right", "stop", text)
		}
		c.Key = append(c.Key, doc.KeyRow{Sign: strconv.Itoa(p.Number), Text: text, To: p.ID})
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

// cutZones divides points, sorted along the unit, into as few and as short zones as
// possible. If there are few points the whole unit is one.
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
