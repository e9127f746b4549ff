// Package logic reasons about which options of a model can be ordered together
// and about conditions over the features of a unit.
//
// A [Condition] decides whether a caution, task, section or value applies. A
// [Problem] is the options a model offers and the rules on them; its methods
// return the rules a choice violates, the smallest changes that make the choice
// valid, the number of valid choices, and the valid choices themselves.
//
// There are three methods. [Solver] answers satisfiability questions over
// formulas (conflict-driven clause learning). [Problem.Count] and
// [Problem.Extremes] split the constraints into connected components and combine
// the results of the components. [Problem.Mends] is a breadth-first search from
// the given choice. Each stops after a stated number of steps.
//
// The package knows names only: what an option adds or weighs is not its
// business, nor whether a name exists. Ratings that must hold together are not
// rules here; they are calculated elsewhere. The package does no I/O.
//
// Terms: a fact is a Boolean variable, such as "the unit has feature X" or
// "option Y is ordered"; a formula is a Boolean expression over facts; a choice
// is the set of options ordered; a step adds one option, removes one, or swaps
// two options of one group.
package logic
