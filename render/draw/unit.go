package draw

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"ownerguide/spec"
	"ownerguide/spec/product"
)

// extent is a box, in inches of the unit's geometry.
type extent struct {
	front, rear float64 // x
	right, left float64 // y
	low, top    float64 // z
}

func (e extent) middle() (x, y, z float64) {
	return (e.front + e.rear) / 2, (e.right + e.left) / 2, (e.low + e.top) / 2
}

// placedPart is a fitting with its extent, from the line or, if that has none, at the usual
// place of such a part.
type placedPart struct {
	*spec.Fitting
	extent
	given  bool // the line states the place
	hidden bool // on the right side
}

// wheel is one wheel position seen from the left.
type wheel struct{ x, z, radius float64 }

// unit is the geometry of a build as needed by the drawings.
type unit struct {
	build                         *spec.Build
	parts                         []placedPart
	wheels                        []wheel // front axle first
	track                         float64 // distance of the centers of the wheels
	tireWidth                     float64 // of both tires of a dual pair
	rim                           float64 // radius
	dual                          bool
	front, rear                   float64 // ends of the unit
	high, wide                    float64 // with deck or box lowered
	gooseneck                     bool
	floor                         extent  // of deck, dump box or cradle
	fixed                         float64 // x at which the tilting part begins; floor.rear on a fixed deck
	tail                          float64 // x at which the dovetail begins; floor.rear without one
	drop                          float64 // of the dovetail
	rail                          float64 // height of the side rails above the deck
	hasDeck                       bool
	cradle                        *product.Cradle // nil if the unit has a deck or box instead
	hingeX, hingeZ                float64
	hinged                        bool
	frameLow, frameTop, frameRear float64
}

// hiddenFrom is the distance right of the centerline from which a part is hidden from the
// left, behind the tongue and what is on it; in inches.
const hiddenFrom = 10

// Usual heights of frame members, in inches, if the line has none.
const (
	channel = 5.0  // of a light frame
	beam    = 12.0 // of a gooseneck's frame
)

// readUnit returns the geometry. The error says what the line lacks; success depends only on the
// parts and places noted below.
func readUnit(b *spec.Build) (u *unit, err error) {
	err = b.TraceFailure(func() error { u, err = geometry(b); return err }, func() {
		_ = b.Has("tilting") || b.Has("dump") // these need a hinge
		_, _ = spec.Fitted[*product.Tire](b), spec.Fitted[*product.Axle](b)
		_ = spec.Fitted[*product.Deck](b) || spec.Fitted[*product.DumpBox](b) || spec.Fitted[*product.Cradle](b)
		b.PartsWhere(func(p *spec.Fitting) bool {
			return p.At == nil && slices.Contains([]string{"axle", "deck", "dump-box", "cradle"}, p.Kind)
		})
	})
	return u, err
}

func geometry(b *spec.Build) (*unit, error) {
	u := &unit{build: b, gooseneck: !b.Has("bumper-pull"), hinged: b.Has("tilting") || b.Has("dump")}
	overall := b.Overall()
	u.wide, u.high = float64(overall.Wide.Value), float64(overall.High.Value)
	if err := cmp.Or(u.readWheels(), u.readFloor()); err != nil {
		return nil, err
	}
	if u.hinged {
		h := b.Model.Hinge
		if !h.X.Set || !h.Z.Set {
			return nil, errors.New("the line does not say where the hinge is")
		}
		u.hingeX, u.hingeZ = float64(h.X.Value), float64(h.Z.Value)
	}
	u.readFrame()
	b.TraceDetached(func() { // drawing a part is not a reason to fail
		for _, p := range b.Parts() {
			u.parts = append(u.parts, u.readPart(p))
		}
	})
	if c, ok := u.find("coupler"); ok {
		u.front = c.extent.front
	}
	u.rear = u.front + float64(overall.Long.Value)
	if u.cradle != nil {
		u.frameRear = u.rear - 4 // to the lamps
	}
	for _, t := range u.parts {
		if t.given {
			u.high = max(u.high, t.top)
		}
	}
	u.rear = max(u.rear, u.floor.rear)
	return u, nil
}

