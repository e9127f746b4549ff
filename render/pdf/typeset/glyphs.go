package typeset

import (
	"strings"

	"ownerguide/render/pdf/fonts"
	"ownerguide/spec/source"
)

// Missing is a character that the typeface lacks; a question mark stands in its place.
type Missing struct {
	Rune   rune
	Origin source.Pos // where the text comes from; the zero place for words that are in no file
}

// zeroWidth is where a word may be broken though no space shows.
const zeroWidth = '\u200b'

// Glyphs makes text fit to be set, and notes what the typeface lacks. The zero value is ready.
type Glyphs struct {
	Missing []Missing // each once for each place
	seen    map[Missing]bool
}

// Clean makes text fit to be set: white space becomes a space, the soft hyphen goes because words are not hyphenated, and what
// has no glyph is noted and shown as a question mark.
func (g *Glyphs) Clean(text string, at source.Pos) string {
	plain := true
	for i := 0; i < len(text) && plain; i++ {
		plain = text[i] >= ' ' && text[i] < 0x7f
	}
	if plain {
		return text
	}
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\t' || r == '\n' || r == '\r' || r == '\v' || r == '\f':
			return ' '
		case r == '\u00ad':
			return -1
		case r == zeroWidth || fonts.Covers(r):
			return r
		}
		g.Note(Missing{r, at})
		return '?'
	}, text)
}

// Note adds a character that the typeface lacks.
func (g *Glyphs) Note(m Missing) {
	if !g.seen[m] {
		if g.seen == nil {
			g.seen = map[Missing]bool{}
		}
		g.seen[m] = true
		g.Missing = append(g.Missing, m)
	}
}

// Printable makes text fit to be painted; what has no glyph becomes a question mark.
func Printable(text string) string {
	var g Glyphs
	return g.Clean(text, source.Pos{})
}
