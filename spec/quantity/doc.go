// Package quantity holds numbers with their units as types, so that adding
// pounds to inches does not compile.
//
// Each type is a float64 in the one US customary unit its comment names; the
// constructors ([Pounds], [Inches] …) and the conversion table in units.go are
// the only ways in from other units. Text comes in through ParseScalar, which
// wants a unit on every number, and goes out through [Print.Text], which gives
// US customary units first and SI in parentheses (or the reverse) and rounds to
// the side the caller states.
//
// Terms: the side of a [Rounding] is the direction in which a figure may move
// without putting anybody at risk: a capacity goes down, a demand goes up.
// Figures that a label states are printed exactly as stated.
package quantity
