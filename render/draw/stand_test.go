package draw

import (
	"strings"
	"testing"

	"ownerguide/render/doc"
	"ownerguide/spec"
	"ownerguide/spec/product"
)

// footOf returns the lowest point of the jack in a view from the left, in inches above the
// ground: of its dark pad, which no other part at its place has.
func footOf(t *testing.T, s *Subject, d *doc.Drawing) float64 {
	t.Helper()
	m := measure(t, s, d)
	fitted, _ := spec.First[*product.Jack](s.Build)
	coupler, _ := spec.First[*product.Coupler](s.Build)
	x := m.front + (float64(fitted.Fitting.At.X.Value)+float64(fitted.Fitting.Size.Long.Value)/2-float64(coupler.Fitting.At.X.Value))*m.scale
	lowest := m.ground - 1000
	for _, p := range pathsOf(d, func(p *doc.Path) bool { return p.Closed && p.Fill == doc.Full }) {
		if a := extentOf(p); near((a.left+a.right)/2, x, 1) {
			lowest = max(lowest, a.bottom)
		}
	}
	return (m.ground - lowest) / m.scale
}

// TestStands: parked, the unit stands on its jack, whose foot is on the ground. Raised, it
// is coupled, as the check list before it asks: the foot is wound up, and a ball, or the
// metal of a ring, is inside the coupler, at its height, over the axle or at most 4 in ahead of it.
func TestStands(t *testing.T) {
	raised := 0
	eachUnit(t, func(t *testing.T, s *Subject) {
		for _, id := range []string{"unit-view", "side-view"} {
			if foot := footOf(t, s, drawn(t, id, s)); !near(foot, 0, 0.1) {
				t.Errorf("%s: the foot of the jack is %.1f in above the ground", id, foot)
			}
		}
		for _, id := range IDs() {
			if !strings.HasPrefix(id, "raised-") || !s.Build.Has("tilting") && !s.Build.Has("dump") {
				continue
			}
			raised++
			d := drawn(t, id, s)
			m := measure(t, s, d)
			if foot := footOf(t, s, d); foot < 3 {
				t.Errorf("%s: the unit is coupled, and the foot of its jack is %.1f in above the ground", id, foot)
			}
			coupler, _ := spec.First[*product.Coupler](s.Build)
			at := coupler.Fitting.At
			ballX := m.front - float64(at.X.Value)*m.scale // what it couples to is where places begin
			low, high := m.ground-float64(at.Z.Value)*m.scale, m.ground-float64(at.Z.Value+coupler.Fitting.Size.High.Value)*m.scale
			balls := circlesOf(d, func(c *doc.Circle) bool {
				return c.Fill == doc.Full && near(c.Center.X, ballX, 0.5) && c.Center.Y < low && c.Center.Y > high
			})
			if len(balls) != 1 {
				t.Errorf("%s: balls inside the coupler: %d", id, len(balls))
			}
			if s.Build.Has("gooseneck") {
				wheels := circlesOf(d, func(c *doc.Circle) bool { return c.Fill == doc.Faint && near(c.Center.Y+c.Radius, m.ground, 0.5) })
				if len(wheels) != 1 || wheels[0].Center.X < ballX || wheels[0].Center.X > ballX+4*m.scale {
					t.Errorf("%s: wheels of the tow vehicle: %d; the ball must stand over its axle or up to 4 in ahead", id, len(wheels))
				}
			}
		}
	})
	if raised < 6 {
		t.Errorf("raised units: %d; the check proves little", raised)
	}
}

// TestBallAheadOfAxle: in the picture of the coupling, too, the ball in a bed is over the
// axle or ahead of it, and the wheel stands on the ground.
func TestBallAheadOfAxle(t *testing.T) {
	seen := 0
	eachUnit(t, func(t *testing.T, s *Subject) {
		if !s.Build.Has("gooseneck") {
			return
		}
		seen++
		d := drawn(t, "coupling", s)
		wheels := circlesOf(d, func(c *doc.Circle) bool { return c.Fill == doc.Middle })
		balls := circlesOf(d, func(c *doc.Circle) bool { return c.Fill == doc.Pale && c.Radius == 8 })
		if len(wheels) != 1 || len(balls) != 1 {
			t.Fatalf("wheels: %d, balls: %d", len(wheels), len(balls))
		}
		w, b := wheels[0], balls[0]
		if perInch := w.Radius / 15; b.Center.X > w.Center.X || b.Center.X < w.Center.X-4*perInch {
			t.Errorf("the ball is at %.0f, the axle at %.0f", b.Center.X, w.Center.X)
		}
		ground := pathsOf(d, func(p *doc.Path) bool {
			a, c, ok := straight(p)
			return ok && a.Y == c.Y && c.X-a.X > 400 && near(a.Y, w.Center.Y+w.Radius, 0.5)
		})
		if len(ground) != 1 {
			t.Errorf("lines of ground under the wheel: %d", len(ground))
		}
	})
	if seen == 0 {
		t.Error("no unit is a gooseneck")
	}
}

// TestAngleStandsFree: the figure of the angle lies on no part.
func TestAngleStandsFree(t *testing.T) {
	eachUnit(t, func(t *testing.T, s *Subject) {
		for _, id := range IDs() {
			if !strings.HasPrefix(id, "raised-") || !s.Build.Has("tilting") && !s.Build.Has("dump") {
				continue
			}
			d := drawn(t, id, s)
			for _, l := range labelsOf(d) {
				if !strings.HasSuffix(l.Text, "°") {
					continue
				}
				for _, p := range pathsOf(d, func(p *doc.Path) bool { return p.Closed && p.Fill != doc.None && p.Line == doc.Full }) {
					if areaOf(l).meets(extentOf(p)) {
						t.Errorf("%s: %s lies on a part at %+v", id, l.Text, extentOf(p))
					}
				}
			}
		}
	})
}
