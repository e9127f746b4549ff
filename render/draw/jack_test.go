package draw

import (
	"strings"
	"testing"

	"ownerguide/render/doc"
	"ownerguide/spec"
	"ownerguide/spec/product"
)

// A wheel is drawn where the jack has one, and words and picture agree: an owner told to set a foot down looks for it in vain.
func TestJackStandsOnWhatItHas(t *testing.T) {
	wheels := 0
	eachUnit(t, func(t *testing.T, s *Subject) {
		fitted, _ := spec.First[*product.Jack](s.Build)
		d, alt, err := Draw("jack", *s)
		if err != nil {
			t.Fatal(err)
		}
		tire := circlesOf(d, func(c *doc.Circle) bool { return c.Radius == 20 })
		if wheel := fitted.Data.Wheel.Value; wheel != (len(tire) > 0) || wheel != strings.Contains(alt, s.words("jack-wheel.alt", "direction", "", "lift", "")[:20]) {
			t.Errorf("wheel %t: %d are drawn, the words are %q", wheel, len(tire), alt)
		} else if wheel {
			wheels++
		}
	})
	if wheels == 0 {
		t.Error("no unit has a jack with a wheel")
	}
}
