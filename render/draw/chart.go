package draw

import (
	"errors"
	"math"
	"strconv"

	"ownerguide/render/doc"
	"ownerguide/spec/quantity"
)

func init() { pictures["coupler-weight-chart"] = couplerChart }

// couplerChart shows which coupler weight belongs to which weight of the whole
// trailer, from empty to its rating.
func couplerChart(s *Subject, c *canvas) (float64, string, error) {
	names := [...]string{"weights.empty", "ratings.gvwr", "hitch.tongue_range.empty.low", "hitch.tongue_range.empty.high",
		"hitch.tongue_range.full.low", "hitch.tongue_range.full.high", "ratings.coupler_vertical"}
	var exact [len(names)]float64
	var printed [len(names)]string
	for i, name := range names {
		text, err := s.need(name)
		if err != nil {
			return 0, "", err
		}
		v, _ := s.Values.Lookup(name)
		m, ok := v.Exact.(quantity.Mass)
		if !ok {
			return 0, "", errors.New(name + " is no weight")
		}
		exact[i], printed[i] = float64(m), text
	}
	empty, full := exact[0], exact[1]
	lowEmpty, highEmpty, lowFull, highFull, limit := exact[2], exact[3], exact[4], exact[5], exact[6]
	if full <= empty {
		return 0, "", errors.New("the unit may carry nothing")
	}

	// The scale in hundreds of pounds, or thousands, round steps on both axes.
	symbol, per := "lb", 1.0
	if s.Build.Line.Maker.Print().System == quantity.Metric {
		symbol, per = "kg", quantity.In(quantity.Pounds(1), "kg")
	}
	stepX, stepY := roundStep((full-empty)*per/4), roundStep(highFull*per/4)
	left, right := 5.5*c.label, c.width-22
	const top, bottom = 34, 216
	x := func(w float64) float64 { return left + (w-empty)/(full-empty)*(right-left) }
	y := func(w float64) float64 { return bottom - w/(1.12*highFull)*(bottom-top) }

	grid := doc.Style{Line: doc.Pale, Width: 0.8}
	tick := func(w float64) string { return grouped(w, s.Label("number.group")) }
	for w := 0.0; w <= 1.12*highFull*per; w += stepY {
		c.line(grid, left, y(w/per), right, y(w/per))
		c.text(left-6, y(w/per)+4, c.least, doc.End, tick(w))
	}
	// The ends carry the unit's own figures; round ones stand between.
	ends := [2]string{brief(printed[0]), brief(printed[1])}
	c.text(left-20, bottom+16, c.least, doc.Start, ends[0])
	c.text(c.width-margin, bottom+16, c.least, doc.End, ends[1])
	for w := math.Ceil(empty*per/stepX) * stepX; w <= full*per; w += stepX {
		at, share, half := x(w/per), (w/per-empty)/(full-empty), width(tick(w), column.least)/2
		c.line(grid, at, top, at, bottom)
		// The same figures in both forms: those that a column has room for.
		room := column.width - 22 - 5.5*column.label
		if share*room-half > width(ends[0], column.least)-12 && (1-share)*room-half > width(ends[1], column.least)-10 {
			c.text(at, bottom+16, c.least, doc.Center, tick(w))
		}
	}
	c.line(outline, left, top, left, bottom)
	c.line(outline, left, bottom, right, bottom)

	// The band, its upper edge cut off where the coupler's rating is reached.
	upper := []doc.Point{pt(x(empty), y(highEmpty))}
	if share := highEmpty / empty; share*full > limit+0.5 && share*empty < limit {
		upper = append(upper, pt(x(limit/share), y(limit)))
	}
	upper = append(upper, pt(x(full), y(highFull)))
	band := append([]doc.Point{pt(x(full), y(lowFull)), pt(x(empty), y(lowEmpty))}, upper...)
	c.hatch(warning, 8, band...)
	lower := []doc.Point{pt(x(empty), y(lowEmpty)), pt(x(full), y(lowFull))}
	c.polyline(strong, false, lower...)
	c.polyline(strong, false, upper...)

	// Each text clears its line over its whole width; both lines rise to the right.
	lowAt := func(px float64) float64 {
		return y(lowEmpty) + (y(lowFull)-y(lowEmpty))*(px-left)/(right-left)
	}
	highAt := func(px float64) float64 {
		return y(highEmpty) + (y(highFull)-y(highEmpty))*(px-left)/(right-left)
	}
	c.text(right, y(highFull)-8, c.least, doc.End, brief(printed[5]))
	c.text(right, lowAt(right-width(printed[4], c.least))+18, c.least, doc.End, brief(printed[4]))
	heavy, light := s.words("too-heavy"), s.words("too-light")
	if c.column {
		c.key = append(c.key, doc.KeyRow{Sign: "a", Text: heavy}, doc.KeyRow{Sign: "b", Text: light})
		c.circled(left+0.2*(right-left), highAt(left+0.2*(right-left))-2*c.sign, "a")
		c.circled(left+0.6*(right-left), lowAt(left+0.6*(right-left))+2*c.sign, "b")
	} else {
		c.text(left+10, highAt(left+10+width(heavy, c.least))-8, c.least, doc.Start, heavy)
		c.text(left+70, lowAt(left+70)+18, c.least, doc.Start, light)
	}

	c.text(margin, 14, c.least, doc.Start, s.words("axis-coupler", "unit", symbol))
	c.text(right, bottom+33, c.least, doc.End, s.words("axis-trailer", "unit", symbol))
	alt := s.words("coupler-weight-chart.alt", "empty", printed[0], "gvwr", printed[1],
		"empty-low", printed[2], "empty-high", printed[3], "full-low", printed[4], "full-high", printed[5])
	return bottom + 40, alt, nil
}

// roundStep gives the nearest of 1, 2, 5 × 10ⁿ at or above a distance.
func roundStep(x float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(x)))
	for _, f := range []float64{1, 2, 5} {
		if f*power >= x {
			return f * power
		}
	}
	return 10 * power
}

// grouped writes a whole number with a sign between its thousands.
func grouped(x float64, sign string) string {
	digits := strconv.FormatFloat(x, 'f', 0, 64)
	if len(digits) <= 3 {
		return digits
	}
	return grouped(math.Trunc(x/1000), sign) + sign + digits[len(digits)-3:]
}
