package product

import "ownerguide/spec/source"

// Component is one entry of [Components] of any kind.
type Component struct {
	Kind   string // the singular of the group: axle, tire, power-unit …
	ID     string
	At     source.Pos
	Common *Common
	Data   any // *Axle, *Tire … depending on Kind
}

// shared returns the common entries.
func (c *Common) shared() *Common { return c }

// of returns the components of one group.
func of[T any, P interface {
	*T
	shared() *Common
}](kind string, group source.Map[T]) []Component {
	out := make([]Component, len(group))
	for i := range group {
		p := &group[i].Value
		out[i] = Component{kind, group[i].Key, group[i].KeyAt, P(p).shared(), p}
	}
	return out
}

// All returns every component, by kind and in the order of the files. This is the only
// place that defines the names of kinds.
func (c *Components) All() (all []Component) {
	for _, group := range [][]Component{
		of("axle", c.Axles), of("tire", c.Tires), of("wheel", c.Wheels), of("coupler", c.Couplers), of("chain", c.Chains),
		of("jack", c.Jacks), of("breakaway", c.Breakaways), of("actuator", c.Actuators), of("connector", c.Connectors), of("circuit", c.Circuits), of("lamps", c.Lamps),
		of("deck", c.Decks), of("anchor", c.Anchors), of("box", c.Boxes), of("winch-plate", c.WinchPlates), of("winch", c.Winches),
		of("rack", c.Racks), of("spare", c.Spares), of("power-unit", c.PowerUnits), of("cylinder", c.Cylinders), of("cushion", c.Cushions),
		of("hose", c.Hoses), of("battery", c.Batteries), of("charger", c.Chargers), of("solar", c.Solars), of("charge-line", c.ChargeLines), of("prop", c.Props), of("lock", c.Locks),
		of("support", c.Supports), of("ramp", c.Ramps), of("dump-box", c.DumpBoxes),
		of("body", c.Bodies), of("stock-body", c.StockBodies), of("cradle", c.Cradles), of("winch-stand", c.WinchStands), of("tarp", c.Tarps), of("gate", c.Gates),
		of("rear-guard", c.RearGuards), of("other", c.Others),
	} {
		all = append(all, group...)
	}
	return all
}

// index builds the index by id; the first of two equal ids wins, and check reports the
// second.
func (l *Line) index() {
	l.byID = map[string]Component{}
	for _, c := range l.Components.All() {
		if _, twice := l.byID[c.ID]; !twice {
			l.byID[c.ID] = c
		}
	}
}

// Component returns the component with an id; ok is false if there is none.
func (l *Line) Component(id string) (c Component, ok bool) {
	c, ok = l.byID[id]
	return c, ok
}
