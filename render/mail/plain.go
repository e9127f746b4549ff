package mail

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"ownerguide/render/doc"
)

// plainText returns the text of a mail without markup. A paragraph is one line; the mail
// program wraps it.
func plainText(g *doc.Guide) ([]byte, error) {
	t := &plain{guide: g}
	var blocks []string
	for _, s := range g.Sections {
		blocks = append(blocks, t.block(s)...)
	}
	text := strings.Join(blocks, "\n\n")
	return []byte(text + "\n"), t.err
}

// plain is the plain body being written. It keeps the first error.
type plain struct {
	guide *doc.Guide
	err   error
}

func (t *plain) fail(n doc.Node) {
	if t.err == nil {
		t.err = unwritable(n)
	}
}

// blocks returns the texts of blocks, to be separated by empty lines.
func (t *plain) blocks(list []doc.Block) (out []string) {
	for _, n := range list {
		out = append(out, t.block(n)...)
	}
	return out
}

func (t *plain) block(n doc.Block) []string {
	switch n := n.(type) {
	case *doc.Section:
		var title []string
		if n.Heading != nil {
			line := t.inlines(n.Heading.Inlines)
			title = []string{line + "\n" + strings.Repeat("-", utf8.RuneCountInString(line))}
		}
		return append(title, t.blocks(n.Blocks)...)
	case *doc.Paragraph:
		return []string{t.inlines(n.Inlines)}
	case *doc.Limit:
		return []string{t.inlines(n.Inlines)}
	case *doc.List:
		return []string{t.list(n)}
	case *doc.Table:
		return []string{t.table(n)}
	case *doc.Caution:
		return []string{doc.Join(t.guide.Words["list.colon"], n.Signal, strings.Join(t.blocks(n.Blocks()), "\n"))}
	}
	t.fail(n)
	return nil
}

func (t *plain) list(n *doc.List) string {
	var lines []string
	for i, item := range n.Items {
		mark := "- "
		if n.Ordered {
			mark = fmt.Sprintf("%d. ", n.Start+i)
		}
		text := strings.Join(t.blocks(item.Blocks), "\n")
		lines = append(lines, mark+strings.ReplaceAll(text, "\n", "\n"+strings.Repeat(" ", len(mark))))
	}
	return strings.Join(lines, "\n")
}

// table returns one line for each row: of two cells the first is the label of the second.
func (t *plain) table(n *doc.Table) string {
	rows := n.Rows
	if n.Head != nil {
		rows = append([]*doc.Row{n.Head}, rows...)
	}
	var lines []string
	for _, row := range rows {
		var cells []string
		for _, c := range row.Cells {
			cells = append(cells, t.inlines(c.Inlines))
		}
		between := "{a} | {b}"
		if len(cells) == 2 {
			between = t.guide.Words["list.colon"]
		}
		lines = append(lines, doc.Join(between, cells...))
	}
	return strings.Join(lines, "\n")
}

func (t *plain) inlines(list []doc.Inline) string {
	var b strings.Builder
	for _, n := range list {
		switch n := n.(type) {
		case *doc.Text:
			b.WriteString(n.Content)
		case *doc.Value:
			b.WriteString(n.Printed)
		case *doc.PointMark:
			fmt.Fprintf(&b, "(%d)", n.Number)
		case *doc.Box:
			b.WriteString("[ ] ")
		case *doc.Break:
			b.WriteString(" ")
		case *doc.Emphasis:
			b.WriteString(t.inlines(n.Inlines))
		case *doc.Link:
			b.WriteString(t.link(n))
		default:
			t.fail(n)
		}
	}
	return b.String()
}

// link returns a link's text, with the target unless the text shows it.
func (t *plain) link(n *doc.Link) string {
	words, target := t.inlines(n.Inlines), n.To
	if _, address, _ := strings.Cut(target, ":"); words == target || words == address {
		return words
	}
	return words + " (" + target + ")"
}
