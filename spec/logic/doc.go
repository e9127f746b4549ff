// Package logic holds the two kinds of reasoning about a build that must be the
// same everywhere: conditions over its features, and the rules that say which
// options can be ordered together.
//
// A Condition decides whether a caution, task, section or value applies. A
// Problem is what one model offers and the rules on it; it tells which rules a
// choice breaks, the smallest changes that mend the choice, how many choices are
// valid, and which they are.
//
// The package knows names only: what an option adds or weighs is not its
// business, nor whether a name exists. Ratings that must hold together are not
// rules here, they are worked out. It never prints and never looks at a file.
//
// Terms: a fact is what may be so, such as that a unit has a feature or that an
// option is ordered; a formula says something about facts; a choice is the set of
// options ordered; a step adds one option, removes one, or swaps two of one group.
package logic
