package typeset

import (
	"slices"
	"strconv"
	"strings"
	"sync/atomic"

	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/fonts"
	"ownerguide/render/pdf/page"
)

// PageNumbers resolves page numbers once all pages are made.
type PageNumbers struct {
	Of    map[string]int // page of each anchor
	Ruler *Ruler
	pages []int // for [Open.Fill]
}

// Settle turns items into final ones or, if they contain page numbers, open ones.
func (r *Ruler) Settle(items []page.Item) (settled []page.Item, open *Open) {
	var to []string // the anchors whose page numbers they contain
	for _, it := range items {
		switch it := it.(type) {
		case *Line:
			to = it.anchors(to)
		case *Turned:
			for _, l := range it.Lines {
				to = l.anchors(to)
			}
		case *page.Link:
			to = appendAnchor(to, it.To, it.Words)
		}
	}
	if to != nil {
		r.shape(items) // what has no page numbers is shared by all that fill them in
		return nil, &Open{items: items, to: to}
	}
	return (&PageNumbers{Ruler: r}).final(items), nil
}

// anchors appends the anchors whose page numbers a line contains, or a link of it that is read aloud with one.
func (l *Line) anchors(to []string) []string {
	for _, w := range l.words {
		for _, a := range w.atoms {
			pc := &l.pieces[a.piece]
			if pc.Page != "" {
				to = append(to, pc.Page)
			}
			if pc.Link != nil {
				to = appendAnchor(to, pc.Link.To, pc.Link.Words)
			}
		}
	}
	return to
}

func appendAnchor(to []string, link, words string) []string {
	if !strings.Contains(words, Hole) {
		return to
	}
	return append(to, strings.TrimPrefix(link, "#"))
}

// Open is items that contain page numbers. Most guides of a batch break alike, so it keeps what the items last became. It is safe for
// concurrent use.
type Open struct {
	items []page.Item
	to    []string // anchors
	last  atomic.Pointer[filled]
}

// Anchors appends the anchors that the page numbers in the items are of.
func (o *Open) Anchors(to []string) []string {
	if o == nil {
		return to
	}
	return append(to, o.to...)
}

type filled struct {
	pages []int // of the anchors
	items []page.Item
}

// Fill fills page numbers into the items.
func (o *Open) Fill(p *PageNumbers) []page.Item {
	pages := p.pages[:0]
	for _, id := range o.to {
		pages = append(pages, p.Of[id])
	}
	p.pages = pages
	last := o.last.Load()
	if last == nil || !slices.Equal(last.pages, pages) {
		last = &filled{slices.Clone(pages), p.final(o.items)}
		o.last.Store(last)
	}
	return last.items
}

// final turns items into final ones, with the runs of their texts.
func (p *PageNumbers) final(items []page.Item) []page.Item {
	items = p.Resolve(items)
	p.Ruler.shape(items)
	return items
}

// shape gives texts their runs.
func (r *Ruler) shape(items []page.Item) {
	for _, it := range items {
		if t, ok := it.(*page.Text); ok && t.Run == nil {
			r.glyphs = t.Shape(r.glyphs[:0])
		}
	}
}

// Resolve turns items that contain page numbers into final items.
func (p *PageNumbers) Resolve(items []page.Item) []page.Item {
	out := make([]page.Item, 0, 2*len(items))
	for _, it := range items {
		switch it := it.(type) {
		case *Line:
			out = p.place(out, it)
		case *Turned:
			out = append(out, p.turned(it)...)
		case *Disc:
			out = append(out, p.disc(it.Number, it.Size/2, min(discNumber.Size, it.Size*0.7), page.Tag{Element: it.Element}, it.X, it.Y)...)
		case *Swatch:
			out = append(out, p.swatch(it)...)
		case *page.Link:
			out = append(out, p.link(it))
		default:
			out = append(out, it)
		}
	}
	return out
}

// turned sets rotated lines.
func (p *PageNumbers) turned(t *Turned) (out []page.Item) {
	x := t.X
	for _, l := range t.Lines {
		for _, it := range p.place(nil, l) {
			if w, ok := it.(*page.Text); ok {
				m := *w
				m.X, m.Y, m.Turn = x+w.Y, t.Y-w.X, 90
				out = append(out, &m)
			}
		}
		x += l.Leading
	}
	return out
}

// swatch draws a chapter's number on its tab.
func (p *PageNumbers) swatch(w *Swatch) []page.Item {
	look := discNumber
	items := []page.Item{page.Rectangle(w.X, w.Y, w.Width, w.Height, page.Black)}
	if w.Open {
		look = discNumber.Inked(page.Black)
		items = append(items, page.Rectangle(w.X+1, w.Y+1, w.Width-2, w.Height-2, page.White))
	}
	return append(items,
		&page.Text{Tag: page.Tag{Element: w.Element}, X: w.X + (w.Width-p.Ruler.Width(look, w.Number))/2, Y: w.Y + look.Baseline(w.Height), Words: w.Number + " ", Look: look})
}

// number returns the page number of an anchor.
func (p *PageNumbers) number(anchor string) string { return strconv.Itoa(p.Of[anchor]) }

