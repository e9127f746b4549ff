package typeset

import (
	"strings"

	"ownerguide/render/pdf/fonts"
	"ownerguide/spec/source"
)

// Missing is a character without a glyph in the typeface; a question mark is printed instead.
type Missing struct {
	Rune   rune
	Origin source.Pos // position of the text; zero for words that are in no file
}

// zeroWidth is a zero-width space, a break opportunity inside a word.
const zeroWidth = '\u200b'

// Glyphs prepares text for typesetting and records missing characters. The zero value is ready to use.
type Glyphs struct {
	Missing []Missing // each once for each position
	seen    map[Missing]bool
}

// Clean prepares text for typesetting: white space becomes a space, soft hyphens are removed because words are not hyphenated, and
// characters without a glyph are recorded and replaced by a question mark.
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

// Note records a missing character.
func (g *Glyphs) Note(m Missing) {
	if !g.seen[m] {
		if g.seen == nil {
			g.seen = map[Missing]bool{}
		}
		g.seen[m] = true
		g.Missing = append(g.Missing, m)
	}
}

// Printable is Clean without recording missing characters.
func Printable(text string) string {
	var g Glyphs
	return g.Clean(text, source.Pos{})
}
