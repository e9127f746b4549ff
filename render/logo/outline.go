package logo

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"ownerguide/render/doc"
)

// box is a rectangle on the sheet, y down.
type box struct{ left, top, right, low float64 }

// stroke is a subpath.
type stroke struct {
	from     doc.Point
	segments []doc.Segment
	closed   bool
}

// pen draws an outline. Coordinates are those of the shape; every point is transformed
// by the matrix.
type pen struct {
	matrix  matrix
	strokes []stroke
	steps   int
	at      doc.Point // current point
	start   doc.Point // start of the subpath
}

func (p *pen) move(to doc.Point) {
	p.strokes = append(p.strokes, stroke{from: p.matrix.apply(to)})
	p.at, p.start = to, to
}

func (p *pen) add(s doc.Segment) {
	n := len(p.strokes) - 1
	if p.strokes[n].closed { // a path continues where it was closed
		p.move(p.start)
		n++
	}
	p.strokes[n].segments = append(p.strokes[n].segments, s)
	p.steps++
}

func (p *pen) lineTo(to doc.Point) {
	p.add(doc.Segment{To: p.matrix.apply(to)})
	p.at = to
}

func (p *pen) curveTo(c1, c2, to doc.Point) {
	p.add(doc.Segment{Curve: true, C1: p.matrix.apply(c1), C2: p.matrix.apply(c2), To: p.matrix.apply(to)})
	p.at = to
}

func (p *pen) close() {
	p.strokes[len(p.strokes)-1].closed = true
	p.at = p.start
}

// leaves returns a point outside a box that a line of a half width reaches.
func (p *pen) leaves(b box, half float64) (doc.Point, bool) {
	slack := 1e-3 * (b.right - b.left)
	out := func(q doc.Point) bool {
		return !(q.X >= b.left-slack+half && q.X <= b.right+slack-half && q.Y >= b.top-slack+half && q.Y <= b.low+slack-half)
	}
	for _, s := range p.strokes {
		from := s.from
		if out(from) {
			return from, true
		}
		for _, g := range s.segments {
			const parts = 24
			for i := 1; i <= parts; i++ {
				if q := g.Along(from, float64(i)/parts); out(q) {
					return q, true
				}
			}
			from = g.To
		}
	}
	return doc.Point{}, false
}

// figures parses the named attributes; missing ones are 0.
func (a attributes) figures(names ...string) ([]float64, error) {
	out := make([]float64, len(names))
	for i, name := range names {
		text := strings.TrimSuffix(a[name], "px")
		if text == "" {
			continue
		}
		x, err := number(text)
		if err != nil || !sane(x) {
			return nil, fmt.Errorf("%s is %q; expected a number", name, a[name])
		}
		out[i] = x
	}
	return out, nil
}

// quarter is the distance of the control points of a quarter circle from its ends, as a
// fraction of the radius: 4/3·(√2-1).
var quarter = 4.0 / 3 * (math.Sqrt2 - 1)

func (p *pen) ellipse(a attributes, rx, ry string) error {
	n, err := a.figures("cx", "cy", rx, ry)
	if err != nil {
		return err
	}
	if n[2] <= 0 || n[3] <= 0 {
		return errors.New("the radius is nothing or less")
	}
	p.rounded(n[0]-n[2], n[1]-n[3], 2*n[2], 2*n[3], n[2], n[3])
	return nil
}

func (p *pen) rectangle(a attributes) error {
	n, err := a.figures("x", "y", "width", "height", "rx", "ry")
	if err != nil {
		return err
	}
	if n[2] <= 0 || n[3] <= 0 || n[4] < 0 || n[5] < 0 {
		return errors.New("width or height is nothing or less")
	}
	rx, ry := n[4], n[5] // if one radius is missing, it equals the other
	if a["rx"] == "" {
		rx = ry
	}
	if a["ry"] == "" {
		ry = rx
	}
	p.rounded(n[0], n[1], n[2], n[3], min(rx, n[2]/2), min(ry, n[3]/2))
	return nil
}

// rounded draws a rectangle with rounded corners, clockwise.
func (p *pen) rounded(x, y, w, h, rx, ry float64) {
	at := func(dx, dy float64) doc.Point { return doc.Point{X: x + dx, Y: y + dy} }
	p.move(at(rx, 0))
	corner := func(line, c1, c2, end doc.Point) {
		if line != p.at {
			p.lineTo(line)
		}
		if rx > 0 && ry > 0 {
			p.curveTo(c1, c2, end)
		}
	}
	kx, ky := rx*(1-quarter), ry*(1-quarter)
	corner(at(w-rx, 0), at(w-kx, 0), at(w, ky), at(w, ry))
	corner(at(w, h-ry), at(w, h-ky), at(w-kx, h), at(w-rx, h))
	corner(at(rx, h), at(kx, h), at(0, h-ky), at(0, h-ry))
	corner(at(0, ry), at(0, ky), at(kx, 0), at(rx, 0))
	p.close()
}

func (p *pen) line(a attributes) error {
	n, err := a.figures("x1", "y1", "x2", "y2")
	if err != nil {
		return err
	}
	p.move(doc.Point{X: n[0], Y: n[1]})
	p.lineTo(doc.Point{X: n[2], Y: n[3]})
	return nil
}

func (p *pen) polygon(points string, closed bool) error {
	n, err := numbers(points)
	if err != nil || len(n) < 4 || len(n)%2 != 0 || !sane(n...) {
		return errors.New("points are no list of pairs of numbers")
	}
	p.move(doc.Point{X: n[0], Y: n[1]})
	for i := 2; i < len(n); i += 2 {
		p.lineTo(doc.Point{X: n[i], Y: n[i+1]})
	}
	if closed {
		p.close()
	}
	return nil
}

// numbers parses a list of numbers separated by blanks, commas, signs or a second
// decimal point, as SVG allows.
func numbers(text string) ([]float64, error) {
	var out []float64
	for text = strings.TrimLeft(text, ", \t\r\n"); text != ""; text = strings.TrimLeft(text, ", \t\r\n") {
		n := leading(text)
		x, err := strconv.ParseFloat(text[:n], 64)
		if err != nil {
			return nil, fmt.Errorf("%q is not a number", text[:max(n, 1)])
		}
		out, text = append(out, x), text[n:]
	}
	return out, nil
}

// leading returns the length of the number at the beginning of a text.
func leading(text string) int {
	point, exponent := false, false
	for i, c := range text {
		switch {
		case c >= '0' && c <= '9':
		case (c == '-' || c == '+') && (i == 0 || text[i-1] == 'e' || text[i-1] == 'E'):
		case c == '.' && !point && !exponent:
			point = true
		case (c == 'e' || c == 'E') && !exponent && i > 0:
			exponent = true
		default:
			return i
		}
	}
	return len(text)
}
