package proof

import (
	"cmp"
	"slices"

	"ownerguide/spec/logic"
	"ownerguide/spec/product"
)

// bearing returns the options that can affect the figures of a model. Features written for an
// option are the maker's own, and figures depend only on features that follow from parts and
// label.
func bearing(m *product.Model) (list []string) {
	for _, o := range m.Options {
		v := &o.Value
		if v.Weighs.Value != 0 || len(v.Parts)+len(v.Without)+len(v.GAWR) > 0 || v.GVWR.Set || v.Overall != nil {
			list = append(list, o.Key)
		}
	}
	return list
}

// orderable returns the choices of at most so many of the options, each completed to the smallest
// valid order that contains it; all is false if there are more than room.
func (v *view) orderable(options []string, most, room int) (orders [][]string, all bool) {
	all = true
	v.solver.Each(options, most, func(chosen []string) bool {
		all = len(orders) < room
		orders = append(orders, chosen)
		return all
	})
	if !all || v.solver.Spent() {
		return nil, false
	}
	for i, chosen := range orders {
		orders[i], _ = v.solver.Smallest(v.problem.Options, exactly(options, chosen)...)
	}
	slices.SortStableFunc(orders, func(a, b []string) int { return cmp.Compare(len(a), len(b)) })
	return orders, true
}

// exactly returns formulas that exactly the chosen options are ordered.
func exactly(options, chosen []string) []logic.Formula {
	formulas := make([]logic.Formula, len(options))
	for i, o := range options {
		if formulas[i] = logic.Fact(o); !slices.Contains(chosen, o) {
			formulas[i] = logic.Not(formulas[i])
		}
	}
	return formulas
}
