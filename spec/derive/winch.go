package derive

import (
	"math"

	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

var winchStated = Source{Stated, "the winch maker's rating"}

var winchPull = ofPart(Decl{Name: "winch.pull", When: when("winch"), Round: statedMost, Formula: "stall pull with one layer of rope on the drum, the most the winch can pull", Source: winchStated},
	func(w *product.Winch) source.Given[quantity.Mass] { return w.Pull })

// ropeShare is the least ratio of the strength of rope and hook to the stall pull: the winch
// jerks, and rope wears where it bends over the drum. Judgement.
const ropeShare = 1.5

var winchRopeNeed = declare(Decl{
	Name: "winch.rope_needed", When: when("winch"), Engineer: true, Round: wholeUp,
	Formula: "winch.pull × 1.5: what rope and hook must hold",
	Source:  Source{Judgement, "half as much again as the stall pull, for jerks and wear"},
}, func(e *Eval) quantity.Mass { return ropeShare * Get(e, winchPull) })

var _ = ofPart(Decl{Name: "winch.rope_breaking", When: when("winch"), Round: statedMost, Formula: "least breaking force of the rope", Source: Source{Stated, "the rope maker"}},
	func(w *product.Winch) source.Given[quantity.Mass] { return w.RopeBreak })

// layerPull returns the pull of a winch on a layer of rope, of which the first is 1: its torque
// is constant, the arm increases by the rope. Source: statics.
func layerPull(first quantity.Mass, drum, rope quantity.Length, layer int) quantity.Mass {
	return first * quantity.Mass((drum+rope)/(drum+quantity.Length(2*layer-1)*rope))
}

// ropeLayers returns the number of layers of a rope on a drum of a width, wound without gaps.
// It is 0 for a drum narrower than its rope.
func ropeLayers(long, drum, wide, rope quantity.Length) (layers int) {
	turns := math.Floor(float64(wide / rope))
	if rope <= 0 || turns < 1 {
		return 0
	}
	for wound := 0.0; wound < float64(long); layers++ {
		wound += turns * math.Pi * float64(drum+quantity.Length(2*layers+1)*rope)
	}
	return layers
}

var winchLayers = declare(Decl{
	Name: "winch.layers", When: when("winch"), Engineer: true,
	Formula: "layers of winch.rope_length on the drum: in each as many turns as winch.rope_size goes into its width, each turn π × (drum + (2 × layer − 1) × rope)",
	Source:  Source{Arithmetic, "turns beside and on each other"},
}, func(e *Eval) int {
	w := fitted[product.Winch](e)
	n := ropeLayers(Get(e, ropeLength), Read(e, w.Drum), Read(e, w.DrumWidth), Get(e, ropeSize))
	if n == 0 {
		e.Absent("the drum is narrower than the rope")
	}
	return n
})

// winchPullLast is the pull when a load is just behind the winch, with hardly any rope
// out.
var winchPullLast = declare(Decl{
	Name: "winch.pull_last", When: when("winch"), Round: quantity.Rounding{Side: quantity.Down, Step: 10, MetricStep: 10},
	Formula: "winch.pull × (drum + rope) ÷ (drum + (2 × winch.layers − 1) × rope): pull with all rope on the drum",
	Source:  Source{Arithmetic, "the torque of the drum stays the same"},
}, func(e *Eval) quantity.Mass {
	return layerPull(Get(e, winchPull), Read(e, fitted[product.Winch](e).Drum), Get(e, ropeSize), Get(e, winchLayers))
})

// rollingFriction is the resistance of a load that rolls freely on tires, as a fraction of its weight.
const rollingFriction = 0.10 // common practice, the upper of two usual figures

// slopePull returns the pull needed for a rolling load up a slope.
func slopePull(load quantity.Mass, slope quantity.Angle) quantity.Mass {
	sin, cos := math.Sincos(radians(slope))
	return load * quantity.Mass(sin+rollingFriction*cos)
}

var _ = declare(Decl{
	Name: "winch.load_up", When: when("winch"), Round: quantity.Rounding{Side: quantity.Down, Step: 100, MetricStep: 50},
	Formula: "winch.pull_last ÷ (sin + 0.10 × cos of loading.angle, or of level ground), at most weights.cargo_capacity: the heaviest load that rolls freely which the winch pulls up whatever rope is out",
	Source:  Source{Practice, "0.10 for wheels that roll freely; the rest is statics"},
}, func(e *Eval) quantity.Mass {
	slope, _ := Try(e, loadingAngle)
	return min(Get(e, winchPullLast)/slopePull(1, slope), Get(e, cargoCapacity))
})

// ropeStrengths are the least breaking forces of good ropes by diameter, of wire and of
// synthetic fiber. A stronger rope is another rope, or a typing error.
var ropeStrengths = []struct {
	size            quantity.Length
	wire, synthetic quantity.Mass
}{
	{0.1875, 4200, 5500}, {0.25, 7000, 9200}, {0.3125, 10540, 13700}, {0.375, 15100, 20000}, {0.4375, 20400, 27000}, {0.5, 26600, 34000},
}

var ropeStrength = Source{Practice, "steel core wire rope and twelve-strand synthetic rope"}

var winchPlate = ofPart(Decl{Name: "winch.plate_rating", When: when("winch-plate"), Round: statedMost, Formula: "pull that the plate and its fixing can take", Source: fromLine},
	func(w *product.WinchPlate) source.Given[quantity.Mass] { return w.Rating })

var (
	_        = textOfPart(Decl{Name: "winch.rope", When: when("winch"), Formula: "the kind of rope fitted", Source: winchStated}, func(w *product.Winch) source.Given[string] { return w.Rope })
	ropeSize = ofPart(Decl{Name: "winch.rope_size", When: when("winch"), Round: perBall, Formula: "the diameter of the rope fitted", Source: winchStated},
		func(w *product.Winch) source.Given[quantity.Length] { return w.RopeSize })
	ropeLength = ofPart(Decl{Name: "winch.rope_length", When: when("winch"), Formula: "the length of rope fitted", Source: winchStated, Round: quantity.Rounding{Stated: true, US: "ft", Metric: "m", MetricStep: 0.1}},
		func(w *product.Winch) source.Given[quantity.Length] { return w.RopeLength })
	_ = declare(Decl{Name: "winch.stand_off", When: when("winch"), Formula: "the length of rope fitted, never rounded to less", Source: winchStated,
		Round: quantity.Rounding{Side: quantity.Up, US: "ft", Metric: "m"}},
		func(e *Eval) quantity.Length { return Get(e, ropeLength) })
	_ = declare(Decl{Name: "winch.turns_left", When: when("winch"), Formula: "fewest turns of rope to leave on the drum: the clamp at the end alone does not hold the pull, the friction of the turns does; eight do for wire and synthetic rope",
		Source: Source{Practice, ""}},
		func(*Eval) int { return 8 })
	_ = textOfPart(Decl{Name: "winch.remote", When: when("winch"), Formula: "how the winch is worked", Source: winchStated}, func(w *product.Winch) source.Given[string] { return w.Remote })
	_ = ofPart(Decl{Name: "winch.duty_on", When: when("winch"), Formula: "the longest pull in one go", Source: winchStated, Round: asStated},
		func(w *product.Winch) source.Given[quantity.Duration] { return w.DutyOn })
	_ = ofPart(Decl{Name: "winch.duty_rest", When: when("winch"), Formula: "how long the motor must cool after such a pull", Source: winchStated, Round: asStated},
		func(w *product.Winch) source.Given[quantity.Duration] { return w.DutyRest })
	winchCurrent = ofPart(Decl{Name: "winch.current", When: when("winch"), Engineer: true, Formula: "current at rated pull", Source: winchStated, Round: asStated},
		func(w *product.Winch) source.Given[quantity.Current] { return w.Current })
)

var _ = limit(Limit{ID: "winch-rope", MaxReserve: 3, When: when("winch"),
	Protects: "a rope or hook near its limit when the winch stalls breaks and whips through whoever stands there",
	Check: func(e *Eval) {
		w := fitted[product.Winch](e)
		for _, part := range []struct {
			name     string
			breaking source.Given[quantity.Mass]
		}{{"rope", w.RopeBreak}, {"hook", w.HookBreak}} {
			e.require(entry(e, part.breaking), AtLeast, of(e, winchRopeNeed),
				"the "+part.name+" of the winch breaks at %s; for its stall pull it must hold %s")
		}
	}})

var _ = limit(Limit{ID: "winch-rope-table", Severity: source.Warning, When: when("winch"),
	Protects: "a rope said to be stronger than its size can be is another rope, or a slip",
	Check: func(e *Eval) {
		w := fitted[product.Winch](e)
		size, most := Read(e, w.RopeSize), quantity.Mass(0)
		for _, row := range ropeStrengths {
			if row.size > size+0.02 { // metric sizes are close to sizes in inches
				break
			}
			most = row.wire
			if Read(e, w.Rope) == "synthetic" {
				most = row.synthetic
			}
		}
		e.require(entry(e, w.RopeBreak), AtMost, e.calculated(ropeStrength.String(), most, wholeDown, entry(e, w.RopeSize)),
			"the rope is said to break at %s; "+w.Rope.Value+" rope of "+w.RopeSize.Text+" is good for %s")
	}})

// layersMost is the greatest number of layers of rope on a drum: winches have three to six, and
// with more the upper ones crush the lower. Judgement.
const layersMost = 8

var _ = limit(Limit{ID: "winch-drum", MaxReserve: 100, When: when("winch"),
	Protects: "a rope piled high on a drum too narrow for it crushes and jams, and pulls a fraction of what the winch is rated for",
	Check: func(e *Eval) {
		w := fitted[product.Winch](e)
		layers := e.calculated("layers of the rope on the drum", quantity.Count(Get(e, winchLayers)), quantity.Rounding{}, entry(e, w.DrumWidth), entry(e, w.RopeLength), entry(e, w.RopeSize), entry(e, w.Drum))
		e.require(layers, AtMost, e.fromRule(Source{Judgement, "winches wind their rope in three to six layers"}, quantity.Count(layersMost), quantity.Rounding{}),
			"the rope makes %s layers on its drum; expected at most %s")
	}})

var _ = limit(Limit{ID: "winch-edge", NoMargin: true, When: when("winch and tilting"),
	Protects: "a rope that is pulled over the bare edge of a tilted deck is cut there, and the load runs off",
	Check: func(e *Eval) {
		d := fitted[product.Deck](e)
		if d.EdgeRoller.Value {
			return
		}
		w, _ := first[product.Winch](e)
		e.report(wrong(e, d.Tilting, "a winch pulls over the front edge of the deck that tilts, and no roller is there").
			WithRelated(w.Fitting.From, "the winch").WithHint("give edge_roller: true where the deck has one, or offer no winch with it"))
	}})

var _ = limit(Limit{ID: "winch-gravity", NoMargin: true, When: when("winch and gravity-tilt"),
	Protects: "a rope pulled over the front edge swings the empty tail up under the load, and a load in its band never tips the deck to leave it",
	Check: func(e *Eval) {
		d := fitted[product.Deck](e)
		w, _ := first[product.Winch](e)
		e.report(wrong(e, d.Tilting, "a winch pulls onto a deck that tilts by its load alone, and nothing holds the empty tail down").
			WithRelated(w.Fitting.From, "the winch").WithHint("offer the winch with a lift cylinder only"))
	}})

var _ = limit(Limit{ID: "winch-plate-pull", When: when("winch and winch-plate"),
	Protects: "a winch stronger than what holds it tears loose under full pull and flies with its rope",
	Check:    atLeast(winchPlate, winchPull, "the winch plate and its fixing take a pull of %s; the winch stalls at %s")})

var _ = limit(Limit{ID: "winch-anchor", NoMargin: true, When: when("winch"),
	Protects: "a winch bolted to nothing that is rated for its pull tears loose",
	Check: func(e *Eval) {
		if w := fitted[product.Winch](e); !hasPart[product.WinchPlate](e) {
			e.report(wrong(e, w.Pull, "a winch that pulls %s is fitted without a winch plate", w.Pull.Text))
		}
	}})
