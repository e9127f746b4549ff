package logo

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"ownerguide/render/doc"
)

// paint is the colors and transformation of shapes, inherited from groups by their
// children.
type paint struct {
	fill, line doc.Ink
	width      float64
	evenOdd    bool
	matrix     matrix
}

// initial is SVG's default: black fill, no stroke.
var initial = paint{fill: doc.RGB(0, 0, 0), width: 1, matrix: matrix{1, 0, 0, 1, 0, 0}}

// under returns the paint of a child element with attributes a.
func (p paint) under(a attributes) (paint, error) {
	var err error
	if text, ok := a["fill"]; ok {
		if p.fill, err = ink(text); err != nil {
			return p, err
		}
	}
	if text, ok := a["stroke"]; ok {
		if p.line, err = ink(text); err != nil {
			return p, err
		}
	}
	if text, ok := a["stroke-width"]; ok {
		if p.width, err = number(strings.TrimSuffix(text, "px")); err != nil || p.width < 0 {
			return p, fmt.Errorf("stroke-width is %q; expected a number", text)
		}
	}
	if text, ok := a["fill-rule"]; ok {
		p.evenOdd = text == "evenodd"
	}
	if text, ok := a["transform"]; ok {
		m, err := transforms(text)
		if err != nil {
			return p, err
		}
		p.matrix = p.matrix.times(m)
	}
	return p, nil
}

// colorNames are the sixteen names of HTML 4. Source: CSS Color Module Level 4,
// section 6.1, from memory.
var colorNames = map[string]string{
	"black": "000000", "silver": "c0c0c0", "gray": "808080", "white": "ffffff", "maroon": "800000", "red": "ff0000", "purple": "800080", "fuchsia": "ff00ff",
	"green": "008000", "lime": "00ff00", "olive": "808000", "yellow": "ffff00", "navy": "000080", "blue": "0000ff", "teal": "008080", "aqua": "00ffff",
}

// ink parses a color: #rgb, #rrggbb, rgb(0, 0, 0), one of sixteen names, or none.
func ink(text string) (doc.Ink, error) {
	wrong := fmt.Errorf("colour %q is not read; expected one such as #1a2b3c", text)
	if text == "none" {
		return doc.None, nil
	}
	if list, ok := strings.CutPrefix(text, "rgb("); ok {
		n, err := numbers(strings.TrimSuffix(list, ")"))
		if err != nil || len(n) != 3 || strings.Contains(list, "%") {
			return doc.None, wrong
		}
		for _, x := range n {
			if x < 0 || x > 255 {
				return doc.None, wrong
			}
		}
		return doc.RGB(uint8(n[0]), uint8(n[1]), uint8(n[2])), nil
	}
	digits, hexadecimal := strings.CutPrefix(text, "#")
	if !hexadecimal {
		digits = colorNames[strings.ToLower(text)]
	}
	if len(digits) == 3 {
		digits = string([]byte{digits[0], digits[0], digits[1], digits[1], digits[2], digits[2]})
	}
	x, err := strconv.ParseUint(digits, 16, 24)
	if err != nil || len(digits) != 6 {
		return doc.None, wrong
	}
	return doc.RGB(uint8(x>>16), uint8(x>>8), uint8(x)), nil
}

// matrix is an affine transformation: x' = a·x + c·y + e, y' = b·x + d·y + f.
type matrix struct{ a, b, c, d, e, f float64 }

func (m matrix) apply(q doc.Point) doc.Point {
	return doc.Point{X: m.a*q.X + m.c*q.Y + m.e, Y: m.b*q.X + m.d*q.Y + m.f}
}

// times returns the transformation that applies n first and then m.
func (m matrix) times(n matrix) matrix {
	return matrix{
		m.a*n.a + m.c*n.b, m.b*n.a + m.d*n.b, m.a*n.c + m.c*n.d, m.b*n.c + m.d*n.d,
		m.a*n.e + m.c*n.f + m.e, m.b*n.e + m.d*n.f + m.f,
	}
}

// scale returns the factor by which line widths grow.
func (m matrix) scale() float64 { return math.Sqrt(math.Abs(m.a*m.d - m.b*m.c)) }

// transforms parses a list of transformations, such as translate(3 4) scale(2).
func transforms(text string) (matrix, error) {
	m := matrix{1, 0, 0, 1, 0, 0}
	for rest := strings.TrimSpace(text); rest != ""; {
		name, after, open := strings.Cut(rest, "(")
		list, next, closed := strings.Cut(after, ")")
		n, err := numbers(list)
		if !open || !closed || err != nil || !sane(n...) {
			return m, fmt.Errorf("transform %q is not read", text)
		}
		rest = strings.TrimLeft(next, ", \t\r\n")
		one, ok := transform(strings.TrimSpace(name), n)
		if !ok {
			return m, fmt.Errorf("transform %q is not read; expected matrix, translate, scale or rotate", text)
		}
		m = m.times(one)
	}
	return m, nil
}

func transform(name string, n []float64) (matrix, bool) {
	switch {
	case name == "matrix" && len(n) == 6:
		return matrix{n[0], n[1], n[2], n[3], n[4], n[5]}, true
	case name == "translate" && len(n) == 1:
		return matrix{1, 0, 0, 1, n[0], 0}, true
	case name == "translate" && len(n) == 2:
		return matrix{1, 0, 0, 1, n[0], n[1]}, true
	case name == "scale" && len(n) == 1:
		return matrix{n[0], 0, 0, n[0], 0, 0}, true
	case name == "scale" && len(n) == 2:
		return matrix{n[0], 0, 0, n[1], 0, 0}, true
	case name == "rotate" && (len(n) == 1 || len(n) == 3):
		sin, cos := math.Sincos(n[0] * math.Pi / 180)
		m := matrix{cos, sin, -sin, cos, 0, 0}
		if len(n) == 3 { // about a point
			m = matrix{1, 0, 0, 1, n[1], n[2]}.times(m).times(matrix{1, 0, 0, 1, -n[1], -n[2]})
		}
		return m, true
	}
	return matrix{}, false
}

func number(text string) (float64, error) {
	n, err := numbers(text)
	if err != nil || len(n) != 1 {
		return 0, fmt.Errorf("%q is not a number", text)
	}
	return n[0], nil
}

// sane reports whether all numbers are within the range of a sheet.
func sane(list ...float64) bool {
	return !slices.ContainsFunc(list, func(x float64) bool { return !(math.Abs(x) <= 1e6) }) // true for NaN too
}
