package derive

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// connectorFunctions are the functions that each kind of plug must carry on every unit; contacts
// for brakes and charging have limits of their own. Colors are left to the maker: two
// conventions are in use and no law settles it. 49 CFR 393.28 allows the plug of a trailer to be
// of another kind than SAE J560.
// Source: SAE J1239 (four-way flat; the five-way has a fifth wire for the
// reverse lamps, by common practice), SAE J2863 (seven-way blade), SAE J560
// (seven-pin round, which feeds turn signals and stop lamps apart). Common practice,
// no source: round plugs of four to six contacts; what the fifth of five does differs.
var connectorFunctions = map[string][]string{
	"four-flat":   {"ground", "tail", "left", "right"},
	"four-round":  {"ground", "tail", "left", "right"},
	"five-flat":   {"ground", "tail", "left", "right", "reverse"},
	"five-round":  {"ground", "tail", "left", "right"},
	"six-round":   {"ground", "tail", "left", "right"},
	"seven-blade": {"ground", "tail", "left", "right", "reverse"},
	"seven-round": {"ground", "markers", "left-turn", "stop", "right-turn", "tail-plate"},
}

// connectorFace is the functions at each place on the face of a plug: that of the standard, then those that some
// makers wire there instead. For the seven-way blade the face is the socket of the tow vehicle, seen from behind with
// the latch up; for a round plug the places are the marks molded next to its contacts; a flat plug is counted from
// the bare contact of the ground.
// Source: SAE J1239, from memory; SAE J2863, from a public answer on its wiring; SAE J560, functions and
// colors from public papers on its wiring, numbers from memory; six-way round: common
// practice, no source.
var connectorFace = map[string]map[string]string{
	"seven-blade": {
		"1 o'clock": "charge", "3 o'clock": "right", "5 o'clock": "brake", "7 o'clock": "ground",
		"9 o'clock": "left", "11 o'clock": "tail", "center": "reverse",
	},
	"seven-round": {
		"1": "ground", "2": "markers", "3": "left-turn", "4": "stop", "5": "right-turn", "6": "tail-plate",
		"7": "auxiliary brake", // connector-auxiliary-live warns
	},
	"four-flat": {"1": "ground", "2": "tail", "3": "left", "4": "right", "5": "reverse"},
	"five-flat": {"1": "ground", "2": "tail", "3": "left", "4": "right", "5": "reverse"},
	"six-round": {"GD": "ground", "TM": "tail", "LT": "left", "RT": "right", "S": "brake", "A": "charge auxiliary reverse"},
}

var connectorStandard = map[string]string{
	"four-flat": "SAE J1239", "five-flat": "SAE J1239", "seven-blade": "SAE J2863", "seven-round": "SAE J560",
}

var _ = textOfPart(Decl{Name: "connector.kind", Formula: "the kind of plug fitted", Source: fromLine}, func(c *product.Connector) source.Given[string] { return c.Kind })

var _ = declare(Decl{
	Name:    "connector.standard",
	Formula: "the standard that lays out a plug of this kind; of a five-way flat plug, its first four contacts",
	Source:  Source{Memory, "SAE J1239, J2863 and J560; 49 CFR 393.28 asks for none of them"},
}, func(e *Eval) Text {
	kind := Read(e, fitted[product.Connector](e).Kind)
	if connectorStandard[kind] == "" {
		e.Absent("no standard is known for a plug of kind %s", kind)
	}
	return Text(connectorStandard[kind])
})

var _ = declare(Decl{
	Name:    "connector.pins",
	Formula: "the number of contacts",
	Source:  fromLine,
}, func(e *Eval) int {
	c := fitted[product.Connector](e)
	for _, pin := range c.Pins {
		Read(e, pin.Function)
	}
	return len(c.Pins)
})

// contactUnrated is what a contact carries that nobody has rated: the most for a lamp circuit.
// Source: scope of SAE J1239, from the catalogue entry of the standard.
const contactUnrated quantity.Current = 7.5

