package page

import (
	"iter"
	"strings"
	"sync/atomic"

	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/fonts"
)

// Page is one finished page.
type Page struct {
	Number int // from 1
	Parts  []*Part
	Around []Item // running head and foot, tabs
}

// Part is what one chapter puts on a page. Pages of several guides share parts, so they must not be modified.
type Part struct {
	Groups   []Group
	Words    string                         // the text in them
	Pictured bool                           // there is a picture in them
	Painted  atomic.Pointer[finish.Painted] // as it was painted last
}

// NewPart returns the part with some groups.
func NewPart(groups []Group) *Part {
	var room [1 << 13]byte // on the stack; few pages have more
	b, part := room[:0], &Part{Groups: groups}
	for _, g := range groups {
		for _, it := range g.Items {
			switch it := it.(type) {
			case *Text:
				if it.Element != nil {
					b = append(append(b, it.Words...), '\n')
				}
			case *Image:
				part.Pictured = true
			}
		}
	}
	part.Words = string(b)
	return part
}

// Groups returns all that is on the page.
func (p *Page) Groups() (all []Group) {
	for _, part := range p.Parts {
		all = append(all, part.Groups...)
	}
	return append(all, Group{Items: p.Around})
}

// Group is items at a place of a page, in their own coordinates. Parts share the items.
type Group struct {
	Items []Item
	X, Y  float64
}

// All iterates over copies of the items of a page, in the coordinates of the page.
func (p *Page) All() iter.Seq[Item] {
	return func(yield func(Item) bool) {
		for _, g := range p.Groups() {
			for _, it := range g.Items {
				if !yield(it.Moved(g.X, g.Y)) {
					return
				}
			}
		}
	}
}

// Words returns the text of a page, without running heads and feet.
func (p *Page) Words() string {
	words := ""
	for _, part := range p.Parts {
		words += part.Words // mostly of one part, and then no copy
	}
	return words
}

// Item is something positioned on a page: a [Text], [Shape], [Image], [Link], [Anchor] or [Frame].
type Item interface {
	Moved(dx, dy float64) Item
}

// Tag is the structure of an item: part of an element, or an artifact if Element is nil.
type Tag struct {
	Element  *finish.Element
	Artifact finish.ArtifactKind
}

// Color is red, green and blue, 0 to 255.
type Color struct{ R, G, B uint8 }

// Text is text with one look on one baseline.
type Text struct {
	Tag
	X, Y  float64 // start of the baseline
	Words string
	Look  Look
	Turn  float64 // degrees counter-clockwise about the start
	Form  Form
	Run   *finish.Run // of the words, if it has been made
}

// Shape makes the run of a text, in the given memory for its glyphs. Layout reports characters without a glyph; here they become spaces, and
// the file is not delivered.
func (t *Text) Shape(glyphs []finish.Glyph) []finish.Glyph {
	last := rune(-1)
	for _, r := range t.Words {
		number, advance := fonts.Glyph(t.Look.Style, r)
		if number == 0 {
			t.Words, r = strings.ReplaceAll(t.Words, string(r), " "), ' '
			number, advance = fonts.Glyph(t.Look.Style, r)
		}
		g := finish.Glyph{Char: r, Number: number, Advance: advance}
		if last >= 0 {
			g.Kern = fonts.Kern(t.Look.Style, last, r)
		}
		glyphs, last = append(glyphs, g), r
	}
	t.Run = finish.NewRun(glyphs)
	return glyphs
}

// Form is whether a text is stored once, as a form XObject that pages refer to. Text
// that differs between units is stored so, and their pages can be the same bytes.
type Form uint8

// The kinds of form.
const (
	NoForm      Form = iota
	FormAtStart      // the start of the text is fixed
	FormAtEnd        // the end of the text is fixed
)

// Point is a position, from the top left.
type Point = finish.Point

// Step is one segment of an outline.
type Step = finish.Step

// Shape is an outline, filled, stroked or both.
type Shape struct {
	Tag
	Steps   []Step
	Fill    *Color  // nil: not filled
	Line    *Color  // nil: not stroked
	Width   float64 // of the line, points
	Dash    []float64
	Round   bool // round ends and corners
	EvenOdd bool // the even-odd fill rule
}

// Image is a PNG in a box.
type Image struct {
	Tag
	Box finish.Box
	PNG []byte
}

// Link is a rectangle with a link.
type Link struct {
	Element *finish.Element // its role is Link
	Box     finish.Box
	To      string // "#anchor" or an address
	Words   string // read aloud
}

// Anchor is the target of links and bookmarks.
type Anchor struct {
	Name string
	Y    float64
}

// Frame records the position of a figure for its element.
type Frame struct {
	Element *finish.Element
	Box     finish.Box
}

func (t *Text) Moved(dx, dy float64) Item {
	m := *t
	m.X, m.Y = t.X+dx, t.Y+dy
	return &m
}

// Moved copies the steps, because a table's head is placed in many columns.
func (s *Shape) Moved(dx, dy float64) Item {
	m := *s
	m.Steps = make([]Step, len(s.Steps))
	for i, st := range s.Steps {
		for k := range st.At {
			st.At[k].X += dx
			st.At[k].Y += dy
		}
		m.Steps[i] = st
	}
	return &m
}

func (i *Image) Moved(dx, dy float64) Item { return &Image{i.Tag, i.Box.Moved(dx, dy), i.PNG} }

func (l *Link) Moved(dx, dy float64) Item {
	return &Link{l.Element, l.Box.Moved(dx, dy), l.To, l.Words}
}

func (a *Anchor) Moved(_, dy float64) Item { return &Anchor{a.Name, a.Y + dy} }

func (f *Frame) Moved(dx, dy float64) Item { return &Frame{f.Element, f.Box.Moved(dx, dy)} }

// Shift returns items moved by a distance.
func Shift(items []Item, dx, dy float64) []Item {
	return AppendShifted(make([]Item, 0, len(items)), items, dx, dy)
}

// AppendShifted appends items, moved by a distance.
func AppendShifted(to, items []Item, dx, dy float64) []Item {
	for _, it := range items {
		to = append(to, it.Moved(dx, dy))
	}
	return to
}

// AsArtifact returns items as artifacts, without links and anchors: repeated content is not read twice.
func AsArtifacts(items []Item) (out []Item) {
	for _, it := range items {
		if it, ok := it.(interface{ AsArtifact() Item }); ok {
			out = append(out, it.AsArtifact())
		}
	}
	return out
}

// AsArtifact returns the text as an artifact.
func (t *Text) AsArtifact() Item {
	m := *t
	m.Tag = Tag{}
	return &m
}

// AsArtifact returns the shape as an artifact.
func (s *Shape) AsArtifact() Item {
	m := *s
	m.Tag = Tag{}
	return &m
}
