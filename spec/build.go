package spec

import (
	"strings"

	"ownerguide/spec/source"
)

// Build is one unit: a sheet read against a line. A Build exists only when
// model and options could be resolved; it may still carry findings.
type Build struct {
	Sheet    *Sheet
	Line     *Line
	Model    *Model
	Options  []ChosenOption // in the order of the model's list, added ones included, removed ones not
	Features []Feature      // sorted by name, one entry each
	Parts    []Fitting      // everything fitted, in the order of the model's list, then the options'
	Faulty   bool           // the sheet is, or does not go with the line
}

// ChosenOption is an option the unit has, and where that was said.
type ChosenOption struct {
	ID     string
	Option *Option
	At     source.Pos // in the sheet
	Change *Change    // set when it was fitted after delivery
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
	At        *Point
	Size      *Size
	On        string // right, left or both
	From      source.Pos
	Common    *Common
	Data      any // *Axle, *Tire … according to Kind
}

// Has tells whether the build has a feature.
func (b *Build) Has(feature string) bool {
	for _, f := range b.Features {
		if f.Name == feature {
			return true
		}
	}
	return false
}

// SheetCopy is the name of the copy of a build sheet that stands beside its guide.
const SheetCopy = "sheet.yaml"

// Cite names a place in the inputs so that it reads the same on every machine:
// the sheet is [SheetCopy], and a file of
// the line begins with the line's id.
func (b *Build) Cite(at source.Pos) source.Pos {
	root := strings.TrimSuffix(b.Model.At.File, "models/"+b.Model.ID+".yaml")
	if at.File == b.Sheet.File {
		at.File = SheetCopy
	} else if rest, inLine := strings.CutPrefix(at.File, root); inLine && !strings.HasPrefix(at.File, "base/") {
		at.File = b.Line.Maker.ID.Value + "/" + rest
	}
	return at
}

// All returns the fittings of one component type, in order: All[*Axle](b).
func All[T any](b *Build) []Placed[T] {
	var out []Placed[T]
	for i := range b.Parts {
		if data, ok := b.Parts[i].Data.(T); ok {
			out = append(out, Placed[T]{&b.Parts[i], data})
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
