package draw

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// target is a point on the unit, in inches, that a number can point at.
type target struct {
	x, y, z float64
	hidden  bool // not visible from the left
	above   bool // better seen from above
}

// landmarks are names of places that are not fittings.
var landmarks = map[string]func(u *unit) (s target, ok bool){
	"hub": func(u *unit) (target, bool) {
		return target{x: u.wheels[0].x, y: u.track / 2, z: u.wheels[0].z}, true
	},
	"brakes": func(u *unit) (target, bool) {
		w := u.wheels[0]
		return target{x: w.x + 0.3*w.radius, y: u.track / 2, z: w.z - 0.2*w.radius}, true
	},
	"suspension": func(u *unit) (target, bool) { return u.suspension(), true },
	"jacking":    func(u *unit) (target, bool) { return u.jacking(), true },
	"tape": func(u *unit) (target, bool) {
		return target{x: u.floor.front + 0.3*(u.floor.rear-u.floor.front), y: u.floor.left, z: u.floor.low + 1}, true
	},
	"disconnect": func(u *unit) (target, bool) { return u.corner("power-unit", 0.2, 0.7) },
	"pendant":    func(u *unit) (target, bool) { return u.corner("power-unit", 0.85, 0.3) },
	"frame": func(u *unit) (target, bool) {
		return target{x: (u.floor.front + u.wheels[0].x) / 2, y: 20, z: (u.frameLow + u.frameTop) / 2}, true
	},
}

// Landmarks returns the names that a stop may point at, apart from the kinds and places of
// fittings, sorted.
func Landmarks() []string { return slices.Sorted(maps.Keys(landmarks)) }

// corner returns a point of a fitting, by fractions of its length and height.
func (u *unit) corner(part string, along, up float64) (target, bool) {
	t, ok := u.find(part)
	_, y, _ := t.middle()
	return target{x: t.front + along*(t.extent.rear-t.front), y: y, z: t.low + up*(t.top-t.low), hidden: t.hidden}, ok
}

// suspension returns a point between two axles, or ahead of a single one.
func (u *unit) suspension() target {
	w := u.wheels[0]
	s := target{x: w.x - 0.95*w.radius, y: u.track/2 - u.tireWidth, z: w.z + 0.35*w.radius}
	if len(u.wheels) > 1 {
		s.x, s.z = (w.x+u.wheels[1].x)/2, w.z+0.75*w.radius
	}
	return s
}

// jacking returns a point of the frame just ahead of the first wheel.
func (u *unit) jacking() target {
	w := u.wheels[0]
	return target{x: w.x - 1.25*w.radius, y: u.track/2 - u.tireWidth, z: u.frameLow}
}

// targetOf returns the target of a stop: a place or kind of fitting of this unit, or a
// landmark. Any other word is an error.
func (u *unit) targetOf(part string) (target, error) {
	if place, known := landmarks[part]; known {
		if s, ok := place(u); ok {
			return s, nil
		}
	}
	t, ok := u.find(part)
	if !ok {
		return target{}, fmt.Errorf("a stop points at %q, which is no part of this unit; its parts are: %s", part, strings.Join(u.partNames(), ", "))
	}
	last := u.wheels[len(u.wheels)-1]
	x, y, z := t.middle()
	s := target{x: x, y: y, z: z, hidden: t.hidden}
	switch t.Kind {
	case "axle":
		w := u.wheelOf(t)
		return target{x: w.x, y: u.track / 2, z: w.z}, nil
	case "tire":
		return target{x: last.x + 0.55*last.radius, y: u.track / 2, z: last.z + 0.6*last.radius}, nil
	case "wheel":
		return target{x: last.x - 0.3*u.rim, y: u.track / 2, z: last.z + 0.5*u.rim}, nil
	case "coupler":
		if u.gooseneck {
			s.z = t.low + 0.25*(t.top-t.low)
		}
	case "chain":
		// On the chain's arc, as drawn by sketchChain.
		s.x, s.z = t.front-6, t.low-4
		if u.gooseneck {
			s.x, s.z = t.front-2, t.low-21
		}
	case "deck":
		s = target{x: u.floor.front + 0.62*(u.tail-u.floor.front), y: 0, z: u.floor.top, above: true}
	case "dump-box":
		s = target{x: u.floor.front + 0.4*(u.floor.rear-u.floor.front), y: u.floor.left, z: (u.floor.low + u.floor.top) / 2}
	case "cradle":
		s = target{x: u.floor.front + 0.3*(u.floor.rear-u.floor.front), y: u.floor.left, z: (u.floor.low + u.floor.top) / 2}
	case "anchor":
		s = u.anchorTarget(t)
	case "jack":
		s.z = t.low + 0.75*(t.top-t.low)
	case "tarp":
		s.x, s.z = t.front+4, t.top-4
	case "ramp":
		s.x = t.front + 0.8*(t.extent.rear-t.front)
	case "box":
		s.z = t.low + 0.6*(t.top-t.low)
	}
	return s, nil
}

// anchorTarget returns one anchor of a row along the edge of the deck. Which one depends on
// the kind, so that rings and pockets do not have the same target.
func (u *unit) anchorTarget(t placedPart) target {
	xs := u.anchorsAt(t)
	s := target{x: xs[0], y: u.floor.left, z: u.deckTop() + 1, above: true}
	if t.Place != "rings" {
		s.x, s.z = xs[min(2, len(xs)-1)], u.floor.low
		if t.given {
			s.z = (t.low + t.top) / 2
		}
	}
	return s
}

func (u *unit) wheelOf(t placedPart) wheel {
	for _, w := range u.wheels {
		if t.At != nil && w.x == float64(t.At.X.Value) {
			return w
		}
	}
	return u.wheels[0]
}

// partNames returns what a stop may point at.
func (u *unit) partNames() (list []string) {
	for _, t := range u.parts {
		list = append(list, t.Place)
	}
	return list
}
