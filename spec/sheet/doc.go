// Package sheet reads build sheets: what the plant writes for one serial number.
//
// It checks what can be checked without the product line. Whether model, options and
// vehicle identification number match a product line is checked by package spec.
package sheet

import "ownerguide/spec/source"

// FileShapes returns the kinds of files this package reads, for documentation and
// editors.
func FileShapes() []source.FileShape {
	return []source.FileShape{{Name: "sheet", Where: "build sheets", Shape: source.ShapeFor[Sheet]()}}
}
