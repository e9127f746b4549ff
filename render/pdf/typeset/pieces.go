package typeset

import (
	"ownerguide/render/pdf/page"
)

// SplitFigure separates a figure from its conversion to another unit; split returns the two parts of a text. If there is no
// conversion, all pieces are the figure.
func SplitFigure(pieces []Piece, split func(text string) (first, rest string)) (figure, rest []Piece) {
	for i, p := range pieces {
		if p.Mark != NoMark || p.Page != "" {
			continue
		}
		before, behind := p, p
		if before.Text, behind.Text = split(p.Text); behind.Text != "" {
			return append(append([]Piece{}, pieces[:i]...), before), append([]Piece{behind}, pieces[i+1:]...)
		}
	}
	return pieces, nil
}

// WithLook returns copies of pieces with other looks.
func WithLook(pieces []Piece, change func(page.Look) page.Look) []Piece {
	out := make([]Piece, len(pieces))
	for i, p := range pieces {
		p.Look = change(p.Look)
		out[i] = p
	}
	return out
}
