package mail

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"

	"ownerguide/render/doc"
)

// plainText writes the text of a mail without any marks, for who reads mail
// that way. A paragraph is one line: the reader's program breaks it where the
// screen ends.
func plainText(g *doc.Guide) ([]byte, error) {
	t := &plain{}
	text := strings.Join(t.blocks(g.Root), "\n\n")
	return []byte(text + "\n"), t.err
}

// plain is the plain body being written. The first error sticks.
type plain struct{ err error }

func (t *plain) fail(n ast.Node) {
	if t.err == nil {
		t.err = unwritable(n)
	}
}

// blocks gives the blocks below a node, to be set apart by an empty line.
func (t *plain) blocks(parent ast.Node) (out []string) {
	for n := parent.FirstChild(); n != nil; n = n.NextSibling() {
		out = append(out, t.block(n)...)
	}
	return out
}

func (t *plain) block(n ast.Node) []string {
	switch n := n.(type) {
	case *doc.Section:
		return t.blocks(n)
	case *ast.Heading:
		line := t.inlines(n)
		return []string{line + "\n" + strings.Repeat("-", utf8.RuneCountInString(line))}
	case *ast.Paragraph, *ast.TextBlock:
		return []string{t.inlines(n)}
	case *ast.List:
		return []string{t.list(n)}
	case *extast.Table:
		return []string{t.table(n)}
	case *doc.Caution:
		return []string{n.Signal + ": " + strings.Join(t.blocks(n), "\n")}
	}
	t.fail(n)
	return nil
}

func (t *plain) list(n *ast.List) string {
	var lines []string
	number := n.Start
	for item := n.FirstChild(); item != nil; item = item.NextSibling() {
		mark := "- "
		if n.IsOrdered() {
			mark = fmt.Sprintf("%d. ", number)
			number++
		}
		text := strings.Join(t.blocks(item), "\n")
		lines = append(lines, mark+strings.ReplaceAll(text, "\n", "\n"+strings.Repeat(" ", len(mark))))
	}
	return strings.Join(lines, "\n")
}

// table gives a row a line: of two cells the first names the second.
func (t *plain) table(n *extast.Table) string {
	var lines []string
	for row := n.FirstChild(); row != nil; row = row.NextSibling() {
		var cells []string
		for c := row.FirstChild(); c != nil; c = c.NextSibling() {
			cells = append(cells, t.inlines(c))
		}
		between := " | "
		if len(cells) == 2 {
			between = ": "
		}
		lines = append(lines, strings.Join(cells, between))
	}
	return strings.Join(lines, "\n")
}

func (t *plain) inlines(parent ast.Node) string {
	var b strings.Builder
	for n := parent.FirstChild(); n != nil; n = n.NextSibling() {
		switch n := n.(type) {
		case *doc.Text:
			b.WriteString(n.Content)
		case *doc.Value:
			b.WriteString(n.Printed)
		case *doc.Stop:
			fmt.Fprintf(&b, "(%d)", n.Number)
		case *doc.Box:
			b.WriteString("[ ] ")
		case *doc.Break:
			b.WriteString(" ")
		case *ast.Emphasis:
			b.WriteString(t.inlines(n))
		case *ast.Link:
			b.WriteString(t.link(n))
		default:
			t.fail(n)
		}
	}
	return b.String()
}

// link gives a link's words, and where it leads if they do not say so.
func (t *plain) link(n *ast.Link) string {
	words, target := t.inlines(n), string(n.Destination)
	if _, address, _ := strings.Cut(target, ":"); words == target || words == address {
		return words
	}
	return words + " (" + target + ")"
}
