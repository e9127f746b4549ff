package draw

import (
	"math"

	"ownerguide/render/doc"
)

func init() { pictures["coupling"] = coupling }

// chainLine is how a chain looks: a heavy broken line.
var chainLine = doc.Style{Line: doc.Full, Width: 2.4, Dash: []float64{3.2, 1.6}}

// coupling shows where chains, lanyard and plug go; not to scale.
func coupling(s *Subject, c *canvas) (float64, string, error) {
	ball, err := s.need("hitch.ball")
	shown := brief(ball)
	if err != nil {
		return 0, "", err
	}
	chains, err := s.need("chains.count")
	if err != nil {
		return 0, "", err
	}
	braked := s.Build.Has("braked")
	key := "coupling.ball"
	height := 0.0
	if s.Build.Has("gooseneck") {
		key = "coupling.gooseneck"
		height = c.gooseneckCoupling(s, shown, braked)
	} else {
		height = c.ballCoupling(s, shown, braked)
	}
	if !braked {
		key += ".unbraked"
	}
	return height, s.words(key+".alt", "ball", ball, "chains", chains), nil
}

// ring is an eye that something is hooked into.
func (c *canvas) ring(x, y float64) {
	c.circle(doc.Style{Line: doc.Full, Width: 1.6, Fill: doc.Paper}, x, y, 5)
}

// ballCoupling is seen from above, front at the left: only so do the chains
// show crossed.
func (c *canvas) ballCoupling(s *Subject, ball string, braked bool) (height float64) {
	const y = 138 // middle of the unit
	// Tow vehicle: bumper, hitch bar with its eyes, receiver and ball mount.
	c.rounded(far, margin, y-92, 78, 184, 8)
	c.rounded(part, 80, y-88, 14, 176, 4)
	c.rect(part, 104, y-46, 12, 92)
	c.rect(part, 94, y-8, 10, 16)
	c.rect(white, 116, y-7, 66, 14)
	c.ring(110, y-34)
	c.ring(110, y+34)
	// Trailer: tongue beams, cross plate.
	for _, side := range []float64{-1, 1} {
		c.polyline(part, true, pt(262, y+side*4), pt(476, y+side*64), pt(476, y+side*78), pt(262, y+side*18))
	}
	// Chains pass under the coupler, so they come before it.
	for _, side := range []float64{-1, 1} {
		c.curve(chainLine, pt(292, y+side*22), pt(235, y+side*30), pt(180, y-side*34), pt(115, y-side*34))
		c.circle(solid, 292, y+side*22, 3)
	}
	c.rounded(part, 176, y-13, 48, 26, 12)
	c.rect(part, 214, y-11, 54, 22)
	c.circle(doc.Style{Line: doc.Full, Width: 1, Dash: []float64{2.5, 2}, Fill: doc.Paper}, 190, y, 8)
	for _, side := range []float64{-1, 1} { // the crossing, seen through the coupler
		c.line(doc.Style{Line: doc.Full, Width: 0.9, Dash: []float64{2.4, 1.8}}, 252, y+side*16, 176, y-side*16)
	}
	c.rounded(white, 222, y-5, 34, 10, 3) // latch
	c.circle(solid, 232, y, 2)
	// Cable on the right side of the unit, which is up on the sheet.
	c.curve(doc.Style{Line: doc.Full, Width: 2}, pt(400, y-48), pt(290, y-104), pt(190, y-58), pt(106, y-66))
	c.rect(solid, 94, y-71, 14, 10)

	widest := 225.0
	c.corners(s.words("tow-vehicle"), s.words("trailer"))
	c.note(100, 32, s.words("plug"), 180, pt(140, y-69))
	c.note(292, 32, s.words("coupler-latched", "ball", ball), 182, pt(232, y))
	bottom := float64(y + 116)
	height = c.note(margin+2, bottom, s.words("chains-crossed"), widest, pt(150, y+31.5))
	if braked {
		// Breakaway switch on the left beam; its lanyard goes to the vehicle.
		c.rounded(white, 352, y+20, 32, 20, 3)
		c.curve(doc.Style{Line: doc.Full, Width: 1.2}, pt(352, y+30), pt(280, y+92), pt(190, y+76), pt(96, y+64))
		c.ring(92, y+64)
		height = max(height, c.note(252, bottom, s.words("lanyard"), widest-5, pt(262, y+71)))
	}
	return height - 4
}

// gooseneckCoupling is seen from the left, the near side of the bed cut away.
func (c *canvas) gooseneckCoupling(s *Subject, ball string, braked bool) (height float64) {
	const floor, x = 190, 170 // of the bed; of the ball
	// Truck: cab, bed floor and far side, wheel.
	c.polyline(far, true, pt(margin, 214), pt(margin, 92), pt(24, 58), pt(62, 58), pt(62, 214))
	c.rect(far, 62, 128, 258, floor-128)
	c.rect(part, 62, floor, 262, 10)
	c.rect(part, 320, 128, 6, 72)
	// The axle, a little behind the ball, and the ground.
	c.circle(doc.Style{Line: doc.Full, Width: 1.2, Fill: doc.Middle}, x+6, 222, 28)
	c.circle(far, x+6, 222, 15)
	c.line(dimension, margin, 250, c.width-margin, 250)
	// Anchors and socket in the bed.
	c.rect(solid, x-6, floor-4, 12, 4)
	c.circle(part, x, floor-10, 8)
	// Trailer: tube, arm, upright.
	c.polyline(part, true, pt(x+14, 62), pt(x+14, 88), pt(432, 114), pt(432, 226), pt(476, 226), pt(476, 186), pt(456, 186), pt(456, 86))
	c.rect(part, x-14, 56, 28, 44)
	c.rect(part, x-9, 100, 18, 54)
	c.polyline(part, true, pt(x-13, 150), pt(x+13, 150), pt(x+13, floor-8), pt(x+8, floor-2), pt(x-8, floor-2), pt(x-13, floor-8))
	c.rounded(white, x+13, 158, 22, 8, 3) // latch pin
	// Chains hang to the anchors on both sides of the ball.
	for _, a := range []float64{x - 44, x + 50} {
		side := math.Copysign(1, a-x)
		c.curve(chainLine, pt(x+side*9, 116), pt(x+side*30, 150), pt(a, 150), pt(a, floor-5))
		c.ring(a, floor-5)
	}
	c.curve(doc.Style{Line: doc.Full, Width: 2}, pt(x+14, 74), pt(250, 120), pt(280, 118), pt(299, 148))
	c.rect(solid, 294, 148, 12, 12)

	c.corners(s.words("tow-vehicle"), s.words("trailer"))
	c.note(62, 32, s.words("gooseneck-latched", "ball", ball), 200, pt(x, 160))
	c.note(300, 32, s.words("plug-bed"), 172, pt(299, 152))
	bottom := 278.0
	height = c.note(margin+2, bottom, s.words("chains-bed"), 225, pt(x-44, 172))
	if braked {
		c.rounded(white, 306, 88, 32, 18, 3)
		c.curve(doc.Style{Line: doc.Full, Width: 1.2}, pt(312, 106), pt(312, 160), pt(268, 130), pt(262, floor-5))
		c.ring(262, floor-5)
		height = max(height, c.note(252, bottom, s.words("lanyard-bed"), 220, pt(270, 160)))
	}
	return height - 4
}
