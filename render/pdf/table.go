package pdf

import (
	"slices"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
)

// cell is one cell of a table before and after its lines are broken.
type cell struct {
	pieces         []piece
	words          []word
	element        *finish.Element
	align          doc.Align
	longest, whole float64 // longest word and longest line
	lines          []line
}

// row is one row of a table.
type row struct {
	cells   []cell
	head    bool
	changed bool // it or its table differs from the earlier revision
	name    string
}

// grid is a table while it is set.
type grid struct {
	*layout
	setting
	role    doc.TableRole
	rows    []row // the head row first, if it has words
	headed  bool
	widths  []float64 // of the columns, padding included
	left    float64
	leading float64
	text    look
	pad     float64 // above and below a cell's text
	height  float64 // least height of a row
	turned  bool    // the head row is set upright
	counted map[columnWidth][]int
}

// turnedHead is the length of the lines of an upright head row.
const turnedHead = 96

// longName is the width of a word in a cell above which it may be broken at its dots and hyphens: names such as those of values
// must not decide how wide a column is.
const longName = 80

const (
	cellPad = 6   // left and right of a cell's text
	rowPad  = 2.5 // above and below it
	finePad = 1.5 // the same in a table that is looked up
	logRow  = 24  // height of a row to be written in: a line of handwriting

	handWidth = 50 // what a column to write in wants beside the width of its head
)

// table sets a table: the numbers you reach for as a grid of fields, all others in rows and columns.
func (l *layout) table(n *doc.Table, s setting) ([]*slab, error) {
	role := n.Role
	g := &grid{layout: l, setting: s, role: role, text: s.small, leading: s.smallLeading, pad: rowPad}
	e := s.element(finish.RoleTable)
	e.Title = n.Caption
	g.parent = e
	switch role {
	case doc.TableLog:
		g.height = logRow
	case doc.TableFine:
		g.text, g.leading, g.pad = g.text.sized(fineSize), fineLeading, finePad
	}
	if err := g.read(n); err != nil {
		return nil, err
	}
	if len(g.rows) == 0 {
		return nil, nil
	}
	if role == doc.TableNumbers && g.plainNumbers() {
		return g.numbers(), nil
	}
	if narrow := g.inTwo(); narrow != nil {
		return []*slab{narrow}, nil
	}
	if set, err := g.asFamily(n); err != nil {
		return nil, err
	} else if !set {
		g.measure()
	}
	return g.slabs(), nil
}

// A table of so many rows, label and short value, has two columns of rows, if each fits into half the width: a value far from its label
// is misread.
const manyRows = 6

// inTwo sets the rows in two columns; nil if that does not become the table.
func (g *grid) inTwo() *slab {
	rows := g.rows
	if g.headed {
		rows = g.rows[1:]
	}
	half := (g.width - columnGutter) / 2
	_, whole := g.wants(g.columns())
	pairs := g.columns() == 2 && (g.role == doc.TablePlain || g.role == doc.TableValues)
	low := float64(len(rows)/2+2)*(g.leading+2*g.pad) < g.sheet.room()/2
	if !g.outer || g.sheet.card || !pairs || len(rows) < manyRows || sum(whole) > half || !low {
		return nil
	}
	full := g.width
	g.width = half
	g.measure()
	g.width = full
	slabs := g.slabs()
	head := slabs[:len(slabs)-len(rows)]
	var ends []int
	for i := range rows {
		ends = append(ends, i+1)
	}
	out := g.sideBySide(slabs[len(head):], ends, half+columnGutter)
	for _, h := range head {
		both := append(slices.Clone(h.items), shift(silent(h.items), half+columnGutter, 0)...)
		out.items = append(both, shift(out.items, 0, h.height)...)
		out.height += h.height
	}
	out.above, out.below = 5, 9
	return out
}

// family is tables that follow one another with the same head. They are read as one, so their columns run through.
type family struct {
	tables []*doc.Table
	set    *grid // one grid of all their rows
}

// head is the text of a table's head row; empty without one.
func head(n *doc.Table) string {
	if n.Head == nil {
		return ""
	}
	return doc.PlainText(n.Head)
}

