package layout

import (
	"strconv"
	"strings"

	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/fonts"
)

// pages tells where things stand once all pages are made.
type pages struct {
	of    map[string]int // page of each anchor
	ruler *ruler
}

// resolve turns what waited for the pages into items.
func (p *pages) resolve(items []Item) []Item {
	var out []Item
	for _, it := range items {
		switch it := it.(type) {
		case *setLine:
			out = append(out, p.place(it)...)
		case *turnedLines:
			out = append(out, p.turned(it)...)
		case *pointDisc:
			out = append(out, p.disc(it.number, it.size/2, min(discNumber.Size, it.size*0.7), Tag{Element: it.element}, it.x, it.y)...)
		case *swatch:
			out = append(out, p.swatch(it)...)
		case *Link:
			out = append(out, p.link(it))
		default:
			out = append(out, it)
		}
	}
	return out
}

// turned sets lines upright.
func (p *pages) turned(t *turnedLines) []Item {
	var out []Item
	x := t.x
	for _, l := range t.lines {
		for _, it := range p.place(l) {
			if w, ok := it.(*Text); ok {
				m := *w
				m.X, m.Y, m.Turn = x+w.Y, t.y-w.X, 90
				out = append(out, &m)
			}
		}
		x += l.leading
	}
	return out
}

// swatch draws a chapter's number on the field of its tab.
func (p *pages) swatch(w *swatch) []Item {
	look := discNumber
	return []Item{
		rectangle(w.x, w.y, w.width, w.height, black),
		&Text{Tag: Tag{Element: w.element}, X: w.x + (w.width-p.ruler.width(look, w.number))/2, Y: w.y + look.baseline(w.height), Words: w.number + " ", Look: look},
	}
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
	if l.repeated {
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

// turnedLines are lines read from below, the first one at the left.
type turnedLines struct {
	lines []*setLine
	x, y  float64 // where the first begins
}

func (t *turnedLines) moved(dx, dy float64) Item {
	m := *t
	m.x, m.y = t.x+dx, t.y+dy
	return &m
}

// pointDisc is the mark of a point in the lane. It becomes items with the page.
type pointDisc struct {
	number  string
	element *finish.Element
	x, y    float64 // left edge and middle
	size    float64 // diameter
}

func (d *pointDisc) moved(dx, dy float64) Item {
	m := *d
	m.x, m.y = d.x+dx, d.y+dy
	return &m
}

// swatch is a chapter's number on the field of its tab.
type swatch struct {
	number        string
	element       *finish.Element
	x, y          float64 // upper left corner
	width, height float64
}

func (w *swatch) moved(dx, dy float64) Item {
	m := *w
	m.x, m.y = w.x+dx, w.y+dy
	return &m
}

// discNumber is the look of white numbers on black fields.
var discNumber = Look{Style: fonts.Bold, Size: 9.5, Ink: white}
