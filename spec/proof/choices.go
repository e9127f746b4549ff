package proof

import (
	"cmp"
	"math/big"
	"slices"
	"strings"

	"ownerguide/spec/logic"
	"ownerguide/spec/product"
)

// bearing lists the options that can change a figure of a model. A feature an
// option brings is the maker's own, and figures turn on those that follow from
// parts and label.
func bearing(m *product.Model) (list []string) {
	for _, o := range m.Options {
		v := &o.Value
		if v.Weighs.Value != 0 || len(v.Parts)+len(v.Without)+len(v.GAWR) > 0 || v.GVWR.Set || v.Overall != nil {
			list = append(list, o.Key)
		}
	}
	return list
}

// choices are distinct choices of the options that bear on figures, each as an
// order; whole tells whether these are all there are. Of others only those with
// at most so many options are here.
type choices struct {
	orders [][]string
	whole  bool
	most   int
	bear   []string
}

// overLimit is which share of the limit is worked out of a model that has more
// choices than the limit: the proof fails all the same, and what is near the
// plain model shows most slips.
const overLimit = 20

// distinct lists the distinct choices, those with fewer options first.
func (v *view) distinct(limit int) choices {
	c := choices{bear: bearing(v.model), whole: true}
	bears := func(option string) bool { return slices.Contains(c.bear, option) }
	switch n := v.problem.Count(); {
	case n.Cmp(big.NewInt(int64(limit))) <= 0:
		v.problem.Each(-1, func(chosen []string) bool { c.orders = append(c.orders, chosen); return true })
		bySize(c.orders)
		met := map[string]bool{}
		c.orders = slices.DeleteFunc(c.orders, func(chosen []string) bool {
			key := strings.Join(slices.DeleteFunc(slices.Clone(chosen), func(o string) bool { return !bears(o) }), " ")
			again := met[key]
			met[key] = true
			return again
		})
		return c
	case len(c.bear) < len(v.problem.Options):
		w := &chooser{view: v, options: c.bear, size: len(c.bear), room: limit, visits: visitsPerChoice * limit}
		if w.walk(0, nil, nil) {
			c.orders = w.found
			bySize(c.orders)
			return c
		}
	}
	c.whole = false
	for c.most = 0; c.most <= len(c.bear); c.most++ {
		w := &chooser{view: v, options: c.bear, size: c.most, room: limit / overLimit, visits: visitsPerChoice * limit / overLimit}
		if !w.walk(0, nil, nil) {
			break
		}
		c.orders = w.found
	}
	c.most--
	bySize(c.orders)
	return c
}

func bySize(orders [][]string) {
	slices.SortStableFunc(orders, func(a, b []string) int { return cmp.Compare(len(a), len(b)) })
}

// visitsPerChoice bounds how many beginnings of choices are looked at.
const visitsPerChoice = 20

// chooser walks over the choices of at most so many of the options.
type chooser struct {
	*view
	options []string
	size    int
	room    int // choices that may still be found
	visits  int
	found   [][]string
}

// walk decides the options from one on. It is false when there is no room left.
func (c *chooser) walk(at int, chosen []string, decided []logic.Formula) bool {
	if c.visits--; c.visits < 0 {
		return false
	}
	if !c.solver.Possible(decided...) {
		return true
	}
	if at == len(c.options) {
		if c.room--; c.room < 0 {
			return false
		}
		order, _ := c.solver.Smallest(c.problem.Options, logic.All(decided...))
		c.found = append(c.found, order)
		return true
	}
	is := logic.Fact(c.options[at])
	if len(chosen) < c.size && !c.walk(at+1, append(slices.Clip(chosen), c.options[at]), append(slices.Clip(decided), is)) {
		return false
	}
	return c.walk(at+1, chosen, append(slices.Clip(decided), logic.Not(is)))
}
