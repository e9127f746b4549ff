// Package typeset measures text, breaks it into lines, and turns lines into the items of a page once the page numbers they contain
// are known. Characters without a glyph in the typeface are recorded and replaced by a question mark.
//
// Terms. Piece: a stretch of running text with one look, or a mark. Atom: an unbreakable part of a piece, or a mark. Word: the atoms
// between two break opportunities. Line: the words chosen for one line.
package typeset
