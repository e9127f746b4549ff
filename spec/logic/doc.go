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
// Terms: a literal is a feature or "not" a feature; a clause is true when one of
// its literals is; a choice is the set of options ordered; a step adds one
// option, removes one, or swaps two of one group.
package logic