// asFamily takes the widths that suit a table and those that follow it with the same head; false if it stands alone.
func (g *grid) asFamily(n *doc.Table) (bool, error) {
	if head(n) == "" {
		return false, nil
	}
	if !slices.Contains(g.kin.tables, n) {
		f := *g
		f.parent, f.rows = &finish.Element{}, nil
		g.kin = family{set: &f}
		for _, c := range append([]doc.Block{n}, g.next...) {
			t, ok := c.(*doc.Table)
			if !ok || head(t) != head(n) {
				break
			}
			f.setting = f.setting.at(t)
			if err := f.read(t); err != nil {
				return false, err
			}
			g.kin.tables = append(g.kin.tables, t)
		}
		if len(g.kin.tables) > 1 {
			f.measure()
		}
	}
	if len(g.kin.tables) < 2 {
		return false, nil
	}
	for f := g.kin.set; g.text.size > f.text.size; {
		g.shrink()
	}
	g.wants(g.columns())
	g.left, g.widths, g.turned = g.kin.set.left, g.kin.set.widths, g.kin.set.turned
	return true, nil
}

// read collects the rows. A head row without words is left out.
func (g *grid) read(n *doc.Table) error {
	if n.Head != nil && !wordless(n.Head) {
		head := &finish.Element{Role: finish.RoleTHead}
		g.parent.Children = append(g.parent.Children, head)
		if err := g.readRow(n.Head, head, n.Changed, true); err != nil {
			return err
		}
		g.headed = true
	}
	if len(n.Rows) == 0 {
		return nil
	}
	body := &finish.Element{Role: finish.RoleTBody}
	g.parent.Children = append(g.parent.Children, body)
	for _, r := range n.Rows {
		if err := g.readRow(r, body, n.Changed, false); err != nil {
			return err
		}
	}
	return nil
}

// wordless tells whether the cells of a row hold nothing but empty text.
func wordless(n *doc.Row) bool {
	for _, c := range n.Cells {
		if len(c.Inlines) == 0 {
			continue
		}
		if _, text := c.Inlines[0].(*doc.Text); !text || doc.PlainText(c) != "" {
			return false
		}
	}
	return true
}

// readRow collects the cells of a row. In tables of label and value the label is the head of its row for who hears the page.
func (g *grid) readRow(n *doc.Row, parent *finish.Element, changed, head bool) error {
	tr := &finish.Element{Role: finish.RoleTR}
	parent.Children = append(parent.Children, tr)
	s := g.setting.at(n)
	r := row{head: head, changed: n.Changed || changed, name: "table row at " + s.where()}
	named := g.role == doc.TableValues || g.role == doc.TableNumbers
	for column, c := range n.Cells {
		e := &finish.Element{Role: finish.RoleTD}
		lk := g.text
		switch {
		case head:
			e.Role, e.Scope, lk = finish.RoleTH, finish.ScopeColumn, lk.bold()
		case named && column == 0:
			e.Role, e.Scope = finish.RoleTH, finish.ScopeRow
		case named:
			lk = lk.bold()
		}
		tr.Children = append(tr.Children, e)
		pieces, err := g.inlines(c.Inlines, lk, e, s)
		if err != nil {
			return err
		}
		r.cells = append(r.cells, cell{pieces: pieces, element: e, align: c.Align})
	}
	g.rows = append(g.rows, r)
	return nil
}

// columns is the greatest number of cells in a row.
func (g *grid) columns() int {
	n := 0
	for _, r := range g.rows {
		n = max(n, len(r.cells))
	}
	return n
}

// measure finds the widths of the columns: what each wants if all fit, else the longest word each must hold and a share of
// the rest. A table too wide even so gets smaller type, then a head row set upright, and only then broken words.
func (g *grid) measure() {
	n := g.columns()
	g.left = g.setting.left
	available := g.setting.width
	for {
		longest, whole := g.wants(n)
		if g.outer && available < g.sheet.text() && (sum(whole) > available || g.role == doc.TableLog || g.role == doc.TableSchedule) {
			g.left, available = 0, g.sheet.text()
		}
		wide := sum(longest) > available
		smallest := g.text.size <= g.sheet.least()
		if wide && !g.turned && (smallest || g.role == doc.TableLog) && g.canTurn() {
			g.turned = true
			continue
		}
		if !wide || smallest {
			g.widths = g.share(longest, whole, available)
			return
		}
		g.shrink()
	}
}

// The type of a table that is looked up rather than read.
const (
	fineSize    = 8.5
	fineLeading = 10.5
)

// canTurn tells whether the head row can stand upright: short words without signs.
func (g *grid) canTurn() bool {
	if !g.headed {
		return false
	}
	for _, c := range g.rows[0].cells {
		if c.longest > turnedHead || c.whole > 2*turnedHead {
			return false
		}
		for _, p := range c.pieces {
			if p.sign != noSign || p.link != nil {
				return false
			}
		}
	}
	return true
}

