package draw

import (
	"errors"
	"fmt"
	"math"

	"ownerguide/render/doc"
	"ownerguide/render/draw/shapes"
	"ownerguide/spec/quantity"
)

func init() {
	pictures["raised-deck"] = func(s *Subject, c *canvas) (float64, string, error) { return raised(s, c, true) }
	pictures["raised-open"] = func(s *Subject, c *canvas) (float64, string, error) { return raised(s, c, false) }
}

// raised draws deck or box at its angle with the keep-out zone and, if requested and fitted,
// the body prop in its seat.
func raised(s *Subject, c *canvas, withProp bool) (float64, string, error) {
	u, err := readUnit(s.Build)
	if err != nil {
		return 0, "", err
	}
	if !u.hinged {
		return 0, "", errors.New("neither deck nor box of this unit rises")
	}
	value, kind := "tilt.angle", "tilt"
	if !u.hasDeck {
		value, kind = "dump.angle", "dump"
	}
	angle, high := s.need(value), s.need("raised.height")
	tilt, ok := exact[quantity.Angle](s, value)
	if !ok {
		return 0, "", fmt.Errorf("%s is no angle", value)
	}
	full := float64(tilt) * math.Pi / 180
	top, _ := s.inches("raised.height")
	above := max(top, u.high)
	label := "raised-height"
	// With the prop, deck or box is at the angle at which the prop fits, if the line states it.
	edge, atProp := s.inches("prop.height")
	if atProp = atProp && withProp; atProp {
		tilt, _ = exact[quantity.Angle](s, "prop.angle")
		angle, high, top, label = s.Figure("prop.angle"), s.Figure("prop.height"), edge, "prop-height"
	}
	turn := float64(tilt) * math.Pi / 180
	zone := u.keepOut(full)

	// The zone may extend beyond the unit; a steep box needs a smaller scale.
	const left, tallest = 26, 270
	rear := u.rear
	for _, q := range zone {
		rear = max(rear, q.X)
	}
	p := pen{canvas: c, coupled: true}
	ahead := u.front - reach
	p.scale = min((p.Width-left-8)/(rear-ahead), tallest/above)
	p.x, p.y = left-ahead*p.scale, 18+above*p.scale
	var corners []doc.Point
	for _, q := range zone {
		corners = append(corners, p.at(q.X, q.Y))
	}
	p.Hatch(warning, 9, corners...)
	p.Line(shapes.DimensionLine, shapes.Margin, p.y, p.Width-shapes.Margin, p.y)
	u.drawSide(p, turn)
	prop := withProp && s.Build.Has("body-prop") && u.drawProp(p, turn)
	dashed := signal
	dashed.Dash = []float64{6, 3}
	p.Polyline(dashed, true, corners...)
	u.drawAngle(p, turn, s.brief(angle))

	// Height at the left edge, and the legend of the hatch.
	bottom := p.y + 24
	level := p.y - top*p.scale
	edgeAt := p.at(u.raisedFront(turn))
	if atProp {
		edgeAt = p.at(u.raisedAt(u.movingFront(), u.floor.low, turn))
	}
	p.Line(shapes.DimensionLine, 8, level, edgeAt.X, level)
	p.Line(shapes.DimensionLine, 13, level+shapes.ArrowHeadLength, 13, bottom-p.SmallText)
	p.ArrowHead(doc.Middle, 13, level, -math.Pi/2)
	p.ArrowHead(doc.Middle, 13, p.y, math.Pi/2)
	p.Text(shapes.Margin, bottom, p.SmallText, doc.Start, s.words(label, "height", high))
	bottom += 19
	if !p.Narrow {
		swatch := []doc.Point{shapes.Pt(shapes.Margin, bottom-11), shapes.Pt(shapes.Margin+26, bottom-11), shapes.Pt(shapes.Margin+26, bottom+2), shapes.Pt(shapes.Margin, bottom+2)}
		p.Hatch(warning, 7, swatch...)
		p.Polyline(dashed, true, swatch...)
	}
	hatched := "keep-out"
	if prop {
		hatched = "keep-out-prop"
	}
	bottom = p.Note(shapes.Margin+34, bottom, p.SmallText, doc.Start, s.words(hatched), p.Width-2*shapes.Margin-34)
	key, pairs := "raised-"+kind, []string{"angle", angle, "height", high}
	if prop {
		bottom = p.Note(shapes.Margin, bottom+4, p.SmallText, doc.Start, s.words("prop-empty"), p.Width-2*shapes.Margin)
		key += ".prop"
	}
	return bottom - 6, s.words("raised.said", "picture", s.words(key+".alt", pairs...), "height", s.words(label, pairs...)), nil
}

// raisedAt returns the position of a point of deck or box when raised by an angle.
func (u *unit) raisedAt(x, z, turn float64) (rx, rz float64) {
	sin, cos := math.Sincos(turn)
	dx, dz := x-u.hingeX, z-u.hingeZ
	return u.hingeX + dx*cos + dz*sin, u.hingeZ - dx*sin + dz*cos
}

// raisedFront returns the position of the front upper corner of what rises.
func (u *unit) raisedFront(turn float64) (x, z float64) {
	return u.raisedAt(u.movingFront(), u.floor.top, turn)
}

