package page

import "ownerguide/render/pdf/fonts"

// Everything is black on white; only signal words have colours.
var (
	Black = Colour{0, 0, 0}
	White = Colour{255, 255, 255}
)

// Look is how text looks.
type Look struct {
	Style   fonts.Style
	Size    float64 // points
	Ink     Colour
	Spacing float64 // added after each character, points
}

// Bold is the look in bold.
func (l Look) Bold() Look {
	l.Style |= fonts.Bold
	return l
}

// Italic is the look in italics.
func (l Look) Italic() Look {
	l.Style |= fonts.Italic
	return l
}

// Regular is the look neither bold nor in italics.
func (l Look) Regular() Look {
	l.Style = fonts.Regular
	return l
}

// Sized is the look in another size.
func (l Look) Sized(points float64) Look {
	l.Size = points
	return l
}

// Inked is the look in another colour.
func (l Look) Inked(c Colour) Look {
	l.Ink = c
	return l
}

// Baseline is how far below the top of a line of this leading the baseline lies: between ascent and descent, as the typeface counts
// them, the line's middle stands.
func (l Look) Baseline(leading float64) float64 {
	m := fonts.MetricsOf(l.Style)
	return leading/2 + l.Size*float64(m.Ascent+m.Descent)/2000
}
