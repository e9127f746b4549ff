// Package finish turns the plain PDF that gopdf writes into the one that is delivered: tagged, with working links and
// outline, with language and metadata, and small.
//
// Use: lay everything out, then paint with gopdf (unit pt, SetNoCompression, no info, no links, no anchors, no outline of
// its own) and with a Marks beside it: its methods go between the gopdf calls and say what a piece of the page *is*, where a
// link lies, or what gopdf cannot draw. Then Finish(bytes, marks, document).
//
// It never lays out, chooses words or invents structure: roles, alternative texts and order come from the caller, and what is
// inconsistent (content outside a mark, a figure without words, a link to nowhere) is an error, not a guess. It reads
// no clock and no random source: same input, same bytes. "Tagged" is what may be said of the result; conformance to a
// standard is not claimed, because no validator has confirmed it.
//
// Terms. Mark: a line-dash call with a phase from firstMark up, which no drawing uses; gopdf writes it as "[] 1000007.00 d" on a
// line of its own, and Finish puts the real operator in its place. Document text is written in hexadecimal, so it cannot
// imitate one. Element: a node of the structure tree. Piece: a stretch of one page's content that belongs to one element or
// is an artifact (running heads, rules, backgrounds). All coordinates are points from the top left corner of the page.
//
// The dialect of gopdf v0.33.0 relied on, each an error when it is not found: objects numbered from 1 without gaps and written in
// order, "N 0 obj", value, "endobj"; objects 1 and 2 are catalog and pages; a classic cross-reference table at the end; one
// uncompressed content stream a page; streams with a direct Length; fonts as Type0 with one CIDFontType2 descendant, one
// descriptor and one bfrange ToUnicode map, whose lines hold one code each.
package finish
