package proof

import (
	"testing"

	"ownerguide/spec/product"
	"ownerguide/spec/source"
)

// A language that somebody is at work on is noted and settles nothing else, so that
// guides in the others go on being made; one that is whole is held against the base.
func TestUnfinishedLanguages(t *testing.T) {
	at := source.Pos{File: "en/sections/b.md", Line: 1, Column: 1}
	words := []Words{{"en", "section", "a", source.Pos{}}, {"en", "section", "b", at}, {"es", "section", "a", source.Pos{}}, {"fr", "section", "a", source.Pos{}}, {"fr", "section", "b", source.Pos{}}}
	s := Subject{Line: &product.Line{}, Texts: &Texts{Words: words,
		References: []Reference{{Lang: "en"}, {Lang: "es"}, {Lang: "fr"}}, Passages: []Passage{{Lang: "en", In: "section a"}, {Lang: "es", In: "section a"}, {Lang: "fr", In: "section a", When: "dump"}}}}
	left, notes := s.finished()
	if len(notes) != 1 || notes[0].held || notes[0].code.Severity != source.Warning || notes[0].at != at {
		t.Errorf("noted: %+v", notes)
	}
	if n := len(left.Texts.References); n != 2 || len(s.Texts.References) != 3 {
		t.Errorf("%d references are left of %d", n, len(s.Texts.References))
	}
	if list := translations(left.Line, left.Texts); len(list) != 1 || list[0] != "fr" {
		t.Errorf("held against the base: %v", list)
	}
	if lost := Language(left.Line, left.Texts, "fr"); len(lost) != 1 || !source.Findings([]source.Finding{lost[0].Finding}).HasErrors() {
		t.Errorf("a condition that stands in fr alone: %v", lost)
	}
}
