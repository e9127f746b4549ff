package layout

import (
	"ownerguide/render/pdf/finish"
)

// setLine is a line whose words are chosen. It becomes items once the pages that it names are known.
type setLine struct {
	x, y     float64 // of its upper left corner
	width    float64
	end      bool // its right end stands at x
	leading  float64
	pieces   []piece
	words    []word
	element  *finish.Element // whose text it is
	repeated bool            // it is repeated, and not read again
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
func (r *ruler) lines(pieces []piece, width float64, ts textStyle) []*setLine {
	return r.linesOf(pieces, r.breakLines(pieces, r.words(pieces), width, ts.balanced), ts)
}

func (r *ruler) linesOf(pieces []piece, broken [][]word, ts textStyle) []*setLine {
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

// newPageNumber is the number of a page, its right end at x.
func newPageNumber(p piece, x, y, leading float64) *setLine {
	words := []word{{atoms: []atom{{0, p.text, 0}}}}
	return &setLine{x: x, y: y, end: true, leading: leading, pieces: []piece{p}, words: words, element: p.element}
}

// endsEntry tells whether a forced line end follows.
func (l *setLine) endsEntry() bool { return l.words[len(l.words)-1].ends }

// Silent is the line for what is repeated, and not read again.
func (l *setLine) Silent() Item {
	m := *l
	m.repeated = true
	return &m
}
