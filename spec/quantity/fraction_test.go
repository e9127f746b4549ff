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

// What is read without the expression is what the expression finds.
func TestLeadingNumber(t *testing.T) {
	texts := []string{""}
	for i := 0; i < len(texts); i++ {
		if got, want := leadingNumber(texts[i]), number().FindString(texts[i]); got != want {
			t.Errorf("%q: %q, expected %q", texts[i], got, want)
		}
		for _, c := range "12., /l" {
			if len(texts[i]) < 5 {
				texts = append(texts, texts[i]+string(c))
			}
		}
	}
	for _, long := range []string{"123456789012 lb", "1234567890123 lb", "1.123456789 lb", "1.1234567890 lb"} {
		if got, want := leadingNumber(long), number().FindString(long); got != want {
			t.Errorf("%q: %q, expected %q", long, got, want)
		}
	}
}
