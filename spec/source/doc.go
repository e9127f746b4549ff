// Package source reads YAML files and reports findings about them. It is the only
// package that uses the YAML library.
//
// Build sheets, product lines and the front matter of templates are all read with
// [Parse] and [Decode], so that all of them refuse the same things (unknown and
// duplicate keys, anchors, aliases, tags, merge keys, a second document, text that
// is not UTF-8) and report them in the same form.
//
// Terms: a [Pos] is a position in a file; a [Finding] is the result of a check, with
// a position; a [Given] is a value from a file together with its position.
//
// The package does not interpret keys and never prints. It reads files only through
// [fs.FS].
package source
