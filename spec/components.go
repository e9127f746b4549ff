package spec

import "ownerguide/spec/source"

// component is one entry of [Components], whatever its type.
type component struct {
	kind   string
	id     string
	at     source.Pos
	common *Common
	data   any // *Axle, *Tire …
}

// shared gives what every component has.
func (c *Common) shared() *Common { return c }

// of lists the components of one group.
func of[T any, P interface {
	*T
	shared() *Common
}](kind string, group source.Map[T]) []component {
	out := make([]component, len(group))
	for i := range group {
		p := &group[i].Value
		out[i] = component{kind, group[i].Key, group[i].KeyAt, P(p).shared(), p}
	}
	return out
}

// all lists every component, by kind and in the order of the files. This is
// the one place that gives a kind its name.
func (c *Components) all() []component {
	var all []component
	for _, group := range [][]component{
		of("axle", c.Axles), of("tire", c.Tires), of("wheel", c.Wheels), of("coupler", c.Couplers), of("chain", c.Chains),
		of("jack", c.Jacks), of("breakaway", c.Breakaways), of("connector", c.Connectors), of("circuit", c.Circuits), of("lamps", c.Lamps),
		of("deck", c.Decks), of("anchor", c.Anchors), of("box", c.Boxes), of("winch-plate", c.WinchPlates), of("winch", c.Winches),
		of("rack", c.Racks), of("spare", c.Spares), of("power-unit", c.PowerUnits), of("cylinder", c.Cylinders), of("cushion", c.Cushions),
		of("hose", c.Hoses), of("battery", c.Batteries), of("charger", c.Chargers), of("prop", c.Props), of("lock", c.Locks),
		of("support", c.Supports), of("ramp", c.Ramps), of("dump-box", c.DumpBoxes), of("tarp", c.Tarps), of("gate", c.Gates),
		of("rear-guard", c.RearGuards), of("other", c.Others),
	} {
		all = append(all, group...)
	}
	return all
}

// index makes components findable by id; the first of two equal ids wins, and
// check reports the second.
func (l *Line) index() {
	l.byID = map[string]component{}
	for _, c := range l.Components.all() {
		if _, twice := l.byID[c.id]; !twice {
			l.byID[c.id] = c
		}
	}
}
