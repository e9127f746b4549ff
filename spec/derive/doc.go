// Package derive works out every figure of a guide: one file per system, pure
// functions from a [spec.Build] to values, limits and findings.
//
// A value is declared once, with its name, the condition under which it
// exists, how it is rounded, its formula in words and its source. While it is
// worked out, the evaluation records what it read (other values, entries of
// sheet and line with their places), so the chain that is printed for the
// engineer is the chain that was computed.
//
// A limit is a check over values: it has a finding code, says what it
// protects, and names both figures that clash and where they came from. Every
// comparison it makes is kept as a [Margin], passed or not.
//
// The package never formats for a medium, never reads a file or a clock.
package derive
