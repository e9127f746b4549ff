package proof

import (
	"cmp"
	"maps"
	"math"
	"slices"
	"strings"

	"ownerguide/spec/derive"
	"ownerguide/spec/logic"
	"ownerguide/spec/product"
	"ownerguide/spec/source"
)

// sums are the options that do nothing to figures but weigh, and so enter them by
// two sums alone: of weights, and of weights times where they act. Some bring parts
// all the same, which no figure is worked out from.
type sums struct {
	*view
	adds   map[string][2]float64
	others []string // that bear on figures in another way
}

func (v *view) sums() sums {
	s := sums{view: v, adds: map[string][2]float64{}}
	for i := range v.model.Options {
		key, o := v.model.Options[i].Key, &v.model.Options[i].Value
		if len(o.Without)+len(o.GAWR) == 0 && !o.GVWR.Set && o.Overall == nil && (o.Weighs.Value != 0 && len(o.Parts) == 0 || len(o.Parts) > 0 && v.figureless(key)) {
			w := o.Weighs.Value.Base()
			s.adds[key] = [2]float64{w, w * o.Center.Value.Base()}
		}
	}
	for _, key := range bearing(v.model) {
		if _, weighs := s.adds[key]; !weighs {
			s.others = append(s.others, key)
		}
	}
	return s
}

// figureless tells whether all parts that an option brings are without figures, of no
// kind and no size that the program knows, and each in a place that nothing else fills
// or empties: neither values nor features that values turn on can follow from them.
// How often a job is due does, so no text may tell that of theirs by name.
func (v *view) figureless(option string) bool {
	for _, p := range v.model.Options.Get(option).Parts {
		c, _ := v.line.Component(p.Value.Use.Value)
		if plain, is := c.Data.(*product.Plain); !is || plain.Kind.Set || len(plain.Figures) > 0 || p.Value.Size != nil || v.model.Parts.Get(p.Key) != nil {
			return false
		}
		for _, s := range c.Common.Service {
			if slices.ContainsFunc(v.valueNames(), func(name string) bool { return strings.HasPrefix(name, "service."+s.Key+".") }) {
				return false
			}
		}
		for _, o := range v.model.Options {
			if o.Key != option && (o.Value.Parts.Get(p.Key) != nil || slices.ContainsFunc(o.Value.Without, func(w source.Given[string]) bool { return w.Value == p.Key })) {
				return false
			}
		}
	}
	return true
}

// settle works out the orders at the extremes of both sums, for every choice of the
// other options. See the comment of the package for why they are enough. It is not
// settled when that would take more orders than the limit, or some limit is kept in
// ways nobody knows; the outcomes say so.
func (s sums) settle(f *figuring, limit int) (settled bool) {
	choices, all := s.orderable(s.others, len(s.others), limit)
	if !all {
		f.unchecked("%s has more than %d distinct choices of the %d options that bear on figures by more than their weight; none was checked: %s bring or take parts that the program knows, or change the label or the outer size", s.model.ID, limit, len(s.others), strings.Join(s.others, ", "))
		return false
	}
	settled = true
	for _, order := range choices {
		fixed := map[string]bool{}
		for _, o := range s.others {
			fixed[o] = slices.Contains(order, o)
		}
		f.judged = [2]*derive.Judged{}
		f.evaluate(order)
		if settled = s.cell(f, s.origin(f, order), fixed, limit); !settled {
			break
		}
	}
	f.minimize()
	return settled
}

// origin is an order that was judged with either sheet. Others that differ from it by the options of
// sums are judged from it.
type origin struct {
	order  []string
	sums   [2]float64
	judged [2]*derive.Judged
}

// origin makes one of the order that was worked out last.
func (s sums) origin(f *figuring, order []string) origin {
	b := origin{order: order, judged: f.judged}
	for _, o := range order {
		b.sums[0] += s.adds[o][0]
		b.sums[1] += s.adds[o][1]
	}
	return b
}

// at judges it with other sums.
func (b origin) at(f *figuring, full int, sums [2]float64) *derive.Judged {
	f.again += 1 - full
	j := b.judged[full]
	return j.Reweigh(weighed(j.Build(), sums[0]-b.sums[0], sums[1]-b.sums[1]))
}

// corner gives the verdicts of an order. It is worked out in full where something is found, or lacks,
// that is not known.
func (s sums) corner(f *figuring, from origin, c logic.Extreme) [2][]derive.Verdict {
	var verdicts [2][]derive.Verdict
	for full, sheet := range f.sheets {
		if from.judged[full] == nil {
			return f.evaluate(c.Chosen)
		}
		j := from.at(f, full, c.Sums)
		news := f.news(j.Findings) || !f.same(from.order, from.judged[full].Values, j.Values) || !f.same(from.order, j.Values, from.judged[full].Values)
		if full == 0 {
			keepTightest(f.rooms, j.Values.Rooms())
			b := f.build(sheet, c.Chosen)
			news = news || b == nil || f.inspect != nil && f.news(f.inspect(b, j.Values))
		}
		if news {
			return f.evaluate(c.Chosen)
		}
		verdicts[full] = slices.DeleteFunc(j.Verdicts, func(v derive.Verdict) bool { return !v.Sums && !slices.Contains(v.Ways, false) })
	}
	return verdicts
}

