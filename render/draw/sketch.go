package draw

import (
	"math"

	"ownerguide/render/doc"
	"ownerguide/render/draw/shapes"
	"ownerguide/spec/product"
)

// drawPart draws one fitting by its kind. Kinds without a sketch, such as wheels, are
// drawn with the rest of the unit.
func (u *unit) drawPart(p pen, t placedPart) {
	f := sketches[t.Kind]
	if f == nil || !t.given && t.Kind != "coupler" && t.Kind != "cylinder" {
		return
	}
	f(u, p, t)
}

// sketches are functions that draw each kind of fitting from the side.
var sketches = map[string]func(*unit, pen, placedPart){
	"coupler":     (*unit).sketchCoupler,
	"chain":       (*unit).sketchChain,
	"jack":        (*unit).sketchJack,
	"connector":   (*unit).sketchConnector,
	"anchor":      (*unit).sketchAnchor,
	"box":         (*unit).sketchBox,
	"winch":       (*unit).sketchWinch,
	"rack":        (*unit).sketchRack,
	"spare":       (*unit).sketchSpare,
	"winch-stand": (*unit).sketchWinchStand,
	"power-unit":  (*unit).sketchPowerUnit,
	"cylinder":    (*unit).sketchCylinder,
	"cushion":     (*unit).sketchCushion,
	"battery":     (*unit).sketchBattery,
	"support":     (*unit).sketchSupport,
	"tarp":        (*unit).sketchTarp,
	"gate":        (*unit).sketchGate,
	"lamps":       func(_ *unit, p pen, t placedPart) { p.box(solid, t.extent) },
	"lock":        func(_ *unit, p pen, t placedPart) { p.box(dark, t.extent) },
	"ramp":        (*unit).sketchRamp,
	"other":       (*unit).sketchOther,
	"breakaway":   plainBox, "actuator": plainBox, "winch-plate": plainBox, "charger": plainBox, "solar": plainBox, "charge-line": plainBox, "prop": plainBox, "rear-guard": plainBox,
}

func plainBox(_ *unit, p pen, t placedPart) { p.box(white, t.extent) }

func (u *unit) sketchCoupler(p pen, t placedPart) {
	if u.build.Has("pintle") {
		x, _, z := t.middle()
		p.box(part, extent{front: x - 4, rear: t.rear, low: z - 1.2, top: z + 1.2})
		p.box(part, extent{front: t.rear - 4, rear: t.rear, low: t.low, top: t.top})
		return
	}
	if !u.gooseneck {
		p.poly(part, true, t.front, t.low+1, t.front+2, t.top, t.rear, t.top, t.rear, t.low+2, t.front+7, t.low+2, t.front+7, t.low, t.front+1, t.low)
		p.poly(outline, false, t.front+5, t.top, t.front+9, t.top+3, t.front+12, t.top+2) // latch
		return
	}
	x, _, _ := t.middle()
	if u.build.Has("kingpin") {
		p.box(part, extent{front: x - 7, rear: x + 7, low: t.low + 2, top: t.top})
		p.box(part, extent{front: t.front, rear: t.rear, low: t.low, top: t.low + 2})
		p.box(solid, extent{front: x - 1, rear: x + 1, low: t.low - 3, top: t.low})
		return
	}
	p.box(part, extent{front: x - 3, rear: x + 3, low: t.low + 6, top: t.top - 4})
	p.box(part, extent{front: t.front, rear: t.rear, low: t.top - 18, top: t.top})
	p.box(part, extent{front: x - 4.5, rear: x + 4.5, low: t.low, top: t.low + 9})
}

func (u *unit) sketchChain(p pen, t placedPart) {
	from, to, deep := p.at(t.front, t.low), p.at(t.front-12, t.low+2), 7*p.scale
	if u.gooseneck {
		to, deep = p.at(t.front-4, t.low-18), 16*p.scale
	}
	p.Curve(doc.Style{Line: doc.Full, Width: 1.6, Dash: []float64{2.4, 1.2}}, from, shapes.Pt(from.X, from.Y+deep), shapes.Pt(to.X, to.Y+deep), to)
}

func (u *unit) sketchJack(p pen, t placedPart) {
	e := t.extent
	x, _, _ := e.middle()
	half := max(2, (e.rear-e.front)/2)
	e.low = 0 // on the ground, or retracted
	if p.coupled {
		e.low = 0.2 * e.top
	}
	middle := e.low + 0.42*(e.top-e.low)
	p.box(white, extent{front: x - 0.6*half, rear: x + 0.6*half, low: e.low + 1, top: middle})
	p.box(part, extent{front: x - half, rear: x + half, low: middle, top: e.top})
	p.box(solid, extent{front: x - 1.6*half, rear: x + 1.6*half, low: e.low, top: e.low + 1.2})
	jack, ok := t.Data.(*product.Jack)
	if ok && jack.Kind.Value == "side-crank" {
		z := e.top - 4
		p.poly(outline, false, x+half, z, x+half+4, z, x+half+4, z-9)
		return
	}
	p.poly(outline, false, x, e.top, x, e.top+2, x+8, e.top+2, x+8, e.top+5)
}

