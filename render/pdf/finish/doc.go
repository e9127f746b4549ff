// Package finish writes PDF pages and the finished file: tagged, with working links and outline, with language and
// metadata, and small. Fonts and pictures are taken from a plain PDF written by gopdf.
//
// To use it, lay everything out and paint on a [Pages]: its methods write text, shapes and pictures, assign each piece of content to
// a structure element, and place links. Then make a [Kit] from a gopdf document (unit pt, SetNoCompression, no info, links or outline
// of its own) that has the fonts with the characters used, and the pictures; or reuse an existing kit. Then call [Pages.Finish].
// What several documents have on their pages is painted once, by [Pages.Painted], and put there by [Pages.Place].
//
// The package never lays out, chooses words or invents structure: roles, alternative texts and order come from the caller. Anything
// inconsistent (content outside a piece, a figure without alternative text, a link without target, a glyph missing from the kit) is
// an error. It reads no clock and no random source: the same input gives the same bytes. The result may be called "tagged";
// conformance to a standard is not claimed, because no validator has confirmed it.
//
// Terms. Element: a node of the structure tree. Piece: a marked-content sequence on one page that belongs to one element or is an
// artifact (running heads, rules, backgrounds). All coordinates are points from the top left corner of the page.
//
// Pages are written here and not by gopdf because its text path, and parsing its pages again to tag them, took most of the time of a guide:
// see BenchmarkPaintAndFinish, and BenchmarkRender in render/pdf.
//
// The output of gopdf v0.33.0 is relied on as follows, and anything else is an error: objects numbered from 1 without gaps and written in
// order, "N 0 obj", value, "endobj"; objects 1 to 4 are catalog, pages, outlines and resources; a classic cross-reference table at the end; one
// page; streams with a direct Length; fonts named F and their number, as Type0 with one CIDFontType2 descendant, one
// descriptor and one bfrange ToUnicode map, with one code on each line; glyphs numbered as in the font's file; pictures listed in the order in
// which they were painted.
package finish
