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

// OptionSet is some of a model's options, by their number in its list.
type OptionSet [optionWords]uint64

const (
	optionWords = 4
	// MostWatched is how many options a model may offer whose builds are watched.
	MostWatched = 64*optionWords - 1
	weights     = MostWatched
)

// Weights tells whether the sums of what all options weigh, and of that times where they act, are among them.
func (s *OptionSet) Weights() bool { return s.Has(weights) }

func (s *OptionSet) add(option int) { s[option/64] |= 1 << (option % 64) }

// Has tells whether an option is among them.
func (s *OptionSet) Has(option int) bool { return s[option/64]>>(option%64)&1 == 1 }

// And gives those that are in either.
func (s OptionSet) And(t OptionSet) OptionSet {
	for i := range s {
		s[i] |= t[i]
	}
	return s
}

// Both gives those that are in both.
func (s OptionSet) Both(t OptionSet) OptionSet {
	for i := range s {
		s[i] &= t[i]
	}
	return s
}

// Within tells whether all of them are among others.
func (s OptionSet) Within(t OptionSet) bool { return s.And(t) == t }

// Size is how many there are.
func (s OptionSet) Size() (n int) {
	for _, w := range s {
		n += bits.OnesCount64(w)
	}
	return n
}

// Dependencies say for all that can be asked of a build which options of its model decide the answer. It is
// not for several goroutines at once.
type Dependencies struct {
	model    *product.Model
	variants *Variants
	numbers  map[string]int
	all      OptionSet
	places   []string
	touch    map[string]OptionSet       // by place: options that put something there or take it away
	can      map[string][]Fitting       // by place: what can be there
	features map[string]OptionSet       // known so far
	types    map[reflect.Type]OptionSet // known so far
}

// NewDependencies makes them of a model with no more options than [MostWatched].
func NewDependencies(v *Variants) *Dependencies {
	t := &Dependencies{model: v.model, variants: v, numbers: map[string]int{}, touch: map[string]OptionSet{}, can: map[string][]Fitting{},
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
	put := func(place string, p product.Part) {
		if _, met := t.can[place]; !met {
			t.places = append(t.places, place)
		}
		c, _ := v.line.Component(p.Use.Value)
		f := Fitting{Place: place, Kind: c.Kind, Component: c.ID, At: p.At, Size: p.Size, On: p.On.Value, Common: c.Common, Data: c.Data}
		alone := f
		alone.On = cmp.Or(f.On, "both")
		list := append(slices.Clone(t.can[place]), alone)
		for _, old := range t.can[place] { // that it may take the place of, see [fit]
			own := f
			own.At, own.Size, own.On = cmp.Or(f.At, old.At), cmp.Or(f.Size, old.Size), cmp.Or(f.On, old.On)
			if !slices.Contains(list, own) {
				list = append(list, own)
			}
		}
		t.can[place] = list
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
			put(item.Key, item.Value)
		}
	}
	return t
}

// InPlace gives the options that decide what is in a place.
func (t *Dependencies) InPlace(place string) OptionSet { return t.touch[place] }

// Places gives the places in which there can be parts, and of each what kinds.
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

// Options gives options by their ids.
func (t *Dependencies) Options(ids []string) (set OptionSet) {
	for _, id := range ids {
		set.add(t.numbers[id])
	}
	return set
}

// where gives the options that decide which of the parts that are as asked are there.
func (t *Dependencies) where(is func(*Fitting) bool) (set OptionSet) {
	for _, place := range t.places {
		for i := range t.can[place] {
			if is(&t.can[place][i]) {
				set = set.And(t.touch[place])
				break
			}
		}
	}
	return set
}