// sketchConnector draws the plug and a loop of its cable.
func (u *unit) sketchConnector(p pen, t placedPart) {
	x, _, z := t.middle()
	from, to := p.at(t.extent.rear, z), p.at(x+16, t.low-1)
	p.Curve(outline, from, p.at(x+12, z+3), p.at(x+8, z-6), to)
	p.box(solid, t.extent)
}

// anchorsAt returns the x of the anchors of one side.
func (u *unit) anchorsAt(t placedPart) []float64 {
	front, rear, n := u.floor.front+6, u.tail-6, 2
	if t.given && t.extent.rear > t.front {
		front, rear = t.front, t.extent.rear
	}
	if a, ok := t.Data.(*product.Anchor); ok {
		if a.Kind.Value == "rub-rail" {
			return []float64{front + 0.75*(rear-front)}
		}
		if a.Count.Value > 1 {
			n = (a.Count.Value + 1) / 2
		}
	}
	if n == 1 {
		return []float64{(front + rear) / 2}
	}
	var xs []float64
	for i := range n {
		xs = append(xs, front+float64(i)*(rear-front)/float64(n-1))
	}
	return xs
}

func (u *unit) sketchAnchor(p pen, t placedPart) {
	a, ok := t.Data.(*product.Anchor)
	if !ok {
		return
	}
	over := func(x float64) pen { // the part of the deck there
		if u.hinged && x < u.fixed {
			return p.fixed()
		}
		return p
	}
	switch a.Kind.Value {
	case "d-ring":
		if !u.hasDeck || u.build.Has("enclosed") {
			return // inside the box or the body
		}
		for _, x := range u.anchorsAt(t) {
			q := over(x)
			at := q.at(x, u.deckTop()-u.dropAt(x))
			r := max(2.2, 2*p.scale)
			turn := q.turn * 180 / math.Pi
			p.Arc(outline, at.X, at.Y, r, -turn, 180-turn)
		}
	case "stake-pocket":
		for _, x := range u.anchorsAt(t) {
			d := u.dropAt(x)
			over(x).box(thin, extent{front: x - 2, rear: x + 2, low: max(t.low, u.floor.low) - d, top: min(t.top, u.floor.top) - d})
		}
	}
}

func (u *unit) sketchBox(p pen, t placedPart) {
	p.box(white, t.extent)
	lid := t.top - 0.2*(t.top-t.low)
	p.poly(thin, false, t.front, lid, t.rear, lid)
	x, _, _ := t.middle()
	p.box(solid, extent{front: x - 1.5, rear: x + 1.5, low: lid - 2.5, top: lid})
}

func (u *unit) sketchWinch(p pen, t placedPart) {
	x, _, z := t.middle()
	p.box(part, extent{front: t.front, rear: t.rear, low: t.low, top: t.low + 0.35*(t.top-t.low)})
	p.disc(white, x, z, 0.42*(t.top-t.low))
	p.disc(solid, x, z, 0.12*(t.top-t.low))
}

func (u *unit) sketchRack(p pen, t placedPart) {
	p.box(part, t.extent)
	for z := t.low + 8; z < t.top-2; z += 8 {
		p.poly(thin, false, t.front, z, t.rear, z)
	}
}

// sketchSpare draws the spare in its position: on edge across the tongue, or flat under
// the deck.
func (u *unit) sketchSpare(p pen, t placedPart) {
	a, b := p.at(t.front, t.top), p.at(t.rear, t.low)
	r := min(3, (b.X-a.X)/2.2, (b.Y-a.Y)/2.2)
	p.RoundedRect(dark, a.X, a.Y, b.X-a.X, b.Y-a.Y, r)
	x, _, z := t.middle()
	if t.top-t.low > t.rear-t.front {
		p.poly(doc.Style{Line: doc.Paper, Width: 1}, false, x, t.low+3, x, t.top-3)
		return
	}
	p.poly(doc.Style{Line: doc.Paper, Width: 1}, false, t.front+3, z, t.rear-3, z)
}

func (u *unit) sketchPowerUnit(p pen, t placedPart) {
	p.box(part, t.extent)
	split := t.front + 0.58*(t.rear-t.front)
	p.poly(thin, false, split, t.low, split, t.top)
	_, _, z := t.middle()
	p.disc(white, (split+t.rear)/2, z, 0.28*(t.rear-t.front)*0.7)
}

