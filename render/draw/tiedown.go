package draw

import (
	"cmp"
	"errors"
	"math"
	"slices"
	"strconv"

	"ownerguide/render/doc"
	"ownerguide/render/draw/shapes"
	"ownerguide/spec/product"
)

func init() { pictures["tiedown"] = tiedown }

// tiedown draws a machine on this unit's floor, with its center in the band for a full load
// and as many tie-downs as a full load needs: from above and from the left, to the same
// scale.
func tiedown(s *Subject, c *canvas) (float64, string, error) {
	u, err := readUnit(s.Build)
	if err != nil {
		return 0, "", err
	}
	rings, ok := u.chainAnchors()
	if !ok {
		return 0, "", errors.New("no anchor is fitted")
	}
	told := []string{"weight", s.need("tiedown.full.weight"), "count", s.need("tiedown.full.count"), "each", s.need("tiedown.full.each")}
	count, err := strconv.Atoi(told[3])
	if err != nil {
		return 0, "", errors.New("the number of tie-downs is no number")
	}
	middle := (u.floor.front + u.floor.rear) / 2
	s.Build.TraceDetached(func() { // there is a picture with them and without
		if a, ok := s.inches("loading.cg_band.100.front"); ok {
			if b, ok := s.inches("loading.cg_band.100.rear"); ok {
				middle = u.floor.front + (a+b)/2
			}
		}
	})

	// Only the floor is drawn, as wide as the sheet.
	scale := (c.Width - 40) / (u.floor.rear - u.floor.front)
	p := plan{canvas: c, scale: scale, x: 20 - u.floor.front*scale}
	half := u.floor.left
	c.Text(shapes.Margin, 12, c.SmallText, doc.Start, s.words("from-above"))
	p.y = 22 + half*scale
	p.box(doc.Style{Line: doc.Full, Width: 1.4, Fill: doc.Faint}, u.floor.front, u.floor.rear, u.floor.right, u.floor.left)
	p.planRings(u, rings)
	m := u.machine(middle)
	ties := chooseTies(m, rings, u.floor.left-6, count)
	p.drawMachine(m)
	for _, t := range ties {
		for _, side := range sides {
			c.chain(p.at(t.from, side*t.out), p.at(t.to, side*t.anchor))
		}
	}
	y := p.y + half*scale + 20

	// From the left: the chains run down.
	c.Text(shapes.Margin, y, c.SmallText, doc.Start, s.words("from-left"))
	v := pen{canvas: c, view: view{scale: scale, x: p.x}}
	v.y = y + 12 + m.high*scale
	v.drawMachine(m)
	c.Rect(part, 20, v.y, c.Width-40, 7)
	for _, t := range ties {
		c.chain(v.at(t.from, 0.3*m.high), v.at(t.to, 0))
	}
	y = v.y + 26
	y = c.Note(shapes.Margin, y, c.SmallText, doc.Start, s.words("tie-count", told...), c.Width-2*shapes.Margin)
	key := "tiedown.alt"
	if m.car {
		key = "tiedown.vehicle.alt"
	}
	return y - 4, s.words(key, told...), nil
}

// chainAnchors returns the x of the anchors for a machine: D-rings, or otherwise any other
// anchors.
func (u *unit) chainAnchors() (xs []float64, ok bool) {
	for _, t := range u.parts {
		if a, is := t.Data.(*product.Anchor); is && (!ok || a.Kind.Value == "d-ring") {
			xs, ok = u.anchorsAt(t), true
		}
	}
	return xs, ok
}

// machine is the load on the floor: a tracked loader, or a car on a unit that carries
// vehicles.
type machine struct {
	front, rear float64 // of the tracks or the body, x
	half        float64 // half its width
	high        float64
	bucket      float64 // x of the lowered attachment's front edge
	car         bool
}

func (u *unit) machine(middle float64) machine {
	floor := u.floor.rear - u.floor.front
	if u.build.Has("vehicle-hauler") {
		long := min(180, 0.72*floor)
		return machine{front: middle - long/2, rear: middle + long/2, half: min(35, 0.8*u.floor.left), high: 0.31 * long, car: true}
	}
	long := min(150, 0.42*floor)
	return machine{
		front: middle - long/2, rear: middle + long/2, half: min(34, 0.66*u.floor.left), high: min(80, 0.72*long),
		bucket: middle - long/2 - min(30, 0.3*long),
	}
}

// tie is a pair of tie-downs, mirrored left and right.
type tie struct {
	from, out  float64 // on the machine: x, y
	to, anchor float64 // on the floor: x, y
}

// chooseTies chooses anchors: for the front corners the nearest ones clearly ahead of the
// machine, for the rear corners clearly behind it, if there are any; then for more pairs
// the nearest free anchors between them.
func chooseTies(m machine, rings []float64, anchor float64, count int) []tie {
	const clear = 12         // in
	n := max(2, (count+1)/2) // a machine has one at each corner
	free := slices.Clone(rings)
	take := func(x float64, fits func(ring float64) bool) float64 {
		candidates := slices.DeleteFunc(slices.Clone(free), func(r float64) bool { return !fits(r) })
		if len(candidates) == 0 {
			candidates = free
		}
		if len(candidates) == 0 {
			candidates = rings
		}
		best := slices.MinFunc(candidates, func(a, b float64) int { return cmp.Compare(math.Abs(a-x), math.Abs(b-x)) })
		free = slices.DeleteFunc(free, func(r float64) bool { return r == best })
		return best
	}
	var out []tie
	for i := range n {
		share, fits := 0.06, func(ring float64) bool { return ring <= m.front-clear }
		switch {
		case i == 1:
			share, fits = 0.94, func(ring float64) bool { return ring >= m.rear+clear }
		case i > 1:
			share, fits = float64(i-1)/float64(n-1), func(float64) bool { return true }
		}
		x := m.front + share*(m.rear-m.front)
		out = append(out, tie{x, 0.8 * m.half, take(x, fits), anchor})
	}
	return out
}

