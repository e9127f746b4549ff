package quantity

import "testing"

// The sizes are as trailer balls, wrenches and tread gauges are marked: common
// practice, no source.
func TestFractionsOfAnInch(t *testing.T) {
	for _, c := range []struct {
		inches float64
		r      Rounding
		want   string
	}{
		{2.3125, Rounding{Stated: true, Fraction: 16}, "2-5/16 in (59 mm)"},
		{1.875, Rounding{Stated: true, Fraction: 16}, "1-7/8 in (48 mm)"},
		{2, Rounding{Stated: true, Fraction: 16}, "2 in (51 mm)"},
		{0.8125, Rounding{Stated: true, Fraction: 16}, "13/16 in (21 mm)"},
		{2.0 / 32, Rounding{Stated: true, Fraction: 32, MetricStep: 0.1}, "2/32 in (1.6 mm)"},
		{2.3, Rounding{Stated: true, Fraction: 16}, "2.3 in (58 mm)"},
		{2.3, Rounding{Side: Up, Fraction: 16, MetricStep: 1}, "2-5/16 in (59 mm)"},
	} {
		if got := English.Text(Inches(c.inches), c.r); got != c.want {
			t.Errorf("%v in is printed as %q, expected %q", c.inches, got, c.want)
		}
	}
}
