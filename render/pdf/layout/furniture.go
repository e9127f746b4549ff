package layout

import (
	"cmp"
	"strconv"
	"strings"

	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/page"
	"ownerguide/render/pdf/paper"
	"ownerguide/render/pdf/typeset"
	"ownerguide/spec/source"
)

// Positions of running heads and feet, relative to the text area, and of the tab at the outer edge.
const (
	headAbove   = 19.2 // baseline of the head above the text area
	footBelow   = 21.3 // baseline of the foot below it
	noticeBelow = 3    // baseline of the maker's notice on the first page
	noticeLead  = 10
	tabHigh     = 30
	tabPitch    = 36
	tabBorder   = 1.5 // of a tab of a later part
	tabClear    = 15  // distance of the ink of a tab from the trimmed edge: printers leave the edge blank
	draftTop    = 12  // top of the mark of a draft, from the top of the paper
	draftHigh   = 12
	draftPad    = 6
)

// furniture returns what surrounds the text of a page: the title of the chapter above, unit, revision and page number below, and at the
// outer edge the tab of each chapter that begins on it, or of the one it is in, each lower than the previous one.
func (s *setter) furniture(number, total int, chapters []*chapter) []page.Item {
	var items []page.Item
	if c := chapters[len(chapters)-1]; number > 2 && !c.cover && !s.format.Card {
		items = s.runningHead(number, c)
	}
	items = append(append(items, s.foot(number, total)...), s.draftMark(s.format.TextLeft(number))...)
	if !s.format.Card {
		for _, c := range chapters {
			if c.number != "" {
				items = append(items, s.tab(number, c)...)
			}
		}
	}
	return items
}

// line returns a line of furniture that begins or ends at x; nothing if there is no text.
func (s *setter) line(t page.Text, endsThere bool) []page.Item {
	if t.Words == "" {
		return nil
	}
	if endsThere {
		t.X -= s.Ruler.Width(t.Look, t.Words)
	}
	return []page.Item{&t}
}

// runningHead returns the running head: the chapter at the outer edge and the guide at the inner.
func (s *setter) runningHead(number int, c *chapter) []page.Item {
	f := s.format
	label := s.Clean(c.title, source.Pos{})
	if c.number != "" {
		label = s.Clean(c.number, source.Pos{}) + "  " + label
	}
	label = s.Shorten(caption.Bold(), label, f.TextWidth()*0.55)
	book := s.Shorten(caption, s.Clean(cmp.Or(c.part, s.guide.Title), source.Pos{}), f.TextWidth()-s.Ruler.Width(caption.Bold(), label)-24)
	odd := paper.IsOdd(number)
	outer, inner := f.TextLeft(number), f.TextLeft(number)+f.TextWidth()
	if odd {
		outer, inner = inner, outer
	}
	tag, y := page.Tag{Artifact: finish.Header}, f.Top-headAbove
	return append(s.line(page.Text{Tag: tag, X: outer, Y: y, Words: label, Look: caption.Bold()}, odd), s.line(page.Text{Tag: tag, X: inner, Y: y, Words: book, Look: caption}, !odd)...)
}

