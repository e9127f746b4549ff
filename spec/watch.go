package spec

import (
	"slices"

	"ownerguide/spec/product"
)

// Watch records which options decide what a caller reads of a build. For a caller that reads nothing else,
// every build of the model that agrees with this one on those options is the same.
type Watch struct {
	dependencies *Dependencies
	now          OptionSet
	claims       map[string]OptionSet
	assuming     map[string]bool            // values that the current claim assumes to exist
	assumed      map[string]map[string]bool // by claim: the values it assumes to exist
}

func newWatch(t *Dependencies) *Watch {
	return &Watch{dependencies: t, claims: map[string]OptionSet{}, assumed: map[string]map[string]bool{}}
}

// Watched returns a build whose reads are recorded from now on.
func (b *Build) Watched(t *Dependencies) *Build {
	own, sheet := *b, *b.Sheet
	sheet.Options = nil // options must be read through the build
	own.Sheet, own.watch = &sheet, newWatch(t)
	return &own
}

// With returns the build with more options, which need not be those of the model.
func (b *Build) With(more ...ChosenOption) *Build {
	own := *b
	own.options = append(slices.Clip(b.options), more...)
	if b.watch != nil {
		own.watch = newWatch(b.watch.dependencies)
	}
	return &own
}

// TraceReads runs work and returns the options that its reads depend on. They are also dependencies of the
// enclosing work.
func (b *Build) TraceReads(work func()) (read OptionSet) {
	w := b.watch
	if w == nil {
		work()
		return read
	}
	outer := w.now
	w.now = OptionSet{}
	work()
	read = w.now
	w.now = outer.Union(read)
	return read
}

// TraceFailure runs work and returns its error. If there is one, everything that work read is recorded, otherwise only
// what sufficient reads, which must be enough for success.
func (b *Build) TraceFailure(work func() error, sufficient func()) (err error) {
	read := b.TraceDetached(func() { err = work() })
	if err != nil {
		b.DependOn(read)
	} else if b.watch != nil {
		sufficient()
	}
	return err
}

// DependOn records a dependency on options.
func (b *Build) DependOn(set OptionSet) {
	if b.watch != nil {
		b.watch.now = b.watch.now.Union(set)
	}
}

// Claim runs work and keeps the options it depends on by name. They are not dependencies of the enclosing work.
func (b *Build) Claim(name string, work func()) {
	w := b.watch
	if w == nil {
		work()
		return
	}
	w.claims[name] = w.claims[name].Union(b.TraceDetached(func() {
		w.assuming = map[string]bool{}
		work()
		w.assumed[name] = w.assuming
	}))
}

// AssumeExists records that the current claim assumes that a value exists, whatever it is. If the existence is in
// doubt, it returns false, and the caller must record what the value depends on.
func (b *Build) AssumeExists(value string) bool {
	if b.watch == nil || b.watch.assuming == nil || b.watch.dependencies.doubted[value] {
		return false
	}
	b.watch.assuming[value] = true
	return true
}

// Assumed returns the values that a claim assumes to exist.
func (b *Build) Assumed(claim string) map[string]bool { return b.watch.assumed[claim] }

// Doubt makes AssumeExists return false for a value from now on.
func (t *Dependencies) Doubt(value string) { t.doubted[value] = true }

// TraceDetached runs work and returns the options that its reads depend on, without adding them to the
// dependencies of the enclosing work. The caller must DependOn whatever part of the result it uses.
func (b *Build) TraceDetached(work func()) (read OptionSet) {
	if b.watch == nil {
		work()
		return read
	}
	outer, relied := b.watch.now, b.watch.assuming
	b.watch.assuming = nil
	read = b.TraceReads(work)
	b.watch.now, b.watch.assuming = outer, relied
	return read
}

// Within stands between the name of a claim and that of a thing it is about.
const Within = "/"

// Subclaim is Claim for one thing within another claim. The subclaim also depends on everything read before by the
// enclosing claim, which decides whether it is made.
func (b *Build) Subclaim(claim, thing string, work func()) {
	w := b.watch
	if w == nil {
		work()
		return
	}
	outer := w.now
	work()
	name := claim + Within + thing
	w.claims[name] = w.claims[name].Union(w.now)
	w.now = outer
}

// Claims returns the options that each claim depends on.
func (b *Build) Claims() map[string]OptionSet {
	if b.watch == nil {
		return nil
	}
	return b.watch.claims
}

