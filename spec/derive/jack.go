package derive

import (
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// A jack is operated by a handle, or by a motor from the trailer's battery.

var (
	_ = textOfPart(Decl{Name: "jack.direction", When: when("jack-crank"), Formula: "way the handle turns to raise the coupler, as fitted"},
		func(j *product.Jack) source.Given[string] { return j.Raises })

	jackCurrent = ofPart(Decl{Name: "jack.current", When: when("jack-powered"), Engineer: true, Round: asStated, Formula: "the most the motor of the jack draws", Source: Source{Stated, "the jack maker's rating"}},
		func(j *product.Jack) source.Given[quantity.Current] { return j.Current })

	_ = textOfPart(Decl{Name: "jack.fluid", When: when("jack-hydraulic"), Formula: "the fluid of the jack's own power unit", Source: Source{Stated, "the jack maker's service entry"}},
		func(j *product.Jack) source.Given[string] { return j.Fluid })
)

var (
	_ = limit(Limit{ID: "jack-control", NoMargin: true,
		Protects: "an owner told to turn a handle that is not there, or the wrong way, drops the front",
		Check: func(e *Eval) {
			j := fitted[product.Jack](e)
			powered := e.Build.Has("jack-powered")
			switch {
			case !powered && !j.Raises.Set:
				e.report(wrong(e, j.Kind, "the jack is turned by a handle, and raises does not say which way"))
			case powered && j.Raises.Set:
				e.report(wrong(e, j.Raises, "a motor works the jack; the way a handle turns is for one with a handle"))
			case powered && !j.Current.Set:
				e.report(wrong(e, j.Kind, "a motor works the jack, and current does not say what it draws"))
			case j.Apart.Value && (powered || j.Count.Value != 2):
				e.report(wrong(e, j.Apart, "apart is for two jacks with a handle each; a motor or a single handle moves these"))
			case j.Apart.Value && e.Build.Has("bumper-pull"):
				e.report(wrong(e, j.Apart, "two jacks with a handle each stand below a neck; the steps at a tongue are told with one handle"))
			case e.Build.Has("jack-hydraulic") && !j.Fluid.Set:
				e.report(wrong(e, j.Kind, "the jack has a power unit, and fluid does not say what goes into it"))
			}
		}})

	_ = limit(Limit{ID: "jack-battery", NoMargin: true, When: when("jack-powered and not deep-cycle-battery"),
		Protects: "a jack that runs on the breakaway battery flattens the one thing that stops a runaway trailer, and without a battery it does not run uncoupled",
		Check: func(e *Eval) {
			e.report(wrong(e, fitted[product.Jack](e).Kind, "a motor works the jack, and the trailer has no battery of its own for it").WithHint("fit a deep-cycle battery with its charger"))
		}})
)
