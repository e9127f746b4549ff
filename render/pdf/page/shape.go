package page

// Rectangle returns a filled rectangle without a line.
func Rectangle(x, y, w, h float64, fill Color) *Shape {
	return &Shape{Steps: boxSteps(x, y, w, h), Fill: &fill}
}

// OutlinedRectangle returns a rectangle with a line centered on its edge.
func OutlinedRectangle(t Tag, x, y, w, h, width float64) *Shape {
	return &Shape{Tag: t, Steps: boxSteps(x, y, w, h), Line: &Black, Width: width}
}

// Rule returns a straight black line.
func Rule(x1, y1, x2, y2, width float64) *Shape {
	return &Shape{Steps: []Step{Line('m', x1, y1), Line('l', x2, y2)}, Line: &Black, Width: width}
}

// boxSteps returns the outline of a rectangle.
func boxSteps(x, y, w, h float64) []Step {
	return polygon(at(x, y), at(x+w, y), at(x+w, y+h), at(x, y+h))
}

// polygon returns a closed outline.
func polygon(corners ...Point) []Step {
	out := make([]Step, 0, len(corners)+1)
	for i, c := range corners {
		verb := byte('l')
		if i == 0 {
			verb = 'm'
		}
		out = append(out, Line(verb, c.X, c.Y))
	}
	return append(out, Step{Verb: 'h'})
}

// Disc returns a filled circle.
func Disc(x, y, radius float64, fill Color) *Shape {
	return &Shape{Steps: CircleSteps(x, y, radius), Fill: &fill}
}

// CircleSteps returns the outline of a circle about x, y.
func CircleSteps(x, y, r float64) []Step {
	// 4/3·(√2-1) is the distance of the control points for which four Béziers best approximate a circle.
	k := r * 0.5522847498
	return []Step{
		Line('m', x+r, y),
		{Verb: 'c', At: [3]Point{at(x+r, y+k), at(x+k, y+r), at(x, y+r)}},
		{Verb: 'c', At: [3]Point{at(x-k, y+r), at(x-r, y+k), at(x-r, y)}},
		{Verb: 'c', At: [3]Point{at(x-r, y-k), at(x-k, y-r), at(x, y-r)}},
		{Verb: 'c', At: [3]Point{at(x+k, y-r), at(x+r, y-k), at(x+r, y)}},
		{Verb: 'h'},
	}
}

func at(x, y float64) Point { return Point{X: x, Y: y} }

// Line returns a move or a line.
func Line(verb byte, x, y float64) Step { return Step{Verb: verb, At: [3]Point{2: at(x, y)}} }

// AlertWide is the ratio of width to height of the safety alert symbol.
const AlertWide = 13.5 / 12.4

// Alert draws the safety alert symbol, an exclamation mark in a triangle. It is an artifact, because the signal word follows.
func Alert(x, y, h float64, triangle, mark Color) []Item {
	w := h * AlertWide
	mid := x + w/2
	body := &Shape{
		Steps: polygon(at(mid, y+0.07*h), at(x+0.93*w, y+0.93*h), at(x+0.07*w, y+0.93*h)),
		Fill:  &triangle, Line: &triangle, Width: 0.14 * h, Round: true,
	}
	stroke := &Shape{
		Steps: polygon(at(mid-0.095*h, y+0.32*h), at(mid+0.095*h, y+0.32*h), at(mid+0.057*h, y+0.68*h), at(mid-0.057*h, y+0.68*h)),
		Fill:  &mark,
	}
	return []Item{body, stroke, Disc(mid, y+0.82*h, 0.09*h, mark)}
}

// Octagon draws the mark of a limit, a filled octagon of height h.
func Octagon(x, y, h float64) Item {
	c := h * 0.2929 // the length an octagon's corner cuts off: 1 - 1/√2
	outline := polygon(at(x+c, y), at(x+h-c, y), at(x+h, y+c), at(x+h, y+h-c), at(x+h-c, y+h), at(x+c, y+h),
		at(x, y+h-c), at(x, y+c))
	return &Shape{Steps: outline, Fill: &Black}
}
