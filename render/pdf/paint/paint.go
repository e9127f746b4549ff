// Package paint carries laid out pages to the PDF library and finishes the file that it writes.
//
// What the library does that is met here: a missing glyph becomes a space (the layout
// checks coverage), write errors are swallowed (it writes to memory), its outline and
// links are malformed (finish writes them), and compiling twice doubles pages.
package paint

import (
	"fmt"
	"math"
	"sync"

	"github.com/signintech/gopdf"

	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/fonts"
	"ownerguide/render/pdf/layout"
)

// families are the styles by the name the PDF library knows them under: it tells fonts apart by family alone.
var families = [...]struct {
	name  string
	style fonts.Style
}{{"regular", fonts.Regular}, {"bold", fonts.Bold}, {"italic", fonts.Italic}, {"bolditalic", fonts.BoldItalic}}

// parsed holds the fonts as the PDF library reads them, once for all guides and safe for several goroutines. Its hook is not told
// which guide lacks a character; layout has checked every one before.
var parsed = sync.OnceValues(func() (*gopdf.FontContainer, error) {
	c := &gopdf.FontContainer{}
	for _, f := range families {
		if err := c.AddTTFFontDataWithOption(f.name, fonts.Data(f.style), gopdf.TtfOption{UseKerning: true}); err != nil {
			return nil, fmt.Errorf("font %s: %w", f.name, err)
		}
	}
	return c, nil
})

// Painter carries items to the PDF library. Every call is one that cannot panic: fonts are there before text, a page before both,
// and text is placed each time. The first error is kept and ends the painting.
type Painter struct {
	pdf   gopdf.GoPdf
	marks *finish.Marks
	open  bool       // a piece is open
	tag   layout.Tag // of the open piece
	err   error
}

// New starts a document of pages of one size, in points. The library leaves them without compression, as the finishing pass needs it.
func New(width, height float64) (*Painter, error) {
	container, err := parsed()
	if err != nil {
		return nil, err
	}
	p := &Painter{}
	p.pdf.Start(gopdf.Config{Unit: gopdf.UnitPT, PageSize: gopdf.Rect{W: width, H: height}})
	p.pdf.SetNoCompression()
	for _, f := range families {
		if err := p.pdf.AddTTFFontFromFontContainer(f.name, container); err != nil {
			return nil, fmt.Errorf("font %s: %w", f.name, err)
		}
	}
	p.marks = finish.NewMarks(p.pdf.SetCustomLineType)
	return p, nil
}

// Finish ends the document and makes it the file that is delivered. The painter is of no use then.
func (p *Painter) Finish(d finish.Document) ([]byte, error) {
	if p.err != nil {
		return nil, fmt.Errorf("paint: %w", p.err)
	}
	raw, err := p.pdf.GetBytesPdfReturnErr()
	if err != nil {
		return nil, fmt.Errorf("paint: %w", err)
	}
	// What library and marks hold of many guides is as large again; the finishing pass lets go of it as it goes.
	marks := p.marks
	p.pdf, p.marks = gopdf.GoPdf{}, nil
	return finish.Finish(raw, marks, d)
}

// Pages paints pages.
func (p *Painter) Pages(pages []*layout.Page) error {
	for _, pg := range pages {
		p.Blank()
		p.Items(pg.Items)
		if p.err != nil {
			return fmt.Errorf("paint: page %d: %w", pg.Number, p.err)
		}
	}
	return nil
}

// Scaled paints items as artifacts at a scale, with the left edge of their page at x.
func (p *Painter) Scaled(items []layout.Item, scale, x float64) {
	p.marks.Save()
	p.marks.Transform(scale, 0, 0, scale, x, 0)
	p.Items(layout.Silent(items))
	p.marks.Restore()
}

// Blank starts a page. The library leaves one malformed on which nothing happens.
func (p *Painter) Blank() {
	p.pdf.AddPage()
	p.marks.Save()
	p.marks.Restore()
}

// Items paints items on the page at hand. Links and anchors lie between pieces, never inside one.
func (p *Painter) Items(items []layout.Item) {
	for _, it := range items {
		switch it := it.(type) {
		case *layout.Text:
			p.piece(it.Tag)
			p.text(it)
		case *layout.Shape:
			p.piece(it.Tag)
			p.shape(it)
		case *layout.Image:
			p.piece(it.Tag)
			p.image(it)
		case *layout.Link:
			p.close()
			if len(it.To) > 0 && it.To[0] == '#' {
				p.marks.LinkTo(it.Element, it.Box, it.To[1:], it.Words)
			} else {
				p.marks.LinkOut(it.Element, it.Box, it.To, it.Words)
			}
		case *layout.Anchor:
			p.close()
			p.marks.Anchor(it.Name, it.Y)
		case *layout.Frame:
			box := it.Box
			it.Element.Box = &box
		}
	}
	p.close()
}

