package render

import (
	"testing"

	"ownerguide/spec/source"
)

// A figure taken out of a sentence leaves a hole that is seen; sound sentences
// have none.
func TestHoles(t *testing.T) {
	for text, want := range map[string]bool{
		"Tighten to {wheels.torque}, then stop.":    false,
		"Tighten to , then stop.":                   true,
		"Tighten to .":                              true,
		"Use  at most.":                             true,
		"Use **{wheels.torque}** and [this](#now).": false,
		"Use **** and stop.":                        true,
		"The pressure ({tires.cold_pressure}) is.":  false,
		"The pressure () is.":                       true,
		"Wait… and look: done; go on.":              false,
	} {
		var findings source.Findings
		line := compileInline(text, source.Pos{File: "x", Line: 1, Column: 1}, &findings)
		if got := hole.MatchString(outline(line)); got != want || findings != nil {
			t.Errorf("%q: hole %t, want %t %v", text, got, want, findings)
		}
	}
}
