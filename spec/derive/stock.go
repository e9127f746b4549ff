package derive

import (
	"math"

	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

const (
	squareInches = 144.0 // in a square foot
	openShare    = 10    // percent of the floor area that must be open in the walls. Common practice.
	hoofShare    = 0.5   // fraction of an animal's weight on one hoof while it steps up or turns. Judgement.
	stockStep    = 20    // in: animals balk at higher steps and scrape their shins. Common practice.
)

var stockSpace = Source{Published, "a cattle raisers' association's loading tip, read on its public page: 1.3 ft² of floor for 100 lb of cattle"}

const stockOn = "livestock"

var (
	stockInside = ofPart(Decl{Name: "stock.inside_height", When: when(stockOn), Round: statedMost, Formula: "height inside", Source: fromLine},
		func(b *product.StockBody) source.Given[quantity.Length] { return b.Tall })

	stockWidth = ofPart(Decl{Name: "stock.opening_width", When: when(stockOn), Round: statedMost, Formula: "clear width of the rear gate", Source: fromLine},
		func(b *product.StockBody) source.Given[quantity.Length] { return b.Opening.Wide })

	stockOpening = ofPart(Decl{Name: "stock.opening_height", When: when(stockOn), Round: statedMost, Formula: "clear height of the rear gate", Source: fromLine},
		func(b *product.StockBody) source.Given[quantity.Length] { return b.Opening.High })

	_ = ofPart(Decl{Name: "stock.heaviest", When: when(stockOn), Round: statedMost, Formula: "the heaviest animal it is made for", Source: fromLine},
		func(b *product.StockBody) source.Given[quantity.Mass] { return b.Heaviest })

	stockFloor = declare(Decl{Name: "stock.floor_area", When: when(stockOn), Engineer: true, Round: wholeDown, Formula: "loading.deck_length × width between the walls", Source: arithmetic},
		func(e *Eval) quantity.Area {
			return quantity.SquareInches(float64(Get(e, floorLength)) * float64(Read(e, fitted[product.Deck](e).Inside)))
		})

	stockOpen = declare(Decl{Name: "stock.open_share", When: when(stockOn), Engineer: true, Round: tenthDown, Formula: "area of the openings that cannot be shut ÷ stock.floor_area × 100", Source: arithmetic},
		func(e *Eval) quantity.Percent {
			return quantity.Percent(100 * Read(e, fitted[product.StockBody](e).Open) / max(quantity.Area(1), Get(e, stockFloor)))
		})

	stockRoof = declare(Decl{Name: "stock.roof_height", When: when(stockOn), Engineer: true, Round: wholeUp, Formula: "height.deck plus stock.inside_height: the lowest that the roof can stand", Source: arithmetic},
		func(e *Eval) quantity.Length { return Get(e, floorHeight) + Get(e, stockInside) })

	_ = declare(Decl{Name: "law.stock_hours", When: when(stockOn + " and market-us"), Round: quantity.Rounding{Stated: true, US: "h", Metric: "h"}, Formula: "28 hours in a row", Source: Source{Memory, "49 USC 80502(a)"}},
		func(*Eval) quantity.Duration { return quantity.Minutes(28 * 60) })

	_ = stockHeads("calf", 400)
	_ = stockHeads("feeder", 600)
	_ = stockHeads("cow", 1200)
)

// stockHeads declares the number of cattle of a weight that the trailer takes.
func stockHeads(kind string, weighs quantity.Mass) Key[int] {
	each := declare(Decl{Name: "stock.weight." + kind, When: when(stockOn), Round: asStated, Formula: "a weight to count with", Source: Source{Judgement, "three weights that cattle are hauled at"}},
		func(*Eval) quantity.Mass { return weighs })
	return declare(Decl{Name: "stock.head." + kind, When: when(stockOn), Formula: "the lesser of stock.floor_area ÷ (1.3 ft² × stock.weight." + kind + " ÷ 100 lb) and weights.cargo_capacity ÷ stock.weight." + kind + ", whole animals", Source: stockSpace},
		func(e *Eval) int {
			return heads(Get(e, stockFloor), Get(e, cargoCapacity), Get(e, each))
		})
}

// stockRoom returns the floor area for one animal.
func stockRoom(weighs quantity.Mass) quantity.Area {
	return quantity.SquareInches(1.3 * squareInches * float64(weighs) / 100)
}

// heads returns the number of animals that both floor and capacity allow.
func heads(floor quantity.Area, capacity, weighs quantity.Mass) int {
	return int(math.Floor(min(float64(floor)/float64(stockRoom(weighs)), float64(capacity)/float64(weighs)) + same))
}

var (
	_ = limit(Limit{ID: "stock-height", When: when(stockOn), MaxReserve: 10,
		Protects: "a height that is told too low takes the roof off below a bridge",
		Check:    atMost(stockRoof, heightOverall, "floor and height inside make %s; the overall height is %s")})

	_ = limit(Limit{ID: "stock-opening", When: when(stockOn), MaxReserve: 10,
		Protects: "an opening said to be larger than the inside breaks backs and heads",
		Check:    func(e *Eval) { openingFits(e, stockOpening, stockWidth, stockInside) }})

	_ = limit(Limit{ID: "stock-air", When: when(stockOn), MaxReserve: 20,
		Protects: "animals die of heat and their own vapors in a body that the wind does not go through",
		Check: func(e *Eval) {
			share := of(e, stockOpen)
			share.from = append(entry(e, fitted[product.StockBody](e).Open).sources(), share.sources()...)
			e.require(share, AtLeast, e.fromRule(Source{Practice, ""}, quantity.Percent(openShare), wholeUp), "the openings are %s of the floor; expected at least %s")
		}})

	_ = limit(Limit{ID: "stock-floor", When: when(stockOn), MaxReserve: 6,
		Protects: "a leg that goes through the floor is broken, and the animal with it",
		Check: func(e *Eval) {
			b := fitted[product.StockBody](e)
			e.require(entry(e, b.Hoof), AtLeast, e.calculated("half of the heaviest animal, by judgement", hoofShare*Read(e, b.Heaviest), wholeUp, entry(e, b.Heaviest)),
				"the floor carries %s on one hoof; the heaviest animal may put %s there")
		}})

	_ = limit(Limit{ID: "stock-step", Severity: source.Warning, When: when(stockOn + " and not ramps"), MaxReserve: 10,
		Protects: "animals that have to step up too high balk, fall back and hurt who drives them",
		Check: func(e *Eval) {
			e.require(of(e, floorHeight), AtMost, e.fromRule(Source{Practice, ""}, quantity.Inches(stockStep), asStated), "animals step up %s; expected at most %s without a ramp")
		}})

	_ = limit(Limit{ID: "stock-release", NoMargin: true, When: when(stockOn),
		Protects: "who is shut in with frightened animals is crushed",
		Check: func(e *Eval) {
			if b := fitted[product.StockBody](e); !b.Release.Value {
				e.report(wrong(e, b.Release, "nobody can get out of the body from within").WithHint("fit a release that works without a key, and give inside_release: true"))
			}
		}})

	_ = limit(Limit{ID: "stock-reach", NoMargin: true, When: when("center-gate"),
		Protects: "who goes in to shut the center gate stands before frightened animals",
		Check: func(e *Eval) {
			if b := fitted[product.StockBody](e); !b.Reach.Value {
				e.report(wrong(e, b.CenterGate, "nothing says that the center gate is worked from outside").WithHint("let gate, latch and pin be reached through the openings, and give center_gate_reach: true"))
			}
		}})
)
