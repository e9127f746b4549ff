// Package spec says what a unit is: the build sheet a plant writes for one
// serial number, the product line a maker offers, and the [Build] that comes of
// reading the one against the other.
//
// It reads and cross-checks; it computes no engineering figure (package derive
// does) and knows no words of a guide (package templates does).
//
// Terms, as the trade uses them. A model is what a customer picks; an option
// changes it; a component is a thing with ratings (an axle, a jack); a part is a
// component in its place on a model. A feature is a word for something a build
// has ("power-tilt", "gooseneck"); every condition in the product is over
// features. A hazard is something that can hurt; a task is one item of care.
//
// Geometry: the origin is the coupler centre on level ground; x runs rearward,
// y to the left, z up.
package spec