func (u *unit) readWheels() error {
	tire, ok := spec.First[*product.Tire](u.build)
	if !ok {
		return errors.New("no tire is fitted")
	}
	radius := float64(tire.Data.Diameter.Value) / 2
	u.tireWidth = float64(tire.Data.Width.Value)
	u.rim = 0.56 * radius
	if w, ok := spec.First[*product.Wheel](u.build); ok && w.Data.Dual.Value {
		u.dual = true
		u.tireWidth = max(2.2*u.tireWidth, float64(w.Data.Width.Value))
	}
	for _, a := range spec.All[*product.Axle](u.build) {
		if a.Fitting.At == nil {
			return fmt.Errorf("the line does not say where %s stands", a.Fitting.Place)
		}
		u.wheels = append(u.wheels, wheel{float64(a.Fitting.At.X.Value), float64(a.Fitting.At.Z.Value), radius})
		u.track = float64(a.Data.Track.Value)
	}
	if len(u.wheels) == 0 {
		return errors.New("no axle is fitted")
	}
	if u.track == 0 || u.track+u.tireWidth > u.wide+2 {
		u.track = u.wide - u.tireWidth
	}
	return nil
}

// readFloor finds the deck, the dump box or the cradle.
func (u *unit) readFloor() error {
	box := func(f *spec.Fitting, long, wide, high float64) error {
		if f.At == nil {
			return fmt.Errorf("the line does not say where %s is", f.Place)
		}
		if f.Size != nil && f.Size.High.Set {
			high = float64(f.Size.High.Value)
		}
		if f.Size != nil && f.Size.Wide.Set {
			wide = float64(f.Size.Wide.Value)
		}
		x, z := float64(f.At.X.Value), float64(f.At.Z.Value)
		u.floor = extent{x, x + long, -wide / 2, wide / 2, z, z + high}
		u.fixed, u.tail = u.floor.rear, u.floor.rear
		return nil
	}
	if p, ok := spec.First[*product.Deck](u.build); ok {
		d := p.Data
		u.hasDeck = true
		long := float64(d.Fixed.Value + d.Tilting.Value + d.Dovetail.Value)
		if err := box(p.Fitting, long, float64(d.Inside.Value), 2); err != nil {
			return err
		}
		u.rail = float64(d.RailHeight.Value)
		u.drop = float64(d.DovetailDrop.Value)
		u.tail = u.floor.rear - float64(d.Dovetail.Value)
		if d.Tilting.Set {
			u.fixed = u.floor.front + float64(d.Fixed.Value)
		}
		return nil
	}
	if p, ok := spec.First[*product.DumpBox](u.build); ok {
		err := box(p.Fitting, float64(p.Data.Long.Value), float64(p.Data.Wide.Value), float64(p.Data.Tall.Value))
		u.fixed = u.floor.front
		return err
	}
	if p, ok := spec.First[*product.Cradle](u.build); ok {
		u.cradle = p.Data
		return box(p.Fitting, float64(p.Data.Long.Value), u.wide/2, 4)
	}
	return errors.New("the unit has no deck, no dump box and nothing for a boat to lie on")
}

// readFrame sets the ends of the main members: under the floor, to the hinge of what tilts
// or to the tail.
func (u *unit) readFrame() {
	u.frameTop = u.floor.low
	depth := channel
	if u.gooseneck {
		depth = beam
	}
	switch {
	case u.cradle != nil:
		u.frameTop = min(u.floor.low, u.wheels[0].z+channel)
	case !u.hasDeck:
		u.frameTop = min(u.floor.low, u.hingeZ+2)
		depth = 2 * channel
	}
	u.frameLow = u.frameTop - depth
	u.frameRear = u.tail
	switch {
	case u.hinged && u.hasDeck:
		u.frameRear = u.hingeX + 6
	case u.hinged:
		u.frameRear = u.hingeX + 4
	}
}

// readPart returns the extent of one fitting.
func (u *unit) readPart(f *spec.Fitting) placedPart {
	if f.At == nil {
		return placedPart{Fitting: f, extent: u.usualPlace(f)}
	}
	x, y, z := float64(f.At.X.Value), float64(f.At.Y.Value), float64(f.At.Z.Value)
	t := placedPart{Fitting: f, extent: extent{x, x, y, y, z, z}, given: true}
	if f.Size != nil {
		t.rear += float64(f.Size.Long.Value)
		t.left += float64(f.Size.Wide.Value)
		t.top += float64(f.Size.High.Value)
	}
	t.hidden = t.left <= -hiddenFrom
	return t
}

