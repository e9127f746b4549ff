package derive

import "testing"

// The unit with oil hubs and a pump for its brakes, by hand: 9,800 + 180 + 260 + 210
// + 150 + 120 lb and 3 % more, 24 A over 2 x 42 ft of 6 AWG.
func TestOilHubsAndBrakePump(t *testing.T) {
	vs, findings := slippedValues(t, "0188", slip{}, slip{})
	for _, f := range findings.Sorted() {
		t.Errorf("%s: %s", f.Pos, f.Message)
	}
	for name, want := range map[string]float64{
		"jack.current": 150, "jack.capacity": 20000, "wiring.jack_drop": 1.47, "axles.count": 3, "brakes.count": 6, "ratings.gvwr": 28000, "weights.cargo_capacity": 16958.4, "wiring.brake_drop": 6.64,
		"actuator.pressure": 1600, "actuator.pump_current": 24, "brakes.rotor_limit": 0.88, "brakes.lining_limit": 0.09375,
		"hitch.tongue_range.full.low": 4200, "hitch.tongue_range.full.high": 7000,
	} {
		if got := exact(t, vs, name); got < want-0.2 || got > want+0.2 {
			t.Errorf("%s is %.3f, expected %.3f", name, got, want)
		}
	}
}