var (
	_ = ofPart(Decl{Name: "connector.feed_rating", When: when("charge-line or electric-over-hydraulic"), Round: statedMost, Formula: "what each contact for ground, brakes and charge is rated for", Source: fromLine},
		func(c *product.Connector) source.Given[quantity.Current] { return c.Feed })

	contactCharge = declare(Decl{Name: "connector.charge_load", Engineer: true, When: when("charge-line or electric-over-hydraulic"), Round: tenthUp,
		Formula: "charge_line.input; what the pump of the brakes draws", Source: arithmetic},
		func(e *Eval) quantity.Current {
			if e.Build.Has(lineOn) {
				return Get(e, chargeLineInput)
			}
			return Get(e, brakesFeed)
		})

	contactGround = declare(Decl{Name: "connector.ground_load", Engineer: true, Round: tenthUp,
		Formula: "current of the lamps, and the greater of brakes.current_charging and connector.charge_load",
		Source:  Source{Judgement, "brakes at full pull last for seconds, and the ball is no return"}},
		func(e *Eval) quantity.Current {
			var feed quantity.Current
			for _, key := range []Key[quantity.Current]{brakesCharging, contactCharge} {
				if amperes, ok := Try(e, key); ok {
					feed = max(feed, amperes)
				}
			}
			return feed + Read(e, circuit(e, "lamps").Load)
		})
)

var _ = limit(Limit{ID: "contact-load", MaxReserve: 12,
	Protects: "a contact that carries more than it is rated for melts the plug, and brakes and lamps go out together",
	Check: func(e *Eval) {
		c := fitted[product.Connector](e)
		unrated := e.calculated("SAE J1239, of a lamp circuit", contactUnrated, asStated, entry(e, c.Kind))
		lamps, feeds := unrated, unrated
		if c.Lamp.Set {
			lamps = entry(e, c.Lamp)
		}
		if feeds = lamps; c.Feed.Set {
			feeds = entry(e, c.Feed)
		}
		carries := func(what string, rating, load figure) {
			if !e.require(rating, AtLeast, load, "the contact for "+what+" of the plug is rated for %s; %s flows") {
				e.hint("fit a plug with heavier contacts, and give its feed_rating and lamp_rating")
			}
		}
		for _, k := range []struct {
			what   string
			rating figure
			key    Key[quantity.Current]
		}{{"ground", feeds, contactGround}, {"brakes", feeds, brakesCharging}, {"charge", feeds, contactCharge}, {"reverse", lamps, valveCurrent}} {
			if _, ok := Try(e, k.key); ok {
				carries(k.what, k.rating, of(e, k.key))
			}
		}
		carries("lamps", lamps, entry(e, circuit(e, "lamps").Load))
	}})

func init() {
	family(Decl{
		Name:    "connector.pin",
		Formula: "for each contact: what it does, the usual color of its wire and its place on the face",
		Source:  fromLine,
	}, func(e *Eval) (out []*Value) {
		for i, pin := range fitted[product.Connector](e).Pins {
			n := fmt.Sprint(i + 1)
			for _, word := range []struct {
				suffix string
				given  source.Given[string]
			}{{".function", pin.Function}, {".color", pin.Color}, {".place", pin.Place}} {
				out = append(out, e.member(n+word.suffix, func(e *Eval) any { return Text(Read(e, word.given)) }))
			}
		}
		return out
	})
}

var _ = limit(Limit{ID: "brake-pin-missing", NoMargin: true, When: when("controlled-brakes"),
	Protects: "brakes that no pin feeds never come on while the trailer is towed",
	Check: func(e *Eval) {
		p, ok := first[product.Connector](e)
		if !ok {
			e.report(e.at(e.Build.Sheet.Model.At, "a controller works the brakes of the unit, but it has no connector"))
			return
		}
		if connectorHas(p.Data, "brake") {
			return
		}
		f := wrong(e, p.Data.Kind, "the %s plug has no brake pin; a controller works the brakes of the unit", p.Data.Kind.Text).
			WithHint("fit a seven-blade or six-round plug, or a five-round with its fifth contact wired for brake")
		for _, axle := range brakesFitted(e) {
			f = f.WithRelated(axle.Brake.Kind.At, "brakes: %s", axle.Brake.Kind.Text)
		}
		e.report(f)
	}})

