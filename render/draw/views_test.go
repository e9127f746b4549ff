package draw

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"ownerguide/render/doc"
	"ownerguide/spec"
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
)

// The checks of this file hold the views of the whole unit to the figures of the
// line, which they read for themselves: a picture is measured by its shapes alone.

// drawn makes a drawing that the unit must have.
func drawn(t *testing.T, id string, s *Subject) *doc.Drawing {
	t.Helper()
	d, _, err := Draw(id, *s)
	if err != nil {
		t.Fatalf("%s: %v", id, err)
	}
	return d
}

func pathsOf(d *doc.Drawing, want func(*doc.Path) bool) (out []*doc.Path) {
	for _, shape := range d.Shapes {
		if p, ok := shape.(*doc.Path); ok && want(p) {
			out = append(out, p)
		}
	}
	return out
}

func circlesOf(d *doc.Drawing, want func(*doc.Circle) bool) (out []*doc.Circle) {
	for _, shape := range d.Shapes {
		if c, ok := shape.(*doc.Circle); ok && want(c) {
			out = append(out, c)
		}
	}
	return out
}

func corners(p *doc.Path) []doc.Point {
	out := []doc.Point{p.From}
	for _, s := range p.Segments {
		out = append(out, s.To)
	}
	return out
}

// straight returns the ends of a single straight line.
func straight(p *doc.Path) (a, b doc.Point, ok bool) {
	if p.Closed || len(p.Segments) != 1 || p.Segments[0].Curve {
		return a, b, false
	}
	return p.From, p.Segments[0].To, true
}

func near(a, b, slack float64) bool { return math.Abs(a-b) <= slack }

// number returns a value in its base unit: inches, degrees, pounds.
func number(t *testing.T, s *Subject, name string) float64 {
	t.Helper()
	v, ok := s.Values.Lookup(name)
	if !ok {
		t.Fatalf("the unit has no value %s", name)
	}
	q, ok := v.Exact.(quantity.Quantity)
	if !ok {
		t.Fatalf("%s is no quantity", name)
	}
	return q.Base()
}

// side is a view from the left, measured.
type side struct {
	scale, ground, front float64 // points per inch; y of the ground; x of the unit's front
	tires                []*doc.Circle
}

// measure takes the scale of a view from the left from its tires.
func measure(t *testing.T, s *Subject, d *doc.Drawing) side {
	t.Helper()
	tire, _ := spec.First[*product.Tire](s.Build)
	axles := spec.All[*product.Axle](s.Build)
	m := side{tires: circlesOf(d, func(c *doc.Circle) bool { return c.Fill == doc.Middle && c.Line == doc.Full })}
	if len(m.tires) != len(axles) {
		t.Fatalf("%d tires are drawn; the unit has axles: %d", len(m.tires), len(axles))
	}
	m.scale = 2 * m.tires[0].Radius / float64(tire.Data.Diameter.Value)
	ground := pathsOf(d, func(p *doc.Path) bool {
		a, b, ok := straight(p)
		return ok && a.Y == b.Y && b.X-a.X > 400 && p.Line == doc.Middle && len(p.Dash) == 0 && a.X < 10 && a.Y > m.tires[0].Center.Y
	})
	if len(ground) != 1 {
		t.Fatalf("lines that may be the ground: %d", len(ground))
	}
	m.ground = ground[0].From.Y
	coupler, _ := spec.First[*product.Coupler](s.Build)
	m.front = m.tires[0].Center.X - m.scale*(float64(axles[0].Fitting.At.X.Value)-float64(coupler.Fitting.At.X.Value))
	return m
}

