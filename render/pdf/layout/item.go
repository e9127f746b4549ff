package layout

import (
	"ownerguide/render/pdf/finish"
)

// Page is one finished page.
type Page struct {
	Number int // from 1
	Items  []Item
}

// Item is something at a place on a page: a [Text], [Shape], [Image], [Link], [Anchor] or [Frame].
type Item interface {
	moved(dx, dy float64) Item
}

// Tag says what an item is for who hears the page: part of an element, or an artifact if Element is nil.
type Tag struct {
	Element  *finish.Element
	Artifact finish.ArtifactKind
}

// Colour is red, green and blue, 0 to 255.
type Colour struct{ R, G, B uint8 }

// Text is words of one look on one baseline.
type Text struct {
	Tag
	X, Y  float64 // start of the baseline
	Words string
	Look  Look
	Turn  float64 // degrees counter-clockwise about the start
}

// Point is a place, counted from the upper left.
type Point struct{ X, Y float64 }

// Step is one part of an outline: a move, a line, a curve or the way back to the start. The last point is the end.
type Step struct {
	Verb byte // m, l, c or h, as in PDF
	At   [3]Point
}

// Shape is an outline, filled, stroked or both.
type Shape struct {
	Tag
	Steps   []Step
	Fill    *Colour // nil: not filled
	Line    *Colour // nil: not stroked
	Width   float64 // of the line, points
	Dash    []float64
	Round   bool // round ends and corners
	EvenOdd bool // strokes inside one another leave holes
}

// Image is a PNG in a box.
type Image struct {
	Tag
	Box finish.Box
	PNG []byte
}

// Link is a rectangle that leads somewhere.
type Link struct {
	Element *finish.Element // its role is Link
	Box     finish.Box
	To      string // "#anchor" or an address
	Words   string // what is read aloud
}

// Anchor is a place links and bookmarks lead to.
type Anchor struct {
	Name string
	Y    float64
}

// Frame notes where a figure lies, for its element.
type Frame struct {
	Element *finish.Element
	Box     finish.Box
}

func (t *Text) moved(dx, dy float64) Item {
	m := *t
	m.X, m.Y = t.X+dx, t.Y+dy
	return &m
}

// moved copies the steps: a table's head is placed in many columns.
func (s *Shape) moved(dx, dy float64) Item {
	m := *s
	m.Steps = make([]Step, len(s.Steps))
	for i, st := range s.Steps {
		for k := range st.At {
			st.At[k].X += dx
			st.At[k].Y += dy
		}
		m.Steps[i] = st
	}
	return &m
}

func (i *Image) moved(dx, dy float64) Item {
	m := *i
	m.Box.X, m.Box.Y = i.Box.X+dx, i.Box.Y+dy
	return &m
}

func (l *Link) moved(dx, dy float64) Item {
	m := *l
	m.Box.X, m.Box.Y = l.Box.X+dx, l.Box.Y+dy
	return &m
}

func (a *Anchor) moved(_, dy float64) Item { return &Anchor{a.Name, a.Y + dy} }

func (f *Frame) moved(dx, dy float64) Item {
	m := *f
	m.Box.X, m.Box.Y = f.Box.X+dx, f.Box.Y+dy
	return &m
}

// shift moves items by a distance.
func shift(items []Item, dx, dy float64) []Item {
	moved := make([]Item, len(items))
	for i, it := range items {
		moved[i] = it.moved(dx, dy)
	}
	return moved
}

// Silent copies items as artifacts without links and anchors: what is repeated is not read twice.
func Silent(items []Item) []Item {
	var out []Item
	for _, it := range items {
		if it, ok := it.(interface{ Silent() Item }); ok {
			out = append(out, it.Silent())
		}
	}
	return out
}

// Silent is the text as an artifact.
func (t *Text) Silent() Item {
	m := *t
	m.Tag = Tag{}
	return &m
}

// Silent is the shape as an artifact.
func (s *Shape) Silent() Item {
	m := *s
	m.Tag = Tag{}
	return &m
}

// rectangle is a filled rectangle without a line.
func rectangle(x, y, w, h float64, fill Colour) *Shape {
	return &Shape{Steps: boxSteps(x, y, w, h), Fill: &fill}
}

// outlined is a rectangle with a line centred on its edge.
func outlined(t Tag, x, y, w, h, width float64) *Shape {
	return &Shape{Tag: t, Steps: boxSteps(x, y, w, h), Line: &black, Width: width}
}

// rule is a straight black line.
func rule(x1, y1, x2, y2, width float64) *Shape {
	return &Shape{Steps: []Step{to('m', x1, y1), to('l', x2, y2)}, Line: &black, Width: width}
}

// boxSteps is the outline of a rectangle.
func boxSteps(x, y, w, h float64) []Step {
	return polygon(Point{x, y}, Point{x + w, y}, Point{x + w, y + h}, Point{x, y + h})
}

// polygon is a closed outline.
func polygon(corners ...Point) []Step {
	var out []Step
	for i, c := range corners {
		verb := byte('l')
		if i == 0 {
			verb = 'm'
		}
		out = append(out, to(verb, c.X, c.Y))
	}
	return append(out, Step{Verb: 'h'})
}

// disc is a filled circle.
func disc(x, y, radius float64, fill Colour) *Shape {
	return &Shape{Steps: circleSteps(x, y, radius), Fill: &fill}
}

// circleSteps is the outline of a circle about x, y.
func circleSteps(x, y, r float64) []Step {
	// 4/3·(√2-1) is the length of the controls that brings four Béziers closest to a circle.
	k := r * 0.5522847498
	return []Step{
		to('m', x+r, y),
		{'c', [3]Point{{x + r, y + k}, {x + k, y + r}, {x, y + r}}},
		{'c', [3]Point{{x - k, y + r}, {x - r, y + k}, {x - r, y}}},
		{'c', [3]Point{{x - r, y - k}, {x - k, y - r}, {x, y - r}}},
		{'c', [3]Point{{x + k, y - r}, {x + r, y - k}, {x + r, y}}},
		{Verb: 'h'},
	}
}

// to is a move or a line.
func to(verb byte, x, y float64) Step { return Step{Verb: verb, At: [3]Point{{}, {}, {x, y}}} }