// sketchCylinder draws barrel and rod between the pins; the rod end moves with the deck,
// by the rotation of the pen.
func (u *unit) sketchCylinder(p pen, t placedPart) {
	c, ok := t.Data.(*product.Cylinder)
	foot, head := u.build.Model.CylinderFoot, u.build.Model.CylinderHead
	if !ok || !foot.X.Set || !head.X.Set {
		return
	}
	moving := p
	moving.hx, moving.hz = u.hingeX, u.hingeZ
	a := p.fixed().at(float64(foot.X.Value), float64(foot.Z.Value))
	b := moving.at(float64(head.X.Value), float64(head.Z.Value))
	long := math.Hypot(b.X-a.X, b.Y-a.Y)
	ux, uy := (b.X-a.X)/long, (b.Y-a.Y)/long
	along := func(from, to, thick float64, s doc.Style) {
		h := max(thick*p.scale/2, 1.2)
		p.Polyline(s, true,
			shapes.Pt(a.X+from*ux-h*uy, a.Y+from*uy+h*ux), shapes.Pt(a.X+to*ux-h*uy, a.Y+to*uy+h*ux),
			shapes.Pt(a.X+to*ux+h*uy, a.Y+to*uy-h*ux), shapes.Pt(a.X+from*ux+h*uy, a.Y+from*uy-h*ux))
	}
	barrel := min(long, float64(c.Retracted.Value)*p.scale*0.88)
	along(0, long, float64(c.Rod.Value), white)
	along(0, barrel, float64(c.Bore.Value)+1, part)
	p.Circle(solid, a.X, a.Y, 1.6)
	p.Circle(solid, b.X, b.Y, 1.6)
}

// fixed returns the pen without its rotation.
func (p pen) fixed() pen {
	p.turn = 0
	return p
}

func (u *unit) sketchCushion(p pen, t placedPart) {
	_, _, z := t.middle()
	split := t.front + 0.6*(t.rear-t.front)
	p.box(part, extent{front: t.front, rear: split, low: z - 2.2, top: z + 2.2})
	p.box(white, extent{front: split, rear: t.rear, low: z - 0.9, top: z + 0.9})
}

func (u *unit) sketchBattery(p pen, t placedPart) {
	p.box(white, t.extent)
	for _, share := range []float64{0.22, 0.78} {
		x := t.front + share*(t.rear-t.front)
		p.box(solid, extent{front: x - 1, rear: x + 1, low: t.top, top: t.top + 1.5})
	}
}

func (u *unit) sketchSupport(p pen, t placedPart) {
	x, _, _ := t.middle()
	middle := (t.low + t.top) / 2
	p.box(white, extent{front: x - 1.3, rear: x + 1.3, low: t.low, top: middle})
	p.box(part, extent{front: t.front, rear: t.rear, low: middle, top: t.top})
	p.box(solid, extent{front: x - 3.5, rear: x + 3.5, low: t.low - 0.6, top: t.low + 0.6})
}

func (u *unit) sketchTarp(p pen, t placedPart) {
	x, _, z := t.middle()
	p.disc(white, x, z, (t.top-t.low)/2)
	p.disc(thin, x, z, (t.top-t.low)/4)
}

func (u *unit) sketchGate(p pen, t placedPart) {
	p.box(dark, t.extent)
	for _, share := range []float64{0.2, 0.8} {
		z := t.low + share*(t.top-t.low)
		p.box(solid, extent{front: t.rear, rear: t.rear + 1.2, low: z - 1.5, top: z + 1.5})
	}
}

// sketchRamp draws ramps stowed.
func (u *unit) sketchRamp(p pen, t placedPart) {
	p.box(white, t.extent)
	tall := t.top-t.low > t.rear-t.front
	for i := 1.0; i < 6; i++ {
		if tall {
			z := t.low + i*(t.top-t.low)/6
			p.poly(thin, false, t.front, z, t.rear, z)
			continue
		}
		x := t.front + i*(t.rear-t.front)/6
		p.poly(thin, false, x, t.low, x, t.top)
	}
}

// sketchOther draws chocks as wedges, a step as rungs, a holder as a tube.
func (u *unit) sketchOther(p pen, t placedPart) {
	switch t.Place {
	case "interior-lamps", "floor-mats": // inside the body
	case "side-door", "escape-door":
		p.box(white, t.extent)
		middle := (t.low + t.top) / 2
		p.box(solid, extent{front: t.rear - 5, rear: t.rear - 2, low: middle - 2, top: middle + 2})
	case "chocks":
		p.poly(white, true, t.front, t.low, t.rear, t.low, t.rear, t.top)
	case "hand-hold":
		p.poly(outline, false, t.front, t.top, t.front, t.low, t.rear, t.low, t.rear, t.top)
		for z := t.low + 7; z < t.top; z += 8 {
			p.poly(outline, false, t.front, z, t.rear, z)
		}
	default:
		p.box(white, t.extent)
		x, _, _ := t.middle()
		p.poly(thin, false, x-1, t.top-2, x+1, t.top-2)
	}
}
