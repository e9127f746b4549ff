package logic

import (
	"cmp"
	"crypto/sha256"
	"slices"
)

// ExtremesStepsEach returns the step limit of [Problem.Extremes] for each of so many
// models. It is never less than several times what a real model takes: two hundred pairs
// of sixty options that exclude each other take three million, in a second.
func ExtremesStepsEach(models int) int { return max(5_000_000, 150_000_000/max(1, models)) }

// Extreme is a valid choice whose sums are a vertex of the convex hull of all valid choices' sums.
type Extreme struct {
	Sums   [2]float64
	Chosen []string // in the order of the options
}

// Extremes returns the vertices of the convex hull of the sums of all valid choices that
// agree with fixed, which maps an option to whether it is chosen. Adds maps an option to
// what it adds to the two sums; options that are missing add nothing. No valid choice has
// sums outside the hull, and each vertex is a valid choice. The result is empty if no
// choice is valid. If the steps are used up, it is empty and whole is false.
//
// The hull is built as choices are counted: the hull of two independent components is
// the Minkowski sum of their hulls, and branching on an option takes the hull of the
// union.
func (p Problem) Extremes(adds map[string][2]float64, fixed map[string]bool, steps int) (corners []Extreme, whole bool) {
	names := distinct(p.Options)
	x := &extremes{counter: newCounter(len(names), p.constraints(names), steps), adds: make([][2]float64, len(names)), cache: map[[sha256.Size]byte]hull{}}
	options := make([]int, len(names))
	for i, name := range names {
		options[i], x.adds[i] = i, adds[name]
		if chosen, is := fixed[name]; is {
			x.assign(literalOf(i, chosen))
		}
	}
	if x.propagateUnits() {
		for _, c := range x.addChosenSince(0, x.hull(options)) {
			is := make([]bool, len(names))
			c.markChosen(is)
			e := Extreme{Sums: [2]float64{c.x, c.y}, Chosen: []string{}}
			for i, name := range names {
				if is[i] {
					e.Chosen = append(e.Chosen, name)
				}
			}
			corners = append(corners, e)
		}
	}
	if x.steps <= 0 {
		return nil, false
	}
	return corners, true
}

func literalOf(option int, chosen bool) literal {
	if chosen {
		return positive(option)
	}
	return negative(option)
}

// extremes computes hulls with the search of a counter.
type extremes struct {
	*counter
	adds  [][2]float64
	cache map[[sha256.Size]byte]hull
}

// vertex is the sums of a choice, and the vertices of which it is the sum.
type vertex struct {
	x, y   float64
	from   [2]*vertex
	option int // the option chosen here; -1 if none
}

func (c *vertex) add(d *vertex) *vertex {
	return &vertex{c.x + d.x, c.y + d.y, [2]*vertex{c, d}, -1}
}

// markChosen sets is to true for each option of a vertex's choice.
func (c *vertex) markChosen(is []bool) {
	for ; c != nil; c = c.from[0] {
		if c.option >= 0 {
			is[c.option] = true
		}
		if c.from[1] != nil {
			c.from[1].markChosen(is)
		}
	}
}

// hull is the vertices of a convex polygon, counterclockwise from the leftmost, the
// lowest of those; it may be a point or a segment.
type hull []*vertex

// hull returns the hull of the sums over all ways to set the open options among those given.
func (x *extremes) hull(options []int) hull {
	h := hull{{option: -1}}
	free, pieces := x.components(options)
	for _, o := range free {
		if x.adds[o] != [2]float64{} {
			h = x.minkowskiSum(h, convexHull(hull{{option: -1}, x.optionVertex(o)}))
		}
	}
	for _, p := range pieces {
		if x.steps <= 0 {
			return nil
		}
		h = x.minkowskiSum(h, x.componentHull(p))
	}
	return h
}

func (x *extremes) optionVertex(option int) *vertex {
	return &vertex{x: x.adds[option][0], y: x.adds[option][1], option: option}
}

// componentHull is the analogue of countComponent. The hull is nil if there is no valid way.
func (x *extremes) componentHull(p component) hull {
	if h, met := x.cache[p.key]; met {
		return h
	}
	var all hull
	set := len(x.trail)
	for _, l := range []literal{negative(p.busiest), positive(p.busiest)} {
		x.counter.assign(l)
		if x.propagate() {
			all = append(all, x.addChosenSince(set, x.hull(p.options))...)
		}
		x.backtrack(set)
	}
	x.steps -= len(all)
	h := convexHull(all)
	if x.steps > 0 {
		x.cache[p.key] = h
	}
	return h
}

// addChosenSince adds the options chosen on the trail from index set on to each vertex of a hull.
func (x *extremes) addChosenSince(set int, h hull) hull {
	for _, l := range x.trail[set:] {
		if !l.negated() {
			h = x.minkowskiSum(h, hull{x.optionVertex(l.variable())})
		}
	}
	return h
}

// minkowskiSum returns the Minkowski sum of two hulls, by merging their edges in the order of
// their directions.
func (x *extremes) minkowskiSum(a, b hull) (sum hull) {
	if len(a) == 0 || len(b) == 0 {
		return nil
	}
	x.steps -= len(a) + len(b)
	if len(a) == 1 {
		a, b = b, a
	}
	if len(b) == 1 { // a point has no edges
		for _, p := range a {
			sum = append(sum, p.add(b[0]))
		}
		return sum
	}
	i, j := 0, 0
	for i < len(a) || j < len(b) {
		p, q := a[i%len(a)], b[j%len(b)]
		sum = append(sum, p.add(q))
		turn := a[(i+1)%len(a)].edgeFrom(p).compare(b[(j+1)%len(b)].edgeFrom(q))
		switch {
		case i == len(a):
			turn = 1
		case j == len(b):
			turn = -1
		}
		if turn <= 0 {
			i++
		}
		if turn >= 0 {
			j++
		}
	}
	return sum
}

// direction is the direction of an edge.
type direction struct{ x, y float64 }

func (c *vertex) edgeFrom(from *vertex) direction { return direction{c.x - from.x, c.y - from.y} }

// compare orders directions counterclockwise, starting just after straight down.
func (d direction) compare(e direction) int {
	back := func(d direction) int {
		if d.x > 0 || d.x == 0 && d.y > 0 {
			return 0
		}
		return 1
	}
	return cmp.Or(cmp.Compare(back(d), back(e)), cmp.Compare(0, d.x*e.y-d.y*e.x))
}

// convexHull returns the convex hull of some points (Andrew's monotone chain).
func convexHull(points hull) hull {
	slices.SortStableFunc(points, func(a, b *vertex) int { return cmp.Or(cmp.Compare(a.x, b.x), cmp.Compare(a.y, b.y)) })
	points = slices.CompactFunc(points, func(a, b *vertex) bool { return a.x == b.x && a.y == b.y })
	if len(points) < 3 {
		return points
	}
	chain := func(points hull) (h hull) {
		for _, p := range points {
			for n := len(h); n > 1; n = len(h) {
				if d, e := h[n-1].edgeFrom(h[n-2]), p.edgeFrom(h[n-1]); d.x*e.y-d.y*e.x > 0 {
					break
				}
				h = h[:n-1]
			}
			h = append(h, p)
		}
		return h[:len(h)-1]
	}
	lower := chain(points)
	slices.Reverse(points)
	return append(lower, chain(points)...)
}
