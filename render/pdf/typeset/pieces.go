package typeset

import (
	"strings"

	"ownerguide/render/pdf/page"
)

// SplitFigure parts a figure from what stands in brackets behind it. Without brackets all of it is the figure.
func SplitFigure(pieces []Piece) (figure, rest []Piece) {
	for i, p := range pieces {
		if p.Mark != NoMark || p.Page != "" {
			continue
		}
		for _, space := range []string{" (", "\u00a0("} {
			if at := strings.Index(p.Text, space); at >= 0 {
				before, behind := p, p
				before.Text, behind.Text = p.Text[:at], p.Text[at+len(space)-1:]
				return append(append([]Piece{}, pieces[:i]...), before), append([]Piece{behind}, pieces[i+1:]...)
			}
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