// shrink sets all cells half a point smaller.
func (g *grid) shrink() {
	size := max(g.text.size-0.5, g.sheet.least())
	g.text.size, g.leading = size, max(g.leading-0.5, size*1.2)
	for i := range g.rows {
		for k := range g.rows[i].cells {
			c := &g.rows[i].cells[k]
			for p := range c.pieces {
				c.pieces[p].look.size = min(c.pieces[p].look.size, size)
			}
			c.words = nil
		}
	}
}

// wants gives for each column the width of its longest word and of its longest cell on one line, padding included.
func (g *grid) wants(n int) (longest, whole []float64) {
	longest, whole = make([]float64, n), make([]float64, n)
	g.counted = map[columnWidth][]int{}
	for i := range g.rows {
		for k := range g.rows[i].cells {
			c := &g.rows[i].cells[k]
			if c.words == nil {
				c.words = g.ruler.words(c.pieces)
				c.longest, c.whole = widest(c.words)
				if c.longest > longName {
					c.longest = g.ruler.longestPart(c.pieces, c.words)
				}
				if manyEnds(c.words) {
					c.longest, c.whole = c.longest+entryIndent, c.whole+entryIndent
				}
			}
			a, b := c.longest, c.whole
			if g.turned && g.rows[i].head {
				a = g.leading * float64(len(g.ruler.broken(c.pieces, c.words, turnedHead, true)))
				b = a
			}
			longest[k], whole[k] = max(longest[k], a+2*cellPad), max(whole[k], b+2*cellPad)
		}
	}
	if g.role == doc.TableLog {
		for k := range whole {
			whole[k] += handWidth
		}
	}
	return longest, whole
}

// sum adds lengths.
func sum(xs []float64) float64 {
	total := 0.0
	for _, x := range xs {
		total += x
	}
	return total
}

// share gives each column its width; together they are the available width.
func (g *grid) share(longest, whole []float64, available float64) []float64 {
	widths := make([]float64, len(longest))
	low, high := sum(longest), sum(whole)
	if g.role == doc.TableValues && !g.sheet.card && len(whole) == 2 && high <= available {
		// Values stand close to their labels, and in line from one such table to the next.
		label := min(max(whole[0]+labelGap, available*labelShare), available-whole[1])
		return []float64{label, available - label}
	}
	for i := range widths {
		switch {
		case high <= available: // room to spare: shared out as the columns are wide
			widths[i] = whole[i] * available / high
		case low <= available:
			widths[i] = longest[i] + (whole[i]-longest[i])*(available-low)/(high-low)
		default:
			widths[i] = longest[i] * available / low
		}
	}
	if high > available && low < available {
		g.even(widths, longest)
	}
	return widths
}

// What a label in a table of values has beside it, and the share of the width that it gets at least where the whole width is used.
const (
	labelGap   = 12
	labelShare = 0.15
)

// even moves width from one column to another as long as that makes the table shorter, in ever smaller steps.
func (g *grid) even(widths, longest []float64) {
	for step := 32.0; step >= 4; step /= 2 {
		for range 12 {
			best, from, to := g.lineCount(widths), -1, -1
			for i := range widths {
				if widths[i]-step < longest[i] {
					continue
				}
				for k := range widths {
					if k == i {
						continue
					}
					widths[i], widths[k] = widths[i]-step, widths[k]+step
					if n := g.lineCount(widths); n < best {
						best, from, to = n, i, k
					}
					widths[i], widths[k] = widths[i]+step, widths[k]-step
				}
			}
			if from < 0 {
				break
			}
			widths[from], widths[to] = widths[from]-step, widths[to]+step
		}
	}
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
	for i, r := range g.rows {
		if k < len(r.cells) && !(r.head && g.turned) {
			measure := width - 2*cellPad
			if manyEnds(r.cells[k].words) {
				measure -= entryIndent
			}
			lines[i] = countLines(r.cells[k].words, measure)
		}
	}
	g.counted[key] = lines
	return lines
}

// entryIndent is how far the second line of an entry stands in.
const entryIndent = 7

// manyEnds tells whether a cell holds several entries, each with a line end of its own.
func manyEnds(ws []word) bool {
	for _, w := range ws {
		if w.ends {
			return true
		}
	}
	return false
}

