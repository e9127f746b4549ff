package draw

import (
	"errors"
	"math"
	"slices"
	"strconv"

	"ownerguide/render/doc"
	"ownerguide/spec"
)

func init() { pictures["tiedown"] = tiedown }

// tiedown shows a machine on this unit's floor, with its middle in the band
// for a full load and as many tie-downs as a full load needs: from above and
// from the left, to the same scale.
func tiedown(s *Subject) (*doc.Drawing, string, error) {
	u, err := readUnit(s.Build)
	if err != nil {
		return nil, "", err
	}
	rings, ok := u.hooks()
	if !ok {
		return nil, "", errors.New("no anchor is fitted")
	}
	var figures [3]string
	for i, name := range []string{"weight", "count", "each"} {
		if figures[i], err = s.need("tiedown.full." + name); err != nil {
			return nil, "", err
		}
	}
	count, err := strconv.Atoi(figures[1])
	if err != nil || count < 1 {
		return nil, "", errors.New("the number of tie-downs is no number")
	}
	middle := (u.floor.front + u.floor.rear) / 2
	if a, ok := u.lengthValue(s, "loading.cg_band.100.front"); ok {
		if b, ok := u.lengthValue(s, "loading.cg_band.100.rear"); ok {
			middle = u.floor.front + (a+b)/2
		}
	}

	// Only the floor is shown, as wide as the sheet.
	c := &canvas{}
	scale := (sheetWidth - 40) / (u.floor.rear - u.floor.front)
	p := plan{canvas: c, scale: scale, x: 20 - u.floor.front*scale}
	half := u.floor.left
	c.text(margin, 12, leastSize, doc.Start, s.words("from-above"))
	p.y = 22 + half*scale
	p.box(doc.Style{Line: doc.Full, Width: 1.4, Fill: doc.Faint}, u.floor.front, u.floor.rear, u.floor.right, u.floor.left)
	p.planRings(u, rings)
	m := u.machine(middle)
	ties := pairs(m, rings, u.floor.left-6, count)
	p.drawMachine(m)
	for _, t := range ties {
		for _, side := range []float64{-1, 1} {
			a, b := p.at(t.from, side*t.out), p.at(t.to, side*t.anchor)
			c.line(chainLine, a.X, a.Y, b.X, b.Y)
			c.circle(solid, a.X, a.Y, 2.4)
		}
	}
	y := p.y + half*scale + 20

	// From the left: the chains run down.
	c.text(margin, y, leastSize, doc.Start, s.words("from-left"))
	v := pen{canvas: c, view: view{scale: scale, x: p.x}}
	v.y = y + 12 + m.high*scale
	v.drawMachine(m)
	c.rect(part, 20, v.y, sheetWidth-40, 7)
	for _, t := range ties {
		a, b := v.at(t.from, 0.3*m.high), v.at(t.to, 0)
		c.line(chainLine, a.X, a.Y, b.X, b.Y)
		c.circle(solid, a.X, a.Y, 2.4)
	}
	y = v.y + 26
	y = c.block(margin, y, leastSize, doc.Start, s.words("tie-count", "weight", figures[0], "count", figures[1], "each", figures[2]), sheetWidth-2*margin)
	return c.sheet(y - 4), s.words("tiedown.alt", "weight", figures[0], "count", figures[1], "each", figures[2]), nil
}

// hooks gives the x of the anchors a machine is chained to: D-rings, or else
// whatever there is.
func (u *unit) hooks() ([]float64, bool) {
	var found *thing
	for i, t := range u.things {
		a, ok := t.Data.(*spec.Anchor)
		if ok && (found == nil || a.Kind.Value == "d-ring") {
			found = &u.things[i]
		}
	}
	if found == nil {
		return nil, false
	}
	return u.anchorsAt(*found), true
}

// machine is a tracked loader, as long and wide as a load the floor takes.
type machine struct {
	front, rear float64 // of the tracks, x
	half        float64 // width
	high        float64
	bucket      float64 // x of the lowered attachment's front edge
}

func (u *unit) machine(middle float64) machine {
	long := min(96, 0.42*(u.floor.rear-u.floor.front))
	return machine{
		front: middle - long/2, rear: middle + long/2, half: min(34, 0.66*u.floor.left), high: 0.72 * long,
		bucket: middle - long/2 - 0.3*long,
	}
}

