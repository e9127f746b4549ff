// Package line contains the invented product line of Bramblewick Trailer Works,
// embedded in the program so that it can be tried without any other file. It is data
// only: the entries are documented in package spec/product, and nothing here is a default for
// another maker's line.
package line

import "embed"

// Files is the whole line: line.yaml, the logo, components, options, models and text.
//
//go:embed README.md line.yaml logo.svg components options models text
var Files embed.FS
