package render

import (
	"strings"
	"testing"

	"ownerguide/render/doc"
)

// Trouble is told in one place and found from the part that has it: each list of the
// trouble chapter is led to from a section that the unit has, and no line leads to
// one it has not.
func TestTroubleIsLedToFromItsPart(t *testing.T) {
	l, templates := embedded(t)
	for _, model := range []string{"tilt-20", "utility-12"} {
		b, vs := unit(t, l, sheetOf(t, l, order{l.Model(model), plainest[model]}, true))
		g, findings := templates.Assemble(b, vs, nil)
		if findings.HasErrors() {
			t.Fatal(written(findings))
		}
		from := map[string][]string{}
		eachNode(g.Sections, func(in *doc.Section, n doc.Node) {
			p, ok := n.(*doc.Paragraph)
			if !ok || !strings.HasPrefix(doc.PlainText(p), "Trouble: ") {
				return
			}
			for _, inline := range p.Inlines {
				if link, ok := inline.(*doc.Link); ok {
					from[strings.TrimPrefix(link.To, "#")] = append(from[strings.TrimPrefix(link.To, "#")], in.ID)
				}
			}
		})
		lists := 0
		eachNode(g.Sections, func(_ *doc.Section, n doc.Node) {
			s, ok := n.(*doc.Section)
			if !ok || !strings.HasPrefix(s.ID, "trouble-") || s.ID == "trouble-load" { // what moves on a deck is no part of it
				return
			}
			lists++
			if len(from[s.ID]) == 0 {
				t.Errorf("%s: nothing leads to %s", model, s.ID)
			}
		})
		if lists < 6 || len(from) != lists {
			t.Errorf("%s: %d lists of trouble, lines to %d", model, lists, len(from))
		}
	}
}
