package layout

import "ownerguide/render/pdf/fonts"

// Everything is black on white; only signal words have colours.
var (
	black = Colour{0, 0, 0}
	white = Colour{255, 255, 255}
)

// Look is how text looks.
type Look struct {
	Style   fonts.Style
	Size    float64 // points
	Ink     Colour
	Spacing float64 // added after each character, points
}

// bold is the look in bold.
func (l Look) bold() Look {
	l.Style |= fonts.Bold
	return l
}

// italic is the look in italics.
func (l Look) italic() Look {
	l.Style |= fonts.Italic
	return l
}

// regular is the look neither bold nor in italics.
func (l Look) regular() Look {
	l.Style = fonts.Regular
	return l
}

// sized is the look in another size.
func (l Look) sized(points float64) Look {
	l.Size = points
	return l
}

// inked is the look in another colour.
func (l Look) inked(c Colour) Look {
	l.Ink = c
	return l
}

// baseline is how far below the top of a line of this leading the baseline lies: between ascent and descent, as the typeface counts
// them, the line's middle stands.
func (l Look) baseline(leading float64) float64 {
	m := fonts.MetricsOf(l.Style)
	return leading/2 + l.Size*float64(m.Ascent+m.Descent)/2000
}
