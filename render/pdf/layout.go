package pdf

import (
	"fmt"
	"maps"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
)

// maxPasses is how often the guide is laid out until its page numbers agree with themselves. Two do nearly always: the numbers
// of the first are wrong but about as wide.
const maxPasses = 4

// layout is what all passes over one guide share, and what one pass finds out.
type layout struct {
	guide    *doc.Guide
	sheet    sheet
	rulers   []*ruler                  // one for each section that is set at the same time
	anchors  map[string]bool           // every id a link can lead to
	wanted   map[string]bool           // ids of blocks that links lead to
	chapters map[*doc.Section]*chapter // chapters by their section
	numbered int                       // how many of them have numbers
	pages    map[string]int            // page of each anchor in the pass before; nil in the first

	// of this pass, and of one outermost section until they are put together
	ruler        *ruler
	missing      []Missing
	seen         map[Missing]bool
	coverPicture float64 // height of the cover's picture
	kin          family  // the tables set last, if they go together
	fault        error   // first error met where none can be returned
}

// book is a guide laid out.
type book struct {
	pages    []*page
	root     *finish.Element
	outline  []*finish.Outline
	sections []SectionPage
	missing  []Missing
}

// guessedPage stands for page numbers in the first pass; most guides have two digits.
const guessedPage = 88

// pageOf is the page of an anchor as far as it is known.
func (l *layout) pageOf(id string) int {
	if n, ok := l.pages[id]; ok {
		return n
	}
	return guessedPage
}

// newLayout collects what the passes need to know about the whole guide.
func newLayout(g *doc.Guide, sh sheet) (*layout, error) {
	l := &layout{
		guide: g, sheet: sh,
		anchors: map[string]bool{}, wanted: map[string]bool{}, chapters: map[*doc.Section]*chapter{},
	}
	for range runtime.GOMAXPROCS(0) {
		l.rulers = append(l.rulers, &ruler{known: map[measured]float64{}})
	}
	l.ruler = l.rulers[0]
	l.sheet.bottom += noticeRoom(l.notice())
	blocks := map[string]bool{} // ids of what else a link may lead to
	for n := range doc.Walk(g.Sections) {
		switch n := n.(type) {
		case *doc.Section:
			if n.ID == "" {
				return nil, fmt.Errorf("%s: a section has no id", where(n.Origin))
			}
			if l.anchors[n.ID] {
				return nil, fmt.Errorf("%s: a second section has the id %q", where(n.Origin), n.ID)
			}
			l.anchors[n.ID] = true
			if n.Level <= 1 {
				l.chapter(n)
			}
		case *doc.Link:
			if id, ok := strings.CutPrefix(n.To, "#"); ok {
				l.wanted[id] = true
			}
		case doc.Block:
			if id := n.Attr().ID; id != "" {
				blocks[id] = true
			}
		}
	}
	for id := range l.wanted {
		switch {
		case l.anchors[id]:
			delete(l.wanted, id)
		case blocks[id]:
			l.anchors[id] = true
		}
	}
	return l, nil
}

// chapter notes what running heads and tabs say of a chapter. Chapters without number have no tab.
func (l *layout) chapter(n *doc.Section) {
	c := &chapter{number: n.Number, title: n.Short, index: l.numbered, cover: n.Role == doc.RoleCover}
	c.alone = c.cover || n.Role == doc.RoleContents || n.Role == doc.RoleForm || l.sheet.card
	if c.title == "" {
		c.title = title(n)
	}
	if n.Number != "" {
		l.numbered++
	}
	l.chapters[n] = c
}

// title is the text of a section's heading.
func title(n *doc.Section) string {
	if n.Heading != nil {
		return doc.PlainText(n.Heading)
	}
	return n.Short
}

// lay lays the guide out until the page numbers in it are those of its pages.
func lay(g *doc.Guide, sh sheet) (*book, error) {
	l, err := newLayout(g, sh)
	if err != nil {
		return nil, err
	}
	for range maxPasses {
		b, pages, err := l.pass()
		if err != nil {
			return nil, err
		}
		if maps.Equal(pages, l.pages) {
			return b, nil
		}
		l.pages = pages
	}
	return nil, fmt.Errorf("the page numbers still change after %d passes", maxPasses)
}

