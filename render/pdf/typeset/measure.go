package typeset

import (
	"strings"
	"unicode/utf8"

	"ownerguide/render/pdf/fonts"
	"ownerguide/render/pdf/page"
)

// Ruler measures text and remembers what it measured: the same words come again and again.
type Ruler struct {
	known   map[measured]float64
	anyPage string // takes as much room as the number of any page
	key     []byte // of the text at hand
}

type measured struct {
	style fonts.Style
	text  string
}

// NewRuler makes a ruler that keeps room for numbers of pages of so many digits.
func NewRuler(digits int) *Ruler {
	return &Ruler{known: map[measured]float64{}, anyPage: widestNumber(digits)}
}

// Width is the length of text in points.
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

// kern is the kerning of two neighbours in points.
func kern(lk page.Look, left, right rune) float64 {
	return float64(fonts.Kern(lk.Style, left, right)) * lk.Size / 1000
}

// firstRune and lastRune are the ends of a text, for kerning over a space.
func firstRune(s string) rune { r, _ := utf8.DecodeRuneInString(s); return r }
func lastRune(s string) rune  { r, _ := utf8.DecodeLastRuneInString(s); return r }

// widestNumber is the number of so many digits that takes the most room, to hold the place of a page's number.
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

// Shorten cuts a text that is too wide for its room, and ends it with an ellipsis; "" where not even that fits.
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
