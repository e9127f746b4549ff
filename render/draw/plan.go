package draw

import (
	"errors"
	"strconv"
	"strings"

	"ownerguide/render/doc"
	"ownerguide/render/draw/shapes"
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
)

func init() {
	pictures["plan-view"] = planView
	pictures["plan-stops"] = planStops
}

// plan draws in inches of the unit, from above: x rearward, left is down.
type plan struct {
	*canvas
	scale, x, y float64 // points per inch; position of the coupler's center
}

func (p plan) at(x, y float64) doc.Point { return shapes.Pt(p.x+x*p.scale, p.y+y*p.scale) }

func (p plan) box(s doc.Style, front, rear, right, left float64) {
	p.Polyline(s, true, p.at(front, right), p.at(rear, right), p.at(rear, left), p.at(front, left))
}

func (u *unit) newPlan(c *canvas, top float64) plan {
	left, right := 12.0, c.Width-12
	p := plan{canvas: c, scale: (right - left) / (u.rear - u.front)}
	p.x = left - u.front*p.scale
	p.y = top + max(u.wide, u.floor.left-u.floor.right)/2*p.scale
	return p
}

// bandLoads are the loads with a band, as in the names of values.
var bandLoads = [...]string{"25", "50", "75", "100"}

// planView draws the unit from above and below it, to the same scale, where the center of
// the load must be.
func planView(s *Subject, c *canvas) (float64, string, error) {
	u, err := readUnit(s.Build)
	if err != nil {
		return 0, "", err
	}
	p := u.newPlan(c, 30)
	half := max(u.wide, u.floor.left-u.floor.right) / 2
	c.Text(shapes.Margin+2, 12, c.SmallText, doc.Start, s.words("front"))
	front := p.at(u.floor.front, 0).X
	center := p.at(u.axleCenter(), 0).X
	middle := "axle-center"
	if s.Build.Has("single-axle") {
		middle = "axle-one"
	}
	c.Text(center, 20, c.SmallText, doc.Center, s.words(middle))
	u.drawPlan(p)

	// Bars below the unit, with lines through all for the deck's front and the center of the axles.
	rowHeight, bar, lift := 25.0, 13.0, 0.0
	top := p.y + half*p.scale + 22
	if c.Narrow {
		rowHeight, lift, top = 29, 14, top+20 // its label is above a bar
	}
	foot := top + float64(len(bandLoads))*rowHeight
	c.Line(doc.Style{Line: doc.Middle, Width: 0.8, Dash: []float64{5, 3}}, center, 24, center, foot)
	c.Line(shapes.DimensionLine, front, p.y+u.floor.left*p.scale, front, foot)
	c.Line(shapes.DimensionLine, p.at(u.floor.rear, 0).X, p.y+u.floor.left*p.scale, p.at(u.floor.rear, 0).X, foot)
	c.Text(shapes.Margin+2, top-6-1.2*lift, c.SmallText, doc.Start, s.words("load"))
	var told []string
	for i, load := range bandLoads {
		from, ok1 := s.inches("loading.cg_band." + load + ".front")
		to, ok2 := s.inches("loading.cg_band." + load + ".rear")
		if !ok1 || !ok2 {
			continue
		}
		share := s.words("load-" + load)
		y := top + float64(i)*rowHeight + 4
		c.Text(shapes.Margin+2, y+bar-3-lift, c.SmallText, doc.Start, share)
		a, b := p.at(u.floor.front+from, 0).X, p.at(u.floor.front+to, 0).X
		c.Rect(doc.Style{Fill: doc.Paper}, a, y, b-a, bar)
		c.Hatch(warning, 5, shapes.Pt(a, y), shapes.Pt(b, y), shapes.Pt(b, y+bar), shapes.Pt(a, y+bar))
		c.Rect(outline, a, y, b-a, bar)
		low, high := s.Figure("loading.cg_band."+load+".front"), s.Figure("loading.cg_band."+load+".rear")
		c.paperText(a-5, y+bar-3, doc.End, s.brief(low))
		c.paperText(b+5, y+bar-3, doc.Start, s.brief(high))
		told = append(told, s.words("band", "share", share, "front", low, "rear", high))
	}
	if len(told) == 0 {
		return 0, "", errors.New("the unit has no band for the middle of the load")
	}
	c.ruler(s, p, u, foot+4)
	y := c.Note(c.Width/2, foot+34, c.SmallText, doc.Center, s.words("measure-"+u.floorWord()), c.Width-20)
	return y - 4, s.words("plan-view.alt", "bands", doc.Join(s.Label("list.semicolon"), told...)), nil
}

