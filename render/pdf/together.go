package pdf

import (
	"errors"
	"fmt"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
)

// Together returns the guides of several units as one tagged PDF for the print room. Each begins on a right-hand page and keeps its own
// page numbers; the bookmarks are the serial numbers, with the chapters below. All guides are held in memory at once. Errors
// are those of [Render], and none or two guides of one serial number.
func Together(guides []*doc.Guide, opt Options) ([]byte, Report, error) {
	if len(guides) == 0 {
		return nil, Report{}, errors.New("there is no guide to put together")
	}
	var sh sheet
	var pages []*page
	var all Report
	root := &finish.Element{Role: finish.RoleDocument}
	d, err := document(guides[0])
	if err != nil {
		return nil, Report{}, err
	}
	d.Root = root
	d.Title = d.Author + ": " + guides[0].Serial
	if last := guides[len(guides)-1]; len(guides) > 1 {
		d.Title += fmt.Sprintf(" – %s (%d)", last.Serial, len(guides))
	}
	d.Subject, d.Keywords = "", ""
	known := map[string]bool{}
	for _, g := range guides {
		if known[g.Serial] {
			return nil, Report{}, fmt.Errorf("two guides have the serial number %s", g.Serial)
		}
		known[g.Serial] = true
		own, err := document(g)
		if err != nil {
			return nil, Report{}, fmt.Errorf("%s: %w", g.Serial, err)
		}
		if own.Date.After(d.Date) {
			d.Date = own.Date
		}
		var b *book
		if sh, b, err = layOn(g, opt); err != nil {
			return nil, Report{}, fmt.Errorf("%s: %w", g.Serial, err)
		}
		b.within(g.Serial)
		b.root.Role, b.root.Title, b.root.Lang = finish.RolePart, g.Serial, g.Lang
		root.Children = append(root.Children, b.root)
		d.Outline = append(d.Outline, &finish.Outline{Title: g.Serial, Anchor: b.outline[0].Anchor, Children: b.outline})
		if !odd(len(pages) + 1) {
			pages = append(pages, &page{number: len(pages) + 1})
		}
		for _, s := range b.sections {
			all.Sections = append(all.Sections, SectionPage{g.Serial + "/" + s.ID, len(pages) + s.Page})
		}
		pages = append(pages, b.pages...)
		all.Missing = append(all.Missing, b.missing...)
	}
	all.Pages = len(pages)
	out, err := paint(pages, sh, d)
	return out, all, err
}

// within puts a unit's serial number before its anchors and the links to them, so that those of several units are told apart.
func (b *book) within(serial string) {
	for _, pg := range b.pages {
		for _, it := range pg.items {
			switch it := it.(type) {
			case *anchor:
				it.name = serial + "/" + it.name
			case *area:
				if len(it.to) > 0 && it.to[0] == '#' {
					it.to = "#" + serial + "/" + it.to[1:]
				}
			}
		}
	}
	var rename func(marks []*finish.Outline)
	rename = func(marks []*finish.Outline) {
		for _, m := range marks {
			m.Anchor = serial + "/" + m.Anchor
			rename(m.Children)
		}
	}
	rename(b.outline)
}
