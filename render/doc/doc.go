// Package doc defines the document that all readers (HTML, PDF, mail, record) read: a
// tree of plain structs, and the shapes drawings are made of.
//
// The tree is complete: it contains every word, number, label and picture, and refers
// to no file. A reader makes no decision about content: it switches on the types of
// nodes, and never looks at the build. The interfaces are sealed, so the types in node.go
// are all there are; for a node without a case a reader returns the error of
// [Unknown].
//
// The package does no parsing and no output.
package doc
