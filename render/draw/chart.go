package draw

import (
	"errors"
	"math"
	"strconv"

	"ownerguide/render/doc"
	"ownerguide/render/draw/shapes"
	"ownerguide/spec/quantity"
)

func init() { pictures["coupler-weight-chart"] = couplerChart }

// couplerChart draws the range of coupler weight by the weight of the whole trailer, from
// empty to its rating.
func couplerChart(s *Subject, c *canvas) (float64, string, error) {
	names := [...]string{"weights.empty", "ratings.gvwr", "hitch.tongue_range.empty.low", "hitch.tongue_range.empty.high",
		"hitch.tongue_range.full.low", "hitch.tongue_range.full.high", "ratings.coupler_vertical"}
	var weights [len(names)]float64 // pounds
	var printed [len(names)]string
	for i, name := range names {
		m, ok := exact[quantity.Mass](s, name)
		if printed[i], weights[i] = s.need(name), float64(m); !ok {
			return 0, "", errors.New(name + " is no weight")
		}
	}
	s.Values.DependOnValue(names[0])
	s.Values.DependOnValue(names[1])
	empty, full := weights[0], weights[1]
	lowEmpty, highEmpty, lowFull, highFull, limit := weights[2], weights[3], weights[4], weights[5], weights[6]
	if full <= empty {
		return 0, "", errors.New("the unit may carry nothing")
	}

	// The scale in hundreds of pounds, or thousands, round steps on both axes.
	symbol, per := "lb", 1.0
	if s.Build.Print().System == quantity.Metric {
		symbol, per = "kg", quantity.In(quantity.Pounds(1), "kg")
	}
	stepX, stepY := shapes.RoundStep((full-empty)*per/4), shapes.RoundStep(highFull*per/4)
	left, right := 5.5*c.LabelText, c.Width-22
	const top, bottom = 34, 216
	x := func(w float64) float64 { return left + (w-empty)/(full-empty)*(right-left) }
	y := func(w float64) float64 { return bottom - w/(1.12*highFull)*(bottom-top) }

	grid := doc.Style{Line: doc.Pale, Width: 0.8}
	tick := func(w float64) string { return grouped(w, s.Label("number.group")) }
	for w := 0.0; w <= 1.12*highFull*per; w += stepY {
		c.Line(grid, left, y(w/per), right, y(w/per))
		c.Text(left-6, y(w/per)+4, c.SmallText, doc.End, tick(w))
	}
	// The ends are the unit's own figures, with round ones between them.
	ends := [2]string{s.brief(printed[0]), s.brief(printed[1])}
	c.Text(left-20, bottom+16, c.SmallText, doc.Start, ends[0])
	c.Text(c.Width-shapes.Margin, bottom+16, c.SmallText, doc.End, ends[1])
	for w := math.Ceil(empty*per/stepX) * stepX; w <= full*per; w += stepX {
		at, share, half := x(w/per), (w/per-empty)/(full-empty), shapes.TextWidth(tick(w), shapes.ColumnForm.SmallText)/2
		c.Line(grid, at, top, at, bottom)
		// The same figures in both forms: those for which a column has room.
		room := shapes.ColumnForm.Width - 22 - 5.5*shapes.ColumnForm.LabelText
		if share*room-half > shapes.TextWidth(ends[0], shapes.ColumnForm.SmallText)-12 && (1-share)*room-half > shapes.TextWidth(ends[1], shapes.ColumnForm.SmallText)-10 {
			c.Text(at, bottom+16, c.SmallText, doc.Center, tick(w))
		}
	}
	c.Line(outline, left, top, left, bottom)
	c.Line(outline, left, bottom, right, bottom)

	// The band, cut off at the coupler's rating.
	upper := []doc.Point{shapes.Pt(x(empty), y(highEmpty))}
	if share := highEmpty / empty; share*full > limit+0.5 && share*empty < limit {
		upper = append(upper, shapes.Pt(x(limit/share), y(limit)))
	}
	upper = append(upper, shapes.Pt(x(full), y(highFull)))
	band := append([]doc.Point{shapes.Pt(x(full), y(lowFull)), shapes.Pt(x(empty), y(lowEmpty))}, upper...)
	c.Hatch(warning, 8, band...)
	lower := []doc.Point{shapes.Pt(x(empty), y(lowEmpty)), shapes.Pt(x(full), y(lowFull))}
	c.Polyline(strong, false, lower...)
	c.Polyline(strong, false, upper...)

	// Each text clears its line over its whole width; both lines rise to the right.
	lowAt := func(px float64) float64 {
		return y(lowEmpty) + (y(lowFull)-y(lowEmpty))*(px-left)/(right-left)
	}
	highAt := func(px float64) float64 {
		return y(highEmpty) + (y(highFull)-y(highEmpty))*(px-left)/(right-left)
	}
	c.Text(right, y(highFull)-8, c.SmallText, doc.End, s.brief(printed[5]))
	c.Text(right, lowAt(right-shapes.TextWidth(printed[4], c.SmallText))+18, c.SmallText, doc.End, s.brief(printed[4]))
	heavy, light := s.words("too-heavy"), s.words("too-light")
	if c.Narrow {
		c.Key = append(c.Key, doc.KeyRow{Sign: "a", Text: heavy}, doc.KeyRow{Sign: "b", Text: light})
		c.Balloon(left+0.2*(right-left), highAt(left+0.2*(right-left))-2*c.BalloonRadius, "a")
		c.Balloon(left+0.6*(right-left), lowAt(left+0.6*(right-left))+2*c.BalloonRadius, "b")
	} else {
		c.Text(left+10, highAt(left+10+shapes.TextWidth(heavy, c.SmallText))-8, c.SmallText, doc.Start, heavy)
		c.Text(left+70, lowAt(left+70)+18, c.SmallText, doc.Start, light)
	}

	c.Text(shapes.Margin, 14, c.SmallText, doc.Start, s.words("axis-coupler", "unit", symbol))
	c.Text(right, bottom+33, c.SmallText, doc.End, s.words("axis-trailer", "unit", symbol))
	alt := s.words("coupler-weight-chart.alt", "empty", printed[0], "gvwr", printed[1],
		"empty-low", printed[2], "empty-high", printed[3], "full-low", printed[4], "full-high", printed[5])
	return bottom + 40, alt, nil
}

// grouped formats a whole number with a sign between its thousands.
func grouped(x float64, sign string) string {
	digits := strconv.FormatFloat(x, 'f', 0, 64)
	if len(digits) <= 3 {
		return digits
	}
	return grouped(math.Trunc(x/1000), sign) + sign + digits[len(digits)-3:]
}
