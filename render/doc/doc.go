// Package doc holds the one document that both readers (HTML and PDF) read:
// goldmark's tree with node kinds of our own, and the shapes pictures are made
// of.
//
// The tree is resolved: every word, number, label and picture is in it. It no
// longer refers to the bytes of any file, so text is found only in [Text] and
// [Value] nodes, never in goldmark's own source-backed text nodes. A reader
// decides nothing about content: it looks at kinds and roles, never at the
// build. [Kinds] lists every kind that can occur; a reader that meets another
// one must return an error that names the kind and its place.
//
// The package holds no parsing and no output.
package doc
