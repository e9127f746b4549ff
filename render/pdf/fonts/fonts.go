// Package fonts holds the typeface of the printed guide and answers what a line breaker asks of it: which characters
// there are, how wide each is, and how much a pair is moved together.
//
// It holds four styles of one family as TrueType files, their licence, and a reader of the few tables that matter. It
// never draws, never breaks lines, and never substitutes a character: one that is not covered is the caller's error
// to report, because a PDF library would print a gap where "≤" stood.
//
// Terms. Advance: how far the pen moves after a character. Kerning: a correction to the advance between two neighbours. Both
// are in thousandths of the font size (1/1000 em), so at 10 pt an advance of 600 is 6 pt.
//
// Where the files come from and how they were made is in NOTICE beside them.
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

// faces gives the styles as they are read, each when it is first asked for.
var faces = [styles]func() *face{mustParse(regular), mustParse(bold), mustParse(italic), mustParse(boldItalic)}

// mustParse panics on a font that cannot be read: the files are part of the program, so that is a fault of the build.
func mustParse(data []byte) func() *face {
	return sync.OnceValue(func() *face {
		f, err := parse(data)
		if err != nil {
			panic("fonts: embedded font: " + err.Error())
		}
		return f
	})
}

// Data returns the TrueType file of a style. The caller must not change it.
func Data(s Style) []byte { return faces[s]().data }

// Web returns the file of a style as a page on a screen carries it (WOFF2); nil for a style that pages do without.
func Web(s Style) []byte {
	switch s {
	case Regular:
		return regularWeb
	case Bold:
		return boldWeb
	}
	return nil
}

// Licence returns the licence of the typeface and the note on how the files were derived.
func Licence() string { return licence + "\n" + notice }

// Covers reports whether every style has a glyph for the character, the space and the no-break spaces included. Line ends, tabs
// and the soft hyphen are not covered: they must be resolved before text is measured.
func Covers(r rune) bool {
	return !slices.ContainsFunc(faces[:], func(f func() *face) bool { return f().glyph(r) == 0 })
}

// Glyph returns the number of a character's glyph in the file of the style, which the PDF library keeps, and its advance in 1/1000 em; 0 for a
// character that is not covered. Source: the font's cmap and hmtx tables.
func Glyph(s Style, r rune) (number uint16, advance int) {
	f := faces[s]()
	number = f.glyph(r)
	return number, f.width(number)
}

// Advance returns the advance of a character in 1/1000 em; 0 for a character that is not covered.
// Source: the font's hmtx table.
func Advance(s Style, r rune) int { return faces[s]().advance(r) }

// Kern returns the kerning between two neighbours in 1/1000 em, negative when they move together; 0 when the pair has none.
// Source: the font's kern table.
func Kern(s Style, left, right rune) int { return faces[s]().kern(left, right) }

// Width returns the length of a run of text in 1/1000 em, kerning included: what the PDF library will take for the same run with
// kerning switched on. Characters that are not covered count nothing.
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

// Metrics are the vertical measures of a style in 1/1000 em, all counted upwards from the baseline.
type Metrics struct {
	Ascent    int // room the font asks for above the baseline
	Descent   int // room below it; negative
	CapHeight int // height of a flat capital
	XHeight   int // height of a flat lower-case letter
}

// MetricsOf returns the vertical measures of a style. Source: the font's hhea and OS/2 tables.
func MetricsOf(s Style) Metrics { return faces[s]().metrics }
