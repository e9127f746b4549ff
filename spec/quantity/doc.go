// Package quantity defines numbers with units as types, so that adding pounds to
// inches does not compile.
//
// Each type is a float64 in the one US customary unit its comment names. The
// constructors ([Pounds], [Inches] …) and the conversion table in units.go are
// the only conversions from other units. ParseScalar parses text and requires a
// unit on every number. [Print.Text] formats a figure in US customary units with SI
// in parentheses (or the reverse) and rounds to the side the caller states.
//
// The side of a [Rounding] is the direction in which a figure may be rounded
// without putting anybody at risk: a capacity goes down, a demand goes up.
// Figures stated on a label are printed exactly as stated.
package quantity