// floorWord returns what the floor is called in labels.
func (u *unit) floorWord() string {
	switch {
	case u.hasDeck && !u.build.Has("enclosed"):
		return "deck"
	case u.cradle != nil:
		return "cradle"
	}
	return "box"
}

// paperText writes over anything there, on a background of paper.
func (c *canvas) paperText(x, y float64, anchor doc.Anchor, text string) {
	w := shapes.TextWidth(text, c.SmallText)
	left := x
	if anchor == doc.End {
		left = x - w
	}
	c.Rect(doc.Style{Fill: doc.Paper}, left-1, y-c.SmallText+1, w+2, c.SmallText+2)
	c.Text(x, y, c.SmallText, anchor, text)
}

// inches returns a length before rounding.
func (s *Subject) inches(name string) (float64, bool) {
	x, ok := exact[quantity.Length](s, name)
	return float64(x), ok
}

// ruler marks every foot behind the front of the floor, some with their number;
// every half meter if the maker uses metric units.
func (c *canvas) ruler(s *Subject, p plan, u *unit, y float64) {
	front, long := p.at(u.floor.front, 0).X, u.floor.rear-u.floor.front
	c.Line(thin, front, y, p.at(u.floor.rear, 0).X, y)
	tick, number, unit := 12.0, 1.0, s.Label("unit.ft")
	if u.build.Print().System == quantity.Metric {
		tick, number, unit = 100/2.54/2, 0.5, s.Label("unit.m")
	}
	every := 2
	for float64(every)*tick*(shapes.ColumnForm.Width-24)/(u.rear-u.front) < 4*shapes.ColumnForm.SmallText { // the same figures in both forms
		every *= 2
	}
	for i := 0; float64(i)*tick <= long; i++ {
		x := front + float64(i)*tick*p.scale
		if i%every != 0 {
			c.Line(thin, x, y, x, y+3)
			continue
		}
		c.Line(thin, x, y, x, y+6)
		text := strings.Replace(unit, "{n}", strconv.FormatFloat(float64(i)*number, 'f', -1, 64), 1)
		half := shapes.TextWidth(text, c.SmallText) / 2
		c.Text(min(x, p.Width-half-1), y+17, c.SmallText, doc.Center, text)
	}
}

// planStops draws the unit from above with the numbers of the walk-around, so that left
// and right can be distinguished.
func planStops(s *Subject, c *canvas) (float64, string, error) {
	u, err := readUnit(s.Build)
	if err != nil {
		return 0, "", err
	}
	if len(s.Stops) == 0 {
		return 0, "", errors.New("the guide has no stops")
	}
	_, points, err := u.points(s)
	if err != nil {
		return 0, "", err
	}
	half := max(u.wide, u.floor.left-u.floor.right) / 2
	alt := s.words("plan-stops.alt", "stops", s.stopList(stopsIn(points)))
	if c.Narrow {
		c.EndLabels(s.words("front"), s.words("right-side"))
		draw := func(c *canvas, v view) { u.drawPlan(plan{canvas: c, scale: v.scale, x: v.x, y: v.y}) }
		c.zones(s, projection{draw, extent{front: u.front, rear: u.rear, low: -half, top: half}, -1}, points, alt)
		return 0, alt, nil
	}
	p := u.newPlan(c, 0)
	up, down := shapes.SplitSides(marksOf(points, view{scale: p.scale, x: p.x}, -1), 0)
	above := shapes.Arrange(up, c.BalloonRadius, 0, c.Width, -half*p.scale-shapes.Gutter)
	below := shapes.Arrange(down, c.BalloonRadius, 0, c.Width, half*p.scale+shapes.Gutter)
	p.y = 16 + above.Height() + half*p.scale
	above.Shift(p.y)
	below.Shift(p.y)
	u.drawPlan(p)
	c.DrawRows(above, below, p.y-half*p.scale, p.y+half*p.scale)
	bottom := p.y + half*p.scale + below.Height()
	c.EndLabels(s.words("front"), s.words("right-side"))
	return bottom + 4, alt, nil
}

