package derive

import (
	"ownerguide/spec"
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// Figures that a maker states for parts unknown to the program: they are printed in both
// units and not used in any formula.
func init() {
	for _, f := range []struct {
		name, what string
		round      quantity.Rounding
		of         func(*product.Figure) source.Given[quantity.Any]
	}{
		{"at_most", "not to be passed", statedMost, func(f *product.Figure) source.Given[quantity.Any] { return f.Most }},
		{"at_least", "to be reached", statedLeast, func(f *product.Figure) source.Given[quantity.Any] { return f.Least }},
	} {
		family(Decl{Name: f.name, Round: f.round, Formula: "figures of the maker's own that are " + f.what + ", as its parts state them", Source: fromPart}, func(e *Eval) (out []*Value) {
			met := map[string]bool{}
			for _, p := range spec.All[*product.Plain](e.Build) {
				for i := range p.Data.Figures {
					item := &p.Data.Figures[i]
					if g := f.of(&item.Value); g.Set && !met[item.Key] {
						met[item.Key] = true
						out = append(out, e.member(item.Key, func(e *Eval) any { return Read(e, g).Quantity }))
					}
				}
			}
			return out
		})
	}
}
