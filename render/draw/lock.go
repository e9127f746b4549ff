package draw

import (
	"errors"
	"math"

	"ownerguide/render/doc"
	"ownerguide/render/draw/shapes"
)

func init() { pictures["deck-lock"] = deckLock }

// deckLock draws the clamp of the deck lock locked and ready to tilt, side by
// side; not to scale. The two differ in form, not only in tint.
func deckLock(s *Subject, c *canvas) (float64, string, error) {
	if !s.Build.Has("deck-lock") {
		return 0, "", errors.New("no deck lock is fitted")
	}
	c.lockPanel(s, shapes.Margin, true)
	on, off := s.words("deck-lock.locked.alt"), s.words("deck-lock.released.alt")
	c.FinishView(on)
	if !c.Narrow {
		c.Line(shapes.DimensionLine, c.Width/2, 4, c.Width/2, lockHigh-10)
	}
	c.lockPanel(s, c.Width/2+shapes.Margin, false)
	if c.Narrow { // each picture has its own text
		return lockHigh, off, nil
	}
	return lockHigh, s.words("deck-lock.alt", "locked", on, "released", off), nil
}

// lockHigh is the height of a panel, with the text below the frame.
const lockHigh = 240

// lockPanel draws the lock in one of its two states in a half of the sheet that begins
// at x.
func (c *canvas) lockPanel(s *Subject, x float64, locked bool) {
	const (
		frame = 128 // top of the frame
		deep  = 34
		out   = 42 // angle by which the clamp turns to come free, in degrees
	)
	half := shapes.PageForm.Width/2 - 2*shapes.Margin
	if c.Narrow {
		x = (c.Width - half) / 2
	}
	key := "deck-lock.released"
	if locked {
		key = "deck-lock.locked"
	}
	if c.Narrow {
		c.EndLabels(s.words(key), s.words(key+".use"))
	} else {
		c.BoldText(x+half/2, 15, 14, doc.Center, s.words(key))
		c.Text(x+half/2, 31, c.SmallText, doc.Center, s.words(key+".use"))
	}

	// Frame, deck with its rim, bracket of the clamp.
	c.Rect(part, x, frame, half, deep)
	c.Rect(far, x+136, frame-34, half-136, 32)
	c.Rect(white, x+136, frame-34, 22, 32)
	c.Text(x+half-8, frame-14, c.SmallText, doc.End, s.words("deck-lock.deck"))
	c.Text(x+half-8, frame+22, c.SmallText, doc.End, s.words("deck-lock.frame"))

	pivot := shapes.Pt(x+122, frame+deep/2)
	turn := 0.0
	if !locked {
		turn = out * math.Pi / 180
	}
	sin, cos := math.Sincos(turn)
	// at returns a point of the clamp, relative to its pivot when locked.
	at := func(dx, dy float64) doc.Point {
		return shapes.Pt(pivot.X+dx*cos+dy*sin, pivot.Y-dx*sin+dy*cos)
	}
	style := white
	style.Width = 1.6
	if locked {
		style = solid
	}
	// Hook: up beside the rim, over it and down on it. Handle: along the frame.
	c.Polyline(style, true, at(-9, 0), at(-9, -65), at(36, -65), at(36, -52), at(9, -52), at(9, 0))
	c.Polyline(style, true, at(0, -6), at(-104, -6), at(-104, 6), at(0, 6))
	c.Circle(style, pivot.X, pivot.Y, 12)
	c.Circle(white, pivot.X, pivot.Y, 4)
	pin := at(-52, 0)
	c.Circle(white, pin.X, pin.Y, 3.6)
	c.Circle(solid, pin.X, pin.Y, 1.4)

	hook := at(20, -58)
	if locked {
		c.Callout(x+8, 54, s.words("deck-lock.hook-on"), 120, hook)
		c.Callout(x+8, frame+deep+46, s.words("deck-lock.handle-flat"), half/2-8, at(-88, 3))
		c.Callout(x+half/2+14, frame+deep+46, s.words("deck-lock.pin"), half/2-14, pin)
		return
	}
	// The gap between the tip of the hook and the rim.
	tip := at(36, -58)
	rim := shapes.Pt(x+136, frame-22)
	c.Line(outline, tip.X+4, rim.Y, rim.X-3, rim.Y)
	c.ArrowHead(doc.Full, rim.X-2, rim.Y, 0)
	c.ArrowHead(doc.Full, tip.X+2, rim.Y, math.Pi)
	c.Callout(x+136, 54, s.words("deck-lock.gap"), 92, shapes.Pt((tip.X+rim.X)/2, rim.Y))
	c.Callout(x+half/2+14, frame+deep+46, s.words("deck-lock.pin"), half/2-14, pin)
	c.Callout(x+half/2-58, frame+deep+70, s.words("deck-lock.handle-out"), half/2+40, at(-92, 3))
}
