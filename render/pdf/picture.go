package pdf

import (
	"fmt"
	"math"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/fonts"
	"ownerguide/spec/source"
)

// leastLabel is the size below which no label of a drawing is printed, whatever the scale.
const leastLabel = 6

// inkOf is the colour of an ink on white paper.
func inkOf(i doc.Ink) (colour, bool) {
	if r, g, b, ok := i.RGB(); ok {
		return colour{r, g, b}, true
	}
	switch i {
	case doc.Paper:
		return white, true
	case doc.Faint:
		return colour{232, 232, 232}, true
	case doc.Pale:
		return colour{205, 205, 205}, true
	case doc.Middle:
		return colour{110, 110, 110}, true
	case doc.Full:
		return black, true
	case doc.Signal:
		return colour{60, 60, 60}, true
	}
	return colour{}, false
}

// givesWay is the scale of a picture set smaller, where that brings it onto the page of what tells of it: labels of the 11 points that
// drawings are made with are still as large as captions.
const givesWay = 0.8

// picture sets a drawing with its caption as one slab. A drawing as wide as the page hangs out to the left; no drawing is wider than
// its sheet unless it wants the full width, and none is taller than the page.
func (l *layout) figure(n *doc.Figure, s setting) ([]*slab, error) {
	if n.Drawing == nil {
		return nil, fmt.Errorf("%s: picture %s has no drawing", s.where(), n.Name)
	}
	d := n.Drawing
	if !finite(d.Width, d.Height) || d.Width <= 0 || d.Height <= 0 {
		return nil, fmt.Errorf("%s: picture %s has a sheet of %g by %g points", s.where(), n.Name, d.Width, d.Height)
	}
	if n.Alt == "" {
		return nil, fmt.Errorf("%s: picture %s has no words for who cannot see it", s.where(), n.Name)
	}
	fig := s.element(finish.RoleFigure)
	fig.Alt = n.Alt

	left, width := s.left, s.width
	if s.outer && (n.Wide || d.Width > width) {
		left, width = 0, l.sheet.text()
	}
	scale := width / d.Width
	if !n.Wide {
		scale = min(scale, 1)
	}

	var caption []line
	if n.Caption != "" {
		e := &finish.Element{Role: finish.RoleCaption}
		s.parent.Children = append(s.parent.Children, e)
		text := []piece{{text: l.clean(n.Caption, s.origin), look: s.note}}
		caption = l.set(text, width, textStyle{leading: noteLeading, element: e})
	}
	under := 0.0
	if len(caption) > 0 {
		under = 5 + float64(len(caption))*noteLeading
	}
	limit := l.sheet.room() - under
	if s.pictureLimit > 0 {
		limit = min(limit, s.pictureLimit)
	}
	if s.role == doc.RoleCover && s.outer {
		l.coverPicture = d.Height * scale
	}
	scale = min(scale, limit/d.Height)

	name := fmt.Sprintf("picture %s at %s", n.Name, s.where())
	set := func(scale float64) (*slab, error) {
		p := pencil{tag: tag{element: fig}, scale: scale, left: left, layout: l, origin: s.origin}
		for _, sh := range d.Shapes {
			if err := p.draw(sh); err != nil {
				return nil, fmt.Errorf("%s: picture %s: %w", s.where(), n.Name, err)
			}
		}
		out := &slab{above: 8, below: 12, float: true, height: d.Height*scale + under, name: name}
		out.items = append(p.items, &frame{fig, finish.Box{X: left, Y: 0, W: d.Width * scale, H: d.Height * scale}})
		for i, ln := range caption {
			out.items = append(out.items, shift(ln.items, left, d.Height*scale+5+float64(i)*noteLeading)...)
		}
		return out, nil
	}
	out, err := set(scale)
	if err == nil && s.role != doc.RoleCover && !l.sheet.card {
		out.smaller, err = set(scale * givesWay)
	}
	return []*slab{out}, err
}

// pencil turns the shapes of a drawing into items.
type pencil struct {
	*layout
	tag    tag
	scale  float64
	left   float64
	origin source.Pos
	items  []item
}

