package layout

import (
	"strconv"
	"strings"

	"ownerguide/render/pdf/finish"
)

// setLine is a line whose words are chosen. It becomes items once the pages that it names are known.
type setLine struct {
	x, y    float64 // of its upper left corner
	width   float64
	end     bool // its right end stands at x
	leading float64
	pieces  []piece
	words   []word
	element *finish.Element // whose text it is
	silent  bool            // it is repeated, and not read again
}

func (l *setLine) moved(dx, dy float64) Item {
	m := *l
	m.x, m.y = l.x+dx, l.y+dy
	return &m
}

// textStyle says how running text is set.
type textStyle struct {
	leading  float64
	balanced bool
	element  *finish.Element
}

// lines breaks pieces into lines. With no text there is no line.
func (s *setter) lines(pieces []piece, width float64, ts textStyle) []*setLine {
	return s.linesOf(pieces, s.breakLines(pieces, s.words(pieces), width, ts.balanced), ts)
}

func (s *setter) linesOf(pieces []piece, broken [][]word, ts textStyle) []*setLine {
	lines := make([]*setLine, len(broken))
	for i, ws := range broken {
		lines[i] = &setLine{width: lineWidth(ws), leading: ts.leading, pieces: pieces, words: ws, element: ts.element}
	}
	return lines
}

// stacked puts lines below one another.
func stacked(lines []*setLine, x, y float64) []Item {
	out := make([]Item, len(lines))
	for i, l := range lines {
		out[i] = l.moved(x, y)
		y += l.leading
	}
	return out
}

// pages tells where things stand once all pages are made.
type pages struct {
	of    map[string]int // page of each anchor
	total int
	ruler *ruler
}

// number is the page of an anchor in figures.
func (p *pages) number(anchor string) string { return strconv.Itoa(p.of[anchor]) }

// place turns a line into items. Each line ends with a space, or words would join when the text is taken out; a word broken over the
// line end gets none.
func (p *pages) place(l *setLine) []Item {
	var out []Item
	var open *Text // what the next atom may join
	from := -1     // its piece
	var links []*Link
	x, y := l.x, l.y
	for i, w := range l.words {
		for _, a := range w.atoms {
			pc := &l.pieces[a.piece]
			if pc.page != "" {
				a.text = strings.Replace(a.text, hole, p.number(pc.page), 1)
				a.width = p.ruler.width(pc.look, a.text)
			}
			t := Tag{Element: l.element}
			if pc.element != nil {
				t.Element = pc.element
			}
			baseline := y + pc.look.baseline(l.leading)
			switch {
			case pc.mark != noMark:
				open, from = nil, -1
				out = append(out, p.mark(pc, t, x, y, l.leading)...)
			case from == a.piece:
				open.Words += a.text
			default:
				open, from = &Text{Tag: t, X: x, Y: baseline, Words: a.text, Look: pc.look}, a.piece
				out = append(out, open)
			}
			if pc.link != nil {
				links = p.extend(links, pc, x, a.width, baseline)
			}
			x += a.width
		}
		last := i == len(l.words)-1
		if open != nil && (w.spaced || last && !w.halved) {
			open.Words += " "
		}
		if !last {
			x += w.gap
		}
	}
	for _, a := range links {
		out = append(out, a)
	}
	if l.end {
		out = shift(out, l.x-x, 0)
	}
	if l.silent {
		out = Silent(out)
	}
	return out
}

// extend makes the area of a link cover one more atom; the parts of one link on one line share an area.
func (p *pages) extend(links []*Link, pc *piece, x, width, baseline float64) []*Link {
	if n := len(links); n > 0 && links[n-1].Element == pc.link.element {
		links[n-1].Box.W = x + width - links[n-1].Box.X
		return links
	}
	box := finish.Box{X: x, Y: baseline - pc.look.Size, W: width, H: pc.look.Size * 1.3}
	return append(links, p.link(&Link{Element: pc.link.element, Box: box, To: pc.link.to, Words: pc.link.words}))
}

// link tells in the words of a link the page it leads to.
func (p *pages) link(l *Link) *Link {
	m := *l
	m.Words = strings.Replace(l.Words, hole, p.number(strings.TrimPrefix(l.To, "#")), 1)
	return &m
}

// mark draws a mark in running text.
func (p *pages) mark(pc *piece, t Tag, x, top, leading float64) []Item {
	switch middle := top + leading/2; pc.mark {
	case boxed:
		return []Item{tickBox(t, x, middle-boxSide/2)}
	case pointed:
		return p.disc(pc.text, pc.look.Size*discInText/2, pc.look.Size*0.9, t, x, middle)
	default:
		w := p.ruler.width(pc.look, pc.text) + 2*chipPad
		y := top + (leading-chipHeight)/2
		frame := outlined(Tag{}, x, y, w, chipHeight, chipOutline)
		if pc.mark == signaled {
			frame.Fill = &pc.fill
		}
		return []Item{frame, &Text{Tag: t, X: x + chipPad, Y: top + pc.look.baseline(leading), Words: pc.text + " ", Look: pc.look}}
	}
}

// disc draws a point's number in a black disc, its left edge at x.
func (p *pages) disc(number string, radius, size float64, t Tag, x, middle float64) []Item {
	look := discNumber
	look.Size = size
	w := p.ruler.width(look, number)
	if limit := radius * 1.55; w > limit { // three digits
		look.Size *= limit / w
		w = limit
	}
	return []Item{
		disc(x+radius, middle, radius, black),
		&Text{Tag: t, X: x + radius - w/2, Y: middle + look.baseline(0), Words: number + " ", Look: look},
	}
}

// tickBox is a box to tick, its upper left corner at x, y.
func tickBox(t Tag, x, y float64) Item {
	const line = 0.9
	return outlined(t, x+line/2, y+line/2, boxSide-line, boxSide-line, line)
}
