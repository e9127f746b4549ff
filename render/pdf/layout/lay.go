package layout

import (
	"errors"
	"fmt"
	"math"
	"runtime"
	"slices"
	"strings"
	"sync/atomic"

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
		chapters: map[*doc.Section]*chapter{}, freshPage: map[*doc.Section]bool{}, leads: map[*doc.Section][]string{},
	}
	if err := sh.findAnchors(); err != nil {
		return nil, err
	}
	sh.placeChapters()
	return sh, nil
}

// findAnchors finds the targets of links.
func (sh *shared) findAnchors() error {
	blocks := map[string]bool{}
	origin := source.Pos{}
	var within *doc.Section // or chapter
	named := func(id string, in map[string]bool) {
		if id != "" {
			in[id] = true
			sh.leads[within] = append(sh.leads[within], id)
		}
	}
	for n := range doc.Walk(sh.guide.Sections) {
		if p, ok := n.(doc.Part); ok && p.Attr().Origin != (source.Pos{}) {
			origin = p.Attr().Origin
		}
		switch n := n.(type) {
		case *doc.Section:
			if n.ID == "" {
				return fmt.Errorf("%s: a section has no id", where(origin))
			}
			if sh.sections[n.ID] != nil {
				return fmt.Errorf("%s: a second section has the id %q", where(origin), n.ID)
			}
			sh.sections[n.ID], sh.anchors[n.ID] = n, true
			if n.Level <= 2 {
				within = n
			}
		case *doc.Caution:
			named(n.Full, sh.wanted)
			named(n.ID, blocks)
		case *doc.Contents:
			for _, e := range n.Entries {
				named(e.ID, sh.wanted)
			}
		case *doc.Link:
			if id, ok := strings.CutPrefix(n.To, "#"); ok {
				named(id, sh.wanted)
			}
		case doc.Block:
			named(n.Attr().ID, blocks)
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
	return nil
}

// placeChapters records the titles of chapters, and which begin a page: the first of a part of the guide, and those that share no page.
func (sh *shared) placeChapters() {
	sections := sh.guide.Sections
	if i := slices.IndexFunc(sections, func(n *doc.Section) bool { return n.Part != "" }); i >= 0 {
		sh.firstPart = sections[i].Part
	}
	part := sh.firstPart
	alone := false // the previous chapter shares its last page with no other
	for _, n := range sections {
		sh.chapterOf(n)
		own := sh.format.Card || n.Role == doc.RoleCover || n.Role == doc.RoleContents && n.Part == "" || n.Role == doc.RoleForm
		begins := n.Part != "" && n.Part != part
		if n.Part != "" {
			part = n.Part
		}
		sh.freshPage[n] = own || alone || begins
		alone = own
	}
}

// part is one chapter, set.
type part struct {
	*setter
	boxes    []*box
	elements []*finish.Element
}

// parts sets the chapters in parallel, on all processors. They do not depend on each other, so their order does not matter.
func (sh *shared) parts() ([]part, error) {
	parts := make([]part, len(sh.guide.Sections))
	var next atomic.Int64
	setters := make([]func() error, runtime.GOMAXPROCS(0))
	for k := range setters {
		setters[k] = func() error {
			ruler := typeset.NewRuler(sh.digits)
			for i := next.Add(1) - 1; i < int64(len(parts)); i = next.Add(1) - 1 {
				parts[i] = sh.part(sh.guide.Sections[i], ruler)
			}
			return nil
		}
	}
	if err := parallel.Do(setters...); err != nil {
		return nil, err
	}
	for _, p := range parts {
		if p.fault != nil {
			return nil, p.fault
		}
	}
	return parts, nil
}

// part sets one chapter.
func (sh *shared) part(n *doc.Section, r *typeset.Ruler) part {
	s := &setter{shared: sh, Ruler: r, told: map[string]bool{}}
	above := &finish.Element{}
	boxes := s.section(n, s.outermost(above))
	if n.Role == doc.RoleContents && n.Part == "" && len(boxes) > 0 {
		// Whom to call and the contents are one page: a single line of them on the next page would be overlooked.
		for _, b := range boxes[1:] {
			b.keepAt(paginate.Break{Opening: ruleSingle, Leaf: ruleSingle})
		}
	}
	s.settle(boxes)
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
	parts, err := sh.parts()
	if err != nil {
		return nil, err
	}
	book := &Book{Root: &finish.Element{Role: finish.RoleDocument}}
	s := &setter{shared: sh, Ruler: typeset.NewRuler(sh.digits)} // for what surrounds the text
	var boxes []*box
	for _, p := range parts {
		boxes = append(boxes, p.boxes...)
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
	sh.place(book, boxes, placed, res)
	chapters := chaptersOf(boxes, placed)
	for i, pg := range book.Pages {
		pg.Groups = append(pg.Groups, page.Group{Items: s.furniture(pg.Number, placed.Pages, chapters[i])})
	}
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

// place puts the items of boxes on pages.
func (sh *shared) place(book *Book, boxes []*box, placed paginate.Layout, numbers *typeset.PageNumbers) {
	for n := range placed.Pages {
		book.Pages = append(book.Pages, &page.Page{Number: n + 1})
	}
	put := func(pg *page.Page, items []page.Item, open *typeset.Open, x, y float64) {
		if open != nil {
			items = open.Fill(numbers)
		}
		pg.Groups = append(pg.Groups, page.Group{Items: items, X: x, Y: y})
	}
	var bars []changeBar // of the current column
	for i, b := range boxes {
		p := placed.Places[i]
		pg, x, y := book.Pages[p.Page-1], sh.columnLeft(p), sh.format.Top+p.Top.Points()
		if p.Repeated {
			put(pg, b.repeat.items, b.repeat.open, x, y-b.repeat.height)
		}
		for _, id := range b.anchors {
			put(pg, []page.Item{&page.Anchor{Name: id}}, nil, x, y)
		}
		put(pg, b.items, b.open, x, y)
		if b.bar > 0 {
			bars = append(bars, changeBar{y, b.bar})
		}
		if i == len(boxes)-1 || p.Page != placed.Places[i+1].Page || p.Column != placed.Places[i+1].Column {
			pg.Groups = append(pg.Groups, page.Group{Items: changeBars(bars, x)})
			bars = bars[:0]
		}
	}
}

// columnLeft returns the left edge of the column of a place.
func (sh *shared) columnLeft(p paginate.Place) float64 {
	return sh.format.TextLeft(p.Page) + float64(p.Column)*(sh.format.ColumnWidth+paper.Gutter)
}

// chaptersOf returns for each page the chapters that begin on it or, if none does, the one it is in.
func chaptersOf(boxes []*box, placed paginate.Layout) [][]*chapter {
	out := make([][]*chapter, placed.Pages)
	current := &chapter{cover: true}
	at := 0
	for page := range out {
		for ; at < len(boxes) && placed.Places[at].Page == page+1; at++ {
			if c := boxes[at].chapter; c != nil {
				out[page] = append(out[page], c)
				current = c
			}
		}
		if len(out[page]) == 0 {
			out[page] = []*chapter{current}
		}
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
