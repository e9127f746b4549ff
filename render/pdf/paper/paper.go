// Package paper defines paper sizes and the geometry of a page on each: margins, columns,
// the tab at the outer edge. Lengths are points, 1/72 in.
package paper

// Size is a size of paper by name.
type Size string

// The paper sizes. Half of each of the first two is the size of a card.
const (
	Letter     Size = "letter"      // 8.5 by 11 in
	A4         Size = "a4"          // 210 by 297 mm, ISO 216
	HalfLetter Size = "half-letter" // 5.5 by 8.5 in, for a card
	A5         Size = "a5"          // 148 by 210 mm, ISO 216, for a card
)

// Half returns the paper of the card that goes with a guide.
func (p Size) Half() Size {
	if p == A4 {
		return A5
	}
	return HalfLetter
}

// Format is the geometry of a page, in points. Inner is the margin at the bound edge: left on odd pages, right on even ones.
type Format struct {
	Width, Height   float64
	Inner, Outer    float64
	Top, TextHeight float64 // top and height of the text area
	Columns         int
	ColumnWidth     float64 // width of one
	TabWidth        float64 // width of the tab at the outer edge
	Card            bool    // a card to hang up: read from a distance, in poor light
	Joined          bool    // one of several documents in a file, each with elements of its own
}

// Leading is the distance between baselines. The height of the text area is a multiple of it.
const Leading = 12

// Gutter is the space between two columns.
const Gutter = 18

// Format returns the page format of a paper; false if the paper is unknown. The default is Letter, the usual paper where these trailers are sold.
func (p Size) Format() (Format, bool) {
	switch p {
	case Letter, "":
		return Format{Width: 612, Height: 792, Inner: 54, Outer: 48, Top: 54, TextHeight: 57 * Leading, Columns: 2, ColumnWidth: 246, TabWidth: 34}, true
	case A4:
		return Format{Width: 595.28, Height: 841.89, Inner: 51.28, Outer: 42, Top: 54, TextHeight: 61 * Leading, Columns: 2, ColumnWidth: 242, TabWidth: 32}, true
	case HalfLetter:
		return Format{Width: 396, Height: 612, Inner: 24, Outer: 24, Top: 24, TextHeight: 546, Columns: 2, ColumnWidth: 165, Card: true}, true
	case A5:
		return Format{Width: 419.53, Height: 595.28, Inner: 24, Outer: 24, Top: 24, TextHeight: 528, Columns: 2, ColumnWidth: 176.76, Card: true}, true
	}
	return Format{}, false
}

// BookletScale is the scale at which the pages of a booklet are printed: they are set in the type of a guide on a page larger
// than half a sheet by its inverse, so that running text is 9 points high. Project's judgement: the least that is legible in a cab.
const BookletScale = 0.9

// Booklet returns the page format of a booklet printed on sheets of format f: half a sheet, in one column.
func (f Format) Booklet() Format {
	out := Format{
		Width: f.Height / 2 / BookletScale, Height: f.Width / BookletScale,
		Inner: 48, Outer: 38, Top: 54, Columns: 1, TabWidth: 28,
	}
	out.ColumnWidth = out.Width - out.Inner - out.Outer
	out.TextHeight = float64(int((out.Height-out.Top-54)/Leading)) * Leading
	return out
}

// TextWidth returns the width of the text area.
func (f Format) TextWidth() float64 {
	return float64(f.Columns)*f.ColumnWidth + float64(f.Columns-1)*Gutter
}

// TextLeft returns the left edge of the text area on a page.
func (f Format) TextLeft(page int) float64 {
	if IsOdd(page) {
		return f.Inner
	}
	return f.Outer
}

// IsOdd reports whether a page is odd, on the right when printed on both sides.
func IsOdd(page int) bool { return page%2 == 1 }
