// Package logo reads a maker's logo, a PNG or SVG file of the product line, into
// the document's own node.
//
// A logo is a picture and nothing else. Of an SVG the plain shapes are read and
// drawn again as shapes of the document: what could run, load, or hide under
// another shape's effect is refused with its place, never passed on. A PNG is
// decoded within limits and written anew, so that nothing but its dots goes into a guide.
//
// Terms. Sheet: the rectangle an SVG draws on, its viewBox. Outline: the lines
// and curves of one shape, of one or more strokes of the pen.
package logo
