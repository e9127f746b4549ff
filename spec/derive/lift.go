package derive

import (
	"math"
	"slices"

	"ownerguide/spec"
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
)

const (
	// liftShare is the usable fraction of the cylinders' force, by judgement: pins have
	// friction, and pressure is lost between valve and piston.
	liftShare = 0.85
	// liftSteps is the number of steps of the stroke in the search for its weakest point.
	liftSteps = 400
)

var lifting = when("power-tilt or dump")

// liftCase is the balance of moments about the hinge: cylinders against the empty body and the
// cargo.
type liftCase struct {
	hoist
	steps []step
	top   quantity.Angle // the angle at the end of the stroke
	force quantity.Mass  // of all cylinders at relief
	body  quantity.Mass  // weight of what rises, empty
	bodyX float64        // its center, inches ahead of the hinge
	cargo float64        // center of the cargo, inches ahead of the hinge
}

// capacity returns the greatest cargo that can be raised over the whole stroke, the angle at
// which this is least, and the arm of the cylinders there. Centers of gravity are taken as level
// with the hinge: a higher one moves toward the hinge during the lift and is easier to raise.
// Cargo on or behind the hinge needs no lift; the result is then infinite.
func (l liftCase) capacity() (least quantity.Mass, at quantity.Angle, lever float64) {
	least = quantity.Mass(math.Inf(1))
	for _, s := range l.stroke() {
		push := liftShare*float64(l.force)*s.arm - float64(l.body)*l.bodyX*s.cos
		if l.cargo*s.cos <= 0 {
			continue
		}
		if w := quantity.Mass(push / (l.cargo * s.cos)); w < least {
			least, at, lever = w, s.angle, s.arm
		}
	}
	return max(0, least), at, lever
}

// need returns the greatest force of all cylinders together during the stroke to raise a
// cargo, without losses.
func (l liftCase) need(cargo quantity.Mass) quantity.Mass {
	var most float64
	for _, s := range l.stroke() {
		most = max(most, (float64(l.body)*l.bodyX+float64(cargo)*l.cargo)*s.cos/s.arm)
	}
	return quantity.Mass(most)
}

// strokeOf is the cache key of a stroke.
type strokeOf struct {
	hoist
	top quantity.Angle
}

// step is one point of the stroke.
type step struct {
	angle    quantity.Angle
	cos, arm float64
}

// stroke returns the points of the stroke from bottom to top.
func (l liftCase) stroke() []step {
	if l.steps != nil {
		return l.steps
	}
	from, to := max(l.down(), l.retracted), min(l.extended, l.lengthAt(l.top))
	steps := make([]step, liftSteps+1)
	for i := range steps {
		length := from + (to-from)*quantity.Length(i)/liftSteps
		angle := l.raised(length)
		steps[i] = step{angle, math.Cos(radians(angle)), l.lever(length)}
	}
	return steps
}

// readLift reads the balance. Cargo is at the forward edge of the band for a full load, where
// it is hardest to lift; if there is no such band, at the center of what
// rises.
func readLift(e *Eval) liftCase {
	l := liftCase{hoist: readHoist(e), force: Get(e, cylinderForce)}
	hinge := Read(e, e.Build.Model.Hinge.X)
	var part tiltPart
	var center quantity.Length
	if e.Has("dump") {
		box := fitted[product.DumpBox](e)
		part, l.top = readDumpBox(e), Get(e, dumpAngle)
		l.body, center = Read(e, box.Empty), Read(e, box.Center)
	} else {
		deck := fitted[product.Deck](e)
		part, l.top = readTilting(e), Get(e, tiltAngle)
		l.body, center = Read(e, deck.TiltWeight), Read(e, deck.TiltCenter)
	}
	if e.run.strokeOf != (strokeOf{l.hoist, l.top}) {
		e.run.strokeOf, e.run.stroke = strokeOf{l.hoist, l.top}, l.stroke()
	}
	l.steps = e.run.stroke
	x := (part.front + part.rear) / 2
	if edge, ok := liftBand(e); ok {
		x = max(part.front, edge)
	}
	var moment float64
	l.body, moment = raisedMoment(e, part, l.body, center)
	if l.body > 0 {
		l.bodyX = moment / float64(l.body)
	}
	l.cargo = float64(hinge - x)
	return l
}

