package derive

import (
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
)

const (
	wattsPerPsiGpm = 0.43499 // 6,894.757 Pa × 231 in³ of 16.387064 cm³ a minute: 745.7 W at 1,714 psi·gpm
	// Efficiency of a pump set from current to pressure and flow, by judgement: the motor has
	// 65 to 80 % at most, the pump 80 to 90 %.
	motorShareMost  quantity.Percent = 70
	motorShareLeast quantity.Percent = 30
	// pumpDuty is how long a motor of this kind may run without a pause if its maker states
	// nothing. Judgement: they are starter motors, which need pauses.
	pumpDuty = quantity.Duration(3)
	// winchDutyMost is the greatest fraction of the time for which a winch may run at rated pull.
	winchDutyMost quantity.Percent = 10 // common practice: about a minute in ten to fifteen
)

// motorShare returns the fraction of the electric power that is delivered to the fluid.
// Source: fluid-power handbooks, power is pressure × flow.
func motorShare(p quantity.Pressure, flow quantity.FlowRate, motor quantity.Current) quantity.Percent {
	return quantity.Percent(100 * wattsPerPsiGpm * float64(p) * float64(flow) / (float64(nominal) * float64(motor)))
}

var pumpEfficiency = declare(Decl{
	Name: "hydraulics.efficiency", When: hydraulicsOn, Engineer: true, Round: quantity.Rounding{Step: 0.1, MetricStep: 0.1},
	Formula: "hydraulics.relief × flow of the pump ÷ 1,714 × 745.7 W ÷ (12 V × hydraulics.motor_current)",
	Source:  Source{Published, "fluid-power handbooks: hp = psi × gpm / 1714"},
}, func(e *Eval) quantity.Percent {
	motor := Get(e, hydraulicsMotor)
	if motor <= 0 {
		e.Absent("a pump without a motor")
	}
	return motorShare(Get(e, hydraulicsRelief), Read(e, fitted[product.PowerUnit](e).Flow), motor)
})

var motorDuty = declare(Decl{
	Name: "hydraulics.motor_duty", When: hydraulicsOn, Engineer: true, Round: quantity.Rounding{Side: quantity.Down, US: "s", Metric: "s"},
	Formula: "the longest the motor may run in one go; 3 min where its maker states nothing",
	Source:  Source{Judgement, "motors of this kind live on rests; the maker's figure where there is one"},
}, func(e *Eval) quantity.Duration {
	if u := fitted[product.PowerUnit](e); u.DutyOn.Set {
		return Read(e, u.DutyOn)
	}
	return pumpDuty
})

var winchDuty = declare(Decl{
	Name: "winch.duty_share", When: when("winch"), Engineer: true, Round: tenthUp,
	Formula: "longest pull ÷ (longest pull + rest after it)",
	Source:  arithmetic,
}, func(e *Eval) quantity.Percent {
	w := fitted[product.Winch](e)
	return dutyShare(Read(e, w.DutyOn), Read(e, w.DutyRest))
})

// dutyShare returns the fraction of the time for which a motor runs.
func dutyShare(on, rest quantity.Duration) quantity.Percent {
	return quantity.Percent(100 * on / max(on+rest, 1e-9))
}

var _ = limit(Limit{ID: "motor-power", MaxReserve: 3, When: hydraulicsOn,
	Protects: "a motor said to draw less than pressure and flow need makes fuse, wire and battery too small",
	Check: func(e *Eval) {
		share := of(e, pumpEfficiency)
		// The motor's current is what a person would change.
		share.from = append(entry(e, fitted[product.PowerUnit](e).Motor).sources(), share.sources()...)
		e.require(share, AtMost, e.fromRule(Source{Judgement, "motor and pump at their best"}, motorShareMost, wholeDown),
			"the pump turns %s of the motor's power into pressure and flow; motor and pump together reach at most %s")
		e.require(share, AtLeast, e.fromRule(Source{Judgement, "motor and pump at their worst"}, motorShareLeast, wholeUp),
			"the pump turns %s of the motor's power into pressure and flow; expected at least %s")
	}})

var _ = limit(Limit{ID: "motor-duty", MaxReserve: 6, When: hydraulicsOn,
	Protects: "a motor that must run longer than it may burns out with the load half way up",
	Check:    atLeast(motorDuty, hydraulicsRaise, "the pump motor may run for %s in one go; a full raise takes %s")})

var _ = limit(Limit{ID: "winch-duty", When: when("winch"),
	Protects: "a winch that is told to rest too little overheats and lets go of a machine on a slope",
	Check: func(e *Eval) {
		share := of(e, winchDuty)
		e.require(share, AtMost, e.fromRule(Source{Practice, ""}, winchDutyMost, wholeDown),
			"the winch may pull for %s of the time; motors of this kind bear at most %s")
	}})
