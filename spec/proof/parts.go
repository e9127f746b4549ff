package proof

import (
	"strings"

	"ownerguide/spec/logic"
	"ownerguide/spec/product"
)

// bringing says which features a part of some kind goes with. Hazards, jobs and
// texts hang on the features, and the maker writes them: forgotten ones take the
// cautions along.
type bringing struct {
	kind string
	is   func(data any) bool // of that kind; nil for all
	any  []string            // of these at least one is there
	none []string            // and none of these
}

var bringings = []bringing{
	{kind: "coupler", is: gooseneck, any: []string{"gooseneck"}, none: []string{"bumper-pull"}},
	{kind: "coupler", is: func(data any) bool { return !gooseneck(data) }, any: []string{"bumper-pull"}, none: []string{"gooseneck"}},
	{kind: "deck", any: []string{"decked"}},
	{kind: "deck", is: tilts, any: []string{"tilting"}},
	{kind: "deck", is: tilts, any: []string{"power-tilt", "gravity-tilt"}},
	{kind: "dump-box", any: []string{"dump"}},
	{kind: "power-unit", any: []string{"hydraulics"}},
	{kind: "battery", any: []string{"deep-cycle-battery"}},
	{kind: "charger", any: []string{"charger"}},
	{kind: "winch", any: []string{"winch"}},
	{kind: "winch-plate", any: []string{"winch-plate"}},
	{kind: "ramp", any: []string{"ramps"}},
	{kind: "spare", any: []string{"spare"}},
	{kind: "prop", any: []string{"body-prop"}},
	{kind: "lock", any: []string{"deck-lock", "tilt-latch"}},
	{kind: "cushion", any: []string{"cushion"}},
	{kind: "rack", any: []string{"headache-rack"}},
	{kind: "tarp", any: []string{"tarp"}},
	{kind: "gate", any: []string{"gate-barn", "gate-spreader"}},
	{kind: "support", any: []string{"stabilizers"}},
	{kind: "box", any: []string{"front-box", "underbody-box"}},
	{kind: "anchor", any: []string{"d-rings", "stake-pockets", "rub-rails"}},
	{kind: "rear-guard", any: []string{"rear-guard", "guard-exempt"}},
}

func gooseneck(data any) bool {
	c, ok := data.(*product.Coupler)
	return ok && c.Kind.Value == "gooseneck-ball"
}

func tilts(data any) bool {
	d, ok := data.(*product.Deck)
	return ok && d.Tilting.Value > 0
}

// parts settles that every part goes with the features that its kind asks for.
func (v *view) parts() (out []outcome) {
	for _, p := range v.variants.Parts() {
		for _, b := range bringings {
			if p.Kind != b.kind || b.is != nil && !b.is(p.Data) {
				continue
			}
			there := v.condition(logic.New(nil, b.any, b.none), "")
			without := ""
			if len(b.none) > 0 {
				without = " without " + strings.Join(b.none, " or ")
			}
			v.settle(&out, codePart, p.From, logic.All(p.When, logic.Not(there)), nil,
				"%s is of kind %s and goes with the feature %s%s; write it under features of the component, the option or the model", p.Component, b.kind, strings.Join(b.any, " or "), without)
		}
	}
	return out
}
