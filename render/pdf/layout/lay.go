package layout

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/page"
	"ownerguide/render/pdf/paginate"
	"ownerguide/render/pdf/paper"
	"ownerguide/render/pdf/typeset"
	"ownerguide/spec/parallel"
	"ownerguide/spec/source"
)

// Book is a guide laid out.
type Book struct {
	Pages      []*page.Page
	Root       *finish.Element
	Outline    []*finish.Outline
	Sections   []SectionPage
	Missing    []typeset.Missing
	Violations int     // number of rules on column breaks that were violated; see [paginate.Layout]
	White      float64 // fraction of the height of all columns that is unused at their feet, except where a page must end
}

// SectionPage is the page on which a section begins, counted from 1.
type SectionPage struct {
	ID   string
	Page int
}

// Lay lays a guide out on pages of a format. Each chapter is set once: space is reserved for page numbers in the text, which are filled
// in when the pages are known.
func Lay(g *doc.Guide, f paper.Format) (*Book, error) {
	sh, err := newShared(g, f)
	if err != nil {
		return nil, err
	}
	for sh.digits = 2; ; sh.digits++ {
		b, err := sh.lay()
		if err != nil || len(b.Pages) < int(math.Pow10(sh.digits)) {
			return b, err
		}
	}
}

// newShared collects what chapters need to know about the whole guide.
func newShared(g *doc.Guide, f paper.Format) (*shared, error) {
	sh := &shared{
		guide: g, format: f, anchors: map[string]bool{}, wanted: map[string]bool{}, sections: map[string]*doc.Section{},
	}
	blocks := map[string]bool{}
	for _, n := range g.Sections {
		if err := sh.findAnchors(n, source.Pos{}, blocks); err != nil {
			return nil, err
		}
	}
	for id := range sh.wanted {
		switch {
		case sh.sections[id] != nil:
			delete(sh.wanted, id)
		case blocks[id]:
			sh.anchors[id] = true
		}
	}
	sh.placeChapters()
	return sh, nil
}

// findAnchors finds the targets of links in a section: it, those in it, and the ids of blocks.
func (sh *shared) findAnchors(n *doc.Section, at source.Pos, blocks map[string]bool) error {
	if n.Origin != (source.Pos{}) {
		at = n.Origin
	}
	if n.ID == "" {
		return fmt.Errorf("%s: a section has no id", where(at))
	}
	if sh.sections[n.ID] != nil {
		return fmt.Errorf("%s: a second section has the id %q", where(at), n.ID)
	}
	sh.sections[n.ID], sh.anchors[n.ID] = n, true
	var names []string
	if n.Heading != nil {
		names = doc.Names(n.Heading)
	}
	for _, b := range n.Blocks {
		if below, ok := b.(*doc.Section); !ok {
			names = append(names, doc.Names(b)...)
		} else if err := sh.findAnchors(below, at, blocks); err != nil {
			return err
		}
	}
	for _, id := range names {
		if to, leads := strings.CutPrefix(id, "#"); leads {
			sh.wanted[to] = true
		} else {
			blocks[id] = true
		}
	}
	return nil
}

// placeChapters records the data of chapters for running heads and tabs, and which begin a page: the first of a part of the guide, and those that share no page.
func (sh *shared) placeChapters() {
	sections := sh.guide.Sections
	if i := slices.IndexFunc(sections, func(n *doc.Section) bool { return n.Part != "" }); i >= 0 {
		sh.firstPart = sections[i].Part
	}
	part := sh.firstPart
	alone := false // the previous chapter shares its last page with no other
	for _, n := range sections {
		own := sh.format.Card || n.Role == doc.RoleCover || n.Role == doc.RoleContents && n.Part == "" || n.Role == doc.RoleForm
		begins := n.Part != "" && n.Part != part
		if n.Part != "" {
			part = n.Part
		}
		sh.chapters = append(sh.chapters, &chapter{
			number: n.Number, title: cmp.Or(n.Short, title(n)), part: n.Part, later: n.Part != "" && n.Part != sh.firstPart, index: sh.numbered,
			cover: n.Role == doc.RoleCover, fresh: own || alone || begins,
		})
		if n.Number != "" { // the others have no tab
			sh.numbered++
		}
		alone = own
	}
}