// raisedMoment adds the options bolted to an empty body to its weight, and returns the moment
// of all that about the hinge, in inch-pounds.
func raisedMoment(e *Eval, part tiltPart, body quantity.Mass, center quantity.Length) (weight quantity.Mass, moment float64) {
	hinge := Read(e, e.Build.Model.Hinge.X)
	weight, moment = body, float64(body)*float64(hinge-center)
	for _, o := range raisedOptions(e, part) {
		more := Read(e, o.Weighs)
		moment += float64(more) * float64(hinge-Read(e, o.Center))
		weight += more
	}
	return weight, moment
}

// raisedEmpty returns the weight of the empty deck or box with the options bolted to it, and
// its moment about the hinge, in inch-pounds.
func raisedEmpty(e *Eval) (weight quantity.Mass, moment float64) {
	part := readTilting
	if e.Has("dump") {
		part = readDumpBox
	}
	body, center := raisedBody(e)
	return raisedMoment(e, part(e), body, center)
}

// liftWays reports, for each way in which a lift can bear the load, whether it does. What
// counts is the moment of the load: the lesser of two loads times the least of three arms. Each
// of the six moments, of the load the line allows or of the cargo capacity C at one of three
// positions, is affine in the total weights, or affine over C, so the weights for which it is
// at most something form a convex set. (If the coupler carries its greatest share of a full
// load, C times the arm is affine, because the loaded weight is then the GVWR.)
func liftWays(e *Eval, bears func(l liftCase, cargo quantity.Mass) bool) (ways []bool) {
	l, s := readLift(e), readStatics(e)
	hinge, cargo := Read(e, e.Build.Model.Hinge.X), Get(e, cargoCapacity)
	full := s.empty + float64(cargo)
	places := []float64{float64(readRising(e).front), s.front, s.center * (1 - (min(s.shareHigh*full, s.vertical)-s.tongue)/float64(cargo))}
	loads := []quantity.Mass{cargo}
	if given := e.Build.Model.LiftLimit; given.Set {
		loads = append(loads, Read(e, given))
	}
	for _, x := range places {
		for _, load := range loads {
			l.cargo = max(0, float64(hinge)-x)
			ways = append(ways, bears(l, load))
		}
	}
	return ways
}

// raisedOptions returns the options whose weight rises with the body: one of their parts is
// above it. An option that adds the body itself is left out, because the body has a weight of
// its own. A part next to the body that extends above its lower edge is included too: more
// weight is on the safe side.
func raisedOptions(e *Eval, body tiltPart) (raised []*product.Option) {
	rising := e.Build.PartsAs(func(p *spec.Fitting) bool { return rises(p, body) }, counted)
	bodies := e.Build.PartsAs(func(p *spec.Fitting) bool { return p.Kind == "deck" || p.Kind == "dump-box" }, counted)
	in := func(o *product.Option, parts []*spec.Fitting) bool {
		return slices.ContainsFunc(parts, func(p *spec.Fitting) bool { return o.Parts.Get(p.Place) != nil })
	}
	for _, chosen := range e.Build.OptionsWhere(func(o *product.Option) bool { return in(o, rising) }) {
		if o := chosen.Option; !in(o, bodies) && o.Weighs.Value > 0 {
			raised = append(raised, o)
		}
	}
	return raised
}

// rises reports whether a part is above the body that rises.
func rises(p *spec.Fitting, body tiltPart) bool {
	return p.Kind != "deck" && p.Kind != "dump-box" && p.At != nil && p.Size != nil &&
		body.front <= p.At.X.Value && p.At.X.Value < body.rear && p.At.Z.Value+p.Size.High.Value >= body.low
}

var liftCapacity = declare(Decl{
	Name: "lift.capacity", When: lifting, Engineer: true, Round: quantity.Rounding{Side: quantity.Down, Step: 10, MetricStep: 5},
	Formula: "(0.85 × cylinder.force_at_relief × lift.cylinder_arm − lift.body_weight × lift.body_arm) ÷ lift.cargo_arm: moments about the hinge where the stroke is weakest, for cargo centered at loading.cg_band.100.front; weights.cargo_capacity where such a cargo presses on no cylinder",
	Source:  Source{Judgement, "balance of moments; 0.85 for friction and pressure loss"},
}, func(e *Eval) quantity.Mass {
	l := readLift(e)
	most := Get(e, cargoCapacity)
	least, _, _ := l.capacity()
	if math.IsInf(float64(least), 1) {
		return most
	}
	return least
})