var _ = limit(Limit{ID: "charge-pin-missing", Severity: source.Warning, NoMargin: true, When: when("breakaway-battery"),
	Protects: "a breakaway battery the tow vehicle does not charge is flat on the day it is needed",
	Check: func(e *Eval) {
		p, ok := first[product.Connector](e)
		if ok && connectorHas(p.Data, "brake") && !connectorHas(p.Data, "charge") {
			e.report(wrong(e, p.Data.Kind, "the %s plug has no charge pin for the breakaway battery", p.Data.Kind.Text))
		}
	}})

var _ = limit(Limit{ID: "connector-pins", NoMargin: true,
	Protects: "a plug without one of its lamp or ground contacts leaves lamps dark on the road",
	Check: func(e *Eval) {
		p, ok := first[product.Connector](e)
		if !ok {
			return
		}
		for _, function := range connectorFunctions[p.Data.Kind.Value] {
			if !connectorHas(p.Data, function) {
				e.report(wrong(e, p.Data.Kind, "the %s plug has no contact for %s", p.Data.Kind.Text, function))
			}
		}
		seen, colors := map[string]source.Given[string]{}, map[string]source.Given[string]{}
		for _, pin := range p.Data.Pins {
			if first, twice := colors[pin.Color.Value]; twice {
				e.report(wrong(e, pin.Color, "two wires of one plug are %s: who mends it takes one for the other", pin.Color.Text).
					WithRelated(first.At, "the other one"))
			}
			colors[pin.Color.Value] = pin.Color
			if first, twice := seen[pin.Place.Value]; twice {
				e.report(wrong(e, pin.Place, "two contacts of one plug stand at %q", pin.Place.Text).
					WithRelated(first.At, "the other one"))
				continue
			}
			seen[pin.Place.Value] = pin.Place
		}
	}})

var _ = limit(Limit{ID: "connector-layout", NoMargin: true,
	Protects: "a contact on the wrong place puts a lamp's current on the brakes, or none at all",
	Check: func(e *Eval) {
		p, ok := first[product.Connector](e)
		if !ok {
			return
		}
		kind := p.Data.Kind
		face := connectorFace[kind.Value]
		for _, pin := range p.Data.Pins {
			switch want, known := face[pin.Place.Value]; {
			case face == nil && len(pin.Place.Value) > 2 && strings.HasSuffix(kind.Value, "-round"):
				e.report(wrong(e, pin.Place, "%q is more than a mark; on a %s plug the place is what is molded beside the contact, such as 1 or GD", pin.Place.Text, kind.Text))
			case face == nil:
			case !known:
				e.report(wrong(e, pin.Place, "a %s plug has no contact at %q; expected one of %s", kind.Text, pin.Place.Text, strings.Join(slices.Sorted(maps.Keys(face)), ", ")))
			case !slices.Contains(strings.Fields(want), pin.Function.Value):
				e.report(wrong(e, pin.Function, "the contact at %s is wired for %s; by %s it is for %s", pin.Place.Text, pin.Function.Text,
					cmp.Or(connectorStandard[kind.Value], "common practice"), strings.Fields(want)[0]))
			}
		}
	}})

var _ = limit(Limit{ID: "connector-auxiliary-live", Severity: source.Warning, NoMargin: true, When: when("controlled-brakes"),
	Protects: "a heavy truck may hold its auxiliary pin live: electric brakes on it drag and burn",
	Check: func(e *Eval) {
		p, ok := first[product.Connector](e)
		if !ok || p.Data.Kind.Value != "seven-round" {
			return
		}
		for _, pin := range p.Data.Pins {
			// Pin 7 of SAE J560 is the auxiliary pin, on newer trucks the supply of
			// the anti-lock brakes, live whenever the ignition is on (from memory).
			if pin.Place.Value == "7" && pin.Function.Value == "brake" {
				e.report(wrong(e, pin.Function, "the brakes are on pin 7, which a heavy truck holds live").
					WithHint("fit a seven-blade connector, or have the tow vehicle's socket rewired"))
				return
			}
		}
	}})

func connectorHas(c *product.Connector, function string) bool {
	return slices.ContainsFunc(c.Pins, func(p product.Pin) bool { return p.Function.Value == function })
}