// pass lays the guide out once and tells the page of each anchor.
func (l *layout) pass() (*book, map[string]int, error) {
	l.missing, l.seen, l.fault = nil, map[Missing]bool{}, nil
	parts, err := l.parts()
	if err != nil {
		return nil, nil, err
	}
	root := &finish.Element{Role: finish.RoleDocument}
	var slabs []*slab
	for _, p := range parts {
		slabs = append(slabs, p.slabs...)
		root.Children = append(root.Children, p.elements...)
		for _, m := range p.missing {
			l.miss(m)
		}
		if l.fault == nil {
			l.fault = p.fault
		}
	}
	if len(slabs) == 0 {
		return nil, nil, fmt.Errorf("the guide is empty")
	}
	shared, err := paginate(slabs, l.sheet.room())
	if err != nil {
		return nil, nil, err
	}
	b := &book{root: root}
	pages := map[string]int{}
	for i, p := range shared {
		pg := l.page(i+1, p)
		for _, it := range pg.items {
			if a, ok := it.(*anchor); ok {
				pages[a.name] = pg.number
			}
		}
		pg.items = append(pg.items, l.margins(pg.number, len(shared), p)...)
		b.pages = append(b.pages, pg)
	}
	b.outline, b.sections = outline(l, l.guide.Sections, pages)
	prune(root, b.pages)
	b.missing = l.missing
	return b, pages, l.fault
}

// part is an outermost section set on its own.
type part struct {
	slabs    []*slab
	elements []*finish.Element
	missing  []Missing
	fault    error // first error met where none can be returned
	err      error
}

// parts sets the outermost sections, as many at the same time as there are rulers. None looks at another, so that their order does not
// matter.
func (l *layout) parts() ([]part, error) {
	sections := l.guide.Sections
	parts := make([]part, len(sections))
	var next atomic.Int64
	var setting sync.WaitGroup
	for _, r := range l.rulers {
		setting.Go(func() {
			for i := next.Add(1) - 1; i < int64(len(sections)); i = next.Add(1) - 1 {
				parts[i] = l.part(sections[i], r)
			}
		})
	}
	setting.Wait()
	for _, p := range parts {
		if p.err != nil {
			return nil, p.err
		}
	}
	return parts, nil
}

// part sets one outermost section.
func (l *layout) part(s *doc.Section, r *ruler) part {
	own := *l
	own.ruler, own.seen = r, map[Missing]bool{}
	above := &finish.Element{}
	slabs, err := own.section(s, own.outermost(above))
	return part{marked(s, slabs), above.Children, own.missing, own.fault, err}
}

// page places slabs on a page.
func (l *layout) page(number int, p placed) *page {
	pg := &page{number: number}
	left := l.sheet.left(number)
	if p.head != nil {
		pg.items = append(pg.items, shift(p.head.items, left, l.sheet.top)...)
	}
	for i, s := range p.slabs {
		pg.items = append(pg.items, shift(s.items, left, l.sheet.top+p.tops[i])...)
	}
	pg.items = l.bars(number, pg.items)
	return pg
}

// outline makes the bookmarks and the list of pages from sections.
func outline[B doc.Block](l *layout, list []B, pages map[string]int) (marks []*finish.Outline, sections []SectionPage) {
	for _, n := range list {
		s, ok := doc.Block(n).(*doc.Section)
		if !ok {
			continue
		}
		text := l.clean(title(s), s.Origin)
		if s.Number != "" {
			text = l.clean(s.Number, s.Origin) + " " + text
		}
		below, parts := outline(l, s.Blocks, pages)
		marks = append(marks, &finish.Outline{Title: text, Anchor: s.ID, Children: below})
		sections = append(append(sections, SectionPage{s.ID, pages[s.ID]}), parts...)
	}
	return marks, sections
}

// prune takes elements without content out of the tree: what was empty in the document is not there for who hears it. Cells stay
// if their table has any content, because their place in the row counts.
func prune(root *finish.Element, pages []*page) {
	used := map[*finish.Element]bool{}
	for _, p := range pages {
		for _, it := range p.items {
			switch it := it.(type) {
			case *run:
				used[it.element] = true
			case *shape:
				used[it.element] = true
			case *dots:
				used[it.element] = true
			}
		}
	}
	keep(root, used)
}

// keep drops children without content and tells whether the element has any itself.
func keep(e *finish.Element, used map[*finish.Element]bool) bool {
	content := used[e]
	var kept []*finish.Element
	for _, c := range e.Children {
		full := keep(c, used)
		content = content || full
		if full || c.Role == finish.RoleTD || c.Role == finish.RoleTH || c.Role == finish.RoleTR {
			kept = append(kept, c)
		}
	}
	e.Children = kept
	return content
}
