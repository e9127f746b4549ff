package layout

import (
	"ownerguide/render/pdf/fonts"
	"ownerguide/render/pdf/page"
	"ownerguide/render/pdf/paper"
)

// Text, tables and captions have the same leading. Blocks begin on multiples of the space between the items of a list: a coarser grid
// would leave more white above each of them, a page and a half in a guide of fifty, and lines of lists would not be on it anyway.
const (
	leading = paper.Leading
	snap    = leading / 6
)

// The looks. A page of a guide has no other sizes.
var (
	body      = page.Look{Style: fonts.Regular, Size: 10, Ink: page.Black}
	tableText = page.Look{Style: fonts.Regular, Size: 9.5, Ink: page.Black} // tables, lines below heads, second lines of the contents
	caption   = page.Look{Style: fonts.Regular, Size: 8.5, Ink: page.Black} // captions, running heads and feet
	chip      = page.Look{Style: fonts.Bold, Size: 8.5, Ink: page.Black}    // a signal word in running text

	coverTitle   = page.Look{Style: fonts.Bold, Size: 34, Ink: page.Black}
	coverFigure  = page.Look{Style: fonts.Bold, Size: 15, Ink: page.Black}
	chapterHead  = page.Look{Style: fonts.Bold, Size: 20, Ink: page.Black}
	sectionHead  = page.Look{Style: fonts.Bold, Size: 13, Ink: page.Black}
	entryHead    = page.Look{Style: fonts.Bold, Size: 11, Ink: page.Black} // of a point, a job, a stage
	signalWord   = page.Look{Style: fonts.Bold, Size: 13, Ink: page.Black, Spacing: 0.6}
	gravestText  = page.Look{Style: fonts.Bold, Size: 13, Ink: page.Black} // the first text of a danger that spans the page
	tabNumber    = page.Look{Style: fonts.Bold, Size: 12, Ink: page.Black}
	footNumber   = page.Look{Style: fonts.Bold, Size: 10, Ink: page.Black}
	leastSize    = caption.Size
	statement    = 10.0 // minimum size of prescribed text: 49 CFR 575.6 wants "not less than 10 point type" (from memory)
	cardText     = page.Look{Style: fonts.Regular, Size: 10.5, Ink: page.Black}
	cardLabel    = page.Look{Style: fonts.Regular, Size: 9.5, Ink: page.Black}
	cardFigure   = page.Look{Style: fonts.Bold, Size: 18, Ink: page.Black}
	cardFigureSI = page.Look{Style: fonts.Regular, Size: 14, Ink: page.Black}
)

// Leadings of looks that are not set on 12 points.
const (
	cardLeading       = 13
	coverTitleLeading = 42
	chapterLeading    = 24 // for the second line of a long title
	sectionLeading    = 15
	gravestLeading    = 18
)

// Line widths, by what they separate.
const (
	heavyLine = 2    // chapters
	headLine  = 1    // the head of a table, the edge of a panel
	lightLine = 0.75 // sections
	thinLine  = 0.35 // rows, jobs, trouble
)

// laneWidth is the width of the lane for marks at the left of a column: numbers, boxes, triangles, octagons. Text is next to it. bulletAt
// is the position of the bullets of plain lists.
const (
	laneWidth = 18
	bulletAt  = 9
)
