package draw

import (
	"errors"
	"fmt"

	"ownerguide/render/doc"
	"ownerguide/spec"
	"ownerguide/spec/derive"
)

func init() { pictures["jack"] = jack }

// jack shows the landing jack, or the pair, and beside it which way its handle
// turns; not to scale.
func jack(s *Subject) (*doc.Drawing, string, error) {
	j, ok := spec.First[*spec.Jack](s.Build)
	if !ok {
		return nil, "", errors.New("no jack is fitted")
	}
	side := j.Data.Kind.Value == "side-crank"
	if !side && j.Data.Kind.Value != "top-crank" {
		return nil, "", fmt.Errorf("a %s jack has no handle to show", j.Data.Kind.Value)
	}
	clockwise, err := s.clockwise("jack.direction")
	if err != nil {
		return nil, "", err
	}
	lift, err := s.need("jack.lift")
	if err != nil {
		return nil, "", err
	}
	count, err := s.need("jack.count")
	if err != nil {
		return nil, "", err
	}
	direction := s.Figure("jack.direction")
	drop, pair := s.Build.Has("jack-drop-leg"), s.Build.Has("jack-pair")

	c := &canvas{}
	const ground = 216
	c.line(outline, margin, ground, 262, ground)
	if pair {
		c.jackPair(s, ground, drop)
	} else {
		c.jackSingle(s, ground, side, drop)
	}
	c.jackHandle(s, side, clockwise, direction)

	key := "jack.alt"
	if drop {
		key = "jack.drop-leg.alt"
	}
	view := s.words("jack.view-top")
	if side {
		view = s.words("jack.view-side")
	}
	return c.sheet(ground + 22), s.words(key, "count", count, "lift", lift, "direction", direction, "view", view), nil
}

// clockwise reads a value that says which way something turns.
func (s *Subject) clockwise(name string) (bool, error) {
	v, ok := s.Values.Lookup(name)
	if !ok {
		return false, fmt.Errorf("the unit has no value %s", name)
	}
	switch v.Exact {
	case derive.Text("clockwise"):
		return true, nil
	case derive.Text("counterclockwise"):
		return false, nil
	}
	return false, fmt.Errorf("%s is %v, expected clockwise or counterclockwise", name, v.Exact)
}

// jackLeg draws one leg from the top of its tube down to a pad on the ground;
// x is its middle.
func (c *canvas) jackLeg(x, top, ground float64, drop bool) {
	c.rect(part, x-34, ground-9, 68, 9) // pad
	c.polyline(part, true, pt(x-20, ground-9), pt(x+20, ground-9), pt(x+11, ground-17), pt(x-11, ground-17))
	if drop {
		// The lower leg slides in the inner tube and is held by a pin through one of its holes.
		c.rect(white, x-7, ground-72, 14, 55)
		for i := range 3 {
			c.circle(solid, x, ground-26-float64(i)*11, 1.6)
		}
		c.rect(part, x-10, ground-92, 20, 26)
		c.line(strong, x-17, ground-78, x+17, ground-78)
		c.circle(white, x+20, ground-78, 4)
	} else {
		c.rect(white, x-8, ground-96, 16, 79)
	}
	c.rect(part, x-13, top, 26, ground-88-top)
}

// jackSingle shows a jack on the tongue from its side.
func (c *canvas) jackSingle(s *Subject, ground float64, side, drop bool) {
	const x, top = 116, 62
	c.rect(far, margin, 88, 196, 26) // tongue
	c.jackLeg(x, top, ground, drop)
	c.rect(white, x-18, 84, 36, 34) // bracket
	for _, corner := range [][2]float64{{-12, 91}, {12, 91}, {-12, 111}, {12, 111}} {
		c.circle(solid, x+corner[0], corner[1], 1.8)
	}
	grip := pt(x-44, 56)
	if side {
		// Gear case on top, crank to the side.
		c.rounded(part, x-16, 50, 32, 20, 4)
		c.polyline(strong, false, pt(x-16, 60), pt(x-34, 60), pt(x-34, 34))
		c.rounded(white, x-60, 29, 27, 9, 4)
		grip = pt(x-46, 34)
	} else {
		c.polyline(strong, false, pt(x, top), pt(x, 48), pt(x-44, 48))
		c.rounded(white, x-49, 28, 9, 22, 4)
		grip = pt(x-45, 38)
	}
	c.note(margin+2, 13, doc.Start, s.words("jack.handle"), 130, grip)
	if drop {
		c.note(170, 142, doc.Start, s.words("jack.pin"), 92, pt(x+20, ground-78))
		c.note(margin+2, 142, doc.Start, s.words("jack.drop-leg"), 76, pt(x-4, ground-59))
	}
	c.text(margin+2, ground+14, leastSize, doc.Start, s.words("jack.pad"))
}

// jackPair shows two legs from the front of the unit; one handle turns both.
func (c *canvas) jackPair(s *Subject, ground float64, drop bool) {
	const left, right, top = 56, 204, 62
	c.rect(far, left, 88, right-left, 26) // cross member
	for _, x := range []float64{left, right} {
		c.jackLeg(x, top, ground, drop)
		c.rounded(part, x-16, 50, 32, 20, 4)
	}
	c.rect(white, left+16, 57, right-left-32, 6) // shaft
	c.polyline(strong, false, pt(right+16, 60), pt(right+32, 60), pt(right+32, 36))
	c.rounded(white, right+29, 31, 27, 9, 4)
	c.note(110, 13, doc.Start, s.words("jack.handle"), 130, pt(right+40, 36))
	c.note(margin+2, 32, doc.Start, s.words("jack.shaft"), 190, pt(110, 60))
	if drop {
		c.note(92, 142, doc.Start, s.words("jack.pin"), 92, pt(left+20, ground-78))
		c.note(92, 190, doc.Start, s.words("jack.drop-leg"), 76, pt(left+4, ground-38))
	}
	c.text(margin+2, ground+14, leastSize, doc.Start, s.words("jack.pad"))
}

// jackHandle shows the crank as the person who turns it sees it.
func (c *canvas) jackHandle(s *Subject, side, clockwise bool, direction string) {
	const x, y, r = 374, 104, 56
	key := "jack.view-top"
	if side {
		key = "jack.view-side"
	}
	c.bold(x, 13, leastSize, doc.Center, s.words(key))
	from, to := 60.0, -210.0 // degrees, counter-clockwise on the sheet
	if !clockwise {
		from, to = 120, 390
	}
	c.turning(doc.Style{Line: doc.Full, Width: 2.2}, x, y, r, from, to)
	// Crank arm and grip, seen on end.
	c.polyline(doc.Style{Line: doc.Full, Width: 7}, false, pt(x, y), pt(x, y-36))
	c.polyline(doc.Style{Line: doc.Pale, Width: 4.6}, false, pt(x, y), pt(x, y-36))
	c.circle(part, x, y, 15)
	c.circle(solid, x, y, 4)
	c.circle(white, x, y-38, 8)
	down := c.blockBold(x, y+r+26, labelSize, s.words("jack.raises", "direction", direction), 200)
	c.block(x, down+2, leastSize, doc.Center, s.words("jack.lowers"), 200)
}

// blockBold is a centered block in bold.
func (c *canvas) blockBold(x, y, size float64, text string, widest float64) float64 {
	for _, line := range wrap(text, size, widest) {
		c.bold(x, y, size, doc.Center, line)
		y += lineStep * size
	}
	return y
}
