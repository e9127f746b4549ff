package spec

import (
	"io/fs"
	"iter"
	"slices"
	"strings"

	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

// Shorthands for entries that carry the place where they were written.
type (
	word   = source.Given[string]
	mass   = source.Given[quantity.Mass]
	length = source.Given[quantity.Length]
)

// LoadLine reads a product line, see [product.Load].
func LoadLine(files fs.FS, name string) (*product.Line, source.Findings) {
	return product.Load(files, name, DerivedFeatures())
}

// Build is one unit: a sheet read against a line. A Build exists only when
// model and options could be resolved; it may still carry findings.
type Build struct {
	Sheet  *sheet.Sheet // of one that is watched, without its options
	Line   *product.Line
	Model  *product.Model
	Faulty bool // the sheet is, or does not go with the line

	// These are asked for by methods, which note on which options an answer hangs.
	options  []ChosenOption // in the order of the model's list, added ones included, removed ones not
	features []Feature      // sorted by name, one entry each
	parts    []Fitting      // everything fitted, in the order of the model's list, then the options'
	watch    *Watch         // nil unless it is watched
}

// ChosenOption is an option the unit has, and where that was said.
type ChosenOption struct {
	ID     string
	Option *product.Option
	At     source.Pos    // in the sheet
	Change *sheet.Change // set when it was fitted after delivery
}

// Feature is a word for something the build has, and who brought it.
type Feature struct {
	Name string
	From source.Pos // in the line, or in the sheet for features such as "dated"
}

// Fitting is a component in its place on this unit.
type Fitting struct {
	Place     string // such as axle-front; names are the model's
	Kind      string // the components group, singular: axle, tire, power-unit …
	Component string // id
	At        *product.Point
	Size      *product.Size
	On        string // right, left or both
	From      source.Pos
	Common    *product.Common
	Data      any // *product.Axle, *product.Tire … according to Kind
}

// Print is how figures of the unit are written, in English: the system of units
// that its owner reads first, else that of the maker.
func (b *Build) Print() quantity.Print {
	p := b.Line.Maker.Print()
	if units := b.Sheet.Units; units.Set {
		p.System = quantity.US
		if units.Value == "metric" {
			p.System = quantity.Metric
		}
	}
	return p
}

// Has tells whether the build has a feature.
func (b *Build) Has(feature string) bool { _, has := b.BroughtFrom(feature); return has }

// BroughtFrom gives the place that brings a feature. What is noted is that the build has it; another may
// have it from another place.
func (b *Build) BroughtFrom(feature string) (from source.Pos, has bool) {
	b.note(func(t *Dependencies) OptionSet { return t.feature(feature) })
	i := slices.IndexFunc(b.features, func(f Feature) bool { return f.Name == feature })
	if i < 0 {
		return from, false
	}
	return b.features[i].From, true
}

// Features gives all features, sorted by name.
func (b *Build) Features() []Feature { b.noteAll(); return b.features }

// Parts gives everything fitted, in the order of the model's list, then the options'.
func (b *Build) Parts() []*Fitting { return b.PartsWhere(func(*Fitting) bool { return true }) }

// WithParts gives the build with these parts fitted instead, and the features that go with them.
func (b *Build) WithParts(parts []*Fitting) *Build {
	own := *b
	own.parts = nil
	for _, p := range parts {
		own.parts = append(own.parts, *p)
	}
	own.features = own.gatherFeatures()
	return &own
}

// Options gives the options the unit has, in the order of the model's list.
func (b *Build) Options() []ChosenOption { b.noteAll(); return b.options }

// Tasks gives the tasks of the line that are for this unit, in their order.
func (b *Build) Tasks() iter.Seq[*product.Task] {
	return func(yield func(*product.Task) bool) {
		for i := range b.Line.Tasks {
			if t := &b.Line.Tasks[i]; t.When.Holds(b.Has) && !yield(t) {
				return
			}
		}
	}
}

// Cite names a place in the inputs so that it reads the same on every machine:
// the sheet is [sheet.CopyName], and a file of
// the line begins with the line's id.
func (b *Build) Cite(at source.Pos) source.Pos {
	root := strings.TrimSuffix(b.Model.At.File, "models/"+b.Model.ID+".yaml")
	if at.File == b.Sheet.File {
		at.File = sheet.CopyName
	} else if rest, inLine := strings.CutPrefix(at.File, root); inLine && !strings.HasPrefix(at.File, "base/") {
		at.File = b.Line.Maker.ID.Value + "/" + rest
	}
	return at
}

// All returns the fittings of one component type, in order: All[*product.Axle](b).
func All[T any](b *Build) (out []Placed[T]) {
	b.note(typed[T])
	for i := range b.parts {
		if data, ok := b.parts[i].Data.(T); ok {
			out = append(out, Placed[T]{&b.parts[i], data})
		}
	}
	return out
}

// Placed is a fitting with its component in its own type.
type Placed[T any] struct {
	Fitting *Fitting
	Data    T
}

// First returns the first fitting of a component type; ok is false without one.
func First[T any](b *Build) (p Placed[T], ok bool) {
	if all := All[T](b); len(all) > 0 {
		return all[0], true
	}
	return p, false
}
