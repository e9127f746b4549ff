package shapes

import "ownerguide/render/doc"

// nextLetter returns the next unused letter of a column.
func (c *Canvas) nextLetter() string {
	n := 0
	for _, row := range c.Key {
		if row.Sign != "" {
			n++
		}
	}
	return string(rune('a' + n))
}

// Lettered draws the next letter of a column; a row below the picture explains it.
func (c *Canvas) Lettered(x, y float64, text string) {
	sign := c.nextLetter()
	c.Key = append(c.Key, doc.KeyRow{Sign: sign, Text: text})
	c.Balloon(x, y, sign)
}

// FinishView completes a view of a column: the drawing is scaled to the width, and circles are
// added above and below for the marks. The next shapes begin another view.
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

// tallest is the maximum height of a picture without text in a column, because its key is
// below it and the text next to it must be readable.
const tallest = 165

// scaleToWidth returns how to scale the drawing to the width. A drawing made for the width is
// scaled only if it is too tall.
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

// moved returns a shape scaled and moved. Line widths and text sizes are not
// scaled.
func (c *Canvas) moved(s doc.Shape, scale, dx, dy float64) doc.Shape {
	to := func(p doc.Point) doc.Point { return Pt(p.X*scale+dx, p.Y*scale+dy) }
	switch s := s.(type) {
	case *doc.Circle:
		return &doc.Circle{Style: s.Style, Center: to(s.Center), Radius: s.Radius * scale}
	case *doc.Path:
		out := *s
		out.From, out.Segments = to(s.From), make([]doc.Segment, 0, len(s.Segments))
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
