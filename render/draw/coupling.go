package draw

import (
	"math"

	"ownerguide/render/doc"
	"ownerguide/render/draw/shapes"
)

func init() { pictures["coupling"] = coupling }

// chainLine is the style of a chain: a heavy broken line.
var chainLine = doc.Style{Line: doc.Full, Width: 2.4, Dash: []float64{3.2, 1.6}}

// coupling draws how to attach chains, lanyard and plug; not to scale.
func coupling(s *Subject, c *canvas) (float64, string, error) {
	key, fit, draw := "coupling.ball", "hitch.ball", c.ballCoupling
	switch {
	case s.Build.Has("gooseneck"):
		key, draw = "coupling.gooseneck", c.gooseneckCoupling
	case s.Build.Has("kingpin"):
		key, fit, draw = "coupling.kingpin", "hitch.kingpin", c.kingpinCoupling
	case s.Build.Has("pintle"):
		key, fit, draw = "coupling.pintle", "hitch.ring", c.pintleCoupling
	}
	size, braked := s.need(fit), s.Build.Has("braked")
	if !braked {
		key += ".unbraked"
	}
	words := []string{"size", size}
	if s.Build.Has("safety-chains") {
		words = append(words, "chains", s.need("chains.count"))
	}
	return draw(s, s.brief(size), braked), s.words(key+".alt", words...), nil
}

// ring draws an eye for a hook.
func (c *canvas) ring(x, y float64) {
	c.Circle(doc.Style{Line: doc.Full, Width: 1.6, Fill: doc.Paper}, x, y, 5)
}

const middle = 138.0 // y of the middle of the unit, seen from above

// tongueAbove draws what the couplings behind a tow vehicle have in common, from above,
// front at the left: only this view shows the chains crossed. It is drawn before what lies
// over the chains.
func (c *canvas) tongueAbove() {
	const y = middle
	// Tow vehicle: bumper and hitch bar with its eyes.
	c.RoundedRect(far, shapes.Margin, y-92, 78, 184, 8)
	c.RoundedRect(part, 80, y-88, 14, 176, 4)
	c.Rect(part, 104, y-46, 12, 92)
	c.Rect(part, 94, y-8, 10, 16)
	c.ring(110, y-34)
	c.ring(110, y+34)
	// Trailer: tongue beams, cross plate.
	for _, side := range sides {
		c.Polyline(part, true, shapes.Pt(262, y+side*4), shapes.Pt(476, y+side*64), shapes.Pt(476, y+side*78), shapes.Pt(262, y+side*18))
	}
	// Chains pass under the coupler, so they come before it.
	for _, side := range sides {
		c.Curve(chainLine, shapes.Pt(292, y+side*22), shapes.Pt(235, y+side*30), shapes.Pt(180, y-side*34), shapes.Pt(115, y-side*34))
		c.Circle(solid, 292, y+side*22, 3)
	}
}

func (c *canvas) ballCoupling(s *Subject, ball string, braked bool) (height float64) {
	const y = middle
	c.tongueAbove()
	c.Rect(white, 116, y-7, 60, 14) // ball mount
	c.RoundedRect(part, 176, y-13, 48, 26, 12)
	c.Rect(part, 214, y-11, 54, 22)
	c.Circle(doc.Style{Line: doc.Full, Width: 1, Dash: []float64{2.5, 2}, Fill: doc.Paper}, 190, y, 8)
	for _, side := range sides { // the crossing, visible through the coupler
		c.Line(doc.Style{Line: doc.Full, Width: 0.9, Dash: []float64{2.4, 1.8}}, 252, y+side*16, 176, y-side*16)
	}
	c.RoundedRect(white, 222, y-5, 34, 10, 3) // latch
	c.Circle(solid, 232, y, 2)
	return c.connections(s, s.words("coupler-latched", "ball", ball), shapes.Pt(232, y), "lanyard", braked)
}

// pintleCoupling draws from above, with the hook also from the side, where its latch is visible.
func (c *canvas) pintleCoupling(s *Subject, ring string, braked bool) (height float64) {
	const y = middle
	c.tongueAbove()
	c.Rect(part, 116, y-20, 7, 40) // plate
	c.Rect(white, 123, y-8, 44, 16)
	c.Circle(doc.Style{Line: doc.Full, Width: 8}, 182, y, 17)
	c.Circle(doc.Style{Line: doc.Paper, Width: 5.6}, 182, y, 17)
	c.Rect(part, 203, y-9, 66, 18)           // shank of the ring
	c.RoundedRect(part, 152, y-6, 24, 12, 4) // the horn comes up through it
	height = c.connections(s, s.words("pintle-latched", "ring", ring), shapes.Pt(164, y), "lanyard-pintle", braked)
	c.sidePintle(s, 245, height+72)
	return height + 126
}

