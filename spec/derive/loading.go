package derive

import (
	"math"

	"ownerguide/spec"
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// statics is a unit on its coupler and its axles, for the lever law. Weights are in lb, lengths
// in inches behind the coupler, shares are fractions.
type statics struct {
	empty, tongue       float64 // empty weight and the part of it on the coupler
	tongueLeast         float64 // lower bound of the same part
	center              float64 // of the axle group
	shareLow, shareHigh float64 // range of the fraction of the loaded weight on the coupler
	vertical, axles     float64 // ratings of the coupler and of all axles together
	front, rear         float64 // ends of the load floor
}

// onCoupler returns the least coupler weight in lb with cargo at x.
func (s statics) onCoupler(cargo, x float64) float64 {
	return s.tongueLeast + cargo*(s.center-x)/s.center
}

// band returns the range, in inches behind the coupler, in which the center of gravity of a
// cargo must be: the coupler carries its share of the loaded weight, neither coupler nor axles
// carry more than their rating, and the cargo's center is on the floor and not behind the
// axles. ok is false if there is no such position. The upper share is applied to the actual
// loaded weight, so that every position in the band keeps the range stated to the owner.
func (s statics) band(cargo float64) (front, rear float64, ok bool) {
	if cargo <= 0 || s.center <= 0 {
		return 0, 0, false
	}
	total := s.empty + cargo
	// The position at which the coupler carries a given weight.
	at := func(coupler, empty float64) float64 { return s.center * (1 - (coupler-empty)/cargo) }
	most := min(s.shareHigh*total, s.vertical)
	least := max(s.shareLow*total, total-s.axles)
	front = max(at(most, s.tongue), s.front)
	rear = min(at(least, s.tongueLeast), s.rear, s.center)
	return front, rear, front <= rear
}

// lengths are entries to be added up.
type lengths []source.Given[quantity.Length]

func (ls lengths) sum(e *Eval) (sum quantity.Length) {
	for _, g := range ls {
		if g.Set {
			sum += Read(e, g)
		}
	}
	return sum
}

// floor is the load floor: the deck or, if there is none, the dump box, or the bunks or rollers
// of a boat trailer. Its entries have not been read yet.
type floor struct {
	front, height lengths // behind the coupler; above ground
	long          lengths
}

// loadFloor returns the load floor. A deck's own thickness, its size along z, is part of its
// height; the side walls of a box are not.
func loadFloor(e *Eval) floor {
	on := func(p *spec.Fitting, thick bool, long ...source.Given[quantity.Length]) floor {
		if p.At == nil {
			e.Absent("the line does not say where %s stands", p.Place)
		}
		f := floor{lengths{p.At.X}, lengths{p.At.Z}, long}
		if thick && p.Size != nil {
			f.height = append(f.height, p.Size.High)
		}
		return f
	}
	if p, ok := first[product.Deck](e); ok {
		return on(p.Fitting, true, p.Data.Fixed, p.Data.Tilting, p.Data.Dovetail)
	}
	if p, ok := first[product.DumpBox](e); ok {
		return on(p.Fitting, false, p.Data.Long)
	}
	if p, ok := first[product.Cradle](e); ok {
		return on(p.Fitting, true, p.Data.Long)
	}
	e.Absent("the unit has no deck, no dump box and nothing for a boat to lie on")
	return floor{}
}

var (
	floorFront = declare(Decl{Name: "loading.deck_front", Engineer: true, Formula: "front end of deck, dump box or cradle, behind the coupler", Source: fromLine},
		func(e *Eval) quantity.Length { return loadFloor(e).front.sum(e) })

	floorLength = declare(Decl{Name: "loading.deck_length", Aside: true, Round: wholeDown, Formula: "length of deck, dump box or cradle, dovetail included", Source: fromLine},
		func(e *Eval) quantity.Length {
			long := loadFloor(e).long.sum(e)
			if long <= 0 {
				e.Absent("the line does not say how long the deck is")
			}
			return long
		})

	floorHeight = declare(Decl{Name: "height.deck", Aside: true, Round: wholeUp, Formula: "top of deck or cradle, or floor of dump box, above ground, unit level and empty", Source: fromLine},
		func(e *Eval) quantity.Length { return loadFloor(e).height.sum(e) })

	rampLength = ofPart(Decl{Name: "ramps.length", When: when("ramps"), Round: asStated, Formula: "length of one ramp"}, func(r *product.Ramp) source.Given[quantity.Length] { return r.Length })
	rampRating = ofPart(Decl{Name: "ramps.rating", When: when("ramps"), Round: statedMost, Formula: "rating of the pair"}, func(r *product.Ramp) source.Given[quantity.Mass] { return r.Rating })

	rampSlope = declare(Decl{Name: "loading.ramp_angle", When: when("ramps"), Round: wholeUp, Formula: "angle whose sine is the height of the deck's rear edge (height.deck less the drop of a dovetail) over ramps.length",
		Source: Source{Arithmetic, "right triangle"}},
		func(e *Eval) quantity.Angle {
			a, ok := rampAngle(rampRise(e), Get(e, rampLength))
			if !ok {
				e.Absent("the ramps are shorter than the deck is high")
			}
			return a
		})

	_ = ofPart(Decl{Name: "ramps.weight", When: when("ramps"), Round: wholeUp, Formula: "weight of one ramp"}, func(r *product.Ramp) source.Given[quantity.Mass] { return r.Weight })

	_ = ofPart(Decl{Name: "loading.fixed_front_length", When: when("fixed-front"), Round: wholeDown, Formula: "length of the deck that does not tilt", Source: fromLine},
		func(d *product.Deck) source.Given[quantity.Length] { return d.Fixed })

	_ = ofPart(Decl{Name: "loading.tilt_deck_length", Aside: true, When: when("tilting"), Round: wholeDown, Formula: "length of the deck that tilts", Source: fromLine},
		func(d *product.Deck) source.Given[quantity.Length] { return d.Tilting })

	heightOverall = declare(Decl{Name: "height.overall", Round: wholeUp, Formula: "height with deck or box down; where an option changes the size, the option's figure", Source: fromLine},
		func(e *Eval) quantity.Length { return Read(e, e.Build.OverallHigh()) })

	_ = declare(Decl{Name: "height.load", When: when("not enclosed and not livestock"), Round: wholeDown,
		Formula: "height.limit − height.deck: how far a load may stand above deck, cradle or floor of the box; under a load the deck stands lower than empty, if anything",
		Source:  Source{Memory, "the size limits of the states; difference of two heights"}},
		func(e *Eval) quantity.Length { return clearAbove(Get(e, heightLimit), Get(e, floorHeight)) })

	widthOverall = declare(Decl{Name: "width.overall", Round: wholeUp, Formula: "width without lamps and mud flaps; where an option changes the size, the option's figure", Source: fromLine},
		func(e *Eval) quantity.Length { return Read(e, e.Build.OverallWide()) })

	lengthOverall = declare(Decl{Name: "length.overall", Round: quantity.Rounding{Side: quantity.Up, US: "ft", Step: 0.1, Metric: "m", MetricStep: 0.01}, Formula: "length, coupler included; where an option changes the size, the option's figure", Source: fromLine},
		func(e *Eval) quantity.Length { return Read(e, e.Build.OverallLong()) })
)

// clearAbove returns the height left above a floor by a height limit.
func clearAbove(limit, floor quantity.Length) quantity.Length { return max(0, limit-floor) }

// rampAngle returns the angle of a ramp of a length with a rise; ok is false if it is too
// short.
func rampAngle(rise, long quantity.Length) (a quantity.Angle, ok bool) {
	if long <= 0 || rise < 0 || rise > long {
		return 0, false
	}
	return quantity.Angle(math.Asin(float64(rise/long)) * 180 / math.Pi), true
}

// readStatics reads the figures for the lever law.
func readStatics(e *Eval) statics {
	front := float64(Get(e, floorFront))
	return statics{
		empty: float64(Get(e, emptyWeight)), tongue: float64(Get(e, couplerEmpty)), tongueLeast: float64(Get(e, couplerLeast)), center: float64(Get(e, axleCenter)),
		shareLow: float64(Get(e, shareLow)) / 100, shareHigh: float64(Get(e, shareHigh)) / 100,
		vertical: float64(Get(e, verticalRating)), axles: float64(Get(e, gawrTotal)),
		front: front, rear: front + float64(Get(e, floorLength)),
	}
}

// bandLoads are the percentages of the cargo capacity for which the band is calculated.
var bandLoads = [4]string{"25", "50", "75", "100"}

var bands = [4][2]Key[quantity.Length]{declareBand(0), declareBand(1), declareBand(2), declareBand(3)}

// bandCargo returns the cargo of band i.
func bandCargo(e *Eval, i int) float64 { return float64(Get(e, cargoCapacity)) * float64(i+1) / 4 }

func declareBand(i int) (ends [2]Key[quantity.Length]) {
	for end, name := range [2]string{"front", "rear"} {
		ends[end] = declare(Decl{Name: "loading.cg_band." + bandLoads[i] + "." + name, Round: [2]quantity.Rounding{wholeUp, wholeDown}[end], // the band only becomes narrower
			Formula: name + " end of the stretch, from the front of the deck, in which the center of gravity of a cargo of " + bandLoads[i] +
				" % of weights.cargo_capacity must lie: coupler weight within hitch.tongue_range of the loaded weight and ratings.coupler_vertical, axles within ratings.gawr.total, on the deck, not behind axles.center",
			Source: Source{Arithmetic, "lever law: coupler weight is weights.coupler_empty, for the rear end weights.coupler_least, plus cargo times (axles.center less x) over axles.center"}},
			func(e *Eval) quantity.Length {
				s := readStatics(e)
				front, rear, ok := s.band(bandCargo(e, i))
				if !ok {
					e.Absent("no place on the deck keeps the coupler weight right")
				}
				return quantity.Length([2]float64{front, rear}[end] - s.front)
			})
	}
	return ends
}

var (
	_ = declare(Decl{Name: "loading.even_load_off", When: when("not boat"), Ways: evenLoadWays, Round: wholeUp,
		Formula: "how far the middle of the deck, where a load spread evenly has its center, lies outside loading.cg_band.100; absent when it lies inside", Source: arithmetic},
		func(e *Eval) quantity.Length {
			off := evenLoadOff(e)
			if off == 0 {
				e.Absent("a full load spread evenly keeps the coupler weight right")
			}
			return off
		})

	_ = declare(Decl{Name: "loading.nose_heavy", Ways: func(e *Eval) []bool { return []bool{noseShare(e) > Get(e, shareHigh)} }, Round: quantity.Rounding{},
		Formula: "weights.coupler_empty ÷ weights.empty, where it is more than hitch.tongue_range.high: a light load ahead of the axles then adds to what is too much already", Source: arithmetic},
		func(e *Eval) quantity.Percent {
			on := noseShare(e)
			if on <= Get(e, shareHigh) {
				e.Absent("empty, the coupler carries no more than its share")
			}
			return on
		})

	bandTolerance = declare(Decl{Name: "loading.cg_tolerance", Round: quantity.Rounding{Side: quantity.Up, Step: 0.1, MetricStep: 1}, Engineer: true,
		Formula: "weights.coupler_empty × 10 %, or 2 % where it was weighed, × axles.center ÷ weights.cargo_capacity: how far either end of loading.cg_band.100 moves when the coupler weight is that far off",
		Source:  Source{Judgement, "10 % is what coupler-measured-far lets by; a scale is read to 2 %"}},
		func(e *Eval) quantity.Length {
			cargo, off := Get(e, cargoCapacity), quantity.Mass(couplerFar)
			if e.Build.Sheet.Measured.OnCoupler.Set {
				Read(e, e.Build.Sheet.Measured.OnCoupler)
				off = couplerScale
			}
			if cargo <= 0 {
				e.Absent("nothing is left for cargo")
			}
			return Get(e, axleCenter) * quantity.Length(off*Get(e, couplerEmpty)/cargo)
		})

	_ = declare(Decl{Name: "loading.uplift", When: when("not tilting"), Round: wholeDown, Engineer: true,
		Formula: "weights.coupler_least plus weights.cargo_capacity times (axles.center less the rear end of the deck) over axles.center: coupler load while a full-capacity piece stands at the rear edge; absent unless negative",
		Source:  Source{Arithmetic, "lever law"}},
		func(e *Eval) quantity.Mass {
			s := readStatics(e)
			t := s.onCoupler(float64(Get(e, cargoCapacity)), s.rear)
			if t >= 0 {
				e.Absent("%s stay on the coupler", e.text(quantity.Pounds(t), wholeDown))
			}
			return quantity.Pounds(t)
		})
)

// evenLoadOff returns the distance of the middle of the floor from the band of a full load; zero
// inside it, and if there is no band.
func evenLoadOff(e *Eval) quantity.Length {
	s := readStatics(e)
	front, rear, ok := s.band(bandCargo(e, 3))
	middle := (s.front + s.rear) / 2
	if !ok {
		return 0
	}
	return quantity.Length(max(front-middle, middle-rear, 0))
}

// noseShare returns the share of the empty weight that the coupler carries.
func noseShare(e *Eval) quantity.Percent {
	return quantity.Percent(100 * Get(e, couplerEmpty) / max(Get(e, emptyWeight), 1))
}

// evenLoadWays tells which end of the band lies beyond the middle of the floor, and by which of the bounds of
// [statics.band]: each keeps a position, affine over the cargo, on one side of it.
func evenLoadWays(e *Eval) []bool {
	s := readStatics(e)
	cargo := bandCargo(e, 3)
	middle, total := (s.front+s.rear)/2, s.empty+cargo
	at := func(coupler, empty float64) float64 { return s.center * (1 - (coupler-empty)/cargo) }
	return []bool{at(s.shareHigh*total, s.tongue) > middle, at(s.vertical, s.tongue) > middle,
		at(s.shareLow*total, s.tongueLeast) < middle, at(total-s.axles, s.tongueLeast) < middle, s.center < middle}
}

// narrow is the least width of the full-load band that is practicable with a tape measure
// and a machine. Judgement.
const narrow = 12 // in

// couplerScale is the relative error of a coupler weight from a scale. Judgement.
const couplerScale = 0.02

var (
	_ = limit(Limit{ID: "cg-band-empty", NoMargin: true, Convex: true,
		Protects: "with no right place for the load, any place sways or overloads the tow vehicle",
		Check: func(e *Eval) {
			s := readStatics(e)
			for i, load := range bandLoads {
				cargo := bandCargo(e, i)
				if _, _, ok := s.band(cargo); ok || cargo <= 0 {
					continue
				}
				e.report(e.conflict(of(e, couplerEmpty), of(e, axleCenter),
					"with "+load+" %% of the cargo capacity no place on the deck keeps the coupler weight right: it is %s empty, the axles stand %s behind the coupler"))
			}
		}})

	_ = limit(Limit{ID: "cg-band-narrow", Severity: source.Warning, Convex: true,
		Protects: "a band too narrow to hit leaves the load where it sways",
		Check: func(e *Eval) {
			s := readStatics(e)
			front, rear, ok := s.band(bandCargo(e, 3))
			if wide := e.calculated("length of the band for a full load", quantity.Length(rear-front), wholeDown, of(e, couplerEmpty)); !ok ||
				e.compare(wide, AtLeast, e.fromRule(Source{Judgement, "what tape measure and machine can hit"}, quantity.Length(narrow), wholeUp)) {
				return
			}
			f := e.conflict(of(e, couplerEmpty), of(e, axleCenter), "a full load has too little play: the coupler weight is %s empty, the axles stand %s behind the coupler")
			e.report(f.WithHint("the band for a full load is %s wide; expected at least %s", e.text(quantity.Length(rear-front), wholeDown), e.text(quantity.Length(narrow), wholeUp)))
		}})

	_ = limit(Limit{ID: "cg-tolerance", Severity: source.Warning, Convex: true, MaxReserve: 20,
		Protects: "a band that a slip of the coupler weight swallows leaves no place that is right for sure",
		Check: func(e *Eval) {
			s := readStatics(e)
			front, rear, ok := s.band(bandCargo(e, 3))
			if !ok {
				return // cg-band-empty reports it
			}
			play := of(e, bandTolerance)
			wide := e.calculated("length of the band for a full load", quantity.Length(rear-front), wholeDown, of(e, couplerEmpty))
			e.require(wide, AtLeast, e.calculated("twice loading.cg_tolerance", 2*Get(e, bandTolerance), tenthUp, play),
				"the band for a full load is %s long; a coupler weight slightly off moves its ends by %s together")
		}})

	_ = limit(Limit{ID: "cg-uniform-load", Severity: source.Warning, When: when("not boat"), NoMargin: true, Convex: true,
		Protects: "a full load spread evenly, as anyone would, gives a wrong coupler weight on this unit",
		Check: func(e *Eval) {
			off := evenLoadOff(e)
			if off == 0 {
				return
			}
			f := e.conflict(of(e, floorFront), of(e, axleCenter), "a full load spread evenly over the deck, which begins %s behind the coupler, has its center outside the band; the axles stand at %s")
			e.report(f.WithHint("the middle of the deck lies %s outside the band; the guide tells the owner", e.text(off, wholeUp)))
		}})

	// Two machines that drive on one after the other may together be a full load, and the
	// guide states the rating of the ramps. So this is a warning, and an error if not even
	// half of the load can drive on.
	_ = limit(Limit{ID: "ramps-weak", Convex: true, MaxReserve: 10, When: when("ramps"),
		Protects: "ramps that carry less than half of the cargo limit break under the first machine",
		Check: func(e *Eval) {
			half := e.calculated("half of weights.cargo_capacity, by judgement", Get(e, cargoCapacity)/2, wholeUp, of(e, cargoCapacity))
			e.require(of(e, rampRating), AtLeast, half, "the pair of ramps is rated %s; half of a full load is %s")
		}})

	_ = limit(Limit{ID: "ramps-rating", Severity: source.Warning, Convex: true, When: when("ramps"),
		Protects: "a machine within the cargo limit can still break the ramps",
		Check:    atLeast(rampRating, cargoCapacity, "the pair of ramps is rated %s; the unit carries %s")})

	_ = limit(Limit{ID: "height-limit",
		Protects: "a unit that is too high for the bridges of some states even without a load hits one",
		Check:    atMost(heightOverall, heightLimit, "the overall height is %s; without a permit every state allows %s")})

	_ = limit(Limit{ID: "width-limit",
		Protects: "a wider unit needs a permit on nearly every road",
		Check:    atMost(widthOverall, widthLimit, "the overall width is %s; without a permit the law allows %s")})
)
