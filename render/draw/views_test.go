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

// straight gives the ends of a single straight line.
func straight(p *doc.Path) (a, b doc.Point, ok bool) {
	if p.Closed || len(p.Segments) != 1 || p.Segments[0].Curve {
		return a, b, false
	}
	return p.From, p.Segments[0].To, true
}

func near(a, b, slack float64) bool { return math.Abs(a-b) <= slack }

// number gives a value in its base unit: inches, degrees, pounds.
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

// stopCircles gives the numbered circles of a drawing, by number.
func stopCircles(t *testing.T, id string, d *doc.Drawing) map[int]*doc.Circle {
	t.Helper()
	out := map[int]*doc.Circle{}
	for _, c := range circlesOf(d, func(c *doc.Circle) bool { return c.Radius >= 9 && c.Fill == doc.Paper }) {
		for _, l := range labelsOf(d) {
			n, err := strconv.Atoi(l.Text)
			if err != nil || math.Hypot(l.At.X-c.Center.X, l.At.Y-4-c.Center.Y) > 2 {
				continue
			}
			if out[n] != nil {
				t.Errorf("%s: stop %d is drawn twice", id, n)
			}
			out[n] = c
		}
	}
	return out
}

// TestStops: every stop has one circle, large enough for a phone; circles do not
// overlap, no two lines to them cross, and no line runs through a circle.
func TestStops(t *testing.T) {
	eachUnit(t, func(t *testing.T, s *Subject) {
		for _, id := range []string{"side-view", "plan-stops"} {
			if !slices.Contains(IDs(), id) {
				continue
			}
			d := drawn(t, id, s)
			circles := stopCircles(t, id, d)
			if len(circles) != len(s.Stops) {
				t.Errorf("%s: %d stops are drawn; the guide has %d", id, len(circles), len(s.Stops))
			}
			for a, ca := range circles {
				for b, cb := range circles {
					gap := math.Hypot(ca.Center.X-cb.Center.X, ca.Center.Y-cb.Center.Y)
					if a < b && gap < ca.Radius+cb.Radius {
						t.Errorf("%s: circles %d and %d overlap", id, a, b)
					}
				}
			}
			// Leaders are drawn from the edge of the rows to a dot.
			leaders := pathsOf(d, func(p *doc.Path) bool {
				_, b, ok := straight(p)
				return ok && p.Line == doc.Full && p.Width == 0.75 && slices.ContainsFunc(circlesOf(d, func(c *doc.Circle) bool { return c.Radius < 4 }), func(c *doc.Circle) bool { return c.Center == b })
			})
			if len(leaders) != len(s.Stops) {
				t.Errorf("%s: lines to stops: %d; the guide has stops: %d", id, len(leaders), len(s.Stops))
			}
			for i, l := range leaders {
				for n, c := range circles {
					if away(c.Center, l.From, l.Segments[0].To) < c.Radius {
						t.Errorf("%s: a line to %v runs through circle %d", id, l.Segments[0].To, n)
					}
				}
				for _, k := range leaders[:i] {
					if k.From.Y == l.From.Y && crosses(k.From, k.Segments[0].To, l.From, l.Segments[0].To) {
						t.Errorf("%s: the lines from x %.0f and %.0f cross", id, k.From.X, l.From.X)
					}
				}
			}
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

// crosses tells whether two stretches cross in their inside; ends that touch do not.
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
		for _, f := range s.Build.Parts {
			for _, part := range []string{f.Place, f.Kind} {
				one := *s
				one.Stops = []Stop{{Number: 1, Part: part, Title: part}}
				d := drawn(t, "side-view", &one)
				m := measure(t, s, d)
				dots := circlesOf(d, func(c *doc.Circle) bool {
					return c.Radius == 2 && c.Line == doc.None || c.Radius == 2 && c.Fill == doc.Paper
				})
				if len(dots) == 0 {
					t.Fatalf("no dot for a stop at %s", part)
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

// TestFarSide: a stop on the right side has an open dot, and only then the
// picture says what an open dot means.
func TestFarSide(t *testing.T) {
	eachUnit(t, func(t *testing.T, s *Subject) {
		for _, f := range s.Build.Parts {
			if f.On != "right" || f.At == nil || f.Size == nil || f.At.Y.Value+f.Size.Wide.Value > -10 {
				continue
			}
			one := *s
			one.Stops = []Stop{{Number: 1, Part: f.Place, Title: f.Place}}
			d := drawn(t, "side-view", &one)
			if !slices.ContainsFunc(labelsOf(d), func(l *doc.Label) bool { return l.Text == s.Label("draw.hidden") }) {
				t.Errorf("%s is on the right side; the picture does not explain the open dot", f.Place)
			}
		}
		one := *s
		one.Stops = []Stop{{Number: 1, Part: "coupler", Title: "Coupler"}}
		if slices.ContainsFunc(labelsOf(drawn(t, "side-view", &one)), func(l *doc.Label) bool { return l.Text == s.Label("draw.hidden") }) {
			t.Error("the picture explains open dots and has none")
		}
	})
}

// floorOf reads the load floor from the line: where it begins, how long it is,
// where the part that rises begins.
func floorOf(t *testing.T, b *spec.Build) (front, long, rising, low float64) {
	t.Helper()
	if p, ok := spec.First[*product.Deck](b); ok {
		front = float64(p.Fitting.At.X.Value)
		return front, float64(p.Data.Fixed.Value + p.Data.Tilting.Value + p.Data.Dovetail.Value), front + float64(p.Data.Fixed.Value), float64(p.Fitting.At.Z.Value)
	}
	p, ok := spec.First[*product.DumpBox](b)
	if !ok {
		t.Fatal("the unit has no floor")
	}
	front = float64(p.Fitting.At.X.Value)
	return front, float64(p.Data.Long.Value), front, float64(p.Fitting.At.Z.Value)
}

// TestPlanBands measures the four bars beside the deck against the values.
func TestPlanBands(t *testing.T) {
	eachUnit(t, func(t *testing.T, s *Subject) {
		d := drawn(t, "plan-view", s)
		box := func(p *doc.Path) bool { return p.Closed && len(p.Segments) == 3 }
		floors := pathsOf(d, func(p *doc.Path) bool { return box(p) && p.Fill == doc.Pale && p.Width == 1.4 })
		if len(floors) != 1 {
			t.Fatalf("floors drawn: %d", len(floors))
		}
		floor := extentOf(floors[0])
		_, long, _, _ := floorOf(t, s.Build)
		scale := (floor.right - floor.left) / long
		bars := pathsOf(d, func(p *doc.Path) bool {
			return box(p) && p.Fill == doc.None && p.Line == doc.Full && extentOf(p).top > floor.bottom
		})
		loads := []string{"25", "50", "75", "100"}
		if len(bars) != len(loads) {
			t.Fatalf("bars drawn: %d; expected %d", len(bars), len(loads))
		}
		for i, load := range loads {
			bar := extentOf(bars[i])
			for _, end := range []struct {
				name string
				at   float64
			}{{"front", bar.left}, {"rear", bar.right}} {
				name := "loading.cg_band." + load + "." + end.name
				if got, want := (end.at-floor.left)/scale, number(t, s, name); !near(got, want, 0.2) {
					t.Errorf("the bar for %s %% has its %s end %.1f in behind the floor's front; %s is %.1f", load, end.name, got, name, want)
				}
				if !slices.ContainsFunc(labelsOf(d), func(l *doc.Label) bool { return l.Text == brief(s.Figure(name)) && near(l.At.Y, bar.bottom, 4) }) {
					t.Errorf("%s is not written at its bar", name)
				}
			}
			hatched := pathsOf(d, func(p *doc.Path) bool {
				a := extentOf(p)
				return p.Line == doc.Signal && a.left >= bar.left-0.1 && a.right <= bar.right+0.1 && a.top >= bar.top-0.1 && a.bottom <= bar.bottom+0.1
			})
			if len(hatched) < 3 {
				t.Errorf("the bar for %s %% has %d lines of hatch; it must show in black and white", load, len(hatched))
			}
		}
		// Wheels to the scale of the floor.
		tire, _ := spec.First[*product.Tire](s.Build)
		wheels := pathsOf(d, func(p *doc.Path) bool {
			a := extentOf(p)
			return box(p) && near((a.right-a.left)/scale, float64(tire.Data.Diameter.Value), 0.1)
		})
		if n := 2 * len(spec.All[*product.Axle](s.Build)); len(wheels) < n {
			t.Errorf("wheels of the right length from above: %d; expected at least %d", len(wheels), n)
		}
	})
}

// inside tells whether a point lies in a polygon, by the crossings of a ray.
func inside(q doc.Point, polygon []doc.Point) bool {
	in := false
	for i, a := range polygon {
		b := polygon[(i+1)%len(polygon)]
		if (a.Y > q.Y) != (b.Y > q.Y) && q.X < a.X+(q.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			in = !in
		}
	}
	return in
}

// TestRaised measures the angle of the raised deck or box and its height, and
// holds the keep-out zone to all it must hold: whatever lies under the rising part on
// its whole way down, and what the tail or the load can hit.
func TestRaised(t *testing.T) {
	seen := 0
	eachUnit(t, func(t *testing.T, s *Subject) {
		value := map[bool]string{true: "dump.angle", false: "tilt.angle"}[s.Build.Has("dump")]
		if s.Figure(value) == "" {
			return
		}
		seen++
		for _, id := range IDs() {
			if !strings.HasPrefix(id, "raised-") {
				continue
			}
			d := drawn(t, id, s)
			m := measure(t, s, d)
			angle := number(t, s, value)
			front, long, rising, low := floorOf(t, s.Build)

			// With the prop, the floor stands where the line says that the prop fits.
			stands, written := angle, s.Figure(value)
			if at := s.Figure("prop.angle"); at != "" && id == "raised-deck" {
				stands, written = number(t, s, "prop.angle"), at
			}

			// The longest slanting edge of a solid part is the raised floor.
			edge, slope := 0.0, 0.0
			lowest, highest := 0.0, math.Inf(1)
			for _, p := range pathsOf(d, func(p *doc.Path) bool { return p.Closed && p.Fill == doc.Pale }) {
				c := corners(p)
				for i, a := range c {
					b := c[(i+1)%len(c)]
					lowest, highest = max(lowest, a.Y), min(highest, a.Y)
					if l := math.Hypot(b.X-a.X, b.Y-a.Y); l > edge && math.Abs(b.Y-a.Y) > 1 {
						edge, slope = l, math.Atan(math.Abs((b.Y-a.Y)/(b.X-a.X)))*180/math.Pi
					}
				}
			}
			if !near(slope, stands, 0.1) {
				t.Errorf("%s: the floor is raised by %.2f degrees; expected %.2f", id, slope, stands)
			}
			if lowest > m.ground+1 {
				t.Errorf("%s: something is drawn %.1f points below ground", id, lowest-m.ground)
			}
			top := m.ground - number(t, s, "raised.height")*m.scale
			if highest < top-1 {
				t.Errorf("%s: something is drawn %.1f points above raised.height", id, top-highest)
			}
			if !slices.ContainsFunc(labelsOf(d), func(l *doc.Label) bool { return l.Text == brief(written) }) {
				t.Errorf("%s: the angle is not written", id)
			}

			zones := pathsOf(d, func(p *doc.Path) bool { return p.Closed && p.Line == doc.Signal && len(p.Dash) > 0 })
			if len(zones) != 2 {
				t.Fatalf("%s: dashed outlines: %d; expected the zone and its legend", id, len(zones))
			}
			zone := corners(zones[0])
			coupler, _ := spec.First[*product.Coupler](s.Build)
			at := func(x, z float64) doc.Point {
				return pt(m.front+(x-float64(coupler.Fitting.At.X.Value))*m.scale, m.ground-z*m.scale)
			}
			hx, hz := float64(s.Build.Model.Hinge.X.Value), float64(s.Build.Model.Hinge.Z.Value)
			missed := 0
			for deg := 0.5; deg <= angle-0.5; deg += 0.5 {
				sin, cos := math.Sincos(deg * math.Pi / 180)
				for x := rising; x < hx-40; x += 4 {
					px, pz := hx+(x-hx)*cos+(low-hz)*sin, hz-(x-hx)*sin+(low-hz)*cos
					for _, z := range []float64{0.5, pz / 2, pz - 1} {
						if !inside(at(px, z), zone) {
							missed++
						}
					}
				}
			}
			if missed > 0 {
				t.Errorf("%s: %d places that the rising part passes on its way down lie outside the zone", id, missed)
			}
			sin, cos := math.Sincos(angle * math.Pi / 180)
			tail := hx + (front+long-hx)*cos + (low-hz)*sin
			if !inside(at(tail+18, 6), zone) {
				t.Errorf("%s: a place right behind the tail lies outside the zone", id)
			}
			striped := pathsOf(d, func(p *doc.Path) bool { return p.Line == doc.Paper && len(p.Dash) > 0 })
			if want := id == "raised-deck" && s.Build.Has("body-prop"); (len(striped) == 1) != want {
				t.Errorf("%s: body props drawn: %d; expected one: %v", id, len(striped), want)
			}
			// The prop reaches from its foot to the body as long as it is, or it
			// does not fit at the angle that the line states.
			if p, ok := spec.First[*product.Prop](s.Build); ok && len(striped) == 1 && p.Data.Angle.Set {
				a, b, ok := straight(striped[0])
				if !ok {
					t.Fatalf("%s: the prop is no straight line", id)
				}
				if drawn, long := math.Hypot(b.X-a.X, b.Y-a.Y)/m.scale, float64(p.Fitting.Size.Long.Value); !near(drawn, long, 1) {
					t.Errorf("%s: the prop is drawn %.1f in long; the line says %.1f in", id, drawn, long)
				}
			}
		}
	})
	if seen < 3 {
		t.Errorf("units that rise: %d; the check proves little", seen)
	}
}

func chainsOf(d *doc.Drawing) []*doc.Path {
	return pathsOf(d, func(p *doc.Path) bool {
		_, _, ok := straight(p)
		return ok && p.Line == chainLine.Line && p.Width == chainLine.Width && slices.Equal(p.Dash, chainLine.Dash)
	})
}

// TestTieDowns: as many tie-downs as a full load needs, four at least, each
// from the load down and outward to an anchor of this unit, two pulling forward
// and two back.
func TestTieDowns(t *testing.T) {
	eachUnit(t, func(t *testing.T, s *Subject) {
		if !s.Build.Has("d-rings") {
			return
		}
		d := drawn(t, "tiedown", s)
		chains := chainsOf(d)
		heavy := *s
		heavy.Figure = func(name string) string {
			if name == "tiedown.full.count" {
				return "7"
			}
			return s.Figure(name)
		}
		if n := len(chainsOf(drawn(t, "tiedown", &heavy))); n != 8+4 {
			t.Errorf("tie-downs drawn for a load that needs 7: %d; expected 8 from above and 4 from the left", n)
		}
		count, err := strconv.Atoi(s.Figure("tiedown.full.count"))
		if err != nil {
			t.Fatal(err)
		}
		pairs := max(2, (count+1)/2)
		if len(chains) != 3*pairs {
			t.Fatalf("tie-downs drawn: %d; expected %d from above and half as many from the left", len(chains), 2*pairs)
		}
		floors := pathsOf(d, func(p *doc.Path) bool { return p.Closed && p.Width == 1.4 })
		if len(floors) != 1 {
			t.Fatalf("floors drawn: %d", len(floors))
		}
		floor := extentOf(floors[0])
		front, long, _, _ := floorOf(t, s.Build)
		scale := (floor.right - floor.left) / long
		var rings []float64
		for _, a := range spec.All[*product.Anchor](s.Build) {
			if a.Data.Kind.Value != "d-ring" {
				continue
			}
			n := (a.Data.Count.Value + 1) / 2
			for i := range n {
				rings = append(rings, float64(a.Fitting.At.X.Value)+float64(a.Fitting.Size.Long.Value)*float64(i)/float64(n-1))
			}
		}
		middle := (floor.top + floor.bottom) / 2
		forward, back := 0, 0
		for _, c := range chains[:2*pairs] {
			hook, ring := c.From, c.Segments[0].To
			x := (ring.X-floor.left)/scale + front
			if !slices.ContainsFunc(rings, func(r float64) bool { return near(r, x, 0.5) }) {
				t.Errorf("a tie-down ends %.1f in behind the coupler; D-rings are at %.1f", x, rings)
			}
			if math.Abs(ring.Y-middle) <= math.Abs(hook.Y-middle) || (ring.Y-middle)*(hook.Y-middle) < 0 {
				t.Errorf("the tie-down to x %.1f leads inward or across", x)
			}
			if ring.X < hook.X {
				forward++
			} else {
				back++
			}
		}
		if forward < 2 || back < 2 {
			t.Errorf("tie-downs that pull forward: %d, back: %d; expected two of each", forward, back)
		}
		for _, c := range chains[2*pairs:] {
			if c.Segments[0].To.Y <= c.From.Y {
				t.Error("a tie-down from the left does not lead down")
			}
			if slope := math.Atan2(c.Segments[0].To.Y-c.From.Y, math.Abs(c.Segments[0].To.X-c.From.X)) * 180 / math.Pi; slope > 45 {
				t.Errorf("a tie-down from the left is %.0f degrees steep; expected at most 45", slope)
			}
		}
	})
}