// usualPlace returns the place of a part for which the line has none: most are small and near
// a part that has one.
func (u *unit) usualPlace(f *spec.Fitting) extent {
	rear := u.wheels[len(u.wheels)-1]
	first := u.wheels[0]
	half := u.track / 2
	small := func(x, y, z, size float64) extent {
		return extent{x - size/2, x + size/2, y - size/2, y + size/2, z - size/2, z + size/2}
	}
	frame := (u.frameLow + u.frameTop) / 2
	neck := frame
	if u.gooseneck {
		neck = u.frameTop + 20
	}
	switch f.Kind {
	case "tire":
		return small(rear.x+0.8*rear.radius, half, rear.z+0.1*rear.radius, 2)
	case "wheel":
		return small(rear.x, half, rear.z, 2)
	case "axle":
		return small(first.x, half, first.z, 2)
	case "coupler":
		return extent{-4, 10, -3, 3, neck - 3, neck + 4}
	case "chain":
		return small(12, 0, neck-2, 2)
	case "connector":
		return small(4, 5, neck+4, 4)
	case "breakaway", "actuator":
		return small(18, 5, neck+5, 6)
	case "jack":
		return extent{12, 17, -9, -4, 3, neck + 12}
	case "cylinder":
		return u.cylinder()
	case "hose":
		if p, ok := spec.First[*product.PowerUnit](u.build); ok && p.Fitting.At != nil {
			e := u.readPart(p.Fitting)
			return small(e.rear, e.left, e.low, 2)
		}
		return small((u.floor.front+first.x)/2, half, frame, 2)
	case "circuit":
		return small((u.floor.front+first.x)/2, half, frame, 2)
	case "anchor", "deck":
		return small((u.floor.front+u.tail)/2, u.floor.left, u.deckTop(), 2)
	case "lamps", "rear-guard", "ramp", "support", "gate":
		return small(u.floor.rear-3, u.floor.left, u.floor.low, 4)
	case "dump-box", "tarp":
		return small(u.floor.front+4, u.floor.left, u.floor.top, 4)
	case "prop", "lock", "cushion":
		return small(u.fixed+12, 0, u.floor.low-2, 4)
	}
	// Boxes, batteries, holders and the like are on the tongue.
	return small(u.floor.front-10, 0, u.frameTop+4, 8)
}

// cylinder returns the box between the pins of the lift cylinder.
func (u *unit) cylinder() extent {
	foot, head := u.build.Model.CylinderFoot, u.build.Model.CylinderHead
	if !foot.X.Set || !head.X.Set {
		return extent{u.hingeX - 60, u.hingeX - 30, -3, 3, u.frameLow, u.frameTop}
	}
	x1, z1, x2, z2 := float64(foot.X.Value), float64(foot.Z.Value), float64(head.X.Value), float64(head.Z.Value)
	return extent{min(x1, x2), max(x1, x2), -3, 3, min(z1, z2), max(z1, z2)}
}

// find returns the fitting in a place, or otherwise the first of a kind.
func (u *unit) find(part string) (placedPart, bool) {
	i := slices.IndexFunc(u.parts, func(t placedPart) bool { return t.Place == part })
	if i < 0 {
		i = slices.IndexFunc(u.parts, func(t placedPart) bool { return t.Kind == part })
	}
	if i < 0 {
		return placedPart{}, false
	}
	return u.parts[i], true
}

// deckTop returns the height of the load floor.
func (u *unit) deckTop() float64 {
	if u.hasDeck || u.cradle != nil {
		return u.floor.top
	}
	return u.floor.low
}

// dropAt returns the drop of the dovetail at x.
func (u *unit) dropAt(x float64) float64 {
	if x <= u.tail || u.floor.rear <= u.tail {
		return 0
	}
	return u.drop * min(1, (x-u.tail)/(u.floor.rear-u.tail))
}

// wheelsOutside reports whether the wheels are beside the floor and not under it.
func (u *unit) wheelsOutside() bool {
	return u.track/2-u.tireWidth/2 >= u.floor.left-3
}

// tilts reports whether a part moves with the deck or box.
func (u *unit) tilts(t placedPart) bool {
	if !u.hinged {
		return false
	}
	switch t.Kind {
	case "gate", "tarp", "dump-box":
		return true
	case "anchor": // its sketch handles those on a fixed part
		return u.hasDeck
	case "rack", "box", "winch-plate", "winch":
		return u.hasDeck && t.extent.front >= u.fixed && t.low >= u.floor.low
	case "lamps", "rear-guard":
		return u.hasDeck && t.extent.front > u.hingeX
	}
	return false
}

// axleCenter returns the x of the center of the axles.
func (u *unit) axleCenter() float64 {
	sum := 0.0
	for _, w := range u.wheels {
		sum += w.x
	}
	return sum / float64(len(u.wheels))
}
