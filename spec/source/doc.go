// Package source holds what every reader of a file needs: positions, findings
// and the one door to the YAML library.
//
// Build sheets, product lines and the front matter of templates all come in
// through [Parse] and [Decode], so that all of them refuse the same things
// (unknown and duplicate keys, anchors, aliases, tags, merge keys, a second
// document, text that is not UTF-8) and report in the same form.
//
// Terms: a [Pos] is a place a person can put a cursor on; a [Finding] is what
// a check reports about such a place; a [Given] is a figure somebody wrote in
// a file, kept together with the place where it stands.
//
// The package never decides what a key means, never touches the file system
// and never prints.
package source
