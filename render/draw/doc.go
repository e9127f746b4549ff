// Package draw makes the pictures of a guide as shapes, from the geometry and the values of
// one build. It does not depend on an output format; labels are passed in by the
// caller.
package draw

import (
	"ownerguide/spec"
	"ownerguide/spec/derive"
)

// Stop is one numbered point of the walk-around.
type Stop struct {
	Number int
	Part   string // component kind or place that the number points at
	Title  string
	ID     string // of its section
}

// Subject is the input of a drawing.
type Subject struct {
	Build  *spec.Build
	Values *derive.Values
	Stops  []Stop
	Label  func(key string) string  // texts of the drawing in the guide's language, keys "draw.…"
	Figure func(name string) string // a value as printed; "" if the unit lacks it
	Exact  func(name string) any    // before rounding; nil if the unit lacks it

	lacks error // the first missing figure that a drawing needs
}
