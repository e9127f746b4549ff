// Package render assembles the document of a unit: it selects the sections that apply,
// numbers the points of the walk-around, fills in values and words, and adds the
// drawings. The readers (render/html, render/pdf) set the document. The texts of the
// templates and their conditions are compiled by render/template; directives are
// registered and filled here.
//
// Text from a sheet is data and is never parsed.
package render
