package derive

import (
	"ownerguide/spec"
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
	return eachCircuit(e, func(c *spec.Circuit) []source.Finding {
		if !c.Fuse.Set || !short(c.Ampacity.Value, c.Fuse.Value) {
			return nil
		}
		return []source.Finding{e.clash(fuseWireCode, entry(c.Fuse), entry(c.Ampacity),
			"the fuse in the feed to the "+c.Feeds.Value+" is %s; its wire carries %s")}
	})
}})

// wireLoad and fuseLoad leave pump and winch alone: their currents last
// seconds, and the maker of wire and fuse sets what they bear for that long.
var _ = limit(Limit{Code: wireLoadCode, Check: func(e *Eval) []source.Finding {
	return eachCircuit(e, func(c *spec.Circuit) []source.Finding {
		load, ok := circuitLoad(e, c)
		if !ok || !short(c.Ampacity.Value, load.amperes) {
			return nil
		}
		return []source.Finding{e.clash(wireLoadCode, entry(c.Ampacity), load.figure,
			"the wire to the "+c.Feeds.Value+" carries %s; %s flows")}
	})
}})

var _ = limit(Limit{Code: fuseLoadCode, Check: func(e *Eval) []source.Finding {
	return eachCircuit(e, func(c *spec.Circuit) []source.Finding {
		load, ok := circuitLoad(e, c)
		if !ok || !c.Fuse.Set || !short(c.Fuse.Value, load.amperes) {
			return nil
		}
		return []source.Finding{e.clash(fuseLoadCode, entry(c.Fuse), load.figure,
			"the fuse in the feed to the "+c.Feeds.Value+" is %s; %s flows")}
	})
}})

type steadyLoad struct {
	amperes quantity.Current
	figure  figure
}

// circuitLoad gives the steady current of a feed; ok is false where there is
// none or it is not known.
func circuitLoad(e *Eval, c *spec.Circuit) (load steadyLoad, ok bool) {
	switch c.Feeds.Value {
	case "brakes":
		i, known := Try(e, brakesCurrent)
		return steadyLoad{i, of(e, brakesCurrent)}, known
	case "lamps", "charger":
		return steadyLoad{c.Load.Value, entry(c.Load)}, c.Load.Set
	}
	return load, false
}

func eachCircuit(e *Eval, check func(*spec.Circuit) []source.Finding) []source.Finding {
	var out []source.Finding
	for _, p := range spec.All[*spec.Circuit](e.Build) {
		out = append(out, check(p.Data)...)
	}
	return out
}
