package derive

import (
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// One value for each feed that can have a fuse of its own. A feed the tow
// vehicle protects has none here.
var (
	_ = fuse("brakes", "braked")
	_ = fuse("lamps", "")
	_ = fuse("pump", "hydraulics")
	_ = fuse("winch", "winch")
	_ = fuse("charger", "charger")
)

func fuse(feeds, condition string) Key[quantity.Current] {
	return declare(Decl{
		Name: "electrical.fuse." + feeds, When: when(condition), Round: asStated,
		Formula: "rating of the fuse in the feed to the " + feeds,
		Source:  fromLine,
	}, func(e *Eval) quantity.Current { return Read(e, circuit(e, feeds).Fuse) })
}

var (
	fuseWireCode = source.Code{ID: "fuse-wire", Severity: source.Error,
		Protects: "a fuse that passes more than its wire can carry lets the wire burn"}
	wireLoadCode = source.Code{ID: "wire-load", Severity: source.Error,
		Protects: "a wire that carries more than it is made for burns, where no fuse of the trailer stands before it"}
	fuseLoadCode = source.Code{ID: "fuse-load", Severity: source.Warning,
		Protects: "a fuse smaller than its load blows on the road: lamps or brakes go out"}
)

var _ = limit(Limit{Code: fuseWireCode, Check: func(e *Eval) []source.Finding {
	return eachCircuit(e, func(c *product.Circuit) []source.Finding {
		if !c.Fuse.Set {
			return nil
		}
		return e.demand(fuseWireCode, entry(e, c.Fuse), AtMost, entry(e, c.Ampacity),
			"the fuse in the feed to the "+c.Feeds.Value+" is %s; its wire carries %s")
	})
}})

// wireLoad and fuseLoad leave pump and winch alone: their currents last
// seconds, and the maker of wire and fuse sets what they bear for that long.
var _ = limit(Limit{Code: wireLoadCode, Roomy: 12, Check: func(e *Eval) []source.Finding {
	return eachCircuit(e, func(c *product.Circuit) []source.Finding {
		load, ok := circuitLoad(e, c)
		if !ok {
			return nil
		}
		return e.demand(wireLoadCode, entry(e, c.Ampacity), AtLeast, load,
			"the wire to the "+c.Feeds.Value+" carries %s; %s flows")
	})
}})

var _ = limit(Limit{Code: fuseLoadCode, Check: func(e *Eval) []source.Finding {
	return eachCircuit(e, func(c *product.Circuit) []source.Finding {
		load, ok := circuitLoad(e, c)
		if !ok || !c.Fuse.Set {
			return nil
		}
		return e.demand(fuseLoadCode, entry(e, c.Fuse), AtLeast, load,
			"the fuse in the feed to the "+c.Feeds.Value+" is %s; %s flows")
	})
}})

// circuitLoad gives the steady current of a feed; ok is false where there is
// none or it is not known.
func circuitLoad(e *Eval, c *product.Circuit) (load figure, ok bool) {
	switch feeds := c.Feeds.Value; {
	case feeds == "brakes":
		if _, known := Try(e, brakesCurrent); known {
			return of(e, brakesCurrent), true
		}
	case (feeds == "lamps" || feeds == "charger") && c.Load.Set:
		return entry(e, c.Load), true
	}
	return load, false
}

func eachCircuit(e *Eval, check func(*product.Circuit) []source.Finding) []source.Finding {
	var out []source.Finding
	for _, p := range all[product.Circuit](e) {
		out = append(out, check(p.Data)...)
	}
	return out
}
