// Package layout lays out a guide: it turns the document into pages of items with positions in points, each with its element in the
// structure tree. It is pure; package ownerguide/render/pdf/paint paints the result.
//
// Each chapter is set once as a list of boxes, which are unbreakable: a line, a row, a panel. A box has a space above and below, and a cost
// for a column break before it. Package paginate distributes the boxes to columns and pages. Finally page numbers are filled into the text,
// where space is reserved for them. Guides of a batch share what is set, see cache: a box in it is never modified.
//
// A page has two columns, as has a card; the small page of a booklet has one. Each column has a lane for marks (numbers of steps,
// checkboxes, triangles of hazards, octagons of limits, arrows of remedies, discs of points) and next to it a lane for text, so that a column
// has only two left edges. Figures and tables that need it span the page; columns above them are balanced.
//
// The package decides nothing about content. An unknown node type, a link without target and a caution taller than a column are errors with
// the position in the source file; a character that the typeface lacks is reported, never silently dropped. It reads no clock: the same guide
// gives the same pages.
//
// Terms. Box: an unbreakable unit. Setting: the context in which blocks are set. Panel: a full caution. Reminder: a line that refers to a
// panel elsewhere. Opening: two facing pages.
//
// Lengths are points (1/72 in); x is rightwards and y downwards from the top left corner of the page. Files call each other in one
// direction: paper, typography, inline, box; then heading, caution, job, table with widths and numbers, figure, form, contents, cover,
// changed; then block, furniture, place, lay. Blocks contain blocks, so those that do call block again.
package layout
