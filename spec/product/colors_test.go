package product

import (
	"math"
	"testing"
)

// Pairs and ratios as published for the formula. Source: WebAIM's "Contrast and
// color accessibility" (#777777 on white fails by a hair, #767676 passes) and the
// ends of the scale in WCAG 2.2; from memory.
func TestContrast(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want float64
	}{
		{"#000000", "#ffffff", 21}, {"#ffffff", "#ffffff", 1}, {"#777777", "#ffffff", 4.48}, {"#767676", "#ffffff", 4.54}, {"#ff0000", "#ffffff", 4.00}, {"#0000ff", "#ffffff", 8.59},
	} {
		a, ok := parseColor(c.a)
		b, also := parseColor(c.b)
		if got := contrast(a, b); !ok || !also || math.Abs(got-c.want) > 0.005 {
			t.Errorf("%s on %s: %.3f, expected %.2f", c.a, c.b, got, c.want)
		}
		if contrast(a, b) != contrast(b, a) {
			t.Errorf("%s and %s: the order matters", c.a, c.b)
		}
	}
	for _, bad := range []string{"", "#fff", "1a4d2e", "#1a4d2", "#1a4d2g", "red", "#1a4d2e;"} {
		if _, ok := parseColor(bad); ok {
			t.Errorf("%q is read as a colour", bad)
		}
	}
}
