package spec

import (
	"slices"

	"ownerguide/spec/product"
)

// Watch notes what is asked of a build, as the options that decide the answers: to who asks nothing
// else, another build of the model is the same if it agrees with this one on those options.
type Watch struct {
	dependencies *Dependencies
	now          OptionSet
	claims       map[string]OptionSet
	relied       map[string]bool            // now
	relies       map[string]map[string]bool // by claim
}

func newWatch(t *Dependencies) *Watch {
	return &Watch{dependencies: t, claims: map[string]OptionSet{}, relies: map[string]map[string]bool{}}
}

// Watched gives a build whose answers are noted from now on.
func (b *Build) Watched(t *Dependencies) *Build {
	own, sheet := *b, *b.Sheet
	sheet.Options = nil // they are asked of the build
	own.Sheet, own.watch = &sheet, newWatch(t)
	return &own
}

// With gives the build with more options on it, which nobody offers.
func (b *Build) With(more ...ChosenOption) *Build {
	own := *b
	own.options = append(slices.Clip(b.options), more...)
	if b.watch != nil {
		own.watch = newWatch(b.watch.dependencies)
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
	w := b.watch
	if w == nil {
		work()
		return
	}
	w.claims[name] = w.claims[name].And(b.Unnoted(func() {
		w.relied = map[string]bool{}
		work()
		w.relies[name] = w.relied
	}))
}

// RelyOn notes that a claim relies on there being a value, whichever it is. It is false where that may not be:
// what the value hangs on is to be noted then.
func (b *Build) RelyOn(value string) bool {
	if b.watch == nil || b.watch.relied == nil || b.watch.dependencies.doubted[value] {
		return false
	}
	b.watch.relied[value] = true
	return true
}

// Relies gives the values that a claim relies on.
func (b *Build) Relies(claim string) map[string]bool { return b.watch.relies[claim] }

// Doubt has it noted from now on what a value hangs on, in place of relying on it.
func (t *Dependencies) Doubt(value string) { t.doubted[value] = true }

// Unnoted is Asking of which what goes on around it does not come to hang on: it has to note by itself
// what it makes of the answers.
func (b *Build) Unnoted(work func()) (asked OptionSet) {
	if b.watch == nil {
		work()
		return asked
	}
	outer, relied := b.watch.now, b.watch.relied
	b.watch.relied = nil
	asked = b.Asking(work)
	b.watch.now, b.watch.relied = outer, relied
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
			alike := func(p, q *Fitting) bool { return is(p) == is(q) && (!is(p) || looks(p) == looks(q)) }
			if slices.ContainsFunc(can, func(p Fitting) bool { return is(&p) }) && !t.always(place, func(p Fitting) bool { return alike(&p, &can[0]) }) {
				set = set.And(t.deciding(place, alike))
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
		more := func(p *Fitting) bool { x, ok := figure(p); return ok && (!any || x > most) }
		for _, place := range t.places {
			if slices.ContainsFunc(t.can[place], func(p Fitting) bool { return more(&p) }) {
				set = set.And(t.deciding(place, func(p, q *Fitting) bool { return more(p) == more(q) }))
			}
		}
		fewest := t.all
		for i := range b.parts {
			if x, ok := figure(&b.parts[i]); !ok || x != most {
				continue
			}
			own := t.deciding(b.parts[i].Place, func(p, q *Fitting) bool {
				x, ok := figure(p)
				y, too := figure(q)
				return x == y && ok == too
			})
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
