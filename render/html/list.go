package html

import (
	"fmt"
	"ownerguide/render/doc"
)

func (p *page) list(n *doc.List) {
	if p.toldByPictureKeys(n) {
		return
	}
	tag := "ul"
	if n.Ordered {
		tag = "ol"
	}
	class := ""
	if len(n.Items) > 0 {
		if box, _ := firstBox(n.Items[0]); box != nil { // a check list
			class = " class=\"checks\""
		}
	}
	start := ""
	if n.Ordered && n.Start > 1 {
		start = fmt.Sprintf(" start=\"%d\"", n.Start)
	}
	p.text("<", tag, class, start, ">\n")
	for _, item := range n.Items {
		p.item(item)
	}
	p.text("</", tag, ">\n")
}

// toldByPictureKeys reports whether a list of points repeats the keys of the pictures on this
// page; it is for paper, where pictures have no keys.
func (p *page) toldByPictureKeys(n *doc.List) bool {
	for _, item := range n.Items {
		if len(item.Blocks) != 1 {
			return false
		}
		first, ok := item.Blocks[0].(*doc.Paragraph)
		if !ok || len(first.Inlines) == 0 {
			return false
		}
		link, ok := first.Inlines[len(first.Inlines)-1].(*doc.Link)
		if _, marked := first.Inlines[0].(*doc.PointMark); !marked || !ok || !p.keyed[link.To] {
			return false
		}
	}
	return true
}

// firstBox returns the checkbox at the beginning of a list item and the words after it;
// nil if there is none.
func firstBox(item *doc.Item) (box *doc.Box, words []doc.Inline) {
	if len(item.Blocks) == 0 {
		return nil, nil
	}
	first, ok := item.Blocks[0].(*doc.Paragraph)
	if !ok || len(first.Inlines) == 0 {
		return nil, nil
	}
	box, _ = first.Inlines[0].(*doc.Box)
	return box, first.Inlines[1:]
}

func (p *page) item(n *doc.Item) {
	if n.Changed {
		p.printf("<li class=\"changed\">%s", p.changed(n))
	} else {
		p.text("<li>")
	}
	rest := n.Blocks
	if box, words := firstBox(n); box != nil {
		p.printf("<label><input type=\"checkbox\" id=\"%s\"> <span>", esc(box.ID))
		p.inlines(words)
		p.text("</span></label>")
		rest = rest[1:]
	} else if len(rest) == 1 {
		if only, ok := rest[0].(*doc.Paragraph); ok {
			p.inlines(only.Inlines)
			rest = nil
		}
	}
	p.blocks(rest)
	p.text("</li>\n")
}
