package draw

import (
	"errors"

	"ownerguide/render/doc"
	"ownerguide/render/draw/shapes"
	"ownerguide/spec"
	"ownerguide/spec/product"
)

func init() { pictures["jack"] = jack }

// jack draws the jack of this unit, the direction in which its handle turns, and its drop
// leg; not to scale.
func jack(s *Subject, c *canvas) (float64, string, error) {
	fitted, ok := spec.First[*product.Jack](s.Build)
	if !ok {
		return 0, "", errors.New("no jack is fitted")
	}
	j := fitted.Data
	powered := s.Build.Has("jack-powered")
	direction := ""
	if !powered {
		direction = s.need("jack.direction")
	}
	pair := j.Count.Value > 1
	const ground = 236
	c.Line(shapes.DimensionLine, shapes.Margin, ground, c.Width-shapes.Margin, ground)
	legs, handles := []float64{110}, []float64{110}
	if pair {
		legs, handles = []float64{60, 190}, []float64{190}
	}
	if j.Apart.Value {
		handles = legs
	} else if pair && !powered {
		c.Rect(part, 60, 58, 130, 6) // cross shaft
	}
	for _, x := range legs {
		c.leg(x, ground, j)
	}
	x := legs[len(legs)-1]
	notes, widest := x+58, c.Width-shapes.Margin-x-58
	// The handle, seen by the person who turns it.
	down := 24.0
	way, from, to := ".counterclockwise", 30.0, 150.0
	if j.Raises.Value == "clockwise" {
		way, from, to = ".clockwise", 150, 30
	}
	switch {
	case powered:
		for _, x := range legs {
			c.Rect(part, x-16, 14, 32, 30) // motor, or cylinder head
		}
		down = c.Callout(notes, down, s.words("jack-switch"), widest, shapes.Pt(x+16, 28))
	case j.Kind.Value == "side-crank":
		for _, x := range handles {
			c.ArcArrow(signal, x, 62, 30, from, to)
			c.Line(rod, x, 62, x+16, 98)
			c.Circle(white, x, 62, 8)
			c.Circle(solid, x+16, 98, 5)
		}
		down = c.Callout(notes, down, s.words("jack-from-handle"+way), widest, shapes.Pt(x+27, 46))
	default:
		for _, x := range handles {
			c.Rect(part, x-6, 34, 12, 10)
			c.Polyline(rod, false, shapes.Pt(x, 36), shapes.Pt(x+42, 36), shapes.Pt(x+42, 20))
		}
		ix, iy := notes+42, 66.0 // from above
		c.ArcArrow(signal, ix, iy, 34, from, to)
		c.Circle(part, ix, iy, 14)
		c.Line(rod, ix, iy, ix+24, iy-10)
		c.Circle(solid, ix+24, iy-10, 4)
		c.Note(ix+48, iy-12, c.SmallText, doc.Start, s.words("jack-from-above"+way), c.Width-shapes.Margin-ix-48)
		down = 120
	}
	if j.DropLeg.Value {
		down = c.Callout(notes, down+14, s.words("jack-drop-leg"), widest, shapes.Pt(x+8, dropPin))
	}
	if j.Swivel.Value {
		down = c.Callout(notes, max(down+14, 140), s.words("jack-swivel"), widest, shapes.Pt(x+24, swivelPin))
	}
	stands, foot := "jack-pad", shapes.Pt(x+30, ground-6)
	if j.Wheel.Value {
		stands, foot = "jack-wheel", shapes.Pt(x+14, ground-18)
	}
	down = c.Callout(notes, max(down+14, 196), s.words(stands), widest, foot)
	key := "jack.alt"
	switch {
	case powered:
		key = "jack-powered.alt"
	case j.Wheel.Value:
		key = "jack-wheel.alt"
	case j.Apart.Value:
		key = "jack-apart.alt"
	case j.DropLeg.Value && pair:
		key = "jack-pair-drop.alt"
	case j.DropLeg.Value:
		key = "jack-drop.alt"
	case pair:
		key = "jack-pair.alt"
	}
	return max(ground+24, down), s.words(key, "direction", direction, "lift", s.need("jack.lift")), nil
}

// leg draws one leg, on its pad or its wheel, with the drop leg or the swivel and its pin,
// if it has one.
func (c *canvas) leg(x, ground float64, j *product.Jack) {
	if j.Wheel.Value {
		c.Rect(white, x-9, 120, 18, ground-160)
		c.Polyline(part, true, shapes.Pt(x-14, ground-44), shapes.Pt(x+14, ground-44), shapes.Pt(x+7, ground-18), shapes.Pt(x-7, ground-18)) // fork
		c.Circle(part, x, ground-20, 20)
		c.Circle(white, x, ground-20, 11)
		c.Circle(solid, x, ground-20, 3)
	} else {
		c.Rect(white, x-9, 120, 18, ground-135)
		c.Rect(far, x-40, ground-8, 80, 8) // wood under the foot
		c.Rect(part, x-24, ground-15, 48, 7)
	}
	if !j.DropLeg.Value {
		c.Rect(part, x-14, 44, 28, 110)
	} else {
		for y := 178.0; y < ground-24; y += 15 {
			c.Circle(thin, x, y, 2.4)
		}
		c.Rect(part, x-14, 44, 28, 130)
		c.pin(x-22, x+22, dropPin)
	}
	if j.Swivel.Value {
		c.Rect(part, x-20, swivelPin-16, 40, 32)
		c.Circle(white, x, swivelPin, 9)
		c.pin(x+8, x+24, swivelPin)
	}
}

// Heights of the pins that hold a drop leg and a swivel.
const (
	dropPin   = 165.0
	swivelPin = 128.0
)

// pin draws a pin with its ring.
func (c *canvas) pin(from, to, y float64) {
	c.Line(rod, from, y, to, y)
	c.Circle(doc.Style{Line: doc.Full, Width: 1.6, Fill: doc.Paper}, to+3, y, 4)
}
