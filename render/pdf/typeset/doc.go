// Package typeset measures text, breaks it into lines and turns lines into the items of a page once the numbers of pages that they name are
// known. What the typeface has no glyph for is noted, and shown as a question mark.
//
// Terms. Piece: a stretch of running text of one look, or a mark. Atom: a part of a piece without a place to break. Word: what stands between
// two places to break. Line: words chosen for one line.
package typeset