// movingFront returns the x at which the rising part begins.
func (u *unit) movingFront() float64 {
	if u.hasDeck {
		return u.fixed
	}
	return u.floor.front
}

// Dimensions of the keep-out zone, in inches. They are this drawing's choice; the caution
// says to stay clear altogether.
const (
	zoneMargin = 14 // around what rises
	zoneBehind = 30 // behind the tail of a deck
	zoneTail   = 18 // height of the zone there
	zoneSlide  = 44 // behind the raised rear of a box, where the load slides out
	zoneSteps  = 12 // straight segments of an arc
)

// keepOut returns the outline of the zone around deck or box: everything it sweeps, the
// space below it down to the ground, and that behind it. In inches, with z in Y, upwards.
func (u *unit) keepOut(turn float64) []doc.Point {
	zone := []doc.Point{shapes.Pt(u.sweep(0).X, 0)}
	for i := range zoneSteps + 1 {
		zone = append(zone, u.sweep(turn*float64(i)/zoneSteps))
	}
	ux, uz := u.raisedFront(turn)
	fx, fz := u.raisedAt(u.movingFront(), u.floor.low, turn)
	rx, rz := u.raisedAt(u.floor.rear, u.floor.low-u.drop, turn)
	zone = append(zone, shapes.Pt(ux, uz), shapes.Pt(fx, fz), shapes.Pt(u.hingeX, u.floor.low), shapes.Pt(rx, max(rz, 0)))
	if !u.hasDeck {
		x, z := u.raisedAt(u.floor.rear, u.floor.top, turn)
		return append(zone, shapes.Pt(x, z), shapes.Pt(x+zoneSlide, z/2), shapes.Pt(x+zoneSlide, 0))
	}
	return append(zone, shapes.Pt(rx, max(rz, 0)+zoneTail), shapes.Pt(rx+zoneBehind, zoneTail), shapes.Pt(rx+zoneBehind, 0))
}

// sweep returns the position of the upper front corner at an angle, moved out by the margin.
func (u *unit) sweep(turn float64) doc.Point {
	x, z := u.raisedFront(turn)
	long := math.Hypot(x-u.hingeX, z-u.hingeZ)
	return shapes.Pt(x+zoneMargin*(x-u.hingeX)/long, z+zoneMargin*(z-u.hingeZ)/long)
}

// drawAngle draws the angle between the lower edge at rest and raised. Its figure is
// outside the zone: next to the arc of a box, or above what is in front of a
// deck.
func (u *unit) drawAngle(p pen, turn float64, text string) {
	const size = 14
	at := p.at(u.hingeX, u.hingeZ)
	r := 0.88 * (u.hingeX - u.movingFront()) * p.scale
	p.Line(doc.Style{Line: doc.Full, Width: 0.8, Dash: []float64{5, 3}}, at.X, at.Y, at.X-1.05*r, at.Y)
	deg := turn * 180 / math.Pi
	p.ArcArrow(doc.Style{Line: doc.Full, Width: 1.1}, at.X, at.Y, r, 180, 180-deg+1)
	beside, half := turn, math.Pi-turn/2
	if !u.hasDeck {
		beside = turn / 2
	}
	out := u.sweep(beside)
	corner := p.at(out.X, out.Y)
	p.Leader(shapes.Pt(corner.X-5, corner.Y), shapes.Pt(at.X+r*math.Cos(half), at.Y-r*math.Sin(half)))
	// Above anything drawn there.
	right := corner.X - 8
	y := corner.Y + 2
	for _, s := range p.Shapes {
		e := shapes.Bounds([]doc.Shape{s})
		if line, ok := s.(*doc.Path); ok && line.Line != doc.Full || e.Right < right-shapes.TextWidth(text, size) || e.Left > right {
			continue
		}
		y = min(y, e.Top-3)
	}
	p.BoldText(right, y, size, doc.End, text)
}

// drawProp draws the prop from its foot on the frame to its seat under deck or box. It
// returns false if the line does not state where the prop is.
func (u *unit) drawProp(p pen, turn float64) bool {
	t, ok := u.find("prop")
	if !ok || !t.given || t.extent.rear <= t.front {
		return false
	}
	long := t.extent.rear - t.front
	fx, fz := t.extent.rear, u.frameTop-1
	if !u.hasDeck {
		fz = t.top
	}
	// The seat: the point of the raised lower edge whose distance from the foot is
	// nearest to the prop's length.
	bestX, bestZ, best := 0.0, 0.0, math.Inf(1)
	for x := u.movingFront(); x < u.hingeX-10; x++ {
		sx, sz := u.raisedAt(x, u.floor.low, turn)
		if off := math.Abs(math.Hypot(sx-fx, sz-fz) - long); off < best && sz > fz {
			bestX, bestZ, best = sx, sz, off
		}
	}
	if math.IsInf(best, 1) {
		return false
	}
	a, b := p.at(fx, fz), p.at(bestX, bestZ)
	// Striped, so that it is not mistaken for a cylinder.
	p.Line(doc.Style{Line: doc.Full, Width: 7}, a.X, a.Y, b.X, b.Y)
	p.Line(doc.Style{Line: doc.Paper, Width: 4.4, Dash: []float64{4, 3}}, a.X, a.Y, b.X, b.Y)
	p.Circle(solid, a.X, a.Y, 3)
	p.Circle(solid, b.X, b.Y, 3)
	return true
}
