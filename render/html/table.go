package html

import "ownerguide/render/doc"

// table writes a table. Each cell has its column's head, which the narrow layout, where rows
// become blocks, prints before it.
func (p *page) table(t *doc.Table) {
	id := ""
	if p.aids != nil && p.aids.numbers == t {
		id = " id=\"numbers\""
	}
	if p.aids != nil && len(t.Rows) > 0 && p.aids.visits[t.Rows[0]] > 0 { // the first screen shows the next one
		p.printf("<details class=\"fold\" open><summary class=\"aid\">%s</summary>\n", esc(t.Caption))
		p.foldBelowTitle("")
		defer p.text("</div></details>\n")
	}
	p.printf("<table%s class=\"%s\">\n", id, esc(string(t.Role)))
	if t.Caption != "" {
		p.printf("<caption>%s</caption>\n", esc(t.Caption))
	}
	var heads []string
	if t.Head != nil {
		p.text("<thead><tr>")
		for _, cell := range t.Head.Cells {
			heads = append(heads, doc.PlainText(cell))
			p.cell(cell, "th", " scope=\"col\"", "")
		}
		p.text("</tr></thead>\n")
	}
	if len(t.Rows) > 0 {
		p.text("<tbody>\n")
	}
	if len(heads) < 3 && t.Role != doc.TableLog || t.Role == doc.TableFine {
		heads = nil // two cells below one another need no heads, and a reference table would have too many
	}
	for _, row := range t.Rows {
		p.tableRow(row, t.Role, heads)
		if t.Role == doc.TableLog {
			heads = nil // a narrow screen shows one row of a log, as an example
		}
	}
	if len(t.Rows) > 0 {
		p.text("</tbody>\n")
	}
	p.text("</table>\n")
}

// tableRow writes one row; its first cell is a row header, unless it is a checkbox or an
// empty cell to fill in.
func (p *page) tableRow(row *doc.Row, role doc.TableRole, heads []string) {
	p.row = row
	defer func() { p.row = nil }()
	p.text("<tr")
	if row.Changed {
		p.text(" class=\"changed\"")
	}
	p.rowAttributes(row)
	p.text(">")
	for i, cell := range row.Cells {
		label, before := "", ""
		if i == 0 {
			before = p.changed(row)
		}
		if i < len(heads) && heads[i] != "" && (role == doc.TableLog || len(cell.Inlines) > 0) {
			label = " data-head=\"" + esc(heads[i]) + "\""
		}
		if i == 0 && role != doc.TableLog && doc.PlainText(cell) != "" {
			p.cell(cell, "th", " scope=\"row\""+label, before)
		} else {
			p.cell(cell, "td", label, before)
		}
	}
	p.text("</tr>\n")
}

// cell writes a cell; before is inserted before its text.
func (p *page) cell(cell *doc.Cell, tag, attributes, before string) {
	if cell.Align == doc.AlignEnd {
		attributes += " class=\"right\""
	}
	p.text("<", tag, attributes, ">", before)
	p.inlines(cell.Inlines)
	p.text("</", tag, ">")
}

// rowAttributes writes the id that lists link to and, for a visit, what the script shows on
// the first screen.
func (p *page) rowAttributes(row *doc.Row) {
	if p.aids == nil {
		return
	}
	if id := p.aids.rows[row]; id != "" {
		p.printf(" id=\"%s\"", esc(id))
	}
	if n := p.aids.visits[row]; n > 0 && n <= len(p.guide.Visits) {
		v := p.guide.Visits[n-1]
		p.printf(" data-date=\"%s\" data-day=\"%s\" data-jobs=\"%s\" data-then=\"%s\"", esc(v.Date), esc(v.Day), p.count("screen.jobs", len(v.Jobs)), p.fill("screen.then", "date", v.Day))
	}
}
