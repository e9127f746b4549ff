package derive

import (
	"slices"
	"strings"

	"ownerguide/spec"
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
)

// feed is a wire that a circuit of the line describes.
type feed struct {
	name, feature string                      // of units that have it
	draws         Key[quantity.Current]       // of the part at its end; none for lamps, whose load the line gives
	fused         bool                        // it hangs on a battery of the trailer; for feeds of the tow vehicle 49 CFR 393.28 asks for no fuse here
	from          func(*Eval) *spec.Fitting   // the plug, or the battery of the trailer
	to            []func(*Eval) *spec.Fitting // it ends at the first of these that the unit has
}

type ends = []func(*Eval) *spec.Fitting

var feeds = []feed{
	{"brakes", "controlled-brakes", brakesFeed, false, placed[product.Connector], ends{placed[product.Actuator], farAxle}},
	{"lamps", "", Key[quantity.Current]{}, false, placed[product.Connector], ends{placed[product.Lamps]}},
	{"reverse", "reverse-solenoid", valveCurrent, false, placed[product.Connector], ends{placed[product.Actuator]}},
	{"pump", "hydraulics", hydraulicsMotor, true, placed[product.Battery], ends{placed[product.PowerUnit]}},
	{"winch", "winch", winchCurrent, true, placed[product.Battery], ends{placed[product.Winch]}},
	{"jack", "jack-powered", jackCurrent, true, placed[product.Battery], ends{placed[product.Jack]}},
	{"charger", "charger", chargerOutput, true, placed[product.Battery], ends{placed[product.Charger]}},
	{"solar", "solar-charger", solarMost, true, placed[product.Battery], ends{placed[product.Solar]}},
	{"charge-line", "charge-line", chargeLineInput, true, placed[product.Connector], ends{placed[product.ChargeLine]}},
}

// feedOf returns the feed that a circuit describes: the line's reader accepts no others.
func feedOf(c *product.Circuit) feed {
	return feeds[slices.IndexFunc(feeds, func(f feed) bool { return f.name == c.Feeds.Value })]
}

func init() {
	for _, f := range feeds {
		declare(Decl{
			Name: "electrical.fuse." + strings.ReplaceAll(f.name, "-", "_"), When: when(f.feature), Round: asStated,
			Formula: "rating of the fuse in the feed of the " + strings.ReplaceAll(f.name, "-", " "),
			Source:  fromLine,
		}, func(e *Eval) quantity.Current { return Read(e, circuit(e, f.name).Fuse) })
	}
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
	each(e, func(c *product.Circuit) {
		if f := feedOf(c); f.name != "lamps" {
			if _, known := Try(e, f.draws); known {
				do(c, of(e, f.draws))
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

var _ = limit(Limit{ID: "feed-missing", NoMargin: true,
	Protects: "nobody checks the wire of a feed that the line does not describe",
	Check: func(e *Eval) {
		for _, f := range feeds {
			if !when(f.feature).Holds(e.Build.Has) {
				continue
			}
			p, ok := firstWhere(e, func(c *product.Circuit) bool { return c.Feeds.Value == f.name })
			switch {
			case !ok:
				e.report(e.at(e.Build.Sheet.Model.At, "no circuit feeds the %s", f.name).WithHint("describe fuse, gauge, length and ampacity of its wire"))
			case f.name == "lamps" && !p.Data.Load.Set:
				e.report(wrong(e, p.Data.Gauge, "the feed to the lamps gives no load"))
			}
		}
	}})

var _ = limit(Limit{ID: "fuse-missing", NoMargin: true,
	Protects: "a battery on the trailer burns a wire without a fuse, whatever the tow vehicle protects",
	Check: func(e *Eval) {
		for _, p := range all[product.Circuit](e) {
			c := p.Data
			if f := feedOf(c); f.fused && !c.Fuse.Set {
				e.report(wrong(e, c.Gauge, "the feed to the %s hangs on the trailer's battery and has no fuse", f.name))
			}
		}
	}})