// cell settles the orders that agree with what is fixed.
func (s sums) cell(f *figuring, from origin, fixed map[string]bool, limit int) bool {
	steps := logic.ExtremesStepsEach(len(s.line.Models))
	corners, whole := s.problem.Extremes(s.adds, fixed, steps)
	if !whole {
		f.unchecked("the extremes of what the options of %s weigh were not found in %d steps: its rules tie too many options together", s.model.ID, steps)
		return false
	}
	if len(f.orders)+len(corners) > limit {
		f.unchecked("what the options of %s weigh was not settled with the figures of %d orders, of more than there are at the extremes", s.model.ID, limit)
		return false
	}
	if len(corners) > outlineSides && s.within(f, from, corners) { // most cells, at a tenth of the cost
		s.open(f, corners)
		return true
	}
	ways := map[string][]bool{} // by limit and sheet: those kept at all corners
	failed := map[string]bool{}
	for i, c := range corners {
		for full, verdicts := range s.corner(f, from, c) {
			for _, v := range verdicts {
				key := v.Code.ID + []string{"", " with all that a sheet can say"}[full]
				if v.Ways == nil && len(corners) > 1 {
					f.unchecked("%s rests on what options weigh together, in a way that has not been shown to be settled at the extremes: %s was not checked", v.Code.ID, s.model.ID)
					return false
				}
				failed[key] = failed[key] || !slices.Contains(v.Ways, true)
				if i == 0 || ways[key] == nil {
					ways[key] = slices.Clone(v.Ways)
				}
				for w := range ways[key] {
					ways[key][w] = ways[key][w] && v.Ways[w]
				}
			}
		}
	}
	s.open(f, corners)
	for key, kept := range ways {
		if !failed[key] && !slices.Contains(kept, true) {
			return s.branch(f, from, fixed, corners, limit)
		}
	}
	return true
}

// branch settles orders with an option and those without it: the one that moves the
// sums most of those that the corners disagree on.
func (s sums) branch(f *figuring, from origin, fixed map[string]bool, corners []logic.Extreme, limit int) bool {
	widest := ""
	for _, o := range slices.Sorted(maps.Keys(s.adds)) {
		with := 0
		for _, c := range corners {
			if slices.Contains(c.Chosen, o) {
				with++
			}
		}
		if with > 0 && with < len(corners) && (widest == "" || math.Abs(s.adds[o][1]) > math.Abs(s.adds[widest][1])) {
			widest = o
		}
	}
	if widest == "" { // all corners are one order, and one order is kept in some way
		return true
	}
	for _, is := range []bool{false, true} {
		half := maps.Clone(fixed)
		half[widest] = is
		if !s.cell(f, from, half, limit) {
			return false
		}
	}
	return true
}

// open leaves open whether a value is there of which it does not follow from its
// being there at all corners.
func (s sums) open(f *figuring, corners []logic.Extreme) {
	if len(corners) < 2 {
		return
	}
	for _, name := range f.names {
		if s.declared(name).Gaps && f.absent[name] != nil {
			f.learn(name, corners[0].Chosen, true)
			f.learn(name, corners[0].Chosen, false)
		}
	}
}

// minimize takes options out of the witnesses as long as they show what they show.
func (f *figuring) minimize() {
	places := slices.SortedFunc(maps.Keys(f.met), func(a, b place) int { return cmp.Compare(f.met[a], f.met[b]) })
	for i, p := range places {
		if i == mostMinimized {
			return
		}
		order := f.out[f.met[p]].witness.Options
		for at := len(order) - 1; at >= 0; at-- {
			fewer := slices.Delete(slices.Clone(order), at, at+1)
			if f.problem.Violations(fewer) == nil {
				if found, is := f.finds(p, fewer); is {
					order, f.out[f.met[p]] = fewer, f.figure(found, fewer)
				}
			}
		}
	}
}

// mostMinimized is of how many failures the witness is made smaller: each takes the
// figures of as many orders as it has options.
const mostMinimized = 30

// finds tells whether an order shows a finding too.
func (f *figuring) finds(p place, order []string) (found source.Finding, is bool) {
	for _, s := range f.sheets {
		if b := f.build(s, order); b != nil {
			vs, findings := derive.Evaluate(b)
			if f.inspect != nil {
				findings.Add(f.inspect(b, vs)...)
			}
			for _, found := range findings {
				if found.Pos = f.placed(found); p == (place{found.Code, found.Pos}) {
					return found, true
				}
			}
		}
	}
	return source.Finding{}, false
}
