package draw

import (
	"errors"

	"ownerguide/render/doc"
	"ownerguide/spec"
)

func init() { pictures["jack"] = jack }

// jack shows the jack of this unit, which way its handle turns, and its drop
// leg; not to scale.
func jack(s *Subject) (*doc.Drawing, string, error) {
	fitted, ok := spec.First[*spec.Jack](s.Build)
	if !ok {
		return nil, "", errors.New("no jack is fitted")
	}
	direction, err := s.need("jack.direction")
	if err != nil {
		return nil, "", err
	}
	lift, err := s.need("jack.lift")
	if err != nil {
		return nil, "", err
	}
	j := fitted.Data
	clockwise := j.Raises.Value == "clockwise"
	pair := j.Count.Value > 1
	side := j.Kind.Value == "side-crank"
	c := &canvas{}
	const ground = 236
	c.line(dimension, margin, ground, sheetWidth-margin, ground)
	legs := []float64{110}
	if pair {
		legs = []float64{60, 190}
		c.rect(part, 60, 58, 130, 6) // cross shaft
	}
	for _, x := range legs {
		c.leg(x, ground, j.DropLeg.Value)
	}
	x := legs[len(legs)-1]
	notes := float64(x) + 58
	widest := sheetWidth - margin - notes
	// The handle, seen by the one who turns it.
	down := 24.0
	turned := s.words("jack-turn", "direction", direction)
	from, to := 150.0, 30.0 // clockwise
	if !clockwise {
		from, to = 30.0, 150.0
	}
	if side {
		c.turning(signal, x, 62, 30, from, to)
		c.line(doc.Style{Line: doc.Full, Width: 4}, x, 62, x+16, 98)
		c.circle(white, x, 62, 8)
		c.circle(solid, x+16, 98, 5)
		down = c.note(notes, down, doc.Start, turned+". "+s.words("jack-from-handle"), widest, pt(x+27, 46))
	} else {
		c.rect(part, x-6, 34, 12, 10)
		c.line(doc.Style{Line: doc.Full, Width: 4}, x, 36, x+42, 36)
		c.line(doc.Style{Line: doc.Full, Width: 4}, x+42, 38, x+42, 20)
		// From above, in a circle of its own.
		ix, iy := notes+42, 66.0
		c.turning(signal, ix, iy, 34, from, to)
		c.circle(part, ix, iy, 14)
		c.line(doc.Style{Line: doc.Full, Width: 4}, ix, iy, ix+24, iy-10)
		c.circle(solid, ix+24, iy-10, 4)
		c.block(ix+48, iy-12, leastSize, doc.Start, turned+". "+s.words("jack-from-above"), sheetWidth-margin-ix-48)
		down = 120
	}
	if j.DropLeg.Value {
		down = c.note(notes, down+14, doc.Start, s.words("jack-drop-leg"), widest, pt(x+8, 165))
	}
	down = c.note(notes, max(down+14, 196), doc.Start, s.words("jack-pad"), widest, pt(x+30, ground-6))
	key := "jack.alt"
	switch {
	case j.DropLeg.Value && pair:
		key = "jack-pair-drop.alt"
	case j.DropLeg.Value:
		key = "jack-drop.alt"
	case pair:
		key = "jack-pair.alt"
	}
	return c.sheet(max(ground+24, down)), s.words(key, "direction", direction, "lift", lift), nil
}

// leg draws one leg on its pad, with the drop leg and its pin where it has one.
func (c *canvas) leg(x, ground float64, drop bool) {
	c.rect(far, x-40, ground-8, 80, 8) // wood under the foot
	c.rect(part, x-24, ground-15, 48, 7)
	if drop {
		c.rect(white, x-9, 120, 18, ground-15-120)
		for y := 178.0; y < ground-24; y += 15 {
			c.circle(thin, x, y, 2.4)
		}
		c.rect(part, x-14, 44, 28, 130)
		c.line(doc.Style{Line: doc.Full, Width: 4}, x-22, 165, x+22, 165) // pin
		c.circle(doc.Style{Line: doc.Full, Width: 1.6, Fill: doc.Paper}, x+25, 165, 4)
		return
	}
	c.rect(white, x-9, 120, 18, ground-15-120)
	c.rect(part, x-14, 44, 28, 110)
}
