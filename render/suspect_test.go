package render

import (
	"testing"

	"pgregory.net/rapid"
)

// What the quick look lets pass, the expression lets pass too.
func TestNoHoleGoesUnsuspected(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOfN(rapid.RuneFrom([]rune(" .,;:()*aé")), 0, 6, -1).Draw(t, "text")
		if hole.MatchString(text) && !suspect(text) {
			t.Errorf("%q is a hole", text)
		}
	})
}
