// Package draw makes the pictures of a guide as shapes, from the geometry and
// the values of one build. It knows no output format; labels come in from the
// language.
package draw

import (
	"ownerguide/spec"
	"ownerguide/spec/derive"
)

// Stop is one numbered station of the walk-around.
type Stop struct {
	Number int
	Part   string // component kind or place the number belongs to
	Title  string
	ID     string // of the section that tells of it
}

// Subject is what a drawing is made from.
type Subject struct {
	Build  *spec.Build
	Values *derive.Values
	Stops  []Stop
	Label  func(key string) string  // words of the drawing in the guide's language, keys "draw.…"
	Figure func(name string) string // a value as printed; "" when the unit has none

	lacks error // the first figure that a drawing needed and the unit lacks
}
