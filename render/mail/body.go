package mail

import (
	"fmt"
	"html"
	"strings"

	"ownerguide/render/doc"
	"ownerguide/spec/source"
)

// Styles of the HTML body, by element. Colors are left to the mail program, so that the
// text is readable on a dark screen and on paper.
const (
	styleBody    = "font-family:Arial,Helvetica,sans-serif;font-size:16px;line-height:1.45;max-width:640px;margin:0 auto;padding:8px"
	styleHeading = "font-size:19px;line-height:1.25;margin:26px 0 8px"
	styleTable   = "border-collapse:collapse;margin:8px 0"
	styleCell    = "text-align:left;vertical-align:top;font-weight:normal;padding:5px 14px 5px 0;border-bottom:1px solid #999"
	styleNumber  = styleCell + ";font-weight:bold" // a key figure, or a table head
	styleCaution = "margin:12px 0;padding:0 0 0 10px;border-left:5px solid #c00"
	styleInPanel = "margin:0 0 3px"
)

// page is the HTML body being written. It keeps the first error.
type page struct {
	strings.Builder
	words    map[string]string // of the guide
	sections int
	err      error
}

// hypertext returns the text of a mail as HTML.
func hypertext(g *doc.Guide) ([]byte, error) {
	p := &page{words: g.Words}
	fmt.Fprintf(p, "<!DOCTYPE html>\n<html lang=\"%s\">\n<head>\n<meta charset=\"utf-8\">\n<title>%s</title>\n</head>\n<body style=\"%s\">\n",
		html.EscapeString(g.Lang), html.EscapeString(g.Title), styleBody)
	for _, s := range g.Sections {
		p.block(s)
	}
	p.WriteString("</body>\n</html>\n")
	return []byte(p.String()), p.err
}

func (p *page) fail(n doc.Node) {
	if p.err == nil {
		p.err = unwritable(n)
	}
}

// unwritable returns the error for a node that is not supported in a mail.
func unwritable(n doc.Node) error { return fmt.Errorf("mail: %w", doc.Unknown(n, source.Pos{})) }

func (p *page) blocks(list []doc.Block) {
	for _, n := range list {
		p.block(n)
	}
}

// line writes running text inside an element.
func (p *page) line(tag, style string, list []doc.Inline) {
	p.in(tag, style, func() { p.inlines(list) })
}

// in writes an element around the output of write.
func (p *page) in(tag, style string, write func()) {
	name, _, _ := strings.Cut(tag, " ")
	p.WriteString("<" + tag)
	if style != "" {
		p.WriteString(` style="` + style + `"`)
	}
	p.WriteString(">")
	write()
	p.WriteString("</" + name + ">\n")
}

func (p *page) block(n doc.Block) {
	switch n := n.(type) {
	case *doc.Section:
		p.sections++
		if n.Heading != nil {
			tag := "h2"
			if p.sections == 1 {
				tag = "h1"
			}
			p.line(tag, styleHeading, n.Heading.Inlines)
		}
		p.blocks(n.Blocks)
	case *doc.Paragraph:
		p.line("p", "", n.Inlines)
	case *doc.Limit:
		p.line("p", styleCaution, n.Inlines)
	case *doc.List:
		tag := "ul"
		if n.Ordered {
			tag = fmt.Sprintf("ol start=\"%d\"", n.Start)
		}
		p.in(tag, "", func() { p.items(n) })
	case *doc.Table:
		p.in("table", styleTable, func() { p.rows(n) })
	case *doc.Caution:
		p.caution(n)
	default:
		p.fail(n)
	}
}

func (p *page) items(list *doc.List) {
	for _, item := range list.Items {
		if len(item.Blocks) == 1 {
			if only, ok := item.Blocks[0].(*doc.Paragraph); ok {
				p.line("li", "", only.Inlines)
				continue
			}
		}
		p.in("li", "", func() { p.blocks(item.Blocks) })
	}
}

// rows writes a table: all cells of its head are th, and the first cell of other rows.
func (p *page) rows(table *doc.Table) {
	style := styleCell
	if table.Role == doc.TableNumbers {
		style = styleNumber
	}
	if table.Head != nil {
		p.WriteString("<tr>")
		for _, c := range table.Head.Cells {
			p.line("th scope=\"col\"", styleNumber, c.Inlines)
		}
		p.WriteString("</tr>\n")
	}
	for _, row := range table.Rows {
		p.WriteString("<tr>")
		for i, c := range row.Cells {
			if i == 0 {
				p.line("th scope=\"row\"", styleCell, c.Inlines)
			} else {
				p.line("td", style, c.Inlines)
			}
		}
		p.WriteString("</tr>\n")
	}
}

// caution writes a panel: signal word and hazard in bold, then the rest.
func (p *page) caution(c *doc.Caution) {
	before, after, _ := strings.Cut(doc.Fill(p.words["list.colon"], "a", c.Signal), "{b}")
	fmt.Fprintf(p, "<div style=\"%s\">\n<p style=\"%s\"><strong>%s", styleCaution, styleInPanel, html.EscapeString(before))
	p.inlines(c.Hazard)
	p.WriteString(html.EscapeString(after) + "</strong></p>\n")
	for _, n := range c.Blocks()[1:] {
		if line, ok := n.(*doc.Paragraph); ok {
			p.line("p", styleInPanel, line.Inlines)
		} else {
			p.block(n)
		}
	}
	p.WriteString("</div>\n")
}

func (p *page) inlines(list []doc.Inline) {
	for _, n := range list {
		p.inline(n)
	}
}

func (p *page) inline(n doc.Inline) {
	switch n := n.(type) {
	case *doc.Text:
		p.WriteString(html.EscapeString(n.Content))
	case *doc.Value:
		p.WriteString(html.EscapeString(n.Printed))
	case *doc.PointMark:
		fmt.Fprintf(p, "(%d)", n.Number)
	case *doc.Box:
		p.WriteString("☐ ")
	case *doc.Break:
		p.WriteString("<br>")
	case *doc.Emphasis:
		tag := "em"
		if n.Strong {
			tag = "strong"
		}
		p.WriteString("<" + tag + ">")
		p.inlines(n.Inlines)
		p.WriteString("</" + tag + ">")
	case *doc.Link:
		fmt.Fprintf(p, "<a href=\"%s\">", html.EscapeString(n.To))
		p.inlines(n.Inlines)
		p.WriteString("</a>")
	default:
		p.fail(n)
	}
}
