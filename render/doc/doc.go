// Package doc holds the one document that all readers (HTML, PDF, mail, record)
// read: a tree of plain structs, and the shapes pictures are made of.
//
// The tree is resolved: every word, number, label and picture is in it, and
// nothing in it refers to the bytes of a file. A reader decides nothing about
// content: it switches on the types of nodes, never on the build. The interfaces
// are sealed, so the types in node.go are all there are; a reader that meets one
// it has no case for returns the error of [Unknown].
//
// The package holds no parsing and no output.
package doc
