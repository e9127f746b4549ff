package pdf

import (
	"bytes"
	"errors"
	"fmt"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/paint"
)

// Together puts the guides of several units into one tagged PDF for the print room. Each guide, and the hand-over leaf after it, begins
// on a right-hand page and has its own page numbers; the bookmarks are the serial numbers, with the chapters below. A guide is painted when
// it is added, so that neither guide nor layout is kept; painted content is compressed and kept in memory until the file is finished.
type Together struct {
	opt    Options
	paint  *paint.Painter
	d      finish.Document
	report Report
	first  string // serial number
	last   string
	known  map[string]bool
}

// NewTogether returns an empty file.
func NewTogether(opt Options) *Together {
	opt.joined = true
	return &Together{opt: opt, known: map[string]bool{}}
}

// Guides returns the number of guides added.
func (t *Together) Guides() int { return len(t.known) }

// Add appends a guide. Errors are those of [Render], or a duplicate serial number; after an error the file must not be used.
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

// add appends one document of a unit, with its bookmarks below mark. Within is a name unique among all documents.
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
	nameWithin(within+"/", b.Outline)
	b.Root.Role, b.Root.Title, b.Root.Lang = finish.RolePart, within, g.Lang
	t.d.Root.Children = append(t.d.Root.Children, b.Root)
	mark.Children = append(mark.Children, b.Outline...)
	if t.report.Pages%2 == 1 {
		t.paint.Blank()
		t.report.Pages++
	}
	t.report.Pages += len(b.Pages)
	t.report.Missing = append(t.report.Missing, b.Missing...)
	t.paint.Within = within + "/"
	t.paint.Pages(b.Pages)
	return t.paint.Pack()
}

// Finish returns the file. It returns an error if no guide was added.
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

// togetherCreator identifies a file of several guides.
const togetherCreator = "ownerguide, several guides in one file"

// IsTogether reports whether a file is byte for byte as returned by [Together.Finish]: a
// person may have added annotations.
func IsTogether(data []byte) bool {
	return finish.Unchanged(data) && bytes.Contains(data, []byte("<xmp:CreatorTool>"+togetherCreator+"</xmp:CreatorTool>"))
}

// nameWithin prefixes the anchors of bookmarks.
func nameWithin(name string, marks []*finish.Outline) {
	for _, m := range marks {
		m.Anchor = name + m.Anchor
		nameWithin(name, m.Children)
	}
}