// part is one chapter, set.
type part struct {
	*setter
	boxes    []*box
	elements []*finish.Element
}

// part sets one chapter. Chapters do not depend on each other, so their order does not matter.
func (sh *shared) part(n *doc.Section, c *chapter) part {
	s := &setter{shared: sh, Ruler: typeset.NewRuler(sh.digits), told: map[string]bool{}, chapter: n.ID}
	if !sh.format.Joined {
		s.seen = map[parallel.Digest]bool{}
	}
	above := &finish.Element{}
	boxes := s.section(n, s.outermost(above))
	if n.Role == doc.RoleContents && n.Part == "" && len(boxes) > 0 {
		// Whom to call and the contents are one page: a single line of them on the next page would be overlooked.
		for _, b := range boxes[1:] {
			b.keepAt(paginate.Break{Opening: ruleSingle, Leaf: ruleSingle})
		}
	}
	s.settle(boxes)
	for _, b := range boxes[:min(1, len(boxes))] {
		b.newPage = b.newPage || c.fresh
	}
	return part{s, marked(n, boxes), above.Children}
}

// settle makes the items of boxes final, except where page numbers are to be filled in.
func (s *setter) settle(boxes []*box) {
	for _, b := range boxes {
		if !b.settled {
			b.items, b.open = s.Settle(b.items)
			b.settled = true
		}
	}
}

// lay lays the guide out, with the current number of digits.
func (sh *shared) lay() (*Book, error) {
	sh.common = sh.commonKey()
	parts := make([]part, len(sh.chapters))
	parallel.Each(len(parts), func(i int) { parts[i] = sh.part(sh.guide.Sections[i], sh.chapters[i]) })
	book := &Book{Root: &finish.Element{Role: finish.RoleDocument}}
	s := &setter{shared: sh, Ruler: typeset.NewRuler(sh.digits)} // for what surrounds the text
	var boxes []*box
	for _, p := range parts {
		if p.fault != nil {
			return nil, p.fault
		}
		boxes = append(slices.Grow(boxes, len(p.boxes)), p.boxes...)
		book.Root.Children = append(book.Root.Children, p.elements...)
		for _, m := range p.Missing {
			s.Note(m)
		}
	}
	if len(boxes) == 0 {
		return nil, errors.New("the guide is empty")
	}
	placed, white, err := sh.paginate(boxes)
	if err != nil {
		return nil, err
	}
	res := &typeset.PageNumbers{Of: map[string]int{}, Ruler: s.Ruler}
	for i, b := range boxes {
		for _, id := range b.anchors {
			res.Of[id] = placed.Places[i].Page
		}
	}
	s.place(book, boxes, placed, res, sh.chaptersOf(parts, placed))
	book.Outline, book.Sections = s.outline(sh.guide.Sections, res)
	book.Missing, book.Violations, book.White = s.Missing, placed.Violations, white
	return book, s.fault
}

