// Package pdf sets the one document as a printed guide.
//
// It works in two steps. Layout is pure: the document goes in, pages of items at places in points come out, and each item
// knows the element of the structure tree it belongs to. Paint is a dull loop that carries the items to the PDF library and
// marks each for the finishing pass, which makes the file tagged. Layout rules are tested on the pages, not on bytes.
//
// It decides nothing about content. A node kind it does not know, a link to nowhere and a caution that no page can hold are
// errors that name the place in the author's file; a character the typeface lacks is reported, never dropped without a word.
// It reads no clock: same guide, same bytes.
//
// Terms. Look: style, size and colour of text. Piece: a stretch of running text of one look. Atom: a piece of it without
// a place to break. Slab: what is never parted by a page end, such as a line, a table row or a caution. Penalty: how bad a
// page end after a slab would be. Pass: one layout of the whole guide; page numbers in the text are those of the pass before,
// so passes repeat until nothing changes. Measure: the width of running text; it is narrower than the page's text area, and
// headings, wide tables and pictures hang out into the space on its left.
//
// A guide or its card is set by the same rules; the half sheet of a card has larger type and no hanging heads.
//
// Lengths are points (1/72 in); x runs to the right and y downwards from the top left corner of the page.
package pdf
