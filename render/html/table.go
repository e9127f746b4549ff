package html

import (
	"fmt"

	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"

	"ownerguide/render/doc"
)

// table writes a table. Each cell carries its column's head, which the narrow
// layout, where rows become blocks, prints before it.
func (p *page) table(t *extast.Table) {
	role, caption := doc.Table(t)
	p.printf("<table class=\"%s\">\n", esc(string(role)))
	if caption != "" {
		p.printf("<caption>%s</caption>\n", esc(caption))
	}
	var heads []string
	body := false
	p.children(t, func(row ast.Node) {
		switch row.Kind() {
		case extast.KindTableHeader:
			p.text("<thead><tr>")
			p.children(row, func(cell ast.Node) {
				heads = append(heads, doc.PlainText(cell))
				p.cell(cell, "th", " scope=\"col\"", "")
			})
			p.text("</tr></thead>\n")
		case extast.KindTableRow:
			if !body {
				p.text("<tbody>\n")
				body = true
			}
			p.row(row, role, heads)
			if role == doc.TableLog {
				heads = nil // a narrow screen shows one row of a log, to say what it is
			}
		default:
			p.fail(row)
		}
	})
	if body {
		p.text("</tbody>\n")
	}
	p.text("</table>\n")
}

// row writes one row; the first cell heads it, except where it is a box to
// tick or an empty cell to write in.
func (p *page) row(row ast.Node, role doc.TableRole, heads []string) {
	if doc.Changed(row) {
		p.text("<tr class=\"changed\">")
	} else {
		p.text("<tr>")
	}
	i := 0
	p.children(row, func(cell ast.Node) {
		label, before := "", ""
		if i == 0 {
			before = p.changed(row)
		}
		if i < len(heads) && heads[i] != "" && (role == doc.TableLog || cell.HasChildren()) {
			label = fmt.Sprintf(" data-head=\"%s\"", esc(heads[i]))
		}
		if i == 0 && role != doc.TableLog && doc.PlainText(cell) != "" {
			p.cell(cell, "th", " scope=\"row\""+label, before)
		} else {
			p.cell(cell, "td", label, before)
		}
		i++
	})
	p.text("</tr>\n")
}

// cell writes a cell; before is what stands in it before its text.
func (p *page) cell(n ast.Node, tag, attributes, before string) {
	cell, ok := n.(*extast.TableCell)
	if !ok {
		p.fail(n)
		return
	}
	if cell.Alignment == extast.AlignRight {
		attributes += " class=\"right\""
	}
	p.printf("<%s%s>%s", tag, attributes, before)
	p.children(cell, p.inline)
	p.printf("</%s>", tag)
}
