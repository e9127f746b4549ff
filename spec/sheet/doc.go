// Package sheet is the build sheet: what the plant writes for one serial number.
//
// It reads a sheet and holds it against itself. Whether its model, options and
// vehicle identification number are those of a product line is for package spec.
package sheet

import "ownerguide/spec/source"

// FileShapes lists the kinds of files this package reads, for whoever describes
// them to a person or an editor.
func FileShapes() []source.FileShape {
	return []source.FileShape{{Name: "sheet", Where: "build sheets", Shape: source.ShapeFor[Sheet]()}}
}
