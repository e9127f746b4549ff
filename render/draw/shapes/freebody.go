package shapes

import (
	"math"
	"slices"

	"ownerguide/render/doc"
)

// Force is a vertical force on a free body, At inches from the left end of the
// drawing.
type Force struct {
	Letter string
	At     float64
	Up     bool
}

// Arm is a length on a free body, in inches from the left end of the drawing.
type Arm struct {
	Letter   string
	From, To float64
}

// bodyText is the size of letters in a free body: 12 pixels on a screen of 320.
const bodyText = 20

// FreeBody draws a level beam of so many inches, the forces on it and, below, their
// lever arms.
func FreeBody(length float64, forces []Force, arms []Arm) *doc.Drawing {
	c := &Canvas{Form: PageForm}
	beamStyle, arrow := doc.Style{Line: doc.Full, Width: 0.8, Fill: doc.Full}, doc.Style{Line: doc.Full, Width: 2.2}
	left, right := 30.0, PageForm.Width-40
	const beam, tall = 92, 62
	at := func(x float64) float64 { return left + x/length*(right-left) }
	c.Rect(beamStyle, at(0), beam, at(length)-at(0), 6)
	var taken []doc.Point // positions of letters
	for _, f := range forces {
		x := at(f.At)
		foot, tip, letter := beam-float64(tall), float64(beam-1), beam-float64(tall)-6
		if f.Up {
			foot, tip, letter = beam+7+tall, beam+7, beam+7+tall+bodyText
		}
		c.Arrow(arrow, x, foot, x, tip)
		name := x
		for crowded(taken, name, letter) { // two forces close together
			name += 2
		}
		taken = append(taken, Pt(name, letter))
		c.BoldText(name, letter, bodyText, doc.Center, f.Letter)
	}
	y := float64(beam + 7 + tall + 2*bodyText)
	for _, a := range arms {
		x1, x2 := at(a.From), at(a.To)
		c.Line(DimensionLine, x1, y, x2, y)
		c.Line(DimensionLine, x1, y-5, x1, y+5)
		c.Line(DimensionLine, x2, y-5, x2, y+5)
		c.BoldText(max(x1, x2)+6, y+6, bodyText, doc.Start, a.Letter)
		y += 24
	}
	return &doc.Drawing{Width: c.Width, Height: y, Shapes: c.Shapes}
}

// crowded reports whether a letter would overlap another.
func crowded(taken []doc.Point, x, y float64) bool {
	return slices.ContainsFunc(taken, func(p doc.Point) bool { return math.Abs(p.X-x) < 1.4*bodyText && math.Abs(p.Y-y) < bodyText })
}
