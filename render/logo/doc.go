// Package logo reads a maker's logo, a PNG or SVG file of the product line, into
// a node of the document.
//
// A logo must be a picture and nothing else. The plain shapes of an SVG are read and
// converted to shapes of the document; anything that could run code, load a file, or
// depend on effects is refused with its position. A PNG is decoded within limits and
// encoded again, so that nothing but its pixels gets into a guide.
//
// Terms. Sheet: the rectangle an SVG draws on, its viewBox. Outline: the lines
// and curves of one shape, which may have several subpaths, called strokes.
package logo
