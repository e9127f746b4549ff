package pdf

import (
	"fmt"
	"math"
	"sync"

	"github.com/signintech/gopdf"

	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/fonts"
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

// painter carries items to the PDF library. Every call is one that cannot panic: fonts are there before text, a page before both,
// and text is placed each time. The first error is kept and ends the painting.
type painter struct {
	pdf   gopdf.GoPdf
	marks *finish.Marks
	open  bool // a piece is open
	tag   tag  // of the open piece
	err   error
}

// newPainter starts a document of pages of one size, without compression, as the finishing pass needs it.
func newPainter(width, height float64) (*painter, error) {
	container, err := parsed()
	if err != nil {
		return nil, err
	}
	p := &painter{}
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

// paint writes pages and finishes the file that they make.
func paint(pages []*page, sh sheet, d finish.Document) ([]byte, error) {
	p, err := newPainter(sh.width, sh.height)
	if err != nil {
		return nil, err
	}
	if err := p.pages(pages); err != nil {
		return nil, err
	}
	return p.finish(d)
}

// finish ends the document and makes it the file that is delivered.
func (p *painter) finish(d finish.Document) ([]byte, error) {
	raw, err := p.pdf.GetBytesPdfReturnErr()
	if err != nil {
		return nil, fmt.Errorf("paint: %w", err)
	}
	// What library and marks hold of many guides is as large again; the finishing pass lets go of it as it goes.
	marks := p.marks
	p.pdf, p.marks = gopdf.GoPdf{}, nil
	return finish.Finish(raw, marks, d)
}

// pages paints pages.
func (p *painter) pages(pages []*page) error {
	for _, pg := range pages {
		p.blank()
		p.items(pg.items)
		if p.err != nil {
			return fmt.Errorf("paint: page %d: %w", pg.number, p.err)
		}
	}
	return nil
}

// blank starts a page. The library leaves one malformed on which nothing happens.
func (p *painter) blank() {
	p.pdf.AddPage()
	p.marks.Save()
	p.marks.Restore()
}

// items paints items. Links and anchors lie between pieces, never inside one.
func (p *painter) items(items []item) {
	for _, it := range items {
		switch it := it.(type) {
		case *run:
			p.piece(it.tag)
			p.run(it)
		case *shape:
			p.piece(it.tag)
			p.shape(it)
		case *dots:
			p.piece(it.tag)
			p.dots(it)
		case *area:
			p.close()
			if len(it.to) > 0 && it.to[0] == '#' {
				p.marks.LinkTo(it.element, it.box, it.to[1:], it.words)
			} else {
				p.marks.LinkOut(it.element, it.box, it.to, it.words)
			}
		case *anchor:
			p.close()
			p.marks.Anchor(it.name, it.y)
		case *frame:
			box := it.box
			it.element.Box = &box
		}
	}
	p.close()
}

// piece opens a piece for a tag, unless it is open.
func (p *painter) piece(t tag) {
	if p.open && p.tag == t {
		return
	}
	p.close()
	if t.element != nil {
		p.marks.Begin(t.element)
	} else {
		p.marks.Artifact(t.artifact)
	}
	p.open, p.tag = true, t
}

// close ends the open piece: pieces never nest and never go over a page.
func (p *painter) close() {
	if p.open {
		p.marks.End()
		p.open = false
	}
}

// run paints text.
func (p *painter) run(r *run) {
	if err := p.pdf.SetFont(families[r.look.style].name, "", r.look.size); err != nil && p.err == nil {
		p.err = fmt.Errorf("font: %w", err)
		return
	}
	p.pdf.SetTextColor(r.look.ink.r, r.look.ink.g, r.look.ink.b)
	if r.turn == 0 {
		p.text(r.x, r.y, r.text)
		return
	}
	// Turned about its start: move the start to the origin, turn, and move it back. y runs downwards, so the sine changes sides.
	sin, cos := math.Sincos(r.turn * math.Pi / 180)
	p.marks.Save()
	p.marks.Transform(cos, -sin, sin, cos, r.x-cos*r.x-sin*r.y, r.y+sin*r.x-cos*r.y)
	p.text(r.x, r.y, r.text)
	p.marks.Restore()
}

// text places text each time: the library is quadratic in texts that follow each other without a place.
func (p *painter) text(x, y float64, text string) {
	p.pdf.SetXY(x, y)
	if err := p.pdf.Text(text); err != nil && p.err == nil {
		p.err = fmt.Errorf("text %q: %w", text, err)
	}
}

// dots paints a picture of dots.
func (p *painter) dots(d *dots) {
	img, err := gopdf.ImageHolderByBytes(d.png)
	if err == nil {
		err = p.pdf.ImageByHolder(img, d.box.X, d.box.Y, &gopdf.Rect{W: d.box.W, H: d.box.H})
	}
	if err != nil && p.err == nil {
		p.err = fmt.Errorf("picture: %w", err)
	}
}

// shape paints an outline. Dashes and round ends are kept from what follows by saving and restoring the state.
func (p *painter) shape(s *shape) {
	var path finish.Path
	for _, st := range s.steps {
		a := st.at
		switch st.verb {
		case 'm':
			path.MoveTo(a[2].x, a[2].y)
		case 'l':
			path.LineTo(a[2].x, a[2].y)
		case 'c':
			path.CurveTo(a[0].x, a[0].y, a[1].x, a[1].y, a[2].x, a[2].y)
		case 'h':
			path.Close()
		}
	}
	kept := s.round || len(s.dash) > 0
	if kept {
		p.marks.Save()
	}
	how := finish.Fill
	if s.evenOdd {
		how = finish.FillEvenOdd
	}
	if s.fill != nil {
		p.pdf.SetFillColor(s.fill.r, s.fill.g, s.fill.b)
	}
	if s.line != nil {
		how = finish.Stroke
		if s.fill != nil {
			how = finish.FillStroke
		}
		p.pdf.SetStrokeColor(s.line.r, s.line.g, s.line.b)
		p.pdf.SetLineWidth(s.width)
		if s.round {
			p.marks.LineCap(finish.RoundCap)
			p.marks.LineJoin(finish.RoundJoin)
		}
		if len(s.dash) > 0 {
			p.pdf.SetCustomLineType(append([]float64(nil), s.dash...), 0)
		}
	}
	p.marks.Draw(path, how)
	if kept {
		p.marks.Restore()
	}
}