// atWorst declares a length of the balance at the weakest point of the stroke.
func atWorst(name, formula string, of func(l liftCase, cos, lever float64) float64) {
	declare(Decl{
		Name: "lift." + name, When: lifting, Engineer: true, Round: quantity.Rounding{Step: 0.1, MetricStep: 1},
		Formula: formula + ", the body at lift.worst_angle",
		Source:  Source{Arithmetic, "geometry of the hoist, over the stroke"},
	}, func(e *Eval) quantity.Length {
		l := readLift(e)
		_, at, lever := l.capacity()
		return quantity.Length(of(l, math.Cos(radians(at)), lever))
	})
}

func init() {
	atWorst("cylinder_arm", "arm of the cylinders about the hinge", func(_ liftCase, _, lever float64) float64 { return lever })
	atWorst("body_arm", "distance ahead of the hinge, along the ground, of the center of the empty body and the options bolted to it", func(l liftCase, cos, _ float64) float64 { return l.bodyX * cos })
	atWorst("cargo_arm", "distance ahead of the hinge, along the ground, of cargo centered at loading.cg_band.100.front", func(l liftCase, cos, _ float64) float64 { return l.cargo * cos })
}

var _ = declare(Decl{
	Name: "lift.body_weight", When: lifting, Engineer: true, Round: quantity.Rounding{Side: quantity.Up, Step: 10, MetricStep: 5},
	Formula: "weight of the empty body and of the options bolted to it",
	Source:  Source{Arithmetic, ""},
}, func(e *Eval) quantity.Mass {
	return readLift(e).body
})

var _ = declare(Decl{
	Name: "lift.worst_angle", When: lifting, Engineer: true, Round: quantity.Rounding{Step: 0.1, MetricStep: 0.1},
	Formula: "angle of the body at which lift.capacity is least",
	Source:  Source{Arithmetic, "balance of moments over the stroke"},
}, func(e *Eval) quantity.Angle {
	_, at, _ := readLift(e).capacity()
	return at
})

// liftLimit is the load that the owner is allowed to lift.
var liftLimit = declare(Decl{
	Name: "lift.limit", When: lifting, Round: wholeDown, // as weights.cargo_capacity, which it often is
	Formula: "the heaviest load the maker allows to be lifted; weights.cargo_capacity where the line gives none or more",
	Source:  Source{Stated, "the product line; held against lift.capacity"},
}, func(e *Eval) quantity.Mass {
	given := e.Build.Model.LiftLimit
	if !given.Set {
		return Get(e, cargoCapacity)
	}
	return min(Read(e, given), Get(e, cargoCapacity))
})

var pressureAtLoad = declare(Decl{
	Name: "cylinder.pressure_at_load", Engineer: true, When: lifting, Round: quantity.Rounding{Side: quantity.Up, Step: 10, MetricStep: 50},
	Formula: "force the cylinders need for lift.limit at the worst place of the stroke ÷ cylinder.area ÷ cylinder.count",
	Source:  Source{Published, "fluid-power handbooks: P = F / A; force by balance of moments"},
}, func(e *Eval) quantity.Pressure {
	l := readLift(e)
	cargo, count := Get(e, liftLimit), Get(e, cylinderCount)
	if count < 1 {
		e.Absent("a lift without a cylinder")
	}
	return pressureFor(l.need(cargo)/quantity.Mass(count), Get(e, cylinderArea))
})

var _ = limit(Limit{ID: "relief-load", When: lifting,
	Protects: "a relief valve that opens before the load is up leaves it hanging half way",
	Ways: func(e *Eval) []bool {
		count, area, relief := quantity.Mass(Get(e, cylinderCount)), Get(e, cylinderArea), Get(e, hydraulicsRelief)
		return liftWays(e, func(l liftCase, cargo quantity.Mass) bool {
			return !short(relief, pressureFor(l.need(cargo)/count, area))
		})
	}, Check: atLeast(hydraulicsRelief, pressureAtLoad, "the relief valve opens at %s; lifting the load the owner is allowed needs %s")})

