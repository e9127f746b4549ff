package layout

import (
	"math"
	"slices"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/fonts"
	"ownerguide/render/pdf/page"
	"ownerguide/render/pdf/typeset"
	"ownerguide/spec/source"
)

// inkOf returns the color of an ink on white paper.
func inkOf(i doc.Ink) (page.Color, bool) {
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

// leastScale returns the smallest scale at which every label of a drawing is as large as a caption.
func leastScale(d *doc.Drawing) float64 {
	if least := d.LeastLabel(); least > 0 {
		return leastSize / least
	}
	return 0
}

// spanningFigure reports whether a figure is set across the page, because its labels would be too small in a column and it has no column form.
func (s *setter) spanningFigure(n *doc.Figure, st setting) bool {
	return s.tooWide(n.Drawing, st) && s.columnView(n, st) == nil
}

// tooWide reports whether the labels of a drawing would be too small in a column of the page.
func (s *setter) tooWide(d *doc.Drawing, st setting) bool {
	return s.format.Columns > 1 && st.outer && leastScale(d)*d.Width > st.width-st.indent+typeset.Slack
}

// columnView returns the column form of a figure if it takes much less space than the figure across the page; otherwise nil, because labels
// next to the parts are easier to read than a key. A picture that numbers the points of the walk-around is always shown whole.
func (s *setter) columnView(n *doc.Figure, st setting) *doc.View {
	if len(n.Column) != 1 || !s.tooWide(n.Drawing, st) || s.tooWide(n.Column[0].Drawing, st) {
		return nil
	}
	v := n.Column[0]
	if slices.ContainsFunc(v.Key, func(k doc.KeyRow) bool { return k.To != "" }) {
		return nil
	}
	width := st.width - st.indent
	_, key := s.key(v.Key, nil, 0, width, st.origin)
	across := n.Drawing.Height * max(leastScale(n.Drawing), spanningScale)
	if v.Drawing.Height*width/v.Drawing.Width+key > muchLess*float64(s.format.Columns)*across {
		return nil
	}
	return v
}

// muchLess is the maximum space of a figure's column form, as a fraction of the space across the page.
const muchLess = 0.75

// key sets the key of a view below it, in two columns if that is wide enough.
func (s *setter) key(rows []doc.KeyRow, e *finish.Element, left, width float64, at source.Pos) (items []page.Item, height float64) {
	const keyGap = 8
	style := typeset.Style{Leading: leading, Element: e}
	half := (width - keyGap) / 2
	signed := 0
	for _, row := range rows {
		if row.Sign != "" {
			signed++
			if s.Ruler.Width(caption, s.Clean(row.Text, at)) > half-laneWidth {
				half = 0
			}
		}
	}
	top, n := 0.0, 0 // height of the rows with signs, and their number
	for _, row := range rows {
		x, y := left, height
		if row.Sign == "" {
			words := s.Lines([]typeset.Piece{{Text: s.Clean(row.Text, at), Look: caption}}, width, style)
			items = append(items, typeset.Stacked(words, x, y)...)
			height += float64(len(words)) * leading
			continue
		}
		room := width - laneWidth
		if half > 0 && signed > 1 {
			first := (signed + 1) / 2
			if n == first {
				height = top
			}
			if n == 0 {
				top = height
			}
			if y, room = height, half-laneWidth; n >= first {
				x += half + keyGap
			}
		}
		n++
		sign := s.Lines([]typeset.Piece{{Text: s.Clean(row.Sign, at) + " ", Look: caption.Bold()}}, laneWidth, style)
		words := s.Lines([]typeset.Piece{{Text: s.Clean(row.Text, at), Look: caption}}, room, style)
		items = append(append(items, typeset.Stacked(sign, x, y)...), typeset.Stacked(words, x+laneWidth, y)...)
		height += float64(len(words)) * leading
	}
	if half > 0 && signed > 1 {
		height = max(height, top+float64((signed+1)/2)*leading)
	}
	return items, height
}

// figure sets a drawing with its caption: as wide as its column if its labels are legible there, otherwise across the page, no larger than
// its labels need.
func (s *setter) figure(n *doc.Figure, st setting) []*box {
	d := n.Drawing
	if d == nil {
		s.fail("%s: figure %s has no drawing", where(st.origin), n.Name)
		return nil
	}
	if !finite(d.Width, d.Height) || d.Width <= 0 || d.Height <= 0 {
		s.fail("%s: figure %s has a sheet of %g by %g points", where(st.origin), n.Name, d.Width, d.Height)
		return nil
	}
	if n.Alt == "" {
		s.fail("%s: figure %s has no words for who cannot see it", where(st.origin), n.Name)
		return nil
	}
	fig := st.element(finish.RoleFigure)
	fig.Alt = n.Alt
	span := s.spanningFigure(n, st)
	var key []doc.KeyRow
	if v := s.columnView(n, st); v != nil {
		d, key = v.Drawing, v.Key
	}
	if span {
		st = st.spanning()
	}
	left, width := st.left+st.indent, st.width-st.indent
	scale := min(width/d.Width, largestScale)
	switch {
	case span:
		scale = min(scale, max(leastScale(d), spanningScale))
	case width < st.full:
		scale = min(scale, max(leastScale(d), tallFigure/d.Height))
	}
	b := s.figureBox(n, d, key, st, fig, left, width, scale)
	b.span = span
	return []*box{b}
}

// The minimum scale of a drawing across the page and the maximum scale of any drawing, relative to its sheet; and the height, in points, above
// which a drawing in a column is no larger than its labels need.
const (
	tallFigure    = 120
	spanningScale = 0.8
	largestScale  = 1.25
)

// figureBox sets a figure at a scale, with its key below it and its caption below that.
func (s *setter) figureBox(n *doc.Figure, d *doc.Drawing, rows []doc.KeyRow, st setting, fig *finish.Element, left, width, scale float64) *box {
	var words []*typeset.Line
	key, keyHigh := s.key(rows, fig, left, width, st.origin)
	if n.Caption != "" {
		e := st.element(finish.RoleCaption)
		words = s.Lines([]typeset.Piece{{Text: s.Clean(n.Caption, st.origin), Look: st.caption}}, width, typeset.Style{Leading: leading, Element: e})
	}
	under := keyHigh + float64(len(words))*leading
	if under > 0 {
		under += captionSpace
	}
	scale = min(scale, (s.format.TextHeight-under)/d.Height)
	middle := left + max(0, width-d.Width*scale)/2
	b := &box{before: 6, after: 6, height: d.Height*scale + under, name: &name{"figure " + n.Name, st.origin}}
	p := shapeSetter{tag: page.Tag{Element: fig}, scale: scale, left: middle, setter: s, name: b.name}
	for _, sh := range d.Shapes {
		p.draw(sh)
	}
	high := d.Height*scale + captionSpace
	b.items = append(p.items, page.Shift(key, 0, high)...)
	frame := finish.Box{X: middle, Y: 0, W: d.Width * scale, H: d.Height * scale}
	if keyHigh > 0 {
		frame = finish.Box{X: left, Y: 0, W: width, H: high + keyHigh}
	}
	b.items = append(b.items, &page.Frame{Element: fig, Box: frame})
	b.items = append(b.items, typeset.Stacked(words, st.left+st.indent, high+keyHigh)...)
	return b
}

// captionSpace is the space between a drawing and its caption.
const captionSpace = 3

// shapeSetter turns the shapes of a drawing into items.
type shapeSetter struct {
	*setter
	tag   page.Tag
	scale float64
	left  float64
	name  *name
	items []page.Item
}

func (p *shapeSetter) point(q doc.Point) page.Point {
	return page.Point{X: p.left + q.X*p.scale, Y: q.Y * p.scale}
}

// failShape records an error.
func (p *shapeSetter) failShape(format string, args ...any) {
	p.fail("%s: %s: "+format, append([]any{where(p.name.at), p.name.what}, args...)...)
}

// draw adds one shape. NaN or infinity would make the whole page unreadable, so they are errors.
func (p *shapeSetter) draw(s doc.Shape) {
	switch s := s.(type) {
	case *doc.Path:
		p.path(s)
	case *doc.Circle:
		if !finite(s.Center.X, s.Center.Y, s.Radius) {
			p.failShape("a circle is not finite")
			return
		}
		c := p.point(s.Center)
		p.add(page.CircleSteps(c.X, c.Y, s.Radius*p.scale), s.Style, false)
	case *doc.Label:
		p.label(s)
	default:
		p.failShape("cannot draw a shape of type %T", s)
	}
}

func (p *shapeSetter) path(s *doc.Path) {
	from := p.point(s.From)
	steps := append(make([]page.Step, 0, len(s.Segments)+2), page.Line('m', from.X, from.Y))
	for _, g := range s.Segments {
		end, c1, c2 := p.point(g.To), p.point(g.C1), p.point(g.C2)
		if !finite(end.X, end.Y, c1.X, c1.Y, c2.X, c2.Y) {
			p.failShape("a path is not finite")
			return
		}
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
	if !finite(from.X, from.Y) {
		p.failShape("a path is not finite")
		return
	}
	p.add(steps, s.Style, s.EvenOdd)
}

// thinnest is the minimum line width in a drawing: thinner lines vanish on paper.
const thinnest = 0.25

// add adds an outline, unless it is neither filled nor stroked.
func (p *shapeSetter) add(steps []page.Step, st doc.Style, evenOdd bool) {
	if !finite(st.Width) || !finite(st.Dash...) {
		p.failShape("a line's width or dash is not finite")
		return
	}
	out := &page.Shape{Tag: p.tag, Steps: steps, Round: true, EvenOdd: evenOdd}
	if c, ok := inkOf(st.Fill); ok {
		out.Fill = &c
	}
	if c, ok := inkOf(st.Line); ok && st.Width > 0 {
		out.Line = &c
		out.Width = max(st.Width*p.scale, thinnest)
		for _, d := range st.Dash {
			out.Dash = append(out.Dash, max(d, 0)*p.scale)
		}
		if typeset.Sum(out.Dash) == 0 {
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
func (p *shapeSetter) label(s *doc.Label) {
	if !finite(s.At.X, s.At.Y, s.Size, s.Turn) || s.Size <= 0 {
		p.failShape("label %q is not finite or has no size", s.Text)
		return
	}
	text := p.Clean(s.Text, p.name.at)
	c, ok := inkOf(s.Ink)
	if !ok || text == "" {
		return
	}
	look := page.Look{Style: fonts.Regular, Size: max(s.Size*p.scale, leastLabel), Ink: c}
	if s.Bold {
		look = look.Bold()
	}
	back := 0.0
	switch w := p.Ruler.Width(look, text); s.Anchor {
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

// finite reports whether no number is NaN or infinite.
func finite(xs ...float64) bool {
	for _, x := range xs {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return false
		}
	}
	return true
}

// The maximum size of a logo, which leaves room for the cover's numbers.
const (
	logoWide = 150
	logoHigh = 40
	// A picture in a section is as wide as the text, and leaves room for text on the page.
	pictureHigh = 200
)

// logoItems returns the items of a logo within the maximum size, its upper left corner at the origin.
func (s *setter) logoItems(n *doc.Logo, st setting) (items []page.Item, high float64) {
	w, h := float64(n.Width), float64(n.Height)
	if n.Drawing != nil {
		w, h = n.Drawing.Width, n.Drawing.Height
	}
	if !finite(w, h) || w <= 0 || h <= 0 || n.Drawing == nil && len(n.PNG) == 0 || n.Alt == "" {
		s.fail("%s: the logo has no size, no picture or no words for who cannot see it", where(st.origin))
		return nil, 0
	}
	most := finish.Box{W: logoWide, H: logoHigh}
	if n.InText {
		most = finish.Box{W: st.width - st.indent, H: pictureHigh}
	}
	scale := min(most.W/w, most.H/h)
	w, h = w*scale, h*scale
	fig := st.element(finish.RoleFigure)
	fig.Alt = n.Alt
	box := finish.Box{W: w, H: h}
	if n.Drawing == nil {
		return []page.Item{&page.Image{Tag: page.Tag{Element: fig}, Box: box, PNG: n.PNG}, &page.Frame{Element: fig, Box: box}}, h
	}
	p := shapeSetter{tag: page.Tag{Element: fig}, scale: scale, setter: s, name: &name{"logo", st.origin}}
	for _, sh := range n.Drawing.Shapes {
		p.draw(sh)
	}
	return append(p.items, &page.Frame{Element: fig, Box: box}), h
}

// logo sets a logo as a block.
func (s *setter) logo(n *doc.Logo, st setting) []*box {
	items, h := s.logoItems(n, st)
	return []*box{{items: page.Shift(items, st.left, 0), height: h, before: 6, after: 6, name: &name{"logo", st.origin}}}
}
