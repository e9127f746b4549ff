package layout

import (
	"cmp"
	"crypto/sha256"
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
	Sections   map[string]int // the page each section begins on, from 1
	Missing    []typeset.Missing
	Violations int     // number of rules on column breaks that were violated; see [paginate.Layout]
	White      float64 // fraction of the height of all columns that is unused at their feet, except where a page must end
}

// Chapters are the chapters of a guide, set and not yet on pages.
type Chapters struct {
	*shared
	parts []part
}

// Set sets the chapters of a guide for a format, several at a time while processors are idle; little of what [Chapters.Lay] does can be
// done at the same time. Space is reserved for page numbers in the text, which are filled in when the pages are known.
func Set(g *doc.Guide, f paper.Format) (*Chapters, error) {
	sh, err := newShared(g, f)
	if err != nil {
		return nil, err
	}
	return sh.set(2), nil
}

// Lay lays the chapters out on pages.
func (c *Chapters) Lay() (*Book, error) {
	for {
		b, err := c.lay()
		if err != nil || len(b.Pages) < int(math.Pow10(c.digits)) {
			return b, err
		}
		c = c.set(c.digits + 1)
	}
}

// Lay sets a guide and lays it out on pages of a format.
func Lay(g *doc.Guide, f paper.Format) (*Book, error) {
	c, err := Set(g, f)
	if err != nil {
		return nil, err
	}
	return c.Lay()
}

// newShared collects what chapters need to know about the whole guide.
func newShared(g *doc.Guide, f paper.Format) (*shared, error) {
	sh := &shared{guide: g, format: f, wanted: map[string]bool{}, sections: map[string]*section{}}
	for _, n := range g.Sections {
		if _, err := sh.read(n, source.Pos{}); err != nil {
			return nil, err
		}
	}
	for _, id := range sh.names {
		if to, leads := strings.CutPrefix(id, "#"); leads && sh.sections[to] == nil {
			sh.wanted[to] = false
		}
	}
	for _, id := range sh.names {
		if _, wanted := sh.wanted[id]; wanted {
			sh.wanted[id] = true
		}
	}
	sh.placeChapters()
	return sh, nil
}

// read finds the sections in one, what they name, and what identifies them.
func (sh *shared) read(n *doc.Section, at source.Pos) (*section, error) {
	if n.Origin != (source.Pos{}) {
		at = n.Origin
	}
	if n.ID == "" {
		return nil, fmt.Errorf("%s: a section has no id", where(at))
	}
	if sh.sections[n.ID] != nil {
		return nil, fmt.Errorf("%s: a second section has the id %q", where(at), n.ID)
	}
	sec, before := &section{Section: n}, len(sh.names)
	sh.sections[n.ID] = sec
	shell := *n
	shell.Blocks = nil
	own := doc.Key(&shell)
	content := append(make([]byte, 0, len(own)*(len(n.Blocks)+1)), own[:]...)
	if n.Role == doc.RoleCover { // the only one with words from outside
		content = fmt.Appendf(content, "%q", []string{sh.guide.Serial, sh.guide.Revision, sh.guide.IssuedOn, sh.guide.Maker, sh.guide.Model})
	}
	if n.Heading != nil {
		sh.names = append(sh.names, doc.Names(n.Heading)...)
	}
	for _, b := range n.Blocks {
		var key parallel.Digest
		if below, ok := b.(*doc.Section); !ok {
			key, sh.names = doc.Key(b), append(sh.names, doc.Names(b)...)
		} else if in, err := sh.read(below, at); err != nil {
			return nil, err
		} else {
			key = in.key
		}
		content = append(content, key[:]...)
	}
	sec.key, sec.names = sha256.Sum256(content), sh.names[before:]
	return sec, nil
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
	*setBlock
}

// part sets one chapter. Chapters do not depend on each other, so their order does not matter.
func (sh *shared) part(n *doc.Section, c *chapter) part {
	s := &setter{shared: sh, Ruler: typeset.NewRuler(sh.digits), told: map[string]bool{}}
	st := s.outermost(&finish.Element{})
	st.fresh = c.fresh
	var b *setBlock
	if !sh.format.Joined {
		s.seen = map[parallel.Digest]bool{}
		in := sh.sections[n.ID]
		b = s.find(in.key, in.names, st, func(own *setter, st setting) []*box { return own.chapter(n, st) })
	}
	if b == nil {
		b = s.made(s.chapter(n, st), st.parent)
	}
	b.once.Do(b.measure)
	return part{s, b}
}