// piece opens a piece for a tag, unless it is open.
func (p *Painter) piece(t layout.Tag) {
	if p.open && p.tag == t {
		return
	}
	p.close()
	if t.Element != nil {
		p.marks.Begin(t.Element)
	} else {
		p.marks.Artifact(t.Artifact)
	}
	p.open, p.tag = true, t
}

// close ends the open piece: pieces never nest and never go over a page.
func (p *Painter) close() {
	if p.open {
		p.marks.End()
		p.open = false
	}
}

// text paints text.
func (p *Painter) text(t *layout.Text) {
	if err := p.pdf.SetFont(families[t.Look.Style].name, "", t.Look.Size); err != nil && p.err == nil {
		p.err = fmt.Errorf("font: %w", err)
		return
	}
	if err := p.pdf.SetCharSpacing(t.Look.Spacing); err != nil && p.err == nil {
		p.err = fmt.Errorf("spacing: %w", err)
		return
	}
	p.pdf.SetTextColor(t.Look.Ink.R, t.Look.Ink.G, t.Look.Ink.B)
	if t.Turn == 0 {
		p.words(t.X, t.Y, t.Words)
		return
	}
	// Turned about its start: move the start to the origin, turn, and move it back. y runs downwards, so the sine changes sides.
	sin, cos := math.Sincos(t.Turn * math.Pi / 180)
	p.marks.Save()
	p.marks.Transform(cos, -sin, sin, cos, t.X-cos*t.X-sin*t.Y, t.Y+sin*t.X-cos*t.Y)
	p.words(t.X, t.Y, t.Words)
	p.marks.Restore()
}

// words places text each time: the library is quadratic in texts that follow each other without a place.
func (p *Painter) words(x, y float64, words string) {
	p.pdf.SetXY(x, y)
	if err := p.pdf.Text(words); err != nil && p.err == nil {
		p.err = fmt.Errorf("text %q: %w", words, err)
	}
}

// image paints a picture of dots.
func (p *Painter) image(i *layout.Image) {
	img, err := gopdf.ImageHolderByBytes(i.PNG)
	if err == nil {
		err = p.pdf.ImageByHolder(img, i.Box.X, i.Box.Y, &gopdf.Rect{W: i.Box.W, H: i.Box.H})
	}
	if err != nil && p.err == nil {
		p.err = fmt.Errorf("picture: %w", err)
	}
}

// shape paints an outline. Dashes and round ends are kept from what follows by saving and restoring the state.
func (p *Painter) shape(s *layout.Shape) {
	var path finish.Path
	for _, st := range s.Steps {
		a := st.At
		switch st.Verb {
		case 'm':
			path.MoveTo(a[2].X, a[2].Y)
		case 'l':
			path.LineTo(a[2].X, a[2].Y)
		case 'c':
			path.CurveTo(a[0].X, a[0].Y, a[1].X, a[1].Y, a[2].X, a[2].Y)
		case 'h':
			path.Close()
		}
	}
	kept := s.Round || len(s.Dash) > 0
	if kept {
		p.marks.Save()
	}
	how := finish.Fill
	if s.EvenOdd {
		how = finish.FillEvenOdd
	}
	if s.Fill != nil {
		p.pdf.SetFillColor(s.Fill.R, s.Fill.G, s.Fill.B)
	}
	if s.Line != nil {
		how = finish.Stroke
		if s.Fill != nil {
			how = finish.FillStroke
		}
		p.pdf.SetStrokeColor(s.Line.R, s.Line.G, s.Line.B)
		p.pdf.SetLineWidth(s.Width)
		if s.Round {
			p.marks.LineCap(finish.RoundCap)
			p.marks.LineJoin(finish.RoundJoin)
		}
		if len(s.Dash) > 0 {
			p.pdf.SetCustomLineType(append([]float64(nil), s.Dash...), 0)
		}
	}
	p.marks.Draw(path, how)
	if kept {
		p.marks.Restore()
	}
}
