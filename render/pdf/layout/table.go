package layout

import (
	"maps"
	"slices"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/page"
	"ownerguide/render/pdf/paginate"
	"ownerguide/render/pdf/typeset"
)

// cell is one cell of a table before and after line breaking.
type cell struct {
	pieces         []typeset.Piece
	words          []typeset.Word
	element        *finish.Element
	align          doc.Align
	longest, whole float64 // width of the longest word and of the longest line
	lines          []*typeset.Line
}

// row is one row of a table.
type row struct {
	cells   []cell
	head    bool
	changed bool // it or its table differs from the earlier revision
	name    *name
}

// grid is a table while it is set.
type grid struct {
	*setter
	setting
	role    doc.TableRole
	rows    []row // starting with the head row, if it has text
	headed  bool
	widths  []float64 // of the columns, including padding
	text    page.Look
	leading float64
	height  float64 // minimum height of a row
	upright bool    // the head row is rotated
	dotted  bool    // it has columns of dots
	pads    []float64
	counted map[columnWidth][]int
}

// Dimensions of tables.
const (
	cellPad      = 5    // left and right of a cell's text, except at the edges of a table without vertical lines
	rowPad       = 1.5  // above and below it
	schedulePad  = 0.6  // the same in a schedule, to fit many rows on a page
	dotPad       = 1    // left and right of a dot in it
	scheduleHead = 6    // above the interval of the jobs below it
	writingRow   = 18   // minimum height of a row with something to fill in
	logRow       = 24   // the same in a log: a line of handwriting
	handWidth    = 50   // additional width of a column to fill in, beyond the width of its head
	uprightHead  = 96   // length of the lines of a rotated head row
	longName     = 80   // a wider word may be broken at dots and hyphens, and does not determine the width of a column
	mostInColumn = 4    // maximum number of columns of a table in a column of the page
	entryIndent  = 7    // indent of the second line of an entry
	shortTable   = 0.11 // fraction of the page height: tables up to that height are kept together
	fewLogRows   = 4    // minimum number of rows of a log below its head
)

// table sets a table: in its column or, if necessary, across the page.
func (s *setter) table(n *doc.Table, st setting) []*box {
	if n.Role == doc.TableNumbers && n.LabelsValues() {
		return s.numbers(n, st)
	}
	g := s.readRows(n, st, st.element(finish.RoleTable))
	if len(g.rows) == 0 {
		return nil
	}
	span := s.spanningTable(g)
	if span {
		g.setting = st.spanning()
	}
	g.measure()
	out := g.boxes()
	for _, b := range out {
		b.span = span
	}
	return out
}

// readRows collects the rows of a table below its element.
func (s *setter) readRows(n *doc.Table, st setting, e *finish.Element) *grid {
	g := &grid{setter: s, setting: st, role: n.Role, text: st.table, leading: st.leading}
	g.left, g.width = st.left+st.indent, st.width-st.indent
	e.Title = n.Caption
	if n.Role == doc.TableLog {
		g.height = logRow
	}
	if n.Head != nil && !n.Head.Blank() {
		head := &finish.Element{Role: finish.RoleTHead}
		e.Children = append(e.Children, head)
		g.readRow(n, n.Head, head, true)
		g.headed = true
	}
	if len(n.Rows) > 0 {
		body := &finish.Element{Role: finish.RoleTBody}
		e.Children = append(e.Children, body)
		for _, r := range n.Rows {
			g.readRow(n, r, body, false)
		}
	}
	g.pad(g.columns())
	return g
}

// readRow collects the cells of a row. In tables of label and value the label is a row header for screen readers, and the value is
// right-aligned in bold.
func (g *grid) readRow(t *doc.Table, n *doc.Row, parent *finish.Element, head bool) {
	tr := &finish.Element{Role: finish.RoleTR}
	parent.Children = append(parent.Children, tr)
	at := g.at(n).origin
	r := row{head: head, changed: n.Changed || t.Changed, name: &name{"table row", at}}
	named := g.role == doc.TableValues || g.role == doc.TableNumbers
	for column, c := range n.Cells {
		e := &finish.Element{Role: finish.RoleTD}
		look, align := g.text, c.Align
		switch {
		case head:
			e.Role, e.Scope, look = finish.RoleTH, finish.ScopeColumn, look.Bold()
		case named && column == 0:
			e.Role, e.Scope = finish.RoleTH, finish.ScopeRow
		case named:
			look = look.Bold()
			if column == len(n.Cells)-1 {
				align = doc.AlignEnd
			}
		}
		tr.Children = append(tr.Children, e)
		pieces := g.inlines(c.Inlines, look, e, at)
		if len(pieces) == 0 || pieces[0].Mark == typeset.Boxed {
			g.height = max(g.height, g.writing(head, len(pieces) == 0, column))
		}
		r.cells = append(r.cells, cell{pieces: pieces, element: e, align: align})
	}
	g.rows = append(g.rows, r)
}

