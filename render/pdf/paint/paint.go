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
	"ownerguide/render/pdf/fonts"
	"ownerguide/render/pdf/page"
)

// Painter paints the items of one document.
type Painter struct {
	pages    *finish.Pages
	used     characters
	pictures [][]byte       // PNG, in order of first use
	glyphs   []finish.Glyph // of the current text
	path     finish.Path    // current path
	open     bool           // a piece is open
	tag      page.Tag       // of the open piece
}

// New returns a Painter for pages of one size, in points.
func New(width, height float64) *Painter { return &Painter{pages: finish.NewPages(width, height)} }

// Finish returns the finished file. The Painter must not be used afterwards.
func (p *Painter) Finish(d finish.Document) ([]byte, error) {
	kit, err := kitOf(&p.used, p.pictures)
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
		p.Items(pg.Items)
	}
}

// Scaled paints items as artifacts at a scale, with the left edge of their page at x.
func (p *Painter) Scaled(items []page.Item, scale, x float64) {
	p.pages.Save()
	p.pages.Transform(scale, 0, 0, scale, x, 0)
	p.Items(page.AsArtifacts(items))
	p.pages.Restore()
}

// Blank starts a page.
func (p *Painter) Blank() { p.pages.Page() }

// Items paints items on the current page. Links and anchors are written between pieces, never inside one.
func (p *Painter) Items(items []page.Item) {
	for _, it := range items {
		switch it := it.(type) {
		case *page.Text:
			p.piece(it.Tag)
			p.text(it)
		case *page.Shape:
			p.piece(it.Tag)
			p.shape(it)
		case *page.Image:
			p.piece(it.Tag)
			p.image(it)
		case *page.Link:
			p.close()
			if len(it.To) > 0 && it.To[0] == '#' {
				p.pages.LinkTo(it.Element, it.Box, it.To[1:], it.Words)
			} else {
				p.pages.LinkOut(it.Element, it.Box, it.To, it.Words)
			}
		case *page.Anchor:
			p.close()
			p.pages.Anchor(it.Name, it.Y)
		case *page.Frame:
			box := it.Box
			it.Element.Box = &box
		}
	}
	p.close()
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

// text paints text.
func (p *Painter) text(t *page.Text) {
	p.glyphs = p.glyphs[:0]
	last := rune(-1)
	for _, r := range t.Words {
		number, advance := fonts.Glyph(t.Look.Style, r)
		if number == 0 { // layout reports it, and the file is not delivered
			r = ' '
			number, advance = fonts.Glyph(t.Look.Style, r)
		}
		g := finish.Glyph{Number: number, Advance: advance}
		if last >= 0 {
			g.Kern = fonts.Kern(t.Look.Style, last, r)
		}
		p.used.add(t.Look.Style, r)
		p.glyphs, last = append(p.glyphs, g), r
	}
	text := finish.Text{
		Font: int(t.Look.Style) + 1, Size: t.Look.Size, Spacing: t.Look.Spacing, Color: finish.Color(t.Look.Ink),
		X: t.X, Y: t.Y, Glyphs: p.glyphs,
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
	p.pages.Transform(cos, -sin, sin, cos, t.X-cos*t.X-sin*t.Y, t.Y+sin*t.X-cos*t.Y)
	p.pages.Text(text)
	p.pages.Restore()
}

// image paints a bitmap.
func (p *Painter) image(i *page.Image) {
	n := slices.IndexFunc(p.pictures, func(png []byte) bool { return bytes.Equal(png, i.PNG) })
	if n < 0 {
		n, p.pictures = len(p.pictures), append(p.pictures, i.PNG)
	}
	p.pages.Picture(n, i.Box)
}

// shape paints an outline.
func (p *Painter) shape(s *page.Shape) {
	p.path.Reset()
	for _, st := range s.Steps {
		a := st.At
		switch st.Verb {
		case 'm':
			p.path.MoveTo(a[2].X, a[2].Y)
		case 'l':
			p.path.LineTo(a[2].X, a[2].Y)
		case 'c':
			p.path.CurveTo(a[0].X, a[0].Y, a[1].X, a[1].Y, a[2].X, a[2].Y)
		case 'h':
			p.path.Close()
		}
	}
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
		lineCap, join := finish.ButtCap, finish.MiterJoin
		if s.Round {
			lineCap, join = finish.RoundCap, finish.RoundJoin
		}
		p.pages.LineCap(lineCap)
		p.pages.LineJoin(join)
		p.pages.Dash(s.Dash)
	}
	p.pages.Draw(p.path, how)
}
