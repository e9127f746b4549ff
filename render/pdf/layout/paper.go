package layout

// Paper is a size of paper by name.
type Paper string

// The papers. Half of each of the first two is the paper of a card.
const (
	Letter     Paper = "letter"      // 8.5 by 11 in
	A4         Paper = "a4"          // 210 by 297 mm, ISO 216
	HalfLetter Paper = "half-letter" // 5.5 by 8.5 in, for a card
	A5         Paper = "a5"          // 148 by 210 mm, ISO 216, for a card
)

// Half is the paper of the card that goes with a guide.
func (p Paper) Half() Paper {
	if p == A4 {
		return A5
	}
	return HalfLetter
}

// Format is a page and what stands where on it, in points. Inner is the bound edge: left on odd pages, right on even ones.
type Format struct {
	Width, Height float64
	inner, outer  float64
	top, room     float64 // where the text area begins, and its height
	columns       int
	column        float64 // width of one
	tab           float64 // width of the tab at the outer edge
	card          bool    // a card to hang up: read standing, in poor light
}

// gutter is the space between two columns.
const gutter = 18

// Format gives the page of a paper; false for a paper there is none of. Letter is what is printed on where these trailers are sold.
func (p Paper) Format() (Format, bool) {
	switch p {
	case Letter, "":
		return Format{Width: 612, Height: 792, inner: 54, outer: 48, top: 54, room: 57 * leading, columns: 2, column: 246, tab: 34}, true
	case A4:
		return Format{Width: 595.28, Height: 841.89, inner: 51.28, outer: 42, top: 54, room: 61 * leading, columns: 2, column: 242, tab: 32}, true
	case HalfLetter:
		return Format{Width: 396, Height: 612, inner: 24, outer: 24, top: 24, room: 546, columns: 2, column: 165, card: true}, true
	case A5:
		return Format{Width: 419.53, Height: 595.28, inner: 24, outer: 24, top: 24, room: 528, columns: 2, column: 176.76, card: true}, true
	}
	return Format{}, false
}

// BookletScale is the size at which the pages of a booklet are printed: they are set with the type of a guide on a page that is larger
// than half a sheet by that, so that running text is 9 points high. Project's judgement: the least to be read in a cab.
const BookletScale = 0.9

// Booklet is the page of a booklet that is printed on sheets of a format: half of one, in one column.
func (f Format) Booklet() Format {
	out := Format{
		Width: f.Height / 2 / BookletScale, Height: f.Width / BookletScale,
		inner: 48, outer: 38, top: 54, columns: 1, tab: 28,
	}
	out.column = out.Width - out.inner - out.outer
	out.room = float64(int((out.Height-out.top-54)/leading)) * leading
	return out
}

// Card tells whether the format is that of a card.
func (f Format) Card() bool { return f.card }

// text is the width of the text area.
func (f Format) text() float64 {
	return float64(f.columns)*f.column + float64(f.columns-1)*gutter
}

// left is the left edge of the text area on a page.
func (f Format) left(page int) float64 {
	if odd(page) {
		return f.inner
	}
	return f.outer
}

// odd pages lie on the right when the guide is printed on both sides.
func odd(page int) bool { return page%2 == 1 }
