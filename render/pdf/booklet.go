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

// Folding says how a booklet is put together.
type Folding struct {
	Pages      int   // with words on them
	Signatures []int // sheets that are folded into one another, for each signature
}

// Booklet returns a guide as sheets to be printed on both sides, turned over the short edge, and folded: two pages of half the paper's
// size on each side, in the order of [impose]. The guide is set anew for the small page, in one column and with page numbers of its own.
// Between the pages of each front side stand the unit, the signature and the place of the sheet in it. The file is for the printer and not
// for the screen: it is untagged and has no links. Errors are those of [Render]; only Letter and A4 have booklets.
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
				p.Scaled(b.Pages[number-1].Items, paper.BookletScale, float64(i)*full.Height/2)
			}
		}
		if s.front {
			p.Items(collation(g, s, folding, full))
		}
	}
	out, err := p.Finish(d)
	return out, folding, err
}

// collationSize is the type of what stands in the fold, in points.
const collationSize = 5.5

// collation says in the fold which sheet this is, turned, so that it is found when sheets are sorted and not read with the pages.
func collation(g *doc.Guide, s side, f Folding, full paper.Format) []page.Item {
	text := fmt.Sprintf("%s %s · %d/%d · %d/%d", g.Serial, g.Revision, s.signature, len(f.Signatures), s.sheet, f.Signatures[s.signature-1])
	return []page.Item{&page.Text{
		Tag: page.Tag{Artifact: finish.Footer}, X: full.Height/2 + 2, Y: full.Width - 20, Words: typeset.Printable(text),
		Look: page.Look{Style: fonts.Regular, Size: collationSize}, Turn: 90,
	}}
}