// writing returns the minimum height of rows with a cell to fill in.
func (g *grid) writing(head, blank bool, column int) float64 {
	if head || blank && column == 0 || g.role == doc.TableSchedule {
		return 0
	}
	return writingRow
}

// columns returns the maximum number of cells in a row.
func (g *grid) columns() int {
	n := 0
	for _, r := range g.rows {
		n = max(n, len(r.cells))
	}
	return n
}

// acrossPage reports whether a block is set across the page.
func (s *setter) acrossPage(n doc.Block) bool {
	st := s.outermost(&finish.Element{})
	if s.format.Columns == 1 {
		return false
	}
	switch n := n.(type) {
	case *doc.Figure:
		return n.Drawing != nil && s.spanningFigure(n, st)
	case *doc.Form:
		return s.spanningForm(n, st)
	case *doc.Table:
		if n.Role == doc.TableNumbers && n.LabelsValues() {
			return !s.format.Card
		}
		// Missing characters found in the trial are found again.
		trial := &setter{shared: s.shared, Ruler: s.Ruler, told: maps.Clone(s.told)}
		g := trial.readRows(n, st, &finish.Element{})
		return len(g.rows) > 0 && trial.spanningTable(g)
	}
	return false
}

// spanningTable reports whether a table is set across the page: because it has many columns or words too long for a part of the page, or
// because it takes less space that way.
func (s *setter) spanningTable(g *grid) bool {
	if !g.outer || s.format.Columns == 1 || s.format.Card {
		return false
	}
	n := g.columns()
	longest, whole := g.minAndPreferredWidths(n)
	edges := g.outerPadding()
	if g.dotted {
		if typeset.Sum(longest) > g.width+edges && g.text.Size > g.smallestType() {
			g.shrink()
			longest, _ = g.minAndPreferredWidths(n)
		}
		return typeset.Sum(longest) > g.width+edges
	}
	if g.role == doc.TableLog || n > mostInColumn || typeset.Sum(longest) > g.width+edges {
		return true
	}
	if typeset.Sum(whole) <= g.width+edges {
		return false
	}
	narrow := g.lineCount(g.widthsIn(g.width+edges, longest, whole))
	wide := g.lineCount(g.widthsIn(g.full+edges, longest, whole))
	return float64(narrow) > 2.4*float64(wide)
}

// pad sets the padding left and right of the text in columns. Columns of dots are narrow, with rotated heads.
func (g *grid) pad(n int) {
	g.pads = slices.Repeat([]float64{cellPad}, n)
	if g.role != doc.TableSchedule || !g.headed || n <= mostInColumn {
		return
	}
	g.minAndPreferredWidths(n) // measures the heads
	g.dotted = g.canTurn()
	if g.upright = g.dotted; g.dotted {
		for k, c := range g.rows[len(g.rows)-1].cells {
			if c.align == doc.AlignCenter {
				g.pads[k] = dotPad
			}
		}
	}
}

// turned reports whether a cell is rotated.
func (g *grid) turned(r *row, k int) bool {
	return r.head && g.upright && (!g.dotted || g.pads[k] == dotPad)
}

// outerPadding returns the padding that the outer columns do not need: text is flush with that above, unless the table has vertical lines.
func (g *grid) outerPadding() float64 {
	if g.role == doc.TableLog {
		return 0
	}
	return g.pads[0] + g.pads[len(g.pads)-1]
}

// boxes breaks the cells into lines and returns a box for each row.
func (g *grid) boxes() []*box {
	var out []*box
	var head *repeated
	for i := range g.rows {
		r := &g.rows[i]
		for k := range r.cells {
			g.breakCell(r, k)
		}
		from := make([]int, len(r.cells))
		b := g.box(r, from)
		if r.head {
			if b.height < g.format.TextHeight/3 { // a head that fills the page is not repeated
				head = &repeated{height: b.height}
				head.items, head.open = g.Settle(page.AsArtifacts(b.items))
			}
			out = append(out, g.splitRow(r, b, from, nil)...)
			continue
		}
		parts := g.splitRow(r, b, from, head)
		for _, p := range parts {
			p.repeat = head
		}
		out = append(out, parts...)
	}
	for _, b := range out[min(1, len(out)):] {
		b.free = true
	}
	out[0].before, out[len(out)-1].after = blockSpace, 6
	if g.role == doc.TableSchedule && !g.headed { // its lines are consecutive and follow the interval above them
		out[0].before, out[0].free, out[len(out)-1].after = 0, true, 0
	}
	out[0].repeat = nil
	g.keepRowsTogether(out)
	return out
}

// breakCell breaks the text of a cell into lines.
func (g *grid) breakCell(r *row, k int) {
	c := &r.cells[k]
	width := g.cellWidth(k)
	if g.turned(r, k) {
		width = uprightHead
	}
	ts := typeset.Style{Leading: g.leading, Element: c.element}
	// In a cell of several entries a long one is indented from the second line, or it would look like the next entry.
	in := 0.0
	if typeset.HasForcedBreaks(c.words) {
		in = entryIndent
	}
	rest := false
	for _, l := range g.LinesOf(c.pieces, g.BreakLines(c.pieces, c.words, width-in, r.head), ts) {
		if rest {
			l.X, l.Width = in, l.Width+in
		}
		rest = !l.EndsEntry()
		c.lines = append(c.lines, l)
	}
}

