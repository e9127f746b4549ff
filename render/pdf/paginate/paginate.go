// Package paginate distributes blocks to pages at the least cost. It knows heights, spaces and penalties, but neither documents
// nor fonts, so the same input always gives the same pages.
//
// A page has one or two columns. Blocks fill the left column, then the right one, then the next page. A block that spans both
// columns divides the page: what is above it is balanced over the two columns, and what follows begins below it.
//
// # The cost
//
// The cost of a layout is a sum, and a layout with the least cost is chosen:
//
//   - white space at the foot of a column, or next to the taller of two balanced columns: 10 for a line of 12 points, and 1 for
//     each line squared, so that one large gap is worse than several small ones. White space before a forced page break, and after
//     the last block, costs nothing but the page, and for columns of different length a tenth of that.
//   - [CostOfPage] for each page, so that fewer pages are preferred.
//   - the penalty of each block that begins a column, by the kind of break before it; see [Break].
//   - [Unbalanced], if the columns above a spanning block differ by more than [Balance].
//
// A rule that should always hold has a penalty of [Never] or a multiple of it. White space never outweighs such a penalty, so
// a layout that keeps all rules is found if there is one; if there is none, the rules with the smaller multiples are violated
// first. [Layout.Given] counts the violations.
//
// # The search
//
// Dynamic programming over the positions of column breaks, in the manner of Knuth and Plass (Breaking Paragraphs into Lines,
// 1981; from memory). For up to 400 blocks it follows all states, except when more than 32 different pages begin at one block. For a
// longer document it first follows only breaks that keep the rules and leave little space; if that does not keep all rules, it follows
// all. After 10 million steps it follows only the best page at each block, so that it terminates for any input.
package paginate

import (
	"crypto/sha256"
	"encoding/binary"
	"fmt"
)

// Length is a distance in hundredths of a point.
type Length int32

// Points converts points to a Length.
func Points(pt float64) Length {
	if pt < 0 {
		return Length(pt*100 - 0.5)
	}
	return Length(pt*100 + 0.5)
}

// Points returns the length in points.
func (l Length) Points() float64 { return float64(l) / 100 }

// Penalty is the cost of a break.
type Penalty int64

// Never is the penalty of a break that violates a rule.
const Never Penalty = 1_000_000

// Costs that are not penalties of blocks.
const (
	CostOfPage = 200 // each page
	Unbalanced = 100 // columns above a spanning block that differ by more than Balance

	// Three lines. With two, columns above a spanning heading had to match so closely that as much space was left white at the feet of columns before.
	Balance Length = 4000
)

// Block is an unbreakable unit: a line, a row, a panel.
type Block struct {
	Height        Length
	Before, After Length // space; the maximum of two neighbors counts, and none at the head of a column
	Snap          bool   // its top is moved down to the next multiple of [Grid.Snap] below the top of the page's text area
	Span          bool   // it is as wide as all columns together
	NewPage       bool   // it must begin a page
	Repeat        Length // height of what is repeated above it if it begins a column, such as the head row of its table
	Break         Break  // the cost of beginning a column with it
}

// Break is the penalty of a break before a block, by what the reader must do to continue.
type Break struct {
	Column  Penalty // to the next column of the same page
	Opening Penalty // from an even page to the facing odd one
	Leaf    Penalty // from an odd page to the even one on its back: the leaf is turned
}

// Everywhere returns the same penalty for each kind of break.
func Everywhere(p Penalty) Break { return Break{p, p, p} }

// Grid is the geometry of the pages.
type Grid struct {
	Columns int
	Height  Length // of the text area
	Snap    Length // distance of the lines on which blocks with Snap begin; 0 for none
}

// snapped returns the next line of the grid at or below y.
func (g Grid) snapped(y Length) Length {
	if g.Snap <= 1 {
		return y
	}
	return (y + g.Snap - 1) / g.Snap * g.Snap
}

// Place is the position of a block.
type Place struct {
	Page     int    // from 1
	Column   int    // from 0; 0 for a block that spans
	Top      Length // below the top of the text area
	Repeated bool   // its repeated part is above it, from Top less [Block.Repeat]
}

// Layout is the positions of all blocks.
type Layout struct {
	Places     []Place // of each block
	Pages      int
	Cost       Penalty
	Violations int     // cost of the violated rules in multiples of [Never]; 0 if all were kept
	Steps      int     // of the search
	White      float64 // fraction of the height of all columns that is unused at their feet, except where a page must end
}

// TooTall is the error for a block that does not fit on a page.
type TooTall struct {
	Block        int // its index
	Height, Page Length
}

// Error implements error.
func (e TooTall) Error() string {
	return fmt.Sprintf("block %d is %.0f points tall, but a page holds %.0f", e.Block, e.Height.Points(), e.Page.Points())
}

// Digest returns a digest of blocks: those with the same digest are shared out alike.
func Digest(blocks []Block) [sha256.Size]byte {
	data := make([]byte, 0, 16*len(blocks))
	for _, b := range blocks {
		flags := int64(0)
		for i, set := range [...]bool{b.Snap, b.Span, b.NewPage} {
			if set {
				flags |= 1 << i
			}
		}
		for _, n := range [...]int64{flags, int64(b.Height), int64(b.Before), int64(b.After), int64(b.Repeat), int64(b.Break.Column), int64(b.Break.Opening), int64(b.Break.Leaf)} {
			data = binary.AppendVarint(data, n)
		}
	}
	return sha256.Sum256(data)
}

// Paginate distributes blocks to pages. It returns an error of type [TooTall] if a block is taller than a page, and an
// error if the grid has no columns or no height.
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
	l := newSearch(blocks, grid, len(blocks) > exact).run()
	if len(blocks) > exact && l.Violations > 0 {
		l = newSearch(blocks, grid, false).run()
	}
	l.White = l.unused(blocks, grid)
	return l, nil
}

// gap returns the space between two blocks in a column.
func gap(above, below *Block) Length { return max(above.After, below.Before) }

// tenth is a tenth of a line of 12 points.
const tenth Length = 120

// white returns the cost of unused space.
func white(space Length) Penalty {
	if space <= 0 {
		return 0
	}
	tenths := Penalty(space / tenth)
	return tenths + tenths*tenths/200
}

// between returns the penalty of a break from a page to the next.
func (b Break) between(page int32) Penalty {
	if page%2 == 0 {
		return b.Opening
	}
	return b.Leaf
}
