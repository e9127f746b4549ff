// Package spec resolves a build sheet against a product line into a [Build], which is one
// unit. It also describes all builds of a model at once as formulas, [Variants], and
// records which options the results of a calculation depend on, [Watch].
//
// It reads and cross-checks; it calculates no engineering figure (package derive does) and
// contains no text of a guide (package templates does).
//
// A feature is a property of a build with a name ("power-tilt", "gooseneck"); all conditions
// in hazards, tasks and texts are over features.
package spec
