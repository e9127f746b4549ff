package html

import (
	"bufio"
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"html"
	"io"
	"regexp"
	"strings"

	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"

	"ownerguide/render/doc"
)

// Write writes the guide with the given style sheet. The error names the kind
// and the author's place of a node this reader does not know, or comes from w.
func Write(w io.Writer, g *doc.Guide, css string) error {
	p := &page{w: bufio.NewWriter(w), guide: g}
	p.head(css)
	p.top()
	p.text("<main id=\"text\" tabindex=\"-1\">\n")
	for n := g.Root.FirstChild(); n != nil; n = n.NextSibling() {
		p.block(n)
	}
	p.text("</main>\n</div>\n</body>\n</html>\n")
	if p.err != nil {
		return p.err
	}
	return p.w.Flush()
}

// page is one file being written. The first error sticks.
type page struct {
	w     *bufio.Writer
	guide *doc.Guide
	err   error
}

func (p *page) text(s string) { _, _ = p.w.WriteString(s) }

func (p *page) printf(format string, args ...any) { _, _ = fmt.Fprintf(p.w, format, args...) }

// esc escapes text and attribute values alike.
func esc(s string) string { return html.EscapeString(s) }

func (p *page) word(key string) string { return esc(p.guide.Words[key]) }

func (p *page) head(css string) {
	css += fieldStyle(p.guide)
	sum := sha256.Sum256([]byte(css))
	policy := "default-src 'none'; img-src data:; style-src 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'; base-uri 'none'; form-action 'none'"
	p.printf("<!DOCTYPE html>\n<html lang=\"%s\">\n<head>\n<meta charset=\"utf-8\">\n", esc(p.guide.Lang))
	p.printf("<meta http-equiv=\"Content-Security-Policy\" content=\"%s\">\n", policy)
	p.text("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<meta name=\"color-scheme\" content=\"light dark\">\n")
	p.printf("<title>%s</title>\n<style>%s</style>\n</head>\n<body>\n", esc(p.guide.Title), css)
}

// fieldStyle gives the bar atop a screen the maker's colours; "" without any.
func fieldStyle(g *doc.Guide) string {
	if _, _, _, ok := g.Field.RGB(); !ok {
		return ""
	}
	return "@media screen { .top { background: " + hex(g.Field) + "; color: " + hex(g.OnField) + "; } }\n"
}

// top writes what stands before the text: the way past it, whose guide this
// is, and on a wide screen the contents at the side.
func (p *page) top() {
	g := p.guide
	p.printf("<a class=\"skip\" href=\"#text\">%s</a>\n", p.word("skip-to-text"))
	p.printf("<header class=\"top\"><p><b>%s</b> <span>%s %s</span> <span>%s %s</span></p></header>\n",
		esc(g.Model), p.word("serial"), esc(g.Serial), p.word("revision"), esc(g.Revision))
	p.text("<div class=\"frame\">\n")
	if entries := contents(g.Root); entries != nil {
		p.printf("<nav class=\"side\" aria-label=\"%s\">\n", p.word("contents"))
		p.entries(entries)
		p.text("</nav>\n")
	}
}

func contents(root ast.Node) (entries []doc.Entry) {
	_ = ast.Walk(root, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if c, ok := n.(*doc.Contents); ok && entering {
			entries = c.Entries
			return ast.WalkStop, nil
		}
		return ast.WalkContinue, nil
	})
	return entries
}

// entries writes the contents as a list of chapters with their sections.
func (p *page) entries(entries []doc.Entry) {
	p.text("<ol class=\"toc\">\n")
	open := false
	for i, e := range entries {
		if e.Level > 1 {
			if !open {
				p.text("<ol>\n")
				open = true
			}
		} else if i > 0 {
			if open {
				p.text("</ol>\n")
				open = false
			}
			p.text("</li>\n")
		}
		p.printf("<li><a href=\"#%s\">%s%s</a>", esc(e.ID), number(e.Number), esc(e.Title))
		if e.Level > 1 {
			p.text("</li>\n")
		}
	}
	if open {
		p.text("</ol>\n")
	}
	p.text("</li>\n</ol>\n")
}

func number(n string) string {
	if n == "" {
		return ""
	}
	return "<span class=\"no\">" + esc(n) + "</span> "
}

// changed is the word that a node changed, for who hears the page; nothing for
// one that did not.
func (p *page) changed(n ast.Node) string {
	if !doc.Changed(n) {
		return ""
	}
	return "<span class=\"unseen\">" + p.word("changed") + " </span>"
}

