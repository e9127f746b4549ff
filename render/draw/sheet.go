package draw

import (
	"fmt"
	"math"

	"ownerguide/render/doc"
	"ownerguide/render/draw/shapes"
	"ownerguide/spec/quantity"
)

// words returns a label with its placeholders filled; pairs are names and texts.
func (s *Subject) words(key string, pairs ...string) string {
	return doc.Fill(s.Label("draw."+key), pairs...)
}

// need returns a figure; if the unit lacks it there is no drawing: see [Subject].lacks.
// A drawing that can fail because of the figure itself calls [derive.Values.Decides].
func (s *Subject) need(name string) string {
	s.Values.Lookup(name) // records the dependency; Figure does not
	text := s.Figure(name)
	if text == "" && s.lacks == nil {
		s.lacks = fmt.Errorf("the unit has no value %s", name)
	}
	return text
}

// exact returns a figure as a quantity, before rounding.
func exact[Q quantity.Quantity](s *Subject, name string) (q Q, ok bool) {
	q, ok = s.Exact(name).(Q)
	return q, ok
}

// brief returns a figure without its second unit, for places with little room.
func (s *Subject) brief(figure string) string {
	first, _ := doc.FirstUnit(s.Label(doc.BothUnits), figure)
	return first
}

// view maps the unit to the sheet; z, which is upwards, is inverted.
type view struct {
	scale float64 // points per inch
	x, y  float64 // origin: under the coupler's center, on the ground
}

func (v view) at(x, z float64) doc.Point { return shapes.Pt(v.x+x*v.scale, v.y-z*v.scale) }

// pen draws in inches of the unit, from its left; it may rotate the drawing about a hinge,
// for a raised deck or box.
type pen struct {
	*canvas
	view
	turn    float64 // rotation in radians, front up
	hx, hz  float64 // the hinge
	coupled bool    // to a tow vehicle; otherwise parked on its jack
}

func (p pen) at(x, z float64) doc.Point {
	dx, dz := x-p.hx, z-p.hz
	sin, cos := math.Sincos(p.turn)
	return p.view.at(p.hx+dx*cos+dz*sin, p.hz-dx*sin+dz*cos)
}

// poly draws a polyline through points given as x, z, x, z …
func (p pen) poly(s doc.Style, closed bool, places ...float64) {
	var points []doc.Point
	for i := 0; i+1 < len(places); i += 2 {
		points = append(points, p.at(places[i], places[i+1]))
	}
	p.Polyline(s, closed, points...)
}

func (p pen) box(s doc.Style, e extent) {
	p.poly(s, true, e.front, e.low, e.rear, e.low, e.rear, e.top, e.front, e.top)
}

func (p pen) disc(s doc.Style, x, z, r float64) {
	at := p.at(x, z)
	p.Circle(s, at.X, at.Y, r*p.scale)
}