var _ = limit(Limit{ID: "lift-capacity", When: lifting,
	Protects: "an owner who may load more than the cylinders lift stands beside a stalled, half-raised load",
	Ways: func(e *Eval) []bool {
		return liftWays(e, func(l liftCase, cargo quantity.Mass) bool {
			least, _, _ := l.capacity()
			return !short(least, cargo)
		})
	}, Check: func(e *Eval) {
		if short(Get(e, hydraulicsRelief), Get(e, pressureAtLoad)) {
			return // relief-load reports it
		}
		e.require(of(e, liftLimit), AtMost, of(e, liftCapacity),
			"the owner is allowed to lift %s; the cylinders lift %s with losses counted")
	}})

// If the pump does not hold the deck down, its own weight must keep it on its front end.
var _ = limit(Limit{ID: "tilt-balance", When: when("tilting and not power-tilt"),
	Protects: "an empty deck heavier behind its hinge flies up the moment its latch is opened",
	Check: func(e *Eval) {
		center := fitted[product.Deck](e).TiltCenter
		e.require(entry(e, center), Below, entry(e, e.Build.Model.Hinge.X),
			"the empty deck has its center %s behind the coupler, its hinge stands at %s; expected the center ahead of the hinge")
	}})

// A deck that extends behind its hinge carries every machine over it, and the weight then
// turns from a load on the deck's support into a load that drives it. A dump box has its hinge
// at its rear end: the load always presses on the cylinders, the pump's check valve holds it,
// and against a burst hose the owner has the body prop and the rule never to stand under a
// raised box.
var _ = limit(Limit{ID: "holding-valve", NoMargin: true, When: when("tilting"),
	Protects: "a load that passes behind the hinge throws the deck down unless something holds it",
	Check: func(e *Eval) {
		hinge, deck := e.Build.Model.Hinge.X, readTilting(e)
		cushion := hasPart[product.Cushion](e)
		if cylinder, pump := first[product.Cylinder](e); cushion && pump {
			e.report(e.at(cylinder.Fitting.From, "the deck has a lift cylinder and a cushion cylinder; expected one of the two").
				WithHint("an option that brings the pump leaves the cushion out: without: [cushion]"))
			return
		}
		if cushion || !short(Read(e, hinge), deck.rear) {
			return
		}
		unit, pump := first[product.PowerUnit](e)
		switch {
		case !pump:
			e.report(wrong(e, hinge, "the load passes behind the hinge at %s and no cushion cylinder is fitted", hinge.Text))
			return
		case !opensByPressure(unit.Data):
			e.report(wrong(e, unit.Data.Holding, "the load passes behind the hinge at %s and the power unit has no holding valve that keeps it", hinge.Text).
				WithRelated(hinge.At, "the hinge"))
			return
		}
	}})

// opensByPressure reports whether the valve at the cylinder stays closed, whichever way the
// load pulls, until the pump pressure opens it. Its function is from memory.
func opensByPressure(u *product.PowerUnit) bool {
	return u.Holding.Value == "pilot-check" || u.Holding.Value == "counterbalance"
}

var _ = limit(Limit{ID: "manual-lowering", NoMargin: true, When: when("hydraulics"),
	Protects: "a lowering valve that does not bring the load down tempts whoever waits to open a fitting",
	Check: func(e *Eval) {
		u := fitted[product.PowerUnit](e)
		if opensByPressure(u) && (u.Lowering.Value == "screw" || u.Lowering.Value == "lever") {
			e.report(wrong(e, u.Lowering, "a valve worked by a %s opens on the side of the pump; the %s valve at the cylinder stays shut without pressure",
				u.Lowering.Value, u.Holding.Value).WithRelated(u.Holding.At, "the holding valve"))
		}
	}})

// liftBand returns the x of the forward edge of the band for a full load.
func liftBand(e *Eval) (x quantity.Length, ok bool) {
	edge, ok := Try(e, bands[3][0])
	if !ok {
		return 0, false
	}
	return Get(e, floorFront) + edge, true
}
