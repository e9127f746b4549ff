package draw

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"

	"ownerguide/render/doc"
	"ownerguide/render/draw/shapes"
)

func init() {
	pictures["side-view"] = func(s *Subject, c *canvas) (float64, string, error) { return sideView(s, c, true) }
	pictures["unit-view"] = func(s *Subject, c *canvas) (float64, string, error) { return sideView(s, c, false) }
}

// sideView draws the whole unit from its left, to scale, with or without the numbers of
// the walk-around that are visible from there.
func sideView(s *Subject, c *canvas, numbered bool) (float64, string, error) {
	u, err := readUnit(s.Build)
	if err != nil {
		return 0, "", err
	}
	length, height := s.need("length.overall"), s.need("height.deck")
	points, _, err := u.points(s)
	if err != nil {
		return 0, "", err
	}
	key, pairs := "unit-view.alt", []string{"length", length, "height", height, "axles", strconv.Itoa(len(u.wheels))}
	if numbered {
		key, pairs = "side-view.alt", append(pairs, "stops", s.stopList(stopsIn(points)))
	}
	alt := s.words(key, pairs...)
	if numbered && c.Narrow {
		c.zones(s, projection{u.sideOnGround, extent{front: u.front, rear: u.rear, low: -3, top: u.high + 3}, 1}, points, alt)
		return 0, alt, nil
	}
	left, right := 12.0, c.Width-26 // room for the height dimension on the right
	v := view{scale: (right - left) / (u.rear - u.front)}
	v.x = left - u.front*v.scale

	above, below := shapes.Rows{}, shapes.Rows{}
	if numbered {
		up, down := shapes.SplitSides(marksOf(points, v, 1), -u.deckTop()*v.scale)
		above = shapes.Arrange(up, c.BalloonRadius, 0, c.Width, -u.high*v.scale-shapes.Gutter)
		below = shapes.Arrange(down, c.BalloonRadius, left+2, right-2, shapes.Gutter)
	}
	v.y = above.Height() + u.high*v.scale + 6
	above.Shift(v.y)
	below.Shift(v.y)
	u.sideOnGround(c, v)
	c.DrawRows(above, below, v.y-u.high*v.scale, v.y)

	if numbered { // the other drawing has the dimensions
		return v.y + below.Height() + shapes.Margin, alt, nil
	}
	bottom := v.y + 14
	c.Line(shapes.DimensionLine, left, v.y+3, left, bottom+4)
	c.Line(shapes.DimensionLine, right, v.y+3, right, bottom+4)
	bottom = c.Dimension(left, right, bottom, s.words("length", "length", length)) + 20
	high := "deck-height"
	switch {
	case u.cradle != nil:
		high = "cradle-height"
	case !u.hasDeck:
		high = "floor-height"
	}
	c.upright(u.floor.rear, u.deckTop(), v, bottom-c.SmallText, s.words(high, "height", height))
	return bottom + 8, alt, nil
}

// Small draws the unit from its left on the ground, as wide as a phone and without text.
// The error says what the line lacks.
func Small(s Subject) (*doc.Drawing, error) {
	u, err := readUnit(s.Build)
	if err != nil {
		return nil, err
	}
	c := &canvas{shapes.Canvas{Form: shapes.ColumnForm}}
	v := view{scale: (c.Width - 2*shapes.Margin) / (u.rear - u.front)}
	v.x, v.y = shapes.Margin-u.front*v.scale, u.high*v.scale+2
	u.sideOnGround(c, v)
	return &doc.Drawing{Width: c.Width, Height: v.y + 2, Shapes: c.Shapes}, nil
}

// sideOnGround draws the unit from its left on the ground.
func (u *unit) sideOnGround(c *canvas, v view) {
	c.Line(shapes.DimensionLine, shapes.Margin, v.y, c.Width-shapes.Margin, v.y)
	u.drawSide(pen{canvas: c, view: v}, 0)
}