// TestSideToScale holds wheels, wheelbase, overall length and height of the floor
// in the view from the left to one scale.
func TestSideToScale(t *testing.T) {
	eachUnit(t, func(t *testing.T, s *Subject) {
		for _, id := range []string{"unit-view", "side-view"} {
			d := drawn(t, id, s)
			m := measure(t, s, d)
			axles := spec.All[*product.Axle](s.Build)
			for i, a := range axles {
				c := m.tires[i]
				if c.Radius != m.tires[0].Radius {
					t.Errorf("%s: tire %d is of another size", id, i+1)
				}
				if z := (m.ground - c.Center.Y) / m.scale; !near(z, float64(a.Fitting.At.Z.Value), 0.05) {
					t.Errorf("%s: wheel %d stands %.2f in above ground; the line says %v", id, i+1, z, a.Fitting.At.Z.Value)
				}
				base := float64(a.Fitting.At.X.Value - axles[0].Fitting.At.X.Value)
				if x := (c.Center.X - m.tires[0].Center.X) / m.scale; !near(x, base, 0.05) {
					t.Errorf("%s: wheel %d stands %.2f in behind the first; the line says %.2f", id, i+1, x, base)
				}
			}
			if id == "side-view" {
				continue // without measures
			}
			ends := pathsOf(d, func(p *doc.Path) bool {
				a, b, ok := straight(p)
				return ok && p.Line == doc.Middle && a.X == b.X && min(a.Y, b.Y) > m.ground
			})
			if len(ends) != 2 {
				t.Fatalf("%s: lines that bound the overall length: %d", id, len(ends))
			}
			if !near(ends[0].From.X, m.front, 0.1) {
				t.Errorf("%s: the overall length begins at %.1f; the coupler's front is at %.1f", id, ends[0].From.X, m.front)
			}
			if long, want := (ends[1].From.X-ends[0].From.X)/m.scale, number(t, s, "length.overall"); !near(long, want, 0.1) {
				t.Errorf("%s: the unit is drawn %.1f in long; length.overall is %.1f", id, long, want)
			}
			level := pathsOf(d, func(p *doc.Path) bool {
				a, b, ok := straight(p)
				return ok && p.Line == doc.Middle && a.Y == b.Y && b.X > 470 && a.Y < m.ground
			})
			if len(level) != 1 {
				t.Fatalf("%s: lines that bound the floor's height: %d", id, len(level))
			}
			if high, want := (m.ground-level[0].From.Y)/m.scale, number(t, s, "height.deck"); !near(high, want, 0.1) {
				t.Errorf("%s: the floor is drawn %.1f in high; height.deck is %.1f", id, high, want)
			}
		}
	})
}

// TestStops: every stop has one circle in the view that shows it and none in the other;
// circles do not overlap, no two lines to them cross, and no line runs through a circle.
func TestStops(t *testing.T) {
	eachUnit(t, func(t *testing.T, s *Subject) {
		shown := map[string]int{}
		for _, id := range []string{"side-view", "plan-stops"} {
			d := drawn(t, id, s)
			var circles []*doc.Circle
			for sign, list := range signCircles(d) {
				shown[sign] += len(list)
				circles = append(circles, list...)
			}
			for i, a := range circles {
				for _, b := range circles[:i] {
					if math.Hypot(a.Center.X-b.Center.X, a.Center.Y-b.Center.Y) < a.Radius+b.Radius {
						t.Errorf("%s: circles at %.0f and %.0f overlap", id, a.Center.X, b.Center.X)
					}
				}
			}
			leaders := leadersOf(d)
			if len(leaders) != len(circles) {
				t.Errorf("%s: lines to stops: %d; circles: %d", id, len(leaders), len(circles))
			}
			for i, l := range leaders {
				for _, c := range circles {
					if away(c.Center, l.From, l.Segments[0].To) < c.Radius {
						t.Errorf("%s: a line to %v runs through a circle", id, l.Segments[0].To)
					}
				}
				for _, k := range leaders[:i] {
					if crosses(k.From, k.Segments[0].To, l.From, l.Segments[0].To) {
						t.Errorf("%s: the lines from x %.0f and %.0f cross", id, k.From.X, l.From.X)
					}
				}
			}
		}
		for _, stop := range s.Stops {
			if n := shown[strconv.Itoa(stop.Number)]; n != 1 {
				t.Errorf("stop %d is shown %d times", stop.Number, n)
			}
		}
		if len(shown) != len(s.Stops) {
			t.Errorf("%d numbers are shown; the guide has stops: %d", len(shown), len(s.Stops))
		}
	})
}

// away is the distance of a point from a stretch of line.
func away(p, a, b doc.Point) float64 {
	dx, dy := b.X-a.X, b.Y-a.Y
	along := 0.0
	if long := dx*dx + dy*dy; long > 0 {
		along = min(1, max(0, ((p.X-a.X)*dx+(p.Y-a.Y)*dy)/long))
	}
	return math.Hypot(p.X-a.X-along*dx, p.Y-a.Y-along*dy)
}

