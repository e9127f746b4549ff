package layout

import (
	"ownerguide/render/doc"
	"ownerguide/render/pdf/typeset"
)

// measure sets the widths of the columns: the preferred widths if all fit, otherwise the longest word and a share of the remaining width. If
// the table is too wide even so, the head row is rotated, then the type is reduced, and only then are words broken.
func (g *grid) measure() {
	n := g.columns()
	available := g.width + g.outerPadding()
	for {
		longest, whole := g.minAndPreferredWidths(n)
		wide := typeset.Sum(longest) > available
		smallest := g.text.Size <= g.smallestType()
		switch {
		case wide && !g.upright && (smallest || g.role == doc.TableLog) && g.canTurn():
			g.upright = true
		case wide && !smallest:
			g.shrink()
		default:
			g.widths = g.widthsIn(available, longest, whole)
			return
		}
	}
}

// smallestType returns the type size to which a table may be reduced.
func (g *grid) smallestType() float64 {
	switch {
	case g.format.Card:
		return cardText.Size
	case g.setting.role == doc.RoleStatement:
		return statement
	}
	return leastSize
}

// canTurn reports whether the head row can be rotated: it has only short words without marks.
func (g *grid) canTurn() bool {
	if !g.headed {
		return false
	}
	for _, c := range g.rows[0].cells {
		if c.longest > uprightHead || c.whole > 2*uprightHead {
			return false
		}
		for _, p := range c.pieces {
			if p.Mark != typeset.NoMark || p.Link != nil {
				return false
			}
		}
	}
	return true
}

// shrink sets all cells in the smallest type.
func (g *grid) shrink() {
	g.text.Size = g.smallestType()
	for i := range g.rows {
		for k := range g.rows[i].cells {
			c := &g.rows[i].cells[k]
			for p := range c.pieces {
				c.pieces[p].Look.Size = min(c.pieces[p].Look.Size, g.text.Size)
			}
			c.words = nil
		}
	}
}

// minAndPreferredWidths returns for each column the widths of its longest word and of its longest cell on one line, including padding.
func (g *grid) minAndPreferredWidths(n int) (longest, whole []float64) {
	longest, whole = make([]float64, n), make([]float64, n)
	g.counted = map[columnWidth][]int{}
	for i := range g.rows {
		for k := range g.rows[i].cells {
			c := &g.rows[i].cells[k]
			if c.words == nil {
				c.words = g.setter.Words(c.pieces)
				c.longest, c.whole = typeset.Widths(c.words)
				if c.longest > longName {
					c.longest = g.LongestPart(c.pieces, c.words)
				}
				if typeset.HasForcedBreaks(c.words) {
					c.longest, c.whole = c.longest+entryIndent, c.whole+entryIndent
				}
			}
			a, b := c.longest, c.whole
			if g.turned(&g.rows[i], k) {
				a = g.leading * float64(len(g.BreakLines(c.pieces, c.words, uprightHead, true)))
				b = a
			}
			longest[k], whole[k] = max(longest[k], a+2*g.pads[k]), max(whole[k], b+2*g.pads[k])
		}
	}
	if g.role == doc.TableLog {
		for k := range whole {
			whole[k] += handWidth
		}
	}
	return longest, whole
}

// widthsIn returns the widths of columns for an available width. Surplus width goes to the longest text; in a form not to the first column,
// which only labels a row; in tables of labels and values always to the labels.
func (g *grid) widthsIn(available float64, longest, whole []float64) []float64 {
	roomiest := 0
	for i := range whole {
		named := roomiest == 0 && i > 0 && g.role == doc.TableLog
		if g.role != doc.TableValues && (named || whole[i] > whole[roomiest]) {
			roomiest = i
		}
	}
	return typeset.ColumnWidths(longest, whole, available, roomiest, g.lineCount)
}

// lineCount returns the height of the table in lines: each row is as tall as its tallest cell.
func (g *grid) lineCount(widths []float64) int {
	columns := make([][]int, len(widths))
	for k, w := range widths {
		columns[k] = g.columnLines(k, w)
	}
	total := 0
	for i := range g.rows {
		tallest := 1
		for _, lines := range columns {
			tallest = max(tallest, lines[i])
		}
		total += tallest
	}
	return total
}

// columnWidth is a column with a width, as a cache key.
type columnWidth struct {
	column int
	width  float64
}

// columnLines returns the number of lines of each cell of a column at a width. The result is cached, because a search tries few widths many times.
func (g *grid) columnLines(k int, width float64) []int {
	key := columnWidth{k, width}
	if lines, ok := g.counted[key]; ok {
		return lines
	}
	lines := make([]int, len(g.rows))
	for i := range g.rows {
		if r := &g.rows[i]; k < len(r.cells) && !g.turned(r, k) {
			measure := width - 2*g.pads[k]
			if typeset.HasForcedBreaks(r.cells[k].words) {
				measure -= entryIndent
			}
			lines[i] = typeset.CountLines(r.cells[k].words, measure)
		}
	}
	g.counted[key] = lines
	return lines
}

// cellWidth returns the width of the text of a column.
func (g *grid) cellWidth(k int) float64 { return g.widths[k] - 2*g.pads[k] }