// upright draws the height of the floor at the right edge of the sheet, with the text
// below the ground at the end of the line.
func (c *canvas) upright(x, z float64, v view, textTop float64, text string) {
	at := c.Width - 12
	top := v.y - z*v.scale
	c.Line(shapes.DimensionLine, v.x+x*v.scale+3, top, at+5, top)
	c.Line(shapes.DimensionLine, at, top+shapes.ArrowHeadLength, at, textTop)
	c.ArrowHead(doc.Middle, at, top, -math.Pi/2)
	c.ArrowHead(doc.Middle, at, v.y, math.Pi/2)
	c.Text(c.Width-shapes.Margin, textTop+c.SmallText, c.SmallText, doc.End, text)
}

func (s *Subject) stopList(stops []Stop) string {
	var list []string
	for _, stop := range stops {
		list = append(list, strconv.Itoa(stop.Number)+" "+stop.Title)
	}
	return doc.Join(s.Label("list.comma"), list...)
}

// points returns the targets of the stops, each once, either from the side or from above,
// whichever shows it better.
func (u *unit) points(s *Subject) (side, above []point, err error) {
	for _, stop := range s.Stops {
		at, err := u.targetOf(stop.Part)
		if err != nil {
			return nil, nil, fmt.Errorf("stop %d: %w", stop.Number, err)
		}
		if at.hidden || at.above {
			above = append(above, point{stop, at.x, at.y, at.hidden})
		} else {
			side = append(side, point{stop, at.x, at.z, false})
		}
	}
	return side, above, nil
}

// marksOf returns the marks of points on a sheet; sign is the direction of across.
func marksOf(points []point, v view, sign float64) (marks []shapes.Mark) {
	for _, p := range points {
		marks = append(marks, shapes.Mark{Sign: strconv.Itoa(p.Number), At: v.at(p.along, sign*p.across)})
	}
	return marks
}

// drawSide draws the unit from the left, with the deck or box raised by an angle in
// radians.
func (u *unit) drawSide(p pen, turn float64) {
	moving := p
	moving.turn, moving.hx, moving.hz = turn, u.hingeX, u.hingeZ
	of := func(t placedPart) pen {
		if u.tilts(t) {
			return moving
		}
		return p
	}
	if p.coupled {
		u.drawTow(p)
	}
	// Parts between the wheels are drawn before them, and wheels under the floor
	// before the floor.
	u.drawFrame(p)
	for _, t := range u.parts {
		switch {
		case t.Kind == "cylinder":
			u.drawPart(moving, t)
		case u.underFloor(t) && !t.hidden:
			u.drawPart(p, t)
		}
	}
	beside := u.hasDeck && u.wheelsOutside()
	if beside { // wheels hide the anchors behind them
		u.drawFloor(p, moving)
		for _, t := range u.parts {
			if t.Kind == "anchor" {
				u.drawPart(of(t), t)
			}
		}
		u.drawWheels(p)
	} else {
		u.drawWheels(p)
		u.drawFloor(p, moving)
	}
	order := slices.Clone(u.parts)
	// Far parts first.
	slices.SortStableFunc(order, func(a, b placedPart) int { return cmp.Compare(a.left, b.left) })
	for _, t := range order {
		if !t.hidden && !u.underFloor(t) && !(beside && t.Kind == "anchor") {
			u.drawPart(of(t), t)
		}
	}
	for _, t := range order {
		if t.hidden {
			of(t).box(behind, t.extent)
		}
	}
	if u.hinged {
		p.disc(white, u.hingeX, u.hingeZ, 3.2/p.scale)
		p.disc(solid, u.hingeX, u.hingeZ, 1/p.scale)
	}
}

// underFloor reports whether a part is under the floor and between the wheels.
func (u *unit) underFloor(t placedPart) bool {
	switch t.Kind {
	case "cylinder":
		return true
	case "ramp", "spare", "prop", "cushion", "box":
		return t.given && t.top <= u.floor.low+1 && t.left < u.track/2-u.tireWidth/2
	}
	return false
}

