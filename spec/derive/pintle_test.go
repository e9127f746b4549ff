package derive

import "testing"

// ringCoupler turns the coupler of hand-20 into a pintle ring.
func ringCoupler(entries string) [2]string {
	return [2]string{"kind: ball, ball: 2.3125 in, gross: 16000 lb, vertical: 2500 lb, ball_height_low: 20 in, ball_height_high: 24 in, latch: lever-and-pin",
		"kind: pintle-ring, " + entries}
}

const soundRing = "ring: 3 in, ring_section: 1.625 in, gross: 16000 lb, vertical: 2500 lb, ring_height_low: 20 in, ring_height_high: 24 in"

func TestPintleRing(t *testing.T) {
	vs, _ := unit{"hand-20", weighed, [][2]string{ringCoupler(soundRing)}}.evaluated(t)
	for _, c := range []struct{ name, want string }{
		{"hitch.kind", "pintle ring"},
		{"hitch.ring", "3 in (76.2 mm)"},
		{"hitch.ring_section", "1-5/8 in (41.3 mm)"},
		{"hitch.ring_least", "1.30 in (33.1 mm)"}, // 1.625 x 0.8; 33.02 mm upward
		{"hitch.ring_height_low", "20 in (508 mm)"},
		{"hitch.ring_height_high", "24 in (609 mm)"},
		{"hitch.vertical_needed", "2,310 lb (1,048 kg)"}, // 15 % of 15,400
	} {
		if got := shown(vs, c.name); got != c.want {
			t.Errorf("%s is %s, expected %s", c.name, got, c.want)
		}
	}
	for _, name := range []string{"hitch.ball", "hitch.ball_height_low", "coupler.latch"} {
		if _, ok := vs.Lookup(name); ok {
			t.Errorf("a unit with a ring has %s", name)
		}
	}
}
