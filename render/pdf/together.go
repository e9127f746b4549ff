package pdf

import (
	"bytes"
	"errors"
	"fmt"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/layout"
	"ownerguide/render/pdf/page"
	"ownerguide/render/pdf/paint"
)

// Together puts the guides of several units into one tagged PDF for the print room. Each begins on a right-hand page, and so does
// the hand-over leaf behind it, and keeps its own page numbers; the bookmarks are the serial numbers, with the chapters below. A guide is painted when it is added, so that neither
// the guide nor its layout is kept; what is painted is held in memory, compressed, until the file is finished.
type Together struct {
	opt    Options
	paint  *paint.Painter
	d      finish.Document
	report Report
	first  string // serial number
	last   string
	known  map[string]bool
}

// NewTogether begins a file on a paper.
func NewTogether(opt Options) *Together {
	return &Together{opt: opt, known: map[string]bool{}}
}

// Guides is how many have been added.
func (t *Together) Guides() int { return len(t.known) }

// Add puts a guide behind those before it. Errors are those of [Render], and a second guide of one serial number; the file is of no use then.
func (t *Together) Add(g *doc.Guide) error {
	if t.known[g.Serial] {
		return fmt.Errorf("two guides have the serial number %s", g.Serial)
	}
	mark := &finish.Outline{Title: g.Serial}
	if err := t.add(g, g.Serial, mark); err != nil {
		return fmt.Errorf("%s: %w", g.Serial, err)
	}
	if g.Leaf != nil {
		if err := t.add(g.Leaf, g.Serial+"/leaf", mark); err != nil {
			return fmt.Errorf("%s: hand-over leaf: %w", g.Serial, err)
		}
	}
	t.known[g.Serial], t.last = true, g.Serial
	mark.Anchor = mark.Children[0].Anchor
	t.d.Outline = append(t.d.Outline, mark)
	return nil
}

// add puts one document of a unit behind those before it, with its bookmarks under one. Within names it among all documents.
func (t *Together) add(g *doc.Guide, within string, mark *finish.Outline) error {
	own, err := document(g)
	if err != nil {
		return err
	}
	f, b, err := lay(g, t.opt)
	if err != nil {
		return err
	}
	if t.paint == nil {
		t.paint = paint.New(f.Width, f.Height)
		t.d, t.first = own, g.Serial
		t.d.Creator = togetherCreator
		t.d.Root, t.d.Subject, t.d.Keywords = &finish.Element{Role: finish.RoleDocument}, "", ""
	}
	if own.Date.After(t.d.Date) {
		t.d.Date = own.Date
	}
	nameWithin(b, within)
	b.Root.Role, b.Root.Title, b.Root.Lang = finish.RolePart, within, g.Lang
	t.d.Root.Children = append(t.d.Root.Children, b.Root)
	mark.Children = append(mark.Children, b.Outline...)
	if t.report.Pages%2 == 1 {
		t.paint.Blank()
		t.report.Pages++
	}
	for _, s := range b.Sections {
		t.report.Sections = append(t.report.Sections, SectionPage{ID: within + "/" + s.ID, Page: t.report.Pages + s.Page})
	}
	t.report.Pages += len(b.Pages)
	t.report.Missing = append(t.report.Missing, b.Missing...)
	t.paint.Pages(b.Pages)
	return t.paint.Pack()
}

// Finish returns the file. It is an error when no guide was added.
func (t *Together) Finish() ([]byte, Report, error) {
	if len(t.known) == 0 {
		return nil, Report{}, errors.New("there is no guide to put together")
	}
	t.d.Title = t.d.Author + ": " + t.first
	if len(t.known) > 1 {
		t.d.Title += fmt.Sprintf(" – %s (%d)", t.last, len(t.known))
	}
	out, err := t.paint.Finish(t.d)
	return out, t.report, err
}

// togetherCreator tells a file of several guides from the guide of one unit.
const togetherCreator = "ownerguide, several guides in one file"

// IsTogether reports whether a file is one that [Together.Finish] returned, byte
// for byte: a person may have put notes into it since.
func IsTogether(data []byte) bool {
	return finish.Unchanged(data) && bytes.Contains(data, []byte("<xmp:CreatorTool>"+togetherCreator+"</xmp:CreatorTool>"))
}

// nameWithin puts the name of a document before its anchors and the links to them, so that those of several are told apart.
func nameWithin(b *layout.Book, name string) {
	for _, pg := range b.Pages {
		for _, it := range pg.Items {
			switch it := it.(type) {
			case *page.Anchor:
				it.Name = name + "/" + it.Name
			case *page.Link:
				if len(it.To) > 0 && it.To[0] == '#' {
					it.To = "#" + name + "/" + it.To[1:]
				}
			}
		}
	}
	var rename func(marks []*finish.Outline)
	rename = func(marks []*finish.Outline) {
		for _, m := range marks {
			m.Anchor = name + "/" + m.Anchor
			rename(m.Children)
		}
	}
	rename(b.Outline)
}
