package typeset

import (
	"reflect"
	"testing"

	"ownerguide/render/pdf/page"
)

// Words that were kept are those that would be made anew, whatever texts came before that differ in one thing alone.
func TestKeptWordsAreThoseMadeAnew(t *testing.T) {
	text := "one two\u00a0three "
	for range 2 {
		for _, digits := range []int{2, 3} {
			for _, p := range []Piece{
				{Text: text, Look: plain}, {Text: text + " ", Look: plain}, {Text: text, Look: plain.Bold()}, {Text: text, Look: plain.Sized(11)},
				{Text: text, Look: page.Look{Style: plain.Style, Size: plain.Size, Spacing: 0.5}}, {Text: text, Look: plain, Mark: Framed},
				{Text: text, Look: plain, Page: "a"}, {Text: Hole, Look: plain, Page: "a"}, {Text: Hole, Look: plain}, {Breaks: true},
			} {
				pieces := []Piece{{Text: "before", Look: plain}, p, {Text: "behind", Look: plain}}
				if got, want := NewRuler(digits).Words(pieces), NewRuler(digits).cut(pieces); !reflect.DeepEqual(got, want) {
					t.Errorf("%+v: %v, made anew %v", p, got, want)
				}
			}
		}
	}
}
