package pdf

import (
	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/fonts"
)

// page is one finished page.
type page struct {
	number int // from 1
	items  []item
}

// tag says what an item is for who hears the page: part of an element, or an artifact if element is nil.
type tag struct {
	element  *finish.Element
	artifact finish.ArtifactKind
}

// item is something at a place: *run, *shape, *dots, *area, *anchor or *frame, and until the page is known *bar.
type item interface {
	moved(dx, dy float64) item
}

// colour is red, green and blue, 0 to 255.
type colour struct{ r, g, b uint8 }

// look is how text looks.
type look struct {
	style fonts.Style
	size  float64 // points
	ink   colour
}

// run is text of one look on one baseline.
type run struct {
	tag
	x, y float64 // start of the baseline
	text string
	look look
	turn float64 // degrees counter-clockwise about the start
}

// step is one part of an outline: a move, a line, a curve or the way back to the start. The last point is the end.
type step struct {
	verb byte // m, l, c or h, as in PDF
	at   [3]point
}

type point struct{ x, y float64 }

// shape is an outline, filled, stroked or both.
type shape struct {
	tag
	steps []step
	fill  *colour // nil: not filled
	line  *colour // nil: not stroked
	width float64 // of the line, points
	dash  []float64
	round bool // round ends and corners

	evenOdd bool // strokes inside one another leave holes
}

// area is a rectangle that leads somewhere.
type area struct {
	element *finish.Element // its role is Link
	box     finish.Box
	to      string // "#anchor" or an address
	words   string // what is read aloud
}

// anchor is a place links and bookmarks lead to.
type anchor struct {
	name string
	y    float64
}

// frame notes where a figure lies, for its element.
type frame struct {
	element *finish.Element
	box     finish.Box
}

func (r *run) moved(dx, dy float64) item {
	m := *r
	m.x, m.y = r.x+dx, r.y+dy
	return &m
}

// moved copies the steps: a table head is placed on many pages.
func (s *shape) moved(dx, dy float64) item {
	m := *s
	m.steps = make([]step, len(s.steps))
	for i, st := range s.steps {
		for k := range st.at {
			st.at[k].x += dx
			st.at[k].y += dy
		}
		m.steps[i] = st
	}
	return &m
}

func (a *area) moved(dx, dy float64) item {
	m := *a
	m.box.X, m.box.Y = a.box.X+dx, a.box.Y+dy
	return &m
}

func (a *anchor) moved(_, dy float64) item { return &anchor{a.name, a.y + dy} }

func (f *frame) moved(dx, dy float64) item {
	m := *f
	m.box.X, m.box.Y = f.box.X+dx, f.box.Y+dy
	return &m
}

// shift moves items by a distance.
func shift(items []item, dx, dy float64) []item {
	moved := make([]item, len(items))
	for i, it := range items {
		moved[i] = it.moved(dx, dy)
	}
	return moved
}

// silent copies items as artifacts without links and anchors: a table head repeated on the next page is not read twice.
func silent(items []item) []item {
	var out []item
	for _, it := range items {
		switch it := it.(type) {
		case *run:
			m := *it
			m.tag = tag{}
			out = append(out, &m)
		case *shape:
			m := *it
			m.tag = tag{}
			out = append(out, &m)
		}
	}
	return out
}

// rectangle is a filled rectangle without a line.
func rectangle(t tag, x, y, w, h float64, fill colour) *shape {
	return &shape{tag: t, steps: boxSteps(x, y, w, h), fill: &fill}
}

// outlined is a rectangle with a line centred on its edge.
func outlined(t tag, x, y, w, h, width float64, line colour) *shape {
	return &shape{tag: t, steps: boxSteps(x, y, w, h), line: &line, width: width}
}

// rule is a straight line.
func rule(t tag, x1, y1, x2, y2, width float64, line colour) *shape {
	return &shape{tag: t, steps: []step{to('m', x1, y1), to('l', x2, y2)}, line: &line, width: width}
}

// boxSteps is the outline of a rectangle.
func boxSteps(x, y, w, h float64) []step {
	return []step{to('m', x, y), to('l', x+w, y), to('l', x+w, y+h), to('l', x, y+h), {verb: 'h'}}
}

// disc is a circle of four curves.
func disc(t tag, x, y, radius float64, fill, line *colour, width float64) *shape {
	return &shape{tag: t, steps: circleSteps(x, y, radius), fill: fill, line: line, width: width}
}

// circleSteps is the outline of a circle about x, y.
func circleSteps(x, y, r float64) []step {
	// 4/3·(√2-1) is the length of the controls that brings four Béziers closest to a circle.
	k := r * 0.5522847498
	return []step{
		to('m', x+r, y),
		{'c', [3]point{{x + r, y + k}, {x + k, y + r}, {x, y + r}}},
		{'c', [3]point{{x - k, y + r}, {x - r, y + k}, {x - r, y}}},
		{'c', [3]point{{x - r, y - k}, {x - k, y - r}, {x, y - r}}},
		{'c', [3]point{{x + k, y - r}, {x + r, y - k}, {x + r, y}}},
		{verb: 'h'},
	}
}

// to is a move or a line.
func to(verb byte, x, y float64) step { return step{verb: verb, at: [3]point{{}, {}, {x, y}}} }
