package finish

import (
	"fmt"
	"image"
	"image/color"
	"math"
	"testing"
	"time"

	"github.com/signintech/gopdf"

	"ownerguide/render/pdf/fonts"
)

// The paper of the samples: US Letter.
const paperWidth, paperHeight = 612.0, 792.0

// family gives the fonts in the order in which a painter adds them.
var family = []fonts.Style{fonts.Regular, fonts.Bold, fonts.Italic, fonts.BoldItalic}

// allFonts are the numbers of the fonts, in that order.
var allFonts = numbers(family)

func numbers(styles []fonts.Style) (out []int) {
	for _, s := range styles {
		out = append(out, int(s)+1)
	}
	return out
}

// painter puts words on the sample pages.
type painter struct {
	testing.TB
	*Pages
	used  [4]string // characters, by style
	photo bool      // a picture is on a page
	y     float64
}

func newPainter(tb testing.TB) *painter {
	return &painter{TB: tb, Pages: NewPages(paperWidth, paperHeight)}
}

// names are the families that styles are for the PDF library.
var names = map[fonts.Style]string{fonts.Regular: "OwnerguideText-Regular", fonts.Bold: "OwnerguideText-Bold", fonts.Italic: "OwnerguideText-Italic", fonts.BoldItalic: "OwnerguideText-BoldItalic"}

// raw has gopdf write fonts and pictures, as the painter does: points, no compression, one family a style, kerning on.
func (p *painter) raw(more ...func(*gopdf.GoPdf)) []byte {
	p.Helper()
	pdf := &gopdf.GoPdf{}
	pdf.Start(gopdf.Config{PageSize: gopdf.Rect{W: paperWidth, H: paperHeight}})
	pdf.SetNoCompression()
	for _, s := range family {
		if err := pdf.AddTTFFontDataWithOption(names[s], fonts.Data(s), gopdf.TtfOption{UseKerning: true}); err != nil {
			p.Fatal(err)
		}
	}
	pdf.AddPage()
	pdf.SetLineWidth(1)
	for _, s := range family {
		if p.used[s] == "" {
			continue
		}
		if err := pdf.SetFont(names[s], "", 10); err != nil {
			p.Fatal(err)
		}
		if _, err := pdf.MeasureTextWidth(p.used[s]); err != nil {
			p.Fatal(err)
		}
	}
	if p.photo {
		if err := pdf.ImageFrom(picture(), 0, 0, &gopdf.Rect{W: 1, H: 1}); err != nil {
			p.Fatal(err)
		}
	}
	for _, f := range more {
		f(pdf)
	}
	b, err := pdf.GetBytesPdfReturnErr()
	if err != nil {
		p.Fatal(err)
	}
	return b
}

func (p *painter) kit() *Kit {
	p.Helper()
	kit, err := NewKit(p.raw(), allFonts)
	if err != nil {
		p.Fatal(err)
	}
	return kit
}

// finished makes the file.
func (p *painter) finished(doc Document) []byte {
	p.Helper()
	out, err := p.Finish(p.kit(), doc)
	if err != nil {
		p.Fatal(err)
	}
	return out
}

func (p *painter) words(style string, size, x float64, text string) {
	s := map[string]fonts.Style{"Regular": fonts.Regular, "Bold": fonts.Bold, "Italic": fonts.Italic}[style]
	p.Text(p.set(s, size, x, text))
}

// set makes a text of words.
func (p *painter) set(s fonts.Style, size, x float64, text string) Text {
	t := Text{Font: int(s) + 1, Size: size, X: x, Y: p.y, Color: Color{20, 20, 20}}
	var glyphs []Glyph
	last := rune(-1)
	for _, r := range text {
		g := Glyph{Char: r}
		g.Number, g.Advance = fonts.Glyph(s, r)
		if last >= 0 {
			g.Kern = fonts.Kern(s, last, r)
		}
		glyphs, last = append(glyphs, g), r
	}
	t.Run, p.used[s] = NewRun(glyphs), p.used[s]+text
	return t
}

// block paints one line of text that belongs to a new element.
func (p *painter) block(role Role, style string, size float64, text string) *Element {
	e := &Element{Role: role}
	p.y += size * 1.5
	p.Begin(e)
	p.words(style, size, 72, text)
	p.End()
	return e
}