// crosses reports whether two stretches cross in their inside; ends that touch do not.
func crosses(a1, a2, b1, b2 doc.Point) bool {
	turn := func(p, q, r doc.Point) float64 { return (q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X) }
	const touch = 1 // in square points
	apart := func(x, y float64) bool { return x > touch && y < -touch || x < -touch && y > touch }
	return apart(turn(a1, a2, b1), turn(a1, a2, b2)) && apart(turn(b1, b2, a1), turn(b1, b2, a2))
}

// TestStopAtEveryPart: a stop may sit on whatever is fitted, by place or kind,
// and points at that part where the line says where it is.
func TestStopAtEveryPart(t *testing.T) {
	eachUnit(t, func(t *testing.T, s *Subject) {
		for _, f := range s.Build.Parts() {
			for _, part := range []string{f.Place, f.Kind} {
				one := *s
				one.Stops = []Stop{{Number: 1, Part: part, Title: part}}
				d := drawn(t, "side-view", &one)
				m := measure(t, s, d)
				isDot := func(c *doc.Circle) bool { return c.Radius == 2 && c.Fill == doc.Mark }
				dots := circlesOf(d, isDot)
				if len(dots) == 0 {
					if len(circlesOf(drawn(t, "plan-stops", &one), isDot)) == 0 {
						t.Fatalf("no dot for a stop at %s", part)
					}
					continue
				}
				last := (s.Build.Overall().Long.Value)
				x := (dots[0].Center.X - m.front) / m.scale
				if x < -13 || x > float64(last)+0.1 || dots[0].Center.Y > m.ground+0.1 {
					t.Errorf("the stop at %s points %.0f in behind the front at y %.0f, off the unit", part, x, dots[0].Center.Y)
				}
				// Boxes and the like: the dot lies on them.
				if part != f.Place || f.At == nil || f.Size == nil || !slices.Contains([]string{"box", "winch", "winch-plate", "battery", "charger", "power-unit", "spare", "rack", "jack", "ramp", "support", "other", "breakaway", "rear-guard", "lock", "prop", "cushion"}, f.Kind) {
					continue
				}
				coupler, _ := spec.First[*product.Coupler](s.Build)
				x += float64(coupler.Fitting.At.X.Value)
				z := (m.ground - dots[0].Center.Y) / m.scale
				x1, z1 := float64(f.At.X.Value), float64(f.At.Z.Value)
				x2, z2 := x1+float64(f.Size.Long.Value), z1+float64(f.Size.High.Value)
				if x < x1-0.1 || x > x2+0.1 || z < z1-0.1 || z > z2+0.1 {
					t.Errorf("the stop at %s points at x %.1f, z %.1f; the part lies from %.1f to %.1f and %.1f to %.1f", part, x, z, x1, x2, z1, z2)
				}
			}
		}
		lost := *s
		lost.Stops = []Stop{{Number: 7, Part: "bilge-pump", Title: "Nowhere"}}
		if _, _, err := Draw("side-view", lost); err == nil || !strings.Contains(err.Error(), "stop 7") || !strings.Contains(err.Error(), "bilge-pump") {
			t.Errorf("a stop at a part the unit lacks: error %v; expected one that names stop and part", err)
		}
	})
}

// TestFarSide: a stop on the right side, out of sight from the left, is shown from above,
// on the right side of the unit, which is up.
func TestFarSide(t *testing.T) {
	eachUnit(t, func(t *testing.T, s *Subject) {
		for _, f := range s.Build.Parts() {
			if f.On != "right" || f.At == nil || f.Size == nil || f.At.Y.Value+f.Size.Wide.Value > -10 {
				continue
			}
			one := *s
			one.Stops = []Stop{{Number: 1, Part: f.Place, Title: f.Place}}
			d := drawn(t, "plan-stops", &one)
			floors := pathsOf(d, func(p *doc.Path) bool { return p.Closed && p.Width == 1.4 })
			dots := circlesOf(d, func(c *doc.Circle) bool { return c.Radius == 2 && c.Fill == doc.Mark })
			if len(floors) != 1 || len(dots) == 0 {
				t.Fatalf("%s: floors drawn: %d, dots: %d", f.Place, len(floors), len(dots))
			}
			if a := extentOf(floors[0]); dots[0].Center.Y >= (a.top+a.bottom)/2 {
				t.Errorf("%s is on the right side; its dot is at y %.0f of a floor from %.0f to %.0f", f.Place, dots[0].Center.Y, a.top, a.bottom)
			}
		}
	})
}
