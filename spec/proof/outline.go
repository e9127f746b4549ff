package proof

import (
	"math"
	"slices"

	"ownerguide/spec"
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// outlineSides is the number of sides of the polygon that is tried before the hull of the sums:
// with sixty options a hull has about a hundred vertices.
const outlineSides = 4

// circumscribe returns the vertices of a polygon with few sides that contains all vertices of a hull. It
// removes sides, each time the one whose removal adds the least area.
func circumscribe(corners [][2]float64, sides int) [][2]float64 {
	p := hullOf(corners)
	for len(p) > sides {
		n, best, least := len(p), -1, math.Inf(1)
		var at [2]float64
		for i := range p {
			a, b, c, d := p[(i+n-1)%n], p[i], p[(i+1)%n], p[(i+2)%n]
			meet, ok := intersection(a, b, c, d)
			if area := math.Abs(cross(b, c, meet)) / 2; ok && area < least {
				best, least, at = i, area, meet
			}
		}
		if best < 0 {
			break
		}
		p[best] = at
		p = slices.Delete(p, (best+1)%n, (best+1)%n+1)
	}
	return p
}

// cross returns twice the signed area of a triangle, positive if it is counterclockwise.
func cross(a, b, c [2]float64) float64 {
	return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0])
}

// intersection returns the intersection of the line from a through b and the one from d through c, beyond both.
func intersection(a, b, c, d [2]float64) (at [2]float64, ok bool) {
	u, v := [2]float64{b[0] - a[0], b[1] - a[1]}, [2]float64{c[0] - d[0], c[1] - d[1]}
	turn := u[0]*v[1] - u[1]*v[0]
	if turn == 0 {
		return at, false
	}
	s := ((c[0]-b[0])*v[1] - (c[1]-b[1])*v[0]) / turn
	t := ((c[0]-b[0])*u[1] - (c[1]-b[1])*u[0]) / turn
	return [2]float64{b[0] + s*u[0], b[1] + s*u[1]}, s >= 0 && t >= 0
}

// hullOf returns the vertices of the convex hull of points, counterclockwise.
func hullOf(points [][2]float64) (hull [][2]float64) {
	points = slices.Clone(points)
	slices.SortFunc(points, func(a, b [2]float64) int { return slices.Compare(a[:], b[:]) })
	points = slices.Compact(points)
	for range 2 {
		from := len(hull)
		for _, p := range points {
			for len(hull) >= from+2 && cross(hull[len(hull)-2], hull[len(hull)-1], p) <= 0 {
				hull = hull[:len(hull)-1]
			}
			hull = append(hull, p)
		}
		if len(hull) > 1 {
			hull = hull[:len(hull)-1]
		}
		slices.Reverse(points)
	}
	return hull
}

// withWeight returns a build with additional weight and moment: two fictitious options, as far apart
// as necessary.
func withWeight(b *spec.Build, weight, moment float64) *spec.Build {
	const away = 1000 // in
	var more []spec.ChosenOption
	for _, o := range [][2]float64{{moment / away, away}, {weight - moment/away, 0}} {
		option := &product.Option{Weighs: source.Given[quantity.Mass]{Value: quantity.Pounds(o[0]), Set: true}, Center: source.Given[quantity.Length]{Value: quantity.Inches(o[1]), Set: true}}
		more = append(more, spec.ChosenOption{Option: option})
	}
	return b.With(more...)
}
