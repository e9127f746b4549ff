package pdf

import "ownerguide/render/pdf/fonts"

// Greys print the same on every printer. Text never gets lighter than dim, which has a contrast of 8.9 to 1 on white.
var (
	black  = colour{0, 0, 0}
	dim    = colour{74, 74, 74}
	middle = colour{120, 120, 120}
	hair   = colour{176, 176, 176}
	pale   = colour{240, 240, 240}
	white  = colour{255, 255, 255}
)

// Paper is a size of paper by name.
type Paper string

// The papers. The two of a guide leave a text area of the same width, so that lines break alike. Half of each is the paper of a card.
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

// sheet is the page and its margins. Inside is the bound edge: left on odd pages, right on even ones.
type sheet struct {
	width, height   float64
	inside, outside float64
	top, bottom     float64
	card            bool // a card to hang up: read standing, in poor light
}

// textWidth is the width of a guide's text area on either paper; drawings are made for it.
const textWidth = 480

// text is the width of the text area.
func (s sheet) text() float64 { return s.width - s.inside - s.outside }

// sheet gives size and margins of a paper; false for a paper there is none of. Letter is what is printed on where these trailers are sold.
func (p Paper) sheet() (sheet, bool) {
	switch p {
	case Letter, "":
		return sheet{width: 612, height: 792, inside: 76, outside: 56, top: 62, bottom: 62}, true
	case A4:
		return sheet{width: 595.28, height: 841.89, inside: 67, outside: 595.28 - 67 - textWidth, top: 66, bottom: 66}, true
	case HalfLetter:
		return sheet{width: 396, height: 612, inside: 28, outside: 28, top: 28, bottom: 52, card: true}, true
	case A5:
		return sheet{width: 419.53, height: 595.28, inside: 28, outside: 28, top: 28, bottom: 52, card: true}, true
	}
	return sheet{}, false
}

// room is the height of the text area.
func (s sheet) room() float64 { return s.height - s.top - s.bottom }

// left is the left edge of the text area on a page.
func (s sheet) left(page int) float64 {
	if odd(page) {
		return s.inside
	}
	return s.outside
}

// odd pages lie on the right when the guide is printed on both sides.
func odd(page int) bool { return page%2 == 1 }

// hang is how far headings hang out to the left of running text in a guide; a card has no room for that.
const hang = 30

func (s sheet) hang() float64 {
	if s.card {
		return 0
	}
	return hang
}

// Text of 10.5 points on 14 reads well at arm's length in poor light; tables are a little smaller.
var (
	body     = look{fonts.Regular, 10.5, black}
	small    = look{fonts.Regular, 9.75, black}
	least    = look{fonts.Regular, 8, black} // a table shrinks to this before words are broken
	note     = look{fonts.Regular, 9, dim}   // captions
	running  = look{fonts.Regular, 8.5, dim} // heads and feet
	smallest = look{fonts.Regular, 7.5, dim} // the maker's notice in the foot
)

const (
	bodyLeading  = 14
	smallLeading = 12
	noteLeading  = 11.5
)

// statementSize is the least size of prescribed text, in tables and captions too: 49 CFR 575.6 wants owner information in
// "not less than 10 point type" (from memory), and the document's roles say the same.
const statementSize = 10

// headingLook is the look of a heading by depth from 1, with its leading and the space above and below.
type headingLook struct {
	look
	leading, above, below float64
}

var headings = [...]headingLook{
	{look{fonts.Bold, 26, black}, 30, 36, 11},
	{look{fonts.Bold, 16, black}, 19, 14, 4},
	{look{fonts.Bold, 12.5, black}, 15, 10, 3},
	{look{fonts.Bold, 10.5, black}, 14, 9, 2},
}

var coverTitle = headingLook{look{fonts.Bold, 34, black}, 38, 0, 12}

// On a card nothing is smaller than what can be read at arm's length: 9 points for labels, 10 for text, 14 for figures. No standard
// gives these; they are this project's judgement.
var (
	cardBody  = look{fonts.Regular, 10.5, black}
	cardLabel = look{fonts.Regular, 9.5, black}

	cardHeadings = [...]headingLook{
		{look{fonts.Bold, 17, black}, 21, 0, 9},
		{look{fonts.Bold, 11.5, black}, 14, 9, 3},
	}
)

const (
	cardLeading = 13
	cardLeast   = 10 // in tables
	cardNumber  = 14 // the least figure among the numbers you reach for
)

// heading gives the look for a depth; deep ones share the last.
func (s sheet) heading(depth int) headingLook {
	looks := headings[:]
	if s.card {
		looks = cardHeadings[:]
	}
	return looks[min(max(depth, 1), len(looks))-1]
}

// least is the type a table may shrink to.
func (s sheet) least() float64 {
	if s.card {
		return cardLeast
	}
	return least.size
}

// leastNumber is the type a figure among the numbers you reach for may shrink to.
func (s sheet) leastNumber() float64 {
	if s.card {
		return cardNumber
	}
	return leastNumber
}

// bold and italic turn a look.
func (l look) bold() look {
	switch l.style {
	case fonts.Regular:
		l.style = fonts.Bold
	case fonts.Italic:
		l.style = fonts.BoldItalic
	}
	return l
}

func (l look) italic() look {
	switch l.style {
	case fonts.Regular:
		l.style = fonts.Italic
	case fonts.Bold:
		l.style = fonts.BoldItalic
	}
	return l
}

func (l look) sized(points float64) look {
	l.size = points
	return l
}

func (l look) inked(c colour) look {
	l.ink = c
	return l
}

// baseline is how far below the top of a line of this leading the baseline lies: capitals stand in the middle.
func (l look) baseline(leading float64) float64 {
	return (leading + l.size*float64(fonts.MetricsOf(l.style).CapHeight)/1000) / 2
}
