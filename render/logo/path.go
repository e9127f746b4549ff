package logo

import (
	"fmt"
	"math"
	"strings"
	"unicode"

	"ownerguide/render/doc"
)

// operands is the number of operands of each path command.
// Source: SVG 1.1, section 8.3.
var operands = map[byte]int{'M': 2, 'L': 2, 'H': 1, 'V': 1, 'C': 6, 'S': 4, 'Q': 4, 'T': 2, 'A': 7, 'Z': 0}

// path draws the commands of a path's d attribute.
func (p *pen) path(d string) error {
	var control doc.Point // of the previous curve, for S and T
	before := byte(0)
	for rest := strings.TrimSpace(d); rest != ""; {
		command := rest[0]
		upper := byte(unicode.ToUpper(rune(command)))
		n, known := operands[upper]
		if !known {
			return fmt.Errorf("path command %q is not known", command)
		}
		list, after := commandList(rest[1:])
		rest = after
		x, err := pathNumbers(upper, list)
		if err != nil {
			return err
		}
		if !sane(x...) || n == 0 && len(x) != 0 || n > 0 && (len(x) == 0 || len(x)%n != 0) {
			return fmt.Errorf("path command %c has %d numbers; expected %d at a time", command, len(x), n)
		}
		if len(p.strokes) == 0 && upper != 'M' {
			return fmt.Errorf("a path begins with M, not %c", command)
		}
		if upper == 'Z' {
			p.close()
			before = upper
			continue
		}
		for i := 0; i < len(x); i += n {
			now := upper
			if upper == 'M' && i > 0 {
				now = 'L' // further pairs are lines
			}
			control = p.step(now, command != upper, x[i:i+n], before, control)
			before = now
		}
	}
	return nil
}

// commandList splits a text before the next command.
func commandList(text string) (list, rest string) {
	i := strings.IndexFunc(text, func(c rune) bool { return unicode.IsLetter(c) && c != 'e' && c != 'E' })
	if i < 0 {
		return text, ""
	}
	return text[:i], text[i:]
}

// pathNumbers parses a command's operands. The two flags of an arc need no separator
// after them: a1 1 0 012 2.
func pathNumbers(command byte, list string) ([]float64, error) {
	if command != 'A' {
		return numbers(list)
	}
	var out []float64
	for list = trimmed(list); list != ""; list = trimmed(list) {
		n := leading(list)
		if flag := len(out) % 7; flag == 3 || flag == 4 {
			n = 1
		}
		x, err := number(list[:max(n, 1)])
		if err != nil {
			return nil, err
		}
		out, list = append(out, x), list[n:]
	}
	return out, nil
}

func trimmed(list string) string { return strings.TrimLeft(list, ", \t\r\n") }

// step draws one command. It returns the last control point of a curve, from which a
// smooth curve continues.
func (p *pen) step(command byte, relative bool, x []float64, before byte, control doc.Point) doc.Point {
	from := p.at
	point := func(i int) doc.Point {
		q := doc.Point{X: x[i], Y: x[i+1]}
		if relative {
			q.X, q.Y = q.X+from.X, q.Y+from.Y
		}
		return q
	}
	// mirrored returns the reflection of the previous control point about the current point, or the current point.
	mirrored := func(kinds string) doc.Point {
		if strings.IndexByte(kinds, before) < 0 {
			return from
		}
		return doc.Point{X: 2*from.X - control.X, Y: 2*from.Y - control.Y}
	}
	switch command {
	case 'M':
		p.move(point(0))
	case 'L':
		p.lineTo(point(0))
	case 'H':
		q := doc.Point{X: x[0], Y: from.Y}
		if relative {
			q.X += from.X
		}
		p.lineTo(q)
	case 'V':
		q := doc.Point{X: from.X, Y: x[0]}
		if relative {
			q.Y += from.Y
		}
		p.lineTo(q)
	case 'C':
		p.curveTo(point(0), point(2), point(4))
		return point(2)
	case 'S':
		p.curveTo(mirrored("CS"), point(0), point(2))
		return point(0)
	case 'Q':
		p.quadratic(point(0), point(2))
		return point(0)
	case 'T':
		c := mirrored("QT")
		p.quadratic(c, point(0))
		return c
	case 'A':
		p.arc(x[0], x[1], x[2], x[3] != 0, x[4] != 0, point(5))
	}
	return p.at
}

// quadratic draws a quadratic curve as a cubic one.
func (p *pen) quadratic(c, to doc.Point) {
	third := func(a doc.Point) doc.Point { return doc.Point{X: a.X + 2.0/3*(c.X-a.X), Y: a.Y + 2.0/3*(c.Y-a.Y)} }
	p.curveTo(third(p.at), third(to), to)
}

// arc draws an elliptic arc as curves, each at most a quarter of the ellipse.
// Source: SVG 1.1, appendix F.6.5 and F.6.6.
func (p *pen) arc(rx, ry, turn float64, large, sweep bool, to doc.Point) {
	from := p.at
	rx, ry = math.Abs(rx), math.Abs(ry)
	if from == to {
		return
	}
	if rx == 0 || ry == 0 {
		p.lineTo(to)
		return
	}
	sin, cos := math.Sincos(turn * math.Pi / 180)
	// The middle of the chord, in the axes of the ellipse.
	dx, dy := (from.X-to.X)/2, (from.Y-to.Y)/2
	mx, my := cos*dx+sin*dy, -sin*dx+cos*dy
	if reach := mx*mx/(rx*rx) + my*my/(ry*ry); reach > 1 { // the radii are too small: scale them up
		rx, ry = rx*math.Sqrt(reach), ry*math.Sqrt(reach)
	}
	under := rx*rx*my*my + ry*ry*mx*mx
	k := math.Sqrt(max(0, (rx*rx*ry*ry-under)/under))
	if large == sweep {
		k = -k
	}
	cx, cy := k*rx*my/ry, -k*ry*mx/rx
	center := doc.Point{X: cos*cx - sin*cy + (from.X+to.X)/2, Y: sin*cx + cos*cy + (from.Y+to.Y)/2}
	first := math.Atan2((my-cy)/ry, (mx-cx)/rx)
	span := math.Atan2((-my-cy)/ry, (-mx-cx)/rx) - first
	if sweep && span < 0 {
		span += 2 * math.Pi
	} else if !sweep && span > 0 {
		span -= 2 * math.Pi
	}
	parts := max(1, math.Ceil(math.Abs(span)/(math.Pi/2)-1e-9))
	step := span / parts
	reach := 4.0 / 3 * math.Tan(step/4)
	on := func(u, v float64) doc.Point { // maps a point of the unit circle to the ellipse
		return doc.Point{X: center.X + cos*rx*u - sin*ry*v, Y: center.Y + sin*rx*u + cos*ry*v}
	}
	for i := range int(parts) {
		s1, c1 := math.Sincos(first + float64(i)*step)
		s2, c2 := math.Sincos(first + float64(i+1)*step)
		end := on(c2, s2)
		if i == int(parts)-1 {
			end = to
		}
		p.curveTo(on(c1-reach*s1, s1+reach*c1), on(c2+reach*s2, s2-reach*c2), end)
	}
}
