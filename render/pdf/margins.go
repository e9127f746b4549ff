package pdf

import (
	"strconv"
	"strings"

	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/fonts"
	"ownerguide/spec/source"
)

// Places of running heads and feet, and of the tab at the outer edge.
const (
	headBaseline   = 40 // from the top
	footBaseline   = 34 // from the bottom
	noticeBaseline = 22
	noticeLead     = 9
	tabWidth       = 30 // from the edge of the paper; most printers leave some of it white
	tabHeight      = 40
	bandHeight     = 52
	bandBaseline   = 35
)

var tabFill = colour{40, 40, 40}

// margins makes what stands around the text of a page: the title of the chapter it begins in above, unless it opens it; serial,
// revision and page below; the number of each chapter on it in a dark tab at the outer edge, each chapter lower than the one before.
func (l *layout) margins(number, total int, p placed) []item {
	var c *chapter
	if len(p.chapters) > 0 {
		c = p.chapters[0]
	}
	opening := p.opening()
	left := l.sheet.left(number)
	right := left + l.sheet.text()
	var items []item
	text := func(kind finish.ArtifactKind, lk look, s string, x, y float64, toRight bool) {
		if s == "" {
			return
		}
		if toRight {
			x -= l.ruler.width(lk, s)
		}
		items = append(items, &run{tag: tag{artifact: kind}, x: x, y: y, text: s, look: lk})
	}
	cover := c != nil && c.cover
	if cover && opening {
		items = append(items, l.coverBand(number)...)
	}
	if c != nil && !cover && !opening && !l.sheet.card {
		label := l.clean(c.title, source.Pos{})
		if c.number != "" {
			label = l.clean(c.number, source.Pos{}) + "  " + label
		}
		label = l.shortened(running.bold(), label, l.sheet.text()*0.55)
		book := l.shortened(running, l.clean(l.guide.Title, source.Pos{}), l.sheet.text()-l.ruler.width(running.bold(), label)-24)
		if odd(number) {
			text(finish.Header, running.bold(), label, right, headBaseline, true)
			text(finish.Header, running, book, left, headBaseline, false)
		} else {
			text(finish.Header, running.bold(), label, left, headBaseline, false)
			text(finish.Header, running, book, right, headBaseline, true)
		}
		items = append(items, rule(tag{artifact: finish.Header}, left, headBaseline+6, right, headBaseline+6, 0.5, hair))
	}

	notice := l.notice()
	foot := l.sheet.height - footBaseline - noticeRoom(notice)
	items = append(items, rule(tag{artifact: finish.Footer}, left, foot-12, right, foot-12, 0.5, hair))
	unit := l.word("serial") + " " + l.clean(l.guide.Serial, source.Pos{}) + " · " +
		l.word("revision") + " " + l.clean(l.guide.Revision, source.Pos{})
	place := l.word("page-of", "n", strconv.Itoa(number), "total", strconv.Itoa(total))
	if odd(number) {
		text(finish.Footer, running, unit, left, foot, false)
		text(finish.Footer, running.bold(), place, right, foot, true)
	} else {
		text(finish.Footer, running.bold(), place, left, foot, false)
		text(finish.Footer, running, unit, right, foot, true)
	}
	for i, words := range notice {
		words = l.clean(words, source.Pos{})
		below := noticeLead * float64(len(notice)-1-i)
		text(finish.Footer, smallest, words, left+(l.sheet.text()-l.ruler.width(smallest, words))/2, l.sheet.height-noticeBaseline-below, false)
	}

	for _, c := range p.chapters {
		if c.number != "" {
			items = append(items, l.tab(number, c)...)
		}
	}
	return items
}

// notice parts the maker's notice into lines that the foot holds.
func (l *layout) notice() (lines []string) {
	for _, w := range strings.Fields(l.guide.Notice) {
		if n := len(lines); n > 0 && l.ruler.width(smallest, lines[n-1]+" "+w) <= l.sheet.text() {
			lines[n-1] += " " + w
		} else {
			lines = append(lines, w)
		}
	}
	return lines
}

// noticeRoom is how much taller the foot is for lines of the notice beyond the first.
func noticeRoom(lines []string) float64 { return noticeLead * float64(max(len(lines)-1, 0)) }

// shortened cuts a running head that is too long for its room. The whole title stands at the head of the chapter.
func (l *layout) shortened(lk look, text string, room float64) string {
	if l.ruler.width(lk, text) <= room {
		return text
	}
	letters := []rune(text)
	for len(letters) > 0 {
		letters = letters[:len(letters)-1]
		if short := strings.TrimRight(string(letters), " ") + "…"; l.ruler.width(lk, short) <= room {
			return short
		}
	}
	return ""
}

// coverBand is the field across the top of the cover, dark or in the maker's colours, with the maker, the model and the unit. It says nothing the cover and the
// feet do not say too, so it is not read aloud.
func (l *layout) coverBand(number int) []item {
	field, words := tabFill, white
	if c, ok := inkOf(l.guide.Field); ok {
		field = c
	}
	if c, ok := inkOf(l.guide.OnField); ok {
		words = c
	}
	maker, unit := look{fonts.Bold, 13, words}, look{fonts.Regular, 10.5, words}
	left := l.sheet.left(number)
	who := l.clean(l.guide.Model+" · "+l.guide.Serial, source.Pos{})
	header := tag{artifact: finish.Header}
	return []item{
		rectangle(header, 0, 0, l.sheet.width, bandHeight, field),
		&run{tag: header, x: left, y: bandBaseline, text: l.clean(l.guide.Maker, source.Pos{}), look: maker},
		&run{tag: header, x: left + l.sheet.text() - l.ruler.width(unit, who), y: bandBaseline, text: who, look: unit},
	}
}

// tab is the dark field with the chapter's number.
func (l *layout) tab(number int, c *chapter) []item {
	step := min(tabHeight+4, l.sheet.room()/float64(max(l.numbered, 1)))
	y := l.sheet.top + float64(c.index)*step
	x := l.sheet.width - tabWidth
	if !odd(number) {
		x = 0
	}
	height := min(tabHeight, step-2)
	lk := look{fonts.Bold, 13, white}
	label := l.clean(c.number, source.Pos{})
	w := l.ruler.width(lk, label)
	at := x + 5 // towards the text, away from the edge
	if !odd(number) {
		at = x + tabWidth - 5 - w
	}
	return []item{
		rectangle(tag{}, x, y, tabWidth, height, tabFill),
		&run{x: at, y: y + lk.baseline(height), text: label, look: lk},
	}
}
