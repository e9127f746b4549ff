package derive

import (
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

var winchStated = Source{Stated, "the winch maker's rating"}

var winchPull = declare(Decl{
	Name: "winch.pull", When: when("winch"), Round: asStated,
	Formula: "stall pull with one layer of rope on the drum, the most the winch can pull",
	Source:  winchStated,
}, func(e *Eval) quantity.Mass { return Read(e, fitted[product.Winch](e, "winch").Pull) })

var winchPlate = declare(Decl{
	Name: "winch.plate_rating", When: when("winch-plate"), Round: asStated,
	Formula: "pull that the plate and its fixing can take",
	Source:  fromLine,
}, func(e *Eval) quantity.Mass { return Read(e, fitted[product.WinchPlate](e, "winch plate").Rating) })

var (
	_ = declare(Decl{Name: "winch.rope", When: when("winch"), Formula: "the kind of rope fitted", Source: winchStated},
		func(e *Eval) Text { return Text(Read(e, fitted[product.Winch](e, "winch").Rope)) })
	_ = declare(Decl{Name: "winch.rope_size", When: when("winch"), Formula: "the size of rope fitted", Source: winchStated},
		func(e *Eval) Text { return Text(Read(e, fitted[product.Winch](e, "winch").RopeSize)) })
	_ = declare(Decl{Name: "winch.rope_length", When: when("winch"), Formula: "the length of rope fitted", Source: winchStated,
		Round: quantity.Rounding{Side: quantity.Down, US: "ft", Metric: "m"}},
		func(e *Eval) quantity.Length { return Read(e, fitted[product.Winch](e, "winch").RopeLength) })
	_ = declare(Decl{Name: "winch.turns_left", When: when("winch"), Formula: "fewest turns of rope to leave on the drum: the clamp at the end alone does not hold the pull, the friction of the turns does; eight do for wire and synthetic rope",
		Source: Source{Practice, ""}},
		func(*Eval) int { return 8 })
	_ = declare(Decl{Name: "winch.remote", When: when("winch"), Formula: "how the winch is worked", Source: winchStated},
		func(e *Eval) Text { return Text(Read(e, fitted[product.Winch](e, "winch").Remote)) })
	_ = declare(Decl{Name: "winch.duty_on", When: when("winch"), Formula: "the longest pull in one go", Source: winchStated,
		Round: asStated},
		func(e *Eval) quantity.Duration { return Read(e, fitted[product.Winch](e, "winch").DutyOn) })
	_ = declare(Decl{Name: "winch.duty_rest", When: when("winch"), Formula: "how long the motor must cool after such a pull", Source: winchStated,
		Round: asStated},
		func(e *Eval) quantity.Duration { return Read(e, fitted[product.Winch](e, "winch").DutyRest) })
	winchCurrent = declare(Decl{Name: "winch.current", When: when("winch"), Engineer: true, Formula: "current at rated pull", Source: winchStated,
		Round: asStated},
		func(e *Eval) quantity.Current { return Read(e, fitted[product.Winch](e, "winch").Current) })
)

var (
	winchPlateCode = source.Code{ID: "winch-plate-pull", Severity: source.Error,
		Protects: "a winch stronger than what holds it tears loose under full pull and flies with its rope"}
	winchAnchorCode = source.Code{ID: "winch-anchor", Severity: source.Error,
		Protects: "a winch bolted to nothing that is rated for its pull tears loose"}
)

var _ = limit(Limit{Code: winchPlateCode, When: when("winch and winch-plate"), Check: func(e *Eval) []source.Finding {
	return atLeast(e, winchPlateCode, winchPlate, winchPull,
		"the winch plate and its fixing take a pull of %s; the winch stalls at %s")
}})

var _ = limit(Limit{Code: winchAnchorCode, When: when("winch"), Check: func(e *Eval) []source.Finding {
	p, ok := first[product.Winch](e)
	if !ok || hasPart[product.WinchPlate](e) {
		return nil
	}
	return []source.Finding{wrong(winchAnchorCode, p.Data.Pull, "a winch that pulls %s is fitted without a winch plate", p.Data.Pull.Text)}
}})
