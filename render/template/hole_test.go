package template

import (
	"testing"

	"pgregory.net/rapid"

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
		if got := hole().MatchString(withFilled(line)); got != want || (len(findings) > 0) != want {
			t.Errorf("%q: hole %t, want %t %v", text, got, want, findings)
		}
	}
}

// What the quick look lets pass, the expression lets pass too.
func TestNoHoleGoesUnsuspected(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOfN(rapid.RuneFrom([]rune(" .,;:()*aé")), 0, 6, -1).Draw(t, "text")
		if hole().MatchString(text) && !suspect(text) {
			t.Errorf("%q is a hole", text)
		}
	})
}
