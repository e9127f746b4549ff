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

// Shorthands for entries with their positions.
type (
	word   = source.Given[string]
	mass   = source.Given[quantity.Mass]
	length = source.Given[quantity.Length]
)

// LoadLine reads a product line, see [product.Load].
func LoadLine(files fs.FS, name string) (*product.Line, source.Findings) {
	return LoadProved(files, name, nil)
}

// LoadProved is LoadLine for a line that may be known to have passed a proof, see [product.Load].
func LoadProved(files fs.FS, name string, proved func([]source.File) bool) (*product.Line, source.Findings) {
	return product.Load(files, name, DerivedFeatures(), proved)
}

// Build is one unit: a sheet resolved against a line. A Build exists only if model and
// options could be resolved; there may still be findings.
type Build struct {
	Sheet  *sheet.Sheet // without its options if the build is watched
	Line   *product.Line
	Model  *product.Model
	Faulty bool // the sheet has errors, or does not match the line

	// These are read by methods, which record the options that the result depends on.
	options  []ChosenOption // in the order of the model's list, including added ones, without removed ones
	features []Feature      // sorted by name, each once
	parts    []Fitting      // everything fitted, in the order of the model's list, then of the options
	watch    *Watch         // nil unless the build is watched
}

// ChosenOption is an option of the unit, with its position.
type ChosenOption struct {
	ID     string
	Option *product.Option
	At     source.Pos    // in the sheet
	Change *sheet.Change // set if it was fitted after delivery
}

// Feature is a feature of the build, with the position of its origin.
type Feature struct {
	Name string
	From source.Pos // in the line, or in the sheet for features such as "dated"
}

// Fitting is a component in its place on this unit.
type Fitting struct {
	Place     string // such as axle-front; names are those of the model
	Kind      string // the components group, in the singular: axle, tire, power-unit …
	Component string // id
	At        *product.Point
	Size      *product.Size
	On        string // right, left or both
	From      source.Pos
	Common    *product.Common
	Data      any // *product.Axle, *product.Tire … depending on Kind
}

// Print returns the notation for figures of the unit, in English: with the system of units
// that the owner prefers, otherwise that of the maker.
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

// Has reports whether the build has a feature.
func (b *Build) Has(feature string) bool { _, has := b.BroughtFrom(feature); return has }

// BroughtFrom returns the position of a feature's origin. Only the dependency of having the feature
// is recorded; another build may have it from another origin.
func (b *Build) BroughtFrom(feature string) (from source.Pos, has bool) {
	b.dependOn(func(t *Dependencies) OptionSet { return t.feature(feature) })
	i, has := slices.BinarySearchFunc(b.features, feature, func(f Feature, name string) int { return strings.Compare(f.Name, name) })
	if !has {
		return from, false
	}
	return b.features[i].From, true
}

// Features returns all features, sorted by name.
func (b *Build) Features() []Feature { b.dependOnAll(); return b.features }

// Parts returns everything fitted, in the order of the model's list, then of the options.
func (b *Build) Parts() []*Fitting { return b.PartsWhere(func(*Fitting) bool { return true }) }

// WithParts returns the build with the given parts instead of its own, and the features that follow from them.
func (b *Build) WithParts(parts []*Fitting) *Build {
	own := *b
	own.parts = nil
	for _, p := range parts {
		own.parts = append(own.parts, *p)
	}
	own.features = own.gatherFeatures()
	return &own
}

// Options returns the options of the unit, in the order of the model's list.
func (b *Build) Options() []ChosenOption { b.dependOnAll(); return b.options }

// Alike reports whether two builds that are not watched have the same options, parts and features of the same model and the same system of units.
func (b *Build) Alike(other *Build) bool {
	return b.Model == other.Model && b.Line == other.Line && b.Print().System == other.Print().System && slices.Equal(b.parts, other.parts) &&
		slices.EqualFunc(b.options, other.options, func(x, y ChosenOption) bool { return x.Option == y.Option }) &&
		slices.EqualFunc(b.features, other.features, func(x, y Feature) bool { return x.Name == y.Name })
}

// Tasks returns the tasks of the line that apply to this unit, in order.
func (b *Build) Tasks() iter.Seq[*product.Task] {
	return func(yield func(*product.Task) bool) {
		for i := range b.Line.Tasks {
			if t := &b.Line.Tasks[i]; t.When.Holds(b.Has) && !yield(t) {
				return
			}
		}
	}
}

// Cite returns a position in the inputs in a form that is the same on every machine: the
// sheet is [sheet.CopyName], and the name of a file of the line is that in the line's folder.
func (b *Build) Cite(at source.Pos) source.Pos {
	root := strings.TrimSuffix(b.Model.At.File, "models/"+b.Model.ID+".yaml")
	if at.File == b.Sheet.File {
		at.File = sheet.CopyName
	} else if rest, inLine := strings.CutPrefix(at.File, root); inLine && at.File != product.BaseFile {
		at.File = rest
	}
	return at
}

// All returns the fittings of one component type, in order: All[*product.Axle](b).
func All[T any](b *Build) (out []Placed[T]) {
	b.dependOn(typed[T])
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

// First returns the first fitting of a component type; ok is false if there is none.
func First[T any](b *Build) (p Placed[T], ok bool) {
	if all := All[T](b); len(all) > 0 {
		return all[0], true
	}
	return p, false
}
