// Package render makes the one document of a unit: it chooses the sections
// that apply, numbers the points of the walk-around, fills in values and words,
// and has the pictures drawn. The readers (render/html, render/pdf) take it from
// there. What the templates say, and under which condition, is compiled by
// render/template; here each directive is registered and filled.
//
// Text from a sheet is data and is never parsed.
package render
