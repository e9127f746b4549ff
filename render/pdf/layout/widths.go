package layout

import (
	"ownerguide/render/doc"
	"ownerguide/render/pdf/typeset"
)

// measure finds the widths of the columns: what each wants if all fit, else the longest word each must hold and a share of
// the rest. A table too wide even so gets a head row set upright, then the least type, and only then broken words.
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

// smallestType is the type a table may shrink to.
func (g *grid) smallestType() float64 {
	switch {
	case g.format.Card:
		return cardText.Size
	case g.setting.role == doc.RoleStatement:
		return statement
	}
	return leastSize
}

// canTurn tells whether the head row can stand upright: short words without marks.
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

// shrink sets all cells in the least type.
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

// minAndPreferredWidths gives for each column the width of its longest word and of its longest cell on one line, padding included.
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
				if typeset.ManyEnds(c.words) {
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

// widthsIn gives each column its width in so much room. What is left over goes to the longest text; of a form to fill in not to the
// first column, which only says what a row is for; of labels and values always to the labels.
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

// lineCount is the height of the table in lines: each row is as tall as its tallest cell.
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

// columnWidth names a column at a width.
type columnWidth struct {
	column int
	width  float64
}

// columnLines counts the lines of each cell of a column at a width, and remembers them: a search tries few widths many times.
func (g *grid) columnLines(k int, width float64) []int {
	key := columnWidth{k, width}
	if lines, ok := g.counted[key]; ok {
		return lines
	}
	lines := make([]int, len(g.rows))
	for i := range g.rows {
		if r := &g.rows[i]; k < len(r.cells) && !g.turned(r, k) {
			measure := width - 2*g.pads[k]
			if typeset.ManyEnds(r.cells[k].words) {
				measure -= entryIndent
			}
			lines[i] = typeset.CountLines(r.cells[k].words, measure)
		}
	}
	g.counted[key] = lines
	return lines
}

// cellWidth is the width of the text of a column.
func (g *grid) cellWidth(k int) float64 { return g.widths[k] - 2*g.pads[k] }
