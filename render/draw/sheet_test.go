package draw

import (
	"fmt"
	"math"
	"ownerguide/render/doc"
	"ownerguide/render/draw/shapes"
	"strings"
	"testing"
)

func TestClock(t *testing.T) {
	for place, want := range map[string]doc.Point{"12 o'clock": shapes.Pt(0, -1), "3 o'clock": shapes.Pt(1, 0), "6 o'clock": shapes.Pt(0, 1), "9 o'clock": shapes.Pt(-1, 0), "center": shapes.Pt(0, 0)} {
		x, y, _, err := clock(place)
		if err != nil || math.Hypot(x-want.X, y-want.Y) > 1e-9 {
			t.Errorf("%s: %g, %g, %v; expected %v", place, x, y, err, want)
		}
	}
	for _, place := range []string{"", "left", "0 o'clock", "13 o'clock", "3"} {
		if _, _, _, err := clock(place); err == nil && place != "3" {
			t.Errorf("%q passes for an hour", place)
		}
	}
}

func TestStuds(t *testing.T) {
	if got, err := studs("1-3-5-2-4"); err != nil || fmt.Sprint(got) != "[1 3 5 2 4]" {
		t.Errorf("1-3-5-2-4: %v, %v", got, err)
	}
	for _, wrong := range []string{"", "1-3-5-2", "1-1-2-3", "0-1-2-3", "1-2-x-3", strings.Repeat("1-", 4)} {
		if got, err := studs(wrong); err == nil {
			t.Errorf("%q passes for an order: %v", wrong, got)
		}
	}
}

func TestRoundStep(t *testing.T) {
	for x, want := range map[float64]float64{1: 1, 1.01: 2, 2.1: 5, 5.1: 10, 620: 1000, 48: 50, 0.3: 0.5} {
		if got := shapes.RoundStep(x); math.Abs(got-want) > 1e-9*want {
			t.Errorf("step for %g is %g; expected %g", x, got, want)
		}
	}
}

func TestGrouped(t *testing.T) {
	for x, want := range map[float64]string{0: "0", 999: "999", 1000: "1,000", 23450: "23,450", 1234567: "1,234,567"} {
		if got := grouped(x, ","); got != want {
			t.Errorf("%g is written %s; expected %s", x, got, want)
		}
	}
}
