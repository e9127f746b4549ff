package shapes

import (
	"cmp"
	"math"
	"slices"

	"ownerguide/render/doc"
)

// Gutter is the distance between a picture and the nearest row of balloons, in points.
const Gutter = 9

// secondRowFrom is the distance along x of a balloon from its place, in points, above which
// a second row is used.
const secondRowFrom = 45

// Mark is a place to point at, with the number or letter of its balloon.
type Mark struct {
	Sign string
	At   doc.Point
	x    float64
	tier int // 0 is the row next to the picture
}

// Rows are the balloons on one side of a picture, left to right, in one row or two.
type Rows struct {
	Marks  []Mark
	tiers  int
	radius float64 // of a circle
}

// Height returns the height of the rows, including the gutter.
func (r Rows) Height() float64 {
	if len(r.Marks) == 0 {
		return 0
	}
	return Gutter + float64(r.tiers)*r.step()
}

// Shift moves the places that the balloons point at down the sheet.
func (r Rows) Shift(dy float64) {
	for i := range r.Marks {
		r.Marks[i].At.Y += dy
	}
}

// step returns the distance of two rows on the same side.
func (r Rows) step() float64 { return 2*r.radius + 3 }

// SplitSides divides marks between the two sides: each goes to the nearer one, unless one
// side would get far more than the other.
func SplitSides(marks []Mark, middle float64) (above, below []Mark) {
	order := slices.Clone(marks)
	slices.SortStableFunc(order, func(a, b Mark) int { return cmp.Compare(a.At.Y, b.At.Y) })
	n := len(order)
	cut, _ := slices.BinarySearchFunc(order, middle, func(m Mark, y float64) int { return cmp.Compare(m.At.Y, y) })
	cut = min(max(cut, n*2/5), n-n*2/5)
	return order[:cut], order[cut:]
}

// Arrange assigns each mark a position in its row: in the order of the places, as near to
// its place as the others allow, with circles between low and high. Edge is the y at which
// the leaders start. If two leaders would cross, their circles are
// swapped.
func Arrange(marks []Mark, radius, low, high, edge float64) Rows {
	r := Rows{Marks: slices.Clone(marks), tiers: 1, radius: radius}
	slices.SortStableFunc(r.Marks, func(a, b Mark) int { return cmp.Compare(a.At.X, b.At.X) })
	low, high = low+radius+2, high-radius-2
	r.settle(2*radius+radius/3, low, high, edge)
	if slices.ContainsFunc(r.Marks, func(m Mark) bool { return math.Abs(m.x-m.At.X) > secondRowFrom }) {
		r.tiers = 2 // leaders pass between the circles of the nearer row
		r.settle(radius+3, low, high, edge)
	}
	return r
}

// settle alternates place and untangle until no leaders cross. Each swap shortens the
// leaders; the iteration limit is for rounding.
func (r Rows) settle(pitch, low, high, edge float64) {
	for range len(r.Marks) * len(r.Marks) {
		r.place(pitch, low, high)
		if !r.untangle(edge) {
			return
		}
	}
	r.place(pitch, low, high)
}

func (r Rows) place(pitch, low, high float64) {
	var want []float64
	for _, m := range r.Marks {
		want = append(want, m.At.X)
	}
	for i, x := range Spread(want, pitch, low, high) {
		r.Marks[i].x, r.Marks[i].tier = x, i%r.tiers
	}
}

// untangle swaps the first two marks whose leaders cross.
func (r Rows) untangle(edge float64) bool {
	for k := range len(r.Marks) * len(r.Marks) {
		i, j := k/len(r.Marks), k%len(r.Marks)
		if i >= j {
			continue
		}
		a, b := r.Marks[i], r.Marks[j]
		// At the depth of the nearer place its leader ends; the other leader has covered this
		// fraction of its length.
		near, farther, sign := a, b, 1.0
		if math.Abs(b.At.Y-edge) < math.Abs(a.At.Y-edge) {
			near, farther, sign = b, a, -1.0
		}
		way := 1.0
		if depth := farther.At.Y - edge; depth != 0 {
			way = (near.At.Y - edge) / depth
		}
		there := farther.x + way*(farther.At.X-farther.x)
		if sign*(there-near.At.X) < -0.01 {
			r.Marks[i], r.Marks[j] = b, a
			return true
		}
	}
	return false
}

// Spread moves sorted positions to distances of at least pitch, within low … high, with the
// least sum of squared displacements: positions that collide form a group around the mean
// of their wanted positions (isotonic regression). The pitch is reduced if there is not
// enough room.
func Spread(want []float64, pitch, low, high float64) []float64 {
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

// DrawRows draws the rows above and below; top and bottom are the edges of the picture.
// Leaders are drawn first, so that they do not cross circles.
func (c *Canvas) DrawRows(above, below Rows, top, bottom float64) {
	for _, side := range []struct {
		Rows
		edge, away float64
	}{{above, top, -1}, {below, bottom, 1}} {
		knee := side.edge + side.away*(Gutter-3)
		center := func(m Mark) float64 {
			return side.edge + side.away*(Gutter+c.BalloonRadius+float64(m.tier)*side.step())
		}
		for _, m := range side.Marks {
			from := Pt(m.x, knee)
			c.Line(doc.Style{Line: doc.Mark, Width: 0.75}, m.x, center(m), m.x, knee)
			c.Leader(from, m.At)
		}
		for _, m := range side.Marks {
			c.Balloon(m.x, center(m), m.Sign)
		}
	}
	// Dots again, on top of leaders that pass over them.
	for _, m := range slices.Concat(above.Marks, below.Marks) {
		c.dot(m.At)
	}
}

// Balloon draws a circle with a number or a letter in it.
func (c *Canvas) Balloon(x, y float64, sign string) {
	c.Circle(doc.Style{Line: doc.Mark, Width: 1.1, Fill: doc.Mark}, x, y, c.BalloonRadius)
	c.add(&doc.Label{At: Pt(x, y+4), Text: sign, Size: c.SmallText, Anchor: doc.Center, Ink: doc.Paper, Bold: true})
}
