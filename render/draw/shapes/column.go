package shapes

import "ownerguide/render/doc"

// NextLetter is the next sign of a column that no other place has.
func (c *Canvas) NextLetter() string {
	n := 0
	for _, row := range c.Key {
		if row.Sign != "" {
			n++
		}
	}
	return string(rune('a' + n))
}

// mark points with a sign at a place; a row below the picture says what it is.
func (c *Canvas) mark(sign, text string, at doc.Point) {
	c.Marks = append(c.Marks, Mark{Sign: sign, At: at})
	c.Key = append(c.Key, doc.KeyRow{Sign: sign, Text: text})
}

// FinishView closes a view of a column: what was drawn is made to fit its width, and what
// was pointed at gets its circles above and below. The next shapes begin another view.
func (c *Canvas) FinishView(alt string) {
	if !c.Narrow || len(c.Shapes) == 0 {
		return
	}
	scale, dx := c.scaleToWidth()
	for i, s := range c.Shapes {
		c.Shapes[i] = c.moved(s, scale, dx, 0)
	}
	for i := range c.Marks {
		c.Marks[i].At = Pt(c.Marks[i].At.X*scale+dx, c.Marks[i].At.Y*scale)
	}
	edges := Bounds(c.Shapes)
	up, down := SplitSides(c.Marks, (edges.Top+edges.Bottom)/2)
	above := Arrange(up, c.BalloonRadius, 0, c.Width, edges.Top-Gutter)
	below := Arrange(down, c.BalloonRadius, 0, c.Width, edges.Bottom+Gutter)
	top := above.Height() + Margin
	if c.Ends != [2]string{} {
		top += 1.6 * c.LabelText
	}
	shift := top - edges.Top
	for i, s := range c.Shapes {
		c.Shapes[i] = c.moved(s, 1, 0, shift)
	}
	above.Shift(shift)
	below.Shift(shift)
	high := edges.Bottom + shift
	c.DrawRows(above, below, top, high)
	for i, anchor := range []doc.Anchor{doc.Start, doc.End} {
		if c.Ends[i] != "" {
			c.Text([]float64{Margin, c.Width - Margin}[i], c.LabelText, c.LabelText, anchor, c.Ends[i])
		}
	}
	c.Views = append(c.Views, &doc.View{Alt: alt, Key: c.Key,
		Drawing: &doc.Drawing{Width: c.Width, Height: high + below.Height() + Margin, Shapes: c.Shapes}})
	c.Shapes, c.Marks, c.Key, c.Ends = nil, nil, nil, [2]string{}
}

// tallest is the height, on the sheet, of a picture without words that a column gives no
// more of: what parts are called stands below it, and the text beside it is to be read.
const tallest = 165

// scaleToWidth returns how what was drawn comes into the width: not at all where it was drawn
// for it, unless it is taller than it needs to be.
func (c *Canvas) scaleToWidth() (scale, dx float64) {
	var lines []doc.Shape
	for _, s := range c.Shapes {
		if _, text := s.(*doc.Label); !text {
			lines = append(lines, s)
		}
	}
	e := Bounds(lines)
	fits := e.Left >= 0 && e.Right <= c.Width
	high := e.Bottom - e.Top
	switch {
	case len(lines) == len(c.Shapes) && high > tallest:
		scale = min(tallest/high, (c.Width-2*Margin)/(e.Right-e.Left))
	case fits:
		return 1, 0
	default:
		scale = min(1, (c.Width-2*Margin)/(e.Right-e.Left))
	}
	return scale, (c.Width-scale*(e.Right-e.Left))/2 - scale*e.Left
}

// moved is a shape at another scale and place. Lines keep their width, and texts the
// size that can be read.
func (c *Canvas) moved(s doc.Shape, scale, dx, dy float64) doc.Shape {
	to := func(p doc.Point) doc.Point { return Pt(p.X*scale+dx, p.Y*scale+dy) }
	switch s := s.(type) {
	case *doc.Circle:
		return &doc.Circle{Style: s.Style, Center: to(s.Center), Radius: s.Radius * scale}
	case *doc.Path:
		out := *s
		out.From, out.Segments = to(s.From), nil
		for _, g := range s.Segments {
			out.Segments = append(out.Segments, doc.Segment{To: to(g.To), C1: to(g.C1), C2: to(g.C2), Curve: g.Curve, Move: g.Move})
		}
		return &out
	case *doc.Label:
		out := *s
		out.At, out.Size = to(s.At), max(s.Size*scale, c.SmallText)
		w := TextWidth(out.Text, out.Size)
		switch out.Anchor {
		case doc.Center:
			out.At.X = min(max(out.At.X, Margin+w/2), c.Width-Margin-w/2)
		case doc.End:
			out.At.X = max(out.At.X, Margin+w)
		default:
			out.At.X = min(out.At.X, c.Width-Margin-w)
		}
		return &out
	}
	return s
}
