package spec

import (
	"cmp"
	"math/bits"
	"reflect"
	"slices"

	"ownerguide/spec/logic"
	"ownerguide/spec/product"
	"ownerguide/spec/source"
)

// OptionSet is a set of options of a model, by their index in its list.
type OptionSet [optionWords]uint64

const (
	optionWords = 4
	// MostWatched is how many options a model may offer whose builds are watched.
	MostWatched = 64*optionWords - 1
	weights     = MostWatched
)

// Weights reports whether s contains the sums of the weights, and of weight times position, of all options.
func (s *OptionSet) Weights() bool { return s.Has(weights) }

func (s *OptionSet) add(option int) { s[option/64] |= 1 << (option % 64) }

// Has reports whether s contains option.
func (s *OptionSet) Has(option int) bool { return s[option/64]>>(option%64)&1 == 1 }

// Union returns the options that are in s or t.
func (s OptionSet) Union(t OptionSet) OptionSet {
	for i := range s {
		s[i] |= t[i]
	}
	return s
}

// Intersect returns the options that are in both s and t.
func (s OptionSet) Intersect(t OptionSet) OptionSet {
	for i := range s {
		s[i] &= t[i]
	}
	return s
}

// SubsetOf reports whether t contains all options of s.
func (s OptionSet) SubsetOf(t OptionSet) bool { return s.Union(t) == t }

// Len returns the number of options in s.
func (s OptionSet) Len() (n int) {
	for _, w := range s {
		n += bits.OnesCount64(w)
	}
	return n
}

// Dependencies are the options of a model that decide the result of each read of a build. They are not
// safe for concurrent use.
type Dependencies struct {
	model    *product.Model
	variants *Variants
	numbers  map[string]int
	all      OptionSet
	places   []string
	touch    map[string]OptionSet       // by place: options that put a part there or remove it
	swaps    map[string][]swap          // by place
	can      map[string][]Fitting       // by place: parts that can be there
	doubted  map[string]bool            // values whose existence is in doubt
	features map[string]OptionSet       // cache
	types    map[reflect.Type]OptionSet // cache
}

// swap is an option that replaces the component in a place; the new one has the position of the old one.
type swap struct {
	option int
	parts  [][2]Fitting // possible parts without it and with it
}

// deciding returns the options that decide what is in a place, for a caller that does not distinguish parts for which alike is true.
func (t *Dependencies) deciding(place string, alike func(a, b *Fitting) bool) OptionSet {
	set := t.touch[place]
	for _, s := range t.swaps[place] {
		if !slices.ContainsFunc(s.parts, func(p [2]Fitting) bool { return !alike(&p[0], &p[1]) }) {
			set[s.option/64] &^= 1 << (s.option % 64)
		}
	}
	return set
}

// NewDependencies returns the Dependencies of a model with at most [MostWatched] options.
func NewDependencies(v *Variants) *Dependencies {
	t := &Dependencies{model: v.model, variants: v, numbers: map[string]int{}, touch: map[string]OptionSet{}, swaps: map[string][]swap{}, can: map[string][]Fitting{}, doubted: map[string]bool{},
		features: map[string]OptionSet{}, types: map[reflect.Type]OptionSet{}}
	t.all.add(weights)
	for i, o := range v.model.Options {
		t.numbers[o.Key] = i
		t.all.add(i)
	}
	touch := func(place string, option int) {
		set := t.touch[place]
		set.add(option)
		t.touch[place] = set
	}
	put := func(place string, p product.Part) (swapped [][2]Fitting) {
		if _, met := t.can[place]; !met {
			t.places = append(t.places, place)
		}
		c, _ := v.line.Component(p.Use.Value)
		f := Fitting{Place: place, Kind: c.Kind, Component: c.ID, At: p.At, Size: p.Size, On: p.On.Value, Common: c.Common, Data: c.Data}
		list := slices.Clone(t.can[place])
		if len(list) == 0 || !t.filled(place) {
			alone := f
			alone.On = cmp.Or(f.On, "both")
			list = append(list, alone)
		}
		for _, old := range t.can[place] { // that it may replace, see [fit]
			own := f
			own.At, own.Size, own.On = cmp.Or(f.At, old.At), cmp.Or(f.Size, old.Size), cmp.Or(f.On, old.On)
			if !slices.Contains(list, own) {
				list = append(list, own)
			}
			swapped = append(swapped, [2]Fitting{old, own})
		}
		t.can[place] = list
		return swapped
	}
	for _, item := range v.model.Parts {
		put(item.Key, item.Value)
	}
	for i, o := range v.model.Options {
		for _, place := range o.Value.Without {
			touch(place.Value, i)
		}
		for _, item := range o.Value.Parts {
			touch(item.Key, i)
			swapped, p := put(item.Key, item.Value), item.Value
			if p.At == nil && p.Size == nil && !p.On.Set && t.filled(item.Key) {
				t.swaps[item.Key] = append(t.swaps[item.Key], swap{i, swapped})
			}
		}
	}
	return t
}

