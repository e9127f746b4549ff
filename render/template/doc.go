// Package template reads the templates and compiles them once into an immutable form:
// the blocks of each text, the condition of each part, and one list of everything the
// texts refer to. Package render registers the directives and fills the templates for a
// unit.
//
// Templates are data, not programs: Markdown with placeholders, conditions at the
// beginning of a block, and fenced blocks that name a directive. No other package reads
// Markdown.
//
// goldmark's writers silently skip nodes of unknown kinds, so unknown kinds are refused
// here. Its text nodes contain raw escapes, so they are resolved here.
//
// Terms: a directive is a kind of fenced block that the program fills in (a caution,
// a drawing, a schedule) and a call is one such block in a text; a word is a text of
// sheet or line that a placeholder names; a reference is one place where a text
// names something; the outline is the tree of all sections, in order.
package template
