// Package render makes the one document of a unit: it chooses the sections
// that apply, numbers the stops, fills in values and words, and has the
// pictures drawn. The readers (render/html, render/pdf) take it from there.
//
// Templates are data, not programs: Markdown with placeholders, conditions in
// front of a block, and fenced blocks that name a kind and an id. Each file is
// parsed once, into an immutable form (a piece); filling copies pieces into a
// new tree of resolved nodes. Text from a sheet is data and is never parsed.
//
// Terms: a piece is a compiled block or inline of a template; a fence is a
// block that the program fills (a caution, a drawing, a schedule); a word is a
// text of sheet or line that a placeholder names.
package render