// feature gives the options that decide whether there is a feature: those that the formula speaks of and
// that make it another somewhere.
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
				return f.Over(func(other string) logic.Formula {
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

// featureSteps is how many steps the solver gets to find out that an option decides nothing.
const featureSteps = 100_000

// always tells whether there is a part that is as asked in a place, whatever is ordered.
func (t *Dependencies) always(place string, is func(Fitting) bool) bool {
	return t.model.Parts.Get(place) != nil && !slices.ContainsFunc(t.can[place], func(p Fitting) bool { return !is(p) }) &&
		!slices.ContainsFunc(t.model.Options, func(o source.Item[product.Option]) bool {
			return slices.ContainsFunc(o.Value.Without, func(w word) bool { return w.Value == place })
		})
}

// typed gives the options that decide which parts of a type are there.
func typed[T any](t *Dependencies) OptionSet {
	set, known := t.types[reflect.TypeFor[T]()]
	if !known {
		set = t.where(func(p *Fitting) bool { _, is := p.Data.(T); return is })
		t.types[reflect.TypeFor[T]()] = set
	}
	return set
}

// chosen gives the options of the model that are as asked.
func (t *Dependencies) chosen(is func(*product.Option) bool) (set OptionSet) {
	for i := range t.model.Options {
		if is(&t.model.Options[i].Value) {
			set.add(i)
		}
	}
	return set
}

// Watch notes what is asked of a build, as the options that decide the answers: to who asks nothing
// else, another build of the model is the same if it agrees with this one on those options.
type Watch struct {
	dependencies *Dependencies
	now          OptionSet
	claims       map[string]OptionSet
}

// Watched gives a build whose answers are noted from now on.
func (b *Build) Watched(t *Dependencies) *Build {
	own, sheet := *b, *b.Sheet
	sheet.Options = nil // they are asked of the build
	own.Sheet, own.watch = &sheet, &Watch{dependencies: t, claims: map[string]OptionSet{}}
	return &own
}

// With gives the build with more options on it, which nobody offers.
func (b *Build) With(more ...ChosenOption) *Build {
	own := *b
	own.options = append(slices.Clip(b.options), more...)
	if b.watch != nil {
		own.watch = &Watch{dependencies: b.watch.dependencies, claims: map[string]OptionSet{}}
	}
	return &own
}

// Asking does some work and tells on which options hang the answers it got. They are noted for what
// goes on around it too.
func (b *Build) Asking(work func()) (asked OptionSet) {
	w := b.watch
	if w == nil {
		work()
		return asked
	}
	outer := w.now
	w.now = OptionSet{}
	work()
	asked = w.now
	w.now = outer.And(asked)
	return asked
}

// NoteFailure does some work that fails or does not. Where it fails all that it asked is noted, else no more than what
// is sufficient for it not to.
func (b *Build) NoteFailure(work func() error, sufficient func()) (err error) {
	asked := b.Unnoted(func() { err = work() })
	if err != nil {
		b.Note(asked)
	} else if b.watch != nil {
		sufficient()
	}
	return err
}

// Note notes answers that hang on some options.
func (b *Build) Note(set OptionSet) {
	if b.watch != nil {
		b.watch.now = b.watch.now.And(set)
	}
}

// Claim does some work that nothing around it hangs on, and keeps what it hangs on itself, by name.
func (b *Build) Claim(name string, work func()) {
	asked := b.Unnoted(work)
	if w := b.watch; w != nil {
		w.claims[name] = w.claims[name].And(asked)
	}
}

// Unnoted is Asking of which what goes on around it does not come to hang on: it has to note by itself
// what it makes of the answers.
func (b *Build) Unnoted(work func()) (asked OptionSet) {
	if b.watch == nil {
		work()
		return asked
	}
	outer := b.watch.now
	asked = b.Asking(work)
	b.watch.now = outer
	return asked
}

// Subclaim is Claim within another: it hangs also on what was asked before, without which it would not have
// come to it.
func (b *Build) Subclaim(name string, work func()) {
	w := b.watch
	if w == nil {
		work()
		return
	}
	outer := w.now
	work()
	w.claims[name] = w.claims[name].And(w.now)
	w.now = outer
}

// Claims gives for each claim on which options it hangs.
func (b *Build) Claims() map[string]OptionSet {
	if b.watch == nil {
		return nil
	}
	return b.watch.claims
}

// IsWatched tells whether answers are noted, so that it pays to ask for less.
func (b *Build) IsWatched() bool { return b.watch != nil }

func (b *Build) note(of func(*Dependencies) OptionSet) {
	if b.watch != nil {
		b.Note(of(b.watch.dependencies))
	}
}

func (b *Build) noteAll() { b.note(func(t *Dependencies) OptionSet { return t.all }) }

// PartsWhere gives the parts that are as asked, in order. What is asked may turn on the part alone.
func (b *Build) PartsWhere(is func(*Fitting) bool) (parts []*Fitting) {
	b.note(func(t *Dependencies) OptionSet { return t.where(is) })
	for i := range b.parts {
		if is(&b.parts[i]) {
			parts = append(parts, &b.parts[i])
		}
	}
	return parts
}

// In gives the part in a place; nil when there is none.
func (b *Build) In(place string) *Fitting {
	b.note(func(t *Dependencies) OptionSet { return t.touch[place] })
	for i := range b.parts {
		if b.parts[i].Place == place {
			return &b.parts[i]
		}
	}
	return nil
}

// Places gives the places of the parts, and of a build that is watched those where others of its model
// have one too.
func (b *Build) Places() (places []string) {
	if b.watch != nil {
		return b.watch.dependencies.places
	}
	for _, p := range b.parts {
		places = append(places, p.Place)
	}
	return places
}

// PartsAs is PartsWhere to who looks at no more of a part than what looks gives, which can be compared.
func (b *Build) PartsAs(is func(*Fitting) bool, looks func(*Fitting) any) (parts []*Fitting) {
	b.note(func(t *Dependencies) (set OptionSet) {
		for _, place := range t.places {
			can := t.can[place]
			alike := func(p Fitting) bool {
				return is(&p) == is(&can[0]) && (!is(&p) || looks(&p) == looks(&can[0]))
			}
			if slices.ContainsFunc(can, func(p Fitting) bool { return is(&p) }) && !t.always(place, alike) {
				set = set.And(t.touch[place])
			}
		}
		return set
	})
	b.Unnoted(func() { parts = b.PartsWhere(is) })
	return parts
}

// Largest gives the largest of a figure that parts have, which may turn on the part alone; false where none has it.
// Asked is for the parts that could have a larger one, and for one that has this.
func (b *Build) Largest(figure func(*Fitting) (float64, bool)) (most float64, any bool) {
	for i := range b.parts {
		if x, ok := figure(&b.parts[i]); ok && (!any || x > most) {
			most, any = x, true
		}
	}
	b.note(func(t *Dependencies) (set OptionSet) {
		set = t.where(func(p *Fitting) bool { x, ok := figure(p); return ok && (!any || x > most) })
		fewest := t.all
		for i := range b.parts {
			if x, ok := figure(&b.parts[i]); !ok || x != most {
				continue
			}
			own := t.touch[b.parts[i].Place]
			if t.always(b.parts[i].Place, func(p Fitting) bool { x, ok := figure(&p); return ok && x == most }) {
				own = OptionSet{}
			}
			if set.And(own).Size() < set.And(fewest).Size() {
				fewest = own
			}
		}
		if any {
			set = set.And(fewest)
		}
		return set
	})
	return most, any
}

// Fitted tells whether a build has a part of a type, whichever it is.
func Fitted[T any](b *Build) bool {
	b.note(func(t *Dependencies) OptionSet {
		if slices.ContainsFunc(t.places, func(place string) bool {
			return t.always(place, func(p Fitting) bool { _, is := p.Data.(T); return is })
		}) {
			return OptionSet{}
		}
		return typed[T](t)
	})
	return slices.ContainsFunc(b.parts, func(f Fitting) bool { _, is := f.Data.(T); return is })
}

// OptionsWhere gives the options the unit has that are as asked. What is asked may turn on the option alone.
func (b *Build) OptionsWhere(is func(*product.Option) bool) (options []ChosenOption) {
	b.note(func(t *Dependencies) OptionSet { return t.chosen(is) })
	for _, o := range b.options {
		if is(o.Option) {
			options = append(options, o)
		}
	}
	return options
}

// Weighing gives the options the unit has to who asks for nothing but two sums: of what they weigh, and of
// that times where it acts.
func (b *Build) Weighing() []ChosenOption {
	b.note(func(*Dependencies) (set OptionSet) { set.add(weights); return set })
	return b.options
}

// Changed gives the options that were fitted after delivery, which a sheet says that has any.
func (b *Build) Changed() (changed []ChosenOption) {
	if len(b.Sheet.Added) == 0 {
		return nil
	}
	for _, o := range b.Options() {
		if o.Change != nil {
			changed = append(changed, o)
		}
	}
	return changed
}
