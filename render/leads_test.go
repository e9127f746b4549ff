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

// Two lists of trouble that one section leads to are parted as the language parts two.
func TestTwoListsAreLedTo(t *testing.T) {
	t.Parallel()
	g, findings := guide(t, "utility-12", false, map[string]string{
		"en/sections/only.md":  "---\ntitle: Only\nplace: 100\n---\nText.\n",
		"en/sections/first.md": "---\ntitle: First\nplace: 200\nfrom: [only]\n---\nText.\n",
		"en/sections/other.md": "---\ntitle: Other\nplace: 300\nfrom: [only]\n---\nText.\n"})
	if g == nil || len(findings) > 0 {
		t.Fatal(lines(findings))
	}
	for s := range doc.Sections(g.Sections) {
		if s.ID == "only" {
			if got := doc.PlainText(s.Blocks[len(s.Blocks)-1]); got != "Trouble: First, Other" {
				t.Errorf("the line that leads to two lists of trouble is %q", got)
			}
		}
	}
}
