package pdf

import (
	"fmt"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/fonts"
	"ownerguide/render/pdf/layout"
	"ownerguide/render/pdf/page"
	"ownerguide/render/pdf/paint"
	"ownerguide/render/pdf/paper"
	"ownerguide/render/pdf/typeset"
)

// Folding is how a booklet is folded.
type Folding struct {
	Pages      int   // pages with text
	Signatures []int // number of sheets in each signature
}

// Booklet returns a guide as sheets to be printed on both sides, turned over the short edge, and folded: two pages of half the paper's
// size on each side, in the order of [impose]. The guide is laid out again for the small page, in one column and with its own page numbers.
// In the fold of each front side are the unit, the signature and the number of the sheet. The file is for printing only: it is untagged
// and has no links. Errors are those of [Render]; only Letter and A4 have booklets.
func Booklet(g *doc.Guide, opt Options) ([]byte, Folding, error) {
	full, ok := opt.Paper.Format()
	if !ok || full.Card {
		return nil, Folding{}, fmt.Errorf("no booklet on paper %q, expected %s or %s", opt.Paper, Letter, A4)
	}
	b, err := layout.Lay(g, full.Booklet())
	if err != nil {
		return nil, Folding{}, fmt.Errorf("the booklet: %w", err)
	}
	d, err := document(g)
	if err != nil {
		return nil, Folding{}, err
	}
	p := paint.New(full.Height, full.Width)
	folding := Folding{len(b.Pages), signatures(len(b.Pages))}
	for _, s := range impose(len(b.Pages)) {
		p.Blank()
		for i, number := range [...]int{s.left, s.right} {
			if number > 0 {
				p.Scaled(b.Pages[number-1], paper.BookletScale, float64(i)*full.Height/2)
			}
		}
		if s.front {
			p.Items(collation(g, s, folding, full))
		}
	}
	out, err := p.Finish(d)
	return out, folding, err
}

// collationSize is the type size of the text in the fold, in points.
const collationSize = 5.5

// collation returns the text in the fold that identifies the sheet, rotated so that it helps sorting but is not read as part of the pages.
func collation(g *doc.Guide, s side, f Folding, full paper.Format) []page.Item {
	text := fmt.Sprintf("%s %s · %d/%d · %d/%d", g.Serial, g.Revision, s.signature, len(f.Signatures), s.sheet, f.Signatures[s.signature-1])
	return []page.Item{&page.Text{
		Tag: page.Tag{Artifact: finish.Footer}, X: full.Height/2 + 2, Y: full.Width - 20, Words: typeset.Printable(text),
		Look: page.Look{Style: fonts.Regular, Size: collationSize}, Turn: 90,
	}}
}