// drawPlan draws the unit from above.
func (u *unit) drawPlan(p plan) {
	coupler, _ := u.find("coupler")
	frame := min(20, u.floor.left-4)
	if u.gooseneck {
		p.box(part, coupler.extent.rear-2, u.floor.front, -6, 6)
		p.box(part, u.floor.front-12, u.floor.front, -frame-20, frame+20)
	} else {
		head := coupler.extent.rear - 4
		for _, side := range sides {
			p.Polyline(part, true, p.at(head, side*1), p.at(u.floor.front, side*(frame-2)), p.at(u.floor.front, side*(frame+2)), p.at(head, side*4))
		}
	}
	for _, w := range u.wheels {
		p.box(behind, w.x-1.5, w.x+1.5, -u.track/2, u.track/2)
	}
	u.planFloor(p)
	wheels := dark
	if !u.wheelsOutside() {
		wheels = doc.Style{Line: doc.Middle, Width: 0.9, Dash: []float64{3, 2}}
	}
	u.planWheels(p, wheels)
	p.box(part, coupler.extent.front, coupler.extent.rear, coupler.right, coupler.left)
	for _, t := range u.parts {
		u.planPart(p, t)
	}
}

func (u *unit) planFloor(p plan) {
	f := u.floor
	if u.cradle != nil {
		u.planCradle(p)
		return
	}
	p.box(doc.Style{Line: doc.Full, Width: 1.4, Fill: doc.Pale}, f.front, f.rear, f.right, f.left)
	if !u.hasDeck {
		p.box(thin, f.front+2, f.rear-2, f.right+2, f.left-2)
		return
	}
	board := 12.0 // across, a plank each
	for y := f.right + board; y < f.left-2; y += board {
		p.Polyline(doc.Style{Line: doc.Faint, Width: 0.8}, false, p.at(f.front+1, y), p.at(f.rear-1, y))
	}
	if u.fixed > f.front && u.fixed < f.rear {
		p.Polyline(outline, false, p.at(u.fixed, f.right), p.at(u.fixed, f.left))
	}
	if u.tail < f.rear {
		p.Polyline(thin, false, p.at(u.tail, f.right), p.at(u.tail, f.left))
	}
}

func (u *unit) planWheels(p plan, s doc.Style) {
	for _, w := range u.wheels {
		for _, side := range sides {
			tires := [][2]float64{{-u.tireWidth / 2, u.tireWidth / 2}}
			if u.dual {
				tires = [][2]float64{{-u.tireWidth / 2, -1}, {1, u.tireWidth / 2}}
			}
			for _, t := range tires {
				a, b := side*u.track/2+t[0], side*u.track/2+t[1]
				p.box(s, w.x-w.radius, w.x+w.radius, a, b)
			}
		}
	}
}

// planPart draws parts that are visible or worth knowing from above.
func (u *unit) planPart(p plan, t placedPart) {
	if !t.given {
		return
	}
	e := t.extent
	switch t.Kind {
	case "anchor":
		u.planAnchors(p, t)
	case "jack":
		x, y, _ := e.middle()
		across := []float64{y}
		if j, ok := t.Data.(*product.Jack); ok && j.Count.Value > 1 {
			across = []float64{e.right + 2, e.left - 2}
		}
		for _, y := range across {
			at := p.at(x, y)
			p.Circle(white, at.X, at.Y, max(2.5, 2.5*p.scale))
		}
	case "spare":
		x, y, _ := e.middle()
		if e.left-e.right > 2*(e.top-e.low) { // lying flat
			at := p.at(x, y)
			p.Circle(behind, at.X, at.Y, (e.left-e.right)/2*p.scale)
			return
		}
		p.box(dark, e.front, e.rear, e.right, e.left)
	case "box", "battery", "charger", "solar", "charge-line", "power-unit", "breakaway", "actuator", "winch", "winch-plate", "winch-stand", "rack", "other", "gate", "connector", "tarp":
		style := white
		if t.top <= u.floor.low+1 && e.front >= u.floor.front { // under the floor
			style = behind
		}
		p.box(style, e.front, e.rear, e.right, e.left)
	case "lamps":
		p.box(solid, e.front, e.rear, e.right, e.right+8)
		p.box(solid, e.front, e.rear, e.left-8, e.left)
	case "ramp":
		p.box(behind, e.front, e.rear, e.right, e.left)
	}
}

func (u *unit) planAnchors(p plan, t placedPart) {
	a, ok := t.Data.(*product.Anchor)
	if !ok || a.Kind.Value == "rub-rail" {
		return
	}
	for _, x := range u.anchorsAt(t) {
		for _, side := range sides {
			switch a.Kind.Value {
			case "stake-pocket":
				y := side * (u.floor.left - 1)
				p.box(white, x-2, x+2, y-1.5, y+1.5)
			case "e-track":
				y := side * (u.floor.left - 2)
				p.box(white, x-6, x+6, y-1, y+1)
			default:
				at := p.at(x, side*(u.floor.left-6))
				p.Circle(doc.Style{Line: doc.Full, Width: 1.1, Fill: doc.Paper}, at.X, at.Y, max(2.4, 2.2*p.scale))
			}
		}
	}
}
