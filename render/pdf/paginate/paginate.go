// Package paginate shares blocks out to pages at the least cost. It knows heights, spaces and penalties and nothing of
// documents or fonts, so the same input always gives the same pages.
//
// A page has one or two columns. Blocks fill the left column, then the right one, then the next page. A block that spans both
// columns divides the page: what stands above it is balanced over the two columns, and what follows begins below it.
//
// # The cost
//
// The cost of a layout is a sum, and the layout with the least is taken:
//
//   - white space at the foot of a column, or beside the taller of two balanced columns: 10 a line of 12 points, and 1 for
//     each line squared, so that one large gap is worse than several small ones. Space before a forced new page, and after the
//     last block, costs nothing but the page, and a tenth of that for columns of unlike length.
//   - [CostOfPage] a page, so that fewer pages win.
//   - the penalty of each block that begins a column, by the kind of break before it; see [Break].
//   - [Unbalanced], where the columns above a spanning block differ by more than [Balance].
//
// A rule that should hold always has a penalty of [Never] or a multiple of it. So many of these are never outweighed by white
// space, and a layout that keeps all rules is found if there is one; if there is none, the rules with the smaller multiples give
// way first. [Layout.Given] counts what gave way.
//
// # The search
//
// Dynamic programming over the places where columns may begin, in the manner of Knuth and Plass (Breaking Paragraphs into Lines,
// 1981; from memory). Up to 400 blocks it follows every way, unless more than 32 different pages are begun at one block. A longer
// document is first searched along the breaks that keep the rules and leave little space; where that does not keep all rules, every way
// is followed. After 10 million steps only the best page at each block is followed, so that any input ends.
package paginate

import (
	"crypto/sha256"
	"encoding/binary"
	"fmt"

	"ownerguide/spec/parallel"
)

// Length is a distance in hundredths of a point.
type Length int32

// Points turns points into a Length.
func Points(pt float64) Length {
	if pt < 0 {
		return Length(pt*100 - 0.5)
	}
	return Length(pt*100 + 0.5)
}

// Points gives the length in points.
func (l Length) Points() float64 { return float64(l) / 100 }

// Penalty is what a break costs.
type Penalty int64

// Never is the penalty of a break that breaks a rule.
const Never Penalty = 1_000_000

// Costs that are no penalties of blocks.
const (
	CostOfPage = 200 // each page
	Unbalanced = 100 // columns above a spanning block that differ by more than Balance

	Balance Length = 2400
)

// Block is what no break can part: a line, a row, a panel.
type Block struct {
	Height        Length
	Before, After Length // space; of two neighbours the greater counts, and at the head of a column there is none
	Snap          bool   // its top goes down to the next multiple of [Grid.Snap] below the top of the page's text area
	Span          bool   // it is as wide as all columns together
	NewPage       bool   // it must begin one
	Repeat        Length // height of what is set above it again when it begins a column, as the head row of its table
	Break         Break  // what it costs to begin a column with it
}

// Break is the penalty of a break before a block, by what the reader must do to read on.
type Break struct {
	Column  Penalty // to the next column of the same page
	Opening Penalty // from an even page to the odd one beside it
	Leaf    Penalty // from an odd page to the even one behind it: the leaf is turned
}

// Everywhere is the same penalty for each kind of break.
func Everywhere(p Penalty) Break { return Break{p, p, p} }

// Grid is what blocks are put on.
type Grid struct {
	Columns int
	Height  Length // of the text area
	Snap    Length // lines that blocks with Snap begin on; 0 for none
}

// snapped is the next line of the grid at or below y.
func (g Grid) snapped(y Length) Length {
	if g.Snap <= 1 {
		return y
	}
	return (y + g.Snap - 1) / g.Snap * g.Snap
}

// Place is where a block was put.
type Place struct {
	Page     int    // from 1
	Column   int    // from 0; 0 for a block that spans
	Top      Length // below the top of the text area
	Repeated bool   // what it repeats stands above it, from Top less [Block.Repeat]
}

// Layout is where all blocks were put.
type Layout struct {
	Places []Place // of each block
	Pages  int
	Cost   Penalty
	Given  int // how many times [Never] the rules cost that gave way; 0 if all were kept
	Steps  int // of the search
}

// TooTall is the error for a block that no page can hold.
type TooTall struct {
	Block        int // its index
	Height, Page Length
}

// Error implements error.
func (e TooTall) Error() string {
	return fmt.Sprintf("block %d is %.0f points tall, but a page holds %.0f", e.Block, e.Height.Points(), e.Page.Points())
}

// layouts are those of earlier documents: guides of one model differ in figures, and few of those change a height.
var layouts = parallel.Cache[Layout]{Most: 64}

// digest tells apart what has different layouts.
func digest(blocks []Block, grid Grid) parallel.Digest {
	flag := map[bool]int64{true: 1}
	data := make([]byte, 0, 24*len(blocks))
	add := func(numbers ...int64) {
		for _, n := range numbers {
			data = binary.AppendVarint(data, n)
		}
	}
	add(int64(grid.Columns), int64(grid.Height), int64(grid.Snap))
	for _, b := range blocks {
		add(int64(b.Height), int64(b.Before), int64(b.After), flag[b.Snap], flag[b.Span], flag[b.NewPage], int64(b.Repeat),
			int64(b.Break.Column), int64(b.Break.Opening), int64(b.Break.Leaf))
	}
	return sha256.Sum256(data)
}

// Paginate shares blocks out to pages. It is an error, of the type [TooTall], when a block is taller than a page, and
// when the grid has no columns or no height. The layout must not be changed: who asks for the same again gets the same.
func Paginate(blocks []Block, grid Grid) (Layout, error) {
	if grid.Columns < 1 || grid.Height <= 0 {
		return Layout{}, fmt.Errorf("a page of %d columns, %.0f points tall, holds nothing", grid.Columns, grid.Height.Points())
	}
	for i, b := range blocks {
		if b.Height > grid.Height {
			return Layout{}, TooTall{i, b.Height, grid.Height}
		}
	}
	if len(blocks) == 0 {
		return Layout{}, nil
	}
	return layouts.Get(digest(blocks, grid), func() Layout { return best(blocks, grid) }), nil
}

// best finds the layout that costs least.
func best(blocks []Block, grid Grid) Layout {
	if len(blocks) > exact {
		if l := newSearch(blocks, grid, true).run(); l.Given == 0 {
			return l
		}
	}
	return newSearch(blocks, grid, false).run()
}

// gap is the space between two blocks in a column.
func gap(above, below *Block) Length { return max(above.After, below.Before) }

// tenth is that of a line of 12 points.
const tenth Length = 120

// white is the cost of unused space.
func white(space Length) Penalty {
	if space <= 0 {
		return 0
	}
	tenths := Penalty(space / tenth)
	return tenths + tenths*tenths/200
}

// between is the penalty of a break to the next page.
func (b Break) between(page int32) Penalty {
	if page%2 == 0 {
		return b.Opening
	}
	return b.Leaf
}
