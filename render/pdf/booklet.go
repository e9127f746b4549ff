package pdf

import (
	"fmt"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/fonts"
	"ownerguide/spec/source"
)

// Folding says how a booklet is put together.
type Folding struct {
	Pages      int   // with words on them
	Signatures []int // sheets that are folded into one another, for each signature
}

// bookletScale is the size at which the pages of a booklet are printed: they are set with the type of a guide on a page that is
// larger than half a sheet by that, so that running text is 9 points high. Project's judgement: the least to be read in a cab.
const bookletScale = 0.86

// Booklet returns a guide as sheets to be printed on both sides, turned over the short edge, and folded: two pages of half the paper's
// size on each side, in the order of [impose]. The guide is set anew for the small page, with page numbers of its own. Between the
// pages of each front side stand the unit, the signature and the place of the sheet in it. The file is for the printer and not
// for the screen: it is untagged and has no links. Errors are those of [Render]; only Letter and A4 have booklets.
func Booklet(g *doc.Guide, opt Options) ([]byte, Folding, error) {
	full, ok := opt.Paper.sheet()
	if !ok || full.card {
		return nil, Folding{}, fmt.Errorf("no booklet on paper %q, expected %s or %s", opt.Paper, Letter, A4)
	}
	small := sheet{
		width: full.height / 2 / bookletScale, height: full.width / bookletScale,
		inside: 54, outside: 44, top: 60, bottom: 60,
	}
	b, err := lay(g, small)
	if err != nil {
		return nil, Folding{}, fmt.Errorf("lay out the booklet: %w", err)
	}
	d, err := document(g)
	if err != nil {
		return nil, Folding{}, err
	}
	p, err := newPainter(full.height, full.width)
	if err != nil {
		return nil, Folding{}, err
	}
	folding := Folding{len(b.pages), signatures(len(b.pages))}
	for _, s := range impose(len(b.pages)) {
		p.blank()
		for i, number := range [...]int{s.left, s.right} {
			if number > 0 {
				p.half(b.pages[number-1], float64(i)*full.height/2)
			}
		}
		if s.front {
			p.items(collation(g, s, folding, full))
		}
		if p.err != nil {
			return nil, Folding{}, fmt.Errorf("paint the booklet: %w", p.err)
		}
	}
	out, err := p.finish(d)
	return out, folding, err
}

// half paints a page as one half of a sheet, its left edge at x.
func (p *painter) half(pg *page, x float64) {
	p.marks.Save()
	p.marks.Transform(bookletScale, 0, 0, bookletScale, x, 0)
	p.items(silent(pg.items))
	p.marks.Restore()
}

// collation says in the fold which sheet this is, turned, so that it is found when sheets are sorted and not read with the pages.
func collation(g *doc.Guide, s side, f Folding, full sheet) []item {
	text := fmt.Sprintf("%s %s · %d/%d · %d/%d", g.Serial, g.Revision, s.signature, len(f.Signatures), s.sheet, f.Signatures[s.signature-1])
	l := &layout{guide: g, seen: map[Missing]bool{}}
	lk := look{fonts.Regular, 5.5, dim}
	return []item{&run{tag: tag{artifact: finish.Footer}, x: full.height/2 + 2, y: full.width - 20, text: l.clean(text, source.Pos{}), look: lk, turn: 90}}
}
