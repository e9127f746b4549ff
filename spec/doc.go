// Package spec is one unit: the [Build] that comes of reading a build sheet
// against a product line, and the [Variants] of a model, which are all its
// builds at once.
//
// It reads and cross-checks; it computes no engineering figure (package derive
// does) and knows no words of a guide (package templates does).
//
// A feature is a word for something a build has ("power-tilt", "gooseneck");
// every condition in hazards, tasks and texts is over features.
package spec
