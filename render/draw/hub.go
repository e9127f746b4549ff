package draw

import (
	"errors"
	"math"

	"ownerguide/render/doc"
	"ownerguide/render/draw/shapes"
	"ownerguide/spec"
	"ownerguide/spec/product"
)

func init() { pictures["hub-oil"] = hubOil }

// hubOil draws the cap of an oil-bath hub from outside with the right level in its window,
// and two wrong levels; not to scale.
func hubOil(s *Subject, c *canvas) (float64, string, error) {
	axle, ok := spec.First[*product.Axle](s.Build)
	if !ok || axle.Data.Bearings.Value != "oil-bath" {
		return 0, "", errors.New("no axle has oil-bath hubs")
	}
	const radius = 34.0
	down, third := 0.0, (c.Width-2*shapes.Margin)/3
	for i, window := range []struct {
		label string
		level float64 // oil level below the mark, in radii
	}{{"hub-oil-right", 0}, {"hub-oil-low", 0.55}, {"hub-oil-high", -0.5}} {
		x, y := shapes.Margin+third*(float64(i)+0.5), 50.0
		c.Circle(part, x, y, radius+8)
		c.Circle(white, x, y, radius)
		mark := y + 0.15*radius
		var oil []doc.Point
		for a, half := 0.0, math.Acos((mark+window.level*radius-y)/radius); a <= 1; a += 1.0 / 24 {
			sin, cos := math.Sincos((2*a - 1) * half)
			oil = append(oil, shapes.Pt(x+radius*sin, y+radius*cos))
		}
		c.Polyline(doc.Style{Fill: doc.Middle}, true, oil...)
		c.Line(cord, x-radius, mark, x-0.5*radius, mark)
		c.Line(cord, x+0.5*radius, mark, x+radius, mark)
		c.Circle(solid, x, y, 7) // the plug
		down = max(down, y+radius+24)
		if c.Narrow {
			c.Lettered(x, y+radius+24, s.words(window.label))
			continue
		}
		down = max(down, c.TextBlock(x, y+radius+24, c.SmallText, doc.Center, s.words(window.label), third-8))
	}
	return down + 12, s.words("hub-oil.alt"), nil
}
