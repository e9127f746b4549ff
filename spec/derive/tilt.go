package derive

import (
	"math"

	"ownerguide/spec"
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// spot is a point relative to the hinge: inches forward of it and above it.
type spot struct{ fore, up float64 }

// turned returns the position of a point of the body after its front has been raised by an
// angle about the hinge.
func (s spot) turned(by quantity.Angle) spot {
	sin, cos := math.Sincos(radians(by))
	return spot{s.fore*cos - s.up*sin, s.fore*sin + s.up*cos}
}

// highest returns the greatest height above the hinge that a point reaches while the body is
// raised to an angle, which may be on the way.
func (s spot) highest(to quantity.Angle) float64 {
	best := max(s.up, s.turned(to).up)
	if peak := math.Atan2(s.fore, s.up); 0 < peak && peak < radians(to) {
		best = max(best, math.Hypot(s.fore, s.up))
	}
	return best
}

func radians(a quantity.Angle) float64 { return float64(a) * math.Pi / 180 }

func degrees(r float64) quantity.Angle { return quantity.Degrees(r * 180 / math.Pi) }

// hoist is the triangle of hinge, cylinder foot on the frame and cylinder head on the body, with
// the body lowered.
type hoist struct {
	foot, head          spot
	retracted, extended quantity.Length
}

func (h hoist) footArm() float64 { return math.Hypot(h.foot.fore, h.foot.up) }
func (h hoist) headArm() float64 { return math.Hypot(h.head.fore, h.head.up) }

// down returns the distance between the pins with the body lowered.
func (h hoist) down() quantity.Length {
	return quantity.Inches(math.Hypot(h.head.fore-h.foot.fore, h.head.up-h.foot.up))
}

// rising reports whether extending the cylinder raises the front of the body: seen from the
// hinge, the head must be above the foot.
func (h hoist) rising() bool { return h.foot.fore*h.head.up-h.foot.up*h.head.fore > 0 }

// included returns the angle at the hinge between foot and head for a length of the cylinder.
// Lengths for which there is no triangle are replaced by the nearest for which there is
// one. Source: law of cosines.
func (h hoist) included(length quantity.Length) quantity.Angle {
	a, b, c := h.footArm(), h.headArm(), float64(length)
	return degrees(math.Acos(min(1, max(-1, (a*a+b*b-c*c)/(2*a*b)))))
}

// raised returns the angle of the body at a length of the cylinder.
func (h hoist) raised(length quantity.Length) quantity.Angle {
	return h.included(length) - h.included(h.down())
}

// lever returns the arm of the cylinder's force about the hinge: twice the area of the triangle
// divided by the cylinder's length.
func (h hoist) lever(length quantity.Length) float64 {
	return h.footArm() * h.headArm() * math.Sin(radians(h.included(length))) / float64(length)
}

// lengthAt is the inverse of raised.
func (h hoist) lengthAt(angle quantity.Angle) quantity.Length {
	a, b := h.footArm(), h.headArm()
	return quantity.Inches(math.Sqrt(a*a + b*b - 2*a*b*math.Cos(radians(h.included(h.down())+angle))))
}

// pinPlay is the tolerance between drawing and cylinder with the body lowered.
const pinPlay quantity.Length = 0.25

// fault returns why the triangle cannot work; empty if it can.
func (h hoist) fault() string {
	switch {
	case h.footArm() == 0 || h.headArm() == 0:
		return "a cylinder pin stands on the hinge"
	case !h.rising():
		return "seen from the hinge, the cylinder head stands below its foot: the cylinder would pull the body down"
	case h.extended <= h.retracted:
		return "the cylinder has no stroke"
	case h.down() < h.retracted-pinPlay:
		return "with the body down the pins are closer than the cylinder is short"
	case h.down() > h.extended:
		return "with the body down the pins are farther apart than the cylinder is long"
	case float64(h.extended) > h.footArm()+h.headArm():
		return "the cylinder would swing past dead centre before it is fully out"
	}
	return ""
}

// readHoist reads the triangle; an invalid one makes the value absent, and hoist-geometry
// reports why.
func readHoist(e *Eval) hoist {
	h := anyHoist(e)
	if fault := h.fault(); fault != "" {
		e.Absent("%s", fault)
	}
	return h
}

// anyHoist reads the triangle without validation.
func anyHoist(e *Eval) hoist {
	m, c := e.Build.Model, fitted[product.Cylinder](e)
	return hoist{
		foot: besideHinge(e, m.CylinderFoot), head: besideHinge(e, m.CylinderHead),
		retracted: Read(e, c.Retracted), extended: Read(e, c.Extended),
	}
}

func besideHinge(e *Eval, p product.Point) spot {
	hinge := e.Build.Model.Hinge
	return spot{float64(Read(e, hinge.X) - Read(e, p.X)), float64(Read(e, p.Z) - Read(e, hinge.Z))}
}

// tiltPart is the body that rises, in side view.
type tiltPart struct {
	front, rear quantity.Length // x of its ends
	low, top    quantity.Length // z of its lower and upper edge, including rails and sides
}

// readRising reads the ends and edges of the dump box or the tilting deck.
func readRising(e *Eval) tiltPart {
	if e.Has("dump") {
		return readDumpBox(e)
	}
	return readTilting(e)
}

// readTilting reads the ends and edges of the tilting deck.
func readTilting(e *Eval) tiltPart {
	p := positioned[product.Deck](e, "no deck with a place is fitted")
	deck := tiltPart{front: Read(e, p.Fitting.At.X), low: Read(e, p.Fitting.At.Z)}
	if p.Data.Fixed.Set {
		deck.front += Read(e, p.Data.Fixed)
	}
	deck.rear = deck.front + Read(e, p.Data.Tilting)
	if p.Data.Dovetail.Set {
		deck.rear += Read(e, p.Data.Dovetail)
	}
	deck.top = deck.low
	if p.Fitting.Size != nil {
		deck.top += Read(e, p.Fitting.Size.High)
	}
	if p.Data.RailHeight.Set {
		deck.top += Read(e, p.Data.RailHeight)
	}
	return deck
}

var cylinderAngle = declare(Decl{
	Name: "tilt.cylinder_angle", When: when("power-tilt"), Engineer: true, Round: quantity.Rounding{Step: 0.1, MetricStep: 0.1},
	Formula: "angle at the hinge between the cylinder's pins, fully out, less the same with the deck down; each by the law of cosines",
	Source:  Source{Arithmetic, "law of cosines"},
}, func(e *Eval) quantity.Angle {
	h := readHoist(e)
	return h.raised(h.extended)
})

var groundAngle = declare(Decl{
	Name: "tilt.ground_angle", When: when("tilting"), Engineer: true, Round: tenthUp,
	Formula: "angle at which the rear edge of the deck meets level ground, from its distance behind the hinge and the height of hinge and edge",
	Source:  Source{Arithmetic, "right triangle"},
}, func(e *Eval) quantity.Angle {
	deck := readTilting(e)
	if d := fitted[product.Deck](e).DovetailDrop; d.Set {
		deck.low -= Read(e, d)
	}
	hinge := e.Build.Model.Hinge
	height := Read(e, hinge.Z)
	angle, ok := meetsGround(deck.rear-Read(e, hinge.X), deck.low-height, height)
	if !ok {
		e.Absent("the rear edge of the deck does not reach the ground")
	}
	return angle
})

// meetsGround returns the angle at which an edge behind the hinge touches level ground. The
// height of the edge is relative to the hinge, negative below it; ok is false if it never
// touches.
func meetsGround(behind, above, hingeHeight quantity.Length) (angle quantity.Angle, ok bool) {
	radius := math.Hypot(float64(behind), float64(above))
	if behind <= 0 || float64(hingeHeight) > radius {
		return 0, false
	}
	return degrees(math.Asin(float64(hingeHeight)/radius) + math.Atan2(float64(above), float64(behind))), true
}

// tiltAngle is the slope that a machine climbs, so it is rounded up.
var tiltAngle = declare(Decl{
	Name: "tilt.angle", Aside: true, When: when("tilting"), Round: wholeUp,
	Formula: "the smaller of tilt.ground_angle and, with a lift cylinder, tilt.cylinder_angle",
	Source:  Source{Arithmetic, "what stops the deck first"},
}, func(e *Eval) quantity.Angle {
	ground, touches := Try(e, groundAngle)
	if !e.Has("power-tilt") {
		return Get(e, groundAngle)
	}
	if cylinder := Get(e, cylinderAngle); !touches || cylinder < ground {
		return cylinder
	}
	return ground
})

// raised.height is that of the empty unit: cargo on the deck rises with it.
var _ = declare(Decl{
	Name: "raised.height", When: when("tilting or dump"), Round: quantity.Rounding{Side: quantity.Up, US: "ft", Metric: "m", Step: 0.5, MetricStep: 0.1},
	Formula: "the highest any corner of the deck or box, or of what is bolted to it, stands above level ground on its way up; at least height.overall",
	Source:  Source{Arithmetic, "rotation about the hinge"},
}, func(e *Eval) quantity.Length {
	hinge := e.Build.Model.Hinge
	x, z := Read(e, hinge.X), Read(e, hinge.Z)
	best := Get(e, heightOverall)
	angle, corners := raisedCorners(e)
	for _, c := range corners {
		s := spot{float64(x - c.front), float64(c.top - z)}
		best = max(best, z+quantity.Inches(s.highest(angle)))
	}
	return best
})

// raisedCorners returns the angle by which the body rises, and everything that rises with it.
func raisedCorners(e *Eval) (quantity.Angle, []tiltPart) {
	body := readRising(e)
	corners := []tiltPart{body}
	for _, p := range e.Build.PartsAs(func(p *spec.Fitting) bool { return rises(p, body) }, placeAndSize) {
		corners = append(corners, tiltPart{front: Read(e, p.At.X), top: Read(e, p.At.Z) + Read(e, p.Size.High)})
	}
	if rack, ok := first[product.Rack](e); ok && e.Has("full-tilt") {
		corners = append(corners, tiltPart{front: body.front, top: body.top + Read(e, rack.Data.Height)})
	}
	return Get(e, risingAngle(e)), corners
}

// risingAngle is how far dump box or tilting deck rises.
func risingAngle(e *Eval) Key[quantity.Angle] {
	if e.Build.Has("dump") {
		return dumpAngle
	}
	return tiltAngle
}

// lines.clearance is for lines up to 50 kV; it is more for higher voltages, which nobody can
// recognize from the ground.
var _ = declare(Decl{
	Name: "lines.clearance", When: when("tilting or dump or boat"), Round: quantity.Rounding{Side: quantity.Up, US: "ft", Metric: "m", MetricStep: 0.01},
	Formula: "10 ft from any part of unit and load to a power line of up to 50 kV",
	Source:  Source{Published, "29 CFR 1926.1408 table A"},
}, func(*Eval) quantity.Length { return quantity.Inches(120) })

// overTravel is the angle by which a cylinder may continue after the deck touches level ground:
// enough for a hollow, too little to lift the unit off its wheels.
// Judgement.
const overTravel quantity.Angle = 3

var _ = limit(Limit{ID: "tilt-travel", Severity: source.Warning, When: when("power-tilt"),
	Protects: "a cylinder that carries on when the deck is down presses it into the ground and lifts wheels or coupler",
	Check: func(e *Eval) {
		ground, ok := Try(e, groundAngle)
		if !ok {
			return // the deck ends above the ground by design
		}
		cylinder := of(e, cylinderAngle)
		// The stroke is what a person would change.
		cylinder.from = append(entry(e, fitted[product.Cylinder](e).Extended).sources(), cylinder.sources()...)
		e.require(cylinder, AtMost, e.calculated("tilt.ground_angle and 3 degrees", ground+overTravel, wholeDown, of(e, groundAngle)),
			"the cylinder tilts the deck by %s; beyond %s it lifts the unit off the ground")
	}})

var _ = limit(Limit{ID: "hoist-geometry", NoMargin: true, When: when("power-tilt or dump"),
	Protects: "cylinder pins drawn where the cylinder cannot work make every angle, height and lift in the guide wrong",
	Check: func(e *Eval) {
		m, c, h := e.Build.Model, fitted[product.Cylinder](e), anyHoist(e)
		fault := h.fault()
		if fault == "" {
			return
		}
		down := e.text(h.down(), quantity.Rounding{Step: 0.01, MetricStep: 0.1})
		f := wrong(e, m.CylinderHead.X, "%s; pins %s apart with the body down, cylinder %s to %s",
			fault, down, c.Retracted.Text, c.Extended.Text)
		e.report(f.WithRelated(m.CylinderFoot.X.At, "cylinder foot").WithRelated(c.Retracted.At, "the cylinder"))
	}})
