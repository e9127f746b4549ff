package pdf

import (
	"fmt"
	"strconv"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
)

const (
	contentsNumber = 26 // room for a chapter's number
	contentsIndent = 14 // of each level below
	contentsPage   = 34 // room for the page number
)

// contents sets the table of contents, each line a link, with the page numbers of the pass before. A long one has two columns.
func (l *layout) contents(n *doc.Contents, s setting) ([]*slab, error) {
	if len(n.Entries) == 0 {
		return nil, nil
	}
	toc := s.element(finish.RoleTOC)
	if len(n.Entries) <= manyEntries || !s.outer {
		return l.contentsLines(n, s, toc, s.left, s.width, 7)
	}
	width := (l.sheet.text() - contentsGutter) / 2
	// set sets all lines anew, by so many steps tighter.
	set := func(tighter float64) ([]*slab, error) {
		toc.Children = nil
		t := s
		t.text, t.leading = s.text.sized(s.small.size-0.25*tighter), s.smallLeading-0.4*tighter
		t.small, t.smallLeading = s.small.sized(s.note.size-0.25*tighter), noteLeading-1.5-0.4*tighter
		lines, err := l.contentsLines(n, t, toc, 0, width, 5-0.5*tighter)
		if err != nil {
			return nil, err
		}
		return inColumns(lines, l.sheet)
	}
	out, err := set(0)
	if err != nil || len(out) < 2 || out[len(out)-1].height > nearlyEmptyContents*l.sheet.room() {
		return out, err
	}
	for tighter := 1.0; tighter <= tightestContents; tighter++ {
		if again, err := set(tighter); err == nil && len(again) < len(out) {
			return again, nil
		}
	}
	return set(0)
}

// contentsLines sets a line for each entry; above is the space before a chapter.
func (l *layout) contentsLines(n *doc.Contents, s setting, toc *finish.Element, left, width, above float64) ([]*slab, error) {
	s.parent = toc
	var out []*slab
	for _, entry := range n.Entries {
		sl, err := l.contentsEntry(n, entry, s, left, width)
		if err != nil {
			return nil, err
		}
		if entry.Level <= 1 && len(out) > 0 {
			sl.above = above
		} else if len(out) > 0 && n.Entries[len(out)-1].Level <= 1 {
			out[len(out)-1].after = wrong // a chapter stays with its first part
		}
		out = append(out, sl)
	}
	return out, nil
}

const (
	manyEntries    = 40
	contentsGutter = 24
	contentsTop    = 58 // what the heading of the contents takes of their first page
)

// Long contents whose last page would hold next to nothing are set a little tighter, if that saves the page.
const (
	nearlyEmptyContents = 0.4 // share of the page
	tightestContents    = 4   // steps; parts are 8 points high then
)

// inColumns sets slabs in two columns, one slab a page. The columns of the last page are about as tall as each other.
func inColumns(slabs []*slab, sh sheet) ([]*slab, error) {
	var out []*slab
	room := sh.room()
	height := room - contentsTop
	for len(slabs) > 0 {
		columns, err := press{room: height, loose: 1}.share(slabs)
		if err != nil {
			return nil, err
		}
		for low := 0.0; len(columns) <= 2 && height-low > 1; {
			mid := (low + height) / 2
			if again, err := (press{room: mid, loose: 1}).share(slabs); err == nil && len(again) <= 2 {
				columns, height = again, mid
			} else {
				low = mid
			}
		}
		s := &slab{name: slabs[0].name}
		for i, c := range columns[:min(len(columns), 2)] {
			for k, sl := range c.slabs {
				s.items = append(s.items, shift(sl.items, float64(i)*(sh.text()+contentsGutter)/2, c.tops[k])...)
			}
			s.height = max(s.height, c.full)
			slabs = slabs[len(c.slabs):]
		}
		s.fresh = len(out) > 0
		out = append(out, s)
		height = room
	}
	return out, nil
}

// contentsEntry sets one line: number, title, dots, page. All of it is one link, and what is read aloud says the page too.
func (l *layout) contentsEntry(n *doc.Contents, entry doc.Entry, s setting, left, width float64) (*slab, error) {
	if !l.anchors[entry.ID] {
		return nil, fmt.Errorf("%s: the contents list %q, but no part of this guide has that id", s.where(), entry.ID)
	}
	item := s.element(finish.RoleTOCI)
	link := &finish.Element{Role: finish.RoleLink}
	item.Children = []*finish.Element{link}

	lk, leading := s.text, s.leading
	indent := float64(contentsNumber)
	if entry.Level <= 1 {
		lk = lk.bold()
	} else {
		lk, leading = s.small, s.smallLeading+1
		indent += contentsIndent * float64(entry.Level-2)
	}
	out := &slab{name: "contents at " + s.where()}
	ts := textStyle{leading: leading, element: link}
	if entry.Number != "" {
		number := l.set([]piece{{text: l.clean(entry.Number, s.origin), look: lk}}, contentsNumber, ts)
		for _, ln := range number[:min(len(number), 1)] {
			out.items = append(out.items, shift(ln.items, left+indent-contentsNumber, 0)...)
		}
	} else if entry.Level <= 1 {
		indent = 0
	}
	page := strconv.Itoa(l.pageOf(entry.ID))
	title := l.clean(entry.Title, s.origin)
	lines := l.set([]piece{{text: title, look: lk}}, width-indent-contentsPage, ts)
	end := 0.0
	for _, ln := range lines {
		out.items = append(out.items, shift(ln.items, left+indent, out.height)...)
		out.height += leading
		end = ln.width
	}
	if len(lines) == 0 {
		out.height = leading
	}
	baseline := out.height - leading + lk.baseline(leading)
	w := l.ruler.width(lk, page)
	if from, until := left+indent+end+6, left+width-w-6; until > from {
		dots := rule(tag{}, from, baseline-0.6, until, baseline-0.6, 0.7, middle)
		dots.dash, dots.round = []float64{0, 4}, true
		out.items = append(out.items, dots)
	}
	out.items = append(out.items,
		&run{tag: tag{element: link}, x: left + width - w, y: baseline, text: page + " ", look: lk},
		&area{link, finish.Box{X: left, Y: 0, W: width, H: out.height}, "#" + entry.ID, title + ", " + l.word("see-page", "n", page)})
	return out, nil
}
