package layout

import "ownerguide/render/pdf/fonts"

// Everything is black on white; only signal words have colours.
var (
	black = Colour{0, 0, 0}
	white = Colour{255, 255, 255}
)

// One leading serves text, tables and captions alike, and blocks begin on half of it.
const (
	leading = 12
	snap    = leading / 2
)

// The looks. No size but these stands on a page of a guide.
var (
	body      = Look{Style: fonts.Regular, Size: 10, Ink: black}
	tableText = Look{Style: fonts.Regular, Size: 9.5, Ink: black} // tables, lines below heads, second lines of the contents
	caption   = Look{Style: fonts.Regular, Size: 8.5, Ink: black} // captions, running heads and feet
	chip      = Look{Style: fonts.Bold, Size: 8.5, Ink: black}    // a signal word in a line

	coverTitle   = Look{Style: fonts.Bold, Size: 34, Ink: black}
	coverFigure  = Look{Style: fonts.Bold, Size: 15, Ink: black}
	chapterHead  = Look{Style: fonts.Bold, Size: 20, Ink: black}
	sectionHead  = Look{Style: fonts.Bold, Size: 13, Ink: black}
	entryHead    = Look{Style: fonts.Bold, Size: 11, Ink: black} // of a point, a job, a stage
	signalWord   = Look{Style: fonts.Bold, Size: 13, Ink: black, Spacing: 0.6}
	gravestText  = Look{Style: fonts.Bold, Size: 13, Ink: black} // what a danger that spans the page says first
	tabNumber    = Look{Style: fonts.Bold, Size: 12, Ink: black}
	discNumber   = Look{Style: fonts.Bold, Size: 9.5, Ink: white}
	footNumber   = Look{Style: fonts.Bold, Size: 10, Ink: black}
	leastSize    = caption.Size
	statement    = 10.0 // least size of prescribed text: 49 CFR 575.6 wants "not less than 10 point type" (from memory)
	cardText     = Look{Style: fonts.Regular, Size: 10.5, Ink: black}
	cardLabel    = Look{Style: fonts.Regular, Size: 9.5, Ink: black}
	cardFigure   = Look{Style: fonts.Bold, Size: 18, Ink: black}
	cardFigureSI = Look{Style: fonts.Regular, Size: 14, Ink: black}
)

// Lines to the leading of looks that are not set on 12 points.
const (
	cardLeading       = 13
	coverTitleLeading = 42
	chapterLeading    = 24 // of the second line of a long title
	sectionLeading    = 15
	gravestLeading    = 18
)

// Weights of lines, by what they part.
const (
	heavyLine = 2    // chapters
	headLine  = 1    // the head of a table, the edge of a panel
	lightLine = 0.75 // sections
	thinLine  = 0.35 // rows, jobs, trouble
)

// laneWidth is the width of the lane at the left of a column in which marks stand: numbers, boxes, triangles, octagons. Words stand
// beside it. bulletAt is where the dots of plain lists stand.
const (
	laneWidth = 18
	bulletAt  = 9
)

// bold and italic turn a look.
func (l Look) bold() Look {
	switch l.Style {
	case fonts.Regular:
		l.Style = fonts.Bold
	case fonts.Italic:
		l.Style = fonts.BoldItalic
	}
	return l
}

func (l Look) italic() Look {
	switch l.Style {
	case fonts.Regular:
		l.Style = fonts.Italic
	case fonts.Bold:
		l.Style = fonts.BoldItalic
	}
	return l
}

func (l Look) regular() Look {
	l.Style = fonts.Regular
	return l
}

func (l Look) sized(points float64) Look {
	l.Size = points
	return l
}

func (l Look) inked(c Colour) Look {
	l.Ink = c
	return l
}

// baseline is how far below the top of a line of this leading the baseline lies: between ascent and descent, as the typeface counts
// them, the line's middle stands.
func (l Look) baseline(leading float64) float64 {
	m := fonts.MetricsOf(l.Style)
	return leading/2 + l.Size*float64(m.Ascent+m.Descent)/2000
}