// slabs breaks the cells into lines and makes a slab of each row.
func (g *grid) slabs() []*slab {
	var out []*slab
	var head *tableHead
	for i := range g.rows {
		r := &g.rows[i]
		for k := range r.cells {
			c := &r.cells[k]
			width := g.widths[k] - 2*cellPad
			if r.head && g.turned {
				width = turnedHead
			}
			ts := textStyle{leading: g.leading, element: c.element}
			// In a cell of several entries the rest of a long one stands in, or it would read as the next.
			in := 0.0
			if manyEnds(c.words) {
				in = entryIndent
			}
			rest := false
			for _, ws := range g.ruler.broken(c.pieces, c.words, width-in, r.head) {
				ln := g.place(c.pieces, ws, ts)
				if rest {
					ln.items, ln.width = shift(ln.items, in, 0), ln.width+in
				}
				rest = !ws[len(ws)-1].ends
				c.lines = append(c.lines, ln)
			}
		}
		s := g.slab(r, make([]int, len(r.cells)), head)
		if r.head {
			s.after = wrong
			if s.height < g.sheet.room()/3 { // a head that fills the page is not repeated
				head = &tableHead{items: silent(s.items), height: s.height}
			}
		}
		out = append(out, s)
	}
	out[0].above, out[len(out)-1].below = 5, 9
	g.join(out)
	return out
}

// logRows is how many rows of a log are not worth its head row.
const logRows = 4

// join keeps the first two and the last two rows of a table together, the first few of a log, and short tables whole.
func (g *grid) join(slabs []*slab) {
	rows, height := slabs, 0.0
	if g.headed {
		rows = slabs[1:]
	}
	for _, s := range slabs {
		height += s.height
	}
	alone := 1
	if g.role == doc.TableLog {
		alone = logRows
	}
	for i, s := range rows[:max(len(rows)-1, 0)] {
		if i < alone || i == len(rows)-2 || height < g.sheet.room()/4 {
			s.after = max(s.after, uneasy)
		}
	}
}

// slab makes one row from the lines of its cells, beginning with the given line of each.
func (g *grid) slab(r *row, from []int, head *tableHead) *slab {
	s := &slab{name: r.name, head: head}
	s.height = g.rowHeight(r, from)
	width := sum(g.widths)
	if r.head {
		s.items = append(s.items, rectangle(tag{}, g.left, 0, width, s.height, pale))
	}
	x := g.left
	for k := range r.cells {
		if r.head && g.turned {
			s.items = append(s.items, g.upright(&r.cells[k], x, g.widths[k], s.height)...)
		} else {
			in := 0.0
			if k == 0 && !g.headed && g.role != doc.TableLog {
				in = -cellPad // without a tinted head row the text stands flush with that above
			}
			s.items = append(s.items, g.cellItems(&r.cells[k], from[k], x+in, g.widths[k])...)
		}
		x += g.widths[k]
	}
	s.items = append(s.items, g.rules(s.height, r.head)...)
	if r.changed {
		s.items = append(s.items, &bar{0, s.height})
	}
	s.cut = func(room float64) (*slab, *slab) { return g.cut(r, from, head, room) }
	return s
}

// rules draws the lines of a row: a log is a full grid to write in, other tables have hairlines between rows.
func (g *grid) rules(height float64, head bool) []item {
	width, line, ink := sum(g.widths), 0.5, hair
	if head {
		line, ink = 1, black
	}
	items := []item{rule(tag{}, g.left, height, g.left+width, height, line, ink)}
	if g.role != doc.TableLog {
		return items
	}
	x := g.left
	for _, w := range append([]float64{0}, g.widths...) {
		x += w
		items = append(items, rule(tag{}, x, 0, x, height, 0.5, middle))
	}
	return append(items, rule(tag{}, g.left, height, g.left+width, height, 0.5, middle))
}

// rowHeight is the height of a row from the given line of each cell on. Rows to be written in have a least height.
func (g *grid) rowHeight(r *row, from []int) float64 {
	if r.head && g.turned {
		h := 0.0
		for _, c := range r.cells {
			for _, ln := range c.lines {
				h = max(h, ln.width)
			}
		}
		return h + 2*cellPad
	}
	lines := 0
	for k := range r.cells {
		lines = max(lines, len(r.cells[k].lines)-from[k])
	}
	h := float64(max(lines, 1))*g.leading + 2*g.pad
	if !r.head {
		h = max(h, g.height)
	}
	return h
}

