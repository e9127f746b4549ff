package layout

import (
	"slices"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/page"
	"ownerguide/render/pdf/typeset"
	"ownerguide/spec/source"
)

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
	if !typeset.Finite(d.Width, d.Height) || d.Width <= 0 || d.Height <= 0 {
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
	high := d.Height*scale + captionSpace
	b.items = append(s.drawn(d, fig, scale, middle, b.name), page.Shift(key, 0, high)...)
	frame := finish.Box{X: middle, Y: 0, W: d.Width * scale, H: d.Height * scale}
	if keyHigh > 0 {
		frame = finish.Box{X: left, Y: 0, W: width, H: high + keyHigh}
	}
	b.items = append(b.items, &page.Frame{Element: fig, Box: frame})
	b.items = append(b.items, typeset.Stacked(words, st.left+st.indent, high+keyHigh)...)
	return b
}

// drawn returns a drawing as items.
func (s *setter) drawn(d *doc.Drawing, e *finish.Element, scale, left float64, is *name) []page.Item {
	items, err := s.Drawing(d, page.Tag{Element: e}, scale, left, func(text string) string { return s.Clean(text, is.at) })
	if err != nil {
		s.fail("%s: %s: %w", where(is.at), is.what, err)
	}
	return items
}

// captionSpace is the space between a drawing and its caption.
const captionSpace = 3

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
	if !typeset.Finite(w, h) || w <= 0 || h <= 0 || n.Drawing == nil && len(n.PNG) == 0 || n.Alt == "" {
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
	return append(s.drawn(n.Drawing, fig, scale, 0, &name{"logo", st.origin}), &page.Frame{Element: fig, Box: box}), h
}

// logo sets a logo as a block.
func (s *setter) logo(n *doc.Logo, st setting) []*box {
	items, h := s.logoItems(n, st)
	return []*box{{items: page.Shift(items, st.left, 0), height: h, before: 6, after: 6, name: &name{"logo", st.origin}}}
}
