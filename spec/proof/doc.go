// Package proof settles claims about every build that can be ordered, before
// any is: that hazards are covered, that texts name what is there, that ratings
// hold. It is given what the words use ([Texts]) and never opens templates.
//
// How the solver sees a build. Facts are the options of a model and what a
// build sheet may say. Rules are formulas over options (package logic); features
// and fitted parts are formulas over them too ([spec.Variants]), also those that
// follow from ratings and sizes: which of the stated figures counts depends on
// the options that state one, so a threshold on it is a formula over those. What
// exists as a value follows from its declared condition; where that is not the
// whole truth, because a formula finds an entry missing, its existence is learnt
// as a formula over options from the figures of all builds.
//
// Figures themselves are no matter for a solver: they are worked out for every
// distinct choice of the options that bear on them. Where there are more such
// choices than a stated limit, the proof says which were left and fails.
//
// Terms: a claim is what is to hold; it is settled for each thing and model it
// speaks of. A witness is the smallest list of options, and what the sheet must
// say, that breaks a claim. A gate is a condition somebody wrote. The package
// reads no file and prints nothing.
package proof