// chain draws a tie-down on a background of paper, so that it is visible on a dark track.
func (c *canvas) chain(a, b doc.Point) {
	c.Line(doc.Style{Line: doc.Paper, Width: 5}, a.X, a.Y, b.X, b.Y)
	c.Line(chainLine, a.X, a.Y, b.X, b.Y)
	c.Circle(doc.Style{Line: doc.Paper, Width: 1.2, Fill: doc.Full}, a.X, a.Y, 3)
}

func (p plan) planRings(u *unit, rings []float64) {
	for _, x := range rings {
		for _, side := range sides {
			at := p.at(x, side*(u.floor.left-6))
			p.Circle(white, at.X, at.Y, 3.4)
		}
	}
}

// drawMachine draws the machine from above.
func (p plan) drawMachine(m machine) {
	if m.car {
		p.drawCar(m)
		return
	}
	track := 0.3 * m.half
	p.box(far, m.bucket, m.bucket+0.5*(m.front-m.bucket), -m.half, m.half)
	for _, side := range sides {
		a, b := side*m.half, side*(m.half-track)
		p.box(tread, m.front, m.rear, min(a, b), max(a, b))
		arm := side * (m.half - 2*track)
		p.box(white, m.bucket+0.4*(m.front-m.bucket), m.front+0.5*(m.rear-m.front), min(arm, arm-side*4), max(arm, arm-side*4))
	}
	p.box(white, m.front+4, m.rear-4, -(m.half - track), m.half-track)
	long := m.rear - m.front
	p.box(part, m.front+0.3*long, m.front+0.7*long, -0.45*m.half, 0.45*m.half)
}

// drawMachine draws the machine from the left, its attachment lowered.
func (p pen) drawMachine(m machine) {
	if m.car {
		p.drawCar(m)
		return
	}
	long, h := m.rear-m.front, m.high
	p.poly(far, true, m.bucket, 0, m.front, 0, m.front-0.02*long, 0.3*h, m.bucket+0.12*long, 0.08*h)
	a, b := p.at(m.front, 0.34*h), p.at(m.rear, 0)
	p.RoundedRect(tread, a.X, a.Y, b.X-a.X, b.Y-a.Y, (b.Y-a.Y)/2)
	p.poly(part, true, m.front+0.1*long, 0.36*h, m.rear-0.02*long, 0.36*h, m.rear-0.02*long, 0.66*h, m.front+0.1*long, 0.6*h)
	p.poly(white, true, m.front+0.25*long, 0.62*h, m.front+0.68*long, 0.64*h, m.front+0.68*long, h, m.front+0.3*long, h)
	p.poly(white, true, m.bucket+0.14*long, 0.16*h, m.front-0.01*long, 0.22*h, m.rear-0.1*long, 0.72*h, m.rear-0.1*long, 0.8*h)
}

// carWheels are the positions of the wheels of a car, as fractions of its length.
var carWheels = [2]float64{0.18, 0.8}

// drawCar draws a car from above, its front at the left.
func (p plan) drawCar(m machine) {
	long := m.rear - m.front
	at := func(share float64) float64 { return m.front + share*long }
	for _, w := range carWheels {
		for _, side := range sides {
			a, b := side*m.half, side*(m.half-8)
			p.box(tread, at(w-0.08), at(w+0.08), min(a, b), max(a, b))
		}
	}
	h := m.half - 2
	a := p.at(m.front, -h)
	p.RoundedRect(white, a.X, a.Y, long*p.scale, 2*h*p.scale, 0.35*h*p.scale)
	p.Polyline(part, true, p.at(at(0.36), -0.78*h), p.at(at(0.86), -0.72*h), p.at(at(0.86), 0.72*h), p.at(at(0.36), 0.78*h))
	p.Polyline(white, true, p.at(at(0.46), -0.62*h), p.at(at(0.78), -0.6*h), p.at(at(0.78), 0.6*h), p.at(at(0.46), 0.62*h))
}

// drawCar draws a car from the left.
func (p pen) drawCar(m machine) {
	long, h := m.rear-m.front, m.high
	at := func(share float64) float64 { return m.front + share*long }
	p.poly(white, true, at(0), 0.24*h, at(0.01), 0.5*h, at(0.3), 0.62*h, at(0.42), h, at(0.76), h, at(0.9), 0.66*h, at(0.99), 0.6*h, at(1), 0.24*h)
	p.poly(part, true, at(0.35), 0.62*h, at(0.44), 0.93*h, at(0.75), 0.93*h, at(0.85), 0.64*h)
	for _, w := range carWheels {
		p.disc(dark, at(w), 0.24*h, 0.24*h)
		p.disc(doc.Style{Line: doc.Full, Width: 0.8, Fill: doc.Paper}, at(w), 0.24*h, 0.13*h)
	}
}
