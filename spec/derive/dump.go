package derive

import (
	"strings"

	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
)

// dumpAngle makes a load slide, so it is rounded down.
var dumpAngle = declare(Decl{
	Name: "dump.angle", When: when("dump"), Round: wholeDown,
	Formula: "angle at the hinge between the cylinder's pins, fully out, less the same with the box down; each by the law of cosines",
	Source:  Source{Arithmetic, "law of cosines"},
}, func(e *Eval) quantity.Angle {
	h := readHoist(e)
	return h.raised(h.extended)
})

func readDumpBox(e *Eval) tiltPart {
	p := positioned[product.DumpBox](e, "no dump box with a place is fitted")
	box := tiltPart{front: Read(e, p.Fitting.At.X), low: Read(e, p.Fitting.At.Z)}
	box.rear = box.front + Read(e, p.Data.Long)
	box.top = box.low + Read(e, p.Data.Tall)
	// The body may be taller than its inside: floor, sills and top rail.
	if size := p.Fitting.Size; size != nil {
		box.top = max(box.top, box.low+Read(e, size.High))
	}
	return box
}

func init() {
	family(Decl{
		Name: "dump.fill_depth", When: when("dump"), Round: quantity.Rounding{Side: quantity.Down, MetricStep: 10},
		Formula: "weights.cargo_capacity ÷ (density × inside length × inside width), at most the height of the sides",
		Source:  Source{Stated, "densities with their source as the product line gives them"},
	}, func(e *Eval) []*Value {
		box := fitted[product.DumpBox](e)
		capacity := Get(e, cargoCapacity)
		long, wide, tall := Read(e, box.Long), Read(e, box.Wide), Read(e, box.Tall)
		var out []*Value
		for _, material := range e.Build.Line.Maker.Materials {
			// Ids have hyphens, names of values underscores.
			out = append(out, e.member(strings.ReplaceAll(material.Key, "-", "_"), func(e *Eval) any {
				density := Read(e, material.Value.Density)
				if density <= 0 || long <= 0 || wide <= 0 {
					e.Absent("a box without floor or %s without weight", material.Key)
				}
				return min(tall, fillDepth(capacity, density, long, wide))
			}))
		}
		return out
	})
}

// fillDepth returns the depth of a level load of a material that weighs as much as the capacity.
func fillDepth(capacity quantity.Mass, density quantity.Density, long, wide quantity.Length) quantity.Length {
	const cubicInches = 12 * 12 * 12 // in a cubic foot
	return quantity.Inches(float64(capacity) / (float64(density) / cubicInches * float64(long) * float64(wide)))
}

var _ = limit(Limit{ID: "gate-missing", NoMargin: true, When: when("dump"),
	Protects: "a dump box that is open at the rear sheds its load on the road",
	Check: func(e *Eval) {
		if !hasPart[product.Gate](e) {
			p, _ := first[product.DumpBox](e)
			e.report(e.at(p.Fitting.From, "the dump box has no gate"))
		}
	}})