// sidePintle draws a closed hook from the left, around the section of the ring.
func (c *canvas) sidePintle(s *Subject, x, y float64) {
	c.Callout(x+96, y-30, s.words("pintle-latch"), 130, shapes.Pt(x+12, y-16))
	c.Rect(part, x-62, y-36, 8, 72) // plate
	// Ring and shank, then the horn before them.
	c.Rect(part, x+30, y-9, 42, 18)
	c.Polyline(part, true, shapes.Pt(x+8, y-8), shapes.Pt(x+34, y-9), shapes.Pt(x+34, y+9), shapes.Pt(x+8, y+8))
	c.Polyline(part, true, shapes.Pt(x-54, y-6), shapes.Pt(x-22, y-6), shapes.Pt(x-12, y+12), shapes.Pt(x+6, y+13), shapes.Pt(x+12, y-2), shapes.Pt(x+20, y),
		shapes.Pt(x+18, y+20), shapes.Pt(x+2, y+30), shapes.Pt(x-24, y+26), shapes.Pt(x-54, y+14))
	c.Circle(dark, x, y, 8)
	// The latch closes from above, on a pivot at its front.
	c.Polyline(white, true, shapes.Pt(x-48, y-24), shapes.Pt(x-20, y-26), shapes.Pt(x+16, y-20), shapes.Pt(x+24, y-6), shapes.Pt(x+16, y-4), shapes.Pt(x+8, y-11), shapes.Pt(x-14, y-13), shapes.Pt(x-40, y-8))
	c.Circle(solid, x-38, y-15, 3)
	// Its pin, with the clip on a tether.
	c.Rect(solid, x-24, y-34, 5, 26)
	c.Curve(outline, shapes.Pt(x-21, y-34), shapes.Pt(x-14, y-52), shapes.Pt(x-40, y-52), shapes.Pt(x-48, y-36))
}

// connections draws cable and lanyard over a coupling from above, with the texts.
func (c *canvas) connections(s *Subject, latched string, latch doc.Point, lanyard string, braked bool) (height float64) {
	const y, widest, bottom = middle, 225.0, middle + 116
	// Cable on the right side of the unit, which is up on the sheet.
	c.Curve(cord, shapes.Pt(400, y-48), shapes.Pt(290, y-104), shapes.Pt(190, y-58), shapes.Pt(106, y-66))
	c.Rect(solid, 94, y-71, 14, 10)
	c.EndLabels(s.words("tow-vehicle"), s.words("trailer"))
	c.Callout(100, 32, s.words("plug"), 180, shapes.Pt(140, y-69))
	c.Callout(292, 32, latched, 182, latch)
	height = c.Callout(shapes.Margin+2, bottom, s.words("chains-crossed"), widest, shapes.Pt(150, y+31.5))
	if braked {
		// Breakaway switch on the left beam; its lanyard goes to the vehicle.
		c.RoundedRect(white, 352, y+20, 32, 20, 3)
		c.Curve(outline, shapes.Pt(352, y+30), shapes.Pt(280, y+92), shapes.Pt(190, y+76), shapes.Pt(96, y+64))
		c.ring(92, y+64)
		height = max(height, c.Callout(252, bottom, s.words(lanyard), widest-5, shapes.Pt(262, y+71)))
	}
	return height - 4
}

// gooseneckCoupling draws from the left, with the near side of the bed cut away.
func (c *canvas) gooseneckCoupling(s *Subject, ball string, braked bool) (height float64) {
	const floor, x = bedFloor, inBed
	c.bed()
	// Anchors and socket in the bed.
	c.Rect(solid, x-6, floor-4, 12, 4)
	c.Circle(part, x, floor-10, 8)
	c.neck()
	c.Rect(part, x-14, 56, 28, 44) // tube
	c.Rect(part, x-9, 100, 18, 54)
	c.Polyline(part, true, shapes.Pt(x-13, 150), shapes.Pt(x+13, 150), shapes.Pt(x+13, floor-8), shapes.Pt(x+8, floor-2), shapes.Pt(x-8, floor-2), shapes.Pt(x-13, floor-8))
	c.RoundedRect(white, x+13, 158, 22, 8, 3) // latch pin
	// Chains hang to the anchors on both sides of the ball.
	for _, a := range []float64{x - 44, x + 50} {
		side := math.Copysign(1, a-x)
		c.Curve(chainLine, shapes.Pt(x+side*9, 116), shapes.Pt(x+side*30, 150), shapes.Pt(a, 150), shapes.Pt(a, floor-5))
		c.ring(a, floor-5)
	}
	height = c.Callout(shapes.Margin+2, belowBed, s.words("chains-bed"), 225, shapes.Pt(x-44, 172))
	return max(height, c.connectionsInBed(s, s.words("gooseneck-latched", "ball", ball), shapes.Pt(x, 160), "lanyard-bed", braked)) - 4
}