// changedClass is the style class of a changed node, to be added to another.
func changedClass(n ast.Node) string {
	if doc.Changed(n) {
		return " changed"
	}
	return ""
}

func (p *page) children(n ast.Node, each func(ast.Node)) {
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		each(c)
	}
}

func (p *page) fail(n ast.Node) {
	if p.err == nil {
		p.err = fmt.Errorf("html: no way to write a node of kind %s (%s)", n.Kind(), doc.Origin(n))
	}
}

// block writes a block; one that changed since the earlier revision has a bar
// at its side, and the word for who hears the page.
func (p *page) block(n ast.Node) {
	if section := n.Kind() == doc.KindSection; doc.Changed(n) && !section {
		p.printf("<div class=\"changed\">%s\n", p.changed(n))
		defer p.text("</div>\n")
	}
	switch n := n.(type) {
	case *doc.Section:
		p.section(n)
	case *ast.Heading: // only inside a section, which writes it
		p.fail(n)
	case *ast.Paragraph, *ast.TextBlock:
		p.text("<p>")
		p.children(n, p.inline)
		p.text("</p>\n")
	case *ast.List:
		p.list(n)
	case *extast.Table:
		p.table(n)
	case *doc.Contents:
		p.printf("<details class=\"fold\"><summary>%s</summary>\n", p.word("contents"))
		p.entries(n.Entries)
		p.text("</details>\n")
	case *doc.Caution:
		p.caution(n)
	case *doc.Picture:
		p.picture(n)
	case *doc.Logo:
		p.logo(n)
	case *doc.Form:
		p.form(n)
	default:
		p.fail(n)
	}
}

// section writes a chapter or a part of one. The cover's heading is the page's
// first-level one; chapters begin at the second level.
func (p *page) section(s *doc.Section) {
	landmark := "" // chapters only: a page with a hundred landmarks has none
	if s.Level == 1 {
		landmark = " aria-labelledby=\"h-" + esc(s.ID) + "\""
	}
	p.printf("<section id=\"%s\" class=\"%s l%d%s\"%s>\n", esc(s.ID), esc(string(s.Role)), s.Level, changedClass(s), landmark)
	for n := s.FirstChild(); n != nil; n = n.NextSibling() {
		h, ok := n.(*ast.Heading)
		if !ok {
			p.block(n)
			continue
		}
		level := min(s.Level+1, 6)
		if s.Role == doc.RoleCover {
			level = 1
		}
		class := ""
		if doc.Changed(h) {
			class = " class=\"changed\""
		}
		p.printf("<h%d id=\"h-%s\"%s>%s%s%s", level, esc(s.ID), class, p.changed(s), p.changed(h), number(s.Number))
		p.children(h, p.inline)
		p.printf("</h%d>\n", level)
	}
	if s.Level == 1 && s.Role == doc.RoleChapter && contents(p.guide.Root) != nil {
		p.printf("<p class=\"back\"><a href=\"#contents\">%s</a></p>\n", p.word("back-to-contents"))
	}
	p.text("</section>\n")
}

func (p *page) list(n *ast.List) {
	tag := "ul"
	if n.IsOrdered() {
		tag = "ol"
	}
	class := ""
	if hasBoxes(n) {
		class = " class=\"checks\""
	}
	start := ""
	if n.IsOrdered() && n.Start > 1 {
		start = fmt.Sprintf(" start=\"%d\"", n.Start)
	}
	p.printf("<%s%s%s>\n", tag, class, start)
	p.children(n, p.item)
	p.printf("</%s>\n", tag)
}

// hasBoxes tells whether the list is a check list.
func hasBoxes(n ast.Node) bool {
	item := n.FirstChild()
	return item != nil && firstBox(item) != nil
}

// firstBox returns the box a list item begins with, or nil.
func firstBox(item ast.Node) *doc.Box {
	if item.FirstChild() == nil {
		return nil
	}
	box, _ := item.FirstChild().FirstChild().(*doc.Box)
	return box
}