func (p *painter) page(n int) {
	p.Page()
	p.y = 72
	p.Artifact(Header)
	p.words("Italic", 8, 72, "Bramblewick Trailer Works · example")
	p.End()
	p.Artifact(Footer)
	p.y = 760
	p.words("Regular", 8, 300, fmt.Sprintf("Page %d ", n))
	p.End()
	p.y = 90
}

func cell(role Role, scope Scope, child ...*Element) *Element {
	return &Element{Role: role, Scope: scope, Children: child}
}

// sample paints a document of the given number of chapters, each on a page of its own, with everything a guide has.
func sample(tb testing.TB, chapters int) (*painter, Document) {
	p := newPainter(tb)
	root := &Element{Role: RoleDocument}
	doc := Document{
		Lang: "en-US", Title: "Owner’s guide (sample)", Author: "Bramblewick Trailer Works", Subject: "A <test> & nothing else",
		Keywords: "trailer, test", Creator: "ownerguide", Producer: "ownerguide", Root: root,
		Date: time.Date(2026, 3, 4, 5, 6, 7, 0, time.UTC),
	}

	// Contents, with links over their lines.
	p.page(1)
	toc := &Element{Role: RoleTOC}
	head := p.block(RoleH1, "Bold", 20, "Contents ")
	p.Anchor("contents", 80)
	root.Children = append(root.Children, &Element{Role: RoleSect, Children: []*Element{head, toc}})
	for c := range chapters {
		p.y += 14
		link := &Element{Role: RoleLink}
		p.Begin(link)
		p.words("Regular", 10, 72, fmt.Sprintf("Chapter %d ", c+1))
		p.End()
		p.LinkTo(link, Box{72, p.y - 10, 120, 13}, fmt.Sprintf("chapter-%d", c+1), fmt.Sprintf("Chapter %d, page %d", c+1, c+2))
		toc.Children = append(toc.Children, &Element{Role: RoleTOCI, Children: []*Element{{Role: RoleReference, Children: []*Element{link}}}})
	}
	doc.Outline = []*Outline{{Title: "Contents", Anchor: "contents"}}
	part := &Outline{Title: "Chapters – all", Anchor: "chapter-1", Open: true}
	for c := range chapters {
		root.Children = append(root.Children, p.chapter(c))
		part.Children = append(part.Children, &Outline{Title: fmt.Sprintf("Chapter %d", c+1), Anchor: fmt.Sprintf("chapter-%d", c+1),
			Children: []*Outline{{Title: "Table", Anchor: fmt.Sprintf("table-%d", c+1)}}})
	}
	doc.Outline = append(doc.Outline, part)
	return p, doc
}

