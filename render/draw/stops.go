package draw

import (
	"cmp"
	"slices"

	"ownerguide/render/doc"
)

// Numbered circles stand in rows above and below the unit.
const (
	farOff = 45 // along x, from which a second row is taken
	gutter = 9  // between the unit and the nearest row
)

// mark is one numbered place to point at.
type mark struct {
	sign string
	at   doc.Point
	x    float64
	tier int // 0 is the row next to the unit
}

// rows is the circles on one side of the unit, left to right.
type rows struct {
	marks  []mark
	tiers  int
	radius float64 // of a circle
}

// height is how much room the rows need, gutter included.
func (r rows) height() float64 {
	if len(r.marks) == 0 {
		return 0
	}
	return gutter + float64(r.tiers)*r.step()
}

// step is the distance of two rows on the same side.
func (r rows) step() float64 { return 2*r.radius + 3 }

// share divides marks over the two sides: each to the nearer one, unless one
// side would get far more than the other.
func share(marks []mark, middle float64) (above, below []mark) {
	order := slices.Clone(marks)
	slices.SortStableFunc(order, func(a, b mark) int { return cmp.Compare(a.at.Y, b.at.Y) })
	n := len(order)
	cut, _ := slices.BinarySearchFunc(order, middle, func(m mark, y float64) int { return cmp.Compare(m.at.Y, y) })
	cut = min(max(cut, n*2/5), n-n*2/5)
	return order[:cut], order[cut:]
}

// arrange gives every mark a place in its row: in the order of what they point
// at, as near to it as the others leave room, with circles between low and high.
// Edge is the y from which the lines start. Where two lines would cross, the
// circles change places.
func arrange(marks []mark, radius, low, high, edge float64) rows {
	r := rows{marks: slices.Clone(marks), tiers: 1, radius: radius}
	slices.SortStableFunc(r.marks, func(a, b mark) int { return cmp.Compare(a.at.X, b.at.X) })
	low, high = low+radius+2, high-radius-2
	r.settle(2*radius+radius/3, low, high, edge)
	if slices.ContainsFunc(r.marks, func(m mark) bool { return abs(m.x-m.at.X) > farOff }) {
		r.tiers = 2 // lines pass between the circles of the nearer row
		r.settle(radius+3, low, high, edge)
	}
	return r
}

// settle places and untangles until nothing crosses. Each change shortens the
// lines; the bound is for rounding.
func (r rows) settle(pitch, low, high, edge float64) {
	for range len(r.marks) * len(r.marks) {
		r.place(pitch, low, high)
		if !r.untangle(edge) {
			return
		}
	}
	r.place(pitch, low, high)
}

func (r rows) place(pitch, low, high float64) {
	var want []float64
	for _, m := range r.marks {
		want = append(want, m.at.X)
	}
	for i, x := range spread(want, pitch, low, high) {
		r.marks[i].x, r.marks[i].tier = x, i%r.tiers
	}
}

// untangle swaps the first two whose lines cross.
func (r rows) untangle(edge float64) bool {
	for k := range len(r.marks) * len(r.marks) {
		i, j := k/len(r.marks), k%len(r.marks)
		if i >= j {
			continue
		}
		a, b := r.marks[i], r.marks[j]
		// At the depth of the nearer place the line to it has arrived; the other
		// line has gone this share of its way.
		near, farther, sign := a, b, 1.0
		if abs(b.at.Y-edge) < abs(a.at.Y-edge) {
			near, farther, sign = b, a, -1.0
		}
		way := 1.0
		if depth := farther.at.Y - edge; depth != 0 {
			way = (near.at.Y - edge) / depth
		}
		there := farther.x + way*(farther.at.X-farther.x)
		if sign*(there-near.at.X) < -0.01 {
			r.marks[i], r.marks[j] = b, a
			return true
		}
	}
	return false
}

func abs(x float64) float64 { return max(x, -x) }

// spread moves sorted places apart to at least a pitch, and into low … high,
// with the least sum of squared moves: neighbours that collide form a group
// around the mean of what they want (isotonic regression). Where the room is
// too short for the pitch, it shrinks.
func spread(want []float64, pitch, low, high float64) []float64 {
	if n := len(want); n > 1 {
		pitch = min(pitch, (high-low)/float64(n-1))
	}
	type group struct {
		sum float64
		n   int
	}
	var groups []group
	for i, w := range want {
		g := group{w - float64(i)*pitch, 1}
		for len(groups) > 0 {
			last := groups[len(groups)-1]
			if last.sum/float64(last.n) < g.sum/float64(g.n) {
				break
			}
			g = group{g.sum + last.sum, g.n + last.n}
			groups = groups[:len(groups)-1]
		}
		groups = append(groups, g)
	}
	var out []float64
	highest := high - float64(len(want)-1)*pitch
	for _, g := range groups {
		for range g.n {
			base := min(max(g.sum/float64(g.n), low), highest)
			out = append(out, base+float64(len(out))*pitch)
		}
	}
	return out
}

// stopRows draws the rows above and below; top and bottom are the edges of
// what they belong to. Leaders come first, so that no circle is crossed.
func (c *canvas) stopRows(above, below rows, top, bottom float64) {
	for _, side := range []struct {
		rows
		edge, away float64
	}{{above, top, -1}, {below, bottom, 1}} {
		knee := side.edge + side.away*(gutter-3)
		center := func(m mark) float64 {
			return side.edge + side.away*(gutter+c.sign+float64(m.tier)*side.step())
		}
		for _, m := range side.marks {
			from := pt(m.x, knee)
			c.line(doc.Style{Line: doc.Mark, Width: 0.75}, m.x, center(m), m.x, knee)
			c.leader(from, m.at)
		}
		for _, m := range side.marks {
			c.circled(m.x, center(m), m.sign)
		}
	}
	// Dots once more, on top of leaders that pass over them.
	for _, m := range slices.Concat(above.marks, below.marks) {
		c.dot(m.at)
	}
}

// circled draws a circle with a number or a letter in it.
func (c *canvas) circled(x, y float64, sign string) {
	c.circle(doc.Style{Line: doc.Mark, Width: 1.1, Fill: doc.Mark}, x, y, c.sign)
	c.add(&doc.Label{At: pt(x, y+4), Text: sign, Size: c.least, Anchor: doc.Center, Ink: doc.Paper, Bold: true})
}
