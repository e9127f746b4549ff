// Package finish writes pages, and the file that is delivered: tagged, with working links and outline, with language and
// metadata, and small. Fonts and pictures it takes from a plain PDF that gopdf writes.
//
// Use: lay everything out, then paint on a [Pages]: its methods write text, shapes and pictures, say what a piece of the page *is*,
// and where a link lies. Then make a [Kit] of a gopdf document (unit pt, SetNoCompression, no info, links or outline of its own) that has the
// fonts with the characters used, and the pictures; or take one that is there. Then [Pages.Finish].
//
// It never lays out, chooses words or invents structure: roles, alternative texts and order come from the caller, and what is
// inconsistent (content outside a piece, a figure without words, a link to nowhere, a glyph that the kit lacks) is an error, not a guess. It reads
// no clock and no random source: same input, same bytes. "Tagged" is what may be said of the result; conformance to a
// standard is not claimed, because no validator has confirmed it.
//
// Terms. Element: a node of the structure tree. Piece: a stretch of one page's content that belongs to one element or
// is an artifact (running heads, rules, backgrounds). All coordinates are points from the top left corner of the page.
//
// Pages are written here and not by gopdf because its text path, and reading its pages again to tag them, took most of the time of a guide:
// see BenchmarkPaintAndFinish, and BenchmarkRender in render/pdf.
//
// The dialect of gopdf v0.33.0 relied on, each an error when it is not found: objects numbered from 1 without gaps and written in
// order, "N 0 obj", value, "endobj"; objects 1 to 4 are catalog, pages, outlines and resources; a classic cross-reference table at the end; one
// page; streams with a direct Length; fonts named F and their number, as Type0 with one CIDFontType2 descendant, one
// descriptor and one bfrange ToUnicode map, whose lines hold one code each; glyphs numbered as in the font's file; pictures listed in the order in
// which they were painted.
package finish