func (p *page) item(n ast.Node) {
	if n.Kind() != ast.KindListItem {
		p.fail(n)
		return
	}
	if doc.Changed(n) {
		p.printf("<li class=\"changed\">%s", p.changed(n))
	} else {
		p.text("<li>")
	}
	box := firstBox(n)
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		first := c == n.FirstChild()
		switch {
		case box != nil && first:
			p.printf("<label><input type=\"checkbox\" id=\"%s\"> <span>", esc(box.ID))
			for in := box.NextSibling(); in != nil; in = in.NextSibling() {
				p.inline(in)
			}
			p.text("</span></label>")
		case first && (c.Kind() == ast.KindTextBlock || c.Kind() == ast.KindParagraph) && c.NextSibling() == nil:
			p.children(c, p.inline)
		default:
			p.block(c)
		}
	}
	p.text("</li>\n")
}

func (p *page) caution(c *doc.Caution) {
	brief := ""
	if c.Brief {
		brief = " brief"
	}
	p.printf("<div class=\"panel %s%s\" role=\"note\" aria-label=\"%s\">\n<p class=\"signal\">%s%s</p>\n", esc(string(c.Word)), brief, esc(c.Signal), alertSymbol(c.Word), esc(c.Signal))
	first := true
	p.children(c, func(n ast.Node) {
		if first {
			p.text("<p class=\"hazard\">")
			p.children(n, p.inline)
			p.text("</p>\n")
			first = false
			return
		}
		p.block(n)
	})
	p.text("</div>\n")
}

// alertSymbol is the safety alert symbol; a notice, which is about property
// only, has none.
func alertSymbol(w doc.Word) string {
	if w == doc.Notice {
		return ""
	}
	return `<svg class="alert" viewBox="0 0 24 22" aria-hidden="true" focusable="false"><path d="M12 1 23 21H1Z"/><path class="mark" d="M10.8 7.5h2.4l-.4 7h-1.6Zm0 8.6h2.4v2.2h-2.4Z"/></svg>`
}

func (p *page) form(f *doc.Form) {
	p.printf("<div class=\"form\"><p>%s</p>", esc(f.Label))
	p.text(strings.Repeat("<div class=\"rule\"></div>", max(1, f.Rules)))
	p.text("</div>\n")
}

// widestValue is how many signs of a value stay on one line: more do not fit on
// a screen of 320 px beside the mark of a list.
const widestValue = 24

func (p *page) inline(n ast.Node) {
	switch n := n.(type) {
	case *doc.Text:
		p.text(unparted(esc(n.Content)))
	case *doc.Value:
		class := "v"
		if len([]rune(n.Printed)) > widestValue {
			class = "v long"
		}
		p.printf("<span class=\"%s\">%s</span>", class, esc(n.Printed))
	case *doc.Stop:
		p.printf("<span class=\"stop-mark\">%d</span>", n.Number)
	case *doc.Box:
		p.printf("<input type=\"checkbox\" id=\"%s\" aria-label=\"%s\">", esc(n.ID), esc(rowText(n)))
	case *doc.Break:
		p.text("<br>")
	case *ast.Emphasis:
		tag := "em"
		if n.Level == 2 {
			tag = "strong"
		}
		p.printf("<%s>", tag)
		p.children(n, p.inline)
		p.printf("</%s>", tag)
	case *ast.Link:
		p.printf("<a href=\"%s\">", esc(string(n.Destination)))
		p.children(n, p.inline)
		p.text("</a>")
	default:
		p.fail(n)
	}
}

// hyphened is a number with hyphens, of a telephone or a part; a browser would end a line at each.
var hyphened = regexp.MustCompile(`[0-9A-Za-z]+(?:-[0-9A-Za-z]*[0-9][0-9A-Za-z]*)+`)

// longestNumber is how many characters of one are kept on one line: they fit on the narrowest screen.
const longestNumber = 24

// unparted keeps such numbers in escaped text on one line.
func unparted(text string) string {
	if !strings.Contains(text, "-") {
		return text
	}
	return hyphened.ReplaceAllStringFunc(text, func(s string) string {
		if len(s) > longestNumber {
			return s
		}
		return `<span class="n">` + s + `</span>`
	})
}

// rowText gives a box that stands alone in a table cell the words of its row,
// for who hears the page.
func rowText(n ast.Node) string {
	for m := n.Parent(); m != nil; m = m.Parent() {
		if m.Kind() == extast.KindTableRow {
			var parts []string
			for c := m.FirstChild(); c != nil; c = c.NextSibling() {
				if t := doc.PlainText(c); t != "" {
					parts = append(parts, t)
				}
			}
			return strings.Join(parts, ", ")
		}
	}
	return doc.PlainText(n.Parent())
}
