package draw

import (
	"fmt"
	"math"
	"strings"

	"ownerguide/render/doc"
)

// margin is what stays empty at the edges of a sheet.
const margin = 4

// lineStep is the distance of lines of text, as a multiple of their size.
const lineStep = 1.2

// words gives a label with its placeholders filled; pairs are name and text.
func (s *Subject) words(key string, pairs ...string) string {
	return doc.Fill(s.Label("draw."+key), pairs...)
}

// need gives a figure; the error says that the unit lacks it.
func (s *Subject) need(name string) (string, error) {
	if text := s.Figure(name); text != "" {
		return text, nil
	}
	return "", fmt.Errorf("the unit has no value %s", name)
}

// brief gives a figure without its second unit: the part before the
// parenthesis, for places with little room.
func brief(figure string) string {
	first, _, _ := strings.Cut(figure, " (")
	return first
}

// width estimates how wide a text prints, in points: a generous average, since
// the readers use their own typefaces.
func width(words string, size float64) float64 {
	return float64(len([]rune(words))) * size * 0.56
}

// wrap breaks a text into lines no wider than given, at spaces; a no-break
// space holds a number and its unit together.
func wrap(text string, size, widest float64) []string {
	var lines []string
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == '\n' }) {
		if n := len(lines); n > 0 && width(lines[n-1]+" "+word, size) <= widest {
			lines[n-1] += " " + word
			continue
		}
		lines = append(lines, word)
	}
	return lines
}

// block puts a text in lines no wider than given, the first baseline at y, and
// gives the y of the baseline after the last.
func (c *canvas) block(x, y, size float64, anchor doc.Anchor, text string, widest float64) float64 {
	for _, line := range wrap(text, size, widest) {
		c.text(x, y, size, anchor, line)
		y += lineStep * size
	}
	return y
}

// view maps the unit onto the sheet: x stays x, height turns over.
type view struct {
	scale float64 // points per inch
	x, y  float64 // of the origin: under the coupler's center, on the ground
}

func (v view) at(x, z float64) doc.Point { return pt(v.x+x*v.scale, v.y-z*v.scale) }

// pen draws in inches of the unit, seen from its left; it may turn what it draws about a
// hinge, as a deck or box turns.
type pen struct {
	*canvas
	view
	turn    float64 // radians, front up
	hx, hz  float64 // the hinge
	coupled bool    // to a tow vehicle; else it is parked on its jack
}

func (p pen) at(x, z float64) doc.Point {
	dx, dz := x-p.hx, z-p.hz
	sin, cos := math.Sincos(p.turn)
	return p.view.at(p.hx+dx*cos+dz*sin, p.hz-dx*sin+dz*cos)
}

// poly draws straight lines through places given as x, z, x, z …
func (p pen) poly(s doc.Style, closed bool, places ...float64) {
	var points []doc.Point
	for i := 0; i+1 < len(places); i += 2 {
		points = append(points, p.at(places[i], places[i+1]))
	}
	p.polyline(s, closed, points...)
}

func (p pen) box(s doc.Style, e extent) {
	p.poly(s, true, e.front, e.low, e.rear, e.low, e.rear, e.top, e.front, e.top)
}

func (p pen) disc(s doc.Style, x, z, r float64) {
	at := p.at(x, z)
	p.circle(s, at.X, at.Y, r*p.scale)
}

// across draws a dimension between two x on one line, its text in a gap of the
// line or, where the line is too short, under it. It gives the y of the lowest.
func (c *canvas) across(x1, x2, y float64, text string) (low float64) {
	room := width(text, c.least) + 10
	middle := (x1 + x2) / 2
	low = y
	if x2-x1 < room+30 {
		low += 14
		c.line(dimension, x1, y, x2, y)
		half := width(text, c.least) / 2
		middle = min(max(middle, margin+half), c.width-margin-half)
		c.text(middle, y+13, c.least, doc.Center, text)
	} else {
		c.line(dimension, x1+headLong, y, middle-room/2, y)
		c.line(dimension, middle+room/2, y, x2-headLong, y)
		c.text(middle, y+4, c.least, doc.Center, text)
	}
	c.head(doc.Middle, x1, y, math.Pi)
	c.head(doc.Middle, x2, y, 0)
	return low
}

// corners writes what is at the left and at the right end of the picture, above it.
func (c *canvas) corners(left, right string) {
	if c.column {
		c.ends = [2]string{left, right}
		return
	}
	c.text(margin, 13, c.label, doc.Start, left)
	c.text(c.width-margin, 13, c.label, doc.End, right)
}

// say writes a text that points at nothing, as block does; in a column it stands
// below the picture.
func (c *canvas) say(x, y, size float64, anchor doc.Anchor, text string, widest float64) float64 {
	if c.column {
		c.key = append(c.key, doc.KeyRow{Text: text})
		return y
	}
	return c.block(x, y, size, anchor, text, widest)
}

// strong writes what is said in bold, as say does.
func (c *canvas) strong(x, y, size float64, text string) {
	if c.column {
		c.say(x, y, size, doc.Start, text, 0)
		return
	}
	c.bold(x, y, max(size, c.least), doc.Start, text)
}

// note writes a text and points from it to a place. The line begins beside the
// first line of the text, on the side where the place lies. It gives the y of the
// baseline after the last line. In a column the text stands below the picture.
func (c *canvas) note(x, y float64, text string, widest float64, to doc.Point) float64 {
	if c.column {
		c.mark(c.letter(), text, to)
		return y
	}
	lines := wrap(text, c.least, widest)
	w := 0.0
	for _, l := range lines {
		w = max(w, width(l, c.least))
	}
	bottom := y + float64(len(lines)-1)*lineStep*c.least + 4
	from := pt(min(max(to.X, x+8), x+w-8), bottom)
	switch {
	case to.Y < y-c.least:
		from.Y = y - c.least
	case to.Y < bottom && to.X < x:
		from = pt(x-3, (y+bottom)/2-5)
	case to.Y < bottom:
		from = pt(x+w+3, (y+bottom)/2-5)
	}
	c.leader(from, to)
	return c.block(x, y, c.least, doc.Start, text, widest)
}

// leader draws a thin line with a dot at its end, on a ground of paper so that
// it stands out from what it crosses.
func (c *canvas) leader(from, to doc.Point) {
	c.polyline(doc.Style{Line: doc.Paper, Width: 2.6}, false, from, to)
	c.polyline(doc.Style{Line: doc.Mark, Width: 0.75}, false, from, to)
	c.dot(to)
}

func (c *canvas) dot(at doc.Point) {
	c.circle(doc.Style{Fill: doc.Paper}, at.X, at.Y, 3.2)
	c.circle(doc.Style{Fill: doc.Mark}, at.X, at.Y, 2)
}
