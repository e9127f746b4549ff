package html

import "ownerguide/render/doc"

// jobLine writes who may do a job, when, and with what.
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
	p.text("<div class=\"fault\">\n<details class=\"fold\" open><summary class=\"symptom\">")
	p.inlines(n.Symptom)
	p.text("</summary>\n")
	p.foldBelowTitle(n.ID)
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
	p.text("</div></details>\n</div>\n")
}

// foldBelowTitle opens the content below the title of a fold. All folds are open in the file
// and only the script closes them, so that everything is readable without it. Links lead
// to the folded content and not to its title, since a browser opens only the element that
// contains the target of a link.
func (p *page) foldBelowTitle(id string) {
	if id != "" {
		id = " id=\"" + esc(id) + "\""
	}
	p.printf("<div class=\"folded\"%s>\n", id)
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
