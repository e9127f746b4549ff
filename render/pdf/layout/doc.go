// Package layout sets a guide on pages: the document goes in, pages of items at places in points come out, and each item knows the element of
// the structure tree it belongs to. It is pure; what it gives is painted by ownerguide/render/pdf/paint.
//
// Each chapter is turned once into boxes, which no end of a column parts: a line, a row, a panel. Each box says what space it wants and what
// it costs to end a column before it. Package paginate shares the boxes out to columns and pages. The numbers of pages in the text are then
// filled in; their room was kept free.
//
// A page has two columns, a card too, and the small page of a booklet one. Each column has a lane for marks (numbers of steps, boxes to tick,
// triangles of hazards, octagons of limits, arrows of remedies, discs of points) and beside it a lane for words, so that there are two left
// outerPadding in a column and no others. Figures and tables that need it span the page; columns above them are balanced.
//
// It decides nothing about content. A node type it does not know, a link to nowhere and a caution that no column can hold are errors that name
// the place in the author's file; a character the typeface lacks is reported, never dropped without a word. It reads no clock: same guide,
// same pages.
//
// Terms. Box: what no column end parts. Setting: how blocks are set at one place of the document. Panel: a caution in full. Reminder: a line that
// calls to mind a panel that stands elsewhere.
//
// Lengths are points (1/72 in); x runs to the right and y downwards from the top left corner of the page. Files call in one direction:
// paper, typography, inline, box; then heading, caution, job, table with widths and numbers, figure, form, contents, cover,
// changed; then block, furniture, lay. Blocks hold blocks, so those that do come back to block.
package layout
