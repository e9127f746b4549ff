package derive

import "testing"

// Worked by hand from the sheet of the closed trailer: 2,700 + 58 + 48 + 14 + 6 + 60 lb
// and 3 % more leave 4,027 of 7,000 lb, the axles stand 166.5 in behind the coupler,
// and a gate of 74 in rises by the 22 in of the floor.
func TestClosedBodyValues(t *testing.T) {
	vs, findings := slippedValues(t, "0181", slip{}, slip{})
	for _, f := range findings.Sorted() {
		t.Errorf("%s: %s", f.Pos, f.Message)
	}
	for name, want := range map[string]float64{
		"weights.empty_calculated": 2886, "weights.cargo_capacity": 4027.4, "weights.coupler_calculated": 427.5, "axles.center": 166.5,
		"body.inside_height": 78, "body.opening_width": 78, "body.opening_height": 74, "body.roof_height": 100,
		"loading.ramp_angle": 17.3, "anchors.e_track.limit": 1000, "tiedown.full.wll_needed": 2013.7, "height.overall": 104,
	} {
		if got := exact(t, vs, name); got < want-0.1 || got > want+0.1 {
			t.Errorf("%s is %.2f, expected %.2f", name, got, want)
		}
	}
}
