package derive

import (
	"strings"
	"testing"
)

// heavyPair returns neck-28 axles of the class of 11,000 lb, the rear one labeled as told.
func heavyPair(rear string) unit {
	return unit{"neck-28", "", [][2]string{{"gawr: [10000 lb, 10000 lb]", "gawr: [10000 lb, " + rear + " lb]"},
		{"beam: 10000 lb\n    spring: 10000 lb\n    hub: 10000 lb\n    brake: { kind: electric, rating: 10000 lb", "beam: 11000 lb\n    spring: 11000 lb\n    hub: 11000 lb\n    brake: { kind: electric, rating: 11000 lb"}}}
}

// The same axles further apart are a tandem, and so kept by the law.
func TestAxleGroup(t *testing.T) {
	for _, c := range []struct {
		front string
		over  bool
	}{{"258", true}, {"257.9", false}, {"190", false}} { // 40 in ahead of 298
		u := heavyPair("11000")
		u.swap = append(u.swap, [2]string{"x: 262 in", "x: " + c.front + " in"})
		_, findings := u.evaluated(t)
		over := false
		for _, f := range findings {
			over = over || f.Code == "axle-group"
		}
		if over != c.over {
			t.Errorf("front axle at %s: %v", c.front, findings)
		}
	}
	two, _ := unit{"neck-28", "", nil}.evaluated(t)
	for _, name := range []string{"axles.spread", "axles.drag_span"} {
		if got := shown(two, name); !strings.HasPrefix(got, "absent") {
			t.Errorf("axles 36 in apart have %s %s", name, got)
		}
	}
}