// cellItems places the lines of a cell from one on.
func (g *grid) cellItems(c *cell, from int, x, width float64) []item {
	var items []item
	y := g.pad
	for _, ln := range c.lines[from:] {
		dx := x + cellPad
		switch c.align {
		case doc.AlignEnd:
			dx = x + width - cellPad - ln.width
		case doc.AlignCenter:
			dx = x + (width-ln.width)/2
		}
		items = append(items, shift(ln.items, dx, y)...)
		y += g.leading
	}
	return items
}

// upright places a cell of the head row turned by a quarter, read from below.
func (g *grid) upright(c *cell, x, width, height float64) []item {
	var items []item
	block := float64(len(c.lines)) * g.leading
	for i, ln := range c.lines {
		top := x + (width-block)/2 + float64(i)*g.leading
		for _, it := range ln.items {
			if r, ok := it.(*run); ok {
				m := *r
				m.x, m.y, m.turn = top+r.y, height-cellPad-r.x, 90
				items = append(items, &m)
			}
		}
	}
	return items
}

// cut parts a row taller than a page between lines. Nothing is returned if not even one line fits.
func (g *grid) cut(r *row, from []int, head *tableHead, room float64) (top, rest *slab) {
	n := int((room - 2*g.pad + slack) / g.leading)
	if n < 1 || r.head && g.turned {
		return nil, nil
	}
	upper, lower := *r, make([]int, len(from))
	upper.cells = make([]cell, len(r.cells))
	for k, c := range r.cells {
		lower[k] = min(from[k]+n, len(c.lines))
		c.lines = c.lines[:lower[k]]
		upper.cells[k] = c
	}
	return g.slab(&upper, from, head), g.slab(r, lower, head)
}

// Numbers you reach for: label above, value large, in a grid.
const (
	numberWidth  = 150 // least width of a field
	numberGutter = 14
	numberSize   = 17
	numberLead   = 20
	leastNumber  = 12
)

// plainNumbers tells whether the table has the shape the grid needs: label and value, no head.
func (g *grid) plainNumbers() bool {
	for _, r := range g.rows {
		if len(r.cells) != 2 {
			return false
		}
	}
	return !g.headed
}

// numbers sets the grid, row by row, each row as tall as its tallest field.
func (g *grid) numbers() []*slab {
	left, width := g.setting.left, g.setting.width
	if g.outer {
		left, width = 0, g.sheet.text()
	}
	columns := max(int((width+numberGutter)/(numberWidth+numberGutter)), 1)
	field := (width - float64(columns-1)*numberGutter) / float64(columns)
	var out []*slab
	for start := 0; start < len(g.rows); start += columns {
		s := &slab{name: g.rows[start].name, below: 9, after: ugly}
		for i, r := range g.rows[start:min(start+columns, len(g.rows))] {
			items, height := g.number(&r, field)
			s.items = append(s.items, shift(items, left+float64(i)*(field+numberGutter), 0)...)
			s.height = max(s.height, height)
			if r.changed {
				s.items = append(s.items, &bar{0, height})
			}
		}
		out = append(out, s)
	}
	out[0].above = 4
	out[len(out)-1].below, out[len(out)-1].after = 12, free
	return out
}

// number sets one field from its own top left corner: rule, label, value.
func (g *grid) number(r *row, width float64) ([]item, float64) {
	items := []item{rectangle(tag{}, 0, 0, width, 1.5, black)}
	y := 4.0
	label, value := &r.cells[0], &r.cells[1]
	for _, ln := range g.set(resized(label.pieces, g.note.size), width, textStyle{leading: noteLeading, element: label.element}) {
		items = append(items, shift(ln.items, 0, y)...)
		y += noteLeading
	}
	size := float64(numberSize)
	for ; size > g.sheet.leastNumber(); size-- { // the largest type that sets the value on one line
		if _, whole := widest(g.ruler.words(resized(value.pieces, size))); whole <= width {
			break
		}
	}
	leading := size * numberLead / numberSize
	for _, ln := range g.set(resized(value.pieces, size), width, textStyle{leading: leading, element: value.element}) {
		items = append(items, shift(ln.items, 0, y+1)...)
		y += leading
	}
	return items, y + 2
}

// resized copies pieces in another size; the cells keep theirs for the next pass.
func resized(pieces []piece, size float64) []piece {
	out := make([]piece, len(pieces))
	for i, p := range pieces {
		p.look.size = size
		out[i] = p
	}
	return out
}