func (p *painter) chapter(c int) *Element {
	p.page(c + 2)
	m := p.Pages
	m.Anchor(fmt.Sprintf("chapter-%d", c+1), p.y)
	sect := &Element{Role: RoleSect}
	add := func(e ...*Element) { sect.Children = append(sect.Children, e...) }
	add(p.block(RoleH1, "Bold", 18, fmt.Sprintf("Chapter %d ", c+1)))
	for i := range 9 {
		add(p.block(RoleP, "Regular", 10, fmt.Sprintf("Line %d: check cold tire pressure, 65 psi ≤ limit, then “re-torque” the nuts → ½ turn × %d. ", i, c)))
	}

	// A paragraph with a link in its middle: own content, child, own content.
	para := &Element{Role: RoleP}
	link := &Element{Role: RoleLink}
	p.y += 14
	m.Begin(para)
	p.words("Regular", 10, 72, "Report defects at ")
	m.End()
	m.Begin(link)
	p.words("Regular", 10, 160, "example.com")
	m.End()
	m.LinkOut(link, Box{160, p.y - 10, 60, 13}, "https://example.com/(defects)", "Web page for reporting defects")
	m.Begin(para)
	p.words("Regular", 10, 222, " as soon as you can. ")
	m.End()
	para.Children = []*Element{link}
	add(para)

	list := &Element{Role: RoleL, Numbering: "Disc"}
	for i := range 3 {
		p.y += 14
		label, body := &Element{Role: RoleLbl}, &Element{Role: RoleLBody}
		m.Begin(label)
		p.words("Regular", 10, 72, "• ")
		m.End()
		m.Begin(body)
		p.words("Regular", 10, 84, fmt.Sprintf("Item %d ", i+1))
		m.End()
		list.Children = append(list.Children, &Element{Role: RoleLI, Children: []*Element{label, body}})
	}
	add(list)

	m.Anchor(fmt.Sprintf("table-%d", c+1), p.y)
	m.Artifact(Layout)
	m.LineWidth(0.5)
	var rule Path
	rule.MoveTo(72, p.y+4)
	rule.LineTo(500, p.y+4)
	m.Draw(rule, 0, 0, Stroke)
	m.End()
	headRow := &Element{Role: RoleTR}
	p.y += 14
	for i, text := range []string{"Part ", "Torque ", "Interval "} {
		th := cell(RoleTH, ScopeColumn)
		m.Begin(th)
		p.words("Bold", 9, 72+float64(i)*120, text)
		m.End()
		headRow.Children = append(headRow.Children, th)
	}
	body := &Element{Role: RoleTBody}
	for r := range 5 {
		row := &Element{Role: RoleTR}
		p.y += 13
		for i := range 3 {
			td := cell(RoleTD, "")
			if i == 0 {
				td = cell(RoleTH, ScopeRow)
			}
			if i < 2 { // the last column stays empty
				m.Begin(td)
				p.words("Regular", 9, 72+float64(i)*120, fmt.Sprintf("%d ft-lb ", 100+r))
				m.End()
			}
			row.Children = append(row.Children, td)
		}
		body.Children = append(body.Children, row)
	}
	add(&Element{Role: RoleTable, Children: []*Element{{Role: RoleTHead, Children: []*Element{headRow}}, body}})

	add(p.figure(), p.block(RoleCaption, "Italic", 9, "Figure: the sign of danger "))
	note := p.block(RoleP, "Regular", 8, "1 Common practice, no source. ")
	add(note)
	return sect
}

// figure paints a drawing that needs what gopdf cannot do: caps, joins, holes, transformation.
func (p *painter) figure() *Element {
	m, top := p.Pages, p.y+10
	box := Box{72, top, 60, 60}
	figure := &Element{Role: RoleFigure, Alt: "A triangle with a hole – danger"}
	m.Frame(figure, box)
	m.Begin(figure)
	m.Save()
	var shape, stroke Path
	m.Round(true)
	m.FillColor(Color{255, 160, 0})
	m.LineWidth(2)
	shape.MoveTo(72, top+60)
	shape.LineTo(102, top)
	shape.LineTo(132, top+60)
	shape.Close()
	shape.Rectangle(Box{95, top + 30, 14, 20})
	m.Draw(shape, 0, 0, FillEvenOdd)
	m.Transform(math.Cos(0.1), math.Sin(0.1), -math.Sin(0.1), math.Cos(0.1), 10, -8)
	stroke.MoveTo(80, top+50)
	stroke.CurveTo(90, top+40, 110, top+60, 125, top+50)
	m.Draw(stroke, 0, 0, Stroke)
	m.Restore()
	m.End()
	p.y = top + 70
	return figure
}

// picture is a small photograph.
func picture() image.Image {
	img := image.NewRGBA(image.Rect(0, 0, 8, 8))
	for i := range 64 {
		img.Set(i%8, i/8, color.RGBA{uint8(i * 4), 100, 50, 255})
	}
	return img
}

// Path is an outline.
type Path []Step

func (p *Path) MoveTo(x, y float64) { *p = append(*p, Step{'m', [3]Point{2: {x, y}}}) }
func (p *Path) LineTo(x, y float64) { *p = append(*p, Step{'l', [3]Point{2: {x, y}}}) }
func (p *Path) Close()              { *p = append(*p, Step{Verb: 'h'}) }
func (p *Path) CurveTo(x1, y1, x2, y2, x, y float64) {
	*p = append(*p, Step{'c', [3]Point{{x1, y1}, {x2, y2}, {x, y}}})
}

// Rectangle adds a closed rectangle.
func (p *Path) Rectangle(b Box) {
	p.MoveTo(b.X, b.Y)
	p.LineTo(b.X+b.W, b.Y)
	p.LineTo(b.X+b.W, b.Y+b.H)
	p.LineTo(b.X, b.Y+b.H)
	p.Close()
}
