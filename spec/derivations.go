package spec

import (
	"strconv"
	"strings"

	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

// derivation is a derived feature: one that follows from the sheet, the label or the parts, so
// that nobody can forget to write it.
type derivation struct {
	name  string
	when  string // completes "a unit has it when"
	cause cause
}

// Legal limits used in conditions.
const (
	heavyAbove    = quantity.Mass(10000) // 49 CFR 390.5 and 393.11 speak of more than 10,000 lb
	guardFrom     = quantity.Mass(10000) // 49 CFR 571.224 applies from 10,000 lb on
	wideFrom      = quantity.Length(80)  // 49 CFR 571.108: 80 in or more
	longFrom      = quantity.Length(360) // 49 CFR 571.108: 30 ft or more
	firstRevision = "A"
)

// derivations are all derived features that the program's own hazards, tasks, texts and figures
// depend on. A new kind of part adds its features here.
var derivations = concat(sheetFeatures, labelFeatures, runningFeatures, couplingFeatures, bodyFeatures, liftFeatures, electricFeatures)

func concat(lists ...func() []derivation) (all []derivation) {
	for _, list := range lists {
		all = append(all, list()...)
	}
	return all
}

func sheetFeatures() []derivation {
	return []derivation{
		{"dated", "its sheet says when it was delivered and how it is used", sheetSays(func(s *sheet.Sheet) (source.Pos, bool) {
			return s.Delivered.At, s.Delivered.Set && s.Use != nil
		})},
		{"revised", "its guide is a later revision than " + firstRevision, sheetSays(func(s *sheet.Sheet) (source.Pos, bool) {
			return s.Revision.At, s.Revision.Set && s.Revision.Value != firstRevision
		})},
		{"measured", "its sheet has the empty weight as weighed", sheetSays(func(s *sheet.Sheet) (source.Pos, bool) {
			return s.Measured.Empty.At, s.Measured.Empty.Set
		})},
		{"measured-tongue", "its sheet has the coupler weight as weighed", sheetSays(func(s *sheet.Sheet) (source.Pos, bool) {
			return s.Measured.OnCoupler.At, s.Measured.OnCoupler.Set
		})},
		{"buyer", "its sheet names the buyer", sheetSays(func(s *sheet.Sheet) (source.Pos, bool) { return nameOf(s.Buyer) })},
		{"dealer", "its sheet names the dealer", sheetSays(func(s *sheet.Sheet) (source.Pos, bool) { return nameOf(s.Dealer) })},
		{"notes", "its sheet has notes", sheetSays(func(s *sheet.Sheet) (source.Pos, bool) { return s.Notes.At, s.Notes.Set })},
		{"fitted-tires", "its sheet lists tires as fitted", sheetSays(func(s *sheet.Sheet) (source.Pos, bool) {
			for _, t := range s.Fitted.Tires {
				return t.Place.At, true
			}
			return source.Pos{}, false
		})},
		{"fitted-axles", "its sheet lists axles as fitted", sheetSays(func(s *sheet.Sheet) (source.Pos, bool) {
			for _, a := range s.Fitted.Axles {
				return a.Place.At, true
			}
			return source.Pos{}, false
		})},
		{"carrier-miles", "its sheet says how far a carrier towed it", sheetSays(func(s *sheet.Sheet) (source.Pos, bool) {
			if u := s.Use; u != nil {
				return u.Already.At, u.Already.Set
			}
			return source.Pos{}, false
		})},
		{"retrofitted", "options were fitted or taken off after delivery", sheetSays(func(s *sheet.Sheet) (source.Pos, bool) {
			for _, list := range [][]sheet.Change{s.Added, s.Removed} {
				for _, c := range list {
					return c.Option.At, true
				}
			}
			return source.Pos{}, false
		})},
	}
}

func nameOf(p *sheet.Person) (source.Pos, bool) {
	if p == nil {
		return source.Pos{}, false
	}
	return p.Name.At, true
}

// labelFeatures follow from ratings, outer dimensions and what the model is for.
func labelFeatures() []derivation {
	above := func(r quantity.Mass) bool { return r > heavyAbove }
	wide := sizeIs{func(s product.Size) length { return s.Wide }, wideFrom}
	return []derivation{
		{"over-10000-lb", "its GVWR is more than 10,000 lb", gvwrIs(above)},
		{"to-10000-lb", "its GVWR is 10,000 lb or less", gvwrIs(func(r quantity.Mass) bool { return r <= heavyAbove })},
		{"guard-range", "its GVWR is 10,000 lb or more", gvwrIs(func(r quantity.Mass) bool { return r >= guardFrom })},
		{"wide-80", "it is 80 in wide or wider", wide},
		{"length-30-ft", "it is 30 ft long or longer", sizeIs{func(s product.Size) length { return s.Long }, longFrom}},
		{"conspicuity", "it is 80 in wide or wider and its GVWR is more than 10,000 lb", all{wide, gvwrIs(above)}},
		{"market-us", "its maker sells it in the United States", sold("us")},
		{"market-ca", "its maker sells it in Canada", sold("ca")},
		{"market-other", "its maker sells it elsewhere", sold("other")},
		{"equipment-hauler", "the model hauls equipment", hauls("equipment")},
		{"vehicle-hauler", "the model hauls vehicles", hauls("vehicles")},
		{"bulk-hauler", "the model hauls bulk material", hauls("bulk")},
	}
}

// Brakes, and the actuator of a surge-braked unit, which is operated by the coupler.
var (
	braked = part(func(a *product.Axle) bool { return a.Brake != nil })
	surge  = part(func(a *product.Actuator) bool { return a.Kind.Value == "surge" })
)

func runningFeatures() []derivation {
	brake := func(is func(*product.Brake) bool) partIs {
		return part(func(a *product.Axle) bool { return a.Brake != nil && is(a.Brake) })
	}
	leaf := part(func(a *product.Axle) bool { return a.Suspension.Value == "leaf" })
	list := []derivation{
		{"braked", "an axle has brakes", braked},
		{"unbraked", "no axle has brakes", not{braked}},
		{"electric-brakes", "an axle has electric brakes", brake(func(b *product.Brake) bool { return b.Kind.Value == "electric" })},
		{"hydraulic-brakes", "an axle has hydraulic brakes", brake(func(b *product.Brake) bool { return b.Kind.Value == "hydraulic" })},
		{"drum-brakes", "an axle has brakes with drums", brake(func(b *product.Brake) bool { return !b.Disc() })},
		{"disc-brakes", "an axle has disc brakes", brake((*product.Brake).Disc)},
		{"surge-brakes", "an actuator on its coupler works its brakes", surge},
		{"electric-over-hydraulic", "an electric pump works its brakes", part(func(a *product.Actuator) bool { return a.Kind.Value != "surge" })},
		{"controlled-brakes", "a controller in the tow vehicle works its brakes", all{braked, not{surge}}},
		{"reverse-solenoid", "its brakes are kept off in reverse by a valve on the reverse lamps", part(func(a *product.Actuator) bool { return a.Reverse.Value == "solenoid" })},
		{"reverse-pin", "its brakes are kept off in reverse by a pin", part(func(a *product.Actuator) bool { return a.Reverse.Value == "pin" })},
		{"single-axle", "it has one axle", axles(1)},
		{"tandem-axle", "it has two axles", axles(2)},
		{"triple-axle", "it has three axles", axles(3)},
		{"quad-axle", "it has four axles", axles(4)},
		{"leaf-springs", "an axle has leaf springs", leaf},
		{"equalizers", "equalizers join the leaf springs of its axles", all{leaf, not{axles(1)}, not{part(func(a *product.Axle) bool { return a.Alone.Value })}}},
		{"torsion", "an axle has torsion suspension", part(func(a *product.Axle) bool { return a.Suspension.Value == "torsion" })},
		{"dual-wheels", "its wheels are made for dual fitment", part(func(w *product.Wheel) bool { return w.Dual.Value })},
		{"clamping-ring", "a ring under the nuts clamps its wheels", part(func(w *product.Wheel) bool { return w.Ring.Value })},
		{"spare", "it has a mount for a spare wheel", fitted[product.Spare]()},
		{"spare-hoist", "its spare wheel hangs below the deck on a cable", part(func(s *product.Spare) bool { return s.Hoist.Set })},
		{"spare-own", "its spare wheel is unlike those it runs on", part(func(s *product.Spare) bool { return s.Own != nil })},
		{"spare-slow", "its spare wheel is not made for the speed of the others", part(func(s *product.Spare) bool { return s.Own != nil && s.Own.SpeedLimit.Set })},
	}
	for _, kind := range []string{"ported", "repack", "sealed", "oil-bath"} {
		list = append(list, derivation{"hubs-" + kind, "an axle has bearings of the kind " + kind, part(func(a *product.Axle) bool { return a.Bearings.Value == kind })})
	}
	for _, kind := range []string{"steel", "aluminum"} {
		list = append(list, derivation{"wheels-" + kind, "its wheels are of " + kind, part(func(w *product.Wheel) bool { return w.Material.Value == kind })})
	}
	for _, n := range []int{4, 5, 6, 8, 10} {
		studs := strconv.Itoa(n)
		list = append(list, derivation{"studs-" + studs, "its wheels have " + studs + " studs", part(func(w *product.Wheel) bool { return w.Studs.Value == n })})
	}
	return list
}

func poweredJack(j *product.Jack) bool {
	return j.Kind.Value == "electric" || j.Kind.Value == "hydraulic"
}

func couplingFeatures() []derivation {
	gooseneck := func(c *product.Coupler) bool { return c.Kind.Value == "gooseneck-ball" }
	list := []derivation{
		{"gooseneck", "its coupler is for a gooseneck ball", part(gooseneck)},
		{"bumper-pull", "it couples behind the tow vehicle", part(func(c *product.Coupler) bool { return !gooseneck(c) && !c.Kingpin() })},
		{"ball-coupler", "its coupler closes over a ball", part((*product.Coupler).TakesBall)},
		{"pintle", "its coupler is a ring for a pintle hook", part((*product.Coupler).Pintle)},
		{"kingpin", "its coupler is a kingpin for a fifth wheel", part((*product.Coupler).Kingpin)},
		{"safety-chains", "it has safety chains", fitted[product.Chain]()},
		{"coupler-adjustable", "its coupler can be set higher and lower", part(func(c *product.Coupler) bool { return c.Adjustable.Value })},
		{"flat-plug", "its plug is flat: two halves pushed together", part(func(c *product.Connector) bool { return strings.HasSuffix(c.Kind.Value, "-flat") })},
		{"round-plug", "its plug is round, and no standard lays it out", part(func(c *product.Connector) bool {
			return c.Kind.Value != "seven-round" && strings.HasSuffix(c.Kind.Value, "-round")
		})},
		{"jack-crank", "its jack is turned by a handle", part(func(j *product.Jack) bool { return !poweredJack(j) })},
		{"jack-powered", "a motor works its jack", part(poweredJack)},
		{"jack-hydraulic", "its jack has a power unit of its own", part(func(j *product.Jack) bool { return j.Kind.Value == "hydraulic" })},
		{"jack-drop-leg", "its jack has a drop leg", part(func(j *product.Jack) bool { return j.DropLeg.Value })},
		{"jack-pair", "it has two jacks", part(func(j *product.Jack) bool { return j.Count.Value >= 2 })},
		{"jack-apart", "it has two jacks with a handle each", part(func(j *product.Jack) bool { return j.Count.Value >= 2 && j.Apart.Value })},
		{"jack-swivel", "its jack swivels up for the road", part(func(j *product.Jack) bool { return j.Swivel.Value })},
		{"jack-two-speed", "its jack has two speeds", part(func(j *product.Jack) bool { return j.TwoSpeed.Value })},
		{"jack-wheel", "its jack stands on a wheel", part(func(j *product.Jack) bool { return j.Wheel.Value })},
		{"breakaway-battery", "it has a breakaway set, whose battery works its brakes", all{fitted[product.Breakaway](), braked, not{surge}}},
		{"breakaway-tester", "its breakaway set has a test button", part(func(b *product.Breakaway) bool { return b.TestButton.Value })},
	}
	for _, kind := range []string{"five-flat", "five-round", "seven-blade", "seven-round"} {
		list = append(list, derivation{"connector-" + kind, "its plug is of the kind " + kind, part(func(c *product.Connector) bool { return c.Kind.Value == kind })})
	}
	return list
}

func bodyFeatures() []derivation {
	anchor := func(kind string) partIs {
		return part(func(a *product.Anchor) bool { return a.Kind.Value == kind })
	}
	box := func(at string) partIs { return part(func(b *product.Box) bool { return b.Kind.Value == at }) }
	other := func(kind string) partIs { return part(func(p *product.Plain) bool { return p.Kind.Value == kind }) }
	gate := func(kind string) partIs {
		return part(func(g *product.Gate) bool { return g.Kind.Value == kind || g.Kind.Value == "combination" })
	}
	list := []derivation{
		{"decked", "it has a deck", fitted[product.Deck]()},
		{"dump", "it has a dump box", fitted[product.DumpBox]()},
		{"enclosed", "walls and a roof enclose its floor", fitted[product.Body]()},
		{"livestock", "it has a body for animals", fitted[product.StockBody]()},
		{"center-gate", "a gate across the middle makes two compartments", part(func(b *product.StockBody) bool { return b.CenterGate.Value })},
		{"slam-latch", "its gates latch by themselves", part(func(b *product.StockBody) bool { return b.SlamLatch.Value })},
		{"escape-door", "it has a door for the person among the animals", other("escape-door")},
		{"floor-mats", "mats lie on its floor", other("floor-mats")},
		{"side-door", "it has a door in its side", other("side-door")},
		{"roof-vent", "it has a vent in its roof", other("roof-vent")},
		{"interior-lamps", "it has lamps inside", other("interior-lamps")},
		{"plywood-deck", "its floor is of plywood", part(func(d *product.Deck) bool { return d.Boards.Value == "plywood" })},
		{"e-track", "it has E-track for tie-downs", anchor("e-track")},
		{"boat-bunks", "a boat lies on its bunks", part(func(c *product.Cradle) bool { return c.Kind.Value == "bunks" })},
		{"boat-rollers", "a boat lies on its rollers", part(func(c *product.Cradle) bool { return c.Kind.Value == "rollers" })},
		{"boat", "a boat lies on it", fitted[product.Cradle]()},
		{"winch-stand", "it has a stand with bow stop and hand winch", fitted[product.WinchStand]()},
		{"transom-straps", "it has straps for the transom of a boat", anchor("transom-strap")},
		{"treated-deck", "its deck has treated boards", part(func(d *product.Deck) bool { return d.Boards.Value == "treated-pine" })},
		{"steel-deck", "its deck is of steel", part(func(d *product.Deck) bool { return d.Boards.Value == "steel" })},
		{"dovetail", "its deck has a sloping tail", part(func(d *product.Deck) bool { return d.Dovetail.Value > 0 })},
		{"d-rings", "it has tie-down rings", anchor("d-ring")},
		{"stake-pockets", "it has stake pockets", anchor("stake-pocket")},
		{"rub-rails", "it has rub rails", anchor("rub-rail")},
		{"front-box", "it has a box ahead of the deck", box("front")},
		{"underbody-box", "it has a box below the deck", box("underbody")},
		{"headache-rack", "it has a rack at the front of the deck", fitted[product.Rack]()},
		{"stabilizers", "it has rear supports", fitted[product.Support]()},
		{"stabilizer-jacks", "its rear supports are jacks with handles", part(func(s *product.Support) bool { return s.Jack.Value })},
		{"ramps", "it has ramps", fitted[product.Ramp]()},
		{"ramp-gate", "its ramp is a gate across the rear", part(func(r *product.Ramp) bool { return r.Gate.Value })},
		{"ramp-springs", "springs help to raise its ramps", part(func(r *product.Ramp) bool { return r.Springs.Value })},
		{"tarp", "it has a tarp", fitted[product.Tarp]()},
		{"gate-barn", "its rear gate swings open like barn doors", gate("barn")},
		{"gate-spreader", "its rear gate hangs from the top to spread", gate("spreader")},
		{"spread-driving", "its gate's maker allows driving while it spreads", part(func(g *product.Gate) bool { return g.Spread != nil })},
		{"rear-guard", "it has a rear impact guard", part(func(g *product.RearGuard) bool { return g.Kind.Value == "guard" })},
		{"guard-exempt", "it needs no rear impact guard, for the reason its line gives", part(func(g *product.RearGuard) bool { return g.Kind.Value != "guard" })},
		{"winch", "it has a winch", fitted[product.Winch]()},
		{"winch-corded", "its winch has a remote with a cord", part(func(w *product.Winch) bool { return w.Remote.Value == "corded" })},
		{"winch-radio", "its winch has a radio remote", part(func(w *product.Winch) bool { return w.Remote.Value == "radio" })},
		{"winch-plate", "it has a plate for a winch", fitted[product.WinchPlate]()},
		{"chocks", "it has wheel chocks", other("chocks")},
		{"document-holder", "it has a document holder", other("document-holder")},
		{"hand-hold", "it has a step or hand hold", other("hand-hold")},
		{"guide-posts", "posts guide a boat onto it", other("guide-posts")},
	}
	for _, how := range []string{"slide-in", "stand-up", "fold-flat"} {
		list = append(list, derivation{"ramps-" + how, "its ramps stow as " + how, part(func(r *product.Ramp) bool { return r.Stow.Value == how })})
	}
	return list
}

func liftFeatures() []derivation {
	tilts := func(d *product.Deck) bool { return d.Tilting.Value > 0 }
	cylinder := fitted[product.Cylinder]()
	list := []derivation{
		{"tilting", "its deck tilts", part(tilts)},
		{"full-tilt", "the whole deck tilts", part(func(d *product.Deck) bool { return tilts(d) && d.Fixed.Value <= 0 })},
		{"fixed-front", "only the rear part of its deck tilts", part(func(d *product.Deck) bool { return tilts(d) && d.Fixed.Value > 0 })},
		{"power-tilt", "its deck tilts and it has a lift cylinder", all{part(tilts), cylinder}},
		{"gravity-tilt", "its deck tilts and it has no lift cylinder", all{part(tilts), not{cylinder}}},
		{"cushion", "a cushion cylinder slows its deck", fitted[product.Cushion]()},
		{"tilt-latch", "a latch holds its deck down", part(func(l *product.Lock) bool { return l.Kind.Value == "latch" })},
		{"deck-lock", "a clamp holds its deck down", part(func(l *product.Lock) bool { return l.Kind.Value == "clamp" })},
		{"body-prop", "it has a body prop", fitted[product.Prop]()},
		{"prop-pair", "it has two body props", part(func(p *product.Prop) bool { return p.Count.Value >= 2 })},
		{"hydraulics", "it has a hydraulic power unit", fitted[product.PowerUnit]()},
		{"cylinder-pair", "two cylinders lift together", part(func(c *product.Cylinder) bool { return c.Count.Value >= 2 })},
		{"holding-valve", "its circuit has a holding valve", part(func(p *product.PowerUnit) bool { return p.Holding.Value != "none" })},
		{"hand-pump", "a hand pump lowers it without current", part(func(p *product.PowerUnit) bool { return p.Lowering.Value == "hand-pump" })},
		{"manual-lowering", "it can be lowered without current", part(func(p *product.PowerUnit) bool { return p.Lowering.Value != "none" })},
		{"pendant-corded", "its hand control has a cord", part(func(p *product.PowerUnit) bool { return p.Control.Value == "corded-pendant" })},
		{"pendant-radio", "its hand control is a radio remote", part(func(p *product.PowerUnit) bool { return p.Control.Value == "radio" })},
		{"master-disconnect", "its power unit has a master disconnect", part(func(p *product.PowerUnit) bool { return p.Disconnect.Value })},
	}
	for _, kind := range []string{"single", "double"} {
		list = append(list, derivation{kind + "-acting", "its power unit is " + kind + "-acting", part(func(p *product.PowerUnit) bool { return p.Acting.Value == kind })})
	}
	return list
}

func electricFeatures() []derivation {
	line := func(kind string) partIs {
		return part(func(l *product.ChargeLine) bool { return l.Kind.Value == kind })
	}
	list := []derivation{
		{"deep-cycle-battery", "it has a deep-cycle battery", fitted[product.Battery]()},
		{"battery-pair", "it has two deep-cycle batteries", part(func(b *product.Battery) bool { return b.Count.Value >= 2 })},
		{"lithium-battery", "its battery is of the kind lifepo4", part(func(b *product.Battery) bool { return b.Kind.Value == "lifepo4" })},
		{"lead-battery", "its battery is of a kind with lead and acid", part(func(b *product.Battery) bool { return b.Kind.Value != "lifepo4" })},
		{"charger", "it has a battery charger", fitted[product.Charger]()},
		{"solar-charger", "a solar panel charges its battery", fitted[product.Solar]()},
		{"charge-line", "the tow vehicle charges its battery", fitted[product.ChargeLine]()},
		{"charge-relay", "a relay joins its battery to the tow vehicle", line("relay")},
		{"charge-converter", "a converter charges its battery from the tow vehicle", line("dc-dc")},
	}
	for _, kind := range []string{"flooded", "agm"} {
		list = append(list, derivation{kind + "-battery", "its battery is of the kind " + kind, part(func(b *product.Battery) bool { return b.Kind.Value == kind })})
	}
	return list
}