// InPlace returns the options that decide what is in a place.
func (t *Dependencies) InPlace(place string) OptionSet { return t.touch[place] }

// Places yields the places in which there can be parts, and the kinds of those parts.
func (t *Dependencies) Places(yield func(place string, kinds []string) bool) {
	for _, place := range t.places {
		var kinds []string
		for _, f := range t.can[place] {
			kinds = append(kinds, f.Kind)
		}
		slices.Sort(kinds)
		if !yield(place, slices.Compact(kinds)) {
			return
		}
	}
}

// Options returns the set of options with the given ids.
func (t *Dependencies) Options(ids []string) (set OptionSet) {
	for _, id := range ids {
		set.add(t.numbers[id])
	}
	return set
}

// where returns the options that decide which of the parts for which is returns true are fitted.
func (t *Dependencies) where(is func(*Fitting) bool) (set OptionSet) {
	for _, place := range t.places {
		for i := range t.can[place] {
			if is(&t.can[place][i]) {
				set = set.Union(t.touch[place])
				break
			}
		}
	}
	return set
}

// feature returns the options that decide whether there is a feature: those that occur in its formula and
// can change its truth value.
func (t *Dependencies) feature(name string) OptionSet {
	set, known := t.features[name]
	if !known {
		f := t.variants.Feature(name)
		for _, fact := range f.Facts() {
			i, option := t.numbers[fact]
			if !option {
				continue
			}
			as := func(is logic.Formula) logic.Formula {
				return f.Substitute(func(other string) logic.Formula {
					if other == fact {
						return is
					}
					return logic.Fact(other)
				})
			}
			with, without := as(logic.All()), as(logic.Any())
			solver := logic.NewSolver(featureSteps)
			if solver.Possible(with, logic.Not(without)) || solver.Possible(without, logic.Not(with)) || solver.Spent() {
				set.add(i)
			}
		}
		t.features[name] = set
	}
	return set
}

// featureSteps is the step limit of the solver for the question whether an option can change a feature.
const featureSteps = 100_000

// always reports whether every order has a part in a place for which is returns true.
func (t *Dependencies) always(place string, is func(Fitting) bool) bool {
	return t.filled(place) && !slices.ContainsFunc(t.can[place], func(p Fitting) bool { return !is(p) })
}

// filled reports whether every order has a part in a place.
func (t *Dependencies) filled(place string) bool {
	return t.model.Parts.Get(place) != nil && !slices.ContainsFunc(t.model.Options, func(o source.Item[product.Option]) bool {
		return slices.ContainsFunc(o.Value.Without, func(w word) bool { return w.Value == place })
	})
}

// typed returns the options that decide which parts of a type are fitted.
func typed[T any](t *Dependencies) OptionSet {
	set, known := t.types[reflect.TypeFor[T]()]
	if !known {
		set = t.where(func(p *Fitting) bool { _, is := p.Data.(T); return is })
		t.types[reflect.TypeFor[T]()] = set
	}
	return set
}

// chosen returns the options of the model for which is returns true.
func (t *Dependencies) chosen(is func(*product.Option) bool) (set OptionSet) {
	for i := range t.model.Options {
		if is(&t.model.Options[i].Value) {
			set.add(i)
		}
	}
	return set
}
