// Package fonts contains the typeface of the printed guide and its metrics for line breaking: which characters it covers,
// their advance widths, and kerning.
//
// It contains four styles of one family as TrueType files, their licence, and a parser of the few tables needed. It
// never draws, never breaks lines, and never substitutes a character: the caller must report a character that is not
// covered, because a PDF library would print a gap where "≤" stood.
//
// Terms. Advance: the distance from one character to the next. Kerning: a correction to the advance between two characters. Both
// are in thousandths of the font size (1/1000 em), so at 10 pt an advance of 600 is 6 pt.
//
// The origin of the files is described in NOTICE.
package fonts

import (
	_ "embed"
	"slices"
	"sync"
)

// Style is one of the four styles of the family.
type Style uint8

// The styles, in the order their files are parsed.
const (
	Regular Style = iota
	Bold
	Italic
	BoldItalic
	styles // how many there are
)

//go:embed regular.ttf
var regular []byte

//go:embed bold.ttf
var bold []byte

//go:embed italic.ttf
var italic []byte

//go:embed bolditalic.ttf
var boldItalic []byte

//go:embed regular.woff2
var regularWeb []byte

//go:embed bold.woff2
var boldWeb []byte

//go:embed OFL.txt
var licence string

//go:embed NOTICE
var notice string

// faces are the parsed styles, each parsed on first use.
var faces = [styles]func() *face{mustParse(regular), mustParse(bold), mustParse(italic), mustParse(boldItalic)}

// mustParse panics if a font cannot be parsed: the files are part of the program, so that is a bug.
func mustParse(data []byte) func() *face {
	return sync.OnceValue(func() *face {
		f, err := parse(data)
		if err != nil {
			panic("fonts: embedded font: " + err.Error())
		}
		return f
	})
}

// Data returns the TrueType file of a style. The caller must not modify it.
func Data(s Style) []byte { return faces[s]().data }

// Web returns the WOFF2 file of a style for web pages; nil for a style that is not used there.
func Web(s Style) []byte {
	switch s {
	case Regular:
		return regularWeb
	case Bold:
		return boldWeb
	}
	return nil
}

// Licence returns the licence of the typeface and the notice on how the files were derived.
func Licence() string { return licence + "\n" + notice }

// Covers reports whether every style has a glyph for the character. Space and no-break spaces are covered. Line ends, tabs
// and the soft hyphen are not: they must be resolved before text is measured.
func Covers(r rune) bool {
	return !slices.ContainsFunc(faces[:], func(f func() *face) bool { return f().glyph(r) == 0 })
}

// Glyph returns a character's glyph number in the font file, which the PDF library keeps, and its advance in 1/1000 em; 0 if the
// character is not covered. Source: the font's cmap and hmtx tables.
func Glyph(s Style, r rune) (number uint16, advance int) {
	f := faces[s]()
	number = f.glyph(r)
	return number, f.width(number)
}

// Advance returns the advance of a character in 1/1000 em; 0 if it is not covered.
// Source: the font's hmtx table.
func Advance(s Style, r rune) int { return faces[s]().advance(r) }

// Kern returns the kerning between two characters in 1/1000 em, negative if they move together; 0 if the pair has none.
// Source: the font's kern table.
func Kern(s Style, left, right rune) int { return faces[s]().kern(left, right) }

// Width returns the length of a text in 1/1000 em with kerning, the same as the PDF library gives with kerning switched
// on. Characters that are not covered have no width.
func Width(s Style, text string) int {
	f, sum, last := faces[s](), 0, rune(-1)
	for _, r := range text {
		if last >= 0 {
			sum += f.kern(last, r)
		}
		sum += f.advance(r)
		last = r
	}
	return sum
}

// Metrics are the vertical metrics of a style in 1/1000 em, upwards from the baseline.
type Metrics struct {
	Ascent  int // font ascender
	Descent int // font descender; negative
}

// MetricsOf returns the vertical metrics of a style. Source: the font's hhea table.
func MetricsOf(s Style) Metrics { return faces[s]().metrics }
