package html

import "ownerguide/render/doc"

// jobLine says who, when and with what.
func (p *page) jobLine(n *doc.JobLine) {
	p.text("<p class=\"job\">")
	if len(n.Who) > 0 {
		p.text("<span class=\"who\">")
		p.inlines(n.Who)
		p.text("</span> ")
	}
	p.text("<strong>")
	p.inlines(n.When)
	p.text("</strong>")
	if len(n.Tools) > 0 {
		p.text(" · ")
		p.inlines(n.Tools)
	}
	p.text("</p>\n")
}

func (p *page) trouble(n *doc.Trouble) {
	p.text("<div class=\"fault\"")
	if n.ID != "" {
		p.printf(" id=\"%s\"", esc(n.ID))
	}
	p.text(">\n<p class=\"symptom\">")
	p.inlines(n.Symptom)
	p.text("</p>\n")
	if len(n.Causes) > 0 {
		p.text("<p class=\"cause\">")
		p.inlines(n.Cause())
		p.text("</p>\n")
	}
	if len(n.Remedies) > 0 {
		p.text("<ol class=\"remedies\">\n")
		for _, line := range n.Remedies {
			p.text("<li>")
			p.inlines(line)
			p.text("</li>\n")
		}
		p.text("</ol>\n")
	}
	for _, l := range n.Limits {
		p.block(l)
	}
	p.text("</div>\n")
}

func (p *page) caution(c *doc.Caution) {
	brief := ""
	if c.Brief {
		brief = " brief"
	}
	id := ""
	if c.ID != "" {
		id = " id=\"" + esc(c.ID) + "\""
	}
	p.printf("<div%s class=\"panel %s%s\" role=\"note\" aria-label=\"%s\">\n<p class=\"signal\">%s%s</p>\n", id, esc(string(c.Word)), brief, esc(c.Signal), alertSymbol(c.Word), esc(c.Signal))
	p.text("<p class=\"hazard\">")
	if c.Full != "" {
		p.printf("<a href=\"#%s\">", esc(c.Full))
	}
	p.inlines(c.Hazard)
	if c.Full != "" {
		p.text("</a>")
	}
	p.text("</p>\n")
	p.blocks(c.Blocks()[1:])
	p.text("</div>\n")
}
