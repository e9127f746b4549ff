// Package paint writes laid-out pages as PDF. The PDF library writes only fonts and pictures.
//
// Behavior of the library that is worked around: a missing glyph becomes a space (layout
// checks coverage, and finish refuses a glyph that the file lacks), write errors are ignored (it writes to memory), its outline and
// links are malformed (finish writes them), and compiling twice duplicates pages.
package paint

import (
	"bytes"
	"fmt"
	"math"
	"slices"

	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/page"
	"ownerguide/spec/parallel"
)

// Painter paints the items of one document.
type Painter struct {
	pages    *finish.Pages
	pictures [][]byte       // PNG, in order of first use
	glyphs   []finish.Glyph // memory for those of a text
	open     bool           // a piece is open
	tag      page.Tag       // of the open piece

	// Within is written before the names of anchors and of the targets of links, so that they are unique among several documents.
	Within string
}

// New returns a Painter for pages of one size, in points.
func New(width, height float64) *Painter { return &Painter{pages: finish.NewPages(width, height)} }

// Finish returns the finished file. The Painter must not be used afterwards.
func (p *Painter) Finish(d finish.Document) ([]byte, error) {
	var kit *finish.Kit
	err := parallel.Do(func() (err error) {
		kit, err = p.kit()
		return err
	}, p.pages.Pack)
	if err != nil {
		return nil, fmt.Errorf("paint: %w", err)
	}
	return p.pages.Finish(kit, d)
}

// Pack compresses what is painted so far, to save memory until Finish.
func (p *Painter) Pack() error { return p.pages.Pack() }

// Pages paints pages.
func (p *Painter) Pages(pages []*page.Page) {
	for _, pg := range pages {
		p.Blank()
		for _, part := range pg.Parts {
			p.part(part)
		}
		p.Items(pg.Around)
	}
}

// part paints a part of a page, unless that has been done for another guide.
func (p *Painter) part(part *page.Part) {
	if part.Pictured { // the numbers of pictures are those of the document
		p.groups(part.Groups)
		return
	}
	paint := func(own *finish.Pages) { (&Painter{pages: own}).groups(part.Groups) }
	painted := part.Painted.Load()
	if !painted.Fits(p.pages) {
		painted = p.pages.Painted(paint)
		part.Painted.Store(painted)
	}
	p.pages.Place(painted, p.Within, paint)
}

// groups paints groups of items.
func (p *Painter) groups(groups []page.Group) {
	for _, g := range groups {
		p.items(g)
	}
	p.close()
}

// Scaled paints a page as artifacts at a scale, with its left edge at x.
func (p *Painter) Scaled(pg *page.Page, scale, x float64) {
	p.pages.Save()
	p.pages.Transform(scale, 0, 0, scale, x, 0)
	for _, g := range pg.Groups() {
		p.items(page.Group{Items: page.AsArtifacts(g.Items), X: g.X, Y: g.Y})
	}
	p.close()
	p.pages.Restore()
}

// Blank starts a page.
func (p *Painter) Blank() { p.pages.Page() }

// Items paints items on the current page.
func (p *Painter) Items(items []page.Item) {
	p.groups([]page.Group{{Items: items}})
}

// items paints a group. Links and anchors are written between pieces, never inside one.
func (p *Painter) items(g page.Group) {
	for _, it := range g.Items {
		switch it := it.(type) {
		case *page.Text:
			p.piece(it.Tag)
			p.text(it, it.X+g.X, it.Y+g.Y)
		case *page.Shape:
			p.piece(it.Tag)
			p.shape(it, g.X, g.Y)
		case *page.Image:
			p.piece(it.Tag)
			p.image(it.PNG, it.Box.Moved(g.X, g.Y))
		case *page.Link:
			p.close()
			if len(it.To) > 0 && it.To[0] == '#' {
				p.pages.LinkTo(it.Element, it.Box.Moved(g.X, g.Y), p.Within+it.To[1:], it.Words)
			} else {
				p.pages.LinkOut(it.Element, it.Box.Moved(g.X, g.Y), it.To, it.Words)
			}
		case *page.Anchor:
			p.close()
			p.pages.Anchor(p.Within+it.Name, it.Y+g.Y)
		case *page.Frame:
			p.pages.Frame(it.Element, it.Box.Moved(g.X, g.Y))
		}
	}
}

// piece opens a piece for a tag, unless it is open already.
func (p *Painter) piece(t page.Tag) {
	if p.open && p.tag == t {
		return
	}
	p.close()
	if t.Element != nil {
		p.pages.Begin(t.Element)
	} else {
		p.pages.Artifact(t.Artifact)
	}
	p.open, p.tag = true, t
}

// close closes the open piece: pieces do not nest and do not cross pages.
func (p *Painter) close() {
	if p.open {
		p.pages.End()
		p.open = false
	}
}

// text paints text that begins at x, y.
func (p *Painter) text(t *page.Text, x, y float64) {
	if t.Run == nil {
		shaped := *t
		p.glyphs = shaped.Shape(p.glyphs[:0])
		t = &shaped
	}
	text := finish.Text{
		Run: t.Run, Font: int(t.Look.Style) + 1, Size: t.Look.Size, Spacing: t.Look.Spacing, Color: finish.Color(t.Look.Ink), X: x, Y: y,
	}
	switch {
	case t.Form != page.NoForm:
		p.pages.Form(text, t.Form == page.FormAtEnd)
		return
	case t.Turn == 0:
		p.pages.Text(text)
		return
	}
	// Rotated about its start: move the start to the origin, rotate, and move it back. y is downwards, so the sine changes sign.
	sin, cos := math.Sincos(t.Turn * math.Pi / 180)
	p.pages.Save()
	p.pages.Transform(cos, -sin, sin, cos, x-cos*x-sin*y, y+sin*x-cos*y)
	p.pages.Text(text)
	p.pages.Restore()
}

// image paints a bitmap.
func (p *Painter) image(data []byte, box finish.Box) {
	n := slices.IndexFunc(p.pictures, func(png []byte) bool { return bytes.Equal(png, data) })
	if n < 0 {
		n, p.pictures = len(p.pictures), append(p.pictures, data)
	}
	p.pages.Picture(n, box)
}

// shape paints an outline, moved by x, y.
func (p *Painter) shape(s *page.Shape, x, y float64) {
	how := finish.Fill
	if s.EvenOdd {
		how = finish.FillEvenOdd
	}
	if s.Fill != nil {
		p.pages.FillColor(finish.Color(*s.Fill))
	}
	if s.Line != nil {
		how = finish.Stroke
		if s.Fill != nil {
			how = finish.FillStroke
		}
		p.pages.StrokeColor(finish.Color(*s.Line))
		p.pages.LineWidth(s.Width)
		p.pages.Round(s.Round)
		p.pages.Dash(s.Dash)
	}
	p.pages.Draw(s.Steps, x, y, how)
}
