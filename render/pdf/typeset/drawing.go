package typeset

import (
	"errors"
	"fmt"
	"math"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/fonts"
	"ownerguide/render/pdf/page"
)

// Drawing returns a drawing as items at a scale, its left edge at left. Clean makes a label printable.
func (r *Ruler) Drawing(d *doc.Drawing, tag page.Tag, scale, left float64, clean func(string) string) ([]page.Item, error) {
	p := &shapes{tag: tag, scale: scale, left: left, ruler: r, clean: clean}
	for _, s := range d.Shapes {
		p.draw(s)
	}
	return p.items, p.fault
}

// shapes turns the shapes of a drawing into items.
type shapes struct {
	tag   page.Tag
	scale float64
	left  float64
	ruler *Ruler
	clean func(string) string
	items []page.Item
	fault error // the first
}

func (p *shapes) point(q doc.Point) page.Point {
	p.finite(q.X, q.Y)
	return page.Point{X: p.left + q.X*p.scale, Y: q.Y * p.scale}
}

// finite records an error if a number is NaN or infinite, which would make the whole page unreadable.
func (p *shapes) finite(xs ...float64) {
	if !Finite(xs...) && p.fault == nil {
		p.fault = errors.New("a number of its drawing is not finite")
	}
}

// draw adds one shape.
func (p *shapes) draw(s doc.Shape) {
	switch s := s.(type) {
	case *doc.Path:
		p.path(s)
	case *doc.Circle:
		p.finite(s.Radius)
		c := p.point(s.Center)
		p.add(page.CircleSteps(c.X, c.Y, s.Radius*p.scale), s.Style, false)
	case *doc.Label:
		p.label(s)
	default:
		p.fault = fmt.Errorf("cannot draw a shape of type %T", s)
	}
}

func (p *shapes) path(s *doc.Path) {
	from := p.point(s.From)
	steps := append(make([]page.Step, 0, len(s.Segments)+2), page.Line('m', from.X, from.Y))
	for _, g := range s.Segments {
		end, c1, c2 := p.point(g.To), p.point(g.C1), p.point(g.C2)
		switch {
		case g.Move:
			if s.Closed {
				steps = append(steps, page.Step{Verb: 'h'})
			}
			steps = append(steps, page.Line('m', end.X, end.Y))
		case g.Curve:
			steps = append(steps, page.Step{Verb: 'c', At: [3]page.Point{c1, c2, end}})
		default:
			steps = append(steps, page.Line('l', end.X, end.Y))
		}
	}
	if s.Closed {
		steps = append(steps, page.Step{Verb: 'h'})
	}
	p.add(steps, s.Style, s.EvenOdd)
}

// thinnest is the minimum line width in a drawing: thinner lines vanish on paper.
const thinnest = 0.25

// add adds an outline, unless it is neither filled nor stroked.
func (p *shapes) add(steps []page.Step, st doc.Style, evenOdd bool) {
	p.finite(st.Width)
	p.finite(st.Dash...)
	out := &page.Shape{Tag: p.tag, Steps: steps, Round: true, EvenOdd: evenOdd}
	if c, ok := ColorOf(st.Fill); ok {
		out.Fill = &c
	}
	if c, ok := ColorOf(st.Line); ok && st.Width > 0 {
		out.Line = &c
		out.Width = max(st.Width*p.scale, thinnest)
		for _, d := range st.Dash {
			out.Dash = append(out.Dash, max(d, 0)*p.scale)
		}
		if Sum(out.Dash) == 0 {
			out.Dash = nil
		}
	}
	if out.Fill != nil || out.Line != nil {
		p.items = append(p.items, out)
	}
}

// leastLabel is the minimum size of a printed label of a drawing, at any scale.
const leastLabel = 6

// label adds a line of text. The anchor is along the baseline, so a rotated label is moved back along its own direction.
func (p *shapes) label(s *doc.Label) {
	if p.finite(s.Size, s.Turn); s.Size <= 0 {
		p.fault = fmt.Errorf("the label %q has no size", s.Text)
		return
	}
	text := p.clean(s.Text)
	c, ok := ColorOf(s.Ink)
	if !ok || text == "" {
		return
	}
	look := page.Look{Style: fonts.Regular, Size: max(s.Size*p.scale, leastLabel), Ink: c}
	if s.Bold {
		look = look.Bold()
	}
	back := 0.0
	switch w := p.ruler.Width(look, text); s.Anchor {
	case doc.Center:
		back = w / 2
	case doc.End:
		back = w
	}
	at := p.point(s.At)
	sin, cos := math.Sincos(s.Turn * math.Pi / 180)
	p.items = append(p.items, &page.Text{
		Tag: p.tag, X: at.X - back*cos, Y: at.Y + back*sin, Words: text + " ", Look: look, Turn: s.Turn,
	})
}

// Finite reports whether no number is NaN or infinite.
func Finite(xs ...float64) bool {
	for _, x := range xs {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return false
		}
	}
	return true
}

// ColorOf returns the color of an ink on white paper.
func ColorOf(i doc.Ink) (page.Color, bool) {
	if r, g, b, ok := i.RGB(); ok {
		return page.Color{R: r, G: g, B: b}, true
	}
	switch i {
	case doc.Paper:
		return page.White, true
	case doc.Faint:
		return page.Color{R: 232, G: 232, B: 232}, true
	case doc.Pale:
		return page.Color{R: 219, G: 219, B: 219}, true
	case doc.Middle:
		return page.Color{R: 110, G: 110, B: 110}, true
	case doc.Full, doc.Mark:
		return page.Black, true
	case doc.Signal:
		return page.Color{R: 60, G: 60, B: 60}, true
	}
	return page.Color{}, false
}
