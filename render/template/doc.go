// Package template reads the templates and compiles them once, into a form that
// is never changed: what each text consists of, the condition under which each
// part of it stands, and one list of everything the texts name. Filling them for
// a unit is the business of package render, which registers the directives.
//
// Templates are data, not programs: Markdown with placeholders, conditions in
// front of a block, and fenced blocks that name a directive. Markdown is read
// here and nowhere else.
//
// A node kind without a case vanishes in goldmark's own writers, so one that is
// unknown here is refused; its texts keep escapes raw, so they are resolved here.
//
// Terms: a directive is a kind of fenced block that the program fills (a caution,
// a drawing, a schedule) and a call one such block in a text; a word is a text of
// sheet or line that a placeholder names; a reference is one place where a text
// names something; the outline is the order of all sections.
package template
