package page

import "ownerguide/render/pdf/fonts"

// The colors: black on white, except signal words.
var (
	Black = Color{0, 0, 0}
	White = Color{255, 255, 255}
)

// Look is the appearance of text.
type Look struct {
	Style   fonts.Style
	Size    float64 // points
	Ink     Color
	Spacing float64 // added after each character, points
}

// Bold returns the look in bold.
func (l Look) Bold() Look {
	l.Style |= fonts.Bold
	return l
}

// Italic returns the look in italics.
func (l Look) Italic() Look {
	l.Style |= fonts.Italic
	return l
}

// Regular returns the look without bold and italics.
func (l Look) Regular() Look {
	l.Style = fonts.Regular
	return l
}

// Sized returns the look in another size.
func (l Look) Sized(points float64) Look {
	l.Size = points
	return l
}

// Inked returns the look in another color.
func (l Look) Inked(c Color) Look {
	l.Ink = c
	return l
}

// Baseline returns the distance of the baseline from the top of a line with this leading. The middle between the typeface's ascent
// and descent is in the middle of the line.
func (l Look) Baseline(leading float64) float64 {
	m := fonts.MetricsOf(l.Style)
	return leading/2 + l.Size*float64(m.Ascent+m.Descent)/2000
}