// tie is one pair of tie-downs, a mirror image left and right.
type tie struct {
	from, out  float64 // on the machine: x, y
	to, anchor float64 // on the floor: x, y
}

// pairs chooses anchors: the corners first, each to the anchor that leads
// outward and away from the machine, about as far ahead or behind as the anchor is
// beside it; then more pairs to the anchors between.
func pairs(m machine, rings []float64, anchor float64, count int) []tie {
	n := max(2, (count+1)/2) // a machine has one at each corner
	reach := 0.35 * (m.rear - m.front)
	used := map[float64]bool{}
	nearest := func(x float64) float64 {
		free := slices.DeleteFunc(slices.Clone(rings), func(r float64) bool { return used[r] })
		if len(free) == 0 {
			free = rings
		}
		best := slices.MinFunc(free, func(a, b float64) int {
			return int(math.Copysign(1, abs(a-x)-abs(b-x)))
		})
		used[best] = true
		return best
	}
	along := func(share float64) float64 { return m.front + share*(m.rear-m.front) }
	var out []tie
	for i := range n {
		share := 0.1 // along the machine, front corner first, rear corner second
		switch {
		case i == 1:
			share = 0.9
		case i > 1:
			share = float64(i-1) / float64(n-1)
		}
		ahead := share < 0.5
		x := along(share)
		away := x + reach
		if ahead {
			away = x - reach
		}
		ring := nearest(away)
		// A tie-down point farther in keeps the chain slanting away.
		if ahead {
			x = min(max(x, ring+reach), along(0.4))
		} else {
			x = max(min(x, ring-reach), along(0.6))
		}
		out = append(out, tie{x, 0.8 * m.half, ring, anchor})
	}
	return out
}

func (p plan) planRings(u *unit, rings []float64) {
	for _, x := range rings {
		for _, side := range []float64{-1, 1} {
			at := p.at(x, side*(u.floor.left-6))
			p.circle(doc.Style{Line: doc.Full, Width: 1.2, Fill: doc.Paper}, at.X, at.Y, 3.4)
		}
	}
}

// drawMachine draws the machine from above.
func (p plan) drawMachine(m machine) {
	track := 0.3 * m.half
	p.box(far, m.bucket, m.bucket+0.5*(m.front-m.bucket), -m.half, m.half)
	for _, side := range []float64{-1, 1} {
		a, b := side*m.half, side*(m.half-track)
		p.box(doc.Style{Line: doc.Full, Width: 1, Fill: doc.Middle}, m.front, m.rear, min(a, b), max(a, b))
		arm := side * (m.half - 2*track)
		p.box(white, m.bucket+0.4*(m.front-m.bucket), m.front+0.5*(m.rear-m.front), min(arm, arm-side*4), max(arm, arm-side*4))
	}
	p.box(white, m.front+4, m.rear-4, -(m.half - track), m.half-track)
	long := m.rear - m.front
	p.box(part, m.front+0.3*long, m.front+0.7*long, -0.45*m.half, 0.45*m.half)
}

// drawMachine draws the machine from the left, its attachment lowered.
func (p pen) drawMachine(m machine) {
	long, h := m.rear-m.front, m.high
	p.poly(far, true, m.bucket, 0, m.front, 0, m.front-0.02*long, 0.3*h, m.bucket+0.12*long, 0.08*h)
	a, b := p.at(m.front, 0.34*h), p.at(m.rear, 0)
	p.rounded(doc.Style{Line: doc.Full, Width: 1, Fill: doc.Middle}, a.X, a.Y, b.X-a.X, b.Y-a.Y, (b.Y-a.Y)/2)
	p.poly(part, true, m.front+0.1*long, 0.36*h, m.rear-0.02*long, 0.36*h, m.rear-0.02*long, 0.66*h, m.front+0.1*long, 0.6*h)
	p.poly(white, true, m.front+0.25*long, 0.62*h, m.front+0.68*long, 0.64*h, m.front+0.68*long, h, m.front+0.3*long, h)
	p.poly(white, true, m.bucket+0.14*long, 0.16*h, m.front-0.01*long, 0.22*h, m.rear-0.1*long, 0.72*h, m.rear-0.1*long, 0.8*h)
}
