package pdf

import (
	"fmt"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
)

// A logo is set no larger than this, in points: it says whose guide this is, and the cover's numbers have the room.
const (
	logoWide = 150
	logoHigh = 40
	logoGap  = 16 // to the title beside it
)

// dots is a picture of dots in a box.
type dots struct {
	tag
	box finish.Box
	png []byte
}

func (d *dots) moved(dx, dy float64) item {
	m := *d
	m.box.X, m.box.Y = d.box.X+dx, d.box.Y+dy
	return &m
}

// logoSize gives the size a logo is set at, and the scale to it.
func logoSize(n *doc.Logo, s setting) (w, h, scale float64, err error) {
	w, h = float64(n.Width), float64(n.Height)
	if n.Drawing != nil {
		w, h = n.Drawing.Width, n.Drawing.Height
	}
	if !finite(w, h) || w <= 0 || h <= 0 || n.Drawing == nil && len(n.PNG) == 0 || n.Alt == "" {
		return 0, 0, 0, fmt.Errorf("%s: the logo has no size, no picture or no words for who cannot see it", s.where())
	}
	scale = min(logoWide/w, logoHigh/h)
	return w * scale, h * scale, scale, nil
}

// logo makes the items of a logo, its upper left corner at the origin.
func (l *layout) logo(n *doc.Logo, s setting) (items []item, w, h float64, err error) {
	w, h, scale, err := logoSize(n, s)
	if err != nil {
		return nil, 0, 0, err
	}
	fig := s.element(finish.RoleFigure)
	fig.Alt = n.Alt
	box := finish.Box{W: w, H: h}
	if n.Drawing == nil {
		return []item{&dots{tag{element: fig}, box, n.PNG}, &frame{fig, box}}, w, h, nil
	}
	p := pencil{tag: tag{element: fig}, scale: scale, layout: l, origin: s.origin}
	for _, sh := range n.Drawing.Shapes {
		if err := p.draw(sh); err != nil {
			return nil, 0, 0, fmt.Errorf("%s: logo: %w", s.where(), err)
		}
	}
	return append(p.items, &frame{fig, box}), w, h, nil
}

// logoBlock sets a logo that stands by itself.
func (l *layout) logoBlock(n *doc.Logo, s setting) ([]*slab, error) {
	items, _, h, err := l.logo(n, s)
	if err != nil {
		return nil, err
	}
	return []*slab{{items: shift(items, s.left, 0), height: h, above: 8, below: 8, name: "logo at " + s.where()}}, nil
}

// titled sets the heading of a section and gives the blocks that stand below it. On a cover the logo that follows stands at the right
// end of the title, on its last line.
func (l *layout) titled(n *doc.Section, s setting) (out []*slab, below []doc.Block, err error) {
	h, below := n.Heading, n.Blocks
	if h == nil {
		return nil, below, nil
	}
	var logo *doc.Logo
	if n.Role == doc.RoleCover && len(below) > 0 {
		logo, _ = below[0].(*doc.Logo)
	}
	if logo == nil {
		out, err = l.heading(h, s, n.Level, n.Number)
		return marked(h, out), below, err
	}
	wide, _, _, err := logoSize(logo, s.at(logo))
	if err != nil {
		return nil, nil, err
	}
	s.beside = wide + logoGap
	if out, err = l.heading(h, s, n.Level, n.Number); err != nil || len(out) == 0 {
		return out, below, err
	}
	items, w, high, err := l.logo(logo, s.at(logo))
	if err != nil {
		return nil, nil, err
	}
	out[0].items = append(out[0].items, shift(items, s.left+s.width-w, out[0].height-barRoom-high)...)
	return marked(h, out), below[1:], nil
}