// IsWatched reports whether reads are recorded, so that reading less is worthwhile.
func (b *Build) IsWatched() bool { return b.watch != nil }

func (b *Build) dependOn(of func(*Dependencies) OptionSet) {
	if b.watch != nil {
		b.DependOn(of(b.watch.dependencies))
	}
}

func (b *Build) dependOnAll() { b.dependOn(func(t *Dependencies) OptionSet { return t.all }) }

// PartsWhere returns the parts for which is returns true, in order. The result of is may depend only on the part.
func (b *Build) PartsWhere(is func(*Fitting) bool) (parts []*Fitting) {
	b.dependOn(func(t *Dependencies) OptionSet { return t.where(is) })
	for i := range b.parts {
		if is(&b.parts[i]) {
			parts = append(parts, &b.parts[i])
		}
	}
	return parts
}

// In returns the part in a place; nil if there is none.
func (b *Build) In(place string) *Fitting {
	b.dependOn(func(t *Dependencies) OptionSet { return t.touch[place] })
	for i := range b.parts {
		if b.parts[i].Place == place {
			return &b.parts[i]
		}
	}
	return nil
}

// Places returns the places of the parts. For a watched build these include the places in which only other
// builds of its model have a part.
func (b *Build) Places() (places []string) {
	if b.watch != nil {
		return b.watch.dependencies.places
	}
	for _, p := range b.parts {
		places = append(places, p.Place)
	}
	return places
}

// PartsAs is PartsWhere for callers that use only the result of project for each part. The result must be comparable.
func (b *Build) PartsAs(is func(*Fitting) bool, project func(*Fitting) any) (parts []*Fitting) {
	b.dependOn(func(t *Dependencies) (set OptionSet) {
		for _, place := range t.places {
			can := t.can[place]
			alike := func(p, q *Fitting) bool { return is(p) == is(q) && (!is(p) || project(p) == project(q)) }
			if slices.ContainsFunc(can, func(p Fitting) bool { return is(&p) }) && !t.always(place, func(p Fitting) bool { return alike(&p, &can[0]) }) {
				set = set.Union(t.deciding(place, alike))
			}
		}
		return set
	})
	b.TraceDetached(func() { parts = b.PartsWhere(is) })
	return parts
}

// Largest returns the maximum of a figure over the parts; any is false if no part has the figure, which may depend only on
// the part. The result depends on the parts that could have a greater figure, and on one part that has the maximum.
func (b *Build) Largest(figure func(*Fitting) (float64, bool)) (most float64, any bool) {
	for i := range b.parts {
		if x, ok := figure(&b.parts[i]); ok && (!any || x > most) {
			most, any = x, true
		}
	}
	b.dependOn(func(t *Dependencies) (set OptionSet) {
		more := func(p *Fitting) bool { x, ok := figure(p); return ok && (!any || x > most) }
		for _, place := range t.places {
			if slices.ContainsFunc(t.can[place], func(p Fitting) bool { return more(&p) }) {
				set = set.Union(t.deciding(place, func(p, q *Fitting) bool { return more(p) == more(q) }))
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
			if set.Union(own).Len() < set.Union(fewest).Len() {
				fewest = own
			}
		}
		if any {
			set = set.Union(fewest)
		}
		return set
	})
	return most, any
}

// Fitted reports whether a build has any part of a type.
func Fitted[T any](b *Build) bool {
	b.dependOn(func(t *Dependencies) OptionSet {
		if slices.ContainsFunc(t.places, func(place string) bool {
			return t.always(place, func(p Fitting) bool { _, is := p.Data.(T); return is })
		}) {
			return OptionSet{}
		}
		return typed[T](t)
	})
	return slices.ContainsFunc(b.parts, func(f Fitting) bool { _, is := f.Data.(T); return is })
}

// OptionsWhere returns the options of the unit for which is returns true. The result of is may depend only on the option.
func (b *Build) OptionsWhere(is func(*product.Option) bool) (options []ChosenOption) {
	b.dependOn(func(t *Dependencies) OptionSet { return t.chosen(is) })
	for _, o := range b.options {
		if is(o.Option) {
			options = append(options, o)
		}
	}
	return options
}

// Weighing returns the options of the unit for callers that use only two sums: of their weights, and of
// weight times position.
func (b *Build) Weighing() []ChosenOption {
	b.dependOn(func(*Dependencies) (set OptionSet) { set.add(weights); return set })
	return b.options
}

// Changed returns the options that were added after delivery. It reads the options only if the sheet has any.
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