// place appends the items of a line to out. Each line ends with a space, or words would be joined when the text is extracted; a word
// broken at the end of the line gets none.
func (p *PageNumbers) place(out []page.Item, l *Line) []page.Item {
	before := len(out)
	var open *page.Text // the text that the next atom may extend
	from := -1          // its piece
	words := p.Ruler.words[:0]
	closeText := func() {
		if open != nil {
			open.Words = string(words)
		}
		open, from, words = nil, -1, words[:0]
	}
	var links []*page.Link
	x, y := l.X, l.Y
	for i, w := range l.words {
		for _, a := range w.atoms {
			pc := &l.pieces[a.piece]
			if pc.Page != "" {
				a.text = strings.Replace(a.text, Hole, p.number(pc.Page), 1)
				a.width = p.Ruler.Width(pc.Look, a.text)
			}
			t := page.Tag{Element: l.element}
			if pc.Element != nil {
				t.Element = pc.Element
			}
			baseline := y + pc.Look.Baseline(l.Leading)
			switch {
			case pc.Mark != NoMark:
				closeText()
				out = append(out, p.mark(pc, t, x, y, l.Leading)...)
			case from == a.piece:
				words = append(words, a.text...)
			default:
				closeText()
				open, from, words = &page.Text{Tag: t, X: x, Y: baseline, Look: pc.Look}, a.piece, append(words, a.text...)
				out = append(out, open)
			}
			if pc.Link != nil {
				links = p.extend(links, pc, x, a.width, baseline)
			}
			x += a.width
		}
		last := i == len(l.words)-1
		if open != nil && (w.spaced || last && !w.halved) {
			words = append(words, ' ')
		}
		if !last {
			x += w.gap
		}
	}
	closeText()
	p.Ruler.words = words
	for _, a := range links {
		out = append(out, a)
	}
	if l.End {
		out = append(out[:before], page.Shift(out[before:], l.X-x, 0)...)
	}
	if l.Repeated {
		out = append(out[:before], page.AsArtifacts(out[before:])...)
	}
	return out
}

// extend extends the area of a link by one atom; the parts of one link on one line share an area.
func (p *PageNumbers) extend(links []*page.Link, pc *Piece, x, width, baseline float64) []*page.Link {
	if n := len(links); n > 0 && links[n-1].Element == pc.Link.Element {
		links[n-1].Box.W = x + width - links[n-1].Box.X
		return links
	}
	box := finish.Box{X: x, Y: baseline - pc.Look.Size, W: width, H: pc.Look.Size * 1.3}
	return append(links, p.link(&page.Link{Element: pc.Link.Element, Box: box, To: pc.Link.To, Words: pc.Link.Words}))
}

// link puts the page number into the words of a link.
func (p *PageNumbers) link(l *page.Link) *page.Link {
	m := *l
	m.Words = strings.Replace(l.Words, Hole, p.number(strings.TrimPrefix(l.To, "#")), 1)
	return &m
}

// mark draws a mark in running text.
func (p *PageNumbers) mark(pc *Piece, t page.Tag, x, top, leading float64) []page.Item {
	switch middle := top + leading/2; pc.Mark {
	case Boxed:
		return []page.Item{TickBox(t, x, middle-boxSide/2)}
	case Pointed:
		return p.disc(pc.Text, pc.Look.Size*discInText/2, pc.Look.Size*0.9, t, x, middle)
	default:
		w := p.Ruler.Width(pc.Look, pc.Text) + 2*chipPad
		y := top + (leading-chipHeight)/2
		frame := page.OutlinedRectangle(page.Tag{}, x, y, w, chipHeight, ChipOutline)
		if pc.Mark == Signaled {
			frame.Fill = &pc.Fill
		}
		return []page.Item{frame, &page.Text{Tag: t, X: x + chipPad, Y: top + pc.Look.Baseline(leading), Words: pc.Text + " ", Look: pc.Look}}
	}
}

// disc draws a point's number in a black disc with its left edge at x.
func (p *PageNumbers) disc(number string, radius, size float64, t page.Tag, x, middle float64) []page.Item {
	look := discNumber
	look.Size = size
	w := p.Ruler.Width(look, number)
	if limit := radius * 1.55; w > limit { // three digits
		look.Size *= limit / w
		w = limit
	}
	return []page.Item{
		page.Disc(x+radius, middle, radius, page.Black),
		&page.Text{Tag: t, X: x + radius - w/2, Y: middle + look.Baseline(0), Words: number + " ", Look: look},
	}
}

// TickBox returns a checkbox with its upper left corner at x, y.
func TickBox(t page.Tag, x, y float64) page.Item {
	const line = 0.9
	return page.OutlinedRectangle(t, x+line/2, y+line/2, boxSide-line, boxSide-line, line)
}

// Turned is lines rotated to be read from below, the first one at the left.
type Turned struct {
	Lines []*Line
	X, Y  float64 // start of the first line
}

func (t *Turned) Moved(dx, dy float64) page.Item {
	m := *t
	m.X, m.Y = t.X+dx, t.Y+dy
	return &m
}

// AsArtifact returns a copy as an artifact.
func (t *Turned) AsArtifact() page.Item {
	m := *t
	m.Lines = make([]*Line, len(t.Lines))
	for i, l := range t.Lines {
		silent := *l
		silent.Repeated = true
		m.Lines[i] = &silent
	}
	return &m
}

// Disc is the mark of a point in the margin. It becomes items with the page.
type Disc struct {
	Number  string
	Element *finish.Element
	X, Y    float64 // left edge and middle
	Size    float64 // diameter
}

func (d *Disc) Moved(dx, dy float64) page.Item {
	m := *d
	m.X, m.Y = d.X+dx, d.Y+dy
	return &m
}

// Swatch is a chapter's number on its tab.
type Swatch struct {
	Number        string
	Element       *finish.Element
	X, Y          float64 // upper left corner
	Width, Height float64
	Open          bool // black on white
}

func (w *Swatch) Moved(dx, dy float64) page.Item {
	m := *w
	m.X, m.Y = w.X+dx, w.Y+dy
	return &m
}

// discNumber is the look of white numbers on black fields.
var discNumber = page.Look{Style: fonts.Bold, Size: 9.5, Ink: page.White}
