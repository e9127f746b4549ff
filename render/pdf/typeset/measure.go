package typeset

import (
	"strings"
	"unicode/utf8"

	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/fonts"
	"ownerguide/render/pdf/page"
)

// Ruler measures text and caches the results, because the same words recur.
type Ruler struct {
	known   map[measured]float64
	anyPage string // as wide as any page number
	words   []byte // of the line being placed
	glyphs  []finish.Glyph
}

type measured struct {
	style fonts.Style
	text  string
}

// NewRuler returns a Ruler that reserves space for page numbers of so many digits.
func NewRuler(digits int) *Ruler {
	return &Ruler{known: map[measured]float64{}, anyPage: widestNumber(digits)}
}

// Width returns the width of text in points.
func (r *Ruler) Width(lk page.Look, text string) float64 {
	key := measured{lk.Style, text}
	w, ok := r.known[key]
	if !ok {
		w = float64(fonts.Width(lk.Style, text)) / 1000
		r.known[key] = w
	}
	w *= lk.Size
	if lk.Spacing != 0 {
		w += lk.Spacing * float64(utf8.RuneCountInString(text))
	}
	return w
}

// kern returns the kerning of two characters in points.
func kern(lk page.Look, left, right rune) float64 {
	return float64(fonts.Kern(lk.Style, left, right)) * lk.Size / 1000
}

// firstRune and lastRune return the ends of a text, for kerning across a space.
func firstRune(s string) rune { r, _ := utf8.DecodeRuneInString(s); return r }
func lastRune(s string) rune  { r, _ := utf8.DecodeLastRuneInString(s); return r }

// widestNumber returns the widest number of so many digits, to reserve space for a page number.
func widestNumber(digits int) (text string) {
	widest := '0'
	for d := '1'; d <= '9'; d++ {
		if fonts.Advance(fonts.Bold, d) > fonts.Advance(fonts.Bold, widest) {
			widest = d
		}
	}
	for range digits {
		text += string(widest)
	}
	return text
}

// Shorten truncates a text that is too wide and adds an ellipsis; "" if not even that fits.
func (r *Ruler) Shorten(look page.Look, text string, room float64) string {
	if r.Width(look, text) <= room {
		return text
	}
	letters := []rune(text)
	for len(letters) > 0 {
		letters = letters[:len(letters)-1]
		if short := strings.TrimRight(string(letters), " ") + "…"; r.Width(look, short) <= room {
			return short
		}
	}
	return ""
}