// paginate distributes boxes to pages, and returns the fraction of the columns that is unused.
func (sh *shared) paginate(boxes []*box) (out paginate.Layout, white float64, err error) {
	blocks := make([]paginate.Block, len(boxes))
	for i, b := range boxes {
		blocks[i] = paginate.Block{
			Height: paginate.Points(b.height), Before: paginate.Points(b.before), After: paginate.Points(b.after),
			Snap: !b.free, Span: b.span, NewPage: b.newPage, Break: b.ends,
		}
		if b.repeat != nil {
			blocks[i].Repeat = paginate.Points(b.repeat.height)
		}
	}
	grid := paginate.Grid{Columns: sh.format.Columns, Height: paginate.Points(sh.format.TextHeight), Snap: paginate.Points(snap)}
	out, err = paginate.Paginate(blocks, grid)
	if tall := (paginate.TooTall{}); errors.As(err, &tall) {
		return out, 0, fmt.Errorf("lay out: %s is %.0f points tall, but a page holds %.0f", boxes[tall.Block].name, tall.Height.Points(), tall.Page.Points())
	}
	if err != nil {
		return out, 0, err
	}
	for _, f := range out.Feet(blocks, grid) {
		if !f.Forced {
			white += f.White.Points()
		}
	}
	return out, white / sh.format.TextHeight / float64(sh.format.Columns*out.Pages), nil
}

// place puts the items of boxes on pages, with what surrounds them.
func (s *setter) place(book *Book, boxes []*box, placed paginate.Layout, numbers *typeset.PageNumbers, chapters [][]*chapter) {
	groups := make([]page.Group, 0, len(boxes)+len(numbers.Of)+4*placed.Pages) // of all pages
	put := func(items []page.Item, open *typeset.Open, x, y float64) {
		if open != nil {
			items = open.Fill(numbers)
		}
		groups = append(groups, page.Group{Items: items, X: x, Y: y})
	}
	var bars []changeBar // of the current column
	i := 0
	for n := range placed.Pages {
		begins := len(groups)
		for ; i < len(boxes) && placed.Places[i].Page == n+1; i++ {
			b, p := boxes[i], placed.Places[i]
			x, y := s.format.TextLeft(p.Page)+float64(p.Column)*(s.format.ColumnWidth+paper.Gutter), s.format.Top+p.Top.Points()
			if p.Repeated {
				put(b.repeat.items, b.repeat.open, x, y-b.repeat.height)
			}
			for _, id := range b.anchors {
				put([]page.Item{&page.Anchor{Name: id}}, nil, x, y)
			}
			put(b.items, b.open, x, y)
			if b.bar > 0 {
				bars = append(bars, changeBar{y, b.bar})
			}
			if i == len(boxes)-1 || p.Page != placed.Places[i+1].Page || p.Column != placed.Places[i+1].Column {
				put(changeBars(bars, x), nil, 0, 0)
				bars = bars[:0]
			}
		}
		put(s.furniture(n+1, placed.Pages, chapters[n]), nil, 0, 0)
		book.Pages = append(book.Pages, &page.Page{Number: n + 1, Groups: groups[begins:len(groups):len(groups)]})
	}
}

// chaptersOf returns for each page the chapters that begin on it or, if none does, the one it is in.
func (sh *shared) chaptersOf(parts []part, placed paginate.Layout) [][]*chapter {
	out := make([][]*chapter, placed.Pages)
	at := 0
	for i, p := range parts {
		on := placed.Places[at].Page - 1
		out[on] = append(out[on], sh.chapters[i])
		at += len(p.boxes)
	}
	current := []*chapter{{cover: true}}
	for page := range out {
		if len(out[page]) == 0 {
			out[page] = current
		}
		current = out[page][len(out[page])-1:]
	}
	return out
}

// outline returns the bookmarks and pages of sections.
func (s *setter) outline(sections []*doc.Section, p *typeset.PageNumbers) (marks []*finish.Outline, list []SectionPage) {
	for _, n := range sections {
		at := n.Attributes.Origin
		text := s.Clean(title(n), at)
		if n.Number != "" {
			text = s.Clean(n.Number, at) + " " + text
		}
		var parts []*doc.Section
		for _, b := range n.Blocks {
			if sec, ok := b.(*doc.Section); ok {
				parts = append(parts, sec)
			}
		}
		below, more := s.outline(parts, p)
		marks = append(marks, &finish.Outline{Title: text, Anchor: n.ID, Children: below})
		list = append(append(list, SectionPage{n.ID, p.Of[n.ID]}), more...)
	}
	return marks, list
}
