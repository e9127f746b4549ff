package derive

import (
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// Latches keep ramps upright and rear gates closed on the road, as locks keep a deck down.

const (
	rearward  = 0.5     // g, 49 CFR 393.102(a): the rearward force to be secured against
	windHead  = 20      // mph of wind against the unit, in addition to its greatest speed. Judgement.
	windPress = 0.00256 // lb/ft² per mph squared, for air at 59 °F: handbooks of wind loads
	flatPlate = 1.2     // drag coefficient of a flat plate across the wind: handbooks of fluid mechanics
	onLatches = 0.5     // fraction of the force on a gate that is hinged at its other edge, for an evenly distributed force
	onBottom  = 2.0 / 3 // fraction of the force on a gate hinged at its top, since a fill presses most at the floor
)

// windForce returns the force of wind on a flat area. Source: handbooks, from memory.
func windForce(speed quantity.Speed, feet2 float64) quantity.Mass {
	return quantity.Pounds(windPress * flatPlate * float64(speed) * float64(speed) * feet2)
}

var latchRound = quantity.Rounding{Side: quantity.Up, Step: 10, MetricStep: 5}

var (
	rampLatch = ofPart(Decl{Name: "ramps.latch_rating", When: when("ramps"), Engineer: true, Round: statedMost, Formula: "what the latches of one ramp hold against a pull at its middle", Source: fromLine},
		func(r *product.Ramp) source.Given[quantity.Mass] { return r.Latch })

	rampLatchLoad = declare(Decl{Name: "ramps.latch_load", When: when("ramps"), Engineer: true, Round: latchRound,
		Formula: "0.00256 lb/ft² × 1.2 × (speed.limit + 20 mph)² × length × width of a ramp that stands up, as if it were closed, + half its weight: pull at its middle",
		Source:  Source{Memory, "wind on a flat plate, from handbooks; half the weight by 49 CFR 393.102(a)"},
	}, func(e *Eval) quantity.Mass {
		r := fitted[product.Ramp](e)
		if Read(e, r.Stow) != "stand-up" {
			e.Absent("the ramps do not stand up on the road")
		}
		area := float64(Read(e, r.Length)) * float64(Read(e, r.Width)) / squareInches
		return windForce(Get(e, speedLimit)+quantity.MilesPerHour(windHead), area) + rearward*Read(e, r.Weight)
	})

	gateLatch = ofPart(Decl{Name: "gate.latch_rating", When: when(gated), Engineer: true, Round: statedMost, Formula: "what all latches of the gate hold together", Source: fromLine},
		func(g *product.Gate) source.Given[quantity.Mass] { return g.Latch })

	gateLatchLoad = declare(Decl{Name: "gate.latch_load", When: when(gated), Engineer: true, Round: latchRound,
		Formula: "weights.cargo_capacity × 0.5 × share of the latches: half, and two thirds of a gate that hangs from its top",
		Source:  Source{Published, "49 CFR 393.102(a): 0.5 g to the rear; a half by evenness, two thirds by the triangle of a fill's pressure"},
	}, func(e *Eval) quantity.Mass {
		onThem := onLatches
		if Read(e, fitted[product.Gate](e).Kind) != "barn" {
			onThem = onBottom
		}
		return latchForce(Get(e, cargoCapacity), onThem)
	})

	stockLatch = ofPart(Decl{Name: "stock.latch_rating", When: when(stockOn), Engineer: true, Round: statedMost, Formula: "what the latches of the rear gate hold together", Source: fromLine},
		func(b *product.StockBody) source.Given[quantity.Mass] { return b.Latch })

	stockLatchLoad = declare(Decl{Name: "stock.latch_load", When: when(stockOn), Engineer: true, Round: latchRound,
		Formula: "weights.cargo_capacity × 0.5 × 0.5: animals thrown against the rear gate, whose hinges bear the other half",
		Source:  Source{Published, "49 CFR 393.102(a): 0.5 g to the rear; a half by evenness"},
	}, func(e *Eval) quantity.Mass { return latchForce(Get(e, cargoCapacity), onLatches) })
)

const gated = "gate-barn or gate-spreader"

// latchForce returns the force on the latches of a gate from a load pushed against it.
func latchForce(load quantity.Mass, onThem float64) quantity.Mass {
	return rearward * load * quantity.Mass(onThem)
}

var (
	_ = limit(Limit{ID: "ramp-latch", MaxReserve: 8, When: when("ramps"),
		Protects: "a ramp that wind and bumps tear from its latch falls onto the road at speed",
		Check:    latchHolds(rampLatch, rampLatchLoad, "the latches of a ramp hold %s; wind and a bump pull at it with %s")})

	_ = limit(Limit{ID: "gate-latch", Convex: true, MaxReserve: 8, When: when(gated),
		Protects: "a gate that bursts open spills its load before the wheels of whoever follows",
		Check:    latchHolds(gateLatch, gateLatchLoad, "the latches of the gate hold %s; a load thrown back pulls at them with %s")})

	_ = limit(Limit{ID: "stock-latch", Convex: true, MaxReserve: 8, When: when(stockOn),
		Protects: "a gate that bursts open lets animals out among traffic",
		Check:    latchHolds(stockLatch, stockLatchLoad, "the latches of the rear gate hold %s; animals thrown back pull at them with %s")})

	_ = limit(Limit{ID: "latch-unrated", Severity: source.Warning, NoMargin: true, When: when("ramps or " + gated + " or " + stockOn),
		Protects: "nobody knows whether a latch that is not rated holds",
		Check: func(e *Eval) {
			if r, ok := first[product.Ramp](e); ok && r.Data.Stow.Value == "stand-up" && !r.Data.Latch.Set {
				e.report(wrong(e, r.Data.Stow, "the ramp stands up on the road, and nothing says what its latches hold").WithHint("give latch_rating, from whoever designed them"))
			}
			if g, ok := first[product.Gate](e); ok && !g.Data.Latch.Set {
				e.report(wrong(e, g.Data.Kind, "nothing says what the latches of the gate hold").WithHint("give latch_rating, from whoever designed them"))
			}
			if b, ok := first[product.StockBody](e); ok && !b.Data.Latch.Set {
				e.report(wrong(e, b.Data.Release, "nothing says what the latches of the rear gate hold").WithHint("give latch_rating, from whoever designed them"))
			}
		}})
)

// latchHolds returns the check of latches whose rating is stated.
func latchHolds(rating, load Key[quantity.Mass], says string) func(*Eval) {
	bears := atLeast(rating, load, says)
	return func(e *Eval) {
		if _, stated := Try(e, rating); stated { // otherwise latch-unrated reports it
			bears(e)
		}
	}
}