// Positions in a drawing of a coupling in a bed, in points.
const (
	bedFloor = 190.0
	inBed    = 170.0 // x of the ball or of the kingpin
	belowBed = 278.0
)

// bed draws cab, bed floor and far side, the axle a little behind the coupler, and the ground.
func (c *canvas) bed() {
	c.Polyline(far, true, shapes.Pt(shapes.Margin, 214), shapes.Pt(shapes.Margin, 92), shapes.Pt(24, 58), shapes.Pt(62, 58), shapes.Pt(62, 214))
	c.Rect(far, 62, 128, 258, bedFloor-128)
	c.Rect(part, 62, bedFloor, 262, 10)
	c.Rect(part, 320, 128, 6, 72)
	c.Circle(dark, inBed+6, 222, 28)
	c.Circle(far, inBed+6, 222, 15)
	c.Line(shapes.DimensionLine, shapes.Margin, 250, c.Width-shapes.Margin, 250)
}

// neck draws arm and upright of the trailer.
func (c *canvas) neck() {
	c.Polyline(part, true, shapes.Pt(inBed+14, 62), shapes.Pt(inBed+14, 88), shapes.Pt(432, 114), shapes.Pt(432, 226), shapes.Pt(476, 226), shapes.Pt(476, 186), shapes.Pt(456, 186), shapes.Pt(456, 86))
}

// connectionsInBed draws cable and lanyard over a coupling in a bed, with the texts.
func (c *canvas) connectionsInBed(s *Subject, latched string, latch doc.Point, lanyard string, braked bool) (height float64) {
	c.Curve(cord, shapes.Pt(inBed+14, 74), shapes.Pt(250, 120), shapes.Pt(280, 118), shapes.Pt(299, 148))
	c.Rect(solid, 294, 148, 12, 12)
	c.EndLabels(s.words("tow-vehicle"), s.words("trailer"))
	c.Callout(62, 32, latched, 200, latch)
	c.Callout(300, 32, s.words("plug-bed"), 172, shapes.Pt(299, 152))
	if !braked {
		return belowBed
	}
	c.RoundedRect(white, 306, 88, 32, 18, 3)
	c.Curve(outline, shapes.Pt(312, 106), shapes.Pt(312, 160), shapes.Pt(268, 130), shapes.Pt(262, bedFloor-5))
	c.ring(262, bedFloor-5)
	return c.Callout(252, belowBed, s.words(lanyard), 220, shapes.Pt(270, 160))
}

// kingpinCoupling draws from the left, with the near side of the bed cut away, and the jaws
// from below, where they are visible.
func (c *canvas) kingpinCoupling(s *Subject, pin string, braked bool) (height float64) {
	const floor, x = bedFloor, inBed
	c.bed()
	// Fifth wheel: legs, saddle, and its top with the jaws.
	c.Polyline(part, true, shapes.Pt(x-34, floor), shapes.Pt(x-20, 162), shapes.Pt(x+20, 162), shapes.Pt(x+34, floor))
	c.RoundedRect(white, x-46, 150, 92, 13, 3)
	c.Rect(dark, x-7, 150, 14, 18)
	c.neck()
	c.Rect(part, x-24, 56, 48, 86)
	c.Rect(part, x-50, 142, 100, 8) // plate
	height = c.connectionsInBed(s, s.words("kingpin-locked", "pin", pin), shapes.Pt(x-30, 150), "lanyard-kingpin", braked)
	c.jawsBelow(s, 120, height+48)
	return height + 104
}

// jawsBelow draws a fifth wheel from below, its jaws closed around the kingpin.
func (c *canvas) jawsBelow(s *Subject, x, y float64) {
	c.Callout(x+110, y-6, s.words("kingpin-jaws"), 210, shapes.Pt(x+12, y))
	c.Polyline(part, true, shapes.Pt(x-62, y-30), shapes.Pt(x-44, y-40), shapes.Pt(x+34, y-40), shapes.Pt(x+66, y-24), shapes.Pt(x+16, y-6),
		shapes.Pt(x+16, y+6), shapes.Pt(x+66, y+24), shapes.Pt(x+34, y+40), shapes.Pt(x-44, y+40), shapes.Pt(x-62, y+30))
	c.Circle(doc.Style{Line: doc.Full, Width: 9}, x, y, 14)
	c.Circle(doc.Style{Line: doc.Paper, Width: 6.4}, x, y, 14)
	c.Circle(dark, x, y, 8)
	// The release handle comes out on the left side, which is down here.
	c.Line(doc.Style{Line: doc.Full, Width: 2.4}, x-24, y+4, x-24, y+44)
	c.Circle(doc.Style{Line: doc.Full, Width: 1.6, Fill: doc.Paper}, x-24, y+47, 4)
}
