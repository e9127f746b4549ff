package shapes

import (
	"math"
	"strings"

	"ownerguide/render/doc"
)

// Margin is the empty space at the edges of a sheet.
const Margin = 4

// LineSpacing is the distance of lines of text, as a multiple of their size.
const LineSpacing = 1.2

// DimensionLine is the style of a dimension and its extension lines.
var DimensionLine = doc.Style{Line: doc.Middle, Width: 0.8}

// TextWidth estimates the width of a text, in points: a generous average, since the readers
// use their own typefaces.
func TextWidth(words string, size float64) float64 {
	return float64(len([]rune(words))) * size * 0.56
}

// Wrap breaks a text at spaces into lines no wider than widest; a no-break space keeps a
// number and its unit together.
func Wrap(text string, size, widest float64) (lines []string) {
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == '\n' }) {
		if n := len(lines); n > 0 && TextWidth(lines[n-1]+" "+word, size) <= widest {
			lines[n-1] += " " + word
			continue
		}
		lines = append(lines, word)
	}
	return lines
}

// TextBlock writes a text in lines no wider than widest, with the first baseline at y, and
// returns the y of the next baseline.
func (c *Canvas) TextBlock(x, y, size float64, anchor doc.Anchor, text string, widest float64) float64 {
	for _, line := range Wrap(text, size, widest) {
		c.Text(x, y, size, anchor, line)
		y += LineSpacing * size
	}
	return y
}

// Dimension draws a dimension line between two x, with its text in a gap of the line or,
// if the line is too short, below it. It returns the lowest y.
func (c *Canvas) Dimension(x1, x2, y float64, text string) (low float64) {
	room := TextWidth(text, c.SmallText) + 10
	middle := (x1 + x2) / 2
	low = y
	if x2-x1 < room+30 {
		low += 14
		c.Line(DimensionLine, x1, y, x2, y)
		half := TextWidth(text, c.SmallText) / 2
		middle = min(max(middle, Margin+half), c.Width-Margin-half)
		c.Text(middle, y+13, c.SmallText, doc.Center, text)
	} else {
		c.Line(DimensionLine, x1+ArrowHeadLength, y, middle-room/2, y)
		c.Line(DimensionLine, middle+room/2, y, x2-ArrowHeadLength, y)
		c.Text(middle, y+4, c.SmallText, doc.Center, text)
	}
	c.ArrowHead(doc.Middle, x1, y, math.Pi)
	c.ArrowHead(doc.Middle, x2, y, 0)
	return low
}

// EndLabels writes labels of the left and right ends above the picture.
func (c *Canvas) EndLabels(left, right string) {
	if c.Narrow {
		c.Ends = [2]string{left, right}
		return
	}
	c.Text(Margin, 13, c.LabelText, doc.Start, left)
	c.Text(c.Width-Margin, 13, c.LabelText, doc.End, right)
}

// Note writes a text without a leader, as TextBlock does; in a column it is below the
// picture.
func (c *Canvas) Note(x, y, size float64, anchor doc.Anchor, text string, widest float64) float64 {
	if c.Narrow {
		c.Key = append(c.Key, doc.KeyRow{Text: text})
		return y
	}
	return c.TextBlock(x, y, size, anchor, text, widest)
}

// BoldNote is Note in bold, on one line.
func (c *Canvas) BoldNote(x, y, size float64, text string) {
	if c.Narrow {
		c.Note(x, y, size, doc.Start, text, 0)
		return
	}
	c.BoldText(x, y, max(size, c.SmallText), doc.Start, text)
}

// Callout writes a text with a leader to a place. The leader starts next to the first line of
// the text, on the side of the place. It returns the y of the next baseline. In a column
// the text is below the picture.
func (c *Canvas) Callout(x, y float64, text string, widest float64, to doc.Point) float64 {
	if c.Narrow {
		sign := c.nextLetter()
		c.Marks = append(c.Marks, Mark{Sign: sign, At: to})
		c.Key = append(c.Key, doc.KeyRow{Sign: sign, Text: text})
		return y
	}
	lines := Wrap(text, c.SmallText, widest)
	w := 0.0
	for _, l := range lines {
		w = max(w, TextWidth(l, c.SmallText))
	}
	bottom := y + float64(len(lines)-1)*LineSpacing*c.SmallText + 4
	from := Pt(min(max(to.X, x+8), x+w-8), bottom)
	switch {
	case to.Y < y-c.SmallText:
		from.Y = y - c.SmallText
	case to.Y < bottom && to.X < x:
		from = Pt(x-3, (y+bottom)/2-5)
	case to.Y < bottom:
		from = Pt(x+w+3, (y+bottom)/2-5)
	}
	c.Leader(from, to)
	return c.TextBlock(x, y, c.SmallText, doc.Start, text, widest)
}

// Leader draws a thin line with a dot at its end, on a background of paper so that it
// stands out from what it crosses.
func (c *Canvas) Leader(from, to doc.Point) {
	c.Polyline(doc.Style{Line: doc.Paper, Width: 2.6}, false, from, to)
	c.Polyline(doc.Style{Line: doc.Mark, Width: 0.75}, false, from, to)
	c.dot(to)
}

// dot draws the dot at the end of a leader.
func (c *Canvas) dot(at doc.Point) {
	c.Circle(doc.Style{Fill: doc.Paper}, at.X, at.Y, 3.2)
	c.Circle(doc.Style{Fill: doc.Mark}, at.X, at.Y, 2)
}
