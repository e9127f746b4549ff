package derive

import "ownerguide/spec/product"

// Oil-bath hubs show their level through a window. They have no grease
// fitting.

var _ = declare(Decl{
	Name: "hubs.oil", When: when("hubs-oil-bath"),
	Formula: "the grade of oil that the axle maker names for the hubs",
	Source:  Source{Stated, "the axle maker's service entry"},
}, func(e *Eval) Text {
	for _, axle := range all[product.Axle](e) {
		if axle.Data.HubOil.Set {
			return Text(Read(e, axle.Data.HubOil))
		}
	}
	e.Absent("no axle names the oil of its hubs")
	return ""
})

var _ = limit(Limit{ID: "hub-oil", NoMargin: true, When: when("hubs-oil-bath"),
	Protects: "hubs filled with another oil than the first, or greased, run dry and seize",
	Check: func(e *Eval) {
		var named *product.Axle
		for _, axle := range all[product.Axle](e) {
			a := axle.Data
			switch {
			case a.Bearings.Value != "oil-bath":
				e.report(wrong(e, a.Bearings, "one axle has hubs of the kind %s, another an oil bath", a.Bearings.Value).
					WithRelated(axle.Fitting.From, "fitted here").WithHint("fit axles with hubs of one kind"))
			case !a.HubOil.Set:
				e.report(wrong(e, a.Bearings, "the hubs run in oil, and hub_oil does not say in which"))
			case named != nil && named.HubOil.Value != a.HubOil.Value:
				e.report(wrong(e, a.HubOil, "the hubs of one axle take %s, those of another %s", a.HubOil.Value, named.HubOil.Value).
					WithRelated(named.HubOil.At, "the other oil"))
			default:
				named = a
			}
		}
	}})
