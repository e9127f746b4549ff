package derive

import (
	"fmt"

	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

var (
	// brakesFeed is the current in the wire to the brakes: that of the magnets, or of the
	// pump that makes the pressure.
	brakesFeed = brakeCurrent("brakes.feed_current", "controlled-brakes", "the most the pump of the actuator draws",
		func(a *product.Actuator) source.Given[quantity.Current] { return a.Current })

	// breakawayCurrent is the current of the breakaway battery while it holds the brakes.
	breakawayCurrent = brakeCurrent("breakaway.current", "breakaway-battery", "what the actuator draws on average while it holds",
		func(a *product.Actuator) source.Given[quantity.Current] { return a.Holding })
)

func brakeCurrent(name, condition, otherwise string, drawn func(*product.Actuator) source.Given[quantity.Current]) Key[quantity.Current] {
	return declare(Decl{
		Name: name, When: when(condition), Engineer: true, Round: tenthUp,
		Formula: "brakes.current of electric brakes; otherwise " + otherwise,
		Source:  arithmetic,
	}, func(e *Eval) quantity.Current {
		if e.Build.Has("electric-brakes") {
			return Get(e, brakesCurrent)
		}
		return Read(e, drawn(fitted[product.Actuator](e)))
	})
}

var (
	_ = textOfPart(Decl{Name: "actuator.fluid", When: when("hydraulic-brakes"), Formula: "the brake fluid the actuator takes",
		Source: Source{Stated, "the actuator maker's choice of the fluids of 49 CFR 571.116"}},
		func(a *product.Actuator) source.Given[string] { return a.Fluid })

	_ = ofPart(Decl{Name: "actuator.pressure", When: when("electric-over-hydraulic"), Round: statedMost, Formula: "the greatest pressure the actuator gives",
		Source: Source{Stated, "the actuator maker's rating"}},
		func(a *product.Actuator) source.Given[quantity.Pressure] { return a.Pressure })

	_ = ofPart(Decl{Name: "actuator.pump_current", When: when("electric-over-hydraulic"), Round: asStated, Formula: "the most the pump of the actuator draws",
		Source: Source{Stated, "the actuator maker's rating"}},
		func(a *product.Actuator) source.Given[quantity.Current] { return a.Current })

	valveCurrent = ofPart(Decl{Name: "actuator.reverse_current", When: when("reverse-solenoid"), Round: asStated, Formula: "what the valve that keeps the brakes off in reverse draws",
		Source: Source{Stated, "the actuator maker's rating"}},
		func(a *product.Actuator) source.Given[quantity.Current] { return a.Valve })

	_ = ofPart(Decl{Name: "actuator.travel", When: when("surge-brakes"), Round: statedMost, Formula: "how far the slide of the actuator may move back before the brakes are adjusted or bled",
		Source: Source{Stated, "the actuator maker's service limit"}},
		func(a *product.Actuator) source.Given[quantity.Length] { return a.Travel })
)

// Limits of the ratio of the weights of a trailer with surge brakes and its tow vehicle.
// Source: 49 CFR 393.48(d)(1), 72 FR 9870.
const (
	surgeLightMost quantity.Mass = 12000 // up to here the larger ratio applies
	surgeBelow     quantity.Mass = 20001 // from here on the exception does not apply
	surgeLight                   = 1.75
	surgeHeavy                   = 1.25
)

// surgeTow returns the least GVWR of the tow vehicle for a trailer with surge brakes whose
// rated weight is below [surgeBelow].
func surgeTow(rated quantity.Mass) quantity.Mass {
	if rated <= surgeLightMost {
		return rated / surgeLight
	}
	return rated / surgeHeavy
}

var _ = declare(Decl{
	Name: "tow_vehicle.gvwr_surge", When: when("surge-brakes"), Round: wholeUp,
	Formula: "ratings.gvwr ÷ 1.75 up to 12,000 lb, ÷ 1.25 above: the least GVWR of the tow vehicle",
	Source:  Source{Published, "49 CFR 393.48(d)(1), surge brakes; the rule binds commercial combinations"},
}, func(e *Eval) quantity.Mass { return surgeTow(Get(e, gvwr)) })

var _ = limit(Limit{ID: "brakes-mixed", NoMargin: true, When: when("braked"),
	Protects: "brakes of two kinds on one trailer come on at different times, and one pair does all the work",
	Check: func(e *Eval) {
		fitted := brakesFitted(e)
		for _, axle := range fitted[1:] {
			a, b := fitted[0].Brake, axle.Brake
			if a.Kind.Value == b.Kind.Value && a.Disc() == b.Disc() {
				continue
			}
			e.report(wrong(e, b.Kind, "%s brakes stand beside %s brakes on another axle", brakeWords(b), brakeWords(a)).
				WithRelated(a.Kind.At, "the other axle").WithHint("fit axles with brakes of one kind"))
		}
	}})

func brakeWords(b *product.Brake) string {
	if b.Disc() {
		return b.Kind.Value + " disc"
	}
	return b.Kind.Value + " drum"
}

var _ = limit(Limit{ID: "brake-actuator", NoMargin: true,
	Protects: "hydraulic brakes without an actuator of their kind never come on, or never let go",
	Check: func(e *Eval) {
		p, there := first[product.Actuator](e)
		hydraulic := false
		for _, axle := range all[product.Axle](e) {
			b := axle.Data.Brake
			if b == nil || b.Kind.Value != "hydraulic" {
				continue
			}
			hydraulic = true
			switch {
			case !there:
				e.report(wrong(e, b.Kind, "the axle has hydraulic brakes, but no actuator is fitted"))
			case b.Disc() != (p.Data.Form.Value == "disc"):
				e.report(wrong(e, p.Data.Form, "the actuator is made for %s brakes; the axle has %s brakes", p.Data.Form.Value, brakeWords(b)).
					WithRelated(b.Kind.At, "the brakes"))
			}
		}
		if there && !hydraulic {
			e.report(wrong(e, p.Data.Kind, "an actuator is fitted, but no axle has hydraulic brakes").
				WithRelated(p.Fitting.From, "fitted here"))
		}
	}})

var _ = limit(Limit{ID: "actuator-gross", When: when("surge-brakes"),
	Protects: "an actuator that tows more than it is rated for breaks off with the coupler",
	Check: func(e *Eval) {
		e.require(entry(e, fitted[product.Actuator](e).Gross), AtLeast, of(e, gvwr),
			"the actuator is rated for %s; the gvwr is %s")
	}})

var _ = limit(Limit{ID: "actuator-vertical", When: when("surge-brakes"),
	Protects: "an actuator pressed down beyond its rating binds, and the brakes stay on or off",
	Check: func(e *Eval) {
		e.require(entry(e, fitted[product.Actuator](e).Vertical), AtLeast, of(e, verticalNeeded),
			"the actuator carries %s; up to %s rests on the coupler")
	}})

var _ = limit(Limit{ID: "actuator-light", When: when("surge-brakes"),
	Protects: "under too light a coupler the slide of a surge actuator lifts and jams",
	Check: func(e *Eval) {
		e.require(of(e, shareLow), AtLeast, entry(e, fitted[product.Actuator](e).LeastShare),
			"the least share on the coupler is %s; the maker of the actuator wants %s")
	}})

var _ = limit(Limit{ID: "surge-heavy", When: when("surge-brakes"),
	Protects: "above 20,000 lb the law takes surge brakes for no brakes: nobody but the trailer works them",
	Check: func(e *Eval) {
		if !e.require(of(e, gvwr), Below, e.fromRule(Source{Published, "49 CFR 393.48(d)(1)"}, surgeBelow, statedMost),
			"the gvwr is %s; surge brakes are lawful below %s") {
			e.hint("fit electric brakes, or hydraulic ones with an electric pump")
		}
	}})

var _ = limit(Limit{ID: "reverse-lockout", NoMargin: true, When: when("surge-brakes"),
	Protects: "a trailer whose surge brakes come on in reverse cannot be backed, and a driver who blocks them for good has none",
	Check: func(e *Eval) {
		a := fitted[product.Actuator](e)
		switch a.Reverse.Value {
		case "solenoid":
			if !a.Valve.Set {
				e.report(wrong(e, a.Reverse, "a solenoid keeps the brakes off in reverse, and reverse_current does not say what it draws"))
			}
			if p, ok := first[product.Connector](e); ok && !connectorHas(p.Data, "reverse") {
				e.report(wrong(e, p.Data.Kind, "the %s plug has no contact for reverse, which opens the valve of the actuator", p.Data.Kind.Text).
					WithRelated(a.Reverse.At, "the actuator").WithHint("fit a five-flat or a seven-blade plug, or a five-round with its fifth contact wired for reverse"))
				return
			}
		case "free-backing":
			for _, axle := range brakesFitted(e) {
				if !axle.Brake.FreeBacking.Value {
					e.report(wrong(e, a.Reverse, "the actuator counts on brakes that let go in reverse; those of the axle do not say free_backing").
						WithRelated(axle.Brake.Kind.At, "%s", fmt.Sprintf("%s brakes", brakeWords(axle.Brake))))
					return
				}
			}
		}
	}})
