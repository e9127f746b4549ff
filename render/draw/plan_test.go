package draw

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"ownerguide/render/doc"
	"ownerguide/render/draw/shapes"
	"ownerguide/spec"
	"ownerguide/spec/product"
)

// floorOf reads the load floor from the line: where it begins, how long it is,
// where the part that rises begins.
func floorOf(t *testing.T, b *spec.Build) (front, long, rising, low float64) {
	t.Helper()
	if p, ok := spec.First[*product.Deck](b); ok {
		front = float64(p.Fitting.At.X.Value)
		return front, float64(p.Data.Fixed.Value + p.Data.Tilting.Value + p.Data.Dovetail.Value), front + float64(p.Data.Fixed.Value), float64(p.Fitting.At.Z.Value)
	}
	if p, ok := spec.First[*product.Cradle](b); ok {
		front, long = float64(p.Fitting.At.X.Value), float64(p.Data.Long.Value)
		return front, long, front + long, float64(p.Fitting.At.Z.Value)
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
		floors, want := pathsOf(d, func(p *doc.Path) bool { return box(p) && p.Fill == doc.Pale && p.Width == 1.4 }), 1
		if s.Build.Has("boat") { // lies on two rows
			floors, want = pathsOf(d, func(p *doc.Path) bool { return box(p) && p.Fill == doc.Faint && p.Width == 1.2 }), 2
		}
		if len(floors) != want {
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
				if !slices.ContainsFunc(labelsOf(d), func(l *doc.Label) bool { return l.Text == s.brief(s.Figure(name)) && near(l.At.Y, bar.bottom, 4) }) {
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

// inside reports whether a point lies in a polygon, by the crossings of a ray.
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
			if !slices.ContainsFunc(labelsOf(d), func(l *doc.Label) bool { return l.Text == s.brief(written) }) {
				t.Errorf("%s: the angle is not written", id)
			}

			zones := pathsOf(d, func(p *doc.Path) bool { return p.Closed && p.Line == doc.Signal && len(p.Dash) > 0 })
			if len(zones) != 2 {
				t.Fatalf("%s: dashed outlines: %d; expected the zone and its legend", id, len(zones))
			}
			zone := corners(zones[0])
			coupler, _ := spec.First[*product.Coupler](s.Build)
			at := func(x, z float64) doc.Point {
				return shapes.Pt(m.front+(x-float64(coupler.Fitting.At.X.Value))*m.scale, m.ground-z*m.scale)
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