func (p *pencil) point(q doc.Point) point { return point{p.left + q.X*p.scale, q.Y * p.scale} }

// draw adds one shape. A figure that is not a number would make the whole page unreadable, so it is an error.
func (p *pencil) draw(s doc.Shape) error {
	switch s := s.(type) {
	case *doc.Path:
		return p.path(s)
	case *doc.Circle:
		if !finite(s.Center.X, s.Center.Y, s.Radius) {
			return fmt.Errorf("a circle is not finite")
		}
		c := p.point(s.Center)
		return p.add(circleSteps(c.x, c.y, s.Radius*p.scale), s.Style, false)
	case *doc.Label:
		return p.label(s)
	}
	return fmt.Errorf("cannot draw a shape of type %T", s)
}

func (p *pencil) path(s *doc.Path) error {
	from := p.point(s.From)
	steps := []step{to('m', from.x, from.y)}
	for _, g := range s.Segments {
		end, c1, c2 := p.point(g.To), p.point(g.C1), p.point(g.C2)
		if !finite(end.x, end.y, c1.x, c1.y, c2.x, c2.y) {
			return fmt.Errorf("a path is not finite")
		}
		switch {
		case g.Move:
			if s.Closed {
				steps = append(steps, step{verb: 'h'})
			}
			steps = append(steps, to('m', end.x, end.y))
		case g.Curve:
			steps = append(steps, step{'c', [3]point{c1, c2, end}})
		default:
			steps = append(steps, to('l', end.x, end.y))
		}
	}
	if s.Closed {
		steps = append(steps, step{verb: 'h'})
	}
	if !finite(from.x, from.y) {
		return fmt.Errorf("a path is not finite")
	}
	return p.add(steps, s.Style, s.EvenOdd)
}

// add draws an outline; one that is neither filled nor stroked leaves nothing.
func (p *pencil) add(steps []step, st doc.Style, evenOdd bool) error {
	if !finite(st.Width) || !finite(st.Dash...) {
		return fmt.Errorf("a line's width or dash is not finite")
	}
	out := &shape{tag: p.tag, steps: steps, round: true, evenOdd: evenOdd}
	if c, ok := inkOf(st.Fill); ok {
		out.fill = &c
	}
	if c, ok := inkOf(st.Line); ok && st.Width > 0 {
		out.line = &c
		out.width = max(st.Width*p.scale, 0.25) // a thinner line vanishes on paper
		for _, d := range st.Dash {
			out.dash = append(out.dash, max(d, 0)*p.scale)
		}
		if sum(out.dash) == 0 {
			out.dash = nil
		}
	}
	if out.fill != nil || out.line != nil {
		p.items = append(p.items, out)
	}
	return nil
}

// label adds a line of text. The anchor counts along the baseline, so a turned label is moved back along its own slope.
func (p *pencil) label(s *doc.Label) error {
	if !finite(s.At.X, s.At.Y, s.Size, s.Turn) || s.Size <= 0 {
		return fmt.Errorf("label %q is not finite or has no size", s.Text)
	}
	text := p.clean(s.Text, p.origin)
	c, ok := inkOf(s.Ink)
	if !ok || text == "" {
		return nil
	}
	lk := look{fonts.Regular, max(s.Size*p.scale, leastLabel), c}
	if s.Bold {
		lk = lk.bold()
	}
	back := 0.0
	switch w := p.ruler.width(lk, text); s.Anchor {
	case doc.Center:
		back = w / 2
	case doc.End:
		back = w
	}
	at := p.point(s.At)
	sin, cos := math.Sincos(s.Turn * math.Pi / 180)
	p.items = append(p.items, &run{
		tag: p.tag, x: at.x - back*cos, y: at.y + back*sin, text: text + " ", look: lk, turn: s.Turn,
	})
	return nil
}

// finite tells whether all figures are numbers one can draw with.
func finite(xs ...float64) bool {
	for _, x := range xs {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return false
		}
	}
	return true
}