// foot returns the running foot: unit and revision at the inner edge, the page number at the outer, and on the first page the maker's notice above.
func (s *setter) foot(number, total int) (items []page.Item) {
	f := s.format
	left := f.TextLeft(number)
	right := left + f.TextWidth()
	y := f.Top + f.TextHeight + footBelow
	tag := page.Tag{Artifact: finish.Footer}
	if number == 1 || f.Card {
		notice := s.notice()
		for i, words := range notice {
			items = append(items, s.line(page.Text{Tag: tag, X: left, Y: f.Top + f.TextHeight + noticeBelow + noticeLead*float64(i), Words: words, Look: caption}, false)...)
		}
		y += noticeLead * float64(max(len(notice)-1, 0))
	}
	unit := s.word("unit-revision", "model", s.Clean(s.guide.Model, source.Pos{}), "serial", s.Clean(s.guide.Serial, source.Pos{}), "revision", s.Clean(s.guide.Revision, source.Pos{}))
	place := s.word("page-of", "n", typeset.Hole, "total", strconv.Itoa(total))
	before, behind, _ := strings.Cut(place, typeset.Hole)
	n := strconv.Itoa(number)
	width := s.Ruler.Width(caption, before) + s.Ruler.Width(footNumber, n) + s.Ruler.Width(caption, behind)
	x := left
	if paper.IsOdd(number) {
		x = right - width
	}
	form := page.Text{Tag: tag, X: left, Y: y, Words: s.Shorten(caption, unit, f.TextWidth()-width-12), Look: caption, Form: page.FormAtStart}
	if paper.IsOdd(number) {
		items = append(items, s.line(form, false)...)
	}
	items = append(items, s.line(page.Text{Tag: tag, X: x, Y: y, Words: before, Look: caption}, false)...)
	items = append(items, s.line(page.Text{Tag: tag, X: x + s.Ruler.Width(caption, before), Y: y, Words: n, Look: footNumber}, false)...)
	items = append(items, s.line(page.Text{Tag: tag, X: x + width - s.Ruler.Width(caption, behind), Y: y, Words: behind, Look: caption}, false)...)
	if !paper.IsOdd(number) {
		form.X, form.Form = right, page.FormAtEnd
		items = append(items, s.line(form, true)...)
	}
	return items
}

// draftMark returns the field at the top of every page of a draft. It takes no room from the
// text, so pages break where those of the guide will.
func (s *setter) draftMark(left float64) []page.Item {
	if s.guide.Draft == "" {
		return nil
	}
	look, room := footNumber.Inked(page.White), s.format.TextWidth()
	words := s.Shorten(look, s.Clean(s.guide.Draft, source.Pos{}), room-2*draftPad)
	width := s.Ruler.Width(look, words)
	x := left + (room-width)/2
	return []page.Item{
		page.Rectangle(x-draftPad, draftTop, width+2*draftPad, draftHigh, page.Black),
		&page.Text{Tag: page.Tag{Artifact: finish.Header}, X: x, Y: draftTop + look.Baseline(draftHigh), Words: words, Look: look},
	}
}

// notice breaks the maker's notice into lines.
func (s *setter) notice() (lines []string) {
	for w := range strings.FieldsSeq(s.Clean(s.guide.Notice, source.Pos{})) {
		if n := len(lines); n > 0 && s.Ruler.Width(caption, lines[n-1]+" "+w) <= s.format.TextWidth() {
			lines[n-1] += " " + w
		} else {
			lines = append(lines, w)
		}
	}
	return lines
}

// tab returns the field with a chapter's number at the outer edge of a page.
func (s *setter) tab(number int, c *chapter) []page.Item {
	f := s.format
	pitch := min(tabPitch, f.TextHeight/float64(max(s.numbered, 1)))
	y := f.Top + float64(c.index)*pitch
	x := f.Width - f.TabWidth
	if !paper.IsOdd(number) {
		x = 0
	}
	height := min(tabHigh, pitch-2)
	look, fill := tabNumber.Inked(page.White), page.Rectangle(x, y, f.TabWidth, height, page.Black)
	items := []page.Item{fill}
	if c.later { // black on white, so that the reader sees which part it is
		look = tabNumber
		inner := x + tabBorder // the side at the trimmed edge is open
		if !paper.IsOdd(number) {
			inner = x
		}
		items = append(items, page.Rectangle(inner, y+tabBorder, f.TabWidth-tabBorder, height-2*tabBorder, page.White))
	}
	label := s.Clean(c.number, source.Pos{})
	w := s.Ruler.Width(look, label)
	at := x + (f.TabWidth-tabClear-w)/2
	if !paper.IsOdd(number) {
		at = x + tabClear + (f.TabWidth-tabClear-w)/2
	}
	return append(items, &page.Text{X: at, Y: y + look.Baseline(height), Words: label, Look: look})
}
