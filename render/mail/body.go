package mail

import (
	"fmt"
	"html"
	"strings"

	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"

	"ownerguide/render/doc"
)

// style of the HTML body, by element. Colors stay those of the mail program,
// so that the text can be read on a dark screen and on paper.
const (
	styleBody    = "font-family:Arial,Helvetica,sans-serif;font-size:16px;line-height:1.45;max-width:640px;margin:0 auto;padding:8px"
	styleHeading = "font-size:19px;line-height:1.25;margin:26px 0 8px"
	styleTable   = "border-collapse:collapse;margin:8px 0"
	styleCell    = "text-align:left;vertical-align:top;font-weight:normal;padding:5px 14px 5px 0;border-bottom:1px solid #999"
	styleNumber  = styleCell + ";font-weight:bold" // a figure you reach for, a head
	styleCaution = "margin:12px 0;padding:0 0 0 10px;border-left:5px solid #c00"
	styleInPanel = "margin:0 0 3px"
)

// page is the HTML body being written. The first error sticks.
type page struct {
	strings.Builder
	sections int
	err      error
}

// hypertext writes the text of a mail as HTML.
func hypertext(g *doc.Guide) ([]byte, error) {
	p := &page{}
	fmt.Fprintf(p, "<!DOCTYPE html>\n<html lang=\"%s\">\n<head>\n<meta charset=\"utf-8\">\n<title>%s</title>\n</head>\n<body style=\"%s\">\n",
		html.EscapeString(g.Lang), html.EscapeString(g.Title), styleBody)
	p.blocks(g.Root)
	p.WriteString("</body>\n</html>\n")
	return []byte(p.String()), p.err
}

// unwritable says that a node has no place in a mail.
func unwritable(n ast.Node) error {
	return fmt.Errorf("mail: no way to write a node of kind %s (%s)", n.Kind(), doc.Origin(n))
}

func (p *page) fail(n ast.Node) {
	if p.err == nil {
		p.err = unwritable(n)
	}
}

func (p *page) blocks(parent ast.Node) {
	for n := parent.FirstChild(); n != nil; n = n.NextSibling() {
		p.block(n)
	}
}

// in writes an element around what the children of a node say.
func (p *page) in(tag, style string, n ast.Node, children func(ast.Node)) {
	name, _, _ := strings.Cut(tag, " ")
	p.WriteString("<" + tag)
	if style != "" {
		p.WriteString(` style="` + style + `"`)
	}
	p.WriteString(">")
	children(n)
	p.WriteString("</" + name + ">\n")
}

func (p *page) block(n ast.Node) {
	switch n := n.(type) {
	case *doc.Section:
		p.sections++
		p.blocks(n)
	case *ast.Heading:
		tag := "h2"
		if p.sections == 1 {
			tag = "h1"
		}
		p.in(tag, styleHeading, n, p.inlines)
	case *ast.Paragraph, *ast.TextBlock:
		p.in("p", "", n, p.inlines)
	case *ast.List:
		tag := "ul"
		if n.IsOrdered() {
			tag = fmt.Sprintf("ol start=\"%d\"", n.Start)
		}
		p.in(tag, "", n, p.blocks)
	case *ast.ListItem:
		if n.ChildCount() == 1 {
			p.in("li", "", n.FirstChild(), p.inlines)
		} else {
			p.in("li", "", n, p.blocks)
		}
	case *extast.Table:
		p.in("table", styleTable, n, p.rows)
	case *doc.Caution:
		p.caution(n)
	default:
		p.fail(n)
	}
}

// rows writes a table: its head is all heads, any other row begins with one.
func (p *page) rows(table ast.Node) {
	style := styleCell
	if role, _ := doc.Table(table); role == doc.TableNumbers {
		style = styleNumber
	}
	for row := table.FirstChild(); row != nil; row = row.NextSibling() {
		p.WriteString("<tr>")
		for c := row.FirstChild(); c != nil; c = c.NextSibling() {
			switch {
			case row.Kind() == extast.KindTableHeader:
				p.in("th scope=\"col\"", styleNumber, c, p.inlines)
			case c == row.FirstChild():
				p.in("th scope=\"row\"", styleCell, c, p.inlines)
			default:
				p.in("td", style, c, p.inlines)
			}
		}
		p.WriteString("</tr>\n")
	}
}

// caution writes a panel: the signal word and the hazard in bold, then the rest.
func (p *page) caution(c *doc.Caution) {
	fmt.Fprintf(p, "<div style=\"%s\">\n", styleCaution)
	for n := c.FirstChild(); n != nil; n = n.NextSibling() {
		switch {
		case n == c.FirstChild():
			fmt.Fprintf(p, "<p style=\"%s\"><strong>%s: ", styleInPanel, html.EscapeString(c.Signal))
			p.inlines(n)
			p.WriteString("</strong></p>\n")
		case n.Kind() == ast.KindParagraph:
			p.in("p", styleInPanel, n, p.inlines)
		default:
			p.block(n)
		}
	}
	p.WriteString("</div>\n")
}

func (p *page) inlines(parent ast.Node) {
	for n := parent.FirstChild(); n != nil; n = n.NextSibling() {
		p.inline(n)
	}
}

func (p *page) inline(n ast.Node) {
	switch n := n.(type) {
	case *doc.Text:
		p.WriteString(html.EscapeString(n.Content))
	case *doc.Value:
		p.WriteString(html.EscapeString(n.Printed))
	case *doc.Stop:
		fmt.Fprintf(p, "(%d)", n.Number)
	case *doc.Box:
		p.WriteString("☐ ")
	case *doc.Break:
		p.WriteString("<br>")
	case *ast.Emphasis:
		tag := "em"
		if n.Level == 2 {
			tag = "strong"
		}
		p.WriteString("<" + tag + ">")
		p.inlines(n)
		p.WriteString("</" + tag + ">")
	case *ast.Link:
		fmt.Fprintf(p, "<a href=\"%s\">", html.EscapeString(string(n.Destination)))
		p.inlines(n)
		p.WriteString("</a>")
	default:
		p.fail(n)
	}
}