// drawFrame draws tongue or neck and the main members.
func (u *unit) drawFrame(p pen) {
	coupler, _ := u.find("coupler")
	if u.gooseneck {
		u.drawNeck(p, coupler)
		return
	}
	_, _, z := coupler.middle()
	head := coupler.extent.rear - 2
	low := min(z-channel/2, u.frameTop-channel)
	p.poly(part, true,
		head, z+channel/2, u.floor.front, u.frameTop, u.frameRear, u.frameTop,
		u.frameRear, u.frameLow, u.floor.front, u.frameLow, head, low)
}

// drawNeck draws a gooseneck: an arm from the coupler's tube back to an upright at the
// front of the deck, and the frame behind it.
func (u *unit) drawNeck(p pen, coupler placedPart) {
	const arm = 10
	front := u.floor.front - 4
	top := coupler.top - 6
	foot := u.frameTop + 8
	if m := u.build.Model; m.NeckLow.Set && m.NeckEnd.Set {
		low, end := float64(m.NeckLow.Value), min(float64(m.NeckEnd.Value), front-12)
		p.poly(part, true,
			coupler.extent.rear-2, low+arm, end+6, low+arm, front, u.frameTop, u.frameRear, u.frameTop,
			u.frameRear, u.frameLow+4, u.frameRear-8, u.frameLow, front-12, u.frameLow, end, low, coupler.extent.rear-2, low)
		return
	}
	p.poly(part, true,
		coupler.extent.rear-2, top, front, foot+arm, front, u.frameTop, u.frameRear, u.frameTop,
		u.frameRear, u.frameLow+4, u.frameRear-8, u.frameLow, front-12, u.frameLow, front-12, foot, coupler.extent.rear-2, top-arm)
}

// reach is the length of the tow vehicle drawn ahead of the ball, in inches.
const reach = 14

// drawTow draws the part of the tow vehicle that carries the coupler: the ball at its height
// with the unit coupled, on its mount or, in a bed, a little ahead of the axle.
func (u *unit) drawTow(p pen) {
	const ball, behind, wheel = 1.2, 2.0, 15.0 // radius; axle behind the ball; radius of a tire
	c, _ := u.find("coupler")
	if u.build.Has("pintle") {
		// The hook on its plate: the horn under the ring, the latch over it.
		_, _, z := c.middle()
		p.box(part, extent{front: u.front - reach, rear: u.front - 6, low: z - 5, top: z + 5})
		p.poly(part, true, u.front-6, z+1.5, -4, z+1, -2, z-3, 2, z-3, 3, z+1, 5, z, 3, z-6, -4, z-6, u.front-6, z-3)
		p.disc(solid, 0, z, 1.2) // section of the ring
		p.poly(white, true, u.front-5, z+5, 0, z+5, 4, z+2, 3, z+1.5, 0, z+2.5, u.front-5, z+2)
		return
	}
	if u.build.Has("kingpin") { // the fifth wheel on its legs, under the plate
		p.disc(far, behind, wheel, wheel)
		p.box(part, extent{front: -reach, rear: reach + behind, low: c.low - 14, top: c.low - 12})
		p.poly(part, true, -9, c.low-12, -5, c.low-3, 5, c.low-3, 9, c.low-12)
		p.box(white, extent{front: -13, rear: 13, low: c.low - 3, top: c.low})
		return
	}
	if u.gooseneck {
		p.disc(far, behind, wheel, wheel)
		p.box(part, extent{front: -reach, rear: reach + behind, low: c.low - 4, top: c.low - 2})
	} else {
		p.box(part, extent{front: u.front - reach, rear: 3, low: c.low - 5, top: c.low - 2})
	}
	p.box(solid, extent{front: -0.8, rear: 0.8, low: c.low - 3, top: c.low + 1})
	p.disc(solid, 0, c.low+1, ball)
}