// keepRowsTogether keeps the first two and the last two rows of a table together, the first few of a log, and short tables completely.
func (g *grid) keepRowsTogether(boxes []*box) {
	rows, height := boxes, 0.0
	if g.headed {
		rows = boxes[1:]
		if len(rows) > 0 {
			rows[0].keep(ruleHead)
		}
	}
	for _, b := range boxes {
		height += b.height
	}
	alone := 1
	if g.role == doc.TableLog {
		alone = fewLogRows
	}
	for i, b := range rows {
		switch {
		case i == 0:
		case i <= alone || i == len(rows)-1 || height < g.format.TextHeight*shortTable:
			b.keep(ruleSingle) // violated inside a row that is taller than a column
		case b.ends == paginate.Break{}:
			b.ends = paginate.Break{Column: insideTable, Opening: insideTable, Leaf: insideTable + pageTurn}
		}
	}
}

// box returns one row with the lines of its cells, beginning with the given line of each.
func (g *grid) box(r *row, from []int) *box {
	b := &box{name: r.name, height: g.rowHeight(r, from)}
	width := typeset.Sum(g.widths) - g.outerPadding()
	x := g.left
	if g.role != doc.TableLog {
		x -= cellPad
	}
	for k := range r.cells {
		if g.turned(r, k) {
			b.items = append(b.items, g.uprightCell(&r.cells[k], x, g.widths[k], b.height)...)
		} else {
			b.items = append(b.items, g.cellItems(&r.cells[k], from[k], x, g.widths[k], g.pads[k], b.height, r.head && g.upright)...)
		}
		x += g.widths[k]
	}
	weight := float64(thinLine)
	if r.head {
		weight = headLine
	}
	b.items = append(b.items, page.Rule(g.left, b.height-weight/2, g.left+width, b.height-weight/2, weight))
	if g.role == doc.TableLog {
		x := g.left
		for _, w := range append([]float64{0}, g.widths...) {
			x += w
			b.items = append(b.items, page.Rule(x, 0, x, b.height, thinLine))
		}
	}
	if r.changed {
		b.bar = b.height
	}
	return b
}

// rowPad returns the space above and below the text of a row.
func (g *grid) rowPad() float64 {
	if g.role == doc.TableSchedule {
		return schedulePad
	}
	return rowPad
}

// rowHeight returns the height of a row from the given line of each cell on.
func (g *grid) rowHeight(r *row, from []int) float64 {
	lines, long := 1, 0.0
	for k := range r.cells {
		if !g.turned(r, k) {
			lines = max(lines, len(r.cells[k].lines)-from[k])
			continue
		}
		for _, l := range r.cells[k].lines {
			long = max(long, l.Width+2*cellPad)
		}
	}
	h := max(float64(lines)*g.leading+2*g.rowPad(), long)
	if !r.head {
		h = max(h, g.height)
	}
	return h
}

// cellItems places the lines of a cell from one on; with foot they are bottom-aligned.
func (g *grid) cellItems(c *cell, from int, x, width, pad, height float64, foot bool) []page.Item {
	var items []page.Item
	y := g.rowPad()
	if foot {
		y = height - float64(len(c.lines))*g.leading - y
	}
	if g.height > 0 && len(c.lines)-from == 1 && height == g.height {
		y = (height - g.leading) / 2
	}
	for _, l := range c.lines[from:] {
		m := *l
		m.Y = y
		switch c.align {
		case doc.AlignEnd:
			m.X, m.End = x+width-pad, true
		case doc.AlignCenter:
			m.X = x + (width-l.Width)/2
		default:
			m.X = x + pad + l.X
		}
		items = append(items, &m)
		y += g.leading
	}
	return items
}

// splitRow splits a row that is taller than a column into boxes: as many lines as fit, and the rest.
func (g *grid) splitRow(r *row, b *box, from []int, head *repeated) []*box {
	room := g.format.TextHeight
	if head != nil {
		room -= head.height
	}
	var out []*box
	for b.height > room+typeset.Slack {
		n := max(int((room-2*g.rowPad()+typeset.Slack)/g.leading), 1)
		upper, next := *r, make([]int, len(from))
		upper.cells = make([]cell, len(r.cells))
		for k, c := range r.cells {
			next[k] = min(from[k]+n, len(c.lines))
			c.lines = c.lines[:next[k]]
			upper.cells[k] = c
		}
		out = append(out, g.box(&upper, from))
		from = next
		b = g.box(r, from)
	}
	return append(out, b)
}

// uprightCell places a cell of the head row rotated by a quarter turn, read from below.
func (g *grid) uprightCell(c *cell, x, width, height float64) []page.Item {
	block := float64(len(c.lines)) * g.leading
	return []page.Item{&typeset.Turned{Lines: c.lines, X: x + (width-block)/2, Y: height - cellPad}}
}
