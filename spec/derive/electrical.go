package derive

import (
	"strings"

	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
)

// One value for each feed that can have a fuse of its own. A feed protected by the tow vehicle
// has none.
var (
	_ = fuse("brakes", "controlled-brakes")
	_ = fuse("lamps", "")
	_ = fuse("reverse", "reverse-solenoid")
	_ = fuse("pump", "hydraulics")
	_ = fuse("winch", "winch")
	_ = fuse("jack", "jack-powered")
	_ = fuse("charger", "charger")
	_ = fuse("solar", "solar-charger")
	_ = fuse("charge-line", "charge-line")
)

func fuse(feeds, condition string) Key[quantity.Current] {
	return declare(Decl{
		Name: "electrical.fuse." + strings.ReplaceAll(feeds, "-", "_"), When: when(condition), Round: asStated,
		Formula: "rating of the fuse in the feed of the " + strings.ReplaceAll(feeds, "-", " "),
		Source:  fromLine,
	}, func(e *Eval) quantity.Current { return Read(e, circuit(e, feeds).Fuse) })
}

var _ = limit(Limit{ID: "fuse-wire",
	Protects: "a fuse that passes more than its wire can carry lets the wire burn",
	Check: func(e *Eval) {
		for _, p := range all[product.Circuit](e) {
			c := p.Data
			if c.Fuse.Set {
				e.require(entry(e, c.Fuse), AtMost, entry(e, c.Ampacity),
					"the fuse in the feed to the "+c.Feeds.Value+" is %s; its wire carries %s")
			}
		}
	}})

var _ = limit(Limit{ID: "wire-load", MaxReserve: 12,
	Protects: "a wire that carries more than it is made for burns, where no fuse of the trailer stands before it",
	Check: func(e *Eval) {
		eachLoad(e, func(c *product.Circuit, load figure) {
			e.require(entry(e, c.Ampacity), AtLeast, load,
				"the wire to the "+c.Feeds.Value+" carries %s; %s flows")
		})
	}})

var _ = limit(Limit{ID: "fuse-load",
	Protects: "a fuse smaller than its load blows on the road: lamps or brakes go out",
	Check: func(e *Eval) {
		eachLoad(e, func(c *product.Circuit, load figure) {
			if c.Fuse.Set {
				e.require(entry(e, c.Fuse), AtLeast, load,
					"the fuse in the feed to the "+c.Feeds.Value+" is %s; %s flows")
			}
		})
	}})

// eachLoad calls a function with the currents that each circuit must carry: the current of the part
// at full load, and what the line says of the circuit.
func eachLoad(e *Eval, do func(*product.Circuit, figure)) {
	draws := map[string]Key[quantity.Current]{"brakes": brakesFeed, "reverse": valveCurrent, "pump": hydraulicsMotor, "winch": winchCurrent, "jack": jackCurrent, "charger": chargerOutput, "solar": solarMost, "charge-line": chargeLineInput}
	each(e, func(c *product.Circuit) {
		if key, ok := draws[c.Feeds.Value]; ok {
			if _, known := Try(e, key); known {
				do(c, of(e, key))
			}
		}
		if c.Load.Set {
			do(c, entry(e, c.Load))
		}
	})
}

// ampacities are the currents allowed in one insulated copper conductor by gauge, with
// insulation for 105 °C in still air of 30 °C. Bundles carry less. The rule is for boats;
// trailers have none, and their wires are no better.
// Source: 33 CFR 183.425 table 5.
var ampacities = map[string]quantity.Current{
	"18": 20, "16": 25, "14": 35, "12": 45, "10": 60, "8": 80, "6": 120, "4": 160, "3": 180, "2": 210,
	"1": 245, "1/0": 285, "2/0": 330, "3/0": 385, "4/0": 445,
}

// fuseShare is the least rating of a fuse as a fraction of the full load: motors are rated at
// stall, and a fuse carries more than its rating for seconds. Judgement.
const fuseShare = 0.5

var _ = limit(Limit{ID: "fuse-small",
	Protects: "a fuse that blows under the load it is there for leaves a deck up or a machine on the rope",
	Check: func(e *Eval) {
		eachLoad(e, func(c *product.Circuit, load figure) {
			if c.Fuse.Set {
				q := load.exact.(quantity.Current)
				e.require(entry(e, c.Fuse), AtLeast, e.calculated("half of what the "+c.Feeds.Value+" draws, by judgement", fuseShare*q, tenthUp, load),
					"the fuse of the "+c.Feeds.Value+" is %s; it must bear at least %s")
			}
		})
	}})

var _ = limit(Limit{ID: "wire-gauge", MaxReserve: 4,
	Protects: "a wire said to carry more than its gauge can glows behind a fuse that never blows",
	Check: func(e *Eval) {
		for _, p := range all[product.Circuit](e) {
			c := p.Data
			most := e.calculated("33 CFR 183.425 table 5, 105 °C insulation", ampacities[Read(e, c.Gauge)], asStated, entry(e, c.Gauge))
			e.require(entry(e, c.Ampacity), AtMost, most,
				"the wire to the "+c.Feeds.Value+" is said to carry %s; AWG "+c.Gauge.Value+" carries at most %s")
		}
	}})

// fed are the parts with a feed, with the feature of units that have them, and whether they are
// fed by the trailer's own battery.
var fed = []struct {
	feeds, feature string
	own            bool
}{{"brakes", "controlled-brakes", false}, {"lamps", "", false}, {"reverse", "reverse-solenoid", false}, {"pump", "hydraulics", true}, {"winch", "winch", true}, {"jack", "jack-powered", true}, {"charger", "charger", true}, {"solar", "solar-charger", true}, {"charge-line", "charge-line", true}}

var _ = limit(Limit{ID: "feed-missing", NoMargin: true,
	Protects: "nobody checks the wire of a feed that the line does not describe",
	Check: func(e *Eval) {
		for _, f := range fed {
			if !when(f.feature).Holds(e.Build.Has) {
				continue
			}
			p, ok := firstWhere(e, func(c *product.Circuit) bool { return c.Feeds.Value == f.feeds })
			switch {
			case !ok:
				e.report(e.at(e.Build.Sheet.Model.At, "no circuit feeds the %s", f.feeds).WithHint("describe fuse, gauge, length and ampacity of its wire"))
			case f.feeds == "lamps" && !p.Data.Load.Set:
				e.report(wrong(e, p.Data.Gauge, "the feed to the lamps gives no load"))
			}
		}
	}})

// Feeds of the tow vehicle need no fuse on the trailer: 49 CFR 393.28.
var _ = limit(Limit{ID: "fuse-missing", NoMargin: true,
	Protects: "a battery on the trailer burns a wire without a fuse, whatever the tow vehicle protects",
	Check: func(e *Eval) {
		for _, p := range all[product.Circuit](e) {
			c := p.Data
			for _, f := range fed {
				if f.own && f.feeds == c.Feeds.Value && !c.Fuse.Set {
					e.report(wrong(e, c.Gauge, "the feed to the %s hangs on the trailer's battery and has no fuse", f.feeds))
				}
			}
		}
	}})
