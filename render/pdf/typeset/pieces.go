package typeset

import (
	"ownerguide/render/pdf/page"
)

// SplitFigure parts a figure from what stands behind it in another unit: split tells where in a text that begins. If nowhere, all of it is
// the figure.
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

// WithLook copies pieces in other looks.
func WithLook(pieces []Piece, change func(page.Look) page.Look) []Piece {
	out := make([]Piece, len(pieces))
	for i, p := range pieces {
		p.Look = change(p.Look)
		out[i] = p
	}
	return out
}
