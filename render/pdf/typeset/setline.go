package typeset

import (
	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/page"
)

// Line is a line of text. It becomes items once the page numbers it contains are known.
type Line struct {
	X, Y     float64 // of its upper left corner
	Width    float64
	End      bool // X is its right end
	Leading  float64
	pieces   []Piece
	words    []Word
	element  *finish.Element // owner of the text
	Repeated bool            // repeated content, not read again
}

func (l *Line) Moved(dx, dy float64) page.Item {
	m := *l
	m.X, m.Y = l.X+dx, l.Y+dy
	return &m
}

// Style is how running text is set.
type Style struct {
	Leading  float64
	Balanced bool
	Element  *finish.Element
}

// Lines breaks pieces into lines. Without text there is no line.
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

// Stacked places lines below one another.
func Stacked(lines []*Line, x, y float64) []page.Item {
	out := make([]page.Item, len(lines))
	for i, l := range lines {
		out[i] = l.Moved(x, y)
		y += l.Leading
	}
	return out
}

// NewPageNumber returns a line with a page number, its right end at x.
func NewPageNumber(p Piece, x, y, leading float64) *Line {
	words := []Word{{atoms: []atom{{0, p.Text, 0}}}}
	return &Line{X: x, Y: y, End: true, Leading: leading, pieces: []Piece{p}, words: words, element: p.Element}
}

// EndsEntry reports whether a forced line break follows.
func (l *Line) EndsEntry() bool { return l.words[len(l.words)-1].forcedBreak }

// AsArtifact returns the line as an artifact.
func (l *Line) AsArtifact() page.Item {
	m := *l
	m.Repeated = true
	return &m
}