// set sets the chapters with room for page numbers of some digits.
func (sh *shared) set(digits int) *Chapters {
	sh.digits = digits
	sh.common = sh.commonKey()
	c := &Chapters{sh, make([]part, len(sh.chapters))}
	parallel.Each(len(c.parts), func(i int) { c.parts[i] = sh.part(sh.guide.Sections[i], sh.chapters[i]) })
	return c
}

// lay lays the chapters out as they are set.
func (c *Chapters) lay() (*Book, error) {
	sh, parts := c.shared, c.parts
	if len(parts) == 0 {
		return nil, errors.New("the guide is empty")
	}
	book := &Book{Root: &finish.Element{Role: finish.RoleDocument}}
	s := &setter{shared: sh, Ruler: typeset.NewRuler(sh.digits)} // for what surrounds the text
	for _, p := range parts {
		if p.fault != nil {
			return nil, p.fault
		}
		book.Root.Children = append(book.Root.Children, p.elements...)
		for _, m := range p.Missing {
			s.Note(m)
		}
	}
	placed, err := sh.paginate(parts)
	if err != nil {
		return nil, err
	}
	numbers := &typeset.PageNumbers{Of: make(map[string]int, len(sh.sections)+len(sh.wanted)), Ruler: s.Ruler}
	places, rest := make([][]paginate.Place, len(parts)), placed.Places
	for i, p := range parts {
		places[i], rest = rest[:len(p.boxes)], rest[len(p.boxes):]
		for k, b := range p.boxes {
			for _, id := range b.anchors {
				numbers.Of[id] = places[i][k].Page
			}
		}
	}
	for n, chapters := range sh.chaptersOf(places, placed.Pages) {
		book.Pages = append(book.Pages, &page.Page{Number: n + 1, Around: s.furniture(n+1, placed.Pages, chapters)})
	}
	for i, p := range parts {
		for k, of := range p.place(places[i], numbers, sh.format) {
			on := book.Pages[places[i][0].Page-1+k]
			on.Parts = append(on.Parts, of)
		}
	}
	book.Outline, book.Sections = s.outline(sh.guide.Sections), numbers.Of
	book.Missing, book.Violations, book.White = s.Missing, placed.Violations, placed.White
	return book, s.fault
}

// layouts caches how blocks are shared out to pages: guides of one model differ in figures, and few of those change a height.
var layouts = parallel.Cache[sharedOut]{Most: 16}

type sharedOut struct {
	paginate.Layout
	err error
}

// paginate distributes boxes to pages.
func (sh *shared) paginate(parts []part) (paginate.Layout, error) {
	grid := paginate.Grid{Columns: sh.format.Columns, Height: paginate.Points(sh.format.TextHeight), Snap: paginate.Points(snap)}
	key := fmt.Append(nil, grid)
	for _, p := range parts {
		key = append(key, p.digest[:]...)
	}
	out := layouts.Get(sha256.Sum256(key), func() (out sharedOut) {
		var blocks []paginate.Block
		for _, p := range parts {
			blocks = append(blocks, p.run()...)
		}
		out.Layout, out.err = paginate.Paginate(blocks, grid)
		return out
	})
	if tall := (paginate.TooTall{}); errors.As(out.err, &tall) {
		for _, p := range parts {
			if tall.Block < len(p.boxes) {
				return out.Layout, fmt.Errorf("lay out: %s is %.0f points tall, but a page holds %.0f", p.boxes[tall.Block].name, tall.Height.Points(), tall.Page.Points())
			}
			tall.Block -= len(p.boxes)
		}
	}
	return out.Layout, out.err
}

// chaptersOf returns for each page the chapters that begin on it or, if none does, the one it is in.
func (sh *shared) chaptersOf(places [][]paginate.Place, pages int) [][]*chapter {
	out := make([][]*chapter, pages)
	for i, of := range places {
		on := of[0].Page - 1
		out[on] = append(out[on], sh.chapters[i])
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

// outline returns the bookmarks of sections.
func (s *setter) outline(sections []*doc.Section) (marks []*finish.Outline) {
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
		marks = append(marks, &finish.Outline{Title: text, Anchor: n.ID, Children: s.outline(parts)})
	}
	return marks
}
