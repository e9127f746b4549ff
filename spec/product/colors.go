package product

import (
	"cmp"
	"math"
	"strconv"

	"ownerguide/spec/source"
)

// leastContrast is the minimum contrast ratio of text and background.
// Source: WCAG 2.2, success criterion 1.4.3, for text of any size.
const leastContrast = 4.5

// Color is red, green and blue, 0 to 255.
type Color [3]uint8

var colorForm = source.Pattern(`^#[0-9A-Fa-f]{6}$`)

// parseColor parses #rrggbb; ok is false for anything else.
func parseColor(text string) (c Color, ok bool) {
	if !colorForm().MatchString(text) {
		return c, false
	}
	x, err := strconv.ParseUint(text[1:], 16, 24)
	return Color{uint8(x >> 16), uint8(x >> 8), uint8(x)}, err == nil
}

// white is the default color of the words on the cover's field.
const white = "#ffffff"

// CoverColors returns the maker's colors of the cover's field and of the words on it; ok
// is false if the line has none.
func (m *Maker) CoverColors() (field, words Color, ok bool) {
	if m.Colors == nil {
		return field, words, false
	}
	field, ok = parseColor(m.Colors.Cover.Value)
	words, alsoOK := parseColor(cmp.Or(m.Colors.Words.Value, white))
	return field, words, ok && alsoOK
}

// contrast returns the contrast ratio of two colors, from 1 to 21, without unit. It is
// defined for any two colors.
// Source: WCAG 2.2, definition of contrast ratio.
func contrast(a, b Color) float64 {
	light, dark := a.luminance(), b.luminance()
	if light < dark {
		light, dark = dark, light
	}
	return (light + 0.05) / (dark + 0.05)
}

// luminance returns the relative luminance, 0 for black and 1 for white.
// Source: WCAG 2.2, definition of relative luminance.
func (c Color) luminance() float64 {
	var linear [3]float64
	for i, x := range c {
		s := float64(x) / 255
		if s <= 0.04045 {
			linear[i] = s / 12.92
		} else {
			linear[i] = math.Pow((s+0.055)/1.055, 2.4)
		}
	}
	return 0.2126*linear[0] + 0.7152*linear[1] + 0.0722*linear[2]
}

// colors refuses colors with too little contrast.
func (c *lineCheck) colors() {
	of := c.Maker.Colors
	if of == nil {
		return
	}
	for _, w := range []word{of.Cover, of.Words} {
		if _, ok := parseColor(w.Value); w.Set && !ok {
			c.add(codeLineColor.At(w.At, "colour is %q; expected # and six hexadecimal digits, such as \"#1a4d2e\" in quotes", w.Value))
		}
	}
	field, words, ok := c.Maker.CoverColors()
	if !ok {
		return
	}
	if ratio := contrast(field, words); ratio < leastContrast {
		f := codeLineContrast.At(of.Cover.At, "words in %s on %s have a contrast of %.1f to 1; expected at least %.1f to 1", cmp.Or(of.Words.Value, white), of.Cover.Value, math.Floor(ratio*10)/10, leastContrast)
		c.add(f.WithHint("take a darker field, or other words on it"))
	}
}
