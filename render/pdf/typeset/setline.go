package typeset

import (
	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/page"
)

// Line is a line whose words are chosen. It becomes items once the pages that it names are known.
type Line struct {
	X, Y     float64 // of its upper left corner
	Width    float64
	End      bool // its right end stands at x
	Leading  float64
	pieces   []Piece
	words    []Word
	element  *finish.Element // whose text it is
	Repeated bool            // it is repeated, and not read again
}

func (l *Line) Moved(dx, dy float64) page.Item {
	m := *l
	m.X, m.Y = l.X+dx, l.Y+dy
	return &m
}

// Style says how running text is set.
type Style struct {
	Leading  float64
	Balanced bool
	Element  *finish.Element
}

// Lines breaks pieces into lines. With no text there is no line.
func (r *Ruler) Lines(pieces []Piece, width float64, ts Style) []*Line {
	return r.LinesOf(pieces, r.BreakLines(pieces, r.Words(pieces), width, ts.Balanced), ts)
}

func (r *Ruler) LinesOf(pieces []Piece, broken [][]Word, ts Style) []*Line {
	lines := make([]*Line, len(broken))
	for i, ws := range broken {
		lines[i] = &Line{Width: lineWidth(ws), Leading: ts.Leading, pieces: pieces, words: ws, element: ts.Element}
	}
	return lines
}

// Stacked puts lines below one another.
func Stacked(lines []*Line, x, y float64) []page.Item {
	out := make([]page.Item, len(lines))
	for i, l := range lines {
		out[i] = l.Moved(x, y)
		y += l.Leading
	}
	return out
}

// NewPageNumber is the number of a page, its right end at x.
func NewPageNumber(p Piece, x, y, leading float64) *Line {
	words := []Word{{atoms: []atom{{0, p.Text, 0}}}}
	return &Line{X: x, Y: y, End: true, Leading: leading, pieces: []Piece{p}, words: words, element: p.Element}
}

// EndsEntry reports whether a forced line end follows.
func (l *Line) EndsEntry() bool { return l.words[len(l.words)-1].ends }

// Silent is the line for what is repeated, and not read again.
func (l *Line) Silent() page.Item {
	m := *l
	m.Repeated = true
	return &m
}
