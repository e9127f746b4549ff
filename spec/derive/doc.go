// Package derive calculates every figure of a guide. It consists of pure functions from a
// [spec.Build] to values, limits and findings, in one file for each system.
//
// A value is declared once, with its name, the condition for its existence, its rounding, its
// formula in words and its source. During the calculation the evaluation records what is
// read (other values, entries of sheet and line with their positions), so the chain of
// inputs that is printed for the engineer is the one that was used.
//
// A limit is a check of values: it has a finding code, says what it protects, and reports
// both figures that conflict with their origins. Every comparison it makes is kept as a
// [Margin], passed or not.
//
// For [spec.Watch] each value and limit is a claim, see [Assessment.Claims]. [Assess] also returns
// how each limit was kept, as a [Verdict], and [Assessment.Reweigh] calculates a build again
// with other weights.
//
// The package does not format for a medium and reads no file or clock.
package derive
