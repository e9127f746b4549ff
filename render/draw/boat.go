package draw

import "ownerguide/render/doc"

// A boat is on bunks or rollers, held above the frame by posts.

// posts returns the x of the posts below the bunks or rollers.
func (u *unit) posts() []float64 {
	f := u.floor
	return []float64{f.front + 0.12*(f.rear-f.front), (f.front + f.rear) / 2, f.rear - 0.12*(f.rear-f.front)}
}

// rollersAt returns the x of the rollers of one side.
func (u *unit) rollersAt() (xs []float64) {
	const step = 14.0 // in
	for x := u.floor.front + 3; x <= u.floor.rear-3; x += step {
		xs = append(xs, x)
	}
	return xs
}

func (u *unit) drawCradle(p pen) {
	f := u.floor
	for _, x := range u.posts() {
		p.box(part, extent{front: x - 1.2, rear: x + 1.2, low: u.frameTop, top: f.low})
	}
	if u.cradle.Kind.Value == "rollers" {
		p.box(part, extent{front: f.front, rear: f.rear, low: f.low, top: f.low + 0.4*(f.top-f.low)})
		for _, x := range u.rollersAt() {
			p.disc(white, x, f.low+0.6*(f.top-f.low), 0.4*(f.top-f.low))
		}
		return
	}
	p.box(doc.Style{Line: doc.Full, Width: 1.2, Fill: doc.Faint}, extent{front: f.front, rear: f.rear, low: f.low, top: f.top})
}

// planCradle draws both rows with the frame between them.
func (u *unit) planCradle(p plan) {
	f := u.floor
	const wide = 5.0 // of a bunk, in
	half := u.track/2 - u.tireWidth
	for _, side := range sides {
		p.box(part, f.front, u.frameRear, side*half-1.5, side*half+1.5)
		p.Polyline(part, false, p.at(f.front, side*half), p.at(f.front-half, 0))
	}
	for _, x := range u.posts() {
		p.box(part, x-1.5, x+1.5, -half, half)
	}
	for _, y := range []float64{f.right + wide, f.left - wide} {
		p.box(doc.Style{Line: doc.Full, Width: 1.2, Fill: doc.Faint}, f.front, f.rear, y-wide/2, y+wide/2)
		if u.cradle.Kind.Value == "rollers" {
			for _, x := range u.rollersAt() {
				p.box(white, x-2, x+2, y-wide/2, y+wide/2)
			}
		}
	}
}

// sketchWinchStand draws the post with the bow stop on top and the winch below it.
func (u *unit) sketchWinchStand(p pen, t placedPart) {
	e := t.extent
	long, high := e.rear-e.front, e.top-e.low
	p.poly(part, true, e.front, e.low, e.front+0.35*long, e.top-0.12*high, e.front+0.55*long, e.top-0.12*high, e.front+0.3*long, e.low)
	p.box(solid, extent{front: e.front + 0.45*long, rear: e.rear, low: e.top - 0.14*high, top: e.top})
	p.disc(white, e.front+0.6*long, e.low+0.62*high, 0.13*high)
	p.disc(solid, e.front+0.6*long, e.low+0.62*high, 0.03*high)
}