func (u *unit) drawWheels(p pen) {
	for _, w := range u.wheels {
		p.disc(dark, w.x, w.z, w.radius)
		p.disc(doc.Style{Line: doc.Full, Width: 0.8, Fill: doc.Paper}, w.x, w.z, u.rim)
		if u.dual {
			// The outer wheel of a pair is dished: its rim is recessed.
			p.disc(doc.Style{Line: doc.Middle, Width: 0.8}, w.x, w.z, 0.78*u.rim)
		}
		p.disc(solid, w.x, w.z, 0.22*u.rim)
	}
	if !u.wheelsOutside() {
		return
	}
	// A fender over all wheels, with straight ends.
	first, last := u.wheels[0], u.wheels[len(u.wheels)-1]
	r := first.radius + 3.5
	h := first.z + r
	p.poly(strong, false,
		first.x-r, first.z+0.25*r, first.x-0.72*r, first.z+0.8*r, first.x-0.35*r, h,
		last.x+0.35*r, h, last.x+0.72*r, last.z+0.8*r, last.x+r, last.z+0.25*r)
}

// drawFloor draws the deck with its parts, or the dump box.
func (u *unit) drawFloor(p, moving pen) {
	f := u.floor
	switch {
	case u.cradle != nil:
		u.drawCradle(p)
		return
	case !u.hasDeck:
		u.drawDumpBox(moving)
		return
	}
	if u.fixed > f.front {
		p.box(part, extent{front: f.front, rear: min(u.fixed, u.tail), low: f.low, top: f.top})
	}
	if u.hinged {
		moving.box(part, extent{front: u.fixed, rear: u.tail, low: f.low, top: f.top})
	}
	if u.tail < f.rear {
		tail := p
		if u.hinged {
			tail = moving
		}
		tail.poly(part, true, u.tail, f.top, f.rear, f.top-u.drop, f.rear, f.low-u.drop, u.tail, f.low)
	}
	if u.rail > 0 {
		u.drawRails(p)
	}
	for _, body := range []string{"body", "stock-body"} {
		if t, ok := u.find(body); ok && t.given {
			drawBody(p, t.extent, body == "stock-body")
		}
	}
}

// drawBody draws walls and roof, the seams of the wall, and slats if it has openings.
func drawBody(p pen, e extent, slats bool) {
	p.box(part, e)
	for z := e.top - 3; z > e.top-4 || slats && z > e.low+4; z -= 9 {
		p.poly(thin, false, e.front, z, e.rear, z)
	}
	const sheet = 48.0 // in
	for x := e.front + sheet; x < e.rear-6; x += sheet {
		p.poly(thin, false, x, e.low+2, x, e.top-3)
	}
}

// drawRails draws the open side rail of a utility deck.
func (u *unit) drawRails(p pen) {
	f := u.floor
	top := f.top + u.rail
	p.poly(strong, false, f.front, f.top, f.front, top, f.rear, top, f.rear, f.top)
	posts := max(2, math.Round((f.rear-f.front)/36))
	for i := 1.0; i < posts; i++ {
		x := f.front + i*(f.rear-f.front)/posts
		p.poly(outline, false, x, f.top, x, top)
	}
}

func (u *unit) drawDumpBox(p pen) {
	f := u.floor
	p.box(part, extent{front: f.front, rear: f.rear, low: f.low, top: f.top})
	p.poly(thin, false, f.front, f.top-4, f.rear, f.top-4)
	p.poly(thin, false, f.front, f.low+3, f.rear, f.low+3)
	ribs := max(3, math.Round((f.rear-f.front)/24))
	for i := 1.0; i < ribs; i++ {
		x := f.front + i*(f.rear-f.front)/ribs
		p.poly(thin, false, x-1.2, f.low+3, x-1.2, f.top-4)
		p.poly(thin, false, x+1.2, f.low+3, x+1.2, f.top-4)
	}
}
