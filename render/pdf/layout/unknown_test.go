package layout

import (
	"strings"
	"testing"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/typeset"
)

// A node of a type that the layout has no case for is refused by name, though it
// stands deep inside another.
func TestUnknownTypesAreRefused(t *testing.T) {
	type foreignBlock struct{ *doc.Paragraph }
	type foreignInline struct{ *doc.Text }
	for _, n := range []doc.Block{
		foreignBlock{&doc.Paragraph{}}, list(false, false, []any{blocks(foreignBlock{&doc.Paragraph{}})}), p(foreignInline{}), p(&doc.Emphasis{Inlines: []doc.Inline{foreignInline{}}}),
		table(doc.TablePlain, nil, cells(foreignInline{})), &doc.Caution{Word: doc.Danger, Signal: "DANGER", Hazard: []doc.Inline{foreignInline{}}},
	} {
		s := &setter{shared: &shared{guide: testGuide(), format: letter}, Ruler: typeset.NewRuler(2)}
		if s.block(n, s.outermost(&finish.Element{})); s.fault == nil || !strings.Contains(s.fault.Error(), "of type layout.foreign") {
			t.Errorf("%T: %v", n, s.fault)
		}
	}
}

func BenchmarkLay(b *testing.B) {
	for b.Loop() {
		if _, err := Lay(wholeGuide(), letter); err != nil {
			b.Fatal(err)
		}
	}
}
